"""Bow and stern thrusters and tugs, as the conn gives them orders: in quarters. Compiled formulas.

What of their force reaches the ship at her speed is that of physics/thruster and physics/tug.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import thruster
from leadsman.physics.hull_force import Force
from leadsman.physics.tug import USABLE, speed_share
from leadsman.simulation.state import Motion
from leadsman.units import KNOT

SPEEDS = np.arange(0.0, 8.5, 0.5) * KNOT  # m/s, of the table of tugs' shares
QUARTERS = 4.0
LEADS = 4  # of a tug: ahead, to starboard, astern, to port
THRUSTER_RISE = 8.0  # s from rest to full thrust of a tunnel thruster (common practice, no source)
TUG_RISE = 20.0  # s from rest to full pull (common practice, no source)


class Deck(NamedTuple):
    """Thrusters [units, 2]: place forward of midships [m], full thrust [N]. Tugs [units, 3]: where made fast, forward
    of midships and to starboard [m], usable pull [N]; `share` of it at `SPEEDS`."""

    thrusters: Any
    tugs: Any
    share: Any


def deck(thrusters: Any, tugs: Any) -> Deck:
    """The deck of a ship: thrusters as (place, thrust), tugs as (forward, to starboard, bollard pull)."""
    units = np.array([(at, thrust) for at, thrust in thrusters], dtype=float).reshape(-1, 2)
    made = np.array([(ahead, right, USABLE * pull) for ahead, right, pull in tugs], dtype=float).reshape(-1, 3)
    return Deck(thrusters=units, tugs=made, share=np.asarray(speed_share("azimuth stern drive", "on a line", SPEEDS)))


@formula
def thruster_force(deck: Deck, unit: int, share: float, surge: float) -> Force:
    """Force of a thruster at a share of its thrust, to starboard positive. [N, N, N m]"""
    place = deck.thrusters[unit, 0]
    full = deck.thrusters[unit, 1] * share
    return Force(0.0, full * thruster.force_factor(surge, place), full * place * thruster.moment_factor(surge, place))


@formula
def tug_force(deck: Deck, unit: int, share: float, lead: float, speed: float) -> Force:
    """Force of a tug pulling at a share of what it can, towards `lead` from the bow. [N, N, N m]"""
    place = min(speed / (0.5 * KNOT), deck.share.shape[0] - 1.001)
    low = int(place)
    left = deck.share[low] + (place - low) * (deck.share[low + 1] - deck.share[low])
    pull = deck.tugs[unit, 2] * share * left
    ahead = pull * np.cos(lead)
    right = pull * np.sin(lead)
    return Force(ahead, right, deck.tugs[unit, 0] * right - deck.tugs[unit, 1] * ahead)


@formula
def helped(deck: Deck, orders: Any, place: int, motion: Motion) -> Force:
    """Force of all as ordered, at once: what a look ahead reckons with. `orders[place:]` quarters and leads."""
    X = 0.0
    Y = 0.0
    N = 0.0
    for unit in range(deck.thrusters.shape[0]):
        if orders[place + unit] != 0.0:
            push = thruster_force(deck, unit, orders[place + unit] / QUARTERS, motion.surge)
            Y += push.sway
            N += push.yaw
    place += deck.thrusters.shape[0]
    speed = np.sqrt(motion.surge * motion.surge + motion.sway * motion.sway)
    for unit in range(deck.tugs.shape[0]):
        if orders[place + 2 * unit] != 0.0:
            lead = orders[place + 2 * unit + 1] * 2.0 * np.pi / LEADS
            push = tug_force(deck, unit, orders[place + 2 * unit] / QUARTERS, lead, speed)
            X += push.surge
            Y += push.sway
            N += push.yaw
    return Force(X, Y, N)


@formula
def pull(deck: Deck, memory: Any, motion: Motion, failed: Any, interval: float) -> Force:
    """Force of all as it is now; what each gives is moved towards what is ordered. Failed units give nothing."""
    X = 0.0
    Y = 0.0
    N = 0.0
    for unit in range(deck.thrusters.shape[0]):
        wanted = memory.thrust[unit] / QUARTERS
        most = interval / THRUSTER_RISE
        memory.thrust_now[unit] += min(max(wanted - memory.thrust_now[unit], -most), most)
        if failed.thrusters > 0.0:
            memory.thrust_now[unit] = 0.0
        push = thruster_force(deck, unit, memory.thrust_now[unit], motion.surge)
        Y += push.sway
        N += push.yaw
    speed = np.sqrt(motion.surge * motion.surge + motion.sway * motion.sway)
    for unit in range(deck.tugs.shape[0]):
        wanted = memory.pull[unit] / QUARTERS
        if memory.lead_now[unit] != memory.lead[unit]:
            wanted = 0.0
            if memory.pull_now[unit] <= 0.05:
                memory.lead_now[unit] = memory.lead[unit]
        most = interval / TUG_RISE
        memory.pull_now[unit] += min(max(wanted - memory.pull_now[unit], -most), most)
        if failed.tug == unit:
            memory.pull_now[unit] = 0.0
        push = tug_force(deck, unit, memory.pull_now[unit], memory.lead_now[unit] * 2.0 * np.pi / LEADS, speed)
        X += push.surge
        Y += push.sway
        N += push.yaw
    return Force(X, Y, N)
