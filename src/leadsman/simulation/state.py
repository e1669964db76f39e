"""What changes while she moves, and what surrounds her: the variables of a run."""

import math
from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula
from leadsman.physics.shallow import Shallow
from leadsman.simulation.parameters import MOST_UNITS, Fleet, Records, record_type
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
    across at the stern, over the length) [rad/s], and how fast it changes along her way [m/s²]; wind over the ground at
    the height of the wind table [m/s, rad from]; density of the water [kg/m³]; distances of the banks from the
    centreline [m].
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
    -1 astern, 0 without fuel. `thrust` [N] and `advance` [m/s] of the screw at the last evaluation; `failed_starts`
    counts starts refused for want of air; `time_astern` [s] turning astern; `starts` the air left for.
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


class Water(NamedTuple):
    """What holds of the water for a whole step; record fields written at its beginning.

    `wave_speed` as `shallow.schlichting` [-], `depth` the mean under the ship [m]; the others are those of `Shallow`.
    """

    wave_speed: float
    depth: float


def gear_type() -> np.dtype[np.void]:
    """The record of everything aboard that changes: `shafts`, `helms`, and the water's `factors` and `water` of the
    step."""
    return np.dtype(
        [
            ("shafts", record_type(Shaft), (MOST_UNITS,)),
            ("helms", record_type(Helm), (MOST_UNITS,)),
            ("factors", record_type(Shallow)),
            ("water", record_type(Water)),
        ],
        align=True,
    )


def gear(fleet: Fleet, variant: int, speed: Any = 0.0, pitch_ratio: Any = None, rudder: float = 0.0) -> Records:
    """Shafts turning steadily at `speed` [1/s] with the pitch built in or given, rudders at an angle [rad]: one
    record [1]."""
    ship = fleet.ships[variant]
    count = int(ship["screw_count"])
    found = np.zeros(1, gear_type())
    shafts = found[0]["shafts"][:count]
    pitch = ship["screws"]["pitch_ratio"][:count] if pitch_ratio is None else pitch_ratio
    for name in ("order_speed", "pending_speed", "active_speed", "speed", "speed_before"):
        shafts[name] = speed
    for name in ("order_pitch", "pending_pitch", "active_pitch", "pitch", "pitch_before"):
        shafts[name] = pitch
    shafts["running"] = np.sign(speed)
    shafts["starts"] = ship["engines"]["starts"][:count]
    for name in Helm._fields:
        found[0]["helms"][name][: int(ship["rudder_count"])] = rudder
    return found


def record_of(around: Surroundings) -> Records:
    """Surroundings as the record the kernels take. [1]"""
    return np.array([tuple(around)], record_type(Surroundings))


@formula
def finite(motion: Motion) -> bool:
    """Whether every component is a number; the run ends when it is not."""
    total = motion.north + motion.east + motion.heading + motion.surge + motion.sway + motion.yaw_rate
    return bool(np.isfinite(total))
