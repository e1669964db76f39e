"""From the ship as handed over to the plain numbers the model is estimated from, and to the figures it is calibrated
by.

Nothing is estimated here: what the card leaves out and the model cannot do without is asked for by name, so that
whoever estimates it can show where it came from.
"""

import math
from dataclasses import dataclass

import numpy as np

from leadsman.equipment import ASTERN_ORDERS, EngineKind, ReversalMeaning, State
from leadsman.physics import thruster as thruster_methods
from leadsman.physics import wind, wind_profile
from leadsman.poster import Basis
from leadsman.ship import Loading, Ship, ShipType
from leadsman.simulation.calibrate import Figure, Observation
from leadsman.simulation.deck import BOW_THRUSTER, REDUCED_SHARE, STERN_THRUSTER
from leadsman.simulation.estimate import ASTERN_SHARE
from leadsman.simulation.estimate_propulsion import STARTS
from leadsman.simulation.parameters import WIND_STEPS, Array
from leadsman.simulation.particulars import Blade, OrderLine, Particulars, Screw
from leadsman.units import SEA_WATER_DENSITY

ENGINES = {
    EngineKind.REVERSING_DIESEL: "direct_reversing_diesel",
    EngineKind.GEARED_DIESEL: "geared_diesel",
    EngineKind.CONTROLLABLE_PITCH: "controllable_pitch",
    EngineKind.DIESEL_ELECTRIC: "electric",
    EngineKind.STEAM_TURBINE: "turbine",
}
RUDDERS = {"conventional": "normal", "spade": "normal", "fishtail": "fishtail", "flap": "flap"}
WIND_TYPES = {
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
    ShipType.OTHER: "car carrier",  # the greatest lateral coefficient there is
}
"""Rows of `physics.wind.ship_types()`; a tanker's goes by her loading: `wind_type`."""
TRIAL = 0.05  # standard deviation of a turning figure measured at trials, as a share (judgement)
TRIAL_STOP = 0.10  # of a stopping figure, which scatters more (judgement)
TRIAL_OVERSHOOT = 0.15  # of an overshoot (judgement)
NOT_A_TRIAL = 2.0  # times as wide where the poster says estimated, or does not say


@dataclass(frozen=True, kw_only=True)
class Reading:
    """A ship's particulars for the model, and in one sentence each what had to be taken for granted."""

    particulars: Particulars
    assumed: tuple[str, ...]


def particulars(
    ship: Ship,
    loading: Loading,
    *,
    length: float | None = None,
    displacement: float | None = None,
    lateral_windage: float | None = None,
    frontal_windage: float | None = None,
    windage_centroid: float = 0.0,
    windage_height: float | None = None,
) -> Reading:
    """Particulars of a ship in a loading; the arguments take the place of what the card leaves out.

    Parameters
    ----------
    ship, loading
    length : float, optional
        Between perpendiculars. [m]
    displacement : float, optional
        [kg]
    lateral_windage, frontal_windage : float, optional
        Areas above water; without them the wind has no force on her and that is said. [m²]
    windage_centroid : float
        Of the lateral area, forward of midships. [m]
    windage_height : float, optional
        Of its centroid above the water; without it the wind is that at 10 m all over her. [m]

    Raises
    ------
    ValueError
        Naming what is missing or defective so that she cannot be moved or steered.
    """
    missing = []
    long = ship.length_between_perpendiculars or length
    heavy = loading.displacement or displacement
    if long is None:
        missing.append("length between perpendiculars")
    if heavy is None:
        missing.append("displacement")
    if missing:
        raise ValueError(f"{' and '.join(missing)}: not on the card and no estimate given; the model needs it")
    assert long is not None
    assert heavy is not None
    assumed: list[str] = []
    lateral = loading.lateral_windage or lateral_windage
    frontal = loading.frontal_windage or frontal_windage
    if lateral is None or frontal is None:
        assumed.append("no windage is known: the wind has no force on her in the model")
    starts = ship.engine.consecutive_starts
    if starts is None and engine_kind(ship) == "direct_reversing_diesel":
        assumed.append(
            f"consecutive starts: not on the card; {STARTS:.0f} are taken, the fewest class asks of a reversing engine"
        )
    found = Particulars(
        length=long,
        beam=ship.beam,
        draught_forward=loading.draught_forward,
        draught_aft=loading.draught_aft,
        displacement=heavy,
        engine_kind=engine_kind(ship),
        power=ship.engine.power,
        full_shaft_speed=full_shaft_speed(ship),
        least_shaft_speed=ship.engine.minimum_revolutions,
        orders=order_lines(ship, loading, assumed),
        screws=screws(ship, assumed),
        rudders=blades(ship),
        water_density=loading.water_density or SEA_WATER_DENSITY,
        bulbous_bow=bool(ship.bulbous_bow),
        hard_over_to_hard_over=hard_over_time(ship),
        full_ahead_to_full_astern=reversal_time(ship, assumed),
        astern_power_share=ship.engine.astern_power_share,
        starts=None if starts is None else float(starts),
        wind=wind_table(ship, loading, lateral, frontal, windage_centroid, windage_height),
    )
    return Reading(particulars=found, assumed=tuple(assumed))


def engine_kind(ship: Ship) -> str:
    """The model's word for her engine; blades that turn decide before the engine's name does."""
    if ship.engine.state is State.DEFECTIVE:
        raise ValueError("engine: recorded as defective; she cannot be moved by it")
    if any(propeller.controllable_pitch for propeller in ship.propellers):
        return "controllable_pitch"
    return ENGINES[ship.engine.kind]


def full_shaft_speed(ship: Ship) -> float:
    """At full power. [1/s]"""
    known = [line.revolutions for line in ship.engine.orders if line.revolutions]
    full = ship.engine.maximum_revolutions or max(known, default=None)
    if full is None:
        raise ValueError("revolutions: neither a maximum nor an engine order gives any; the model needs one")
    return full


def order_lines(ship: Ship, loading: Loading, assumed: list[str]) -> tuple[OrderLine, ...]:
    """The engine-order table in the column of this loading, astern shaft speeds or pitches negative."""
    turning = engine_kind(ship) == "controllable_pitch"
    full = full_shaft_speed(ship)
    lines = []
    for line in ship.engine.orders:
        speed = line.speed_loaded if loading.condition == "loaded" else line.speed_ballast
        sign = -1.0 if line.order in ASTERN_ORDERS else 1.0
        if turning:
            if line.pitch is None and line.order != "stop":
                assumed.append(f"{line.order}: no pitch on the card; the order is left out")
                continue
            pitch = sign * abs(line.pitch or 0.0)
            lines.append(
                OrderLine(
                    order=line.order,
                    shaft_speed=line.revolutions or full,
                    pitch_share=pitch,
                    speed=speed or None,
                )
            )
        elif line.revolutions is not None:
            lines.append(OrderLine(order=line.order, shaft_speed=sign * line.revolutions, speed=speed or None))
        else:
            assumed.append(f"{line.order}: no revolutions on the card; the order is left out")
    if not any(line.order == "full_astern" for line in lines):
        share = f"{100.0 * ASTERN_SHARE:.0f} %"
        assumed.append(f"full astern: not on the card; {share} of the revolutions or pitch of full ahead is taken")
    return tuple(lines)


def screws(ship: Ship, assumed: list[str]) -> tuple[Screw, ...]:
    """Her propellers that can be used; one that is not described at all is taken as a single fixed one of unknown
    hand."""
    usable = [propeller for propeller in ship.propellers if propeller.state is not State.DEFECTIVE]
    if ship.propellers and not usable:
        raise ValueError("propellers: all recorded as defective; she cannot be moved by them")
    if not usable:
        assumed.append("one fixed-pitch propeller on the centreline: the card describes none")
        return (Screw(hand=0.0),)
    if any(propeller.right_handed is None for propeller in usable):
        assumed.append("the hand of a propeller is not known: no transverse thrust of it is in the model")
    hands = {True: 1.0, False: -1.0, None: 0.0}
    return tuple(
        Screw(
            hand=hands[propeller.right_handed],
            offset=propeller.lateral_position,
            diameter=propeller.diameter,
            pitch_ratio=propeller.pitch_ratio,
            blades=float(propeller.blades or 4),
            controllable=propeller.controllable_pitch,
            podded=propeller.podded,
        )
        for propeller in usable
    )


def blades(ship: Ship) -> tuple[Blade, ...]:
    """Her rudders that can be used; a ship with none described and no pods has one in the middle."""
    usable = [rudder for rudder in ship.rudders if rudder.state is not State.DEFECTIVE]
    podded = any(propeller.podded for propeller in ship.propellers)
    if ship.rudders and not usable:
        raise ValueError("rudders: all recorded as defective; she cannot be steered by them")
    if ship.steering.state is State.DEFECTIVE:
        raise ValueError("steering gear: recorded as defective; she cannot be steered by it")
    if not usable and not podded:
        return (Blade(),)
    return tuple(
        Blade(
            kind=RUDDERS[rudder.kind],
            offset=rudder.lateral_position,
            area=rudder.area,
            height=rudder.height,
            greatest_angle=rudder.maximum_angle,
        )
        for rudder in usable
    )


def hard_over_time(ship: Ship) -> float | None:
    """From side to side with the power units that can be used. [s]"""
    steering = ship.steering
    if steering.state is State.REDUCED and steering.hard_over_with_one_unit is not None:
        return steering.hard_over_with_one_unit
    return steering.hard_over_to_hard_over


def reversal_time(ship: Ship, assumed: list[str]) -> float | None:
    """Time to reverse the engine, only where the card says that this is what it means. [s]"""
    if ship.engine.full_ahead_to_full_astern is None:
        return None
    if ship.engine.reversal_meaning is ReversalMeaning.ENGINE_REVERSED:
        return ship.engine.full_ahead_to_full_astern
    if ship.engine.reversal_meaning is ReversalMeaning.UNKNOWN:
        assumed.append("full ahead to full astern: the card does not say to what; a usual time of her engine is taken")
    return None


def wind_type(ship: Ship, loading: Loading) -> str:
    """The row of `physics.wind.ship_types()` she is counted as."""
    if ship.kind is ShipType.TANKER:
        return "tanker, loaded" if loading.condition == "loaded" else "tanker, in ballast"
    return WIND_TYPES[ship.kind]


def wind_table(
    ship: Ship,
    loading: Loading,
    lateral: float | None,
    frontal: float | None,
    centroid: float,
    centroid_height: float | None = None,
) -> Array:
    """Wind force over dynamic pressure at 10 m at each five degrees, as `Tables.wind`; nil where the areas are not
    known.

    Source: [Blendermann1994] by type of ship, with the mean pressure over her height as `wind_profile.felt_ratio`;
    loads in the senses of docs/methods/wind.md.
    """
    table = np.zeros((WIND_STEPS, 3))
    if lateral is None or frontal is None:
        return table
    felt = 1.0
    if centroid_height is not None:
        felt = float(wind_profile.felt_ratio(wind_profile.top_of(centroid_height), wind_profile.OPEN_SEA_EXPONENT))
    row = wind.blendermann_types()[wind.blendermann_type(wind_type(ship, loading))]
    angles = 2.0 * math.pi * np.arange(WIND_STEPS) / WIND_STEPS
    coefficients = wind.blendermann(
        angles,
        length_overall=ship.length_overall,
        lateral_area=lateral,
        transverse_area=frontal,
        centroid_forward=centroid,
        lateral=row["lateral"],
        ahead=row["ahead"],
        astern=row["astern"],
        cross_force=row["cross_force"],
    )
    loads = wind.loads(coefficients, angles, felt, ship.length_overall, lateral, frontal)
    table[:, 0], table[:, 1], table[:, 2] = loads.surge, loads.sway, loads.yaw
    return table


def thruster(ship: Ship, end: str = "bow") -> tuple[float, float] | None:
    """(thrust at rest [N], place forward of midships [m]) of the usable thrusters at one end together; None without
    any."""
    usable = [unit for unit in ship.thrusters if unit.position == end and unit.state is not State.DEFECTIVE]
    if not usable:
        return None
    long = ship.length_between_perpendiculars or ship.length_overall
    usual = (BOW_THRUSTER if end == "bow" else STERN_THRUSTER) * long
    thrust = sum(
        (REDUCED_SHARE if unit.state is State.REDUCED else 1.0) * float(thruster_methods.by_power(unit.power))
        for unit in usable
    )
    stated = [abs(unit.distance_from_midships) for unit in usable if unit.distance_from_midships is not None]
    place = math.copysign(stated[0], usual) if stated else usual
    return thrust, place


def observations(ship: Ship, loading: Loading, hard_over: float) -> tuple[Observation, ...]:
    """The manoeuvres card and poster state for this loading in deep water, as figures to calibrate by.

    `hard_over` is not exceeded: a circle stated at more than the rudder's greatest angle is at that angle. [rad]
    """
    found = [*_circles(ship, loading, hard_over), *_stops(ship, loading), *_zigzags(ship, loading)]
    if ship.engine.reversal_meaning is ReversalMeaning.SHIP_STOPPED and ship.engine.full_ahead_to_full_astern:
        found.append(
            Observation(
                figure=Figure.STOPPING_TIME,
                value=ship.engine.full_ahead_to_full_astern,
                deviation=NOT_A_TRIAL * TRIAL_STOP,
                order="full_ahead",
            )
        )
    bow = thruster(ship)
    rates = [unit.turning_rate for unit in ship.thrusters if unit.position == "bow" and unit.turning_rate]
    if bow and rates:
        found.append(
            Observation(figure=Figure.THRUSTER_RATE, value=rates[0], deviation=0.15, thrust=bow[0], position=bow[1])
        )
    return tuple(found)


def _wider(basis: Basis, deviation: float) -> float:
    return deviation if basis is Basis.TRIAL else NOT_A_TRIAL * deviation


def _circles(ship: Ship, loading: Loading, hard_over: float) -> list[Observation]:
    found = []
    for circle in ship.poster.turning_circles:
        if circle.condition != loading.condition or circle.depth_to_draught is not None:
            continue
        side = 1.0 if circle.side == "starboard" else -1.0
        for figure, value in (
            (Figure.TACTICAL_DIAMETER, circle.tactical_diameter),
            (Figure.ADVANCE, circle.advance),
            (Figure.TRANSFER, circle.transfer),
            (Figure.TIME_TO_90, circle.time_to_90),
        ):
            if value is not None:
                found.append(
                    Observation(
                        figure=figure,
                        value=value,
                        deviation=_wider(circle.basis, TRIAL),
                        rudder=side * min(circle.rudder, hard_over),
                    )
                )
    return found


def _stops(ship: Ship, loading: Loading) -> list[Observation]:
    found = []
    for stop in ship.poster.stops:
        if stop.condition != loading.condition:
            continue
        if stop.engine_astern:
            figures = ((Figure.TRACK_REACH, stop.track_reach), (Figure.STOPPING_TIME, stop.duration))
        else:
            figures = ((Figure.COASTING_REACH, stop.track_reach), (Figure.COASTING_TIME, stop.duration))
        for figure, value in figures:
            if value is not None:
                deviation = _wider(stop.basis, TRIAL_STOP)
                found.append(Observation(figure=figure, value=value, deviation=deviation, order=stop.order))
    return found


def _zigzags(ship: Ship, loading: Loading) -> list[Observation]:
    found = []
    for zigzag in ship.poster.zig_zags:
        if zigzag.condition != loading.condition:
            continue
        figures = ((Figure.FIRST_OVERSHOOT, zigzag.first_overshoot), (Figure.SECOND_OVERSHOOT, zigzag.second_overshoot))
        for figure, value in figures:
            if value:
                deviation = _wider(zigzag.basis, TRIAL_OVERSHOOT)
                found.append(Observation(figure=figure, value=value, deviation=deviation, rudder=zigzag.angle))
    return found
