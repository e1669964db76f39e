"""Under way along the track: courses to steer on the straights, wheel orders in the bends, telegraph in time.

On a straight the conn gives a course and the helmsman keeps it; the drift allowance is the triangle of velocities with
the stream seen now, and the leeway learnt on the way. A bend is begun by a wheel order as far before its arc as this
ship needs to come to its rate of turn, and ended by counter-rudder as early. Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning import bridge
from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known, distance_to_slow
from leadsman.conning.task import Aboard, Task
from leadsman.conning.waters import COURSE, CURVATURE, ORDER, SPEED, Waters
from leadsman.simulation.state import Motion

FREQUENCY = 1.6  # of the steered ship, times length over speed: she settles in two to three lengths. Ours
DAMPING = 0.9  # of the steered ship [-]. Ours
LOOK_AHEAD = 2.2  # lengths: how far ahead on the track she is steered for. Ours
MOST_CORRECTION = np.radians(20.0)  # rad: greatest course alteration to come back to the track. Ours
LEARNING = 2.0  # lengths run while leeway is learnt. Ours
BIAS = 5.0  # lengths run while the wheel that wind and banks ask for is learnt. Ours
SHARE_OF_ANSWER = 0.6  # of her time constant, by which a wheel order is given before the turn. Ours
SLOWEST_STEERING = 0.5  # m/s: below it the rudder is taken to answer no better than here. Ours
RACE_SHARE = 0.8  # of the speed an order comes to, which its race is worth to the rudder of a slower ship. Ours
STRAIGHT = 1e-6  # 1/m: curvature below which the track is straight


@formula
def angle(difference: float) -> Real:
    """The same angle between -pi and pi. [rad]"""
    return difference - 2.0 * np.pi * np.floor(difference / (2.0 * np.pi) + 0.5)


@formula
def lead_time(known: Known, speed: float, wheel: float) -> Real:
    """From wheel order to the rate of turn: half the time of the gear to the wheel, and her own answer. [s]"""
    return 0.5 * wheel / known.wheel_rate + SHARE_OF_ANSWER * known.answer * known.length / speed


@formula
def gains(known: Known, speed: float) -> tuple[Real, Real]:
    """Wheel per radian off course, and per rate of turn, for a steered ship of the frequency and damping above.

    Source: first-order steering equation T r' + r = K rudder, [Nomoto1957].
    """
    steepness = max(known.turning, 0.3)
    course = known.answer * FREQUENCY * FREQUENCY / steepness
    rate = max(2.0 * DAMPING * FREQUENCY * known.answer - 1.0, 0.0) / steepness
    return course, rate * known.length / speed


@formula
def drift_allowance(course: float, speed: float, stream_north: float, stream_east: float) -> Real:
    """What is added to a course so that the stream does not set her off it. [rad]

    Source: triangle of velocities (docs/methods/turn.md).
    """
    across = stream_east * np.cos(course) - stream_north * np.sin(course)
    return -np.arcsin(min(max(across / max(speed, SLOWEST_STEERING), -0.7), 0.7))


@formula
def wanted_course(waters: Waters, known: Known, memory: Any, lead: float) -> tuple[Real, Real]:
    """Course over the ground to be made good now, and the track's curvature where she will be when she answers.

    Over the last length of a bend the curvature falls to none: she is checked in time, not when the arc is over.
    """
    points = waters.track.shape[0]
    ahead = min(int(memory.point + lead / waters.track_step + 0.5), points - 1)
    course = waters.track[ahead, COURSE]
    further = min(ahead + int(known.length / waters.track_step + 0.5), points - 1)
    coming = angle(waters.track[further, COURSE] - course) / known.length
    curvature = waters.track[ahead, CURVATURE]
    if curvature * coming <= 0.0 or np.abs(coming) < np.abs(curvature):
        curvature = coming if curvature * coming > 0.0 else 0.0
    reach = LOOK_AHEAD * known.length
    correction = -np.arctan(memory.across / reach)
    correction = min(max(correction, -MOST_CORRECTION), MOST_CORRECTION)
    return course + correction, curvature


@formula
def wanted_heading(task: Task, aboard: Aboard, motion: Motion, speed: float, over_ground: float) -> tuple[Real, Real]:
    """Heading to steer now, drift allowance and leeway laid off [rad], and the track's curvature to be turned with
    [1/m]; the leeway is learnt on the way."""
    known, memory, around = task.known, aboard.memory, aboard.around
    lead = over_ground * lead_time(known, speed, task.habits.wheel_step * 3.0)
    course, curvature = wanted_course(task.waters, known, memory, lead)
    drifting = motion.sway / speed - known.drift * motion.yaw_rate * known.length / speed
    memory.leeway += (drifting - memory.leeway) * CONSIDER * speed / (known.length * LEARNING)
    heading = course + drift_allowance(course, speed, around.stream_north, around.stream_east) - memory.leeway
    return heading - known.drift * over_ground * curvature * known.length / speed, curvature


@formula
def wanted_wheel(
    task: Task, memory: Any, motion: Motion, heading: float, curvature: float, speed: float, over_ground: float
) -> Real:
    """Wheel that holds the turn, comes back to the heading and stands against what pushes her, as far as learnt.
    [rad]"""
    known = task.known
    turning = over_ground * curvature
    by_course, by_rate = gains(known, speed)
    ahead = over_ground * lead_time(known, speed, task.habits.wheel_step * 3.0) / max(over_ground, SLOWEST_STEERING)
    off = angle(heading - motion.heading - motion.yaw_rate * ahead)
    memory.off = off
    by_rate = max(by_rate - by_course * ahead, 0.0)
    holding = turning * known.length / (speed * max(known.turning, 0.3))
    wheel = holding + by_course * off + by_rate * (turning - motion.yaw_rate)
    if np.abs(off) < np.radians(5.0) and np.abs(curvature) < STRAIGHT:
        memory.bias += by_course * off * CONSIDER * speed / (known.length * BIAS)
        memory.bias = min(max(memory.bias, -MOST_BIAS), MOST_BIAS)
    return wheel + memory.bias


@formula
def steering_speed(known: Known, memory: Any, surge: float) -> Real:
    """The speed that tells how the rudder works: her own, or, while she gathers way, that of the race that the engine
    makes for it, which is nearly that of the speed she is to come to. [m/s]"""
    race = RACE_SHARE * known.steady[int(memory.telegraph[0])]
    return max(surge, race, SLOWEST_STEERING)


@formula
def steer(task: Task, aboard: Aboard, motion: Motion, time: float) -> None:
    """One look at the compass: courses, wheel orders, and the helmsman's own wheel."""
    known, habits, memory, around, log = task.known, task.habits, aboard.memory, aboard.around, aboard.log
    speed = max(np.abs(motion.surge), SLOWEST_STEERING)
    north = motion.surge * np.cos(motion.heading) - motion.sway * np.sin(motion.heading) + around.stream_north
    east = motion.surge * np.sin(motion.heading) + motion.sway * np.cos(motion.heading) + around.stream_east
    over_ground = np.sqrt(north * north + east * east)
    heading, curvature = wanted_heading(task, aboard, motion, speed, over_ground)
    answering = steering_speed(known, memory, motion.surge)
    wheel = wanted_wheel(task, memory, motion, heading, curvature, answering, over_ground)

    bending = np.abs(curvature) > STRAIGHT or (memory.bend > 0.0 and np.abs(memory.off) > np.radians(3.0))
    urgent = min(max((np.abs(memory.off) - OFF) / OFF, 0.0), 1.0)
    most = min(habits.bend_wheel, known.hard_over)
    most += urgent * (known.hard_over - most)
    asked = min(max(wheel * (1.0 + urgent), -most), most)
    step = habits.wheel_step if bending else habits.helmsman_step
    wheel = min(max(step * np.floor(asked / step + 0.5), -known.hard_over), known.hard_over)

    if bending:
        memory.bend = 1.0
    else:
        steer_a_course(habits, memory, heading, time, log)
    if time - memory.last_wheel >= habits.wheel_gap and np.abs(asked - memory.told_wheel) >= ENOUGH * step:
        bridge.say_wheel(log, memory, time, wheel, habits.helmsman + aboard.draw.helmsman, bool(bending))


@formula
def steer_a_course(habits: Habits, memory: Any, heading: float, time: float, log: Any) -> None:
    """Give another course to steer at the end of a bend, or where the one that stands is no longer right."""
    if memory.bend > 0.0 or np.abs(angle(heading - memory.course)) > 2.0 * habits.course_step:
        steered = habits.course_step * np.floor(heading / habits.course_step + 0.5)
        if memory.bend > 0.0 or time - memory.last_look > COURSE_GAP:
            memory.course = steered
            memory.last_look = time
            bridge.write(log, memory, time, bridge.COURSE_ORDER, 0, steered, 0.0)
        memory.bend = 0.0


MOST_BIAS = np.radians(15.0)  # rad: greatest wheel learnt to be carried against wind and banks. Ours
ENOUGH = 0.8  # of the wheel's step: a smaller difference is no new order. Ours
CONSIDER = 2.0  # s between two looks at the compass
COURSE_GAP = 30.0  # s: least time between two courses to steer on a straight. Ours


@formula
def telegraph_line(known: Known, speed: float) -> int:
    """The lowest ahead order that makes a speed. [line]"""
    line = known.stop + 1
    while line + 1 < known.steady.shape[0] and known.steady[line] < speed - 0.05:
        line += 1
    return line


@formula
def planned_line(waters: Waters, known: Known, index: int) -> int:
    """The order planned at a point of the track: as given, or the lowest that makes the planned speed."""
    order = int(waters.track[index, ORDER])
    return order if order >= 0 else telegraph_line(known, waters.track[index, SPEED])


@formula
def slower_ahead(waters: Waters, known: Known, memory: Any, speed: float, over_ground: float) -> int:
    """The telegraph order for now: that of this place, or a slower one that must be rung in time for what lies ahead.

    Where the plan is slower than any order goes, the engine is stopped and rung ahead again between.
    """
    index = int(memory.point)
    line = planned_line(waters, known, index)
    wanted = waters.track[index, SPEED]
    coasting = int(memory.told_telegraph[0]) == known.stop and speed > wanted - SPEED_BAND
    if waters.track[index, ORDER] < 0 and (speed > wanted + SPEED_BAND or coasting):
        line = known.stop
    share = over_ground / max(speed, 0.1)
    ahead = index
    reach = waters.track.shape[0]
    most = index + int(FARTHEST / waters.track_step)
    while ahead + 1 < min(reach, most):
        ahead += 1
        if waters.track[ahead, SPEED] < waters.track[ahead - 1, SPEED] - 0.05:
            next_line = planned_line(waters, known, ahead)
            goal = waters.track[ahead, SPEED]
            if waters.track[ahead, ORDER] < 0:
                next_line = known.stop
            else:
                goal = max(known.steady[next_line], 0.0)
            goal += SPEED_BAND
            left = (ahead - index) * waters.track_step
            if next_line < line and speed > goal and left <= share * distance_to_slow(known, next_line, speed, goal):
                line = next_line
            # Once slowing for it she is not rung up again, where the higher order would have to be taken off at once.
            before = int(memory.told_telegraph[0])
            if next_line <= before < line and left <= share * distance_to_slow(
                known, next_line, known.steady[line], goal
            ):
                line = before
    return line


FAST_TO_KICK = 4.0  # m/s: faster than this the water alone keeps the rudder working. Ours
FARTHEST = 4000.0  # m: way off that is looked at beforehand; no order on the telegraph is thought over earlier
SPEED_BAND = 0.2  # m/s: about the speed planned, within which the telegraph is left alone. Ours


@formula
def kicked(known: Known, memory: Any, motion: Motion, line: int) -> int:
    """The order with a kick ahead where the rudder alone does not do.

    A stopped screw leaves the rudder little: in a bend, and where much wheel is on, she is kept ahead. With much wheel
    on and still off her heading she gets one order more; at the end of the wheel two, and another each time that has
    not brought her round; it stays until she is back.
    """
    strain = np.abs(memory.told_wheel) / known.hard_over
    if line == known.stop and (memory.bend > 0.0 or strain > SOME_WHEEL) and motion.surge < FAST_TO_KICK:
        line = known.stop + 1
    more = 0
    if strain > MUCH_WHEEL and np.abs(memory.off) > OFF:
        more = min(max(int(memory.told_telegraph[0]) - line + 1, 2), MOST_KICK) if strain > ALL_WHEEL else 1
    elif strain > SOME_WHEEL:
        more = max(min(int(memory.told_telegraph[0]) - line, MOST_KICK), 0)
    return int(min(line + more, known.steady.shape[0] - 1))


MOST_KICK = 4  # orders more than planned: where the wheel is hard over and does nothing, there is nothing to save. Ours
SOME_WHEEL, MUCH_WHEEL, ALL_WHEEL = 0.3, 0.55, 0.85  # of hard over. Ours
OFF = np.radians(4.0)  # rad off the heading wanted, from which much wheel is too little. Ours


@formula
def ring(task: Task, aboard: Aboard, motion: Motion, time: float) -> None:
    """Ring the telegraph where the plan, or what lies ahead, asks for another order."""
    memory, around = aboard.memory, aboard.around
    if time - memory.last_engine < task.habits.engine_gap:
        return
    over_ground = (
        motion.surge + around.stream_north * np.cos(motion.heading) + around.stream_east * np.sin(motion.heading)
    )
    line = slower_ahead(task.waters, task.known, memory, max(motion.surge, 0.0), over_ground)
    line = kicked(task.known, memory, motion, line)
    for shaft in range(aboard.ship.screw_count):
        bridge.say_telegraph(aboard.log, memory, time, shaft, line, task.habits.engineer)
