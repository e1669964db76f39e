"""What a run asks of the machinery: starts on air, running astern, power ahead and astern, time of the thrusters.

Looked at every second, of the ship that is sailed; the worst of several shafts or thrusters is kept. Compiled formulas.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning.known import Known
from leadsman.conning.task import Aboard, Task
from leadsman.physics.engine import DIRECT
from leadsman.simulation.state import SOUND


@formula
def driven(known: Known, line: int) -> Real:
    """Shaft speed times pitch ratio under a telegraph order: what a shaft drives the water with. [1/s]"""
    return known.speeds[line] * known.pitches[line]


@formula
def astern_from(known: Known) -> Real:
    """Shaft speed times pitch ratio from which a shaft counts as running astern: half-way from stop to the least order
    astern, since blades that neither drive nor brake stand a little astern (ours). [1/s]"""
    return 0.5 * (driven(known, known.stop) + driven(known, known.stop - 1))


@formula
def of_engines(task: Task, aboard: Aboard, time: float, out: Any) -> None:
    """Note power and time astern of the shafts for a second, up to the moment `time`."""
    memory = aboard.memory
    astern = astern_from(task.known)
    for index in range(aboard.ship.screw_count):
        shaft = aboard.gear.shafts[index]
        drives = shaft.speed * shaft.pitch
        out.driven_ahead = max(out.driven_ahead, drives)
        out.driven_astern = max(out.driven_astern, -drives)
        if drives >= astern:
            memory.astern_now[index] = 0.0
            continue
        memory.astern_now[index] += 1.0
        memory.astern_all[index] += 1.0
        out.astern_all = max(out.astern_all, memory.astern_all[index])
        if memory.astern_now[index] > out.astern_longest:
            out.astern_longest = memory.astern_now[index]
            out.astern_until = time


@formula
def of_air(aboard: Aboard, time: float, out: Any) -> None:
    """Note what of the starting air is used and left, and the orders that found none, for a second up to `time`.

    An order that finds no air is one start refused, however often the engine room tries, until the engine runs or is
    no longer wanted that way.
    """
    memory = aboard.memory
    made = 0.0
    for index in range(aboard.ship.screw_count):
        if aboard.ship.engines[index].kind != DIRECT:
            continue
        shaft = aboard.gear.shafts[index]
        made += shaft.starts_made
        if shaft.starts < out.starts_left:
            out.starts_left = shaft.starts
            out.starts_left_at = time
        way = np.sign(shaft.active_speed)
        if shaft.running != 0.0 or way != memory.airless_way[index]:
            memory.airless_way[index] = 0.0
        if shaft.failed_starts > memory.refused[index]:
            memory.refused[index] = shaft.failed_starts
            if memory.airless_way[index] == 0.0:
                note_refused(aboard, index, time, out)
            memory.airless_way[index] = way
        if memory.airless_way[index] != 0.0 and shaft.fault == SOUND:
            memory.airless[index] += 1.0
            out.airless = max(out.airless, memory.airless[index])
    out.starts_made = made


@formula
def note_refused(aboard: Aboard, index: int, time: float, out: Any) -> None:
    """Count an order that found no air; of the first keep when, where, on which shaft and what was ordered."""
    if out.starts_refused == 0.0:
        out.refused_at = time
        out.refused_place = aboard.memory.along
        out.refused_shaft = index
        out.refused_order = aboard.memory.telegraph[index]
    out.starts_refused += 1.0


@formula
def of_thrusters(aboard: Aboard, time: float, out: Any) -> None:
    """Note how long each thruster gives thrust, at one go and in all, for a second up to `time`."""
    memory = aboard.memory
    for unit in range(aboard.ship.thruster_count):
        share = np.abs(aboard.gear.thrusters[unit].share)
        out.thruster = max(out.thruster, share)
        if share == 0.0:
            memory.thrust_now[unit] = 0.0
            continue
        memory.thrust_now[unit] += 1.0
        memory.thrust_all[unit] += 1.0
        out.thruster_all = max(out.thruster_all, memory.thrust_all[unit])
        if memory.thrust_now[unit] > out.thruster_longest:
            out.thruster_longest = memory.thrust_now[unit]
            out.thruster_until = time
            out.thruster_unit = unit
