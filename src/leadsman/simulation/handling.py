"""Thrusters, tugs and cables, once a step: what is ordered becomes thrust, pull and chain on the bed. Compiled
formulas."""

from typing import Any

import numpy as np

from leadsman.compiled import formula
from leadsman.physics import cable as chain
from leadsman.physics import tug_work
from leadsman.physics.engine import ramped
from leadsman.simulation.state import DEAD, STUCK, Motion


@formula
def run_thruster(tunnel: Any, unit: Any, interval: float) -> None:
    """One step of one thruster towards its order; a dead one runs down at once, a stuck one goes on as it was."""
    unit.share_before = unit.share
    if unit.fault == STUCK:
        return
    if unit.fault == DEAD:
        unit.share = 0.0
        return
    wanted = min(max(unit.order, -1.0), 1.0)
    unit.share = ramped(unit.share, wanted, tunnel.ramp * interval)


@formula
def pass_order(work: Any, tow: Any, time: float) -> None:
    """The tug master begins an order when he has heard and understood it.

    What he is told meanwhile waits its own time and does not set him back; of several such orders the last counts.
    """
    if tow.order_direction != tow.next_direction or tow.order_power != tow.next_power:
        tow.next_direction = tow.order_direction
        tow.next_power = tow.order_power
        tow.next_due = time + work.reaction
    if time >= tow.due:
        tow.active_direction = tow.pending_direction
        tow.active_power = tow.pending_power
        if tow.next_direction != tow.pending_direction or tow.next_power != tow.pending_power:
            tow.pending_direction = tow.next_direction
            tow.pending_power = tow.next_power
            tow.due = tow.next_due


@formula
def work_tug(work: Any, tow: Any, time: float, interval: float) -> None:
    """One step of one tug: power off while she shifts, on when she points the way asked for.

    From pulling to pushing, or back, she first takes her power off. A dead tug has let go or lost her engine; a stuck
    one keeps pulling as she does.
    """
    pass_order(work, tow, time)
    tow.power_before = tow.power
    tow.angle_before = tow.angle
    if tow.fault == STUCK:
        return
    if tow.fault == DEAD:
        tow.power = 0.0
        return
    way, angle = tug_work.aim(work, tow.active_direction)
    wanted = min(max(tow.active_power, 0.0), 1.0)
    if tow.power == 0.0 and way != tow.way:
        tow.way = way
        tow.angle = angle
        tow.angle_before = angle
    if way != tow.way or np.abs(angle - tow.angle) > tug_work.POINTING:
        wanted = 0.0
    tow.power = ramped(tow.power, wanted, work.ramp * interval)
    if way == tow.way:
        tow.angle = ramped(tow.angle, angle, work.slew * interval)


@formula
def hawse(anchor: Any, motion: Motion) -> tuple[float, float]:
    """Where a hawse pipe is over the ground: north and east. [m]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    return (
        motion.north + anchor.position * cosine - anchor.offset * sine,
        motion.east + anchor.position * sine + anchor.offset * cosine,
    )


@formula
def tend_cable(anchor: Any, cable: Any, motion: Motion, depth: float, interval: float) -> None:
    """One step of one cable: veer or heave towards the length ordered, let the anchor touch the bed, drag it home.

    `depth` of the water under the bow. [m]
    """
    if cable.order > cable.out:
        cable.out = min(cable.out + anchor.veer * interval, min(cable.order, anchor.most))
    elif cable.order < cable.out:
        cable.out = max(cable.out - anchor.heave * interval, max(cable.order, 0.0))
    height = depth + anchor.hawse
    if cable.out <= height:
        cable.on_bed = 0.0
        return
    north, east = hawse(anchor, motion)
    if cable.on_bed == 0.0:
        cable.on_bed = 1.0
        cable.north = north
        cable.east = east
    ahead = cable.north - north
    across = cable.east - east
    distance = np.sqrt(ahead * ahead + across * across)
    most = chain.greatest_reach(anchor, height, cable.out)
    if distance > most:
        cable.dragged += distance - most
        cable.north = north + ahead * most / distance
        cable.east = east + across * most / distance
