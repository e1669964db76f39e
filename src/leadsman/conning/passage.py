"""One passage in time: the conn drives, the ship answers, and what is left on all sides is watched every second.

A run ends by a reason, and only by one: alongside, clear on her way, aground, out of the fairway, struck too hard, out
of time. Compiled; `conning/run.py` calls it from Python.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula, kernel
from leadsman.conning import bridge, failures, harbour, outline, transit, waters
from leadsman.conning.bridge import ENDED, HARBOUR, TRANSIT, Habits
from leadsman.conning.harbour import Thought, thought_over
from leadsman.conning.known import Known
from leadsman.conning.outline import Quay
from leadsman.conning.waters import Waters
from leadsman.simulation.kernel import step
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.state import Motion, finite

(UNDER_WAY, ALONGSIDE, CLEAR, AGROUND, OUT_OF_FAIRWAY, STRUCK, STRUCK_ASKEW, OUT_OF_TIME, BROKEN, HELD) = range(10)
"""How a run stands or has ended; held: a failure on the way brought no danger."""

SECOND = 1.0  # s: the step of a run
WATCH = 2  # steps between two looks at edges and water
TELEGRAPH_LOOK = 10  # steps between two thoughts about the telegraph


class Voyage(NamedTuple):
    """From where to where. `harbour_first` outward bound; `handover` the place of the track where slow work begins, or,
    outward, where the passage ends [m]; `most_time` [s]; `landing_speed` [m/s] and `landing_angle` [rad] borne."""

    harbour_first: bool
    handover: float
    most_time: float
    landing_speed: float
    landing_angle: float


class Outcome(NamedTuple):
    """What came of a run; record fields. Places are distances along the track. [m]

    Least room to the edges, to water too shallow, under the keel, and where; greatest rudder under way as a share of
    hard over; greatest rate of turn; landing speed, angle off the quay, place along it; time of the handover and of
    the end; orders counted.
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

    thruster: float
    tugs: float


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
def note(
    track: Any, line: int, time: float, motion: Motion, gear: Any, memory: Any, around: Any, level: float, sight: Any
) -> None:
    """Write one line of the track, if there is one to write to."""
    if line >= track.shape[0]:
        return
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
def watch(
    water: Waters,
    ship: Any,
    hull: Any,
    memory: Any,
    motion: Motion,
    level: float,
    draught: float,
    out: Any,
    sight: Any,
    swept: Any,
) -> int:
    """Look at keel, edges and shoals; note what is least; and say whether that ends the run."""
    under = outline.keel(water, ship, hull, draught, level, motion)
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
def landing(quay: Quay, hull: Any, voyage: Voyage, motion: Motion, around: Any, landing_now: bool, out: Any) -> int:
    """Whether she has come to the quay, and how."""
    gap, _ = outline.quay_gap(quay, hull, motion)
    if gap > 0.0:
        return UNDER_WAY
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    bodily = -(north * quay.off_north + east * quay.off_east)
    ends = np.abs(motion.yaw_rate) * np.abs(hull[0, 0]) * LANDING_ARM
    lie = np.arctan2(quay.along_east, quay.along_north)
    turned = transit.angle(2.0 * (motion.heading - lie)) * 0.5
    centre_north, centre_east = motion.north - quay.north, motion.east - quay.east
    out.landing_speed = max(bodily + ends, 0.0)
    out.landing_angle = np.abs(turned)
    out.landing_place = centre_north * quay.along_north + centre_east * quay.along_east
    if out.landing_speed > voyage.landing_speed:
        return STRUCK
    if not landing_now or out.landing_angle > voyage.landing_angle:
        return STRUCK_ASKEW
    return ALONGSIDE


LANDING_ARM = 0.6  # of half her length: where the ends of the parallel body are, whose approach counts too. Ours


@formula
def reckon(ship: Any, gear: Any, memory: Any, motion: Motion, known: Known, out: Any) -> None:
    """Note what of rudder, rate of turn, thrusters and tugs is used."""
    used = np.abs(gear.helms[0].angle) / known.hard_over
    if memory.mode == TRANSIT and used > out.rudder:
        out.rudder = used
        out.rudder_at = memory.along
    out.rate = max(out.rate, np.abs(motion.yaw_rate))
    for unit in range(ship.thruster_count):
        out.thruster = max(out.thruster, np.abs(gear.thrusters[unit].share))
    for unit in range(ship.tug_count):
        out.tugs = max(out.tugs, gear.tugs[unit].power)


@formula
def begin_outcome(out: Any) -> None:
    """Nothing least yet, nothing used yet."""
    out.room_port = np.inf
    out.room_starboard = np.inf
    out.water_room = np.inf
    out.keel = np.inf


@formula
def under_way(
    ship: Any,
    water: Waters,
    known: Known,
    habits: Habits,
    draw: Any,
    memory: Any,
    motion: Motion,
    around: Any,
    engine_told: bool,
    count: int,
    time: float,
    log: Any,
) -> None:
    """The conn of a second under way: compass, and now and then the telegraph unless it is told otherwise."""
    if count % int(transit.CONSIDER) == 0:
        transit.steer(water, known, habits, draw, memory, motion, around, time, log)
    if count % TELEGRAPH_LOOK == 0 and not engine_told:
        ahead = around.stream_north * np.cos(motion.heading) + around.stream_east * np.sin(motion.heading)
        transit.ring(ship, water, known, habits, memory, motion, ahead + motion.surge, time, log)


@kernel
def slow_work(
    ship: Any,
    tables: Any,
    mind: Any,
    gear: Any,
    spares: Any,
    memory: Any,
    around: Any,
    water: Waters,
    known: Known,
    habits: Habits,
    moves: Any,
    phases: Any,
    thought: Thought,
    quay: Quay,
    hull: Any,
    draw: Any,
    motion: Motion,
    out: Any,
    time: float,
    log: Any,
) -> None:
    """The conn of a second of slow work: whether a phase is done, and now and then new orders."""
    if memory.phase < 0.0:
        memory.phase = 0.0
        memory.goal = harbour.begin(phases[0], memory, motion.heading, time)
    while memory.phase < phases.shape[0] and harbour.done(phases[int(memory.phase)], motion, around, memory.goal):
        memory.phase += 1.0
        if memory.phase < phases.shape[0]:
            memory.goal = harbour.begin(phases[int(memory.phase)], memory, motion.heading, time)
        memory.last_look = -np.inf
    if memory.phase >= phases.shape[0]:
        memory.mode = TRANSIT
        out.handover_time = time
        return
    if time - memory.last_look >= habits.look:
        memory.last_look = time
        felt = around.wind_speed
        around.wind_speed = draw.wind * water.wind_speed
        thought_over(
            mind, tables, gear, spares, known, habits, moves, phases[int(memory.phase)], thought, water, quay, hull,
            motion, around, memory, memory.goal, time,
        )  # fmt: skip
        around.wind_speed = felt
        harbour.give(ship, habits, draw, memory, time, log)


@kernel
def passage(
    ship: Any,
    tables: Any,
    mind: Any,
    gear: Any,
    spares: Any,
    memory: Any,
    around: Any,
    water: Waters,
    known: Known,
    habits: Habits,
    moves: Any,
    phases: Any,
    thought: Thought,
    quay: Quay,
    hull: Any,
    voyage: Voyage,
    draw: Any,
    failure: Any,
    motion: Motion,
    out: Any,
    track: Any,
    log: Any,
    swept: Any,
) -> Motion:
    """Sail the passage until a reason ends it. `mind` is the ship the conn believes in, `ship` the one she is."""
    begin_outcome(out)
    sight = np.empty(3)
    length = ship.hull.length
    reason = UNDER_WAY
    memory.phase = -1.0
    count = 0
    time = 0.0
    level = 0.0
    while reason == UNDER_WAY:
        memory.point = waters.progress(water, int(memory.point), motion.north, motion.east)
        index = int(memory.point)
        memory.along, memory.across = waters.along_across(water, index, motion.north, motion.east)
        waters.look_round(
            water, draw, length, index, memory.along, memory.across, motion.heading, motion.north, motion.east, time,
            SECOND, around,
        )  # fmt: skip
        level = waters.level_here(water, draw, memory.along, time)
        if count % WATCH == 0:
            reason = watch(water, ship, hull, memory, motion, level, draw.draught, out, sight, swept)
        if memory.mode == HARBOUR or voyage.harbour_first:
            now = min(max(int(memory.phase), 0), phases.shape[0] - 1)
            at_quay = memory.mode == HARBOUR and phases[now, harbour.KIND] == harbour.LAND
            leaving = voyage.harbour_first and time < LEAVING
            if not leaving:
                struck = landing(quay, hull, voyage, motion, around, at_quay, out)
                reason = struck if struck != UNDER_WAY else reason
        note(track, count, time, motion, gear, memory, around, level, sight)
        if reason != UNDER_WAY:
            break

        failing = failure.kind > 0.0 and time >= failure.time
        if failing:
            failures.strike(ship, gear, failure)
            if time >= failure.time + failures.WATCHED:
                reason = HELD
                break
        seen = failing and failure.answered > 0.0 and time >= failure.time + failures.SEEN
        instead = False
        if seen:
            instead = failures.answer(ship, known, habits, memory, motion, gear, around, failure, time, log)
            if instead and failures.over_ground(motion, around) < failures.STOPPED:
                reason = HELD
                break
        if memory.mode == TRANSIT and memory.along >= voyage.handover and (not failing or seen):
            if voyage.harbour_first:
                reason = CLEAR
                break
            memory.mode = HARBOUR
            out.handover_time = time
            memory.last_look = -np.inf
        if not failing or seen:
            if memory.mode == TRANSIT:
                under_way(ship, water, known, habits, draw, memory, motion, around, instead, count, time, log)
            elif not instead:
                slow_work(
                    ship, tables, mind, gear, spares, memory, around, water, known, habits, moves, phases, thought,
                    quay, hull, draw, motion, out, time, log,
                )  # fmt: skip
        bridge.pass_on(ship, known, gear, memory, time)
        motion = step(ship, tables, gear, motion, around, NO_FORCE, time, SECOND)
        reckon(ship, gear, memory, motion, known, out)
        count += 1
        time = count * SECOND
        if not finite(motion):
            reason = BROKEN
        if time >= voyage.most_time:
            reason = OUT_OF_TIME
    out.reason = reason
    out.time = time
    out.place = memory.along
    out.orders = memory.orders
    out.wheel_orders = memory.wheel_orders
    out.engine_orders = memory.engine_orders
    memory.mode = ENDED
    return motion


LEAVING = 60.0  # s: so long after the lines are let go a touch of the quay is no strike
