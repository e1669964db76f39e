"""Everything that pushes the ship at one instant, added up: hull, screws, rudders, banks, wind. Compiled formulas.

`ship`, `tables`, `gear` and `around` are records: see `parameters.Fleet`, `state.gear` and `state.record_of`.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import banks, cable, hull_force, propeller, rudder, shallow, thruster, tug_work, tunnel
from leadsman.physics.hull_force import SLOWEST, Force
from leadsman.simulation.handling import hawse
from leadsman.simulation.parameters import SHALLOW_LINES, WIND_STEPS
from leadsman.simulation.state import Motion
from leadsman.units import AIR_DENSITY, GRAVITY

MOST_INFLOW = 1.0  # rad: greatest geometric inflow angle at the screw the wake in a turn was measured for


@formula
def look_at_water(ship: Any, tables: Any, gear: Any, surge: float, around: Any) -> None:
    """Write the factors of the mean depth under the ship into `gear` for the step that begins."""
    hull = ship.hull
    depth = (around.depth_bow + around.depth_midships + around.depth_stern) / 3.0
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    place = min(shallow.SHALLOWEST * draught / depth, 1.0) * (SHALLOW_LINES - 1)
    index = min(int(place), SHALLOW_LINES - 2)
    shallow.put_between(gear.factors, tables.shallow[index], tables.shallow[index + 1], place - index)
    stiffer = 1.0 + hull.shallow_yaw * (draught / depth) ** 2
    gear.factors.Nr *= stiffer
    gear.factors.gnr *= stiffer
    gear.water.wave_speed = shallow.schlichting(surge, depth, GRAVITY)
    gear.water.depth = depth


@formula
def wind(ship: Any, tables: Any, motion: Motion, around: Any) -> Force:
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
    low = index % WIND_STEPS
    high = (index + 1) % WIND_STEPS
    pressure = 0.5 * AIR_DENSITY * ship.hull.windage * (ahead * ahead + across * across)
    return Force(
        pressure * (tables.wind[low, 0] + share * (tables.wind[high, 0] - tables.wind[low, 0])),
        pressure * (tables.wind[low, 1] + share * (tables.wind[high, 1] - tables.wind[low, 1])),
        pressure * (tables.wind[low, 2] + share * (tables.wind[high, 2] - tables.wind[low, 2])),
    )


@formula
def bank(ship: Any, gear: Any, surge: float, around: Any) -> Force:
    """Force of the banks at hand. [N, N, N m]"""
    hull = ship.hull
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    full = banks.stand_in(
        surge,
        gear.water.depth,
        hull.length,
        hull.beam,
        draught,
        around.density,
        around.bank_port,
        around.bank_starboard,
    )
    return Force(hull.bank_effect * full.surge, hull.bank_effect * full.sway, hull.bank_effect * full.yaw)


@formula
def advance(screw: Any, wake_growth: float, axial: float, cross: float, speed: float) -> Real:
    """Speed of the water entering a screw along its axis; `cross` at the screw, both of the hull through the water.
    [m/s]"""
    if axial < 0.0:
        return axial * (1.0 - screw.wake_astern)
    inflow = -cross / max(speed, SLOWEST)
    inflow = min(max(inflow, -MOST_INFLOW), MOST_INFLOW)
    wake = min(screw.wake * wake_growth, shallow.MOST_WAKE)
    turning = propeller.wake_factor(inflow, screw.wake_loss, screw.wake_gain_starboard, screw.wake_gain_port)
    return axial * (1.0 - wake) * turning


@formula
def screw_force(
    screw: Any,
    shaft: Any,
    tables: Any,
    factors: Any,
    density: float,
    surge: float,
    sway: float,
    yaw_rate: float,
    angle: float,
    share: float,
) -> Force:
    """Force of one screw; its thrust and speed of advance are left in `shaft` for the rudder. [N, N, N m]

    Velocities of midships through the water; `angle` that of an azimuthing unit, `share` the part of the step that has
    passed.
    """
    speed = np.sqrt(surge * surge + sway * sway)
    ahead = surge - screw.offset * yaw_rate
    cross = sway + screw.position * yaw_rate
    cosine = 1.0
    sine = 0.0
    if angle != 0.0:
        cosine = np.cos(angle)
        sine = np.sin(angle)
    inflow = advance(screw, factors.wake, ahead * cosine - cross * sine, cross, speed)

    turning = shaft.speed_before + share * (shaft.speed - shaft.speed_before)
    pitch = shaft.pitch_before + share * (shaft.pitch - shaft.pitch_before)
    beta = propeller.advance_angle(inflow, turning, screw.diameter)
    star = propeller.read_pitched(tables.thrust, tables.pitches, int(screw.row), int(screw.rows), pitch, beta)
    thrust = propeller.thrust(star, inflow, turning, screw.diameter, density) * screw.thrust_factor
    if turning * pitch < 0.0:
        thrust *= screw.astern_factor
    shaft.thrust = thrust
    shaft.advance = inflow

    deduction = screw.thrust_deduction if thrust >= 0.0 else screw.thrust_deduction_astern
    axial = thrust * (1.0 - deduction) * factors.thrust
    fading = propeller.transverse_share(surge, turning, screw.diameter) * factors.transverse_thrust
    side = propeller.transverse_thrust(
        thrust, turning, screw.hand, screw.transverse_ahead, screw.transverse_astern, fading
    )
    X = axial * cosine + side * sine
    Y = side * cosine - axial * sine
    return Force(X, Y, screw.position * Y - screw.offset * X)


@formula
def rudder_force(
    ship: Any,
    blade: Any,
    gear: Any,
    density: float,
    surge: float,
    sway: float,
    yaw_rate: float,
    angle: float,
) -> Force:
    """Force of one rudder with what it induces on the hull. [N, N, N m]"""
    length = ship.hull.length
    speed = np.sqrt(surge * surge + sway * sway)
    ahead = rudder.ahead_share(surge, speed)

    behind = int(blade.propeller)
    if behind >= 0:
        entering = gear.shafts[behind].advance
        thrust = gear.shafts[behind].thrust
        diameter = ship.screws[behind].diameter
        inflow = rudder.inflow_speed(
            entering, thrust, diameter, density, blade.race_share, blade.race_factor, blade.wake_ratio
        )
        kept = rudder.screening(entering, thrust, diameter, density)
        induced = rudder.induced_share(entering, thrust, diameter, density)
    else:
        local = surge - blade.offset * yaw_rate
        inflow = blade.wake_ratio * local * (1.0 - blade.wake if local >= 0.0 else 1.0)
        kept = 1.0
        induced = 1.0

    place = ahead * blade.straightening_position * length + (1.0 - ahead) * blade.position
    slip = -(sway + place * yaw_rate)
    straightening = blade.straightening_starboard if slip > 0.0 else blade.straightening_port
    straightening = ahead * straightening * gear.factors.straightening + (1.0 - ahead)
    full = rudder.normal_force(
        blade.area, blade.slope, blade.stall, blade.greatest_normal, angle, inflow, straightening * slip, density
    )
    normal = kept * blade.force_factor * full
    increase = ahead * induced * blade.force_increase
    side = normal * np.cos(rudder.force_angle(angle, blade.turning_limit))
    X = -(1.0 - blade.steering_deduction) * normal * np.sin(angle)
    Y = -(1.0 + increase) * side
    N = -(blade.position + increase * blade.force_position * length) * side
    return Force(X, Y, N - blade.offset * X)


@formula
def angle_at(helm: Any, share: float) -> Real:
    """Rudder angle when a part of the step has passed. [rad]"""
    return helm.angle_before + share * (helm.angle - helm.angle_before)


@formula
def thrusters(ship: Any, tables: Any, gear: Any, surge: float, share: float, little_water: bool) -> Force:
    """Force of all tunnel thrusters. [N, N, N m]"""
    Y = 0.0
    N = 0.0
    for index in range(ship.thruster_count):
        unit = gear.thrusters[index]
        given = unit.share_before + share * (unit.share - unit.share_before)
        side, moment = tunnel.push(ship.thrusters[index], given, tables.thruster_shares, surge, little_water)
        unit.force = side
        Y += side
        N += moment
    return Force(0.0, Y, N)


@formula
def tugs(ship: Any, tables: Any, gear: Any, surge: float, share: float, little_water: bool) -> Force:
    """Force of all tugs at work. [N, N, N m]"""
    X = 0.0
    Y = 0.0
    N = 0.0
    for index in range(ship.tug_count):
        work = ship.tugs[index]
        tow = gear.tugs[index]
        power = tow.power_before + share * (tow.power - tow.power_before)
        if power == 0.0:
            tow.force = 0.0
            continue
        size = tug_work.pull(work, tow.way, power, tables.tug_shares, surge, little_water)
        direction = work.home + tow.angle_before + share * (tow.angle - tow.angle_before)
        tow.force = size
        ahead = tow.way * size * np.cos(direction)
        side = tow.way * size * np.sin(direction)
        X += ahead
        Y += side
        N += work.position * side - work.offset * ahead
    return Force(X, Y, N)


@formula
def anchors(ship: Any, gear: Any, motion: Motion, depth: float) -> Force:
    """Force of all cables that lead to an anchor on the bed; `depth` under the bow [m]. [N, N, N m]"""
    X = 0.0
    Y = 0.0
    N = 0.0
    for index in range(ship.anchor_count):
        line = gear.cables[index]
        anchor = ship.anchors[index]
        height = depth + anchor.hawse
        line.pull = 0.0
        if line.on_bed == 0.0 or line.out <= height:
            continue
        north, east = hawse(anchor, motion)
        distance = max(np.sqrt((line.north - north) ** 2 + (line.east - east) ** 2), hull_force.SLOWEST)
        line.pull = cable.pull(anchor, height, line.out, distance)
        along = line.pull * (line.north - north) / distance
        across = line.pull * (line.east - east) / distance
        ahead = along * np.cos(motion.heading) + across * np.sin(motion.heading)
        side = across * np.cos(motion.heading) - along * np.sin(motion.heading)
        X += ahead
        Y += side
        N += anchor.position * side - anchor.offset * ahead
    return Force(X, Y, N)


@formula
def helped(ship: Any, tables: Any, gear: Any, motion: Motion, share: float, around: Any) -> Force:
    """Force of thrusters, tugs and anchors together. [N, N, N m]"""
    hull = ship.hull
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    little_water = gear.water.depth - draught < thruster.LITTLE_CLEARANCE * draught
    push = thrusters(ship, tables, gear, motion.surge, share, little_water)
    tow = tugs(ship, tables, gear, motion.surge, share, little_water)
    hold = anchors(ship, gear, motion, around.depth_bow)
    return Force(push.surge + tow.surge + hold.surge, push.sway + tow.sway + hold.sway, push.yaw + tow.yaw + hold.yaw)


@formula
def total(ship: Any, tables: Any, gear: Any, motion: Motion, share: float, around: Any, outside: Force) -> Force:
    """Sum of all forces but the inertial ones; `share` is the part of the step that has passed. [N, N, N m]"""
    surge = motion.surge
    sway = motion.sway
    yaw_rate = motion.yaw_rate - around.stream_turn
    density = around.density
    bare = hull_force.force(ship.hull, gear.factors, density, gear.water.wave_speed, surge, sway, yaw_rate)
    X = bare.surge + outside.surge
    Y = bare.sway + outside.sway
    N = bare.yaw + outside.yaw
    for index in range(ship.screw_count):
        screw = ship.screws[index]
        angle = 0.0
        if screw.azimuthing > 0.0:
            angle = angle_at(gear.helms[int(screw.rudder)], share)
        push = screw_force(
            screw, gear.shafts[index], tables, gear.factors, density, surge, sway, yaw_rate, angle, share
        )
        X += push.surge
        Y += push.sway
        N += push.yaw
    for index in range(ship.rudder_count):
        angle = angle_at(gear.helms[index], share)
        push = rudder_force(ship, ship.rudders[index], gear, density, surge, sway, yaw_rate, angle)
        X += push.surge
        Y += push.sway
        N += push.yaw
    if ship.thruster_count + ship.tug_count + ship.anchor_count > 0:
        push = helped(ship, tables, gear, motion, share, around)
        X += push.surge
        Y += push.sway
        N += push.yaw
    if around.wind_speed > 0.0:
        push = wind(ship, tables, motion, around)
        X += push.surge
        Y += push.sway
        N += push.yaw
    if min(around.bank_port, around.bank_starboard) < np.inf:
        push = bank(ship, gear, surge, around)
        X += push.surge
        Y += push.sway
        N += push.yaw
    return Force(X, Y, N)
