"""Slow work: swinging, the approach, laying alongside, leaving. How she ought to move, and what a motion lacks of it.

The work is cut into phases, each with a place, a heading and the speeds allowed. They say how she ought to move where
she is now: towards the place no faster than she can still stop, turning no faster than she can still check.
`conning.choice` looks for the orders that bring her nearest to that. Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning import outline
from leadsman.conning.task import Task
from leadsman.conning.transit import angle
from leadsman.conning.waters import clear_at
from leadsman.simulation.state import Motion

GO, SWING, LAND, ANCHOR, SNUB, HEAVE = range(6)
"""Kinds of phase; in `SNUB` she is swung on an anchor at short stay, in `HEAVE` it comes home."""

KIND, NORTH, EAST, HEADING, SIDE, AHEAD, ACROSS, RATE, NEAR, SQUARE, STILL = range(11)
"""Columns of the phases: kind; place [m]; heading [rad]; the way to turn (+1 starboard, -1 port, 0 the shorter);
greatest speed ahead, across [m/s] and rate of turn [rad/s]; when it is done: place within [m], heading within [rad],
speed below [m/s]; of landing: the speed she is to touch with. A swing with nil across lets her set as she will."""


@formula
def wanted(task: Task, phase: Any, motion: Motion, around: Any, goal: float) -> tuple[Real, Real, Real]:
    """How she ought to move here through the water: ahead, to starboard [m/s] and turning [rad/s]."""
    thought, weights, hull = task.thought, task.weights, task.hull
    course = phase[HEADING]
    slowly = 2.0 * thought.ahead
    ahead = (phase[NORTH] - motion.north) * np.cos(course) + (phase[EAST] - motion.east) * np.sin(course)
    right = (phase[EAST] - motion.east) * np.cos(course) - (phase[NORTH] - motion.north) * np.sin(course)
    far = max(np.abs(ahead) - (weights.placed if phase[KIND] == LAND else 0.0), 0.0)
    soon = weights.prompt * slowly if phase[KIND] == LAND else slowly
    along = np.sign(ahead) * min(phase[AHEAD], np.sqrt(2.0 * thought.stopping * far), far / soon)
    across = np.sign(right) * min(phase[ACROSS], np.sqrt(2.0 * thought.bodily * np.abs(right)), np.abs(right) / slowly)
    if phase[KIND] == LAND:
        gap, _ = outline.quay_gap(task.quay, hull, motion)
        left = max(gap - max(weights.hover, weights.creep * thought.ahead), 0.0)
        across = np.sign(right) * min(
            phase[ACROSS], np.sqrt(phase[STILL] ** 2 + 2.0 * weights.gently * thought.bodily * left)
        )
    bent = goal + laid_off(task.weights.leeway, phase, hull, around, ahead, right, along)
    off = bent - motion.heading
    rate = (
        np.sign(off)
        * phase[RATE]
        * min(1.0, np.sqrt(np.abs(off) / weights.check), np.abs(off) / (phase[RATE] * slowly))
    )
    away_north, away_east, away_turn = kept_off(task, phase, motion)
    north = along * np.cos(course) - across * np.sin(course) + away_north - around.stream_north
    east = along * np.sin(course) + across * np.cos(course) + away_east - around.stream_east
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    return north * cosine + east * sine, east * cosine - north * sine, rate + away_turn


@formula
def laid_off(leeway: float, phase: Any, hull: Any, around: Any, ahead: float, right: float, along: float) -> Real:
    """What is laid off her heading on the way to a place: to come over to its line, against stream and wind. [rad]"""
    if phase[KIND] != GO:
        return 0.0
    course = phase[HEADING]
    share = np.sign(ahead) * min(np.abs(ahead) / (2.0 * np.abs(hull[0, 0])), 1.0)
    over = min(max(np.arctan(right / (3.0 * np.abs(hull[0, 0]))), -0.4), 0.4)
    set_across = around.stream_east * np.cos(course) - around.stream_north * np.sin(course)
    set_across -= leeway * around.wind_speed * np.sin(around.wind_from - course)
    return share * (over - min(max(np.arctan(set_across / max(np.abs(along), 0.5)), -0.5), 0.5))


@formula
def kept_off(task: Task, phase: Any, motion: Motion) -> tuple[Real, Real, Real]:
    """Velocity and turning away from shoal water, and from the quay unless she lands, that nearness asks for. [m/s,
    rad/s]"""
    waters, quay, hull, space = task.waters, task.quay, task.hull, task.weights.space
    quay_space = space if task.voyage.harbour_first else task.weights.quay_space
    north = 0.0
    east = 0.0
    turn = 0.0
    half = np.abs(hull[0, 0])
    for point in range(hull.shape[0]):
        here_north, here_east = outline.place(motion, hull[point, 0], hull[point, 1])
        push_north = 0.0
        push_east = 0.0
        clear = clear_at(waters, here_north, here_east)
        if clear < space:
            reach = 2.0 * waters.cell
            rise_north = clear_at(waters, here_north + reach, here_east) - clear_at(
                waters, here_north - reach, here_east
            )
            rise_east = clear_at(waters, here_north, here_east + reach) - clear_at(
                waters, here_north, here_east - reach
            )
            steep = max(np.sqrt(rise_north * rise_north + rise_east * rise_east), 0.1)
            push = task.weights.away * (1.0 - clear / space)
            push_north += push * rise_north / steep
            push_east += push * rise_east / steep
        off, beside = outline.off_quay(quay, here_north, here_east)
        before = -outline.BESIDE <= beside <= quay.length + outline.BESIDE
        if phase[KIND] != LAND and before and off < quay_space:
            push = task.weights.away * (1.0 - max(off, 0.0) / quay_space)
            push_north += push * quay.off_north
            push_east += push * quay.off_east
        if push_north * push_north + push_east * push_east > north * north + east * east:
            north = push_north
            east = push_east
            arm_north, arm_east = here_north - motion.north, here_east - motion.east
            turn = (arm_north * push_east - arm_east * push_north) / (half * half)
    return north, east, turn


@formula
def speed_over_ground(motion: Motion, around: Any) -> Real:
    """[m/s]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    return np.sqrt(north * north + east * east)


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
    speed = speed_over_ground(motion, around)
    return bool(apart <= phase[NEAR] and np.abs(goal - motion.heading) <= phase[SQUARE] and speed <= phase[STILL])
