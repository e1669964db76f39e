"""What each engine, rudder, thruster, tug and fender can make of a case, as reaches of `physics.balance`.

A screw drives ahead or astern, never both at once; so the means of a stopped ship come in ways, one for each choice,
and a load is held when it is held in one of them.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

import numpy as np

from leadsman.assessment.holding.case import Array, HoldingCase, Quay, Screw, Situation, Thruster, Tug
from leadsman.physics import static_hull, thruster, tug
from leadsman.physics.balance import Attainable, attainable

POD_SIDE_SHARE = 0.85  # of a pod's thrust when turned: hull and pod lose 5 to 15 % (manoeuvring sheet 9) [memory]
_ARC = np.radians(10.0)  # between corners of an arc: the chord lies 0.4 % inside, on the careful side


class Kind(StrEnum):
    """What sort of means."""

    SCREW = "screw"
    THRUSTER = "thruster"
    TUG = "tug"
    FENDER = "fender"
    HULL = "hull"
    ALLOWANCE = "allowance"

    @property
    def cost(self) -> float:
        """Of using all of it, when orders are chosen: what bears by itself is free, tugs are dearest."""
        return {"thruster": 1.0, "screw": 2.0, "tug": 3.0}.get(self.value, 0.0)


@dataclass(frozen=True, kw_only=True, eq=False)
class Means:
    """One thing she can use."""

    name: str
    kind: Kind
    reach: Array
    """Outermost surge, sway, yaw. Shape (m, 3). [N, N, N m]"""
    where: tuple[float, float] = (0.0, 0.0)
    """Where its force meets the ship: forward of midships, to starboard of the centreline. [m]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class Way:
    """One choice of ahead and astern, with all means in it."""

    engines: str
    """Such as `port ahead, starboard astern`; empty where there is no choice."""
    means: tuple[Means, ...]

    @property
    def reaches(self) -> list[Array]:
        """As `physics.balance` takes them."""
        return [means.reach for means in self.means]


@lru_cache(maxsize=64)
def bodies(case: HoldingCase) -> tuple[Attainable, ...]:
    """What each way of `ways` can balance, as half-spaces."""
    return tuple(attainable(way.reaches, case.lever) for way in ways(case))


@lru_cache(maxsize=64)
def ways(case: HoldingCase) -> tuple[Way, ...]:
    """All ways to use her means."""
    others = [
        *(_thruster(case, each) for each in case.thrusters),
        *(tug_means(case, each) for each in case.tugs),
        *_bearing(case),
    ]
    choices = [_screw(case, screw) for screw in case.screws]
    found = []
    for chosen in itertools.product(*choices):
        engines = ", ".join(label for label, _ in chosen if label)
        means = [*(made for _, made in chosen), *others]
        if not case.surge_counts:
            means = [_without_surge(each) for each in means]
        found.append(Way(engines=engines, means=tuple(means)))
    return tuple(found)


def _without_surge(means: Means) -> Means:
    return replace(means, reach=means.reach * np.array([0.0, 1.0, 1.0]))


def at(
    position: float, lateral_position: float, surge: Sequence[float] | Array, sway: Sequence[float] | Array
) -> Array:
    """Forces at a place of the ship as surge, sway, yaw about midships. Shape (m, 3). [N, N, N m]"""
    surge, sway = np.asarray(surge, dtype=float), np.asarray(sway, dtype=float)
    return np.column_stack([surge, sway, position * sway - lateral_position * surge])


def _screw(case: HoldingCase, screw: Screw) -> list[tuple[str, Means]]:
    """The screw's choices, each with its label."""
    if case.situation is Situation.UNDER_WAY:
        return [("", _steering(screw))]
    if screw.pod:
        angles = np.arange(0.0, 2.0 * np.pi - 0.5 * _ARC, _ARC)
        force = POD_SIDE_SHARE * screw.ahead
        turned = at(screw.position, screw.lateral_position, force * np.cos(angles), force * np.sin(angles))
        straight = at(screw.position, screw.lateral_position, [screw.ahead], [0.0])
        return [("", _of_screw(screw, np.concatenate([turned, straight])))]
    ahead, astern = _kick(screw), _astern(screw)
    if case.planning.kicks_in_turn:
        return [(f"{screw.name} kicks", _of_screw(screw, np.concatenate([ahead, astern])))]
    return [
        (f"{screw.name} {label}", _of_screw(screw, reach)) for label, reach in (("ahead", ahead), ("astern", astern))
    ]


def _of_screw(screw: Screw, reach: Array) -> Means:
    return Means(name=screw.name, kind=Kind.SCREW, reach=reach, where=(screw.position, screw.lateral_position))


def _kick(screw: Screw) -> Array:
    """Thrust ahead with the rudder amidships, and hard over to either side."""
    straight = at(screw.position, screw.lateral_position, [screw.ahead], [0.0])
    if screw.rudder_position is None or screw.rudder_side == 0.0:
        return straight
    left = screw.rudder_ahead * screw.ahead
    side = at(screw.rudder_position, 0.0, [0.0, 0.0], screw.rudder_side * screw.ahead * np.array([1.0, -1.0]))
    return np.concatenate([straight, side + at(screw.position, screw.lateral_position, [left], [0.0])])


def _astern(screw: Screw) -> Array:
    return at(screw.position, screw.lateral_position, [-screw.astern], [screw.throw * screw.astern])


def _steering(screw: Screw) -> Means:
    """What rudder or pod makes under way at the order she runs with."""
    if screw.pod:
        position, side = screw.position, POD_SIDE_SHARE * screw.steady_ahead
    else:
        position = screw.position if screw.rudder_position is None else screw.rudder_position
        side = screw.rudder_side * screw.steady_ahead + screw.rudder_free
    return _of_screw(screw, at(position, 0.0, [0.0, 0.0], [side, -side]))


def _thruster(case: HoldingCase, each: Thruster) -> Means:
    thrust = each.thrust * each.available * each.immersion * case.planning.untested_thruster
    thrust *= float(thruster.bed_factor(case.underkeel_clearance, case.hull.draught))
    force = np.array([thrust, -thrust])
    if case.quay is not None and case.quay.closed:
        away = np.sign(force) == -case.quay.side
        force = force * thruster.quay_factor(case.quay.distance, case.beam, away)
    left, turning = (
        float(factor(case.speed, each.position)) for factor in (thruster.force_factor, thruster.moment_factor)
    )
    reach = np.column_stack([np.zeros(2), left * force, turning * each.position * force])
    return Means(name=each.name, kind=Kind.THRUSTER, reach=reach, where=(each.position, 0.0))


def tug_means(case: HoldingCase, each: Tug) -> Means:
    """What a tug makes at her place: on a line anywhere in her sector, at the side push or pull straight athwart."""
    if not reachable(case.quay, case.situation, each):
        return Means(name=each.name, kind=Kind.TUG, reach=np.zeros((1, 3)))
    where = (each.position, 0.5 * each.place.side * case.beam)
    figures = tug.tug_type(each.kind)
    usable = case.planning.usable_pull * each.bollard_pull
    wash = float(tug.wash_share(each.line_length, case.underkeel_clearance, case.hull.draught))
    on_line = usable * wash * float(tug.speed_share(each.kind, "on a line", case.speed)) * np.cos(each.line_lead)
    side = each.place.side
    if side:
        push = usable * float(tug.speed_share(each.kind, "pushing", case.speed))
        sway = side * np.array([-push, figures.astern * on_line])
        return Means(name=each.name, kind=Kind.TUG, reach=at(each.position, 0.0, [0.0, 0.0], sway), where=where)
    # Only a conventional tug pulls on her hook with her ahead thrust; the others work over the bow, astern.
    pull = on_line if figures.family == "conventional" else figures.astern * on_line
    middle = 0.0 if each.position > 0.0 else np.pi
    corners = max(3, int(np.ceil(2.0 * each.sector / _ARC)) + 1)
    angles = middle + np.linspace(-each.sector, each.sector, corners)
    reach = at(each.position, 0.0, pull * np.cos(angles), pull * np.sin(angles))
    return Means(name=each.name, kind=Kind.TUG, reach=reach, where=where)


def reachable(quay: Quay | None, situation: Situation, each: Tug) -> bool:
    """Whether there is water for the tug: none between ship and quay."""
    close = situation in (Situation.ALONGSIDE, Situation.OFF_THE_BERTH)
    return not (close and quay is not None and each.place.side == quay.side)


def _bearing(case: HoldingCase) -> list[Means]:
    """What bears by itself: fenders alongside, the hull's lift under way, and the surge that is let be."""
    found = []
    if case.situation is Situation.ALONGSIDE and case.quay is not None:
        for name, place in (("aft", case.quay.fenders_from), ("forward", case.quay.fenders_to)):
            reach = at(place, 0.0, [0.0], [-case.quay.side * case.quay.fender_force])
            where = (place, 0.5 * case.quay.side * case.beam)
            found.append(Means(name=f"fenders {name}", kind=Kind.FENDER, reach=reach, where=where))
    if case.situation is Situation.UNDER_WAY:
        hull, angles = case.hull, np.array([1.0, -1.0]) * case.planning.drift_angle
        loads = static_hull.drift_loads(
            case.speed, angles, hull.length_waterline, hull.beam, hull.draught, hull.block_coefficient, hull.density
        )
        found.append(Means(name="hull", kind=Kind.HULL, reach=np.stack(loads, axis=1)))
    elif case.planning.surge_allowance > 0.0:
        surge = case.planning.surge_allowance * np.array([1.0, -1.0])
        found.append(Means(name="surge", kind=Kind.ALLOWANCE, reach=at(0.0, 0.0, surge, [0.0, 0.0])))
    return found
