"""Is she held: with what reserve, by which orders; if not, what is left over and how she drifts."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from leadsman.assessment.holding.case import Array, HoldingCase
from leadsman.assessment.holding.means import Kind, Way, bodies, ways
from leadsman.physics import balance, current


@dataclass(frozen=True, kw_only=True)
class Order:
    """What one of her means is to do."""

    name: str
    kind: Kind
    surge: float
    """[N]"""
    sway: float
    """[N]"""
    yaw: float
    """About midships. [N m]"""
    used: float
    """Share of what it could give. [-]"""
    where: tuple[float, float]
    """Forward of midships, to starboard of the centreline. [m]"""

    @property
    def force(self) -> float:
        """[N]"""
        return math.hypot(self.surge, self.sway)

    @property
    def towards(self) -> float:
        """Where its force points, off the bow, to starboard positive. [rad]"""
        return math.atan2(self.sway, self.surge)


@dataclass(frozen=True, kw_only=True, eq=False)
class Holding:
    """The answer to one case."""

    held: bool
    reserve: float
    """How much more of wind and current together could be held, as a share: 0.25 is a quarter more; below 0 it is not
    held. [-]"""
    engines: str
    """Which way the screws drive; empty where there is no choice."""
    wind: Array
    """Load of the wind planned for. [N, N, N m]"""
    current: Array
    """[N, N, N m]"""
    orders: tuple[Order, ...]
    unbalanced: Array
    """What is left over, rounding apart nil when held. [N, N, N m]"""
    drift_speed: float
    """Sideways through the water that the left-over sway gives her in the end. [m/s]"""
    by_method: Mapping[str, float]
    """Reserve by each wind method that suits her: where they differ, the least is `reserve`. [-]"""


def hold(case: HoldingCase) -> Holding:
    """Whether she is held as the case stands, with orders.

    Each wind method is asked; the answer is that of the one that leaves least.
    """
    stream = _counted(case, case.current_loads(case.current_speed, case.current_from))
    winds = {
        each.method: _counted(case, case.wind_loads(case.wind_speed, case.wind_from, each)) for each in case.windages
    }
    loads = np.array([wind + stream for wind in winds.values()])
    held = np.array([_times(body, loads) for body in bodies(case)])
    worst = int(np.argmin(np.max(held, axis=0)))
    best = int(np.argmax(held[:, worst]))
    way, method, times = ways(case)[best], list(winds)[worst], float(held[best, worst])
    effort = _effort(case, way, loads[worst], times)
    return Holding(
        held=times >= 1.0,
        reserve=times - 1.0,
        engines=way.engines,
        wind=winds[method],
        current=stream,
        orders=_orders(way, effort),
        unbalanced=effort.unbalanced,
        drift_speed=0.0 if times >= 1.0 else _drift(case, float(effort.unbalanced[1])),
        by_method={name: float(most) - 1.0 for name, most in zip(winds, np.max(held, axis=0), strict=True)},
    )


def reserve(case: HoldingCase) -> float:
    """How much more could be held, as a share, without asking by which orders. [-]"""
    stream = case.current_loads(case.current_speed, case.current_from)
    winds = [case.wind_loads(case.wind_speed, case.wind_from, each) for each in case.windages]
    loads = _counted(case, np.array(winds) + stream)
    return float(np.min(np.max([_times(body, loads) for body in bodies(case)], axis=0))) - 1.0


def _counted(case: HoldingCase, load: Array) -> Array:
    """The load without surge where surge does not count."""
    return load if case.surge_counts else load * np.array([0.0, 1.0, 1.0])


def _times(body: balance.Attainable, loads: Array) -> Array:
    """How many times each load is held in a way; by half-spaces, which tests hold to the linear program."""
    least, most = balance.factors_held(body, loads, np.zeros(3))
    return np.where(least <= most, np.minimum(most, balance.MOST_TIMES), -np.inf)


def _effort(case: HoldingCase, way: Way, load: Array, times: float) -> balance.Effort:
    """The cheapest orders that keep in hand what should be kept; the even ones where that much is not left."""
    if times < 1.0:
        return balance.shortfall(way.reaches, load, case.lever)
    asked = [1.0 - kept_in_hand(case, means.kind) for means in way.means]
    costs = [means.kind.cost for means in way.means]
    effort = balance.least_effort(way.reaches, load, costs, asked, case.lever)
    if effort is None:
        # A hair above the share the reserve allows, for the rounding of half-spaces and solver.
        most = min(1.0, (1.0 + 1e-7) / times)
        shares = [max(share, most) if share < 1.0 else 1.0 for share in asked]
        effort = balance.least_effort(way.reaches, load, costs, shares, case.lever)
    if effort is None:
        effort = balance.least_effort(way.reaches, load, costs, [1.0] * len(costs), case.lever)
    assert effort is not None, "what is held once and more has orders"
    return effort


def kept_in_hand(case: HoldingCase, kind: Kind) -> float:
    """Share of this sort of means that the orders keep back where they can. [-]"""
    planning = case.planning
    kept = {
        Kind.SCREW: planning.screw_in_hand,
        Kind.THRUSTER: planning.thruster_in_hand,
        Kind.TUG: planning.tug_in_hand,
    }
    return kept.get(kind, 0.0)


def _orders(way: Way, effort: balance.Effort) -> tuple[Order, ...]:
    return tuple(
        Order(
            name=means.name,
            kind=means.kind,
            surge=float(made[0]),
            sway=float(made[1]),
            yaw=float(made[2]),
            used=float(used),
            where=means.where,
        )
        for means, made, used in zip(way.means, effort.made, effort.used, strict=True)
    )


def _drift(case: HoldingCase, sway: float) -> float:
    hull = case.hull
    coefficient = hull.lateral_coefficient(case.water_depth)
    return float(current.drift_speed(sway, hull.length_waterline, hull.draught, coefficient, hull.density))
