"""What an engine lets the shaft do: ramps, torque limit, windmilling, and when it can be started the other way."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula

DIRECT, GEARED, CONTROLLABLE, ELECTRIC, TURBINE = 0.0, 1.0, 2.0, 3.0, 4.0
KINDS = {
    "direct_reversing_diesel": DIRECT,
    "geared_diesel": GEARED,
    "controllable_pitch": CONTROLLABLE,
    "electric": ELECTRIC,
    "turbine": TURBINE,
}


class Engine(NamedTuple):
    """One engine on its shaft; speeds in revolutions per second of the shaft, torque in N m, times in s.

    `delay` from order to action; `ramp` up to `manoeuvring_speed`, `sea_ramp` above it, `fall` downwards, all [1/s²];
    `start_speed` the shaft must have fallen to before it can be started the other way, `start_time` a start takes from
    standstill and `reverse_time` when it was running the other way; `zero_torque` J at which a free shaft turns;
    `stick_speed` below which it stands; `spin_down` time constant of a shaft without fuel; `starts` in the air bottles
    and `recharge` time of one; `pitch_rate` [1/s] of the pitch ratio.
    """

    kind: float
    full_speed: float
    least_speed: float
    manoeuvring_speed: float
    full_torque: float
    astern_torque: float
    delay: float
    ramp: float
    sea_ramp: float
    fall: float
    start_speed: float
    start_time: float
    reverse_time: float
    zero_torque: float
    stick_speed: float
    spin_down: float
    starts: float
    recharge: float
    pitch_rate: float


@formula
def ramped(value: Real, target: Real, most: Real) -> Real:
    """The value moved towards the target by `most` at the most."""
    return value + np.minimum(np.maximum(target - value, -most), most)


@formula
def windmilling_speed(advance: Real, zero_torque: Real, diameter: Real, stick_speed: Real) -> Real:
    """Shaft speed of a screw turned by the water alone; none where friction would hold it. [1/s]

    Parameters
    ----------
    advance : float or array
        Speed of advance of the screw. [m/s]
    zero_torque : float or array
        Advance ratio at which the torque vanishes. [-]
    diameter, stick_speed : float or array
        [m, 1/s]

    Source: [Windmilling], from memory.
    Limits: none published.
    """
    free = advance / (zero_torque * diameter)
    return np.sign(free) * np.sqrt(np.maximum(free * free - stick_speed * stick_speed, 0.0))


@formula
def diesel_torque(shaft_speed: Real, full_speed: Real, full_torque: Real) -> Real:
    """Greatest steady torque of a turbocharged diesel, falling at low speed for want of air. [N m]

    Source: [DieselTorque], judgement.
    Limits: none published.
    """
    share = np.abs(shaft_speed) / full_speed
    return full_torque * np.minimum(1.0, 0.5 + 0.65 * share)


@formula
def held_by_torque(target: Real, torque: Real, limit: Real) -> Real:
    """Shaft speed the torque allows, when `torque` is what the target would take and it grows with the square. [1/s]

    Source: [derived]: torque in proportion to the square of the shaft speed.
    Limits: repeated each step it settles at the exact speed, whatever the advance.
    """
    return target * np.sqrt(np.minimum(1.0, limit / np.maximum(np.abs(torque), 1e-9)))


@formula
def stopping(mass: Real, drag: Real, speed: Real, astern_force: Real) -> tuple[Real, Real]:
    """Distance and time to stop under a steady astern force and a drag in proportion to the square of the speed. [m, s]

    Parameters
    ----------
    mass : float or array
        Ship and added water. [kg]
    drag : float or array
        Resistance over speed squared. [kg/m]
    speed : float or array
        At the beginning. [m/s]
    astern_force : float or array
        [N]

    Source: [MSCCirc1053], appendix 3, S = A L ln(1 + B): the same integral.
    Limits: straight line; real stops veer and reach ahead 60 to 80 % of it.
    """
    loading = drag * speed * speed / astern_force
    distance = 0.5 * mass / drag * np.log(1.0 + loading)
    return distance, mass / np.sqrt(drag * astern_force) * np.arctan(np.sqrt(loading))


@formula
def coasting(mass: Real, drag: Real, speed: Real, time: Real) -> tuple[Real, Real]:
    """Speed and distance after a time with the engine stopped. [m/s, m]

    Source: [MSCCirc1053]; the integral of m dV/dt = -R V².
    Limits: no propeller drag.
    """
    slowing = 1.0 + speed * time * drag / mass
    return speed / slowing, mass / drag * np.log(slowing)
