"""What she has herself to hold on with: screws, the rudders in their races, thrusters; every assumption is told."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from leadsman.assessment.holding.case import Screw, Thruster
from leadsman.assessment.holding.particulars import Particulars
from leadsman.equipment import Propeller, Rudder, State
from leadsman.figure import Finding, Grade
from leadsman.physics import static_rudder, thruster
from leadsman.ship import Loading, Ship
from leadsman.simulation.deck import REDUCED_SHARE, thruster_place, tunnel_cover

AVAILABLE = {State.READY: 1.0, State.REDUCED: REDUCED_SHARE, State.DEFECTIVE: 0.0}
"""What may be used of a piece of equipment. [-]"""
SCREW_AT = -0.47  # of the length between perpendiculars: usual place of a propeller [common practice]
RUDDER_AT = -0.50  # of the length between perpendiculars: aft perpendicular
TWIN_THROW_SHARE = 0.5  # of the transverse thrust of a single screw (manoeuvring sheet 4.6) [seen: compilation]
LEAST_ASTERN_POWER = 0.4  # of ahead: a steam turbine's, the least that is usual (manoeuvring sheet 4.8) [memory]
FREE_RUDDER_ANGLE = math.radians(25.0)  # outside the race it stalls from 25 to 28 degrees (manoeuvring sheet 3.6)
WAKE_LEFT = 0.65  # of her speed that reaches the rudder behind a full stern (manoeuvring sheet 3.4) [memory]
FULL_AHEAD = "full_ahead"

Say = Callable[[Finding], None]


def tell(say: Say, grade: Grade, sentence: str) -> None:
    """Raise a finding about holding."""
    say(Finding(grade=grade, subject="holding", sentence=sentence))


def screws(
    ship: Ship, particulars: Particulars, order: str, speed: float, water_density: float, say: Say
) -> tuple[Screw, ...]:
    propellers = ship.propellers or (Propeller(),)
    if not ship.propellers:
        tell(say, Grade.NOTE, "The card names no propeller; one of unknown hand is assumed.")
    thrust = _thrust(ship, particulars, order, say) / len(propellers)
    engine = AVAILABLE[ship.engine.state]
    if engine < 1.0:
        tell(say, Grade.CAUTION, f"Engine {ship.engine.state}: {100.0 * engine:.0f} % of its thrust is reckoned with.")
    astern = particulars.astern_thrust_share
    if astern is None:
        astern = static_rudder.astern_share(ship.engine.astern_power_share or LEAST_ASTERN_POWER)
    if particulars.astern_thrust_share is None and ship.engine.astern_power_share is None:
        percent = 100.0 * LEAST_ASTERN_POWER
        tell(say, Grade.NOTE, f"Astern power is not on the card; {percent:.0f} % of ahead is assumed.")
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
        tell(say, Grade.CAUTION, "The power of her engine is not on the card; no thrust is reckoned with.")
        return 0.0
    return float(static_rudder.bollard_thrust(particulars.engine_power, share, static_rudder.PLANNING_THRUST))


def _free_rudder(rudder: Rudder, speed: float, water_density: float, say: Say) -> float:
    """Force of the rudder by her way alone; nil where its size is not known. [N]"""
    if speed <= 0.0:
        return 0.0
    if rudder.area is None or rudder.height is None:
        tell(say, Grade.NOTE, "Rudder area or height is not on the card; under way only its race is reckoned with.")
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
    tell(say, Grade.CAUTION, f"The engine order table has no {order.replace('_', ' ')}; no thrust is reckoned with.")
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
        tell(say, Grade.NOTE, "The hand of a propeller is not on the card; its throw astern is left out.")
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
        tell(say, Grade.CAUTION, "The card names no rudder; none is reckoned with.")
    elif ship.rudders:
        tell(say, Grade.NOTE, "There is not a rudder behind each propeller; no race is reckoned to strike a rudder.")
    return [None] * len(propellers)


def thrusters(ship: Ship, loading: Loading, length: float, speed: float, say: Say) -> tuple[Thruster, ...]:
    """What her thrusters give at this draught and speed through the water; `length` between perpendiculars. [m]"""
    found = []
    for number, each in enumerate(ship.thrusters, start=1):
        same = [other for other in ship.thrusters if other.position == each.position]
        name = f"{each.position} thruster" + (f" {number}" if len(same) > 1 else "")
        available = AVAILABLE[each.state]
        if each.state is not State.READY:
            tell(say, Grade.CAUTION, f"{name.capitalize()} {each.state}: {100.0 * available:.0f} % is reckoned with.")
        if each.not_effective_above is not None and abs(speed) > each.not_effective_above:
            tell(say, Grade.NOTE, f"{name.capitalize()} is not effective at this speed by the card: none is reckoned.")
            available = 0.0
        cover = tunnel_cover(each, loading)
        if cover.immersion < 1.0:
            left = "nothing" if cover.immersion == 0.0 else f"{100.0 * cover.immersion:.0f} %"
            sentence = (
                f"{name.capitalize()}: its tunnel is too near the surface at this draught; {left} is left of it."
            )
            tell(say, Grade.CAUTION, sentence)
        found.append(
            Thruster(
                name=name,
                position=thruster_place(each, length),
                thrust=float(thruster.by_power(each.power)),
                available=available,
                immersion=cover.immersion,
            )
        )
    if found:
        sentence = (
            "The depth of the thruster tunnels is not on the card; it is estimated from their power."
        )
        tell(say, Grade.NOTE, sentence)
    return tuple(found)
