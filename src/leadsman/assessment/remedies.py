"""What would make it go: the smallest single change of each kind, found by solving with the same account."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import numpy as np

from leadsman import format as text
from leadsman.assessment.drift import drift
from leadsman.assessment.floating import floating
from leadsman.assessment.heeling import stability
from leadsman.assessment.own_figures import at_other_draught
from leadsman.assessment.passage import planned_speed
from leadsman.assessment.prepare import Prepared, underkeel
from leadsman.assessment.result import Binding, Remedy, Window
from leadsman.assessment.rules.remedies import rule_remedies
from leadsman.assessment.sailing import passing_times
from leadsman.assessment.touching import Chances, touching
from leadsman.environment.level import level_at
from leadsman.errors import CannotCompute, Impossible
from leadsman.portcall import PortCall, ReachPlan
from leadsman.units import KNOT

LEAST_SPEED = 2.0 * KNOT  # slower through the water than this few ships steer. Common practice, no source
MOST_DRAUGHT_CHANGE = 0.30  # of the draught; more is another voyage
SPEED_EXACTNESS = 0.05 * KNOT
DRAUGHT_EXACTNESS = 0.005  # m
STEPS = 24  # looked at between no change and the greatest; a change that helps over less than a step is not found


def remedies(prepared: Prepared, binding: Binding, windows: tuple[Window, ...], start: datetime) -> tuple[Remedy, ...]:
    """For a start that does not go: later, earlier, slower, less or more draught; whether each alone would do."""
    found = [_later(windows, start), _earlier(windows, start), _slower(prepared, binding, start)]
    if binding.rule and binding.limit != "touching":
        return (*found, *rule_remedies(prepared, start))
    found.append(_less_draught(prepared, start) if binding.limit != "overhead" else _more_draught(prepared, start))
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

    def holds(less: float) -> bool:
        slowed = ReachPlan(reach=plan.reach, speed=planned - less)
        plans = tuple(slowed if item.reach == plan.reach else item for item in call.plans)
        return _holds(prepared, replace(call, plans=plans), start)

    less = _smallest(holds, planned - LEAST_SPEED, SPEED_EXACTNESS)
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

    change = _smallest(lambda size: _holds(prepared, _floating_by(call, sign * size), start), most, DRAUGHT_EXACTNESS)
    if change is None:
        return Remedy(kind=kind, works=False, sentence=f"{words[1]} by up to {text.metres(most)} alone would not do.")
    return Remedy(
        kind=kind,
        works=True,
        sentence=f"{words[0]} by {text.requirement(change)}, to {text.metres(call.loading.draught + sign * change)}.",
        change=sign * change,
        unit="m",
    )


def _floating_by(call: PortCall, change: float) -> PortCall:
    """The same call with both draughts changed, and the displacement with them, her block coefficient kept."""
    return replace(call, loading=at_other_draught(call.loading, change))


def _smallest(holds: Callable[[float], bool], most: float, exactness: float) -> float | None:
    """The smallest change up to `most` that holds: the first of even steps that does, then by halving back.

    A change that makes an impossible ship or call does not hold.
    """

    def possible(change: float) -> bool:
        try:
            return holds(change)
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


def _holds(prepared: Prepared, call: PortCall, start: datetime) -> bool:
    """Whether every limit along the passage holds for a changed call at this start.

    The stations and the water stay; hull, speeds and heights follow the change. The account is made directly at her
    times, which for one start is cheaper than the needed levels of all stations.
    """
    speeds = np.array(
        [planned_speed(call.ship, call.loading, _plan(call, reach.name)) for reach in prepared.passage.reaches]
    )
    passage = replace(prepared.passage, call=call, speed=speeds[prepared.passage.reach])
    hull = floating(call)
    stations = prepared.stations._replace(speed=passage.speed)
    passed = passing_times(stations, prepared.water.stream.grid, prepared.water.elapsed(start))
    level = level_at(prepared.water.level.grid, passage.distance, passed)
    bounds = drift(passage, prepared.water.stream)
    known = prepared.underkeel.stability if call.loading == prepared.call.loading else stability(call)
    account = underkeel(passage, hull, bounds, known, prepared.underkeel.depth)
    if not np.all(account.net(level) >= account.required):
        return False
    if call.margins.touching is not None:
        chances = Chances(underkeel=account, level_deviation=prepared.chances.level_deviation)
        if not touching(chances, level).allowed:
            return False
    if prepared.rules.sailed(stations).broken(np.array([prepared.water.elapsed(start)]))[0] >= 0:
        return False
    lower = (hull.air_draught or 0.0) - (prepared.floating.air_draught or 0.0)
    return all(np.all(over.clearance(level[over.stations]) - lower >= over.required) for over in prepared.overheads)


def _plan(call: PortCall, reach: str) -> ReachPlan:
    return next(plan for plan in call.plans if plan.reach == reach)
