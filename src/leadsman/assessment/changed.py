"""How a changed call fares at one start: what is left at the worst place, without preparing all starts anew."""

from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

import numpy as np

from leadsman.assessment.drift import drift
from leadsman.assessment.floating import floating
from leadsman.assessment.heeling import stability
from leadsman.assessment.passage import planned_speed
from leadsman.assessment.prepare import Prepared, underkeel
from leadsman.assessment.sailing import passing_times
from leadsman.assessment.touching import Chances, touching
from leadsman.environment.level import level_at
from leadsman.errors import CannotCompute
from leadsman.portcall import PortCall, ReachPlan

IMPOSSIBLE = -1e6  # m: of a call that cannot be computed


class Left(NamedTuple):
    """What is left at the worst place."""

    margin: float
    """Under the keel or overhead above the requirement; negative: a limit is broken. [m]"""
    station: int


def left(prepared: Prepared, call: PortCall, start: datetime) -> Left:
    """The least margin of a changed call, of the limits the water sets.

    The stations and the water stay; hull, speeds and heights follow the change. The account is made directly at her
    times, which for one start is cheaper than the needed levels of all stations.
    """
    try:
        return _Changed(prepared, call, start).left()
    except CannotCompute:
        return Left(IMPOSSIBLE, 0)


def holds(prepared: Prepared, call: PortCall, start: datetime) -> bool:
    """Whether every limit along the passage holds: the water's, the rules' and that of the chance of touching."""
    try:
        changed = _Changed(prepared, call, start)
        return changed.left().margin >= 0.0 and changed.chance_allowed() and changed.rules_kept()
    except CannotCompute:
        return False


def with_speeds(call: PortCall, speeds: dict[str, float]) -> PortCall:
    """The same call with these reaches at other speeds through the water. [m/s]"""
    plans = tuple(
        ReachPlan(reach=plan.reach, speed=speeds[plan.reach]) if plan.reach in speeds else plan for plan in call.plans
    )
    return replace(call, plans=plans)


class _Changed:
    """One changed call at one start."""

    def __init__(self, prepared: Prepared, call: PortCall, start: datetime) -> None:
        plans = {plan.reach: plan for plan in call.plans}
        speeds = np.array(
            [planned_speed(call.ship, call.loading, plans[reach.name]) for reach in prepared.passage.reaches]
        )
        passage = replace(prepared.passage, call=call, speed=speeds[prepared.passage.reach])
        self.prepared, self.call, self.elapsed = prepared, call, prepared.water.elapsed(start)
        self.hull = floating(call)
        self.stations = prepared.stations._replace(speed=passage.speed)
        passed = passing_times(self.stations, prepared.water.stream.grid, self.elapsed)
        self.level = level_at(prepared.water.level.grid, passage.distance, passed)
        known = prepared.underkeel.stability if call.loading == prepared.call.loading else stability(call)
        bounds = drift(passage, prepared.water.stream)
        self.account = underkeel(passage, self.hull, bounds, known, prepared.underkeel.depth)

    def left(self) -> Left:
        margin = np.min(self.account.net(self.level), axis=0) - self.account.required
        lower = (self.hull.air_draught or 0.0) - (self.prepared.floating.air_draught or 0.0)
        for over in self.prepared.overheads:
            clear = over.clearance(self.level[over.stations]) - lower - over.required
            margin[over.stations] = np.minimum(margin[over.stations], clear)
        margin = np.where(np.isnan(margin), IMPOSSIBLE, margin)
        worst = int(np.argmin(margin))
        return Left(float(margin[worst]), worst)

    def chance_allowed(self) -> bool:
        if self.call.margins.touching is None:
            return True
        chances = Chances(underkeel=self.account, level_deviation=self.prepared.chances.level_deviation)
        return touching(chances, self.level).allowed

    def rules_kept(self) -> bool:
        return int(self.prepared.rules.sailed(self.stations).broken(np.array([self.elapsed]))[0]) < 0
