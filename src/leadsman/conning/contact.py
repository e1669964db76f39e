"""Her side and the quay: how she comes to it, whether that ends the run, how its fenders push while she leaves.

Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import formula
from leadsman.conning import outline
from leadsman.conning.bridge import HARBOUR
from leadsman.conning.harbour import KIND, LAND
from leadsman.conning.outcome import ALONGSIDE, STRUCK, STRUCK_ASKEW, UNDER_WAY
from leadsman.conning.task import Aboard, Task
from leadsman.conning.transit import angle
from leadsman.physics.hull_force import Force
from leadsman.simulation.state import Motion

STIFF = 0.03  # 1/s²: push of the fenders for each metre at each point of her outline, over her mass. Ours
SLACK = 0.10  # 1/s: the same for each metre a second. Ours


@formula
def at_quay(task: Task, aboard: Aboard, motion: Motion, out: Any) -> int:
    """Whether she has come to the quay, and how. While she leaves it she lies on the fenders, which is no strike."""
    memory = aboard.memory
    if memory.mode != HARBOUR and not task.voyage.harbour_first:
        return UNDER_WAY
    quay, hull = task.quay, task.hull
    gap, _ = outline.quay_gap(quay, hull, motion)
    if gap > 0.0:
        return UNDER_WAY
    speed = max(outline.closing(quay, hull, motion, aboard.around), 0.0)
    if leaving(task, memory) and speed <= task.voyage.landing_speed:
        return UNDER_WAY
    lie = np.arctan2(quay.along_east, quay.along_north)
    out.landing_speed = speed
    out.landing_angle = np.abs(0.5 * angle(2.0 * (motion.heading - lie)))
    out.landing_place = (motion.north - quay.north) * quay.along_north + (motion.east - quay.east) * quay.along_east
    if speed > task.voyage.landing_speed:
        return STRUCK
    now = min(max(int(memory.phase), 0), task.phases.shape[0] - 1)
    landing = memory.mode == HARBOUR and task.phases[now, KIND] == LAND
    if not landing or out.landing_angle > task.voyage.landing_angle:
        return STRUCK_ASKEW
    return ALONGSIDE


@formula
def leaving(task: Task, memory: Any) -> bool:
    """Whether she is still coming clear of the berth she lay at."""
    return bool(task.voyage.harbour_first and memory.mode == HARBOUR and memory.phase <= 0.0)


@formula
def fendered(task: Task, aboard: Aboard, motion: Motion) -> Force:
    """Push of the fenders of a quay she leaves: springs and dampers along her outline, no friction. [N, N, N m]"""
    if not leaving(task, aboard.memory):
        return Force(0.0, 0.0, 0.0)
    quay, hull, around = task.quay, task.hull, aboard.around
    mass = aboard.ship.hull.mass
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    ahead = quay.off_north * cosine + quay.off_east * sine
    right = quay.off_east * cosine - quay.off_north * sine
    stream = around.stream_north * quay.off_north + around.stream_east * quay.off_east
    X = 0.0
    Y = 0.0
    N = 0.0
    for point in range(hull.shape[0]):
        north, east = outline.place(motion, hull[point, 0], hull[point, 1])
        off, along = outline.off_quay(quay, north, east)
        if off >= 0.0 or along < -outline.BESIDE or along > quay.length + outline.BESIDE:
            continue
        leaves = (
            (motion.surge - motion.yaw_rate * hull[point, 1]) * ahead
            + (motion.sway + motion.yaw_rate * hull[point, 0]) * right
            + stream
        )
        push = mass * max(-STIFF * off - SLACK * leaves, 0.0)
        X += push * ahead
        Y += push * right
        N += push * (hull[point, 0] * right - hull[point, 1] * ahead)
    return Force(X, Y, N)
