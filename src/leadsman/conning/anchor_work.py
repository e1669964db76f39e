"""Anchoring, once she is stopped at the place: the anchor let go, the cable given as she falls back, brought up.

The cable is ordered shackle by shackle, the next when the last leads out well ahead, so that it is laid out and not
piled up. She is brought up when all is out, leads ahead and she has lain still. Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning import bridge
from leadsman.conning.bridge import HARBOUR
from leadsman.conning.harbour import ANCHOR, KIND, speed_over_ground
from leadsman.conning.task import Aboard, Task
from leadsman.physics.anchor import CLASS_SHACKLE
from leadsman.simulation.handling import hawse
from leadsman.simulation.state import Motion

LET_GO, PAID_OUT = 0.0, 1.0
"""What an anchor order means: let go with so much cable, or paid out to so much; in the water, where it is ours."""

SHORT = 1.5  # depths from the hawse that are let out at once (common practice, no source)
LEADS_OUT = 0.85  # of the way the cable on the bed reaches, from which it leads out well and more is given. Ours
LAID_OUT = 0.75  # the same, of all of it: she has fallen back on her cable. Ours
STILL = 0.15  # m/s over the ground: no way on her to speak of. Ours
LAIN = 60.0  # s so still, after which she is brought up. Ours
A_STEP = 1.0  # s


@formula
def tended(task: Task, aboard: Aboard, motion: Motion, out: Any, time: float) -> bool:
    """A second of the forecastle's work, if it has come to that; whether she is brought up."""
    memory = aboard.memory
    if task.voyage.anchor < 0.0 or memory.mode != HARBOUR or memory.phase < 0.0:
        return False
    if task.phases[int(memory.phase), KIND] != ANCHOR:
        return False
    unit = int(task.voyage.anchor)
    anchor = aboard.ship.anchors[unit]
    cable = aboard.gear.cables[unit]
    height = aboard.around.depth_bow + anchor.hawse
    speed = speed_over_ground(motion, aboard.around)
    out.let_go_speed = speed if cable.order == 0.0 else out.let_go_speed
    stretched = led_out(anchor, cable, height, motion)
    wanted = next_cable(cable, task.voyage.cable, anchor.hawse, height, stretched)
    if wanted > cable.order:
        meaning = LET_GO if cable.order == 0.0 else PAID_OUT
        cable.order = wanted
        bridge.write(aboard.log, memory, time, bridge.ANCHOR_ORDER, unit, wanted - anchor.hawse, meaning)
    lying = cable.out >= task.voyage.cable - 0.5 and stretched >= LAID_OUT and speed <= STILL
    memory.lain = memory.lain + A_STEP if lying else 0.0
    out.anchor_north = cable.north
    out.anchor_east = cable.east
    out.anchor_dragged = cable.dragged
    out.cable_out = cable.out
    out.cable_pull = cable.pull
    return bool(memory.lain >= LAIN)


@formula
def led_out(anchor: Any, cable: Any, height: float, motion: Motion) -> Real:
    """How far the hawse is from the anchor, over how far the cable out would reach straight; nil with none on the bed.
    [-]"""
    if cable.on_bed == 0.0 or cable.out <= height:
        return 0.0
    north, east = hawse(anchor, motion)
    away = np.sqrt((north - cable.north) ** 2 + (east - cable.east) ** 2)
    return away / np.sqrt(cable.out * cable.out - height * height)


@formula
def next_cable(cable: Any, planned: float, hawse_height: float, height: float, stretched: float) -> Real:
    """Length from the hawse that is to be out: short stay when let go, then a shackle more each time it leads out; in
    whole shackles in the water until the last. [m]"""
    if cable.order == 0.0:
        return min(CLASS_SHACKLE * np.ceil(SHORT * height / CLASS_SHACKLE) + hawse_height, planned)
    if cable.out < cable.order or stretched < LEADS_OUT:
        return cable.order
    return min(cable.order + CLASS_SHACKLE, planned)
