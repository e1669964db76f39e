"""What comes of a run and what is watched on the way: reasons it ends for, what was least, the lines of its track.

Compiled formulas, called by `conning.passage` every second or two.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula
from leadsman.conning import demands, outline
from leadsman.conning.bridge import TRANSIT
from leadsman.conning.task import Aboard, Task
from leadsman.simulation.state import Motion

(UNDER_WAY, ALONGSIDE, CLEAR, AGROUND, OUT_OF_FAIRWAY, STRUCK, STRUCK_ASKEW, OUT_OF_TIME, BROKEN, HELD, UNHURT,
 BROUGHT_UP) = range(12)  # fmt: skip
"""How a run stands or has ended; brought up, she lies at anchor; after a failure on the way: held, she was stopped;
unhurt, nothing came of it as long as it was watched."""


class Outcome(NamedTuple):
    """What came of a run; record fields. Places are distances along the track. [m]

    Least room to the edges, to water too shallow, under the keel, and where; greatest rudder under way as a share of
    hard over; greatest rate of turn; landing speed, angle off the quay, place along it; time of the handover and of
    the end; orders counted, and how many of them in the `busiest` ten minutes, which ended at `busiest_at` [s]. At
    anchor: her speed over the ground when it was let go [m/s], where it lies and how far it was dragged [m], cable out
    [m] and its pull [N]; of an anchor she was swung on the greatest pull, and when it was let go and home [s].

    Of the machinery: greatest thruster, how long one gave thrust at one go, until when and which, and in all [s];
    greatest shaft speed times pitch ratio of any shaft ahead and astern [1/s]; running astern at one go, until when,
    and in all, of the shaft that did so longest [s]; starts on air of all shafts together, the least any shaft had left
    and when, infinite where no engine starts on air; orders that found no air, of the first when [s], where [m], on
    which shaft and the line of the telegraph, and how long an engine was wanted without air [s].
    """

    reason: float
    time: float
    place: float
    room_port: float
    room_port_at: float
    room_starboard: float
    room_starboard_at: float
    water_room: float
    water_room_at: float
    keel: float
    keel_at: float
    keel_forward: float
    keel_starboard: float
    rudder: float
    rudder_at: float
    rate: float
    landing_speed: float
    landing_angle: float
    landing_place: float
    handover_time: float
    orders: float
    wheel_orders: float
    engine_orders: float
    busiest: float
    busiest_at: float
    thruster: float
    thruster_longest: float
    thruster_until: float
    thruster_unit: float
    thruster_all: float
    driven_ahead: float
    driven_astern: float
    astern_longest: float
    astern_until: float
    astern_all: float
    starts_made: float
    starts_left: float
    starts_left_at: float
    starts_refused: float
    refused_at: float
    refused_place: float
    refused_shaft: float
    refused_order: float
    airless: float
    tugs: float
    let_go_speed: float
    anchor_north: float
    anchor_east: float
    anchor_dragged: float
    cable_out: float
    cable_pull: float
    let_go_time: float
    home_time: float


COLUMNS = (
    "time",
    "north",
    "east",
    "heading",
    "surge",
    "sway",
    "yaw_rate",
    "wheel",
    "rudder",
    "telegraph",
    "shaft_speed",
    "pitch",
    "thruster",
    "along",
    "across",
    "keel",
    "room_port",
    "room_starboard",
    "wind_speed",
    "stream_north",
    "stream_east",
    "level",
    "mode",
    "phase",
)


@formula
def begin(out: Any) -> None:
    """Nothing least yet, nothing used yet."""
    out.room_port = np.inf
    out.room_starboard = np.inf
    out.water_room = np.inf
    out.keel = np.inf
    out.starts_left = np.inf


@formula
def note(track: Any, line: int, time: float, motion: Motion, aboard: Aboard, level: float, sight: Any) -> None:
    """Write one line of the track, if there is one to write to."""
    if line >= track.shape[0]:
        return
    gear, memory, around = aboard.gear, aboard.memory, aboard.around
    row = track[line]
    row[0] = time
    row[1] = motion.north
    row[2] = motion.east
    row[3] = motion.heading
    row[4] = motion.surge
    row[5] = motion.sway
    row[6] = motion.yaw_rate
    row[7] = memory.wheel
    row[8] = gear.helms[0].angle
    row[9] = memory.telegraph[0]
    row[10] = gear.shafts[0].speed
    row[11] = gear.shafts[0].pitch
    row[12] = gear.thrusters[0].share
    row[13] = memory.along
    row[14] = memory.across
    row[15] = sight[0]
    row[16] = sight[1]
    row[17] = sight[2]
    row[18] = around.wind_speed
    row[19] = around.stream_north
    row[20] = around.stream_east
    row[21] = level
    row[22] = memory.mode
    row[23] = memory.phase


@formula
def watch(task: Task, aboard: Aboard, motion: Motion, level: float, out: Any, sight: Any, swept: Any) -> int:
    """Look at keel, edges and shoals; note what is least; and say whether that ends the run."""
    water, hull, memory = task.waters, task.hull, aboard.memory
    under = outline.keel(water, aboard.ship, hull, aboard.draw.draught, level, motion)
    sight[0] = under.clearance
    if under.clearance < out.keel:
        out.keel = under.clearance
        out.keel_at = memory.along
        out.keel_forward = under.forward
        out.keel_starboard = under.starboard
    room = outline.water_room(water, hull, motion)
    if room < out.water_room:
        out.water_room = room
        out.water_room_at = memory.along
    sight[1] = np.inf
    sight[2] = np.inf
    if memory.mode == TRANSIT:
        port, starboard = outline.edge_room(water, hull, int(memory.point), motion, swept)
        sight[1] = port
        sight[2] = starboard
        if port < out.room_port:
            out.room_port = port
            out.room_port_at = memory.along
        if starboard < out.room_starboard:
            out.room_starboard = starboard
            out.room_starboard_at = memory.along
        if min(port, starboard) < 0.0:
            return OUT_OF_FAIRWAY
    if under.clearance <= 0.0:
        return AGROUND
    return UNDER_WAY


@formula
def reckon(task: Task, aboard: Aboard, motion: Motion, time: float, out: Any) -> None:
    """Note what of rudder, rate of turn, engines, thrusters and tugs is used in the second that ends at `time`."""
    ship, gear, memory = aboard.ship, aboard.gear, aboard.memory
    used = np.abs(gear.helms[0].angle) / task.known.hard_over
    if memory.mode == TRANSIT and used > out.rudder:
        out.rudder = used
        out.rudder_at = memory.along
    out.rate = max(out.rate, np.abs(motion.yaw_rate))
    demands.of_engines(task, aboard, time, out)
    demands.of_air(aboard, time, out)
    demands.of_thrusters(aboard, time, out)
    for unit in range(ship.tug_count):
        out.tugs = max(out.tugs, gear.tugs[unit].power)


@formula
def close(memory: Any, reason: int, time: float, out: Any) -> None:
    """Write down how and where it ended, and what was said."""
    out.reason = reason
    out.time = time
    out.place = memory.along
    out.orders = memory.orders
    out.wheel_orders = memory.wheel_orders
    out.engine_orders = memory.engine_orders
    out.busiest = memory.busiest
    out.busiest_at = memory.busiest_at
