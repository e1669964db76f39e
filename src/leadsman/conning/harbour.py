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
from leadsman.conning.deck import Deck, helped
from leadsman.conning.known import Known
from leadsman.conning.outline import Quay
from leadsman.conning.transit import angle
from leadsman.conning.waters import Waters
from leadsman.simulation.kernel import step
from leadsman.simulation.state import Motion

GO, SWING, LAND = 0, 1, 2
"""Kinds of phase."""

KIND, NORTH, EAST, HEADING, SIDE, AHEAD, ACROSS, RATE, NEAR, SQUARE, STILL = range(11)
"""Columns of the phases: kind; place [m]; heading [rad]; the way to turn (+1 starboard, -1 port, 0 the shorter); greatest
speed ahead, across [m/s] and rate of turn [rad/s]; when it is done: place within [m], heading within [rad], speed
below [m/s]."""

PACE = 0.30  # m/s: an error of speed ahead that weighs as much as
DRIFT = 0.12  # m/s: one across, or of an end by turning
SPACE = 8.0  # m: distance to quay or shoal below which it weighs
CHANGE_ENGINE, CHANGE_WHEEL, CHANGE_HELP = 0.25, 0.05, 0.06  # of a mean squared error, what an order costs
EFFORT = 0.03  # what full power of everything costs
CHECK = 0.436  # rad: from this far off the wanted heading she may turn at the full rate


class Tries(NamedTuple):
    """Orders that are tried: `engines` [tries, units + 1] a line of the telegraph for each shaft, and the wheel [rad]."""

    engines: Any


class Thought(NamedTuple):
    """What the trial motions need."""

    stopping: float
    """How fast she can take her way off with engine or tugs. [m/s²]"""
    bodily: float
    """How fast she can be moved across. [m/s²]"""


@formula
def wanted(phase: Any, thought: Thought, quay: Quay, hull: Any, motion: Motion, goal: float) -> tuple[Real, Real, Real, Real]:
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
        pace = min(phase[ACROSS], np.sqrt(phase[STILL] ** 2 + 2.0 * thought.bodily * max(gap, 0.0)))
        across = np.sign(right) * pace
    bent = goal
    if phase[KIND] == GO:
        share = min(np.abs(ahead) / (2.0 * np.abs(hull[0, 0])), 1.0)
        bent += np.sign(ahead) * share * min(max(np.arctan(right / (3.0 * hull[0, 0])), -0.4), 0.4)
    off = bent - motion.heading
    rate = np.sign(off) * phase[RATE] * min(1.0, np.sqrt(np.abs(off) / CHECK), np.abs(off) / (phase[RATE] * 12.0))
    return along, across, rate, course


@formula
def fault(
    phase: Any, thought: Thought, waters: Waters, quay: Quay, hull: Any, motion: Motion, around: Any, goal: float
) -> Real:
    """How far a motion is from what is wanted, squared; near quay and shoal it weighs heavily. [-]"""
    along, across, rate, course = wanted(phase, thought, quay, hull, motion, goal)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    made = north * np.cos(course) + east * np.sin(course)
    drifted = east * np.cos(course) - north * np.sin(course)
    half = np.abs(hull[0, 0])
    found = (
        ((made - along) / PACE) ** 2
        + ((drifted - across) / DRIFT) ** 2
        + ((motion.yaw_rate - rate) * half / DRIFT) ** 2
    )
    return found


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
    deck: Deck,
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
) -> float:
    """Mean fault of her motion over the time looked ahead, with `orders` put on the gear now; `spare` is used up.

    `orders`: telegraph line of each shaft, wheel, then quarters of thrusters, then quarters and lead of tugs.
    """
    shafts = int(ship.screw_count)
    for shaft in range(shafts):
        line = int(orders[shaft])
        spare.shafts[shaft].order_speed = known.speeds[line]
        spare.shafts[shaft].order_pitch = known.pitches[line]
    for index in range(ship.rudder_count):
        spare.helms[index].order = orders[shafts]
    interval = habits.prediction
    count = int(habits.horizon / interval)
    total = 0.0
    weights = 0.0
    for number in range(count):
        outside = helped(deck, orders, shafts + 1, motion)
        motion = step(ship, tables, spare, motion, around, outside, time + number * interval, interval)
        weight = 1.0 + number / count
        total += weight * fault(phase, thought, waters, quay, hull, motion, around, goal)
        weights += weight
        if number % 3 == 2:
            total += 3.0 * weight * crowded(phase, waters, quay, hull, motion)
    return total / weights


@formula
def effort(known: Known, deck: Deck, orders: Any, before: Any, shafts: int) -> Real:
    """What the orders cost: those that are new, and the power they ask. [-]"""
    found = 0.0
    for shaft in range(shafts):
        line = int(orders[shaft])
        if line != int(before[shaft]):
            found += CHANGE_ENGINE / shafts
        found += EFFORT * np.abs(known.speeds[line] * known.pitches[line] / (known.speeds[-1] * known.pitches[-1])) / shafts
    if orders[shafts] != before[shafts]:
        found += CHANGE_WHEEL
    place = shafts + 1
    for unit in range(deck.thrusters.shape[0]):
        if orders[place + unit] != before[place + unit]:
            found += CHANGE_HELP
        found += EFFORT * np.abs(orders[place + unit]) / 4.0
    place += deck.thrusters.shape[0]
    for unit in range(deck.tugs.shape[0]):
        if orders[place + 2 * unit] != before[place + 2 * unit] or orders[place + 2 * unit + 1] != before[place + 2 * unit + 1]:
            found += CHANGE_HELP
        found += EFFORT * np.abs(orders[place + 2 * unit]) / 4.0
    return found


@formula
def standing_orders(ship: Any, deck: Deck, memory: Any) -> None:
    """Write the orders standing on the bridge as one line into `memory.orders_now`."""
    shafts = int(ship.screw_count)
    for shaft in range(shafts):
        memory.orders_now[shaft] = memory.told_telegraph[shaft]
    memory.orders_now[shafts] = memory.told_wheel
    place = shafts + 1
    for unit in range(deck.thrusters.shape[0]):
        memory.orders_now[place + unit] = memory.thrust[unit]
    place += deck.thrusters.shape[0]
    for unit in range(deck.tugs.shape[0]):
        memory.orders_now[place + 2 * unit] = memory.pull[unit]
        memory.orders_now[place + 2 * unit + 1] = memory.lead[unit]


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
    deck: Deck,
    known: Known,
    habits: Habits,
    engines: Any,
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
    """Find the orders to give now into `memory.orders_best`: engines and wheel, then thrusters, then each tug; and what
    they cost."""
    shafts = int(ship.screw_count)
    helps = deck.thrusters.shape[0]
    tugs = deck.tugs.shape[0]
    count = shafts + 1 + helps + 2 * tugs
    now = memory.orders_now
    trial = memory.orders_tried
    best = memory.orders_best
    standing_orders(ship, deck, memory)
    copied(now, best, count)
    spares[0] = gear
    least = foreseen(
        ship, tables, spares[0], deck, known, habits, phase, thought, waters, quay, hull, motion, around, best, goal, time
    ) + effort(known, deck, best, now, shafts)
    groups = 1 + (1 if helps > 0 else 0) + tugs
    for number in range(2 * groups):
        group = number % groups
        choices = engines.shape[0]
        if group > 0:
            choices = 9 if helps > 0 and group == 1 else 1 + 2 * 4
        if number >= groups and group == 0 and groups > 1:
            continue
        for choice in range(choices):
            copied(best, trial, count)
            if group == 0:
                for shaft in range(shafts + 1):
                    trial[shaft] = engines[choice, shaft]
            elif helps > 0 and group == 1:
                for unit in range(helps):
                    trial[shafts + 1 + unit] = choice - 4.0
            else:
                tug = group - (2 if helps > 0 else 1)
                where = shafts + 1 + helps + 2 * tug
                trial[where] = 0.0 if choice == 0 else (4.0 if choice % 2 == 0 else 2.0)
                if choice > 0:
                    trial[where + 1] = (choice - 1) // 2
            same = True
            for place in range(count):
                same = same and trial[place] == best[place]
            if same:
                continue
            spares[0] = gear
            cost = foreseen(
                ship,
                tables,
                spares[0],
                deck,
                known,
                habits,
                phase,
                thought,
                waters,
                quay,
                hull,
                motion,
                around,
                trial,
                goal,
                time,
            ) + effort(known, deck, trial, now, shafts)
            if cost < least:
                least = cost
                copied(trial, best, count)
    return least


@formula
def give(ship: Any, deck: Deck, habits: Habits, draw: Any, memory: Any, time: float, log: Any) -> None:
    """Give the orders of `memory.orders_best` that are new."""
    shafts = int(ship.screw_count)
    best = memory.orders_best
    for shaft in range(shafts):
        bridge.say_telegraph(log, memory, time, shaft, int(best[shaft]), habits.engineer)
    bridge.say_wheel(log, memory, time, best[shafts], habits.helmsman + draw.helmsman, True)
    place = shafts + 1
    for unit in range(deck.thrusters.shape[0]):
        if best[place + unit] != memory.thrust[unit]:
            memory.thrust[unit] = best[place + unit]
            bridge.write(log, memory, time, bridge.THRUSTER_ORDER, unit, memory.thrust[unit], 0.0)
    place += deck.thrusters.shape[0]
    for unit in range(deck.tugs.shape[0]):
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
