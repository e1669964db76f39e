"""What each order would do to her: the changes of velocity that engine and wheel, thrusters and tugs bring about.

`effects` are changes of [surge m/s, sway m/s, turn rad/s] at the end of the time looked ahead, against what the orders
that stand bring: her acceleration under an order, for as long as is left when it has come to tell. A helper is a
thruster or a tug; each has options. Compiled.
"""

from typing import Any

from leadsman.compiled import formula, kernel
from leadsman.conning.bridge import QUARTER_TURN, QUARTERS
from leadsman.conning.task import Aboard, Task
from leadsman.physics.tug_work import aim
from leadsman.simulation.kernel import rates
from leadsman.simulation.parameters import MOST_TUGS, MOST_UNITS
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.state import DEAD, Motion

FULL = 4  # quarters
LEADS = 4  # ways a tug can be told to pull or push
OPTIONS = 1 + LEADS * FULL
"""Of a tug: stop, then quarters one to four for each lead. Of a thruster: from four quarters to port to as many to
starboard."""
MOST_HELPERS = MOST_UNITS + MOST_TUGS


@formula
def turned_off(ship: Any, spare: Any) -> None:
    """Take thrusters and tugs off the spare gear."""
    for unit in range(ship.thruster_count):
        spare.thrusters[unit].share = 0.0
        spare.thrusters[unit].share_before = 0.0
    for unit in range(ship.tug_count):
        spare.tugs[unit].power = 0.0
        spare.tugs[unit].power_before = 0.0


@formula
def engines_at(task: Task, spare: Any, orders: Any) -> None:
    """Turn shafts and rudders of the spare gear as telegraph lines and wheel of `orders` have them at last."""
    ship, known = task.mind, task.known
    for shaft in range(ship.screw_count):
        line = int(orders[shaft])
        spare.shafts[shaft].speed = known.speeds[line]
        spare.shafts[shaft].speed_before = known.speeds[line]
        spare.shafts[shaft].pitch = known.pitches[line]
        spare.shafts[shaft].pitch_before = known.pitches[line]
    for index in range(ship.rudder_count):
        spare.helms[index].angle = orders[ship.screw_count]
        spare.helms[index].angle_before = orders[ship.screw_count]


@kernel
def of_engines(task: Task, aboard: Aboard, motion: Motion, effects: Any) -> None:
    """Effects of every move of engine and wheel; in the last line those that stand, nil. [moves + 1, 3]"""
    ship, moves = task.mind, task.moves
    spare = aboard.spares[0]
    turned_off(ship, spare)
    left = task.thought.ahead - task.weights.engine_delay
    engines_at(task, spare, aboard.memory.orders_now)
    stands = rates(ship, task.tables, spare, motion, 1.0, aboard.around, NO_FORCE)
    effects[moves.shape[0], :] = 0.0
    for number in range(moves.shape[0]):
        engines_at(task, spare, moves[number])
        found = rates(ship, task.tables, spare, motion, 1.0, aboard.around, NO_FORCE)
        effects[number, 0] = left * (found.surge - stands.surge)
        effects[number, 1] = left * (found.sway - stands.sway)
        effects[number, 2] = left * (found.yaw_rate - stands.yaw_rate)


@formula
def difference(full: Any, idle: Any, share: float, effects: Any) -> None:
    """Write what a share of a helper's full power brings."""
    effects[0] = share * (full.surge - idle.surge)
    effects[1] = share * (full.sway - idle.sway)
    effects[2] = share * (full.yaw_rate - idle.yaw_rate)


@formula
def against_standing(effects: Any, options: int, now: int, left: float) -> None:
    """Turn accelerations of a helper's options into effects against the one that stands, `left` the time left. [s]"""
    for axis in range(3):
        stands = effects[now, axis]
        for option in range(options):
            effects[option, axis] = left * (effects[option, axis] - stands)


@kernel
def of_helpers(task: Task, aboard: Aboard, motion: Motion, effects: Any, options: Any, now: Any) -> int:
    """Effects of each helper's options [helpers, options, 3], how many options it has, and which one stands; how many
    helpers there are."""
    ship, memory, around = task.mind, aboard.memory, aboard.around
    spare = aboard.spares[0]
    turned_off(ship, spare)
    idle = rates(ship, task.tables, spare, motion, 1.0, around, NO_FORCE)
    helper = 0
    for unit in range(ship.thruster_count):
        tunnel = spare.thrusters[unit]
        if tunnel.fault == DEAD:
            continue
        tunnel.share = 1.0
        tunnel.share_before = 1.0
        full = rates(ship, task.tables, spare, motion, 1.0, around, NO_FORCE)
        turned_off(ship, spare)
        for option in range(2 * FULL + 1):
            difference(full, idle, (option - FULL) / QUARTERS, effects[helper, option])
        options[helper] = 2 * FULL + 1
        now[helper] = FULL + int(memory.thrust[unit])
        against_standing(
            effects[helper], options[helper], now[helper], task.thought.ahead - task.weights.thruster_delay
        )
        helper += 1
    for unit in range(ship.tug_count):
        if spare.tugs[unit].fault == DEAD:
            continue
        tow = spare.tugs[unit]
        effects[helper, 0, :] = 0.0
        for lead in range(LEADS):
            tow.way, tow.angle = aim(ship.tugs[unit], lead * QUARTER_TURN)
            tow.angle_before = tow.angle
            tow.power = 1.0
            tow.power_before = 1.0
            full = rates(ship, task.tables, spare, motion, 1.0, around, NO_FORCE)
            for quarters in range(1, FULL + 1):
                difference(full, idle, quarters / QUARTERS, effects[helper, lead * FULL + quarters])
        turned_off(ship, spare)
        options[helper] = OPTIONS
        pulling = int(memory.pull[unit])
        now[helper] = 0 if pulling == 0 else int(memory.lead[unit]) * FULL + pulling
        against_standing(effects[helper], OPTIONS, now[helper], task.thought.ahead - task.weights.tug_delay)
        helper += 1
    return helper


@formula
def told(task: Task, aboard: Aboard, chosen: Any, orders: Any) -> None:
    """Write the chosen options of the helpers into a line of standing orders."""
    ship, spare = task.mind, aboard.spares[0]
    place = int(ship.screw_count) + 1
    helper = 0
    for unit in range(ship.thruster_count):
        if spare.thrusters[unit].fault != DEAD:
            orders[place + unit] = chosen[helper] - FULL
            helper += 1
    place += int(ship.thruster_count)
    for unit in range(ship.tug_count):
        if spare.tugs[unit].fault == DEAD:
            continue
        option = int(chosen[helper])
        orders[place + 2 * unit] = 0.0 if option == 0 else float((option - 1) % FULL + 1)
        if option > 0:
            orders[place + 2 * unit + 1] = float((option - 1) // FULL)
        helper += 1


@formula
def stopped(option_count: int) -> int:
    """The option of a helper that gives nothing."""
    return 0 if option_count == OPTIONS else FULL
