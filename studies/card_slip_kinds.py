"""The slips of the pen that the error-injection benchmark of the ship card puts into consistent cards.

The list was fixed before the checks were written. Each slip takes a consistent card and gives the ship and loading as
they would be read from the slipped paper; None where the card has no such field or the slip would change nothing that
a reader could see (a change below the rounding of the field). A slip may raise `Impossible`: the door has refused it.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from random import Random
from typing import Any

from card_designs import Card

from leadsman.ship import Loading, Ship
from leadsman.units import FATHOM, FOOT, KNOT, MECHANICAL_HORSEPOWER, RPM, TONNE

Slipped = tuple[Ship, Loading] | None
AHEAD = ("full_ahead", "half_ahead", "slow_ahead", "dead_slow_ahead")


@dataclass(frozen=True)
class Slip:
    """One kind of slip: what was done, and which fields a finding should name."""

    name: str
    about: str
    fields: tuple[str, ...]
    make: Callable[[Card, Random], Slipped]


SLIPS: list[Slip] = []


def slip(about: str, *fields: str) -> Callable[[Callable[[Card, Random], Slipped]], Callable[[Card, Random], Slipped]]:
    """Enter a function in the list of slips under its own name."""

    def enter(make: Callable[[Card, Random], Slipped]) -> Callable[[Card, Random], Slipped]:
        SLIPS.append(Slip(make.__name__.replace("_", " "), about, fields, make))
        return make

    return enter


def _ship(card: Card, **changes: Any) -> Slipped:
    return replace(card.ship, **changes), card.loading


def _loading(card: Card, **changes: Any) -> Slipped:
    return card.ship, replace(card.loading, **changes)


def _engine(card: Card, **changes: Any) -> Slipped:
    return _ship(card, engine=replace(card.ship.engine, **changes))


def _orders(card: Card, change: Callable[[Any], dict[str, Any]], names: tuple[str, ...] | None = None) -> Slipped:
    lines = tuple(
        replace(line, **change(line)) if names is None or line.order in names else line
        for line in card.ship.engine.orders
    )
    return _engine(card, orders=lines)


def _swapped_digits(value: float, decimals: int, random: Random) -> float | None:
    """Two neighbouring different figures exchanged, as the hand writes; None where no exchange moves it by 3 %."""
    text = f"{value:.{decimals}f}"
    places = [
        (index, index + (2 if text[index + 1] == "." else 1))
        for index in range(len(text) - 1)
        if text[index] != "." and index + (2 if text[index + 1] == "." else 1) < len(text)
    ]
    random.shuffle(places)
    for first, second in places:
        figures = list(text)
        figures[first], figures[second] = figures[second], figures[first]
        found = float("".join(figures))
        if found > 0.0 and abs(found / value - 1.0) > 0.03:
            return found
    return None


# --- feet, metres and the size of the ship


@slip("both draughts written in feet where metres are asked", "draught_forward", "draught_aft")
def draughts_in_feet(card, random):
    load = card.loading
    return _loading(card, draught_forward=load.draught_forward / FOOT, draught_aft=load.draught_aft / FOOT)


@slip("one draught in feet, the other in metres", "draught_aft", "draught_forward")
def one_draught_in_feet(card, random):
    return _loading(card, draught_aft=card.loading.draught_aft / FOOT)


@slip("length overall in feet", "length_overall")
def length_in_feet(card, random):
    return _ship(card, length_overall=card.ship.length_overall / FOOT)


@slip("beam in feet", "beam")
def beam_in_feet(card, random):
    return _ship(card, beam=card.ship.beam / FOOT)


@slip("air draught in feet", "air_draught")
def air_draught_in_feet(card, random):
    return _loading(card, air_draught=card.loading.air_draught / FOOT)


@slip("keel to highest point in feet", "keel_to_highest_point")
def mast_height_in_feet(card, random):
    height = card.ship.keel_to_highest_point
    return None if height is None else _ship(card, keel_to_highest_point=height / FOOT)


@slip("length overall with two figures exchanged", "length_overall")
def length_digits_swapped(card, random):
    value = _swapped_digits(card.ship.length_overall, 1, random)
    return None if value is None else _ship(card, length_overall=value)


@slip("beam with two figures exchanged", "beam")
def beam_digits_swapped(card, random):
    value = _swapped_digits(card.ship.beam, 1, random)
    return None if value is None else _ship(card, beam=value)


@slip("decimal point of the beam lost", "beam")
def beam_decimal_lost(card, random):
    return _ship(card, beam=card.ship.beam * 10.0)


@slip("length overall and between perpendiculars exchanged", "length_overall", "length_between_perpendiculars")
def lengths_exchanged(card, random):
    between = card.ship.length_between_perpendiculars
    if between is None:
        return None
    return _ship(card, length_overall=between, length_between_perpendiculars=card.ship.length_overall)


@slip("bridge to bow with two figures exchanged", "bridge_to_bow")
def bridge_digits_swapped(card, random):
    value = _swapped_digits(card.ship.bridge_to_bow, 1, random)
    return None if value is None else _ship(card, bridge_to_bow=value)


@slip("bridge to bow and bridge to stern measured to different places, 6 to 12 m missing", "bridge_to_stern")
def bridge_distances_short(card, random):
    return _ship(card, bridge_to_stern=max(1.0, card.ship.bridge_to_stern - random.uniform(6.0, 12.0)))


# --- how she floats


@slip("decimal point of one draught lost", "draught_forward")
def draught_decimal_lost(card, random):
    return _loading(card, draught_forward=card.loading.draught_forward * 10.0)


@slip("decimal point of one draught one place too far left", "draught_forward")
def draught_decimal_shifted(card, random):
    return _loading(card, draught_forward=card.loading.draught_forward / 10.0)


@slip("one draught with two figures exchanged", "draught_aft")
def draught_digits_swapped(card, random):
    value = _swapped_digits(card.loading.draught_aft, 2, random)
    return None if value is None else _loading(card, draught_aft=value)


@slip("forward and after draught exchanged (trim 0.5 m or more)", "draught_forward", "draught_aft")
def draughts_exchanged(card, random):
    load = card.loading
    if abs(load.trim) < 0.5:
        return None
    return _loading(card, draught_forward=load.draught_aft, draught_aft=load.draught_forward)


@slip("displacement in kilograms where tonnes are asked", "displacement")
def displacement_in_kilograms(card, random):
    return _loading(card, displacement=card.loading.displacement * 1000.0)


@slip("displacement in thousands of tonnes", "displacement")
def displacement_in_kilotonnes(card, random):
    return _loading(card, displacement=card.loading.displacement / 1000.0)


@slip("a figure of the displacement missing or doubled: ten times off", "displacement")
def displacement_ten_times_off(card, random):
    return _loading(card, displacement=card.loading.displacement * random.choice([0.1, 10.0]))


@slip("displacement with two figures exchanged", "displacement")
def displacement_digits_swapped(card, random):
    value = _swapped_digits(card.loading.displacement / TONNE, 0, random)
    return None if value is None else _loading(card, displacement=value * TONNE)


@slip("deadweight written as displacement", "displacement")
def deadweight_as_displacement(card, random):
    if card.condition != "loaded":
        return None
    return _loading(card, displacement=card.ship.deadweight)


@slip("displacement of the other condition left standing", "displacement")
def displacement_of_other_condition(card, random):
    factor = card.other_loading.displacement / card.loading.displacement
    return None if abs(factor - 1.0) < 0.08 else _loading(card, displacement=card.other_loading.displacement)


@slip("air draught of the other condition left standing", "air_draught")
def air_draught_of_other_condition(card, random):
    other = card.other_loading.air_draught
    if card.ship.keel_to_highest_point is None or abs(other - card.loading.air_draught) < 1.0:
        return None
    return _loading(card, air_draught=other)


@slip("keel to highest point written as air draught", "air_draught")
def mast_height_as_air_draught(card, random):
    height = card.ship.keel_to_highest_point
    return None if height is None else _loading(card, air_draught=height)


@slip("metacentric height in feet or centimetres", "metacentric_height")
def metacentric_height_in_other_unit(card, random):
    height = card.loading.metacentric_height
    return None if height is None else _loading(card, metacentric_height=height * random.choice([1.0 / FOOT, 100.0]))


@slip("water density as relative density", "water_density")
def density_relative(card, random):
    density = card.loading.water_density
    return None if density is None else _loading(card, water_density=density / 1000.0)


# --- power and orders


@slip("horsepower in the place of kilowatts, horsepower not given", "power")
def horsepower_as_kilowatts_alone(card, random):
    return _engine(card, power=card.ship.engine.power * 1000.0 / MECHANICAL_HORSEPOWER, horsepower=None)


@slip("horsepower written in both places", "power", "horsepower")
def horsepower_as_kilowatts(card, random):
    horsepower = card.ship.engine.horsepower
    return None if horsepower is None else _engine(card, power=horsepower * 1000.0)


@slip("kilowatts and horsepower exchanged", "power", "horsepower")
def power_units_exchanged(card, random):
    engine = card.ship.engine
    if engine.horsepower is None:
        return None
    return _engine(card, power=engine.horsepower * 1000.0, horsepower=engine.power / 1000.0)


@slip("power with two figures exchanged", "power", "horsepower")
def power_digits_swapped(card, random):
    value = _swapped_digits(card.ship.engine.power / 1000.0, 0, random)
    return None if value is None else _engine(card, power=value * 1000.0)


@slip("power ten times off in both units", "power")
def power_ten_times_off(card, random):
    engine, factor = card.ship.engine, random.choice([0.1, 10.0])
    horsepower = None if engine.horsepower is None else engine.horsepower * factor
    return _engine(card, power=engine.power * factor, horsepower=horsepower)


@slip("all speeds in metres per second where knots are asked", "orders")
def speeds_in_metres_per_second(card, random):
    return _orders(
        card,
        lambda line: {
            name: None if getattr(line, name) is None else getattr(line, name) * KNOT
            for name in ("speed_loaded", "speed_ballast")
        },
    )


@slip("all speeds in kilometres per hour where knots are asked", "orders")
def speeds_in_kilometres_per_hour(card, random):
    return _orders(
        card,
        lambda line: {
            name: None if getattr(line, name) is None else getattr(line, name) * 1.852
            for name in ("speed_loaded", "speed_ballast")
        },
    )


@slip("loaded and ballast speeds exchanged", "orders")
def speed_columns_exchanged(card, random):
    return _orders(card, lambda line: {"speed_loaded": line.speed_ballast, "speed_ballast": line.speed_loaded})


@slip("one speed with two figures exchanged", "orders")
def speed_digits_swapped(card, random):
    name = random.choice(AHEAD)
    value = _swapped_digits(card.ship.engine.order(name).speed_loaded / KNOT, 1, random)
    return None if value is None else _orders(card, lambda line: {"speed_loaded": value * KNOT}, (name,))


@slip("decimal point of one speed lost", "orders")
def speed_decimal_lost(card, random):
    return _orders(card, lambda line: {"speed_loaded": line.speed_loaded * 10.0}, (random.choice(AHEAD),))


@slip("two neighbouring ahead orders exchanged in the revolutions or pitch column", "orders")
def ahead_orders_exchanged(card, random):
    return _exchanged(
        card,
        random.choice([("full_ahead", "half_ahead"), ("half_ahead", "slow_ahead"), ("slow_ahead", "dead_slow_ahead")]),
    )


@slip("two neighbouring astern orders exchanged", "orders")
def astern_orders_exchanged(card, random):
    return _exchanged(
        card,
        random.choice(
            [("full_astern", "half_astern"), ("half_astern", "slow_astern"), ("slow_astern", "dead_slow_astern")]
        ),
    )


def _exchanged(card: Card, pair: tuple[str, str]) -> Slipped:
    first, second = (card.ship.engine.order(name) for name in pair)
    if (first.revolutions, first.pitch) == (second.revolutions, second.pitch):
        return None
    values = {pair[0]: second, pair[1]: first}
    return _orders(
        card,
        lambda line: {"revolutions": values[line.order].revolutions, "pitch": values[line.order].pitch},
        pair,
    )


@slip("revolutions of one order with a figure lost or doubled", "orders")
def revolutions_ten_times_off(card, random):
    factor = random.choice([0.1, 10.0])
    return _orders(card, lambda line: {"revolutions": line.revolutions * factor}, (random.choice(AHEAD),))


@slip("pitch in percent written in the revolutions column", "orders")
def pitch_as_revolutions(card, random):
    if card.ship.engine.orders[0].pitch is None:
        return None
    return _orders(card, lambda line: {"revolutions": abs(line.pitch) * 100.0 * RPM, "pitch": None})


@slip("revolutions written in the pitch column of a fixed propeller", "orders")
def revolutions_as_pitch(card, random):
    if card.ship.engine.orders[0].pitch is not None:
        return None
    return _orders(card, lambda line: {"pitch": line.revolutions / RPM / 100.0, "revolutions": None})


@slip("critical range of another engine: an order lies inside", "critical_revolutions")
def critical_range_over_an_order(card, random):
    revolutions = card.ship.engine.order(random.choice(("half_ahead", "slow_ahead"))).revolutions
    if card.ship.engine.orders[0].pitch is not None:
        return None
    low = revolutions - random.uniform(2.0, 8.0) * RPM
    return _engine(card, critical_revolutions=(low, low + 10.0 * RPM))


@slip("minimum revolutions above dead slow ahead", "minimum_revolutions")
def minimum_revolutions_too_high(card, random):
    if card.ship.engine.minimum_revolutions is None:
        return None
    return _engine(card, minimum_revolutions=card.ship.engine.order("slow_ahead").revolutions)


@slip("astern power in percent written as a fraction of a percent, or above 100 %", "astern_power_share")
def astern_power_unit(card, random):
    share = card.ship.engine.astern_power_share
    return None if share is None else _engine(card, astern_power_share=share * random.choice([0.01, 2.0, 10.0]))


@slip("full ahead to full astern in minutes where seconds are asked", "full_ahead_to_full_astern")
def reversal_in_minutes(card, random):
    return _engine(card, full_ahead_to_full_astern=card.ship.engine.full_ahead_to_full_astern / 60.0)


# --- steering, thrusters, anchors


@slip("rudder angle in radians", "rudders")
def rudder_in_radians(card, random):
    if not card.ship.rudders:
        return None
    rudders = tuple(replace(rudder, maximum_angle=math.radians(rudder.maximum_angle)) for rudder in card.ship.rudders)
    return _ship(card, rudders=rudders)


@slip("hard-over time ten times off", "hard_over_to_hard_over")
def hard_over_ten_times_off(card, random):
    seconds = card.ship.steering.hard_over_to_hard_over
    if seconds is None:
        return None
    steering = replace(card.ship.steering, hard_over_to_hard_over=seconds * random.choice([0.1, 10.0]))
    return _ship(card, steering=steering)


@slip("minimum steering speed with the decimal point lost", "minimum_steering_speed")
def steering_speed_decimal_lost(card, random):
    speed = card.ship.steering.minimum_steering_speed
    if speed is None:
        return None
    return _ship(card, steering=replace(card.ship.steering, minimum_steering_speed=speed * 10.0))


@slip("thruster horsepower in the place of kilowatts", "thrusters")
def thruster_horsepower_as_kilowatts(card, random):
    if not card.ship.thrusters:
        return None
    first, *rest = card.ship.thrusters
    return _ship(card, thrusters=(replace(first, power=first.horsepower * 1000.0), *rest))


@slip("thruster power in megawatts or watts where kilowatts are asked, horsepower not given", "thrusters")
def thruster_power_thousand_times_off(card, random):
    if not card.ship.thrusters:
        return None
    first, *rest = card.ship.thrusters
    power = first.power * random.choice([0.001, 1000.0])
    return _ship(card, thrusters=(replace(first, power=power, horsepower=None), *rest))


@slip("cable in metres where shackles are asked", "port_shackles", "starboard_shackles")
def cable_in_metres(card, random):
    anchors = card.ship.anchors
    return _ship(
        card,
        anchors=replace(
            anchors,
            port_shackles=anchors.port_shackles * anchors.shackle,
            starboard_shackles=anchors.starboard_shackles * anchors.shackle,
        ),
    )


@slip("cable of both anchors together written for each", "port_shackles", "starboard_shackles")
def cable_of_both_anchors(card, random):
    anchors = card.ship.anchors
    total = anchors.port_shackles + anchors.starboard_shackles
    return _ship(card, anchors=replace(anchors, port_shackles=total, starboard_shackles=total))


@slip("fathoms in a shackle reckoned with a wrong fathom", "shackle_fathoms", "shackle")
def shackle_fathoms_wrong(card, random):
    anchors = card.ship.anchors
    fathoms = random.choice([round(anchors.shackle / 2.0, 1), round(anchors.shackle / FATHOM * 0.9144, 1), 12.5])
    return _ship(card, anchors=replace(anchors, shackle_fathoms=fathoms))
