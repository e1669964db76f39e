"""What if something fails: at every minute of the passage, going on and with the best answer a person could give there.

Each failure at each minute is sailed from where she was at that moment, with every answer (`failures_sail`). The answer
whose outcome is best is the planned one of that place; neighbouring places share one where it serves both. How long,
and how far, until danger; from where on no answer helps; the last place from where one does.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from hashlib import sha256
from itertools import pairwise

import numpy as np

from leadsman.assessment import failures_answers as ways
from leadsman.assessment.assess import fingerprint
from leadsman.assessment.failures_result import Failing, Failures, Moment, Stretch
from leadsman.assessment.failures_sail import LOST, OVER_EDGE, PLACE, REASON, ROOM, TIME, UNWATCHED, Swept, sweep, worth
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import Store, relied_on
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_run import GOOD, WORDS
from leadsman.conning import failures as kinds
from leadsman.conning.outcome import COLUMNS, HELD, UNHURT
from leadsman.conning.run import rehearse, undisturbed
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.portcall import PortCall
from leadsman.units import KNOT, MINUTE

OUTSIDE = " outside the fairway"
ENDS = WORDS | {HELD: "stopped", UNHURT: f"no danger in {kinds.WATCHED / MINUTE:.0f} minutes"}


def failures_of(
    call: PortCall,
    every: float = MINUTE,
    progress: Callable[[int, int], None] | None = None,
    store: Store | None = None,
) -> Failures:
    """Sweep the passage of a call: each failure every `every` seconds, going on and with the best answer.

    With a `store` a sweep that was stopped goes on with what it has. `CannotCompute` where the undisturbed passage
    itself does not succeed: then there is nothing to compare with.
    """
    made = ready(prepare(call), call.start)
    plain = rehearse(made.case, made.case.mind, undisturbed(), kept=True)
    if int(plain.outcomes["reason"][0]) not in GOOD:
        raise CannotCompute(
            f"the rehearsal of {call.name} ends {WORDS[int(plain.outcomes['reason'][0])]} without any failure; "
            "expected a passage that succeeds before asking what may fail in it"
        )
    track = plain.track(0)
    times = np.arange(every, float(plain.outcomes["time"][0]), every)
    distance = np.interp(times, track[:, 0], track[:, COLUMNS.index("along")])
    key = sha256(f"failures {fingerprint(call)} {every}".encode()).hexdigest()[:16]
    swept = sweep(made, times, progress, store, key)
    return Failures(
        call=call.name,
        ship=call.ship.name,
        start=call.start,
        every=every,
        failing=tuple(_failing(made, one, distance) for one in swept),
        estimated=(*relied_on(made), *ANSWERED),
    )


ANSWERED = (
    f"An answer begins {kinds.SEEN:.0f} s after the failure and is followed for {kinds.WATCHED / MINUTE:.0f} minutes; "
    "a rudder stuck hard over is there at once. After a failure an edge of the fairway may be crossed: water too "
    "shallow, unknown water and the quay are the danger.",
    f"Stopped: slower than {kinds.STOPPED_SPEED / KNOT:.1f} knots over the ground for {kinds.STOPPED_TIME:.0f} s. "
    f"Anchors are let go below {kinds.ANCHOR_SPEED / KNOT:.0f} knots through the water, where the card tells of any; "
    "whether they hold for hours is another question.",
)


def _failing(made: Ready, one: Swept, distance: Array) -> Failing:
    """Points of no return are where no answer helps any more; before each lies the last place to turn away."""
    chosen = choose(one)
    grade = worth(one)
    moments = tuple(
        _moment(made, one, index, int(way), float(distance[index]), grade[:, index]) for index, way in enumerate(chosen)
    )
    turns = [(before, here) for before, here in pairwise(moments) if before.answered and not here.answered]
    place = made.prepared.passage.place
    return Failing(
        name=one.lost.name,
        moments=moments,
        stretches=tuple(_stretches(made, one, chosen, moments)),
        least_time_left=min((moment.time_left for moment in moments if moment.time_left is not None), default=None),
        no_return=tuple((here.distance, place(here.distance)) for _, here in turns),
        abort=tuple((before.distance, place(before.distance)) for before, _ in turns),
    )


CHANGE = 1.0  # what another answer than at the place before costs: few are remembered better than many. Ours
LESS, UNSURE = 0.7, 1.5  # what it costs to end over an edge where she need not, and to be only unhurt for a while. Ours
SOONER = 3.0  # what no time at all costs against the longest, where every answer ends in danger. Ours
DRASTIC = 0.05  # what an anchor let go, or a wheel hard over, costs a moment. Ours


def choose(one: Swept) -> Array:
    """The way that is best at each moment [moments], row of `found`: none that ends in danger where another does not.

    Among the others the least sum of costs along the passage: of a worse end, of less time, of drastic orders, and of
    changing from one answer to another. Found by dynamic programming.
    """
    grade = worth(one)
    best = grade.max(axis=0)
    left = np.where(grade >= LOST, one.found[..., TIME] - one.times, 0.0)
    longest = np.maximum(left.max(axis=0), 1.0)
    costs = np.where(best > LOST, np.where(grade > LOST, 0.0, np.inf), SOONER * (1.0 - left / longest))
    costs += LESS * ((grade == OVER_EDGE) & (best > OVER_EDGE)) + UNSURE * ((grade == UNWATCHED) & (best > UNWATCHED))
    costs += DRASTIC * np.array([0.0, *(way.anchors + (way.wheel > 0) for way in one.ways)])[:, np.newaxis]
    costs[grade < LOST] = np.inf
    total = costs[:, 0]
    before = np.zeros(costs.shape, dtype=int)
    for moment in range(1, costs.shape[1]):
        cheapest = int(np.argmin(total))
        changing = total[cheapest] + CHANGE < total
        before[:, moment] = np.where(changing, cheapest, np.arange(total.size))
        total = np.where(changing, total[cheapest] + CHANGE, total) + costs[:, moment]
    chosen = np.zeros(costs.shape[1], dtype=int)
    chosen[-1] = int(np.argmin(total))
    for moment in range(costs.shape[1] - 1, 0, -1):
        chosen[moment - 1] = before[chosen[moment], moment]
    return chosen


def _moment(made: Ready, one: Swept, index: int, way: int, distance: float, grade: Array) -> Moment:
    time, on, best = float(one.times[index]), one.found[0, index], one.found[way, index]
    safe, answered = bool(grade[0] > LOST), bool(grade[way] > LOST)
    return Moment(
        time=time,
        distance=distance,
        danger=None if safe else ENDS[int(on[REASON])],
        time_left=None if safe else float(on[TIME]) - time,
        distance_left=None if safe else float(on[PLACE]) - distance,
        answered=answered,
        answer=_words(made, one, way, [index]),
        answered_ends=ENDS[int(best[REASON])] + (OUTSIDE if grade[way] == OVER_EDGE else ""),
        answered_time_left=None if answered else float(best[TIME]) - time,
        leaves_fairway=bool(best[ROOM] < 0.0),
    )


def _words(made: Ready, one: Swept, way: int, moments: list[int]) -> str:
    if way == 0:
        return ways.GO_ON
    answer = one.ways[way - 1]
    lengths = [ways.shackles(made, answer.scope, float(one.depths[moment])) for moment in moments]
    return answer.words(made, one.lost, (min(lengths), max(lengths)))


def _stretches(made: Ready, one: Swept, chosen: Array, moments: tuple[Moment, ...]) -> Iterator[Stretch]:
    """Neighbouring moments of the same answer that all end well, or all in danger."""
    place = made.prepared.passage.place
    begin = 0
    for end in range(1, len(moments) + 1):
        same = end < len(moments) and chosen[end] == chosen[begin]
        if same and moments[end].answered == moments[begin].answered:
            continue
        part = moments[begin:end]
        left = [moment.answered_time_left for moment in part if moment.answered_time_left is not None]
        yield Stretch(
            begin_time=part[0].time,
            end_time=part[-1].time,
            begin=part[0].distance,
            begin_place=place(part[0].distance),
            end=part[-1].distance,
            end_place=place(part[-1].distance),
            answer=_words(made, one, int(chosen[begin]), list(range(begin, end))),
            answered=part[0].answered,
            ends=Counter(moment.answered_ends for moment in part).most_common(1)[0][0],
            least_time_left=min(left, default=None),
        )
        begin = end
