"""The equations of motion and one step of them: ship, shafts and rudders in given surroundings. Compiled; SI and
radians.

Three degrees of freedom, origin amidships, velocities through the water (docs/methods/manoeuvring.md):

    (m + mx) u' - (m + my) v r - m xG r²             = X
    (m + my) v' + (m + mx) u r + m xG r'             = Y
    (Iz + m xG² + Jz) r' + m xG (v' + u r)           = N

Engine and steering gear act once a step, as their governors do; within the step shaft speed and rudder angle go in a
straight
line, so that the Runge-Kutta stages see them move. Another kernel calls `step`; Python calls `steps`.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import formula, kernel
from leadsman.physics.hull_force import Force
from leadsman.simulation import forces, machinery
from leadsman.simulation.forces import Water
from leadsman.simulation.state import Motion, Surroundings, finite

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
def rates(
    fleet: Any,
    run: int,
    motion: Motion,
    shafts: Any,
    helms: Any,
    share: float,
    around: Surroundings,
    sea: Water,
    outside: Force,
) -> Rates:
    """The equations of motion solved for the accelerations.

    Where the stream changes along her way she keeps her way over the ground: seen from the water that is an inertial
    force.
    """
    hull = fleet.hull[run]
    force = forces.total(fleet, run, motion, shafts, helms, share, around, sea, outside)
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    mass = hull.mass
    arm = mass * hull.centre_of_gravity
    surge_mass = mass + hull.surge_added_mass * sea.factors.surge_added_mass
    sway_mass = mass + hull.sway_added_mass * sea.factors.sway_added_mass
    inertia = hull.yaw_inertia + arm * hull.centre_of_gravity + hull.yaw_added_inertia * sea.factors.yaw_added_inertia

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
def standing(fleet: Any, run: int, motion: Motion, around: Surroundings) -> int:
    """Whether she floats: bow, midships and stern with her squat against the depth there; and whether all is a
    number."""
    if not finite(motion):
        return BROKEN
    hull = fleet.hull[run]
    squat = hull.squat * motion.surge * motion.surge
    middle = 0.5 * (hull.draught_forward + hull.draught_aft)
    gap = min(
        around.depth_bow - hull.draught_forward, around.depth_midships - middle, around.depth_stern - hull.draught_aft
    )
    return AGROUND if gap <= squat else AFLOAT


@kernel
def step(
    fleet: Any,
    run: int,
    motion: Motion,
    shafts: Any,
    helms: Any,
    around: Surroundings,
    outside: Force,
    time: float,
    interval: float,
) -> Motion:
    """The motion one interval later; `shafts` and `helms` are brought forward in place.

    Parameters
    ----------
    fleet : Fleet
    run : int
        Which variant of the ship.
    motion : Motion
    shafts, helms : records [units]
        With the orders in them.
    around : Surroundings
    outside : Force
        Of tugs, thrusters, lines, anchors, waves, in ship axes. [N, N, N m]
    time, interval : float
        [s]
    """
    sea = forces.water(fleet, run, motion.surge, around)
    for index in range(helms.shape[0]):
        machinery.steer(fleet, run, index, helms[index], interval)
    for index in range(shafts.shape[0]):
        inflow = shafts[index].advance
        machinery.drive(fleet, run, index, shafts[index], inflow, around.density, time, interval)
    first = rates(fleet, run, motion, shafts, helms, 0.0, around, sea, outside)
    half = 0.5 * interval
    second = rates(fleet, run, moved(motion, first, half), shafts, helms, 0.5, around, sea, outside)
    third = rates(fleet, run, moved(motion, second, half), shafts, helms, 0.5, around, sea, outside)
    fourth = rates(fleet, run, moved(motion, third, interval), shafts, helms, 1.0, around, sea, outside)
    return moved(motion, weighted(first, second, third, fourth), interval)


@kernel
def steps(
    fleet: Any,
    run: int,
    motion: Motion,
    shafts: Any,
    helms: Any,
    around: Surroundings,
    outside: Force,
    time: float,
    interval: float,
    count: int,
) -> tuple[Motion, int]:
    """`count` steps under the same orders and surroundings, and how she stands then; ends early if she no longer
    floats."""
    state = standing(fleet, run, motion, around)
    for index in range(count):
        if state != AFLOAT:
            break
        motion = step(fleet, run, motion, shafts, helms, around, outside, time + index * interval, interval)
        state = standing(fleet, run, motion, around)
    return motion, state


@kernel
def pushed(
    fleet: Any, run: int, motion: Motion, shafts: Any, helms: Any, around: Surroundings, outside: Force
) -> Force:
    """Sum of all forces at an instant, inertial ones apart: nil in a state of balance. [N, N, N m]"""
    sea = forces.water(fleet, run, motion.surge, around)
    return forces.total(fleet, run, motion, shafts, helms, 1.0, around, sea, outside)
