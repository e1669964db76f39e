"""Slow work: swinging, the approach, laying alongside, leaving. Every look the conn tries orders a person could give.

The work is cut into phases, each with a place, a heading and the speeds allowed. They say how she ought to move where
she is now: towards the place no faster than she can still stop, turning no faster than she can still check. Each of
the orders the ship can be given is tried in the model for the next minute or two, and the one is given whose motion
comes nearest to that, keeps farthest off quay and shoal, and asks least of engine and people. Compiled.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, kernel
from leadsman.conning import bridge, outline
from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known
from leadsman.conning.outline import Quay
from leadsman.conning.transit import angle
from leadsman.conning.waters import Waters
from leadsman.simulation.kernel import step
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.state import Motion

GO, SWING, LAND = 0, 1, 2
"""Kinds of phase."""

KIND, NORTH, EAST, HEADING, SIDE, AHEAD, ACROSS, RATE, NEAR, SQUARE, STILL = range(11)
"""Columns of the phases: kind; place [m]; heading [rad]; the way to turn (+1 starboard, -1 port, 0 the shorter);
greatest speed ahead, across [m/s] and rate of turn [rad/s]; when it is done: place within [m], heading within [rad],
speed below [m/s]; of landing: the speed she is to touch with."""

PACE = 0.30  # m/s: an error of speed ahead that weighs as much as
RUSH = 0.15  # m/s: one faster than she can still stop
DRIFT = 0.12  # m/s: one across, or of an end by turning
HARD = 0.04  # m/s: one towards the quay, faster than she is to be landed
SPACE = 12.0  # m: distance to quay or shoal below which it weighs
CHANGE_ENGINE, CHANGE_WHEEL, CHANGE_HELP = 0.25, 0.05, 0.06  # of a mean squared error, what an order costs
GENTLY = 0.6  # of how fast she can be checked sideways is used on the way to the quay
LANDING_VIEW = 0.6  # of the time looked ahead otherwise: pushes are shorter close to a quay, but for tugs
CONTENT = 2.0  # mean fault and effort below which orders are good enough not to be thought over once more
EFFORT = 0.03  # what full power of everything costs
LEEWAY = 0.02  # of the wind: set of a ship that makes little way, laid off in her heading (common practice, no source)
CHECK = 0.436  # rad: from this far off the wanted heading she may turn at the full rate


class Thought(NamedTuple):
    """What the trial motions need."""

    stopping: float
    """How fast she can take her way off with engine or tugs. [m/s²]"""
    bodily: float
    """How fast she can be moved across. [m/s²]"""


@formula
def wanted(
    phase: Any, thought: Thought, quay: Quay, hull: Any, motion: Motion, around: Any, goal: float
) -> tuple[Real, Real, Real, Real]:
    """How she ought to move here: over the ground along and across the phase's heading, turning; and the heading's
    cosine weight."""
    course = phase[HEADING]
    ahead = (phase[NORTH] - motion.north) * np.cos(course) + (phase[EAST] - motion.east) * np.sin(course)
    right = (phase[EAST] - motion.east) * np.cos(course) - (phase[NORTH] - motion.north) * np.sin(course)
    along = np.sign(ahead) * min(phase[AHEAD], np.sqrt(2.0 * thought.stopping * np.abs(ahead)), np.abs(ahead) / 15.0)
    across = np.sign(right) * min(phase[ACROSS], np.sqrt(2.0 * thought.bodily * np.abs(right)), np.abs(right) / 30.0)
    if phase[KIND] == SWING:
        along *= 0.6
        across *= 0.6
    if phase[KIND] == LAND:
        gap, _ = outline.quay_gap(quay, hull, motion)
        pace = min(phase[ACROSS], np.sqrt(phase[STILL] ** 2 + 2.0 * GENTLY * thought.bodily * max(gap, 0.0)))
        across = np.sign(right) * pace
    bent = goal
    if phase[KIND] == GO:
        share = min(np.abs(ahead) / (2.0 * np.abs(hull[0, 0])), 1.0)
        bent += np.sign(ahead) * share * min(max(np.arctan(right / (3.0 * hull[0, 0])), -0.4), 0.4)
        set_across = around.stream_east * np.cos(course) - around.stream_north * np.sin(course)
        set_across -= LEEWAY * around.wind_speed * np.sin(around.wind_from - course)
        bent -= np.sign(ahead) * share * min(max(np.arctan(set_across / max(np.abs(along), 0.5)), -0.5), 0.5)
    off = bent - motion.heading
    rate = np.sign(off) * phase[RATE] * min(1.0, np.sqrt(np.abs(off) / CHECK), np.abs(off) / (phase[RATE] * 12.0))
    return along, across, rate, course


@formula
def fault(
    phase: Any, thought: Thought, waters: Waters, quay: Quay, hull: Any, motion: Motion, around: Any, goal: float
) -> Real:
    """How far a motion is from what is wanted, squared; near quay and shoal it weighs heavily. [-]"""
    along, across, rate, course = wanted(phase, thought, quay, hull, motion, around, goal)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    made = north * np.cos(course) + east * np.sin(course)
    drifted = east * np.cos(course) - north * np.sin(course)
    half = np.abs(hull[0, 0])
    racing = (made - along) * np.sign(along) > 0.0
    too_fast = phase[KIND] == LAND and (drifted - across) * np.sign(across) > 0.0
    return (
        ((made - along) / (RUSH if racing else PACE)) ** 2
        + ((drifted - across) / (HARD if too_fast else DRIFT)) ** 2
        + ((motion.yaw_rate - rate) * half / DRIFT) ** 2
    )


@formula
def crowded(phase: Any, waters: Waters, quay: Quay, hull: Any, motion: Motion) -> Real:
    """What being near quay or shoal adds. [-]"""
    room = outline.water_room(waters, hull, motion)
    found = 0.0
    if room < SPACE:
        found += 4.0 * (1.0 - max(room, 0.0) / SPACE) ** 2
    if phase[KIND] != LAND:
        gap, _ = outline.quay_gap(quay, hull, motion)
        if gap < SPACE:
            found += 25.0 * (1.0 - max(gap, -SPACE) / SPACE) ** 2
    return found


@kernel
def foreseen(
    ship: Any,
    tables: Any,
    spare: Any,
    known: Known,
    habits: Habits,
    phase: Any,
    thought: Thought,
    waters: Waters,
    quay: Quay,
    hull: Any,
    motion: Motion,
    around: Any,
    orders: Any,
    goal: float,
    time: float,
    most: float,
) -> float:
    """Mean fault of her motion over the time looked ahead, with `orders` put on the gear now; `spare` is used up.

    Half-way the engines are thought stopped: a kick is judged by what is left of it, and whoever wants more of it gives
    it again at the next look. Once the mean must come out above `most` nothing more is computed: infinite.

    `orders`: telegraph line of each shaft, wheel, then quarters of thrusters, then quarters and lead of tugs.
    """
    bridge.put(ship, known, spare, orders)
    interval = habits.prediction
    near = phase[KIND] == LAND and ship.tug_count == 0
    count = int((LANDING_VIEW if near else 1.0) * habits.horizon / interval)
    total = 0.0
    weights = count + 0.5 * (count - 1.0)
    for number in range(count):
        if total > most * weights:
            return np.inf
        if number == count // 2:
            for shaft in range(ship.screw_count):
                spare.shafts[shaft].order_speed = known.speeds[known.stop]
                spare.shafts[shaft].order_pitch = known.pitches[known.stop]
        motion = step(ship, tables, spare, motion, around, NO_FORCE, time + number * interval, interval)
        weight = 1.0 + number / count
        total += weight * fault(phase, thought, waters, quay, hull, motion, around, goal)
        if number % 3 == 2:
            total += 3.0 * weight * crowded(phase, waters, quay, hull, motion)
    return total / weights


@formula
def effort(ship: Any, known: Known, orders: Any, before: Any) -> Real:
    """What the orders cost: those that are new, and the power they ask. [-]"""
    found = 0.0
    shafts = int(ship.screw_count)
    for shaft in range(shafts):
        line = int(orders[shaft])
        if line != int(before[shaft]):
            found += CHANGE_ENGINE / shafts
        found += (
            EFFORT * np.abs(known.speeds[line] * known.pitches[line] / (known.speeds[-1] * known.pitches[-1])) / shafts
        )
    if orders[shafts] != before[shafts]:
        found += CHANGE_WHEEL
    place = shafts + 1
    for unit in range(int(ship.thruster_count)):
        if orders[place + unit] != before[place + unit]:
            found += CHANGE_HELP
        found += EFFORT * np.abs(orders[place + unit]) / 4.0
    place += int(ship.thruster_count)
    for unit in range(int(ship.tug_count)):
        if (
            orders[place + 2 * unit] != before[place + 2 * unit]
            or orders[place + 2 * unit + 1] != before[place + 2 * unit + 1]
        ):
            found += CHANGE_HELP
        found += EFFORT * np.abs(orders[place + 2 * unit]) / 4.0
    return found


@formula
def copied(source: Any, target: Any, count: int) -> None:
    """Copy the first entries of a line of orders."""
    for number in range(count):
        target[number] = source[number]


@kernel
def thought_over(
    ship: Any,
    tables: Any,
    gear: Any,
    spares: Any,
    known: Known,
    habits: Habits,
    moves: Any,
    phase: Any,
    thought: Thought,
    waters: Waters,
    quay: Quay,
    hull: Any,
    motion: Motion,
    around: Any,
    memory: Any,
    goal: float,
    time: float,
) -> float:
    """Find the orders to give now into `memory.orders_best`, and what they cost.

    Each of the moves is tried upon the best orders found so far: once beginning with the orders that stand, once with
    everything stopped, for of orders that only undo each other no single one can be changed for the better.
    """
    now = memory.orders_now
    trial = memory.orders_tried
    best = memory.orders_best
    chosen = memory.orders_chosen
    count = bridge.standing(ship, memory, memory.told_telegraph, memory.told_wheel, now)
    least_of_all = np.inf
    for quiet in range(2):
        if least_of_all < CONTENT:
            break
        copied(now, best, count)
        if quiet == 1:
            for place in range(count):
                best[place] = known.stop if place < ship.screw_count else 0.0
        least = np.inf
        for number in range(-1, moves.shape[0]):
            copied(best, trial, count)
            new = number < 0
            if number >= 0:
                for place in range(count):
                    asked = moves[number, place]
                    if not np.isnan(asked) and asked != trial[place]:
                        trial[place] = asked
                        new = True
            if new:
                spares[0] = gear
                cost = effort(ship, known, trial, now)
                cost += foreseen(
                    ship, tables, spares[0], known, habits, phase, thought, waters, quay, hull, motion, around, trial,
                    goal, time, least - cost,
                )  # fmt: skip
                if cost < least:
                    least = cost
                    copied(trial, best, count)
        if least < least_of_all:
            least_of_all = least
            copied(best, chosen, count)
    copied(chosen, best, count)
    return least_of_all


@formula
def give(ship: Any, habits: Habits, draw: Any, memory: Any, time: float, log: Any) -> None:
    """Give the orders of `memory.orders_best` that are new."""
    shafts = int(ship.screw_count)
    best = memory.orders_best
    for shaft in range(shafts):
        bridge.say_telegraph(log, memory, time, shaft, int(best[shaft]), habits.engineer)
    bridge.say_wheel(log, memory, time, best[shafts], habits.helmsman + draw.helmsman, True)
    place = shafts + 1
    for unit in range(int(ship.thruster_count)):
        if best[place + unit] != memory.thrust[unit]:
            memory.thrust[unit] = best[place + unit]
            bridge.write(log, memory, time, bridge.THRUSTER_ORDER, unit, memory.thrust[unit], 0.0)
    place += int(ship.thruster_count)
    for unit in range(int(ship.tug_count)):
        power = best[place + 2 * unit]
        lead = best[place + 2 * unit + 1]
        if power != memory.pull[unit] or (lead != memory.lead[unit] and power > 0.0):
            memory.pull[unit] = power
            memory.lead[unit] = lead
            bridge.write(log, memory, time, bridge.TUG_ORDER, unit, power, lead)


@formula
def begin(phase: Any, memory: Any, heading: float, time: float) -> Real:
    """The heading of a phase, told whole turns and all from the heading she has, on the side she is to turn. [rad]"""
    off = angle(phase[HEADING] - heading)
    if phase[SIDE] > 0.0 and off < -EVEN:
        off += 2.0 * np.pi
    if phase[SIDE] < 0.0 and off > EVEN:
        off -= 2.0 * np.pi
    memory.phase_since = time
    return heading + off


EVEN = 0.35  # rad: nearer than this to the heading she goes back rather than round


@formula
def done(phase: Any, motion: Motion, around: Any, goal: float) -> bool:
    """Whether a phase is done: near enough, square enough, slow enough."""
    apart = np.sqrt((phase[NORTH] - motion.north) ** 2 + (phase[EAST] - motion.east) ** 2)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    speed = np.sqrt(north * north + east * east)
    return bool(apart <= phase[NEAR] and np.abs(goal - motion.heading) <= phase[SQUARE] and speed <= phase[STILL])
