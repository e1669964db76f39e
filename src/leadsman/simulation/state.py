"""What changes while she moves, and what surrounds her: the variables of a run."""

import math
from typing import NamedTuple

import numpy as np

from leadsman.compiled import formula
from leadsman.simulation.parameters import Fleet, Records, record_type
from leadsman.units import SEA_WATER_DENSITY


class Motion(NamedTuple):
    """Where she is and how she moves: midships over the ground [m], heading [rad], through the water [m/s, m/s,
    rad/s]."""

    north: float
    east: float
    heading: float
    surge: float
    sway: float
    yaw_rate: float


class Surroundings(NamedTuple):
    """Water, air and banks about the ship for one step. An absent bank is infinitely far; deep water is infinitely
    deep.

    Depths at bow, midships and stern [m]; stream at midships [m/s], its turning of the ship (across at the bow less
    across at
    the stern, over the length) [rad/s], and how fast it changes along her way [m/s²]; wind over the ground at the
    height of
    the wind table [m/s, rad from]; density of the water [kg/m³]; distances of the banks from the centreline [m].
    """

    depth_bow: float
    depth_midships: float
    depth_stern: float
    stream_north: float
    stream_east: float
    stream_turn: float
    stream_change_north: float
    stream_change_east: float
    wind_speed: float
    wind_from: float
    density: float
    bank_port: float
    bank_starboard: float


class Shaft(NamedTuple):
    """A shaft, its engine and the order on it; record fields a kernel writes to.

    `order_*` as given, `pending_*` on the telegraph until `due`, `active_*` being carried out. `running` is +1 ahead,
    -1
    astern, 0 without fuel. `thrust` [N] and `advance` [m/s] of the screw at the last evaluation; `failed_starts` counts
    starts refused for want of air; `time_astern` [s] turning astern; `starts` the air left for.
    """

    order_speed: float
    order_pitch: float
    pending_speed: float
    pending_pitch: float
    active_speed: float
    active_pitch: float
    due: float
    speed: float
    speed_before: float
    pitch: float
    pitch_before: float
    running: float
    waited: float
    starts: float
    failed_starts: float
    time_astern: float
    torque: float
    thrust: float
    advance: float


class Helm(NamedTuple):
    """A rudder or the steering of a pod: what is ordered, where it is, where it was a step before. [rad]"""

    order: float
    angle: float
    angle_before: float


def deep_calm(density: float = SEA_WATER_DENSITY) -> Surroundings:
    """Unlimited water without stream, wind or banks: the surroundings of a standard trial."""
    return even_depth(math.inf, density)


def even_depth(depth: float, density: float = SEA_WATER_DENSITY) -> Surroundings:
    """Water of the same depth [m] everywhere, without stream, wind or banks.

    Raises
    ------
    ValueError
        If the depth is not a positive number.
    """
    if not depth > 0.0:
        raise ValueError(f"depth: {depth} m; a depth greater than zero is needed")
    infinity = math.inf
    return Surroundings(depth, depth, depth, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, density, infinity, infinity)


def at_rest() -> Motion:
    """At the origin, heading north, stopped."""
    return Motion(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def shafts(fleet: Fleet, run: int, speed: float = 0.0, pitch_ratio: float | None = None) -> Records:
    """Every shaft of one variant turning steadily at `speed` [1/s] with the pitch it was built with or the one
    given."""
    engines, propellers = fleet.engines[run], fleet.propellers[run]
    found = np.zeros(len(engines), record_type(Shaft))
    pitch = propellers["pitch_ratio"] if pitch_ratio is None else pitch_ratio
    for name in ("order_speed", "pending_speed", "active_speed", "speed", "speed_before"):
        found[name] = speed
    for name in ("order_pitch", "pending_pitch", "active_pitch", "pitch", "pitch_before"):
        found[name] = pitch
    found["running"] = np.sign(speed)
    found["starts"] = engines["starts"]
    return found


def helms(fleet: Fleet, run: int, angle: float = 0.0) -> Records:
    """Every rudder of one variant at an angle. [rad]"""
    found = np.zeros(fleet.rudders.shape[1], record_type(Helm))
    for name in Helm._fields:
        found[name] = angle
    return found


@formula
def finite(motion: Motion) -> bool:
    """Whether every component is a number; the run ends when it is not."""
    total = motion.north + motion.east + motion.heading + motion.surge + motion.sway + motion.yaw_rate
    return bool(np.isfinite(total))
