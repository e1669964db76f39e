"""What would make it go: the smallest single change of each kind, found by solving with the same account."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import numpy as np

from leadsman import format as text
from leadsman.assessment.changed import holds, with_speeds
from leadsman.assessment.own_figures import at_other_draught
from leadsman.assessment.passage import planned_speed
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Binding, Remedy, Window
from leadsman.assessment.rules.remedies import rule_remedies
from leadsman.assessment.speed_plan import LEAST_SPEED, speed_plan
from leadsman.errors import CannotCompute, Impossible
from leadsman.portcall import PortCall
from leadsman.units import KNOT

MOST_DRAUGHT_CHANGE = 0.30  # of the draught; more is another voyage
SPEED_EXACTNESS = 0.05 * KNOT
DRAUGHT_EXACTNESS = 0.005  # m
PAIRED_SLOWING = 1.0 * KNOT
WORTH_TELLING = 0.02  # m of lightening that slowing must spare
STEPS = 24  # looked at between no change and the greatest; a change that helps over less than a step is not found


def remedies(prepared: Prepared, binding: Binding, windows: tuple[Window, ...], start: datetime) -> tuple[Remedy, ...]:
    """For a start that does not go: later, earlier, slower, less or more draught; whether each alone would do."""
    found = [_later(windows, start), _earlier(windows, start), _slower(prepared, binding, start)]
    slower = found[-1]
    if binding.rule and binding.limit != "touching":
        return (*found, *rule_remedies(prepared, start))
    found.append(_less_draught(prepared, start) if binding.limit != "overhead" else _more_draught(prepared, start))
    if not slower.works:
        found.append(speed_plan(prepared, start))
    if binding.limit != "overhead" and (pair := _slower_and_lighter(prepared, binding, found, start)):
        found.append(pair)
    return tuple(found)


def _later(windows: tuple[Window, ...], start: datetime) -> Remedy:
    window = next((window for window in windows if window.opens > start), None)
    if window is None:
        return Remedy(kind="later", works=False, sentence="No later start in the time searched would do.")
    moment = text.inside(window.opens, window.closes)[0]
    return Remedy(
        kind="later",
        works=True,
        sentence=f"Start {text.duration(moment - start)} later, at {text.moment(moment)}.",
        start=moment,
        change=(moment - start).total_seconds(),
        unit="s",
    )


def _earlier(windows: tuple[Window, ...], start: datetime) -> Remedy:
    window = next((window for window in reversed(windows) if window.closes < start), None)
    if window is None:
        return Remedy(kind="earlier", works=False, sentence="No earlier start in the time searched would do.")
    moment = text.inside(window.opens, window.closes)[1]
    return Remedy(
        kind="earlier",
        works=True,
        sentence=f"Start {text.duration(start - moment)} earlier, at {text.moment(moment)}.",
        start=moment,
        change=(moment - start).total_seconds(),
        unit="s",
    )


def _slower(prepared: Prepared, binding: Binding, start: datetime) -> Remedy:
    """The greatest speed on the reach that binds, all else as planned, at which the whole passage holds."""
    call = prepared.call
    station = int(np.argmin(np.abs(prepared.passage.distance - binding.distance)))
    index = int(prepared.passage.reach[station])
    plan = prepared.passage.plans[index]
    planned = planned_speed(call.ship, call.loading, plan)

    def slowed(less: float) -> bool:
        return holds(prepared, with_speeds(call, {plan.reach: planned - less}), start)

    less = _smallest(slowed, planned - LEAST_SPEED, SPEED_EXACTNESS)
    if less is None:
        return Remedy(
            kind="slower",
            works=False,
            sentence=f"Slowing in {plan.reach} alone, down to {text.knots(LEAST_SPEED)}, would not do.",
        )
    slow = np.floor((planned - less) / KNOT * 10.0 + 1e-9) / 10.0  # told in whole tenths, on the slow side
    return Remedy(
        kind="slower",
        works=True,
        sentence=f"Slow to {text.number(slow, 1)} kn through the water in {plan.reach}, planned {text.knots(planned)}.",
        change=planned - less,
        unit="m/s",
    )


def _less_draught(prepared: Prepared, start: datetime) -> Remedy:
    return _draught(prepared, start, kind="less_draught", sign=-1.0, words=("Lighten", "Lightening"))


def _more_draught(prepared: Prepared, start: datetime) -> Remedy:
    return _draught(prepared, start, kind="more_draught", sign=1.0, words=("Ballast down", "Ballasting down"))


def _draught(prepared: Prepared, start: datetime, kind: str, sign: float, words: tuple[str, str]) -> Remedy:
    """The smallest change of draught, even all along her length, at which the whole passage holds."""
    call = prepared.call
    most = MOST_DRAUGHT_CHANGE * call.loading.draught

    change = _smallest(lambda size: holds(prepared, _floating_by(call, sign * size), start), most, DRAUGHT_EXACTNESS)
    if change is None:
        return Remedy(kind=kind, works=False, sentence=f"{words[1]} by up to {text.metres(most)} alone would not do.")
    return Remedy(
        kind=kind,
        works=True,
        sentence=f"{words[0]} by {text.requirement(change)}, to {text.metres(call.loading.draught + sign * change)}.",
        change=sign * change,
        unit="m",
    )


def _slower_and_lighter(prepared: Prepared, binding: Binding, alone: list[Remedy], start: datetime) -> Remedy | None:
    """A knot slower where it binds and lighter besides, where that spares lightening; None where one change will do."""
    lighten = next((one for one in alone if one.kind == "less_draught"), None)
    if any(one.works for one in alone if one.kind in ("slower", "speeds")) or lighten is None:
        return None
    call, passage = prepared.call, prepared.passage
    station = int(np.argmin(np.abs(passage.distance - binding.distance)))
    reach = passage.reaches[int(passage.reach[station])].name
    slow = float(passage.speed[station]) - PAIRED_SLOWING
    if slow < LEAST_SPEED:
        return None
    slowed = with_speeds(call, {reach: slow})
    most = MOST_DRAUGHT_CHANGE * call.loading.draught if lighten.change is None else -lighten.change
    change = _smallest(
        lambda size: holds(prepared, _floating_by(slowed, -size), start), most - WORTH_TELLING, DRAUGHT_EXACTNESS
    )
    if change is None:
        return None
    return Remedy(
        kind="slower_and_less_draught",
        works=True,
        sentence=f"Slow to {text.knots(slow)} in {reach} and lighten by {text.requirement(change)}.",
        change=-change,
        unit="m",
    )


def _floating_by(call: PortCall, change: float) -> PortCall:
    """The same call with both draughts changed, and the displacement with them, her block coefficient kept."""
    return replace(call, loading=at_other_draught(call.loading, change))


def _smallest(mends: Callable[[float], bool], most: float, exactness: float) -> float | None:
    """The smallest change up to `most` that mends: the first of even steps that does, then by halving back.

    A change that makes an impossible ship or call does not mend.
    """

    def possible(change: float) -> bool:
        try:
            return mends(change)
        except (Impossible, CannotCompute):
            return False

    steps = np.linspace(0.0, max(most, 0.0), STEPS + 1)
    first = next((index for index in range(1, STEPS + 1) if possible(float(steps[index]))), None)
    if first is None:
        return None
    low, high = float(steps[first - 1]), float(steps[first])
    while high - low > exactness:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if possible(middle) else (middle, high)
    return high
