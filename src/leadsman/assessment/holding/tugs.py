"""Pull and number of tugs needed, by statics and by the rules of the trade side by side; and which tug goes where."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leadsman.assessment.holding.case import Array, HoldingCase, Place, Tug
from leadsman.assessment.holding.hold import Holding, hold
from leadsman.assessment.holding.means import Kind, bodies, reachable, tug_means, ways
from leadsman.physics import balance, tug


@dataclass(frozen=True, kw_only=True)
class TugsNeeded:
    """What must be ordered. All pulls are certified bollard pulls."""

    by_statics: Mapping[Place, float] | None
    """Least pull at each place, so that the load is balanced; None where tugs at these places cannot. [N]"""
    by_rules: Mapping[str, float]
    """Total pull by each published rule. [N]"""
    two_at_least: bool
    """The side force is more than the thrusters make: the trade takes two tugs then."""

    @property
    def total_by_statics(self) -> float | None:
        """[N]"""
        return None if self.by_statics is None else sum(self.by_statics.values())

    def number(self, bollard_pull: float) -> int | None:
        """How many tugs of one pull serve what statics ask, each place having its own; None where tugs cannot. [N]"""
        if self.by_statics is None:
            return None
        # A kilonewton is no tug: below it the place needs none.
        needed = sum(int(np.ceil(pull / bollard_pull - 1e-6)) for pull in self.by_statics.values() if pull > 1000.0)
        return max(needed, 2) if self.two_at_least else needed


def tugs_needed(case: HoldingCase, places: Sequence[Tug]) -> TugsNeeded:
    """Pull needed at given places, with her own means as they are today, against the worst wind method's load.

    `places` are tugs as they would work; their bollard pull decides only which method is the worst.
    """
    alone = case.with_tugs(())
    loads = _loads(case)
    heaviest = _least(alone, places, _worst(case.with_tugs(tuple(places)), loads))
    side_force = float(np.max(np.abs(loads[:, 1])))
    thrust = sum(
        float(np.max(np.abs(means.reach[:, 1]))) for means in ways(alone)[0].means if means.kind is Kind.THRUSTER
    )
    return TugsNeeded(
        by_statics=None
        if heaviest is None
        else {each.place: float(pull) for each, pull in zip(places, heaviest, strict=True)},
        by_rules={
            "windage": float(tug.windage_rule(side_force)),
            "displacement": float(tug.displacement_rule(case.displacement)),
        },
        two_at_least=side_force > thrust,
    )


def least_extra(case: HoldingCase, candidates: Sequence[Tug]) -> Tug | None:
    """The weakest one tug that, added at one of the places of the candidates, holds her; None where none does.

    The bollard pull of the candidates is not looked at.
    """
    load = _worst(case, _loads(case))
    pulls = [_least(case, [each], load) for each in candidates]
    found = [
        replace(each, bollard_pull=float(pull[0]))
        for each, pull in zip(candidates, pulls, strict=True)
        if pull is not None
    ]
    return min(found, key=lambda one: one.bollard_pull, default=None)


def _loads(case: HoldingCase) -> Array:
    """Of wind and current together, by each wind method, what counts of it. Shape (methods, 3)."""
    stream = case.current_loads(case.current_speed, case.current_from)
    loads = [case.wind_loads(case.wind_speed, case.wind_from, each) + stream for each in case.windages]
    found: Array = np.array(loads) * np.array([1.0 if case.surge_counts else 0.0, 1.0, 1.0])
    return found


def _worst(case: HoldingCase, loads: Array) -> Array:
    """The load that is held the fewest times; the greatest from the side where none is held at all."""
    times = np.max([balance.factors_held(body, loads, np.zeros(3))[1] for body in bodies(case)], axis=0)
    worst: Array = loads[int(np.lexsort((-np.abs(loads[:, 1]), times))[0])]
    return worst


def _least(alone: HoldingCase, places: Sequence[Tug], load: np.ndarray) -> np.ndarray | None:
    """Least certified pulls at the places in the best way to use her own means."""
    flat = np.array([1.0 if alone.surge_counts else 0.0, 1.0, 1.0])
    units = [tug_means(alone, replace(each, bollard_pull=1.0)).reach * flat for each in places]
    found = [balance.least_strength(way.reaches, units, load, alone.lever) for way in ways(alone)]
    possible = [pulls for pulls in found if pulls is not None]
    return min(possible, key=lambda pulls: float(pulls.sum())) if possible else None


@dataclass(frozen=True, kw_only=True)
class Placed:
    """Which tug goes where, and what that holds."""

    tugs: tuple[Tug, ...]
    """At their places; one that adds nothing is left out."""
    holding: Holding


def place_tugs(case: HoldingCase, offered: Sequence[Tug], positions: Mapping[Place, float]) -> Placed:
    """The tugs on offer put where they leave most reserve against the wind and current of the case.

    A place takes one tug; places that no tug can reach are left out.
    """
    places = [place for place in positions if _within_reach(case, offered[0], place)] if offered else []
    if not offered or not places:
        return Placed(tugs=(), holding=hold(case.with_tugs(())))
    stream = case.current_loads(case.current_speed, case.current_from)
    flat = np.array([1.0 if case.surge_counts else 0.0, 1.0, 1.0])
    load = (case.wind_loads(case.wind_speed, case.wind_from) + stream) * flat
    moved = [[replace(each, place=place, position=positions[place]) for place in places] for each in offered]
    options = [[tug_means(case, there).reach * flat for there in row] for row in moved]
    alone = ways(case.with_tugs(()))
    found = [balance.best_places(way.reaches, options, load, case.lever) for way in alone]
    best = max(found, key=lambda placing: placing.times)
    chosen = tuple(row[place] for row, place in zip(moved, best.places, strict=True) if place is not None)
    return Placed(tugs=chosen, holding=hold(case.with_tugs(chosen)))


def _within_reach(case: HoldingCase, each: Tug, place: Place) -> bool:
    return reachable(case.quay, case.situation, replace(each, place=place))


def smallest_set(case: HoldingCase, offered: Sequence[Tug], positions: Mapping[Place, float]) -> Placed | None:
    """The fewest tugs on offer that hold her, weakest first among equal numbers; None where all together do not."""
    for count in range(len(offered) + 1):
        sets = sorted(itertools.combinations(offered, count), key=lambda some: sum(each.bollard_pull for each in some))
        for some in sets:
            placed = place_tugs(case, some, positions)
            if placed.holding.held:
                return placed
    return None
