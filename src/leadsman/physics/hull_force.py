"""Water force on the bare hull at any speed, drift and rate of turn: polynomial under way, cross flow at rest, joined
smoothly."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.shallow import Shallow
from leadsman.units import GRAVITY

STRAIGHT = 0.9063  # cosine of 25 degrees of drift: up to here the polynomial alone; the captive tests go to about 20
ACROSS = 0.5000  # cosine of 60 degrees of drift: from here on cross flow alone
TURNING = 2.0  # r L/U up to which the polynomial alone speaks (steady turns of full ships reach 1)
SPINNING = 4.0  # r L/U from which cross flow alone speaks
SLOWEST = 1e-6  # m/s: keeps ratios of velocities finite when she is stopped; forces there are zero to rounding


class Hull(NamedTuple):
    """A hull as the equations of motion see it: SI, added masses and derivatives for deep water."""

    length: float
    beam: float
    draught_forward: float
    draught_aft: float
    mass: float
    centre_of_gravity: float
    yaw_inertia: float
    surge_added_mass: float
    sway_added_mass: float
    yaw_added_inertia: float
    R0: float
    R1: float
    R2: float
    greatest_froude: float
    astern_resistance: float
    cross_flow_drag: float
    cross_flow_swing: float
    cross_flow_yaw: float
    bank_effect: float
    windage: float
    shallow_yaw: float
    squat: float
    Xvv: float
    Xvr: float
    Xrr: float
    Xvvvv: float
    Yv: float
    Yr: float
    Yvv: float
    Yrr: float
    Yvvv: float
    Yvvr: float
    Yvrr: float
    Yrrr: float
    Nv: float
    Nr: float
    Nvv: float
    Nrr: float
    Nvvv: float
    Nvvr: float
    Nvrr: float
    Nrrr: float


class Force(NamedTuple):
    """Forward [N], to starboard [N], turning the bow to starboard about midships [N m]."""

    surge: Real
    sway: Real
    yaw: Real


@formula
def smoothstep(share: Real) -> Real:
    """From 0 to 1 with level ends as `share` goes from 0 to 1. [-]"""
    held = np.minimum(np.maximum(share, 0.0), 1.0)
    return held * held * (3.0 - 2.0 * held)


@formula
def resistance_coefficient(hull: Hull, surge: Real) -> Real:
    """R0' at a speed ahead, a parabola in the length Froude number held beyond the fitted speeds. [-]"""
    froude = np.minimum(np.abs(surge) / np.sqrt(GRAVITY * hull.length), hull.greatest_froude)
    return hull.R0 + froude * (hull.R1 + froude * hull.R2)


@formula
def cross_flow(sway: float, swing: float) -> tuple[float, float]:
    """Mean of |w| w, and of |w| w x/L, along the hull, where w = sway + swing x/L. [m²/s²]

    The exact integrals for an even distribution; scalars only, it branches on whether the flow changes side under her.

    Source: [Yoshimura2009], the integral of its cross-flow terms.
    Limits: none.
    """
    if np.abs(sway) >= 0.5 * np.abs(swing):
        side = np.sign(sway)
        return side * (sway * sway + swing * swing / 12.0), side * sway * swing / 6.0
    pivot = sway / swing
    bow = 0.5 + pivot
    stern = 0.5 - pivot
    scale = swing * np.abs(swing)
    force = scale * (bow**3 - stern**3) / 3.0
    moment = scale * (0.25 * (bow**4 + stern**4) - pivot * (bow**3 - stern**3) / 3.0)
    return force, moment


@formula
def cross_flow_share(surge: Real, sway: Real, swing: Real) -> Real:
    """How much of the force comes from the cross-flow model: 0 under way, 1 drifting or spinning; `swing` is r L.
    [-]"""
    speed = np.maximum(np.sqrt(surge * surge + sway * sway), SLOWEST)
    drifting = smoothstep((STRAIGHT - surge / speed) / (STRAIGHT - ACROSS))
    spinning = smoothstep((np.abs(swing) / speed - TURNING) / (SPINNING - TURNING))
    return 1.0 - (1.0 - drifting) * (1.0 - spinning)


@formula
def polynomial(hull: Hull, shallow: Shallow, drag: Real, surge: Real, sway: Real, swing: Real) -> Force:
    """Hull force of the manoeuvring polynomial over ½ρ L d (and L for the moment); `drag` is R0' here. [m²/s²]

    Source: [YasukawaYoshimura2015], with the squares |v|v and |r|r of [Kijima1990] beside the cubes.
    Limits: drift up to 20 degrees, r L/U up to 1.
    """
    speed = np.maximum(np.sqrt(surge * surge + sway * sway), SLOWEST)
    v = sway / speed
    r = swing / speed
    vv = v * v
    rr = r * r
    X = (
        -drag
        + shallow.fyv * vv * (hull.Xvv + hull.Xvvvv * vv)
        + shallow.fyr * hull.Xvr * v * r
        + shallow.fnr * hull.Xrr * rr
    )
    Y = (
        shallow.Yv * hull.Yv * v
        + shallow.Yr * hull.Yr * r
        + shallow.fyv * (v * (hull.Yvv * np.abs(v) + hull.Yvvv * vv) + vv * r * hull.Yvvr + v * rr * hull.Yvrr)
        + shallow.gnr * r * (hull.Yrr * np.abs(r) + hull.Yrrr * rr)
    )
    N = (
        shallow.fnv * hull.Nv * v
        + shallow.Nr * hull.Nr * r
        + shallow.fyv * (v * (hull.Nvv * np.abs(v) + hull.Nvvv * vv) + vv * r * hull.Nvvr + v * rr * hull.Nvrr)
        + shallow.gnr * r * (hull.Nrr * np.abs(r) + hull.Nrrr * rr)
    )
    pressure = speed * speed
    return Force(surge=pressure * X, sway=pressure * Y, yaw=pressure * N)


@formula
def unified(hull: Hull, shallow: Shallow, drag: Real, surge: float, sway: float, swing: float) -> Force:
    """Hull force of the low-speed model over ½ρ L d (and L for the moment), any drift, ahead or astern. [m²/s²]

    Scalars only. Lift-like terms are linear in the cross velocity, the rest is drag of the flow across each section.

    Source: [Yoshimura2009].
    Limits: low speed or large drift; `drag` is R0' ahead.
    """
    ahead = np.abs(surge)
    push = drag * (1.0 if surge >= 0.0 else hull.astern_resistance)
    blocking = hull.cross_flow_drag * shallow.cross_flow_drag
    side_force, _ = cross_flow(sway, hull.cross_flow_swing * swing)
    _, side_moment = cross_flow(sway, hull.cross_flow_yaw * swing)
    return Force(
        surge=-push * surge * ahead + shallow.fyr * hull.Xvr * sway * swing,
        sway=shallow.Yv * hull.Yv * ahead * sway + shallow.Yr * hull.Yr * surge * swing - blocking * side_force,
        yaw=shallow.fnv * hull.Nv * surge * sway + shallow.Nr * hull.Nr * ahead * swing - blocking * side_moment,
    )


@formula
def force(
    hull: Hull, shallow: Shallow, density: float, wave_speed: float, surge: float, sway: float, yaw_rate: float
) -> Force:
    """Water force on the hull, added-mass terms apart. Scalars only. [N, N, N m]

    Parameters
    ----------
    density : float
        Of the water. [kg/m³]
    wave_speed : float
        `shallow.schlichting` at this speed and depth; 1 in deep water. [-]
    surge, sway, yaw_rate : float
        Through the water, at midships. [m/s, m/s, rad/s]

    Source: [YasukawaYoshimura2015], [Yoshimura2009]; the joint by drift angle and r L/U is ours.
    Limits: depth/draught 1.1 upwards.
    """
    swing = yaw_rate * hull.length
    drag = resistance_coefficient(hull, surge * wave_speed) * shallow.resistance * wave_speed * wave_speed
    share = cross_flow_share(surge, sway, swing)
    X = 0.0
    Y = 0.0
    N = 0.0
    if share < 1.0:
        fast = polynomial(hull, shallow, drag, surge, sway, swing)
        X += (1.0 - share) * fast.surge
        Y += (1.0 - share) * fast.sway
        N += (1.0 - share) * fast.yaw
    if share > 0.0:
        slow = unified(hull, shallow, drag, surge, sway, swing)
        X += share * slow.surge
        Y += share * slow.sway
        N += share * slow.yaw
    scale = 0.25 * density * hull.length * (hull.draught_forward + hull.draught_aft)
    return Force(surge=scale * X, sway=scale * Y, yaw=scale * hull.length * N)
