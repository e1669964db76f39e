"""Something fails on the way: what breaks, and what the bridge does about it. Compiled formulas.

Without an answer everything stands as it was ordered last. The planned answer begins when the failure has been seen:
with the rudder gone, or everything, the engines that are left go full astern; tugs on a line aft pull astern; below
`ANCHOR_SPEED` the anchors are let go. Where the rudder is left the helmsman goes on steering; where only a thruster or
a tug is lost the conn goes on with what is left.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula
from leadsman.conning import bridge
from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known
from leadsman.simulation.state import DEAD, STUCK, Motion

(NOTHING, ENGINE, RUDDER, RUDDER_STARBOARD, RUDDER_PORT, THRUSTERS, BLACKOUT, TUG) = range(8)
"""Kinds of failure: every engine; the rudder where it stands, or hard over; all thrusters; all power; one tug."""

SEEN = 30.0  # s from a failure to the first order against it (common practice, no source)
WATCHED = 1200.0  # s after a failure without danger, after which it counts as held. Ours
ANCHOR_SPEED = 2.0  # m/s through the water: slower than about 4 kn anchors can be let go (standards sheet: 3 to 4 kn)
CABLE_DEPTHS = 3.0  # times the depth of cable that is let go
STOPPED = 0.10  # m/s over the ground


class Failure(NamedTuple):
    """What fails and when; record fields. `unit` the tug; `answered` 1 for the planned answer."""

    kind: float
    time: float
    unit: float
    answered: float


@formula
def strike(ship: Any, gear: Any, failure: Any) -> None:
    """Put the failure on the gear; to be repeated does no harm."""
    kind = int(failure.kind)
    if kind in (ENGINE, BLACKOUT):
        for index in range(ship.screw_count):
            gear.shafts[index].fault = DEAD
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


HARD_OVER = np.radians(35.0)  # rad: farther over than this no stuck rudder or pod is taken to stand


@formula
def answer(
    ship: Any, known: Known, habits: Habits, memory: Any, motion: Motion, gear: Any, around: Any, failure: Any,
    time: float, log: Any,
) -> bool:  # fmt: skip
    """Give the planned answer of this moment; whether it takes the place of what the conn does in harbour."""
    kind = int(failure.kind)
    if kind in (THRUSTERS, TUG):
        return False
    if kind not in (ENGINE, BLACKOUT):
        for shaft in range(ship.screw_count):
            bridge.say_telegraph(log, memory, time, shaft, 0, habits.engineer)
    for unit in range(ship.tug_count):
        if memory.pull[unit] != bridge.QUARTERS or memory.lead[unit] != ASTERN:
            memory.pull[unit] = bridge.QUARTERS
            memory.lead[unit] = ASTERN
            bridge.write(log, memory, time, bridge.TUG_ORDER, unit, bridge.QUARTERS, ASTERN)
    if np.sqrt(motion.surge**2 + motion.sway**2) < ANCHOR_SPEED:
        for index in range(ship.anchor_count):
            gear.cables[index].order = max(gear.cables[index].order, CABLE_DEPTHS * around.depth_bow)
    return True


ASTERN = 2.0  # lead of a tug, in quarters of a turn from the bow


@formula
def over_ground(motion: Motion, around: Any) -> float:
    """Speed over the ground. [m/s]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    return float(np.sqrt(north * north + east * east))
