"""What changes while she moves, and what surrounds her: the variables of a run."""

import math
from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula
from leadsman.physics.shallow import Shallow
from leadsman.simulation.parameters import MOST_ANCHORS, MOST_TUGS, MOST_UNITS, Fleet, Records, record_type
from leadsman.units import SEA_WATER_DENSITY

SOUND, DEAD, STUCK = 0.0, 1.0, 2.0  # faults: none; gives nothing any more; goes on as it was, deaf to orders


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
    -1 astern, 0 without fuel. `thrust` [N] and `advance` [m/s] of the screw at the last evaluation; `starts_made` and
    `failed_starts` count starts on air and attempts that found none; `starts` the air left for. `fault` as `SOUND`,
    `DEAD` (no power: the water turns the shaft) or `STUCK` (turns on as it did).
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
    starts_made: float
    failed_starts: float
    torque: float
    thrust: float
    advance: float
    fault: float


class Helm(NamedTuple):
    """A rudder or the steering of a pod: what is ordered, where it is, where it was a step before. [rad]

    With any `fault` it stays where it is.
    """

    order: float
    angle: float
    angle_before: float
    fault: float


class Thruster(NamedTuple):
    """A tunnel thruster: what is ordered and what it gives, as shares of its thrust at rest, positive to starboard. [-]

    `force` [N] at the last evaluation; `fault` as a shaft's.
    """

    order: float
    share: float
    share_before: float
    force: float
    fault: float


class Tow(NamedTuple):
    """A tug at work. `order_direction` the way her force is wanted, from the bow clockwise [rad]; `order_power` how
    much of what she is credited with, 0 to 1.

    `next_*` the last order given, which waits until `next_due` while another, `pending_*`, is on the way to her until
    `due`; `active_*` being carried out. `way` +1 on the line, -1 pushing; `angle` off her line's home, or off the
    opposite way when she pushes [rad]; `power` she gives; `force` [N] at the last evaluation; `fault` `DEAD` (let go,
    engine lost) or `STUCK` (deaf to orders).
    """

    order_direction: float
    order_power: float
    next_direction: float
    next_power: float
    next_due: float
    pending_direction: float
    pending_power: float
    active_direction: float
    active_power: float
    due: float
    way: float
    angle: float
    angle_before: float
    power: float
    power_before: float
    force: float
    fault: float


class Cable(NamedTuple):
    """An anchor's cable: length ordered and length out, from hawse to anchor; nil, or less than to the bed: aweigh. [m]

    Where the anchor lies over the ground while `on_bed` is 1, how far it has been `dragged` [m], and the horizontal
    `pull` [N] at the last evaluation.
    """

    order: float
    out: float
    on_bed: float
    north: float
    east: float
    dragged: float
    pull: float


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
    """The record of everything that changes: `shafts`, `helms`, `thrusters`, `tugs`, `cables`, and the water's
    `factors` and `water` of the step."""
    return np.dtype(
        [
            ("shafts", record_type(Shaft), (MOST_UNITS,)),
            ("helms", record_type(Helm), (MOST_UNITS,)),
            ("thrusters", record_type(Thruster), (MOST_UNITS,)),
            ("tugs", record_type(Tow), (MOST_TUGS,)),
            ("cables", record_type(Cable), (MOST_ANCHORS,)),
            ("factors", record_type(Shallow)),
            ("water", record_type(Water)),
        ],
        align=True,
    )


def gear(fleet: Fleet, variant: int, speed: Any = 0.0, pitch_ratio: Any = None, rudder: float = 0.0) -> Records:
    """Shafts turning steadily at `speed` [1/s] with the pitch built in or given, rudders at an angle [rad], thrusters
    stopped, tugs made fast without power where they work, anchors home: one record [1]."""
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
        if name != "fault":
            found[0]["helms"][name][: int(ship["rudder_count"])] = rudder
    for tow, work in zip(found[0]["tugs"], ship["tugs"][: int(ship["tug_count"])], strict=False):
        tow["way"] = 1.0 if work["line_row"] >= 0.0 else -1.0
        home = work["home"] if tow["way"] > 0.0 else work["home"] + math.pi
        for name in ("order_direction", "next_direction", "pending_direction", "active_direction"):
            tow[name] = home
    return found


def record_of(around: Surroundings) -> Records:
    """Surroundings as the record the kernels take. [1]"""
    return np.array([tuple(around)], record_type(Surroundings))


@formula
def finite(motion: Motion) -> bool:
    """Whether every component is a number; the run ends when it is not."""
    total = motion.north + motion.east + motion.heading + motion.surge + motion.sway + motion.yaw_rate
    return bool(np.isfinite(total))
