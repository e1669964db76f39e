"""Force of a rudder in the flow that hull and propeller leave it: ahead, astern, in the race, stalled, reversed."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.hull_force import SLOWEST, smoothstep
from leadsman.physics.method import Method

PLATE = 1.2  # [-] normal-force coefficient of a plate square to the stream (memory)
STALL_WIDTH = np.radians(10.0)  # rad from the stall angle to the end of the fall, judgement
STALL_FALL = 0.75  # [-] share of the normal force left there, judgement
REVERSED_SLOPE = 0.65  # [-] of the ahead slope when the trailing edge leads, judgement
REVERSED_STALL = np.radians(25.0)  # rad, judgement
SCREENED = 0.75  # [-] share of the force lost behind a screw driving hard astern, judgement: 0.2 to 0.3 is left
TURNOVER = (
    0.2  # [-] share of headway or sternway in the speed over which interaction passes to its astern value, judgement
)
HEAVY_RACE = 0.2  # [-] speed of advance over that of the race, judgement: KVLCC2 turning hardest has 0.21


class Rudder(NamedTuple):
    """One rudder, or the strut of a pod, and its place; SI, angles in radians.

    `propeller`: index of the screw whose race it stands in, -1 for none. `race_share`: eta, part of its height in the
    race. `turning_limit`: the angle beyond which a bent rudder no longer turns its force further aft.
    """

    area: float
    slope: float
    stall: float
    greatest_normal: float
    greatest_angle: float
    turning_limit: float
    rate: float
    position: float
    offset: float
    propeller: float
    race_share: float
    race_factor: float
    wake_ratio: float
    wake: float
    straightening_starboard: float
    straightening_port: float
    straightening_position: float
    steering_deduction: float
    force_increase: float
    force_position: float
    force_factor: float


@formula
def fujii(aspect_ratio: Real) -> Real:
    """Slope of the normal force of an all-movable rudder, per unit of the sine of its angle. [-]

    Source: [Fujii1960].
    Limits: aspect ratio 0.5 to 3 (memory).
    """
    return 6.13 * aspect_ratio / (aspect_ratio + 2.25)


@formula
def det_norske_veritas_area(length: Real, beam: Real, draught: Real, block_coefficient: Real) -> Real:
    """Least rudder area behind a propeller. [m²]

    Source: [DNVRudder], from memory; older editions have 25 in place of 50.
    Limits: merchant ships with one rudder in the race.
    """
    return 0.01 * length * draught * (1.0 + 50.0 * block_coefficient**2 * (beam / length) ** 2)


@formula
def race_speed(advance: Real, thrust: Real, diameter: Real, density: Real) -> Real:
    """Speed of the fully formed race, from momentum; zero where the screw has stopped the water. [m/s]

    Source: [YasukawaYoshimura2015]: sqrt(1 + 8 KT/(pi J²)) written without J.
    Limits: water entering from ahead.
    """
    disc = 0.25 * np.pi * diameter * diameter
    return np.sqrt(np.maximum(advance * advance + 2.0 * thrust / (density * disc), 0.0))


@formula
def inflow_speed(
    advance: float,
    thrust: float,
    diameter: float,
    density: float,
    race_share: float,
    race_factor: float,
    wake_ratio: float,
) -> Real:
    """Axial speed of the water at the rudder, positive from ahead. Scalars only. [m/s]

    With sternway the rudder stands upstream of a screw that drives astern and feels no race.

    Source: [YasukawaYoshimura2015]; the other three quadrants are ours, from the same momentum balance.
    Limits: none published.
    """
    gain = 0.0
    if advance >= 0.0 or thrust > 0.0:
        gain = race_speed(advance, thrust, diameter, density) - np.abs(advance)
    inside = advance + race_factor * gain
    mean = race_share * inside * np.abs(inside) + (1.0 - race_share) * advance * np.abs(advance)
    return wake_ratio * np.sign(mean) * np.sqrt(np.abs(mean))


@formula
def screening(advance: float, thrust: float, diameter: float, density: float) -> Real:
    """Share of its force a rudder keeps behind a screw that drives astern while she moves ahead. [-]

    Full with a locked screw, a quarter when the braking thrust passes three times the dynamic pressure on the disc.

    Source: [ScreenedRudder], judgement.
    Limits: none published.
    """
    if thrust >= 0.0 or advance <= 0.0:
        return 1.0
    disc = 0.25 * np.pi * diameter * diameter
    loading = -2.0 * thrust / (density * disc * np.maximum(advance * advance, SLOWEST))
    return 1.0 - SCREENED * smoothstep((loading - 1.0) / 2.0)


@formula
def induced_share(advance: float, thrust: float, diameter: float, density: float) -> Real:
    """Part of the force induced on the hull that is left behind a heavily loaded screw. Scalars only. [-]

    What a rudder induces on the hull needs water passing the hull; at rest there is the race alone. It falls with the
    speed of advance to none, written with the speed of the race so that pitch and a stopped shaft need no case of their
    own. The source begins at an advance ratio of 0.3 (0.34 of the race); here it begins below what the published
    model of a benchmark ship, which keeps it whole, comes to.

    Source: [HeavyRace], from memory, low confidence.
    Limits: none published.
    """
    race = race_speed(advance, thrust, diameter, density)
    if advance >= HEAVY_RACE * race and advance > 0.0:
        return 1.0
    return np.maximum(advance, 0.0) / np.maximum(HEAVY_RACE * race, SLOWEST)


@formula
def normal_coefficient(angle: float, slope: float, stall: float, greatest: float) -> Real:
    """Normal-force coefficient at any angle of attack from -pi to pi. Scalars only. [-]

    Linear in the sine up to stall, falling over ten degrees, then on to the value of a flat plate; with the flow from
    aft the same with a lower slope and an earlier stall.

    Source: [RudderStall], from memory; stall in reversed flow is judgement.
    Limits: none published.
    """
    size = np.abs(angle)
    side = np.sign(angle)
    if size > 0.5 * np.pi:
        size = np.pi - size
        slope = REVERSED_SLOPE * slope
        stall = REVERSED_STALL
        greatest = REVERSED_SLOPE * greatest
    peak = min(slope * np.sin(stall), greatest)
    if size <= stall:
        return side * min(slope * np.sin(size), greatest)
    if size <= stall + STALL_WIDTH:
        return side * peak * (1.0 - (1.0 - STALL_FALL) * (size - stall) / STALL_WIDTH)
    share = (size - stall - STALL_WIDTH) / (0.5 * np.pi - stall - STALL_WIDTH)
    return side * (STALL_FALL * peak + share * (PLATE - STALL_FALL * peak))


@formula
def normal_force(
    area: float,
    slope: float,
    stall: float,
    greatest: float,
    angle: float,
    inflow: float,
    cross_inflow: float,
    density: float,
) -> Real:
    """Force square to the rudder, positive when it turns her to starboard. Scalars only. [N]

    Parameters
    ----------
    area : float
        Movable. [m²]
    slope, stall, greatest : float
        As `normal_coefficient`. [-, rad, -]
    angle : float
        Rudder angle, positive to starboard. [rad]
    inflow, cross_inflow : float
        Water at the rudder along the ship, positive from ahead, and across, positive towards port: a starboard turn
        makes it positive and takes from the angle of attack. [m/s]
    density : float
        [kg/m³]

    Source: [YasukawaYoshimura2015].
    Limits: as `normal_coefficient`.
    """
    attack = angle - np.arctan2(cross_inflow, inflow)
    attack = attack - 2.0 * np.pi * np.floor(attack / (2.0 * np.pi) + 0.5)
    square = inflow * inflow + cross_inflow * cross_inflow
    return 0.5 * density * area * square * normal_coefficient(attack, slope, stall, greatest)


@formula
def force_angle(angle: float, limit: float) -> Real:
    """Direction of the sideways force of a rudder that bends the race: beyond `limit` only a fifth of further helm.
    [rad]

    Source: [HighLiftRudders], judgement.
    Limits: none published.
    """
    size = np.abs(angle)
    return np.sign(angle) * (min(size, limit) + 0.2 * max(size - limit, 0.0))


@formula
def ahead_share(surge: Real, speed: Real) -> Real:
    """Weight of the interaction measured going ahead: 1 ahead, 0 with sternway, half when stopped. [-]

    Source: [ReversedRudder], judgement.
    Limits: none published.
    """
    return smoothstep(0.5 + 0.5 * surge / (TURNOVER * np.maximum(speed, SLOWEST)))


class RudderType(NamedTuple):
    """What distinguishes a kind of rudder from the plain all-movable one of the same area; angles in radians."""

    slope_factor: float
    stall: float
    greatest_normal: float
    greatest_angle: float
    turning_limit: float


# [HighLiftRudders], from memory. High-lift kinds keep their greatest coefficient up to their greatest angle: in the
# race
# they bend the water rather than stall (judgement, from "race deflected nearly athwartships at 70 degrees").
TYPES = {
    "normal": RudderType(1.0, np.radians(35.0), 1.9, np.radians(35.0), np.radians(90.0)),
    "fishtail": RudderType(1.35, np.radians(70.0), 2.2, np.radians(70.0), np.radians(35.0)),
    "flap": RudderType(1.6, np.radians(45.0), 2.5, np.radians(45.0), np.radians(35.0)),
    "articulated": RudderType(1.4, np.radians(45.0), 2.0, np.radians(45.0), np.radians(35.0)),
}

METHODS = {"fujii": Method(function=fujii, source="Fujii1960", limits={"aspect_ratio": (0.5, 3.0)})}
AREA_METHODS = {"det_norske_veritas": Method(function=det_norske_veritas_area, source="DNVRudder")}
