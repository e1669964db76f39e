"""Turns as they are planned, and speed, time and distance along the track. All follows from geometry and kinematics.

`deflection` is the change of course; its sign does not matter to distances. [rad]
"""

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.channel import unbounded


@formula
def rate_of_turn(speed: Real, radius: Real) -> Real:
    """Rate of turn that keeps a radius; signed as the radius. [rad/s]

    Source: kinematics.
    """
    return speed / radius


@formula
def radius(speed: Real, rate_of_turn: Real) -> Real:
    """Radius of a steady turn; signed as the rate. [m]

    Source: kinematics.
    """
    return speed / rate_of_turn


@formula
def tangent_distance(radius: Real, deflection: Real) -> Real:
    """From where the arc leaves the old track to the waypoint, and from there to where it meets the new one. [m]

    Source: geometry.
    """
    return np.abs(radius) * np.tan(0.5 * np.abs(deflection))


@formula
def arc_length(radius: Real, deflection: Real) -> Real:
    """Length of the arc. [m]

    Source: geometry.
    """
    return np.abs(radius * deflection)


@formula
def turn_time(deflection: Real, rate_of_turn: Real) -> Real:
    """Time to turn at a steady rate. [s]

    Source: kinematics.
    """
    return np.abs(deflection / rate_of_turn)


@formula
def cut_in(radius: Real, deflection: Real) -> Real:
    """How far inside the waypoint the arc passes. [m]

    Source: geometry.
    """
    return np.abs(radius) * (1.0 / np.cos(0.5 * deflection) - 1.0)


@formula
def wheel_over(radius: Real, deflection: Real, reach: Real) -> Real:
    """Wheel-over before the waypoint, along the old track; `reach` is what she runs before she turns. [m]

    The reach is about 0.5 to 1.5 lengths (common practice, no source). Source: geometry.
    """
    return tangent_distance(radius, deflection) + reach


@formula
def wheel_over_by_advance(advance: Real, transfer: Real, deflection: Real) -> Real:
    """Wheel-over before the waypoint from the advance and transfer for that deflection and rudder. [m]

    Negative where the waypoint must be passed first. Source: geometry.
    """
    return advance - transfer / np.tan(np.abs(deflection))


@formula
def new_track_distance(transfer: Real, deflection: Real) -> Real:
    """From the waypoint along the new track to where she settles on it, turned by wheel-over by advance. [m]

    Source: geometry.
    """
    return transfer / np.sin(np.abs(deflection))


@formula
def straight_left(leg: Real, tangent_before: Real, tangent_after: Real) -> Real:
    """What two turns leave straight of the leg between them; negative: they do not fit. [m]

    Source: geometry.
    """
    return leg - tangent_before - tangent_after


@formula
def set_by_stream(stream_rate: Real, turn_time: Real) -> Real:
    """How far the stream carries a turn that is round in the water. [m]

    Source: kinematics.
    """
    return stream_rate * turn_time


@formula
def stopping_distance(speed: Real, deceleration: Real) -> Real:
    """Distance to stop at a steady deceleration; infinite where there is none. [m]

    A large loaded ship makes 0.01 to 0.03 m/s² with tugs and astern power (common practice, no source). Source:
    kinematics.
    """
    return unbounded(0.5 * speed**2, deceleration)


@formula
def stopping_time(speed: Real, deceleration: Real) -> Real:
    """Time to stop at a steady deceleration; infinite where there is none. [s]

    Source: kinematics.
    """
    return unbounded(np.abs(speed), deceleration)


@formula
def leg_time(distance: Real, speed_before: Real, speed_after: Real) -> Real:
    """Time for a leg along which the speed over the ground changes evenly in time; infinite without headway. [s]

    Source: kinematics.
    """
    return unbounded(2.0 * distance, speed_before + speed_after)


@formula
def crab_angle(cross_stream: Real, speed: Real) -> Real:
    """Angle laid off against a stream across the track, towards where it comes from; pi/2 where the stream wins. [rad]

    `cross_stream` is positive setting to starboard, the angle then negative: to port. Source: triangle of velocities.
    """
    return -np.arctan2(cross_stream, np.sqrt(np.maximum(speed**2 - cross_stream**2, 0.0)))


@formula
def speed_made_good(speed: Real, cross_stream: Real, along_stream: Real) -> Real:
    """Speed over the ground along the track, the crab angle laid off. [m/s]

    Minus infinity where the stream across is stronger than the ship and no angle holds the track. Source: triangle of
    velocities.
    """
    ahead = speed**2 - cross_stream**2
    return where(ahead >= 0.0, np.sqrt(np.maximum(ahead, 0.0)) + along_stream, -np.inf)
