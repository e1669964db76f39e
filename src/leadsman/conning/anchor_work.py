"""The forecastle's work: anchoring, once she is stopped at the place, and the anchor she is swung on.

To lie at, the cable is ordered shackle by shackle, the next when the last leads out well ahead, so that it is laid out
and not piled up. She is brought up when all is out, leads ahead and she has lain still. To swing on, the anchor is let
go at short stay, held on, and hove up when she is round. Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning import bridge
from leadsman.conning.bridge import HARBOUR
from leadsman.conning.harbour import ANCHOR, HEAVE, KIND, SNUB, speed_over_ground
from leadsman.conning.task import Aboard, Task
from leadsman.physics.anchor import CLASS_SHACKLE
from leadsman.simulation.handling import hawse
from leadsman.simulation.state import Motion

LET_GO, PAID_OUT, HELD_ON, HOVE_UP = range(4)
"""What an anchor order means: let go with so much cable, paid out to so much, no more given, heave up. Cable is told in
the water, where it is ours."""

SHORT = 1.5  # depths from the hawse that are let out at once (common practice, no source)
LEADS_OUT = 0.85  # of the way the cable on the bed reaches, from which it leads out well and more is given. Ours
LAID_OUT = 0.75  # the same, of all of it: she has fallen back on her cable. Ours
STILL = 0.15  # m/s over the ground: no way on her to speak of. Ours
LAIN = 60.0  # s so still, after which she is brought up. Ours
A_STEP = 1.0  # s
NEAR_IT = 5.0  # m: the hawse is as good as over the anchor. Ours
BACK = 0.3  # m/s: greatest speed at which the hawse is brought back over it. Ours


@formula
def tended(task: Task, aboard: Aboard, motion: Motion, out: Any, time: float) -> bool:
    """A second of the forecastle's work, if it has come to that; whether she is brought up."""
    memory = aboard.memory
    if task.voyage.anchor < 0.0 or memory.mode != HARBOUR or memory.phase < 0.0:
        return False
    kind = task.phases[int(memory.phase), KIND]
    if kind >= SNUB:
        swung_on(task, aboard, motion, out, time)
    if kind != ANCHOR:
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
def swung_on(task: Task, aboard: Aboard, motion: Motion, out: Any, time: float) -> None:
    """A second of the forecastle's work at the anchor she is swung on: let go and held on, or hove up."""
    memory = aboard.memory
    unit = int(task.voyage.anchor)
    anchor = aboard.ship.anchors[unit]
    cable = aboard.gear.cables[unit]
    kind = task.phases[int(memory.phase), KIND]
    if kind == SNUB:
        if cable.order == 0.0:
            out.let_go_speed = speed_over_ground(motion, aboard.around)
            out.let_go_time = time
            cable.order = task.voyage.cable
            bridge.write(aboard.log, memory, time, bridge.ANCHOR_ORDER, unit, cable.order - anchor.hawse, LET_GO)
        elif cable.out >= cable.order and out.cable_out < cable.order:
            bridge.write(aboard.log, memory, time, bridge.ANCHOR_ORDER, unit, 0.0, HELD_ON)
        out.cable_out = max(out.cable_out, cable.out)
        out.anchor_north = cable.north
        out.anchor_east = cable.east
    else:
        if cable.order > 0.0:
            cable.order = 0.0
            bridge.write(aboard.log, memory, time, bridge.ANCHOR_ORDER, unit, 0.0, HOVE_UP)
        out.home_time = time
    out.anchor_dragged = cable.dragged
    out.cable_pull = max(out.cable_pull, cable.pull)


@formula
def about_the_anchor(task: Task, aboard: Aboard, motion: Motion, turn: float) -> tuple[Real, Real]:
    """How midships ought to go through the water, ahead and to starboard [m/s], while she turns at a rate [rad/s] about
    the anchor: round the hawse, and the hawse no farther from the anchor than it hangs."""
    unit = int(task.voyage.anchor)
    anchor, cable, around = task.mind.anchors[unit], aboard.gear.cables[unit], aboard.around
    north = -around.stream_north
    east = -around.stream_east
    if cable.on_bed > 0.0:
        here_north, here_east = hawse(anchor, motion)
        off = np.sqrt((cable.north - here_north) ** 2 + (cable.east - here_east) ** 2)
        back = min(max(off - NEAR_IT, 0.0) / (2.0 * task.thought.ahead), BACK)
        north += back * (cable.north - here_north) / max(off, NEAR_IT)
        east += back * (cable.east - here_east) / max(off, NEAR_IT)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    return north * cosine + east * sine, east * cosine - north * sine - turn * anchor.position


@formula
def hove_up(task: Task, aboard: Aboard, phase: Any) -> bool:
    """Whether the anchor is clear of the water, where the phase is to heave it up."""
    if phase[KIND] != HEAVE:
        return True
    unit = int(task.voyage.anchor)
    return bool(aboard.gear.cables[unit].out <= aboard.ship.anchors[unit].hawse)


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
