"""A run in time under orders given beforehand, or under the simple helms that standard trials prescribe."""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, kernel
from leadsman.physics.engine import ramped
from leadsman.physics.hull_force import Force
from leadsman.simulation import state
from leadsman.simulation.kernel import AFLOAT, STEP, standing, step
from leadsman.simulation.parameters import Array, Fleet, Records
from leadsman.simulation.state import Motion, Surroundings

AS_PLANNED, ZIGZAG, ON_RAILS = 0.0, 1.0, 2.0
COLUMNS = ("time", "north", "east", "heading", "surge", "sway", "yaw_rate", "rudder", "shaft_speed", "pitch")
WIDTH = len(COLUMNS)


NO_ORDERS = np.zeros((0, 0))


class Plan(NamedTuple):
    """Orders in time: from `times[i]` [s] on, rudder angles [rad], shaft speeds [1/s] and pitch ratios of line i.

    Where given, also shares of the thrusters, direction [rad] and power of each tug's force, and lengths of cable [m],
    as `state.Thruster`, `state.Tow` and `state.Cable` take them; else the gear's own orders stand.
    """

    times: Array
    rudders: Array
    speeds: Array
    pitches: Array
    thrusters: Array = NO_ORDERS
    tug_directions: Array = NO_ORDERS
    tug_powers: Array = NO_ORDERS
    cables: Array = NO_ORDERS


class Helmsman(NamedTuple):
    """Who steers: the plan, or a zig-zag of `rudder` on `heading` change [rad], or rails that hold her straight."""

    mode: float
    rudder: float
    heading: float


class Ending(NamedTuple):
    """When a run ends: at a time [s]; at a heading change [rad]; at a speed through the water fallen to `least_surge`
    [m/s]; when surge and yaw rate change by less than `steady` of themselves in a minute [-]; each nil where not
    wanted.
    """

    time: float
    heading_change: float
    least_surge: float
    steady: float


class Run(NamedTuple):
    """What came out: last motion, time [s], how she stands, track [moments, COLUMNS], the gear at the end [1]."""

    motion: Motion
    time: float
    standing: int
    track: Array
    gear: Records


@formula
def zigzag_order(helmsman: Helmsman, order: float, heading: float, start: float) -> float:
    """Rudder to the other side once the heading has passed the limit on the side it was put to. [rad]"""
    turned = heading - start
    if order == 0.0:
        return helmsman.rudder
    if turned * np.sign(order) >= np.abs(helmsman.heading):
        return -order
    return order


@formula
def lateness(helmsman: Helmsman, order: float, motion: Motion, start: float, interval: float) -> Real:
    """How long before this moment the heading passed the limit, at most a step: the rudder has been moving since.
    [s]"""
    if order == 0.0:
        return 0.0
    passed = (motion.heading - start) * np.sign(order) - np.abs(helmsman.heading)
    return min(max(passed, 0.0) / max(np.abs(motion.yaw_rate), 1e-9), interval)


@formula
def ended(ending: Ending, time: float, turned: float, motion: Motion) -> bool:
    """Whether the run has come to its end by time, heading change or speed."""
    if time >= ending.time:
        return True
    if ending.heading_change > 0.0 and np.abs(turned) >= ending.heading_change:
        return True
    return bool(motion.surge <= ending.least_surge)


@formula
def settled(motion: Motion, before: Motion, steady: float) -> bool:
    """Whether speed and rate of turn are what they were a minute before, but for the share `steady`."""
    faster = np.abs(motion.surge - before.surge) / max(np.abs(motion.surge), 0.05)
    turning = np.abs(motion.yaw_rate - before.yaw_rate) / max(np.abs(motion.yaw_rate), 1e-4)
    return bool(max(faster, turning) < steady)


@formula
def note(track: Any, line: int, time: float, motion: Motion, gear: Any) -> None:
    """Write one line of the track, if there is one to write to."""
    if line >= track.shape[0]:
        return
    track[line, 0] = time
    track[line, 1] = motion.north
    track[line, 2] = motion.east
    track[line, 3] = motion.heading
    track[line, 4] = motion.surge
    track[line, 5] = motion.sway
    track[line, 6] = motion.yaw_rate
    track[line, 7] = gear.helms[0].angle
    track[line, 8] = gear.shafts[0].speed
    track[line, 9] = gear.shafts[0].pitch


@formula
def give(plan: Plan, line: int, gear: Any) -> None:
    """Put the orders of one line of the plan on telegraphs and wheels, and give them to thrusters, tugs and
    forecastle."""
    for index in range(plan.rudders.shape[1]):
        gear.helms[index].order = plan.rudders[line, index]
    for index in range(plan.speeds.shape[1]):
        gear.shafts[index].order_speed = plan.speeds[line, index]
        gear.shafts[index].order_pitch = plan.pitches[line, index]
    for index in range(plan.thrusters.shape[1]):
        gear.thrusters[index].order = plan.thrusters[line, index]
    for index in range(plan.tug_directions.shape[1]):
        gear.tugs[index].order_direction = plan.tug_directions[line, index]
    for index in range(plan.tug_powers.shape[1]):
        gear.tugs[index].order_power = plan.tug_powers[line, index]
    for index in range(plan.cables.shape[1]):
        gear.cables[index].order = plan.cables[line, index]


@kernel
def sail(
    ship: Any,
    tables: Any,
    gear: Any,
    motion: Motion,
    around: Any,
    outside: Force,
    plan: Plan,
    helmsman: Helmsman,
    ending: Ending,
    interval: float,
    track: Any,
) -> tuple[Motion, int, int]:
    """Carry out a plan until its end: the last motion, the number of steps, how she stands then. For kernels: records.

    `track` [moments, COLUMNS] takes one line a step and may be empty; nothing else grows with the length of the run.
    """
    time = 0.0
    start = motion.heading
    minute = motion
    order = 0.0
    line = -1
    count = 0
    afloat = standing(ship, motion, around)
    per_minute = round(60.0 / interval)
    note(track, 0, time, motion, gear)
    while afloat == AFLOAT and not ended(ending, time, motion.heading - start, motion):
        if count % per_minute == 0:
            if count > per_minute and settled(motion, minute, ending.steady):
                break
            minute = motion
        while line + 1 < plan.times.shape[0] and plan.times[line + 1] <= time + 1e-9:
            line += 1
            give(plan, line, gear)
        if helmsman.mode == ZIGZAG:
            wanted = zigzag_order(helmsman, order, motion.heading, start)
            if wanted != order:
                late = lateness(helmsman, order, motion, start, interval)
                order = wanted
                for index in range(ship.rudder_count):
                    helm = gear.helms[index]
                    helm.order = order
                    helm.angle = ramped(helm.angle, order, ship.rudders[index].rate * late)
        motion = step(ship, tables, gear, motion, around, outside, time, interval)
        if helmsman.mode == ON_RAILS:
            motion = Motion(motion.north, 0.0, start, motion.surge, 0.0, 0.0)
        count += 1
        time = count * interval
        afloat = standing(ship, motion, around)
        note(track, count, time, motion, gear)
    return motion, count, afloat


@kernel
def sail_one(
    fleet: Any,
    variant: int,
    gears: Any,
    motion: Motion,
    arounds: Any,
    outside: Force,
    plan: Plan,
    helmsman: Helmsman,
    ending: Ending,
    interval: float,
    track: Any,
) -> tuple[Motion, int, int]:
    """`sail` for Python: a `Fleet`, and arrays of one record."""
    found: tuple[Motion, int, int] = sail(
        fleet.ships[variant],
        fleet.tables[0],
        gears[0],
        motion,
        arounds[0],
        outside,
        plan,
        helmsman,
        ending,
        interval,
        track,
    )
    return found


def steady_plan(fleet: Fleet, rudder: float, speeds: Any, pitches: Any) -> Plan:
    """One order from the beginning: the same rudder angle [rad] on all, shaft speeds [1/s] and pitch ratios, one or
    per shaft."""
    rudders, screws = int(fleet.ships[0]["rudder_count"]), int(fleet.ships[0]["screw_count"])
    return Plan(
        times=np.zeros(1),
        rudders=np.full((1, rudders), float(rudder)),
        speeds=np.array(np.broadcast_to(np.asarray(speeds, float), (1, screws))),
        pitches=np.array(np.broadcast_to(np.asarray(pitches, float), (1, screws))),
    )


PLANNED = Helmsman(AS_PLANNED, 0.0, 0.0)
RAILS = Helmsman(ON_RAILS, 0.0, 0.0)
NO_FORCE = Force(0.0, 0.0, 0.0)


def run(
    fleet: Fleet,
    motion: Motion,
    plan: Plan,
    ending: Ending,
    around: Surroundings,
    *,
    variant: int = 0,
    helmsman: Helmsman = PLANNED,
    outside: Force = NO_FORCE,
    interval: float = STEP,
    gear: Records | None = None,
    tracked: bool = True,
) -> Run:
    """Carry out a plan from a motion, with the gear of an earlier run or with shafts at the first order of the plan.

    Raises
    ------
    ValueError
        Naming the quantity of motion, plan, surroundings or outside force that is not a number.
    """
    refuse_nan("motion", motion)
    refuse_nan("surroundings", around)
    refuse_nan("outside force", outside)
    refuse_nan("plan", plan)
    if gear is None:
        gear = state.gear(fleet, variant, plan.speeds[0], plan.pitches[0])
    moved = gear.copy()
    track = np.zeros((int(np.ceil(ending.time / interval)) + 2 if tracked else 0, WIDTH))
    last, count, standing_then = sail_one(
        fleet, variant, moved, motion, state.record_of(around), outside, plan, helmsman, ending, interval, track
    )
    return Run(last, count * interval, standing_then, track[: count + 1], moved)


def refuse_nan(what: str, values: Any) -> None:
    """Refuse a named tuple that holds a NaN, naming the quantity.

    Raises
    ------
    ValueError
    """
    for name, value in values._asdict().items():
        if np.isnan(value).any():
            raise ValueError(f"{what}: {name.replace('_', ' ')} is not a number")
