"""The bridge of a run: orders standing, what waits to be carried out, what the conn remembers. Records, and the log.

An order goes from the conn to a person and then to the gear: `say_wheel` and `say_telegraph` write it down, `pass_on`
puts it on the gear when the person's delay is over.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning.known import Known
from leadsman.simulation.parameters import MOST_TUGS, MOST_UNITS

TRANSIT, HARBOUR, ENDED = 0, 1, 2
"""Modes."""

COURSE_ORDER, WHEEL_ORDER, ENGINE_ORDER, THRUSTER_ORDER, TUG_ORDER, ANCHOR_ORDER = range(6)
"""Kinds of order; what `value` of a line of the log means: course [rad], wheel [rad], line of the telegraph, quarters
of the thrust, quarters of the pull, cable [m]."""

MOST_ORDERS = 2000
QUARTERS = 4.0
QUARTER_TURN = 0.5 * np.pi  # rad: tugs are told ahead, to starboard, astern or to port: leads 0 to 3
MOST_STANDING = 2 * (MOST_UNITS + MOST_TUGS) + 1
"""Shafts, wheel, thrusters, tugs and their leads."""
TIME, PLACE, KIND, UNIT, VALUE, MEANING = range(6)
"""Columns of the log: time [s], distance along the track [m], kind, unit, value, and for tugs the direction of pull."""


class Habits(NamedTuple):
    """How people work. Times in s, angles in rad. Settings of ours: common practice, no source.

    `wheel_step` wheel orders are multiples of, `helmsman_step` the helmsman's own; `wheel_gap` least time between wheel
    orders, `engine_gap` between telegraph orders; `helmsman` and `engineer` from order to hand on wheel and telegraph;
    `course_step` least change of a course to steer; `look` how often low-speed work is thought over, `prediction` the
    step it is carried on with; `bend_wheel` greatest wheel used in a bend while she
    keeps to it.
    """

    wheel_step: float = float(np.radians(5.0))
    helmsman_step: float = float(np.radians(1.0))
    wheel_gap: float = 6.0
    engine_gap: float = 30.0
    helmsman: float = 1.5
    engineer: float = 1.0
    course_step: float = float(np.radians(1.0))
    look: float = 15.0
    prediction: float = 5.0
    bend_wheel: float = float(np.radians(25.0))


class Memory(NamedTuple):
    """What changes on the bridge; record fields.

    `mode`; `point`: line of the nearest point of the track; `phase` of the harbour work, its heading `goal` [rad] and
    the time it began, `phase_since`; `along`, `across` [m]; orders that stand: `wheel` [rad], `course` [rad];
    `told_wheel` and when it is `wheel_due`; `last_wheel`, `last_engine`, `last_look` times of the last orders and
    thought; `leeway` [rad] and `bias` [rad] learnt; `bend` 1 while a bend is steered by wheel orders, `off` how far she
    is off the heading wanted [rad]; `orders`, `wheel_orders` and `engine_orders` counted. The wind `felt`, a mean over
    a minute [m/s]; the motion `reckoned` for the next look, and what is `unknown` to the reckoning so far, learnt from
    look to look [m/s², rad/s²]. Orders `said` (what is told to both engines at once is one), how `busy` the bridge was
    at the time `busy_since`, orders in the `busiest` ten minutes and when they ended; the last order of the log; how
    long she has `lain` still at anchor [s].
    """

    mode: float
    point: float
    phase: float
    goal: float
    along: float
    across: float
    wheel: float
    course: float
    told_wheel: float
    wheel_due: float
    last_wheel: float
    last_engine: float
    last_look: float
    leeway: float
    bias: float
    bend: float
    off: float
    orders: float
    wheel_orders: float
    engine_orders: float
    phase_since: float
    felt: float
    reckoned_at: float
    reckoned_surge: float
    reckoned_sway: float
    reckoned_turn: float
    unknown_surge: float
    unknown_sway: float
    unknown_turn: float
    said: float
    busy: float
    busy_since: float
    busiest: float
    busiest_at: float
    last_time: float
    last_kind: float
    last_value: float
    lain: float


def memory_type() -> np.dtype[np.void]:
    """The record of `Memory`, with the telegraph of each shaft, thrusters and tugs in quarters, and room to think.

    The engine room's log, of each shaft: seconds astern at this go and in all; starts refused so far, the way it is
    wanted without air, and for how long [s]; of each thruster seconds of thrust at this go and in all.
    """
    fields: list[Any] = [(name, np.float64) for name in Memory._fields]
    return np.dtype(
        [
            *fields,
            ("telegraph", np.float64, (MOST_UNITS,)),
            ("told_telegraph", np.float64, (MOST_UNITS,)),
            ("telegraph_due", np.float64, (MOST_UNITS,)),
            ("thrust", np.float64, (MOST_UNITS,)),
            ("pull", np.float64, (MOST_TUGS,)),
            ("lead", np.float64, (MOST_TUGS,)),
            ("said_at", np.float64, (REMEMBERED,)),
            ("orders_due", np.float64, (MOST_STANDING,)),
            ("orders_now", np.float64, (MOST_STANDING,)),
            ("orders_best", np.float64, (MOST_STANDING,)),
            ("astern_now", np.float64, (MOST_UNITS,)),
            ("astern_all", np.float64, (MOST_UNITS,)),
            ("refused", np.float64, (MOST_UNITS,)),
            ("airless_way", np.float64, (MOST_UNITS,)),
            ("airless", np.float64, (MOST_UNITS,)),
            ("thrust_now", np.float64, (MOST_UNITS,)),
            ("thrust_all", np.float64, (MOST_UNITS,)),
        ],
        align=True,
    )


@formula
def write(log: Any, memory: Any, time: float, kind: int, unit: int, value: float, meaning: float) -> None:
    """Count an order, and write it into the log if there is room."""
    line = int(memory.orders)
    memory.orders += 1.0
    if line < log.shape[0]:
        log[line, TIME] = time
        log[line, PLACE] = memory.along
        log[line, KIND] = kind
        log[line, UNIT] = unit
        log[line, VALUE] = value
        log[line, MEANING] = meaning
    told = time == memory.last_time and kind == memory.last_kind and value == memory.last_value
    if told and memory.said > 0.0 and kind in (ENGINE_ORDER, THRUSTER_ORDER):
        return
    memory.last_time = time
    memory.last_kind = kind
    memory.last_value = value
    count_said(memory, time)


@formula
def count_said(memory: Any, time: float) -> None:
    """Count one more order spoken, and how many that makes in ten minutes."""
    memory.said_at[int(memory.said) % REMEMBERED] = time
    memory.said += 1.0
    memory.busy = busy_now(memory, time) + 1.0
    memory.busy_since = time
    recent = 0.0
    for back in range(min(int(memory.said), REMEMBERED)):
        if memory.said_at[back] > time - BUSY_TIME:
            recent += 1.0
    if recent > memory.busiest:
        memory.busiest = recent
        memory.busiest_at = time


@formula
def busy_now(memory: Any, time: float) -> Real:
    """Orders of the last ten minutes, each counting less the longer ago it was given. [-]"""
    return memory.busy * np.exp((memory.busy_since - time) / BUSY_TIME)


BUSY_TIME = 600.0  # s over which orders are counted
REMEMBERED = 128  # orders whose times are kept: more than any bridge gives in ten minutes


@formula
def say_wheel(log: Any, memory: Any, time: float, wheel: float, delay: float, spoken: bool) -> None:
    """Order a wheel; `spoken` if by the conn, else the helmsman's own to keep a course."""
    if wheel == memory.told_wheel:
        return
    memory.told_wheel = wheel
    memory.wheel_due = time + delay
    memory.last_wheel = time
    if spoken:
        memory.wheel_orders += 1.0
        write(log, memory, time, WHEEL_ORDER, 0, wheel, 0.0)


@formula
def say_telegraph(log: Any, memory: Any, time: float, shaft: int, line: int, delay: float) -> None:
    """Ring an order to one shaft."""
    if line == memory.told_telegraph[shaft]:
        return
    memory.told_telegraph[shaft] = line
    memory.telegraph_due[shaft] = time + delay
    memory.last_engine = time
    memory.engine_orders += 1.0
    write(log, memory, time, ENGINE_ORDER, shaft, float(line), 0.0)


@formula
def helpers_stop(ship: Any, log: Any, memory: Any, time: float) -> None:
    """Stop every thruster and tug that is still at work."""
    for unit in range(ship.thruster_count):
        if memory.thrust[unit] != 0.0:
            memory.thrust[unit] = 0.0
            write(log, memory, time, THRUSTER_ORDER, unit, 0.0, 0.0)
    for unit in range(ship.tug_count):
        if memory.pull[unit] != 0.0:
            memory.pull[unit] = 0.0
            write(log, memory, time, TUG_ORDER, unit, 0.0, memory.lead[unit])


@formula
def put(ship: Any, known: Known, gear: Any, orders: Any) -> None:
    """Put one line of standing orders on the gear: telegraph line of each shaft, wheel, quarters of each thruster,
    quarters and lead of each tug."""
    place = 0
    for shaft in range(ship.screw_count):
        line = int(orders[place])
        gear.shafts[shaft].order_speed = known.speeds[line]
        gear.shafts[shaft].order_pitch = known.pitches[line]
        place += 1
    for index in range(ship.rudder_count):
        gear.helms[index].order = orders[place]
    place += 1
    for unit in range(ship.thruster_count):
        gear.thrusters[unit].order = orders[place] / QUARTERS
        place += 1
    for unit in range(ship.tug_count):
        gear.tugs[unit].order_power = orders[place] / QUARTERS
        gear.tugs[unit].order_direction = orders[place + 1] * QUARTER_TURN
        place += 2


@formula
def pass_on(ship: Any, known: Known, gear: Any, memory: Any, time: float) -> None:
    """Put what is due on wheel, telegraphs, thrusters and tugs."""
    if time >= memory.wheel_due:
        memory.wheel = memory.told_wheel
    for shaft in range(ship.screw_count):
        if time >= memory.telegraph_due[shaft]:
            memory.telegraph[shaft] = memory.told_telegraph[shaft]
    standing(ship, memory, memory.telegraph, memory.wheel, memory.orders_due)
    put(ship, known, gear, memory.orders_due)


@formula
def standing(ship: Any, memory: Any, telegraph: Any, wheel: float, orders: Any) -> int:
    """Write telegraph, wheel and what thrusters and tugs are told as one line of orders; how many there are."""
    place = 0
    for shaft in range(ship.screw_count):
        orders[place] = telegraph[shaft]
        place += 1
    orders[place] = wheel
    place += 1
    for unit in range(ship.thruster_count):
        orders[place] = memory.thrust[unit]
        place += 1
    for unit in range(ship.tug_count):
        orders[place] = memory.pull[unit]
        orders[place + 1] = memory.lead[unit]
        place += 2
    return place
