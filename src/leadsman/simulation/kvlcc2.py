"""The benchmark tanker KVLCC2 with her published coefficients, as model and as ship: what the model is held against."""

import math
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from scipy.optimize import brentq

from leadsman.compiled import Real
from leadsman.physics import engine, propeller_series, rudder, shallow
from leadsman.physics.engine import Engine
from leadsman.physics.hull import Derivatives
from leadsman.physics.hull_force import Hull
from leadsman.physics.propeller import Propeller
from leadsman.physics.rudder import Rudder
from leadsman.simulation.parameters import Parameters, Tables, calm_air, shallow_table
from leadsman.units import DEGREE


@cache
def data() -> dict[str, Any]:
    """The published numbers, by part."""
    return tomllib.loads((Path(__file__).parent / "kvlcc2.toml").read_text(encoding="utf-8"))


def open_water(advance_ratio: Real) -> tuple[Real, Real]:
    """(KT, KQ): the published thrust, and the torque of a Wageningen screw of the same pitch, area and blades. [-]"""
    screw = data()["propeller"]
    k0, k1, k2 = screw["thrust"]
    thrust = k0 + k1 * advance_ratio + k2 * advance_ratio**2
    _, torque = propeller_series.wageningen_b(advance_ratio, screw["pitch_ratio"], screw["area_ratio"], screw["blades"])
    return thrust, torque


def hull(size: dict[str, float]) -> Hull:
    """The hull at one of the two sizes."""
    length, beam, draught, density = size["length"], size["beam"], size["draught"], size["density"]
    coefficients = data()["hull"]
    mass = density * size["volume"]
    mass_scale = 0.5 * density * length**2 * draught
    names = set(Derivatives._fields)
    derivatives = Derivatives(**{name: value for name, value in coefficients.items() if name in names})
    return Hull(
        length=length,
        beam=beam,
        draught_forward=draught,
        draught_aft=draught,
        mass=mass,
        centre_of_gravity=size["centre_of_gravity"],
        yaw_inertia=mass * (coefficients["gyration"] * length) ** 2,
        surge_added_mass=coefficients["surge_added_mass"] * mass_scale,
        sway_added_mass=coefficients["sway_added_mass"] * mass_scale,
        yaw_added_inertia=coefficients["yaw_added_inertia"] * mass_scale * length**2,
        R0=size["R0"],
        R1=0.0,
        R2=0.0,
        greatest_froude=0.3,
        astern_resistance=1.4,
        cross_flow_drag=float(shallow.deep_cross_flow_drag(length, beam, 0.998 * beam * draught, size["volume"])),
        cross_flow_swing=1.0,
        cross_flow_yaw=1.0,
        bank_effect=1.0,
        windage=1.0,
        shallow_yaw=0.0,
        squat=0.0,
        **derivatives._asdict(),
    )


def propeller(size: dict[str, float]) -> Propeller:
    """Her screw at one of the two sizes."""
    screw = data()["propeller"]
    return Propeller(
        row=0.0,
        rows=1.0,
        diameter=size["diameter"],
        pitch_ratio=screw["pitch_ratio"],
        hand=1.0,
        controllable=0.0,
        azimuthing=0.0,
        rudder=-1.0,
        position=screw["position"] * size["length"],
        offset=0.0,
        wake=size["wake"],
        wake_loss=screw["wake_loss"],
        wake_gain_starboard=screw["wake_gain_starboard"],
        wake_gain_port=screw["wake_gain_port"],
        wake_astern=0.0,
        thrust_deduction=screw["thrust_deduction"],
        thrust_deduction_astern=0.3,
        transverse_ahead=0.0,
        transverse_astern=0.1,
        thrust_factor=1.0,
        astern_factor=1.0,
    )


def blade(size: dict[str, float]) -> Rudder:
    """Her rudder at one of the two sizes."""
    measured = data()["rudder"]
    plain = rudder.TYPES["normal"]
    return Rudder(
        area=size["area"],
        slope=measured["slope"],
        stall=plain.stall,
        greatest_normal=plain.greatest_normal,
        greatest_angle=plain.greatest_angle,
        turning_limit=plain.turning_limit,
        rate=size["rudder_rate_deg"] * DEGREE,
        position=measured["position"] * size["length"],
        offset=0.0,
        propeller=0.0,
        race_share=size["diameter"] / size["span"],
        race_factor=measured["race_factor"],
        wake_ratio=measured["wake_ratio"],
        wake=size["wake"],
        straightening_starboard=measured["straightening_starboard"],
        straightening_port=measured["straightening_port"],
        straightening_position=measured["straightening_position"],
        steering_deduction=measured["steering_deduction"],
        force_increase=measured["force_increase"],
        force_position=measured["force_position"],
        force_factor=1.0,
    )


def motor() -> Engine:
    """An engine that holds any ordered shaft speed at once, as the benchmark's runs did."""
    return Engine(
        kind=engine.ELECTRIC,
        full_speed=20.0,
        least_speed=0.0,
        manoeuvring_speed=20.0,
        full_torque=math.inf,
        astern_torque=math.inf,
        delay=0.0,
        ramp=math.inf,
        sea_ramp=math.inf,
        fall=math.inf,
        start_speed=0.0,
        start_time=0.0,
        reverse_time=0.0,
        zero_torque=0.8,
        stick_speed=0.0,
        spin_down=1.0,
        starts=0.0,
        recharge=math.inf,
        pitch_rate=1.0,
    )


def parameters(name: str) -> Parameters:
    """KVLCC2 as `"model"` (7 m) or `"ship"` (320 m), her engine holding any ordered shaft speed as the tests did."""
    size = data()[name]
    thrust, torque, pitches = propeller_series.fixed_pitch(open_water, data()["propeller"]["pitch_ratio"])
    body = hull(size)
    return Parameters(
        hull=body,
        propellers=(propeller(size),),
        rudders=(blade(size),),
        engines=(motor(),),
        tables=Tables(thrust=thrust, torque=torque, pitches=pitches, shallow=shallow_table(body), wind=calm_air()),
    )


def approach(name: str) -> tuple[float, float]:
    """Speed [m/s] of the benchmark runs and the shaft speed [1/s] that holds it straight ahead."""
    size = data()[name]
    screw = data()["propeller"]
    speed, diameter = size["speed"], size["diameter"]
    drag = 0.5 * size["density"] * size["length"] * size["draught"] * speed**2 * size["R0"]

    def spare(shaft_speed: float) -> float:
        advance_ratio = speed * (1.0 - size["wake"]) / (shaft_speed * diameter)
        pull = size["density"] * shaft_speed**2 * diameter**4 * open_water(advance_ratio)[0]
        return float((1.0 - screw["thrust_deduction"]) * pull - drag)

    return speed, float(brentq(spare, 0.3 * speed / diameter, 5.0 * speed / diameter))
