"""The answer for one passage: every place asked, tugs put where they serve best, what falls short and what would help.

How the figures of planning are chosen: `planning`. Tugs are placed for the wind of the forecast in still water, so that
their places do not wander with the minute of the start; whether she is held is then asked with the stream as it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from leadsman.assessment.holding.case import (
    PLANNING,
    HoldingCase,
    Place,
    Planning,
    Situation,
    Tug,
    tug_positions,
)
from leadsman.assessment.holding.from_ship import holding_case
from leadsman.assessment.holding.hold import Holding, hold, kept_in_hand, reserve
from leadsman.assessment.holding.means import reachable, tug_means
from leadsman.assessment.holding.ordered_tugs import tug_at, tugs_at_work, usual_places
from leadsman.assessment.holding.particulars import Particulars
from leadsman.assessment.holding.places import KICKED, Asked, Weather, parallel_body
from leadsman.assessment.holding.result import Balance, Extra, HeldAt, Load, Order, Rose, TugAtWork, TugsNeeded
from leadsman.assessment.holding.rose import WIND_CEILING, swing, turned, wind_limit, wind_rose
from leadsman.assessment.holding.tugs import least_extra, place_tugs, tugs_needed
from leadsman.figure import Finding
from leadsman.physics import wind_profile
from leadsman.portcall import Margins
from leadsman.ship import Loading, Ship
from leadsman.units import TONNE_FORCE, wrapped

USUAL_PULL = 50.0 * TONNE_FORCE  # N: what tugs are counted in where none is ordered, setting
USUAL_KIND = "azimuth stern drive"  # likewise, the kind most harbours have; told wherever it is used
STRONGEST = 120.0 * TONNE_FORCE  # N: a tug stronger than this is no remedy, for hardly a harbour has one, setting


@dataclass(frozen=True, kw_only=True, eq=False)
class Plan:
    """All that makes the case of one place: what the start decides, and the ship as she is today."""

    asked: Asked
    order: str
    case: HoldingCase
    """With the tugs of the place where they serve best."""
    offered: tuple[Tug, ...]
    """The same tugs in the order they were ordered in, at their places."""
    positions: Mapping[Place, float]
    """Of every place, forward of midships. [m]"""
    findings: tuple[Finding, ...]

    @property
    def tug_sets(self) -> dict[str, tuple[Tug, ...]]:
        """None, one, two ... of the tugs in the order they were ordered in: the sets a rose is drawn for."""
        names = {0: "no tug", 1: "1 tug"}
        return {names.get(n, f"{n} tugs"): self.offered[:n] for n in range(len(self.offered) + 1)}


def planning(ship: Ship, margins: Margins, asked: Asked) -> Planning:
    """The figures of planning for a ship, a port and a place.

    Kicks ahead and astern in turn count as their mean for engines that are reversed in seconds, and for no other. A
    stopped ship is held against the gust she feels. Under way she takes up her drift over minutes: the mean wind counts
    there, with 1.25 on it (forces sheet 4.2) [common practice].
    """
    kept = {
        name: value
        for name, value in (
            ("screw_in_hand", margins.rudder_in_hand),
            ("thruster_in_hand", margins.thruster_in_hand),
            ("tug_in_hand", margins.tug_in_hand),
        )
        if value is not None
    }
    found = replace(PLANNING, kicks_in_turn=ship.engine.kind in KICKED, **kept)
    if asked.surroundings.situation is not Situation.UNDER_WAY:
        return found
    return replace(
        found, gust_seconds=wind_profile.FORECAST_MEAN, demand=MEAN_WIND_DEMAND, drift_angle=asked.drift_angle
    )


MEAN_WIND_DEMAND = 1.25  # on the loads where the mean wind counts (forces sheet 4.2) [common practice]


def plan(
    ship: Ship, loading: Loading, margins: Margins, particulars: Particulars, asked: Asked, weather: Weather
) -> Plan:
    """The case of one place, tugs placed, with the least engine order that holds; a basin on its hardest heading."""
    first = None
    for order in asked.orders:
        found = _with_order(ship, loading, margins, particulars, asked, weather, order)
        if reserve(found.case) >= 0.0:
            return found
        first = first or found
    assert first is not None, "a place is asked with one order at least"
    return first


def _with_order(
    ship: Ship,
    loading: Loading,
    margins: Margins,
    particulars: Particulars,
    asked: Asked,
    weather: Weather,
    order: str,
) -> Plan:
    around = asked.surroundings
    case, findings = holding_case(
        ship, loading, particulars, around, order, planning(ship, margins, asked), forecast_gust=weather.gust
    )
    straight = parallel_body(ship, loading.condition)
    tugs, told = tugs_at_work(asked.tugs, tuple(Place), ship.length_overall, straight)
    positions = tug_positions(ship.length_overall, (-0.5 * straight, 0.5 * straight))
    if around.situation is Situation.OFF_THE_BERTH:
        offered = _placed(_still(case), tugs, tuple(positions.items()))
    else:
        offered = _at_usual_places(case, tugs, positions)
    case = case.with_tugs(offered)
    if around.situation is Situation.SWINGING:
        turn = swing(case).hardest
        case = turned(case, turn)
        asked = replace(asked, surroundings=replace(around, heading=wrapped(around.heading + turn)))
    return Plan(asked=asked, order=order, case=case, offered=offered, positions=positions, findings=(*findings, *told))


def _at_usual_places(case: HoldingCase, tugs: Sequence[Tug], positions: Mapping[Place, float]) -> tuple[Tug, ...]:
    """Tugs that serve on many headings, or under way: the ends first, then the side."""
    places = dict.fromkeys((*usual_places(case), *Place))
    return tuple(replace(tug, place=place, position=positions[place]) for tug, place in zip(tugs, places, strict=False))


def _still(case: HoldingCase) -> HoldingCase:
    """The same question as far as it does not depend on the time: no stream, and depth that costs the tugs most."""
    return replace(case, current_speed=0.0, current_from=0.0, water_depth=SHALLOW * case.hull.draught)


SHALLOW = 1.1  # of her draught: little water, in which wash and thrust lose as much as the tables know


@lru_cache(maxsize=64)
def _placed(case: HoldingCase, tugs: tuple[Tug, ...], positions: tuple[tuple[Place, float], ...]) -> tuple[Tug, ...]:
    """The tugs where they leave most reserve; one that adds nothing there stands by at the next usual place."""
    known = dict(positions)
    by_name = {tug.name: tug for tug in place_tugs(case, tugs, known).tugs}
    taken = {tug.place for tug in by_name.values()}
    free = [place for place in (*usual_places(case), *Place) if place not in taken]
    free = [place for place in dict.fromkeys(free) if not tugs or _within_reach(case, tugs[0], place)]
    found = []
    for tug in tugs:
        if tug.name in by_name:
            found.append(by_name[tug.name])
        elif free:
            place = free.pop(0)
            found.append(replace(tug, place=place, position=known[place]))
    return tuple(found)


def _within_reach(case: HoldingCase, tug: Tug, place: Place) -> bool:
    return reachable(case.quay, case.situation, replace(tug, place=place))


def held_at(found: Plan) -> HeldAt:
    """Whether she is held there, by whom, what would be needed, and the wind that would do."""
    case, asked = found.case, found.asked
    holding = hold(case)
    stopped = case.situation is not Situation.UNDER_WAY
    limit = wind_limit(case)
    if case.situation is Situation.SWINGING:
        limit = float(np.min(swing(case).limits))
    return HeldAt(
        key=asked.key,
        place=asked.place,
        situation=case.situation.value,
        distance=asked.distance,
        time=asked.time,
        heading=asked.surroundings.heading,
        speed=case.speed,
        engine_order=found.order,
        kicks=not stopped and found.order != asked.orders[0],
        wind_speed=case.wind_speed,
        wind_from=asked.surroundings.wind_from,
        gust=case.gust,
        stream_rate=case.current_speed,
        stream_towards=asked.surroundings.stream_towards,
        water_depth=case.water_depth,
        quay_side=0 if case.quay is None else case.quay.side,
        balance=_balance(case, holding),
        tugs=tuple(_at_work(case, tug) for tug in case.tugs),
        alone=reserve(case.with_tugs(())) if case.tugs else None,
        needed=_needed(found) if stopped else None,
        wind_limit=limit,
        wind_over=limit >= WIND_CEILING,
        extra=None if holding.held or not stopped else _extra(found),
        method_limits=tuple(str(breach) for breach in case.breaches),
    )


def _balance(case: HoldingCase, found: Holding) -> Balance:
    kept = [order.used <= 1.0 - kept_in_hand(case, order.kind) + 1e-6 for order in found.orders]
    return Balance(
        held=found.held,
        reserve=found.reserve,
        by_method=dict(found.by_method),
        in_hand=found.held and all(kept),
        engines=found.engines,
        wind=_load(found.wind),
        stream=_load(found.current),
        orders=tuple(
            Order(
                name=order.name,
                kind=order.kind.value,
                force=Load(surge=order.surge, sway=order.sway, yaw=order.yaw),
                forward=order.where[0],
                to_starboard=order.where[1],
                used=order.used,
            )
            for order in found.orders
        ),
        left_over=_load(found.unbalanced),
        drift_speed=found.drift_speed,
    )


def _load(values: np.ndarray) -> Load:
    surge, sway, yaw = (float(value) for value in values)
    return Load(surge=surge, sway=sway, yaw=yaw)


def _at_work(case: HoldingCase, tug: Tug) -> TugAtWork:
    reach = tug_means(case, tug).reach
    return TugAtWork(
        name=tug.name,
        kind=tug.kind,
        bollard_pull=tug.bollard_pull,
        place=tug.place.value,
        forward=tug.position,
        usable=float(np.max(np.hypot(reach[:, 0], reach[:, 1]))),
    )


def _needed(found: Plan) -> TugsNeeded:
    """At the two ends if that does, else at all four usual places."""
    case, (kind, each) = found.case, _counted_in(found.case.tugs)
    usual = usual_places(case)
    tugs = [tug_at(place.value, kind, each, place, found.positions[place]) for place in usual]
    needed = tugs_needed(case, tugs[:2])
    if needed.by_statics is None:
        needed = tugs_needed(case, tugs)
    statics = needed.by_statics
    return TugsNeeded(
        by_statics=None if statics is None else {place.value: pull for place, pull in statics.items()},
        by_rules=dict(needed.by_rules),
        two_at_least=needed.two_at_least,
        number=needed.number(each),
        each=each,
    )


def _counted_in(tugs: Sequence[Tug]) -> tuple[str, float]:
    """Kind and pull that more tugs are thought of as: like the strongest ordered, or the usual one."""
    if not tugs:
        return USUAL_KIND, USUAL_PULL
    strongest = max(tugs, key=lambda tug: tug.bollard_pull)
    return strongest.kind, strongest.bollard_pull


def _extra(found: Plan) -> Extra | None:
    """The weakest one more tug that holds her."""
    case, (kind, _) = found.case, _counted_in(found.case.tugs)
    taken = {tug.place for tug in case.tugs}
    free = [tug_at("more", kind, 1.0, place, at) for place, at in found.positions.items() if place not in taken]
    best = least_extra(case, [tug for tug in free if _within_reach(case, tug, tug.place)])
    if best is not None and case.situation is Situation.SWINGING:
        best = _on_every_heading(case, best)
    if best is None or best.bollard_pull > STRONGEST:
        return None
    return Extra(bollard_pull=best.bollard_pull, kind=kind, place=best.place.value)


def _on_every_heading(case: HoldingCase, extra: Tug) -> Tug | None:
    """The extra tug as strong as every heading of the swing asks, to a tonne; None where none of any strength does."""

    def serves(pull: float) -> bool:
        return bool(np.all(swing(case.with_tugs((*case.tugs, replace(extra, bollard_pull=pull)))).reserve >= 0.0))

    low, high = extra.bollard_pull, STRONGEST
    if low > high or not serves(high):
        return None
    if serves(low):
        return extra
    while high - low > TONNE_FORCE:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if serves(middle) else (middle, high)
    return replace(extra, bollard_pull=high)


def roses(found: Plan) -> Rose:
    """Greatest wind by direction for each set of the tugs of the place, with the stream as it is."""
    rose = wind_rose(found.case, found.tug_sets)
    return Rose(
        off_bow=tuple(float(angle) for angle in rose.directions),
        limits={name: tuple(float(speed) for speed in speeds) for name, speeds in rose.limits.items()},
        ceiling=rose.ceiling,
    )
