"""The greatest stream a call still succeeds in: as planned, with her, at slack, against her; as a multiple of the
predicted one.

The stream is looked at where on the way it runs strongest. She is started so as to pass there when it sets with her
most, against her most, and when it turns; the wind is the forecast's. Her speeds stay those of the plan, and the level
is the tide's of that start: a start in too little water says so.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import partial
from hashlib import sha256

import numpy as np

from leadsman.assessment.assess import fingerprint
from leadsman.assessment.failures_result import StreamLimit, StreamLimits
from leadsman.assessment.limits import LEVEL, RUNS, sailed, without_the_undisturbed
from leadsman.assessment.limits_search import Tried, boundary, in_threads
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.rehearse import Store, relied_on
from leadsman.assessment.rehearse_draws import Drawn, Spread, draw
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.environment.stream import stream_at
from leadsman.errors import CannotCompute
from leadsman.portcall import PortCall
from leadsman.units import HOUR, KNOT, MINUTE

TIMES = 16  # steps of the multiple: up to
MOST = 2.0  # times the predicted stream
TIDE = 13.0 * HOUR  # s looked over for the states of the stream: a little more than one semi-diurnal tide
LOOKED = 10.0 * MINUTE  # s between two looks
LEAST = 0.1 * KNOT  # m/s: a stream weaker than this everywhere has no states


@dataclass(frozen=True)
class State:
    """A state of the stream at the place where it runs strongest: start [s later than the call's], along the way the
    ship goes there, positive with her [m/s]."""

    name: str
    later: float
    rate: float


def stream_limits(
    call: PortCall,
    runs: int = RUNS,
    seed: int = 1,
    level: float = LEVEL,
    progress: Callable[[int, int], None] | None = None,
    store: Store | None = None,
) -> StreamLimits:
    """Greatest streams by state of the stream, all tugs of the call at work.

    `CannotCompute` where no stream runs on the way.
    """
    prepared = prepare(call)
    place, states = states_of(prepared)
    key = sha256(f"stream {fingerprint(call)} {runs} {seed}".encode()).hexdigest()[:16]
    tried = Tried.of(store, key, len(states), TIMES + 1, runs)
    cases = []
    for state in states:
        later = call.starting(call.start + timedelta(seconds=state.later))
        made = ready(prepare(later), later.start)
        cases.append((made, without_the_undisturbed(draw(made, runs + 1, seed, Spread()))))
    best = in_threads(
        lambda index: _greatest(*cases[index], tried, index, level),
        len(states),
        tried,
        None if progress is None else (lambda done: progress(done, len(states))),
    )
    return StreamLimits(
        call=call.name,
        ship=call.ship.name,
        level=level,
        runs=runs,
        seed=seed,
        most=MOST,
        place=prepared.passage.place(place),
        states=tuple(
            _limit(made, tried, index, state, step)
            for index, (state, step, (made, _)) in enumerate(zip(states, best, cases, strict=True))
        ),
        estimated=relied_on(cases[0][0]),
    )


def states_of(prepared: Prepared) -> tuple[float, list[State]]:
    """Where on the way the stream runs strongest within a tide [m along the track], and its states there."""
    passage, grid, start = prepared.passage, prepared.water.stream.grid, prepared.call.start
    begin = prepared.water.elapsed(start)
    moments = np.arange(0.0, TIDE, LOOKED)
    stations = np.arange(len(passage.distance))
    passed = prepared.passed(start)
    until = passed - begin  # as planned; the stream changes it by little
    north, east = stream_at(grid, passage.distance[:, np.newaxis], begin + until[:, np.newaxis] + moments)
    rate = north * np.cos(passage.course[:, np.newaxis]) + east * np.sin(passage.course[:, np.newaxis])
    strongest = int(stations[np.argmax(np.abs(rate).max(axis=1))])
    along = rate[strongest]
    if np.abs(along).max() < LEAST:
        raise CannotCompute("no stream runs on the way; a limit of the stream is not asked for")
    found = []
    for name, index in (
        ("as planned", 0),
        ("with her", int(np.argmax(along))),
        ("slack", int(np.argmin(np.abs(along)))),
        ("against her", int(np.argmin(along))),
    ):
        found.append(State(name, float(moments[index]), float(along[index])))
    return float(passage.distance[strongest]), found


def _greatest(made: Ready, drawn: Drawn, tried: Tried, index: int, level: float) -> int:
    def goes(step: int) -> bool:
        draws = drawn.draws.copy()
        draws["stream"] *= MOST * step / TIMES
        return tried.goes(index, step, level, partial(sailed, made.case, replace(drawn, draws=draws)))

    return boundary(goes, TIMES, TIMES // 2)


def _limit(made: Ready, tried: Tried, index: int, state: State, step: int) -> StreamLimit:
    beyond = step == TIMES
    broken, place = ("", 0.0) if beyond else tried.broken(index, step + 1)
    return StreamLimit(
        state=state.name,
        start=made.start,
        rate=state.rate,
        factor=None if step < 0 else MOST * step / TIMES,
        beyond=beyond,
        reasons={} if beyond else tried.reasons(index, step + 1),
        broken=broken,
        place="" if beyond else made.prepared.passage.place(place),
    )
