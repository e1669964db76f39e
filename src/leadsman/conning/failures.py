"""Something fails on the way: what breaks, and what the bridge does about it. Compiled formulas.

Without an answer the bridge goes on as planned, with what is left. An `Answer` begins when the failure has been seen
and takes the place of the plan: what engines, wheel, thrusters and tugs, and anchors are told from then on, by rules a
person could follow. Which answer is best where is found by trying (`assessment.failures`).
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning import bridge, transit
from leadsman.conning.bridge import TRANSIT
from leadsman.conning.outcome import HELD, UNDER_WAY, UNHURT
from leadsman.conning.task import Aboard, Task
from leadsman.conning.waters import COURSE
from leadsman.simulation.state import DEAD, STUCK, Motion

(NOTHING, ENGINE, RUDDER, RUDDER_STARBOARD, RUDDER_PORT, THRUSTERS, BLACKOUT, TUG, ONE_ENGINE) = range(9)
"""Kinds of failure: every engine; the rudder where it stands, or hard over; all thrusters; all power; one tug; one
engine of several."""

AS_PLANNED, STOPPED, TAKEN_OFF = 0, 1, 2
"""Engines: told as planned; stopped; astern until her way over the ground is off, then holding her."""
STEERED, HARD_STARBOARD, HARD_PORT = 0, 1, 2
"""Wheel: the helmsman steers on under way, amidships in slow work; hard over."""
LEFT, STEERING, BRAKING = 0, 1, 2
"""Thrusters and tugs: stopped; turning her to the course of the track; tugs taking her way off."""

SEEN = 30.0  # s from a failure to the first order against it (common practice, no source)
WATCHED = 1200.0  # s after a failure without danger, after which it is not watched any more. Ours
ANCHOR_SPEED = 2.0  # m/s through the water: slower than about 4 kn anchors can be let go (standards sheet: 3 to 4 kn)
STOPPED_SPEED = 0.25  # m/s, of midships over the ground and of her ends by turning: half a knot. Ours
STOPPED_TIME = 60.0  # s so slow, after which she is held. Ours
TELEGRAPH_GAP = 10.0  # s between two telegraph orders of an answer: quicker than as planned. Ours
STEERING_GAP = 15.0  # s between two orders to thrusters and tugs that steer her. Ours
STEERING_SPAN = np.radians(10.0)  # rad off her course, or about to be, for which they give all they have. Ours
STEERING_TIME = 30.0  # s ahead that is looked for it: what thruster and tug take to follow. Ours
HARD_OVER = np.radians(35.0)  # rad: farther over than this no stuck rudder or pod is taken to stand
TO_STARBOARD, ASTERN, TO_PORT = 1.0, 2.0, 3.0  # leads of a tug, in quarters of a turn from the bow


class Failure(NamedTuple):
    """What fails and when [s], and the answer; record fields.

    `unit` the tug, or the engine of several; `answered` 1 where the fields after it count; `anchors` how many are let
    go, with `cable` of each [m]. `slow` counts the seconds she has been stopped.
    """

    kind: float
    time: float
    unit: float
    answered: float
    engines: float
    wheel: float
    helpers: float
    anchors: float
    cable: float
    slow: float


@formula
def strike(ship: Any, gear: Any, failure: Any) -> None:
    """Put the failure on the gear; to be repeated does no harm."""
    kind = int(failure.kind)
    if kind in (ENGINE, BLACKOUT):
        for index in range(ship.screw_count):
            gear.shafts[index].fault = DEAD
    if kind == ONE_ENGINE:
        gear.shafts[int(failure.unit)].fault = DEAD
    if kind in (RUDDER, RUDDER_STARBOARD, RUDDER_PORT, BLACKOUT):
        for index in range(ship.rudder_count):
            if gear.helms[index].fault == 0.0 and kind in (RUDDER_STARBOARD, RUDDER_PORT):
                greatest = min(ship.rudders[index].greatest_angle, HARD_OVER)
                gear.helms[index].angle = greatest if kind == RUDDER_STARBOARD else -greatest
            gear.helms[index].fault = STUCK
    if kind in (THRUSTERS, BLACKOUT):
        for index in range(ship.thruster_count):
            gear.thrusters[index].fault = DEAD
    if kind == TUG:
        gear.tugs[int(failure.unit)].fault = DEAD


@formula
def answer(task: Task, aboard: Aboard, failure: Any, motion: Motion, count: int, time: float) -> bool:
    """Give the orders of the answer for this moment; whether there is one, in the place of the plan."""
    if failure.answered == 0.0 or time < failure.time + SEEN:
        return False
    ahead = ahead_over_ground(motion, aboard.around)
    if failure.engines != AS_PLANNED:
        engines(task, aboard, failure, ahead, time)
    elif aboard.memory.mode == TRANSIT and count % TELEGRAPH_GAP == 0:
        transit.ring(task, aboard, motion, time)
    if failure.wheel == STEERED and aboard.memory.mode == TRANSIT:
        if count % int(transit.CONSIDER) == 0:
            transit.steer(task, aboard, motion, time)
    else:
        side = 1.0 if failure.wheel == HARD_STARBOARD else (-1.0 if failure.wheel == HARD_PORT else 0.0)
        delay = task.habits.helmsman + aboard.draw.helmsman
        bridge.say_wheel(aboard.log, aboard.memory, time, side * task.known.hard_over, delay, True)
    if count % STEERING_GAP == 0:
        helpers(task, aboard, failure, motion, ahead, time)
    let_go(aboard, failure, motion, time)
    return True


@formula
def engines(task: Task, aboard: Aboard, failure: Any, ahead: float, time: float) -> None:
    """Stop them; or take her way off and hold her: full astern while she makes headway, dead slow ahead while she makes
    sternway."""
    memory, stop = aboard.memory, task.known.stop
    if time - memory.last_engine < TELEGRAPH_GAP and memory.last_engine > failure.time:
        return
    line = stop
    if failure.engines == TAKEN_OFF and ahead > STOPPED_SPEED:
        line = 0
    elif failure.engines == TAKEN_OFF and ahead < -STOPPED_SPEED:
        line = stop + 1
    for shaft in range(aboard.ship.screw_count):
        bridge.say_telegraph(aboard.log, memory, time, shaft, line, task.habits.engineer)


@formula
def helpers(task: Task, aboard: Aboard, failure: Any, motion: Motion, ahead: float, time: float) -> None:
    """Thrusters and tugs: stopped; steering her; or tugs braking, astern while she makes headway."""
    ship, memory = aboard.ship, aboard.memory
    turn = quarters_to_turn(task, aboard, motion) if failure.helpers == STEERING else 0.0
    for unit in range(ship.thruster_count):
        quarters = turn if ship.thrusters[unit].position > 0.0 else -turn
        if memory.thrust[unit] != quarters:
            memory.thrust[unit] = quarters
            bridge.write(aboard.log, memory, time, bridge.THRUSTER_ORDER, unit, quarters, 0.0)
    for unit in range(ship.tug_count):
        power = np.abs(turn)
        forward = ship.tugs[unit].position > 0.0
        lead = TO_STARBOARD if (turn > 0.0) == forward else TO_PORT
        if failure.helpers == BRAKING:
            lead = ASTERN
            power = bridge.QUARTERS if ahead > STOPPED_SPEED else 0.0
        if memory.pull[unit] != power or (power > 0.0 and memory.lead[unit] != lead):
            memory.pull[unit] = power
            memory.lead[unit] = lead
            bridge.write(aboard.log, memory, time, bridge.TUG_ORDER, unit, power, lead)


@formula
def quarters_to_turn(task: Task, aboard: Aboard, motion: Motion) -> Real:
    """Quarters of what turns her, to starboard positive, that bring her to the course of the track; in slow work, that
    stop her turning."""
    off = 0.0
    if aboard.memory.mode == TRANSIT:
        off = transit.angle(task.waters.track[int(aboard.memory.point), COURSE] - motion.heading)
    share = (off - STEERING_TIME * motion.yaw_rate) / STEERING_SPAN
    return np.floor(bridge.QUARTERS * min(max(share, -1.0), 1.0) + 0.5)


@formula
def let_go(aboard: Aboard, failure: Any, motion: Motion, time: float) -> None:
    """Let the anchors go as soon as she is slow enough."""
    if np.sqrt(motion.surge**2 + motion.sway**2) >= ANCHOR_SPEED:
        return
    for index in range(min(int(failure.anchors), int(aboard.ship.anchor_count))):
        cable = aboard.gear.cables[index]
        if cable.order < failure.cable:
            cable.order = failure.cable
            bridge.write(aboard.log, aboard.memory, time, bridge.ANCHOR_ORDER, index, failure.cable, 0.0)


@formula
def ending(aboard: Aboard, failure: Any, motion: Motion, time: float) -> int:
    """Whether the watch on a failure is over: she is stopped, or nothing has come of it for long."""
    if time >= failure.time + SEEN and failure.answered > 0.0:
        fastest = max(over_ground(motion, aboard.around), np.abs(motion.yaw_rate) * 0.5 * aboard.ship.hull.length)
        failure.slow = failure.slow + 1.0 if fastest < STOPPED_SPEED else 0.0
        if failure.slow >= STOPPED_TIME:
            return HELD
    return UNHURT if time >= failure.time + WATCHED else UNDER_WAY


@formula
def over_ground(motion: Motion, around: Any) -> Real:
    """Speed over the ground. [m/s]"""
    north, east = velocity(motion, around)
    return np.sqrt(north * north + east * east)


@formula
def ahead_over_ground(motion: Motion, around: Any) -> Real:
    """Speed over the ground the way she points. [m/s]"""
    north, east = velocity(motion, around)
    return north * np.cos(motion.heading) + east * np.sin(motion.heading)


@formula
def velocity(motion: Motion, around: Any) -> tuple[Real, Real]:
    """Over the ground, north and east. [m/s]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    return (
        motion.surge * cosine - motion.sway * sine + around.stream_north,
        motion.surge * sine + motion.sway * cosine + around.stream_east,
    )
