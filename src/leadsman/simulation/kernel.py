"""The equations of motion and one step of them: ship, shafts and rudders in given surroundings. Compiled; SI and
radians.

Three degrees of freedom, origin amidships, velocities through the water (docs/methods/manoeuvring.md):

    (m + mx) u' - (m + my) v r - m xG r²             = X
    (m + my) v' + (m + mx) u r + m xG r'             = Y
    (Iz + m xG² + Jz) r' + m xG (v' + u r)           = N

Engine and steering gear act once a step, as their governors do; within the step shaft speed and rudder angle go in a
straight line, so that the Runge-Kutta stages see them move. Another kernel calls `step`; Python calls `steps`.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula, kernel
from leadsman.physics.hull_force import Force
from leadsman.simulation import forces, handling, machinery
from leadsman.simulation.state import Motion, finite

STEP = 1.0  # s: see studies/step_halving_manoeuvring.py for what halving it changes
AFLOAT, AGROUND, BROKEN = 0, 1, 2  # how a run stands: `BROKEN` means a motion that is not a number


class Rates(NamedTuple):
    """Time derivatives of `Motion`."""

    north: float
    east: float
    heading: float
    surge: float
    sway: float
    yaw_rate: float


@formula
def rates(ship: Any, tables: Any, gear: Any, motion: Motion, share: float, around: Any, outside: Force) -> Rates:
    """The equations of motion solved for the accelerations.

    Where the stream changes along her way she keeps her way over the ground: seen from the water that is an inertial
    force.
    """
    hull = ship.hull
    force = forces.total(ship, tables, gear, motion, share, around, outside)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    mass = hull.mass
    arm = mass * hull.centre_of_gravity
    factors = gear.factors
    surge_mass = mass + hull.surge_added_mass * factors.surge_added_mass
    sway_mass = mass + hull.sway_added_mass * factors.sway_added_mass
    inertia = hull.yaw_inertia + arm * hull.centre_of_gravity + hull.yaw_added_inertia * factors.yaw_added_inertia

    swept_ahead = around.stream_change_north * cosine + around.stream_change_east * sine
    swept_across = around.stream_change_east * cosine - around.stream_change_north * sine
    u, v, r = motion.surge, motion.sway, motion.yaw_rate
    X = force.surge + sway_mass * v * r + arm * r * r - mass * swept_ahead
    Y = force.sway - surge_mass * u * r - mass * swept_across
    N = force.yaw - arm * u * r - arm * swept_across
    determinant = sway_mass * inertia - arm * arm
    return Rates(
        north=u * cosine - v * sine + around.stream_north,
        east=u * sine + v * cosine + around.stream_east,
        heading=r,
        surge=X / surge_mass,
        sway=(inertia * Y - arm * N) / determinant,
        yaw_rate=(sway_mass * N - arm * Y) / determinant,
    )


@formula
def moved(motion: Motion, rate: Rates, interval: float) -> Motion:
    """The motion after an interval at constant rates."""
    return Motion(
        motion.north + interval * rate.north,
        motion.east + interval * rate.east,
        motion.heading + interval * rate.heading,
        motion.surge + interval * rate.surge,
        motion.sway + interval * rate.sway,
        motion.yaw_rate + interval * rate.yaw_rate,
    )


@formula
def weighted(first: Rates, second: Rates, third: Rates, fourth: Rates) -> Rates:
    """The mean of the four Runge-Kutta stages."""
    return Rates(
        (first.north + 2.0 * (second.north + third.north) + fourth.north) / 6.0,
        (first.east + 2.0 * (second.east + third.east) + fourth.east) / 6.0,
        (first.heading + 2.0 * (second.heading + third.heading) + fourth.heading) / 6.0,
        (first.surge + 2.0 * (second.surge + third.surge) + fourth.surge) / 6.0,
        (first.sway + 2.0 * (second.sway + third.sway) + fourth.sway) / 6.0,
        (first.yaw_rate + 2.0 * (second.yaw_rate + third.yaw_rate) + fourth.yaw_rate) / 6.0,
    )


@formula
def standing(ship: Any, motion: Motion, around: Any) -> int:
    """Whether she floats: bow, midships and stern with her squat against the depth there; and whether all is a
    number."""
    if not finite(motion):
        return BROKEN
    hull = ship.hull
    squat = hull.squat * motion.surge * motion.surge
    middle = 0.5 * (hull.draught_forward + hull.draught_aft)
    gap = min(
        around.depth_bow - hull.draught_forward, around.depth_midships - middle, around.depth_stern - hull.draught_aft
    )
    return AGROUND if gap <= squat else AFLOAT


@formula
def tend(ship: Any, tables: Any, gear: Any, motion: Motion, around: Any, time: float, interval: float) -> None:
    """Bring rudders, engines, thrusters, tugs and cables forward by an interval, each towards its order."""
    forces.look_at_water(ship, tables, gear, motion.surge, around)
    for index in range(ship.rudder_count):
        machinery.steer(ship.rudders[index], gear.helms[index], interval)
    for index in range(ship.screw_count):
        machine = ship.engines[index]
        machinery.drive(machine, ship.screws[index], gear.shafts[index], tables, around.density, time, interval)
    for index in range(ship.thruster_count):
        handling.run_thruster(ship.thrusters[index], gear.thrusters[index], interval)
    for index in range(ship.tug_count):
        handling.work_tug(ship.tugs[index], gear.tugs[index], time, interval)
    for index in range(ship.anchor_count):
        handling.tend_cable(ship.anchors[index], gear.cables[index], motion, around.depth_bow, interval)


@kernel
def step(
    ship: Any, tables: Any, gear: Any, motion: Motion, around: Any, outside: Force, time: float, interval: float
) -> Motion:
    """The motion one interval later; `gear` is brought forward in place. For other kernels: it takes records.

    Parameters
    ----------
    ship, tables : records
        One of `Fleet.ships`, and `Fleet.tables[0]`.
    gear : record
        Of `state.gear`, with the orders in it.
    motion : Motion
    around : record
        Of `state.record_of`.
    outside : Force
        Of lines, fenders, waves and whatever else the gear does not know, in ship axes. [N, N, N m]
    time, interval : float
        [s]
    """
    tend(ship, tables, gear, motion, around, time, interval)
    first = rates(ship, tables, gear, motion, 0.0, around, outside)
    half = 0.5 * interval
    second = rates(ship, tables, gear, moved(motion, first, half), 0.5, around, outside)
    third = rates(ship, tables, gear, moved(motion, second, half), 0.5, around, outside)
    fourth = rates(ship, tables, gear, moved(motion, third, interval), 1.0, around, outside)
    return moved(motion, weighted(first, second, third, fourth), interval)


@kernel
def stride(ship: Any, tables: Any, gear: Any, motion: Motion, around: Any, time: float, interval: float) -> Motion:
    """As `step`, by the midpoint rule and without outside forces: half the work, for thoughts rather than answers."""
    tend(ship, tables, gear, motion, around, time, interval)
    first = rates(ship, tables, gear, motion, 0.0, around, CALM)
    second = rates(ship, tables, gear, moved(motion, first, 0.5 * interval), 0.5, around, CALM)
    return moved(motion, second, interval)


CALM = Force(0.0, 0.0, 0.0)  # nothing pushes from outside


@kernel
def steps(
    fleet: Any,
    run: int,
    gears: Any,
    motion: Motion,
    arounds: Any,
    outside: Force,
    time: float,
    interval: float,
    count: int,
) -> tuple[Motion, int]:
    """`count` steps under the same orders and surroundings, and how she stands then; ends early if she no longer
    floats.

    For Python: `fleet` is a `Fleet`, `gears` and `arounds` are arrays of one record, `run` the variant.
    """
    ship = fleet.ships[run]
    tables = fleet.tables[0]
    around = arounds[0]
    state = standing(ship, motion, around)
    for index in range(count):
        if state != AFLOAT:
            break
        motion = step(ship, tables, gears[0], motion, around, outside, time + index * interval, interval)
        state = standing(ship, motion, around)
    return motion, state


@kernel
def pushed(fleet: Any, run: int, gears: Any, motion: Motion, arounds: Any, outside: Force) -> Force:
    """Sum of all forces at an instant, inertial ones apart: nil in a state of balance. For Python. [N, N, N m]"""
    ship = fleet.ships[run]
    tables = fleet.tables[0]
    forces.look_at_water(ship, tables, gears[0], motion.surge, arounds[0])
    return forces.total(ship, tables, gears[0], motion, 1.0, arounds[0], outside)


HALVINGS = 40  # of the span of sway speeds searched: to a millionth of a millionth of it


@kernel
def pushed_adrift(fleet: Any, run: int, gears: Any, surge: float, arounds: Any, reach: float) -> Force:
    """As `pushed`, held on her heading at a speed ahead and drifting as the side force has it. For Python.

    The sway is sought between -reach and reach [m/s], where the water's drag has the upper hand.
    """
    ship = fleet.ships[run]
    tables = fleet.tables[0]
    gear = gears[0]
    around = arounds[0]
    calm = Force(0.0, 0.0, 0.0)
    forces.look_at_water(ship, tables, gear, surge, around)
    low = -reach
    high = reach
    for _ in range(HALVINGS):
        sway = 0.5 * (low + high)
        push = forces.total(ship, tables, gear, Motion(0.0, 0.0, 0.0, surge, sway, 0.0), 1.0, around, calm)
        if push.sway > 0.0:
            low = sway
        else:
            high = sway
    return forces.total(ship, tables, gear, Motion(0.0, 0.0, 0.0, surge, 0.5 * (low + high), 0.0), 1.0, around, calm)
