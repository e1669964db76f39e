"""The limit roses: greatest wind and current by direction for each set of tugs, and what she can make by direction.

Loads by the thousand are judged by half-spaces (`physics.balance.attainable`), which tests hold to the linear program.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from leadsman.assessment.holding.case import Array, HoldingCase, Tug, Windage
from leadsman.assessment.holding.means import bodies as bodies_of
from leadsman.physics import balance
from leadsman.physics.balance import Attainable
from leadsman.units import signed

DIRECTIONS = 36
WIND_CEILING = 40.0  # m/s: beyond the greatest wind of any forecast a harbour works in; told as "over" this
CURRENT_CEILING = 3.0  # m/s: likewise; the current loads are published up to 1.5 m/s
_SCAN = 41  # speeds tried for the first one not held, where loads do not grow as the square
_HALVINGS = 12  # of the step between them: to a quarter of a millimetre per second


@dataclass(frozen=True, kw_only=True, eq=False)
class Rose:
    """Greatest speed by direction."""

    directions: Array
    """Where it comes from, off the bow, to starboard positive, from 0 round. Shape (n,). [rad]"""
    limits: Mapping[str, Array]
    """By name of the set of tugs: greatest speed held, from calm upward without a gap. Shape (n,). [m/s]"""
    ceiling: float
    """Limits that reach it are "over" it. [m/s]"""

    def worst(self, name: str) -> tuple[float, float]:
        """Least limit of a set of tugs and the direction it holds in. [m/s, rad]"""
        least = int(np.argmin(self.limits[name]))
        return float(self.limits[name][least]), float(self.directions[least])


def wind_rose(case: HoldingCase, tug_sets: Mapping[str, tuple[Tug, ...]], directions: int = DIRECTIONS) -> Rose:
    """Greatest ten-minute mean wind she is held in, by direction, with the current of the case.

    The least over all wind methods of the case. Sway, yaw and, but under way, surge must balance.
    """
    angles = all_round(directions)
    limits = {}
    for name, tugs in tug_sets.items():
        asked = case.with_tugs(tugs)
        bodies = bodies_of(asked)
        limits[name] = np.min([_greatest_wind(asked, bodies, windage, angles) for windage in case.windages], axis=0)
    return Rose(directions=angles, limits=limits, ceiling=WIND_CEILING)


def current_rose(case: HoldingCase, tug_sets: Mapping[str, tuple[Tug, ...]], directions: int = DIRECTIONS) -> Rose:
    """Greatest current she is held in, by direction, with the wind of the case; not where she goes with the water."""
    if case.goes_with_water:
        raise ValueError(f"{case.situation} she goes with the water; a current rose is asked of a ship that is held")
    angles = all_round(directions)
    winds = [case.wind_loads(case.wind_speed, case.wind_from, windage) for windage in case.windages]
    limits = {}
    for name, tugs in tug_sets.items():
        bodies = bodies_of(case.with_tugs(tugs))
        found = [_first_not_held(bodies, partial(_with_wind, case, angles, wind), CURRENT_CEILING) for wind in winds]
        limits[name] = np.min(found, axis=0)
    return Rose(directions=angles, limits=limits, ceiling=CURRENT_CEILING)


def wind_limit(case: HoldingCase) -> float:
    """Greatest ten-minute mean wind from the direction of the case that she is held in. [m/s]"""
    bodies, angle = bodies_of(case), np.array([case.wind_from])
    return min(float(_greatest_wind(case, bodies, windage, angle)[0]) for windage in case.windages)


@dataclass(frozen=True, kw_only=True, eq=False)
class Swing:
    """How she is held on every heading while she swings in a wind and current that stay."""

    turns: Array
    """From the heading of the case, to starboard positive, from 0 round. Shape (n,). [rad]"""
    reserve: Array
    """By heading, over the wind methods the least. Shape (n,). [-]"""
    limits: Array
    """Greatest ten-minute mean wind by heading. Shape (n,). [m/s]"""

    @property
    def hardest(self) -> float:
        """The turn that leaves least. [rad]"""
        return float(self.turns[int(np.argmin(self.reserve))])


def swing(case: HoldingCase, directions: int = DIRECTIONS) -> Swing:
    """Reserve and greatest wind on every heading; for a ship stopped with no quay near."""
    if case.quay is not None or not case.surge_counts:
        raise ValueError("a ship swings stopped, with no quay near; expected situation basin or swinging, and no quay")
    turns, bodies = all_round(directions), bodies_of(case)
    stream = case.current_loads(np.full(directions, case.current_speed), case.current_from - turns)
    reserves, limits = [], []
    for windage in case.windages:
        load = case.wind_loads(case.wind_speed, case.wind_from - turns, windage) + stream
        limits.append(_greatest_by_square(case, bodies, windage, case.wind_from - turns, stream))
        times = [balance.factors_held(body, load, np.zeros(3))[1] for body in bodies]
        reserves.append(np.minimum(np.max(times, axis=0), balance.MOST_TIMES) - 1.0)
    return Swing(turns=turns, reserve=np.min(reserves, axis=0), limits=np.min(limits, axis=0))


def turned(case: HoldingCase, turn: float) -> HoldingCase:
    """The same question on another heading. [rad]"""
    return replace(case, wind_from=signed(case.wind_from - turn), current_from=signed(case.current_from - turn))


def all_round(directions: int) -> Array:
    """Angles from 0 round, evenly. Shape (directions,). [rad]"""
    angles: Array = np.linspace(0.0, 2.0 * np.pi, directions, endpoint=False)
    return angles


def _with_wind(case: HoldingCase, angles: Array, wind: Array, speeds: Array) -> Array:
    found: Array = case.current_loads(speeds, angles) + wind
    return found


def _sideways_wind(case: HoldingCase, angles: Array, windage: Windage, speeds: Array) -> Array:
    found: Array = case.wind_loads(speeds, angles, windage) * np.array([0.0, 1.0, 1.0])
    return found


def _greatest_wind(case: HoldingCase, bodies: tuple[Attainable, ...], windage: Windage, angles: Array) -> Array:
    if case.surge_counts:
        stream = case.current_loads(case.current_speed, case.current_from)
        return _greatest_by_square(case, bodies, windage, angles, stream)
    return _first_not_held(bodies, partial(_sideways_wind, case, angles, windage), WIND_CEILING)


def _greatest_by_square(
    case: HoldingCase, bodies: tuple[Attainable, ...], windage: Windage, angles: Array, stream: Array
) -> Array:
    """Loads grow as the square of the wind felt: the limit is found outright; current load one for all or one for each.

    Each way holds a span of squares; from calm upward the spans are joined as far as they touch.
    """
    unit = case.wind_loads(1.0 - case.headwind, angles, windage)
    spans = [balance.factors_held(body, unit, stream) for body in bodies]
    reached = np.zeros(len(unit))
    calm_held = np.zeros(len(unit), dtype=bool)
    for _ in spans:  # every pass joins at least one more way, or nothing
        for least, greatest in spans:
            joins = (least <= reached + 1e-9) & (least <= greatest)
            reached = np.where(joins, np.maximum(reached, greatest), reached)
            calm_held |= joins
    blowing = np.maximum(np.sqrt(reached) - case.headwind, 0.0)
    return np.where(calm_held, np.minimum(blowing, WIND_CEILING), 0.0)


def _first_not_held(bodies: tuple[Attainable, ...], loads: Callable[[Array], Array], ceiling: float) -> Array:
    """Greatest speed, from nought upward without a gap, whose load is held; loads by any law of the speed.

    `loads` takes speeds, shape (m, 1) or (directions,), and gives loads, shape (..., directions, 3).
    """
    speeds = np.linspace(0.0, ceiling, _SCAN)
    held = _held(bodies, loads(speeds[:, None]))
    first = np.argmin(held, axis=0)
    always = np.all(held, axis=0)
    low, high = speeds[np.maximum(first - 1, 0)], speeds[first]
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        inside = _held(bodies, loads(middle))
        low, high = np.where(inside, middle, low), np.where(inside, high, middle)
    return np.where(always, ceiling, np.where(first == 0, 0.0, low))


def _held(bodies: tuple[Attainable, ...], loads: Array) -> Array:
    flat = loads.reshape(-1, 3)
    held = np.any([balance.holds(body, flat) for body in bodies], axis=0)
    found: Array = held.reshape(loads.shape[:-1])
    return found


@dataclass(frozen=True, kw_only=True, eq=False)
class Polar:
    """What she can make, without wind or current."""

    directions: Array
    """Towards, off the bow, to starboard positive. Shape (n,). [rad]"""
    force: Array
    """Greatest force that way with no turning moment. Shape (n,). [N]"""
    turn_to_starboard: float
    """Greatest moment with no force left over. [N m]"""
    turn_to_port: float
    """[N m]"""


def polar(case: HoldingCase, directions: int = DIRECTIONS) -> Polar:
    """Force and moment she can make with all her means, by direction."""
    angles = all_round(directions)
    pure = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(directions)])
    turns = np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]]) * case.lever
    found = [balance.farthest(body, np.concatenate([pure, turns])) for body in bodies_of(case)]
    reach = np.max(found, axis=0)
    return Polar(
        directions=angles,
        force=reach[:directions],
        turn_to_starboard=float(reach[directions] * case.lever),
        turn_to_port=float(reach[directions + 1] * case.lever),
    )
