"""What if something fails: at every minute of the passage, without an answer and with the planned one.

Each failure at each minute is a run of its own, sailed as the undisturbed passage until then. How long, and how far,
until danger; from where on no answer helps; the last place from where one does.
"""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np

from leadsman.assessment.failures_result import Failing, Failures, Moment
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import BATCH, relied_on
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_run import GOOD, WORDS
from leadsman.conning import failures as kinds
from leadsman.conning.outcome import COLUMNS, HELD
from leadsman.conning.run import no_failures, rehearse, undisturbed
from leadsman.errors import CannotCompute
from leadsman.portcall import PortCall
from leadsman.simulation.parameters import Records
from leadsman.units import MINUTE

WORDS_OF_KINDS = {
    kinds.ENGINE: "engine lost",
    kinds.RUDDER: "rudder stuck as it stands",
    kinds.RUDDER_STARBOARD: "rudder stuck to starboard",
    kinds.RUDDER_PORT: "rudder stuck to port",
    kinds.THRUSTERS: "thrusters lost",
    kinds.BLACKOUT: "blackout",
    kinds.TUG: "tug lost",
}


def failures_of(call: PortCall, every: float = MINUTE, progress: Callable[[int, int], None] | None = None) -> Failures:
    """Sweep the passage of a call: each failure every `every` seconds, with and without an answer.

    `CannotCompute` where the undisturbed passage itself does not succeed: then there is nothing to compare with.
    """
    made = ready(prepare(call), call.start)
    plain = rehearse(made.case, made.case.mind, undisturbed(), kept=True)
    if int(plain.outcomes["reason"][0]) not in GOOD:
        raise CannotCompute(
            f"the rehearsal of {call.name} ends {WORDS[int(plain.outcomes['reason'][0])]} without any failure; "
            "expected a passage that succeeds before asking what may fail in it"
        )
    track = plain.track(0)
    ends = float(plain.outcomes["time"][0])
    times = np.arange(0.0, ends, every)
    asked = list(_asked(made))
    cases = [(kind, unit, answered, time) for kind, unit in asked for answered in (0.0, 1.0) for time in times]
    failing = no_failures(len(cases))
    for row, (kind, unit, answered, time) in zip(failing, cases, strict=True):
        row["kind"], row["unit"], row["answered"], row["time"] = kind, unit, answered, time
    outcomes = _sailed(made, failing, progress)
    distance = np.interp(times, track[:, 0], track[:, COLUMNS.index("along")])
    shape = (len(asked), 2, times.size)
    reasons = outcomes["reason"].astype(int).reshape(shape)
    ended = outcomes["time"].reshape(shape)
    place = outcomes["place"].reshape(shape)
    found = []
    for number, (kind, unit) in enumerate(asked):
        name = WORDS_OF_KINDS[kind] if kind != kinds.TUG else f"tug {made.tugs[int(unit)]} lost"
        moments = tuple(
            _moment(
                float(times[k]), float(distance[k]), reasons[number, :, k], ended[number, :, k], place[number, :, k]
            )
            for k in range(times.size)
        )
        found.append(_failing(made, name, moments))
    return Failures(
        call=call.name,
        ship=call.ship.name,
        start=call.start,
        every=every,
        failing=tuple(found),
        estimated=(*relied_on(made), ANSWERED),
    )


ANSWERED = (
    f"The planned answer begins {kinds.SEEN:.0f} s after the failure: engines left full astern, tugs astern, anchors "
    "below 4 knots where the card tells of any; a rudder stuck hard over is there at once."
)


def _asked(made: Ready) -> list[tuple[int, float]]:
    """The failures this ship can have."""
    found = [(kind, 0.0) for kind in (kinds.ENGINE, kinds.RUDDER, kinds.RUDDER_STARBOARD, kinds.RUDDER_PORT)]
    if made.thrusters:
        found.append((kinds.THRUSTERS, 0.0))
    found.append((kinds.BLACKOUT, 0.0))
    return found + [(kinds.TUG, float(unit)) for unit in range(len(made.tugs))]


def _sailed(made: Ready, failing: Records, progress: Callable[[int, int], None] | None) -> Records:
    parts = []
    fleet = made.case.mind
    for begin in range(0, failing.size, BATCH):
        batch = failing[begin : begin + BATCH]
        many = fleet._replace(ships=np.repeat(fleet.ships, batch.size))
        parts.append(rehearse(made.case, many, undisturbed(batch.size), kept=False, failing=batch).outcomes)
        if progress:
            progress(begin + batch.size, failing.size)
    return np.concatenate(parts)


def _moment(time: float, distance: float, reasons: Any, ended: Any, place: Any) -> Moment:
    safe = [int(one) in (*GOOD, HELD) for one in reasons]
    return Moment(
        time=time,
        distance=distance,
        danger=None if safe[0] else WORDS[int(reasons[0])],
        time_left=None if safe[0] else float(ended[0]) - time,
        distance_left=None if safe[0] else float(place[0]) - distance,
        answered=safe[1],
        answered_danger=None if safe[1] else WORDS[int(reasons[1])],
    )


def _failing(made: Ready, name: str, moments: tuple[Moment, ...]) -> Failing:
    """Points of no return are where the planned answer ceases to help; before each lies the last place to turn away."""
    turns = [(before, here) for before, here in pairwise(moments) if before.answered and not here.answered]
    place = made.prepared.passage.place
    return Failing(
        name=name,
        moments=moments,
        least_time_left=min((one.time_left for one in moments if one.time_left is not None), default=None),
        no_return=tuple((here.distance, place(here.distance)) for _, here in turns),
        abort=tuple((before.distance, place(before.distance)) for before, _ in turns),
    )
