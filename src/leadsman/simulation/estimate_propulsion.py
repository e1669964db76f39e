"""Screws, resistance, engines and orders of the moving ship, so that her engine-order table comes out as the card has
it."""

import math
from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq

from leadsman.figure import Figure
from leadsman.physics import engine, hull_interaction, propeller, propeller_series, resistance
from leadsman.physics.engine import Engine
from leadsman.physics.hull_force import Hull
from leadsman.physics.propeller import Propeller
from leadsman.physics.resistance import Form
from leadsman.simulation.estimate_hull import figure, midship_coefficient
from leadsman.simulation.parameters import Array
from leadsman.simulation.particulars import OrderLine, Particulars
from leadsman.simulation.setting import Order
from leadsman.units import GRAVITY

DIAMETER_SINGLE = 0.66  # of the draught aft, memory: 0.65 to 0.70 single screw
DIAMETER_TWIN = 0.55  # of the draught aft, judgement
AREA_RATIO = 0.60  # memory: 0.55 to 0.70
PITCH_RANGE = (0.5, 1.4)  # of the Wageningen B-series
TWIN_OFFSET = 0.22  # of the beam, judgement, where a card with two screws gives no place
TORQUE_MARGIN = (
    1.05  # of the torque at full sea speed, judgement: the engine reaches its card speed with a little in hand
)
TRANSVERSE_ASTERN = 0.10  # of the astern thrust (sheet 4.6, low confidence)
TRANSVERSE_AHEAD = 0.02  # of the ahead thrust at rest (sheet 4.6, low confidence)
FITTED_FROM = 0.25  # share of the highest speed from which the resistance curve is fitted


class Drive(NamedTuple):
    """What one set of screws and engines comes to."""

    hull: Hull
    propellers: tuple[Propeller, ...]
    engines: tuple[Engine, ...]
    thrust: Array
    torque: Array
    pitches: Array
    orders: dict[str, Order]
    idle: Order
    figures: list[Figure]


class Waterflow(NamedTuple):
    """Wake, thrust deduction [-] and diameter [m] of the screws."""

    wake: float
    deduction: float
    diameter: float


def waterflow(card: Particulars) -> Waterflow:
    """What the hull does to the water at the screws, and how large they are."""
    count = float(len(card.screws))
    wake = float(hull_interaction.taylor_wake(card.block_coefficient, count))
    given = card.screws[0].diameter
    share = DIAMETER_SINGLE if len(card.screws) == 1 else DIAMETER_TWIN
    return Waterflow(
        wake=wake,
        deduction=float(hull_interaction.thrust_deduction(wake, count)),
        diameter=given or share * card.draught_aft,
    )


def holtrop(card: Particulars) -> Callable[[Array], Array]:
    """Resistance [N] of speed [m/s] by regression, form coefficients by default."""
    block = card.block_coefficient
    midship = midship_coefficient(block)
    prismatic = min(block / midship, 0.88)
    form = Form(
        midship=midship,
        waterplane=(1.0 + 2.0 * block) / 3.0,
        buoyancy_centre=float(np.clip(20.0 * (block - 0.70), -2.5, 3.0)),
        bulb_area=0.10 * midship * card.beam * card.draught if card.bulbous_bow else 0.0,
        bulb_height=0.4 * card.draught,
        transom_area=0.0,
        stern=0.0,
    )
    volume = prismatic * midship * card.length * card.beam * card.draught

    def drag(speed: Array) -> Array:
        found: Array = resistance.holtrop_mennen(
            speed,
            card.length,
            card.beam,
            card.draught,
            volume,
            form,
            card.water_density,
            resistance.SEA_WATER_VISCOSITY,
        )
        return found

    return drag


def drive(card: Particulars, hull: Hull) -> Drive:
    """Fit pitch and resistance to the fastest line of the table, the rest of the resistance curve to the other
    lines."""
    flow = waterflow(card)
    drag = holtrop(card)
    fastest = card.fastest
    count = len(card.screws)
    area_ratio = card.screws[0].area_ratio or AREA_RATIO
    blades = card.screws[0].blades
    pitch = card.screws[0].pitch_ratio or fitted_pitch(card, flow, drag, area_ratio)
    controllable = card.screws[0].controllable
    idle = pitch
    if controllable:
        thrust, torque, pitches = propeller_series.controllable_pitch(area_ratio, blades)
        idle = neutral_pitch(thrust, pitches)
    else:
        open_water = propeller_series.wageningen(pitch, area_ratio, blades)
        thrust, torque, pitches = propeller_series.fixed_pitch(open_water, pitch)

    def pull(speed: float, shaft_speed: float, pitch_ratio: float) -> float:
        """Thrust of all screws less deduction. [N]"""
        advance = speed * (1.0 - flow.wake)
        beta = propeller.advance_angle(advance, shaft_speed, flow.diameter)
        star = propeller.read_pitched(thrust, pitches, 0, len(pitches), pitch_ratio, beta)
        single = propeller.thrust(star, advance, shaft_speed, flow.diameter, card.water_density)
        return float((1.0 - flow.deduction) * count * single)

    assert fastest.speed is not None
    scale = pull(fastest.speed, fastest.shaft_speed, pitch) / float(drag(np.array(fastest.speed)))
    hull = with_resistance(card, hull, drag, scale, [] if controllable else matched(card, pull, pitch))
    full_pitch = pitch / fastest.pitch_share if controllable else pitch
    orders = {
        line.order: Order(line.shaft_speed, ordered_pitch(card, line, hull, pull, full_pitch, controllable))
        for line in card.orders
    }
    moment = full_torque(card, flow, torque, pitches, pitch)
    figures = [
        figure("wake fraction", flow.wake, "-", "hull_interaction.taylor_wake", "TaylorWake", 0.15),
        figure("thrust deduction", flow.deduction, "-", "share of the wake", "ThrustDeduction", 0.20),
        figure("resistance over Holtrop and Mennen", scale, "-", "engine-order table", "HoltropMennen1982", 0.10),
    ]
    if card.screws[0].pitch_ratio is None:
        source = "OosterveldOossanen1975"
        figures.append(figure("pitch ratio", pitch, "-", "engine-order table and B-series", source, 0.07))
    if card.screws[0].diameter is None:
        source = "ManoeuvringSheet"
        figures.append(figure("propeller diameter", flow.diameter, "m", "share of the draught", source, 0.08))
    return Drive(
        hull=hull,
        propellers=screws(card, flow, len(pitches), pitch),
        engines=tuple(machine(card, moment, torque, pitches, pitch) for _ in card.screws),
        thrust=thrust,
        torque=torque,
        pitches=pitches,
        orders=orders,
        idle=Order(fastest.shaft_speed if controllable else 0.0, idle),
        figures=figures,
    )


def fitted_pitch(card: Particulars, flow: Waterflow, drag: Callable[[Array], Array], area_ratio: float) -> float:
    """Pitch ratio with which the screws make the card's highest speed at its shaft speed against the estimated drag.
    [-]

    Held inside the B-series; what is left over goes to the resistance.
    """
    line = card.fastest
    assert line.speed is not None
    ratio = line.speed * (1.0 - flow.wake) / (line.shaft_speed * flow.diameter)
    needed = float(drag(np.array(line.speed))) / ((1.0 - flow.deduction) * len(card.screws))

    def spare(pitch: float) -> float:
        coefficient = propeller_series.wageningen_b(ratio, pitch, area_ratio, card.screws[0].blades)[0]
        return float(card.water_density * line.shaft_speed**2 * flow.diameter**4 * coefficient - needed)

    low, high = PITCH_RANGE
    if spare(low) >= 0.0:
        return low
    if spare(high) <= 0.0:
        return high
    return float(brentq(spare, low, high))


def matched(card: Particulars, pull: Callable[[float, float, float], float], pitch: float) -> list[tuple[float, float]]:
    """(speed, resistance) at each ahead line of the table: what the screws must be overcoming there."""
    return [
        (line.speed, pull(line.speed, line.shaft_speed, pitch))
        for line in card.orders
        if line.speed and line.shaft_speed > 0.0
    ]


def with_resistance(
    card: Particulars,
    hull: Hull,
    drag: Callable[[Array], Array],
    scale: float,
    lines: list[tuple[float, float]],
) -> Hull:
    """The hull with R0' as a parabola in the Froude number: the regression's shape, drawn to the lines of the table.

    A line of the table counts as much as eight points of the regression; a line that disagrees with it by half or more
    is left to the checks of the card.
    """
    top = max(line.speed or 0.0 for line in card.orders)
    speeds = np.linspace(FITTED_FROM * top, 1.05 * top, 24)
    squares = 0.5 * card.water_density * card.length * card.draught
    coefficients = scale * drag(speeds) / (squares * speeds**2)
    weights = np.ones_like(speeds)
    for speed, force in lines:
        expected = scale * float(drag(np.array(speed)))
        if abs(force / expected - 1.0) < 0.5:
            speeds = np.append(speeds, speed)
            coefficients = np.append(coefficients, force / (squares * speed**2))
            weights = np.append(weights, np.sqrt(8.0) * (3.0 if speed == top else 1.0))
    froude = speeds / math.sqrt(GRAVITY * card.length)
    basis = np.column_stack([np.ones_like(froude), froude, froude**2])
    fitted, *_ = np.linalg.lstsq(basis * weights[:, np.newaxis], coefficients * weights, rcond=None)
    return hull._replace(
        R0=float(fitted[0]), R1=float(fitted[1]), R2=float(fitted[2]), greatest_froude=float(froude.max())
    )


def ordered_pitch(
    card: Particulars,
    line: OrderLine,
    hull: Hull,
    pull: Callable[[float, float, float], float],
    full_pitch: float,
    controllable: bool,
) -> float:
    """Pitch ratio of an order: built in, or for turning blades the one that gives the speed the card states. [-]"""
    if not controllable:
        return full_pitch
    stated = line.pitch_share * full_pitch
    if not line.speed or line.pitch_share <= 0.0:
        return max(stated, -PITCH_RANGE[1])
    froude = line.speed / math.sqrt(GRAVITY * card.length)
    coefficient = hull.R0 + froude * (hull.R1 + froude * hull.R2)
    needed = 0.5 * card.water_density * card.length * card.draught * line.speed**2 * coefficient
    speed, shaft_speed = line.speed, line.shaft_speed

    def spare(pitch: float) -> float:
        return pull(speed, shaft_speed, pitch) - needed

    return float(brentq(spare, 0.0, 1.2)) if spare(0.0) < 0.0 < spare(1.2) else stated


def full_torque(card: Particulars, flow: Waterflow, torque: Array, pitches: Array, pitch: float) -> float:
    """Torque one engine must give: at the fastest line of the table, or from the power if that is more. [N m]"""
    line = card.fastest
    assert line.speed is not None
    advance = line.speed * (1.0 - flow.wake)
    beta = propeller.advance_angle(advance, line.shaft_speed, flow.diameter)
    star = propeller.read_pitched(torque, pitches, 0, len(pitches), pitch, beta)
    taken = float(propeller.torque(star, advance, line.shaft_speed, flow.diameter, card.water_density))
    given = (card.power or 0.0) / len(card.screws) / (2.0 * math.pi * card.full_shaft_speed)
    return max(TORQUE_MARGIN * taken, given)


def screws(card: Particulars, flow: Waterflow, rows: int, pitch: float) -> tuple[Propeller, ...]:
    """Every screw in its place; two screws without a place stand 0.22 of the beam off the centreline."""
    count = len(card.screws)
    placed = count == 1 or any(screw.offset for screw in card.screws)
    spread = [0.0] if count == 1 else list(np.linspace(-1.0, 1.0, count) * TWIN_OFFSET * card.beam)
    return tuple(
        Propeller(
            row=0.0,
            rows=float(rows),
            diameter=flow.diameter,
            pitch_ratio=pitch,
            hand=screw.hand,
            controllable=float(screw.controllable),
            azimuthing=float(screw.podded),
            rudder=float(index) if screw.podded else -1.0,
            position=(-0.46 if screw.podded else -0.48) * card.length,
            offset=screw.offset if placed else float(spread[index]),
            wake=flow.wake,
            wake_loss=2.0,
            wake_gain_starboard=1.6 if count == 1 else 1.2,
            wake_gain_port=1.1 if count == 1 else 1.2,
            wake_astern=0.05,
            thrust_deduction=flow.deduction,
            thrust_deduction_astern=0.30 if count == 1 else 0.25,
            transverse_ahead=0.0 if screw.podded else TRANSVERSE_AHEAD,
            transverse_astern=0.0 if screw.podded else TRANSVERSE_ASTERN,
            thrust_factor=1.0,
            astern_factor=1.0,
        )
        for index, screw in enumerate(card.screws)
    )


class Response(NamedTuple):
    """How an engine kind answers, memory unless the card says: delay, least share of full speed, seconds of ramp from
    nil to full, seconds of sea load programme, share of full speed at which it can be started the other way, seconds to
    start.
    """

    delay: float
    least: float
    ramp: float
    programme: float
    restart: float
    start: float


RESPONSES = {  # sheet section 6 [memory]
    "direct_reversing_diesel": Response(4.0, 0.28, 60.0, 1800.0, 0.40, 8.0),
    "geared_diesel": Response(3.0, 0.35, 25.0, 120.0, 0.50, 8.0),
    "controllable_pitch": Response(2.0, 0.0, 20.0, 60.0, 1.0, 0.0),
    "electric": Response(2.0, 0.0, 20.0, 60.0, 1.0, 0.0),
    "turbine": Response(8.0, 0.0, 90.0, 600.0, 1.0, 0.0),
}
SPIN_DOWN = 4.0  # s, time constant of a shaft without fuel, judgement
PITCH_SWING = 25.0  # s, full ahead to full astern of turning blades (sheet 6, memory: 15 to 30)
ASTERN_POWER = 0.6  # share of the ahead power, where the card is silent
STARTS = 12.0  # consecutive starts of a reversing diesel, class rule (sheet 6, memory)
RECHARGE = 240.0  # s for the air of one start (sheet 6, memory: 3 to 5 minutes)


def machine(card: Particulars, moment: float, torque: Array, pitches: Array, pitch: float) -> Engine:
    """One engine: limits from the card, answers from its kind."""
    response = RESPONSES[card.engine_kind]
    full = card.full_shaft_speed
    share = card.astern_power_share or ASTERN_POWER
    reversal = card.full_ahead_to_full_astern
    slowing = 2.0 * SPIN_DOWN
    reverse = 2.0 * response.start if reversal is None else max(reversal - response.delay - slowing, response.start)
    swing = PITCH_SWING if reversal is None else max(reversal - response.delay, 5.0)
    at_sea = card.fastest.shaft_speed
    manoeuvring = max((line.shaft_speed for line in card.orders if line.order == "full_ahead"), default=at_sea)
    sea_ramp = full / response.ramp
    if at_sea > manoeuvring:
        sea_ramp = min((at_sea - manoeuvring) / response.programme, sea_ramp)
    direct = card.engine_kind == "direct_reversing_diesel"
    return Engine(
        kind=engine.KINDS[card.engine_kind],
        full_speed=full,
        least_speed=card.least_shaft_speed or response.least * full,
        manoeuvring_speed=manoeuvring,
        full_torque=moment,
        astern_torque=moment * share ** (2.0 / 3.0),
        delay=response.delay,
        ramp=full / response.ramp,
        sea_ramp=sea_ramp,
        fall=full / min(response.ramp, 15.0),
        start_speed=response.restart * full,
        start_time=response.start,
        reverse_time=reverse,
        zero_torque=zero_torque(torque, pitches, pitch),
        stick_speed=0.08 * full,
        spin_down=SPIN_DOWN,
        starts=(card.starts or STARTS) if direct else 0.0,
        recharge=RECHARGE if direct else math.inf,
        pitch_rate=2.0 * pitch / swing,
    )


def neutral_pitch(thrust: Array, pitches: Array) -> float:
    """Pitch ratio at which turning blades neither drive nor brake a ship at rest. [-]"""
    return float(brentq(lambda pitch: propeller.read_pitched(thrust, pitches, 0, len(pitches), pitch, 0.0), -0.5, 0.5))


def zero_torque(torque: Array, pitches: Array, pitch: float) -> float:
    """Advance ratio at which the screw turns freely. [-]"""
    beta = np.radians(np.linspace(1.0, 80.0, 400))
    values = np.array([propeller.read_pitched(torque, pitches, 0, len(pitches), pitch, float(angle)) for angle in beta])
    return float(propeller.BLADE * np.tan(beta[int(np.argmax(values <= 0.0))]))
