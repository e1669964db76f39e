"""Everything that pushes the ship at one instant, added up: hull, screws, rudders, banks, wind. Compiled formulas."""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import banks, hull_force, propeller, rudder, shallow
from leadsman.physics.hull_force import SLOWEST, Force
from leadsman.physics.shallow import Shallow
from leadsman.simulation.parameters import SHALLOW_LINES, WIND_STEPS
from leadsman.simulation.state import Motion, Surroundings
from leadsman.units import AIR_DENSITY, GRAVITY

MOST_INFLOW = 1.0  # rad: greatest geometric inflow angle at the screw the wake in a turn was measured for


class Water(NamedTuple):
    """What holds of the water for a whole step: factors of the depth, resistance of her waves there [-], mean depth
    [m]."""

    factors: Shallow
    wave_speed: float
    depth: float


@formula
def water(fleet: Any, run: int, surge: float, around: Surroundings) -> Water:
    """The depth's factors, from the mean depth under the ship."""
    hull = fleet.hull[run]
    depth = (around.depth_bow + around.depth_midships + around.depth_stern) / 3.0
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    place = min(shallow.SHALLOWEST * draught / depth, 1.0) * (SHALLOW_LINES - 1)
    index = min(int(place), SHALLOW_LINES - 2)
    factors = shallow.between(fleet.shallow[index], fleet.shallow[index + 1], place - index)
    return Water(factors, shallow.schlichting(surge, depth, GRAVITY), depth)


@formula
def wind(fleet: Any, motion: Motion, around: Surroundings) -> Force:
    """Force of the relative wind. [N, N, N m]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = around.wind_speed * np.cos(around.wind_from) + around.stream_north
    east = around.wind_speed * np.sin(around.wind_from) + around.stream_east
    ahead = north * cosine + east * sine + motion.surge
    across = east * cosine - north * sine + motion.sway
    place = np.arctan2(across, ahead) * (WIND_STEPS / (2.0 * np.pi))
    place = place - WIND_STEPS * np.floor(place / WIND_STEPS)
    index = int(place)
    share = place - index
    low = fleet.wind[index % WIND_STEPS]
    high = fleet.wind[(index + 1) % WIND_STEPS]
    pressure = 0.5 * AIR_DENSITY * (ahead * ahead + across * across)
    return Force(
        pressure * (low[0] + share * (high[0] - low[0])),
        pressure * (low[1] + share * (high[1] - low[1])),
        pressure * (low[2] + share * (high[2] - low[2])),
    )


@formula
def bank(fleet: Any, run: int, surge: float, around: Surroundings, depth: float) -> Force:
    """Force of the banks at hand. [N, N, N m]"""
    hull = fleet.hull[run]
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    full = banks.stand_in(
        surge, depth, hull.length, hull.beam, draught, around.density, around.bank_port, around.bank_starboard
    )
    return Force(hull.bank_effect * full.surge, hull.bank_effect * full.sway, hull.bank_effect * full.yaw)


@formula
def advance(screw: Any, sea: Water, axial: float, cross: float, speed: float) -> Real:
    """Speed of the water entering a screw along its axis; `cross` at the screw, both of the hull through the water.
    [m/s]"""
    if axial < 0.0:
        return axial * (1.0 - screw.wake_astern)
    inflow = -cross / max(speed, SLOWEST)
    inflow = min(max(inflow, -MOST_INFLOW), MOST_INFLOW)
    wake = min(screw.wake * sea.factors.wake, shallow.MOST_WAKE)
    turning = propeller.wake_factor(inflow, screw.wake_loss, screw.wake_gain_starboard, screw.wake_gain_port)
    return axial * (1.0 - wake) * turning


@formula
def screw_force(
    fleet: Any, run: int, index: int, sea: Water, density: float, motion: Any, shafts: Any, angle: float, share: float
) -> Force:
    """Force of one screw, and its thrust and speed of advance left in `shafts` for the rudder. [N, N, N m]

    `motion` is (surge, sway, yaw rate) through the water, `angle` that of an azimuthing unit, `share` the part of the
    step
    that has passed.
    """
    screw = fleet.propellers[run, index]
    shaft = shafts[index]
    surge, sway, yaw_rate = motion
    speed = np.hypot(surge, sway)
    ahead = surge - screw.offset * yaw_rate
    cross = sway + screw.position * yaw_rate
    cosine = np.cos(angle)
    sine = np.sin(angle)
    inflow = advance(screw, sea, ahead * cosine - cross * sine, cross, speed)

    turning = shaft.speed_before + share * (shaft.speed - shaft.speed_before)
    pitch = shaft.pitch_before + share * (shaft.pitch - shaft.pitch_before)
    beta = propeller.advance_angle(inflow, turning, screw.diameter)
    star = propeller.read_pitched(fleet.thrust, fleet.pitches, int(screw.row), int(screw.rows), pitch, beta)
    thrust = propeller.thrust(star, inflow, turning, screw.diameter, density) * screw.thrust_factor
    if turning * pitch < 0.0:
        thrust *= screw.astern_factor
    shaft.thrust = thrust
    shaft.advance = inflow

    deduction = screw.thrust_deduction if thrust >= 0.0 else screw.thrust_deduction_astern
    axial = thrust * (1.0 - deduction) * sea.factors.thrust
    fading = propeller.transverse_share(surge, turning, screw.diameter) * sea.factors.transverse_thrust
    side = propeller.transverse_thrust(
        thrust, turning, screw.hand, screw.transverse_ahead, screw.transverse_astern, fading
    )
    X = axial * cosine + side * sine
    Y = side * cosine - axial * sine
    return Force(X, Y, screw.position * Y - screw.offset * X)


@formula
def rudder_force(
    fleet: Any, run: int, index: int, sea: Water, density: float, motion: Any, shafts: Any, angle: float
) -> Force:
    """Force of one rudder with what it induces on the hull. [N, N, N m]"""
    blade = fleet.rudders[run, index]
    length = fleet.hull[run].length
    surge, sway, yaw_rate = motion
    speed = np.hypot(surge, sway)
    ahead = rudder.ahead_share(surge, speed)

    behind = int(blade.propeller)
    if behind >= 0:
        entering = shafts[behind].advance
        thrust = shafts[behind].thrust
        diameter = fleet.propellers[run, behind].diameter
        inflow = rudder.inflow_speed(
            entering, thrust, diameter, density, blade.race_share, blade.race_factor, blade.wake_ratio
        )
        kept = rudder.screening(entering, thrust, diameter, density)
    else:
        local = surge - blade.offset * yaw_rate
        inflow = blade.wake_ratio * local * (1.0 - blade.wake if local >= 0.0 else 1.0)
        kept = 1.0

    place = ahead * blade.straightening_position * length + (1.0 - ahead) * blade.position
    slip = -(sway + place * yaw_rate)
    straightening = blade.straightening_starboard if slip > 0.0 else blade.straightening_port
    straightening = ahead * straightening * sea.factors.straightening + (1.0 - ahead)
    normal = (
        kept
        * blade.force_factor
        * rudder.normal_force(
            blade.area, blade.slope, blade.stall, blade.greatest_normal, angle, inflow, straightening * slip, density
        )
    )
    increase = ahead * blade.force_increase
    side = normal * np.cos(rudder.force_angle(angle, blade.turning_limit))
    X = -(1.0 - blade.steering_deduction) * normal * np.sin(angle)
    Y = -(1.0 + increase) * side
    N = -(blade.position + increase * blade.force_position * length) * side
    return Force(X, Y, N - blade.offset * X)


@formula
def total(
    fleet: Any,
    run: int,
    motion: Motion,
    shafts: Any,
    helms: Any,
    share: float,
    around: Surroundings,
    sea: Water,
    outside: Force,
) -> Force:
    """Sum of all forces but the inertial ones; `share` is the part of the step that has passed. [N, N, N m]"""
    yaw_rate = motion.yaw_rate - around.stream_turn
    flow = (motion.surge, motion.sway, yaw_rate)
    hull = hull_force.force(
        fleet.hull[run], sea.factors, around.density, sea.wave_speed, motion.surge, motion.sway, yaw_rate
    )
    X = hull.surge + outside.surge
    Y = hull.sway + outside.sway
    N = hull.yaw + outside.yaw
    for index in range(fleet.propellers.shape[1]):
        angle = 0.0
        screw = fleet.propellers[run, index]
        if screw.azimuthing > 0.0:
            helm = helms[int(screw.rudder)]
            angle = helm.angle_before + share * (helm.angle - helm.angle_before)
        push = screw_force(fleet, run, index, sea, around.density, flow, shafts, angle, share)
        X += push.surge
        Y += push.sway
        N += push.yaw
    for index in range(fleet.rudders.shape[1]):
        helm = helms[index]
        angle = helm.angle_before + share * (helm.angle - helm.angle_before)
        push = rudder_force(fleet, run, index, sea, around.density, flow, shafts, angle)
        X += push.surge
        Y += push.sway
        N += push.yaw
    if around.wind_speed > 0.0:
        push = wind(fleet, motion, around)
        X += push.surge
        Y += push.sway
        N += push.yaw
    if min(around.bank_port, around.bank_starboard) < np.inf:
        push = bank(fleet, run, motion.surge, around, sea.depth)
        X += push.surge
        Y += push.sway
        N += push.yaw
    return Force(X, Y, N)
