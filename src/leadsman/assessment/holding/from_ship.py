"""From the things of a port call to a case of holding: thin, and every assumption told as a finding."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from leadsman.assessment.holding.case import (
    PLANNING,
    HoldingCase,
    HullInStream,
    Place,
    Planning,
    Quay,
    Screw,
    Situation,
    Thruster,
    Tug,
    Windage,
    tug_positions,
)
from leadsman.assessment.holding.windage import Profile, windages
from leadsman.figure import Finding, Grade
from leadsman.physics import static_rudder, thruster, tug, wind_profile
from leadsman.portcall import Tug as OrderedTug
from leadsman.ship import Loading, Propeller, Rudder, Ship, ShipType, State
from leadsman.units import AIR_DENSITY, signed

AVAILABLE = {State.READY: 1.0, State.REDUCED: 0.5, State.DEFECTIVE: 0.0}
"""What may be used of a piece of equipment; half of one that is reduced, for the card does not say by how much. [-]"""
BOW_THRUSTER_AT = 0.41  # of the length overall forward of midships, 0.40 to 0.42 (manoeuvring sheet 9) [memory]
STERN_THRUSTER_AT = -0.40  # likewise
SCREW_AT = -0.47  # of the length between perpendiculars: usual place of a propeller [common practice]
RUDDER_AT = -0.50  # of the length between perpendiculars: aft perpendicular
PARALLEL_BODY = 0.35  # of the length overall, half before and half abaft midships: careful for fine ships [setting]
TWIN_THROW_SHARE = 0.5  # of the transverse thrust of a single screw (manoeuvring sheet 4.6) [seen: compilation]
LEAST_ASTERN_POWER = 0.4  # of ahead: a steam turbine's, the least that is usual (manoeuvring sheet 4.8) [memory]
FREE_RUDDER_ANGLE = math.radians(25.0)  # outside the race it stalls from 25 to 28 degrees (manoeuvring sheet 3.6)
WAKE_LEFT = 0.65  # of her speed that reaches the rudder behind a full stern (manoeuvring sheet 3.4) [memory]
LINE_LENGTH = 45.0  # m from hull to tug: where her wash costs least (forces sheet 4.3), setting
LINE_LEAD = math.radians(15.0)  # of a tug's line below the horizontal, setting
LINE_SECTOR = math.radians(90.0)  # to either side that a tug on a centre lead may work in, setting
FULL_AHEAD = "full_ahead"
UNKNOWN_TUG = "conventional, open screw"  # the least of all types: nothing is credited that nobody has promised

_WIND_TYPE = {
    ShipType.COASTER: "general cargo",
    ShipType.GENERAL_CARGO: "general cargo",
    ShipType.BULK_CARRIER: "bulk carrier",
    ShipType.CONTAINER: "container ship",
    ShipType.GAS_CARRIER: "gas carrier",
    ShipType.RO_RO: "ferry",
    ShipType.CAR_CARRIER: "car carrier",
    ShipType.FERRY: "ferry",
    ShipType.CRUISE: "passenger ship",
    ShipType.TUG: "tug or tender",
    ShipType.OTHER: "car carrier",  # the greatest lateral coefficient there is, told in a finding
}


@dataclass(frozen=True, kw_only=True)
class Particulars:
    """Figures the card may leave out, given or estimated elsewhere with their provenance."""

    length_between_perpendiculars: float
    draught: float
    """Mean. [m]"""
    displacement: float
    block_coefficient: float
    midship_coefficient: float
    engine_power: float | None
    """At full revolutions, all screws together; None: not on the card, no thrust is reckoned with. [W]"""
    lateral_area: float
    transverse_area: float
    windage_centroid: float
    """Forward of midships. [m]"""
    windage_height: float
    """Top of house or stacks above water. [m]"""
    bollard_thrust: float | None = None
    """At rest at full ahead of the card, all screws together; None: by the planning figure for the power. [N]"""
    astern_thrust_share: float | None = None
    """Of the thrust ahead, at equal power or revolutions; None: from the power astern. [-]"""
    windage_centroid_deviation: float = 0.0
    """How far the centroid may lie off, either way. [m]"""
    windage_centroid_height: float | None = None
    bridge_height: float | None = None
    deck_house_area: float | None = None


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """Where and in what weather; directions true, as the forecast has them."""

    situation: Situation
    heading: float
    wind_speed: float
    """Ten-minute mean. [m/s]"""
    wind_from: float
    stream_rate: float
    stream_towards: float
    water_depth: float
    """Bed to surface at the time. [m]"""
    water_density: float
    quay: Quay | None = None
    speed: float = 0.0
    """Through the water; nil unless under way. [m/s]"""


def holding_case(
    ship: Ship,
    loading: Loading,
    particulars: Particulars,
    surroundings: Surroundings,
    order: str,
    planning: Planning = PLANNING,
    forecast_gust: float | None = None,
) -> tuple[HoldingCase, tuple[Finding, ...]]:
    """The ship as she is today in these surroundings, without tugs, and what had to be assumed.

    `order` is the engine order of the card that kicks are given with, or that she runs under way with.
    """
    findings: list[Finding] = []
    say = findings.append
    found = HoldingCase(
        situation=surroundings.situation,
        length_overall=ship.length_overall,
        beam=ship.beam,
        displacement=particulars.displacement,
        windages=_windages(_profile(ship, loading, particulars, say), particulars.windage_centroid_deviation),
        hull=_hull(ship, particulars, surroundings.water_density),
        screws=_screws(ship, particulars, order, surroundings.speed, surroundings.water_density, say),
        thrusters=_thrusters(ship, surroundings.speed, say),
        tugs=(),
        water_depth=surroundings.water_depth,
        wind_speed=surroundings.wind_speed,
        wind_from=signed(surroundings.wind_from - surroundings.heading),
        current_speed=surroundings.stream_rate,
        current_from=signed(surroundings.stream_towards + math.pi - surroundings.heading),
        speed=surroundings.speed,
        quay=surroundings.quay,
        planning=planning,
        forecast_gust=forecast_gust,
    )
    findings.extend(
        Finding(grade=Grade.CAUTION, subject="method_limits", sentence=f"Holding: {breach}; the answer is indicative.")
        for breach in found.breaches
    )
    return found, tuple(findings)


Say = Callable[[Finding], None]


def _tell(say: Say, grade: Grade, sentence: str) -> None:
    say(Finding(grade=grade, subject="holding", sentence=sentence))


def _profile(ship: Ship, loading: Loading, particulars: Particulars, say: Say) -> Profile:
    if ship.kind is ShipType.TANKER:
        ship_type = "tanker, loaded" if loading.condition == "loaded" else "tanker, in ballast"
    else:
        ship_type = _WIND_TYPE[ship.kind]
    if ship.kind is ShipType.OTHER:
        _tell(say, Grade.CAUTION, "Her kind is not known; wind loads are those of a car carrier, the greatest abeam.")
    return Profile(
        ship_type=ship_type,
        length_overall=ship.length_overall,
        beam=ship.beam,
        lateral_area=particulars.lateral_area,
        transverse_area=particulars.transverse_area,
        centroid_forward=particulars.windage_centroid,
        height=particulars.windage_height,
        centroid_height=particulars.windage_centroid_height,
        bridge_height=particulars.bridge_height,
        deck_house_area=particulars.deck_house_area,
    )


@lru_cache(maxsize=32)
def _windages(profile: Profile, deviation: float) -> tuple[Windage, ...]:
    """By every method that suits her; with the lateral area further forward and further aft where that is not sure."""
    if deviation == 0.0:
        return windages(profile, wind_profile.OPEN_SEA_EXPONENT, AIR_DENSITY)
    return tuple(
        replace(each, method=f"{each.method}, area further {where}")
        for where, shift in (("forward", deviation), ("aft", -deviation))
        for each in windages(
            replace(profile, centroid_forward=profile.centroid_forward + shift),
            wind_profile.OPEN_SEA_EXPONENT,
            AIR_DENSITY,
        )
    )


def _hull(ship: Ship, particulars: Particulars, water_density: float) -> HullInStream:
    full = ship.kind in (ShipType.TANKER, ShipType.BULK_CARRIER, ShipType.GAS_CARRIER)
    return HullInStream(
        length_waterline=particulars.length_between_perpendiculars,
        beam=ship.beam,
        draught=particulars.draught,
        block_coefficient=particulars.block_coefficient,
        midship_coefficient=particulars.midship_coefficient,
        propeller="tanker" if full else "cargo",
        propellers=max(1, len(ship.propellers)),
        form="merchant",
        density=water_density,
    )


def _screws(
    ship: Ship, particulars: Particulars, order: str, speed: float, water_density: float, say: Say
) -> tuple[Screw, ...]:
    propellers = ship.propellers or (Propeller(),)
    if not ship.propellers:
        _tell(say, Grade.NOTE, "The card names no propeller; one of unknown hand is assumed.")
    thrust = _thrust(ship, particulars, order, say) / len(propellers)
    engine = AVAILABLE[ship.engine.state]
    if engine < 1.0:
        _tell(say, Grade.CAUTION, f"Engine {ship.engine.state}: {100.0 * engine:.0f} % of its thrust is reckoned with.")
    astern = particulars.astern_thrust_share
    if astern is None:
        astern = static_rudder.astern_share(ship.engine.astern_power_share or LEAST_ASTERN_POWER)
    if particulars.astern_thrust_share is None and ship.engine.astern_power_share is None:
        percent = 100.0 * LEAST_ASTERN_POWER
        _tell(say, Grade.NOTE, f"Astern power is not on the card; {percent:.0f} % of ahead is assumed.")
    rudders = _rudders_in_races(ship, propellers, say)
    length = particulars.length_between_perpendiculars
    found = []
    for propeller, rudder in zip(propellers, rudders, strict=True):
        ahead = thrust * engine * AVAILABLE[propeller.state]
        screw = Screw(
            name=_screw_name(propeller, len(propellers)),
            position=SCREW_AT * length,
            lateral_position=propeller.lateral_position,
            ahead=ahead,
            astern=astern * ahead,
            throw=_throw(propeller, len(propellers), say),
            pod=propeller.podded,
            steady_ahead=ahead,
        )
        if rudder is not None:
            figures = static_rudder.rudder_type(rudder.kind)
            steering = min(AVAILABLE[rudder.state], AVAILABLE[ship.steering.state])
            screw = replace(
                screw,
                rudder_position=RUDDER_AT * length,
                rudder_side=steering * figures.side_share,
                rudder_ahead=figures.ahead_share,
                rudder_free=steering * _free_rudder(rudder, speed, water_density, say),
            )
        found.append(screw)
    return tuple(found)


def _thrust(ship: Ship, particulars: Particulars, order: str, say: Say) -> float:
    """Of all screws at rest at an order: as the square of revolutions or pitch from what is known of full ahead. [N]"""
    share = _order_share(ship, order, say)
    if particulars.bollard_thrust is not None and ship.engine.order(FULL_AHEAD) is not None:
        full = _order_share(ship, FULL_AHEAD, say)
        return particulars.bollard_thrust * (min(share / full, 1.0) ** 2 if full > 0.0 else 0.0)
    if particulars.engine_power is None:
        _tell(say, Grade.CAUTION, "The power of her engine is not on the card; no thrust is reckoned with.")
        return 0.0
    return float(static_rudder.bollard_thrust(particulars.engine_power, share, static_rudder.PLANNING_THRUST))


def _free_rudder(rudder: Rudder, speed: float, water_density: float, say: Say) -> float:
    """Force of the rudder by her way alone; nil where its size is not known. [N]"""
    if speed <= 0.0:
        return 0.0
    if rudder.area is None or rudder.height is None:
        _tell(say, Grade.NOTE, "Rudder area or height is not on the card; under way only its race is reckoned with.")
        return 0.0
    aspect = rudder.height**2 / rudder.area
    angle = min(FREE_RUDDER_ANGLE, rudder.maximum_angle or FREE_RUDDER_ANGLE)
    return float(-static_rudder.free_stream_rudder(WAKE_LEFT * speed, rudder.area, aspect, angle, water_density))


def _order_share(ship: Ship, order: str, say: Say) -> float:
    """Revolutions, or pitch, of an order over those of full sea speed or the most the table has. [-]"""
    line = ship.engine.order(order)
    rows = ship.engine.orders
    for name, greatest in (("pitch", 1.0), ("revolutions", ship.engine.maximum_revolutions)):
        values = [getattr(row, name) for row in rows if getattr(row, name) is not None]
        full = max([*values, greatest or 0.0], default=0.0)
        value = getattr(line, name, None)
        if value is not None and full > 0.0 and (name == "revolutions" or _by_pitch(ship)):
            return float(min(1.0, value / full))
    _tell(say, Grade.CAUTION, f"The engine order table has no {order.replace('_', ' ')}; no thrust is reckoned with.")
    return 0.0


def _by_pitch(ship: Ship) -> bool:
    return any(propeller.controllable_pitch for propeller in ship.propellers)


def _screw_name(propeller: Propeller, count: int) -> str:
    kind = "pod" if propeller.podded else "engine"
    if count == 1 or propeller.lateral_position == 0.0:
        return kind
    return f"{'starboard' if propeller.lateral_position > 0.0 else 'port'} {kind}"


def _throw(propeller: Propeller, count: int, say: Say) -> float:
    """Transverse thrust over thrust astern. [-]"""
    if propeller.podded:
        return 0.0
    if propeller.right_handed is None:
        _tell(say, Grade.NOTE, "The hand of a propeller is not on the card; its throw astern is left out.")
        return 0.0
    hand = 1.0 if propeller.right_handed else -1.0
    # With controllable pitch the screw keeps its turning when driving astern, so it throws the other way.
    hand = -hand if propeller.controllable_pitch else hand
    share = static_rudder.PLANNING_TRANSVERSE * (1.0 if count == 1 else TWIN_THROW_SHARE)
    return float(static_rudder.transverse_thrust(1.0, share, hand))


def _rudders_in_races(ship: Ship, propellers: Sequence[Propeller], say: Say) -> list[Rudder | None]:
    """The rudder in each propeller's race: one behind each, or none where their numbers differ."""
    if len(ship.rudders) == len(propellers):
        ordered = sorted(ship.rudders, key=lambda rudder: rudder.lateral_position)
        places = sorted(range(len(propellers)), key=lambda i: propellers[i].lateral_position)
        found: list[Rudder | None] = [None] * len(propellers)
        for place, rudder in zip(places, ordered, strict=True):
            found[place] = rudder
        return found
    if not ship.rudders and not any(propeller.podded for propeller in propellers):
        _tell(say, Grade.CAUTION, "The card names no rudder; none is reckoned with.")
    elif ship.rudders:
        _tell(say, Grade.NOTE, "There is not a rudder behind each propeller; no race is reckoned to strike a rudder.")
    return [None] * len(propellers)


def _thrusters(ship: Ship, speed: float, say: Say) -> tuple[Thruster, ...]:
    found = []
    for number, each in enumerate(ship.thrusters, start=1):
        bow = each.position == "bow"
        same = [other for other in ship.thrusters if other.position == each.position]
        name = f"{each.position} thruster" + (f" {number}" if len(same) > 1 else "")
        usual = (BOW_THRUSTER_AT if bow else STERN_THRUSTER_AT) * ship.length_overall
        given = each.distance_from_midships
        available = AVAILABLE[each.state]
        if each.state is not State.READY:
            _tell(say, Grade.CAUTION, f"{name.capitalize()} {each.state}: {100.0 * available:.0f} % is reckoned with.")
        if each.not_effective_above is not None and abs(speed) > each.not_effective_above:
            _tell(say, Grade.NOTE, f"{name.capitalize()} is not effective at this speed by the card: none is reckoned.")
            available = 0.0
        found.append(
            Thruster(
                name=name,
                position=usual if given is None else math.copysign(given, usual),
                thrust=float(thruster.by_power(each.power)),
                available=available,
                immersion=1.0,
            )
        )
    if found:
        _tell(say, Grade.NOTE, "The depth of the thruster tunnels is not on the card; they are taken as well immersed.")
    return tuple(found)


def tugs_at_work(
    ordered: Sequence[OrderedTug], places: Sequence[Place], length_overall: float, parallel_body: float | None
) -> tuple[tuple[Tug, ...], tuple[Finding, ...]]:
    """The tugs as ordered, each at a place, and what had to be assumed about them."""
    half = 0.5 * (PARALLEL_BODY * length_overall if parallel_body is None else parallel_body)
    positions = tug_positions(length_overall, (-half, half))
    tugs, findings = [], []
    for each, place in zip(ordered, places, strict=False):
        kind = each.kind
        if kind not in tug.types():
            why = f"not known ({kind})" if kind else "not given"
            kind = UNKNOWN_TUG
            findings.append(
                Finding(
                    grade=Grade.CAUTION,
                    subject="tugs",
                    sentence=f"The type of tug {each.name} is {why}; a conventional tug with an open screw is "
                    "assumed, the least of all.",
                )
            )
        tugs.append(tug_at(each.name, kind, each.bollard_pull, place, positions[place]))
    return tuple(tugs), tuple(findings)


def tug_at(name: str, kind: str, bollard_pull: float, place: Place, position: float) -> Tug:
    """A tug at a place, her line as lines usually are."""
    return Tug(
        name=name,
        kind=kind,
        bollard_pull=bollard_pull,
        place=place,
        position=position,
        line_length=LINE_LENGTH,
        line_lead=LINE_LEAD,
        sector=LINE_SECTOR,
    )


def usual_places(case: HoldingCase) -> tuple[Place, ...]:
    """Where tugs are usually made fast, in order: the end without a thruster first, then the other, then the off side.

    Source: common practice, no source.
    """
    forward = sum(each.thrust * each.available for each in case.thrusters if each.position > 0.0)
    aft = sum(each.thrust * each.available for each in case.thrusters if each.position < 0.0)
    ends = (Place.AFT, Place.FORWARD) if forward > aft else (Place.FORWARD, Place.AFT)
    off_side = "port" if case.quay is not None and case.quay.side > 0 else "starboard"
    return (*ends, Place(f"{off_side}_bow"), Place(f"{off_side}_quarter"))


def tug_sets(
    case: HoldingCase, ordered: Sequence[OrderedTug], parallel_body: float | None
) -> tuple[dict[str, tuple[Tug, ...]], tuple[Finding, ...]]:
    """None, one, two ... of the tugs as ordered, at the usual places: the sets a rose is drawn for."""
    tugs, findings = tugs_at_work(ordered, usual_places(case), case.length_overall, parallel_body)
    names = {0: "no tug", 1: "1 tug"}
    return {names.get(count, f"{count} tugs"): tugs[:count] for count in range(len(tugs) + 1)}, findings
