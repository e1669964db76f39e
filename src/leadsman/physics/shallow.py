"""Factors by which the deep-water coefficients of the manoeuvring model change with the depth of water.

TH = d/h is draught over depth, F = h/d - 1. Factors multiply the deep values of the combined set (hull functions,
linear derivatives, interaction) described in docs/methods/shallow.md.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics import hull_interaction
from leadsman.physics.hull_added_mass import shallow_growth
from leadsman.physics.method import Method

SHALLOWEST = 1.1  # depth/draught: below it every factor keeps the value it has here, the limit of the published set
CLOSE_TO_THE_BED = 1.0  # [-] judgement, see `close_to_the_bed`
MOST_YAW_DAMPING = 3.0  # [-] judgement
MOST_WAKE_GROWTH = 1.4  # [-] the benchmark tanker's at depth/draught 1.2; beyond it ships came out faster than deep
MOST_WAKE = 0.6  # [-] cap on the shallow wake fraction, judgement of the reference run


class Shallow(NamedTuple):
    """Multipliers of deep-water values [-], named by the coefficients they act on.

    `fyv`: Xvv, Xvvvv, Yvv, Yvvv, Yvvr, Yvrr, Nvv, Nvvv, Nvvr, Nvrr. `fyr`: Xvr. `fnr`: Xrr. `fnv`: Nv.
    `gnr`: Yrr, Yrrr, Nrr, Nrrr. The others bear the name of their coefficient.
    """

    fyv: Real
    fyr: Real
    fnr: Real
    fnv: Real
    gnr: Real
    Yv: Real
    Yr: Real
    Nr: Real
    surge_added_mass: Real
    sway_added_mass: Real
    yaw_added_inertia: Real
    wake: Real
    thrust: Real
    straightening: Real
    resistance: Real
    cross_flow_drag: Real
    transverse_thrust: Real


@formula
def hull_functions(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real
) -> tuple[Real, Real, Real, Real, Real]:
    """(fyv, fyr, fnr, fnv, gnr) of the hull polynomial. [-]

    The second-order function K2 keeps its form for beam/draught up to 4 above it too: the printed form for wider ships
    jumps sixteenfold at 4 and is taken for a misprint.

    Source: [Ankudinov1990]; K0 to K2 from memory, the rest seen in a transcription.
    Limits: depth/draught 1.1 upwards, depth Froude number below 0.6.
    """
    gap = np.maximum(depth_to_draught, SHALLOWEST) - 1.0
    width = block_coefficient * beam * (1.0 + beam / length) ** 2 / draught
    k0 = 1.0 + 0.0775 / gap**2 - 0.0110 / gap**3 + 0.000068 / gap**5
    k1 = -0.0643 / gap + 0.0724 / gap**2 - 0.0113 / gap**3 + 0.0000767 / gap**5
    k2 = 0.0342 / gap
    gnr = k0 + 8.0 / 15.0 * k1 * width + 40.0 / 105.0 * k2 * width**2
    fyr = k0 + 2.0 / 5.0 * k1 * width + 24.0 / 105.0 * k2 * width**2
    fnr = k0 + 0.5 * k1 * width + k2 * width**2 / 3.0
    fnv = k0 + k1 * width + k2 * width**2
    return 1.5 * fnr - 0.5, fyr, fnr, fnv, gnr


@formula
def linear_terms(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real
) -> tuple[Real, Real, Real]:
    """(Yv, Yr, Nr) factors. [-]

    The fullness Cb B/d that enters the factor of Yr is held between 2.1 and 2.7: below, the cubic turns the force round
    close to the bed, which no hull does; at 2.1 it agrees with the aspect ratio of `hirano` within a fifth. The factor
    of Nr is held below 3, what the other yaw terms reach: for shallow-draught ships the printed power passes 5
    (judgement).

    Source: [KijimaNakiri1990]; the cubic of Yr from memory, the rest seen in a transcription.
    Limits: depth/draught 1.1 upwards.
    """
    share = 1.0 / np.maximum(depth_to_draught, SHALLOWEST)
    z = np.minimum(np.maximum(block_coefficient * beam / draught, 2.1), 2.7)
    a1 = -5.5 * z**2 + 26.0 * z - 31.5
    a2 = 37.0 * z**2 - 185.0 * z + 230.0
    a3 = -38.0 * z**2 + 197.0 * z - 250.0
    sway = (1.0 - share) ** (-0.4 * block_coefficient * beam / draught) - share
    swing = 1.0 + a1 * share + a2 * share**2 + a3 * share**3
    yaw = (1.0 - share) ** (-(1.5 - 14.28 * draught / length)) - share
    return sway, swing, np.minimum(yaw, MOST_YAW_DAMPING)


@formula
def interaction(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real
) -> tuple[Real, Real, Real]:
    """Factors of the wake fraction, of 1 - thrust deduction and of the flow straightening at the rudder. [-]

    Held between 1 and 2, 0.8 and 1.15, 0.5 and 1.8: outside, the fits have left the ships they were made from
    (judgement).

    Source: [KijimaNakiri1990] and later fits to the same tests, seen in a transcription.
    Limits: depth/draught 1.1 upwards; block coefficient x beam/length 0.10 to 0.16.
    """
    share = 1.0 / np.maximum(depth_to_draught, SHALLOWEST)
    slim = block_coefficient * length / draught
    wake = 1.0 + (-4.932 + 0.6425 * slim - 0.0165 * slim**2) * share**1.655
    long = block_coefficient * length / beam
    thrust = 1.0 + (29.495 - 14.089 * long + 1.6486 * long**2) * (
        1.0 / 250.0 - 7.0 * share / 200.0 - 13.0 * share**2 / 125.0
    )
    s = block_coefficient * beam / length
    moderate = 1.0 + (-541.0 / 4.0 + 2432.95 * s - 10137.7 * s**2) * share**4.81
    severe = 1.0 + (-5129.0 / 500.0 + 178.207 * s - 2745.0 / 4.0 * s**2) * (
        -1927.0 / 500.0 + 2733.0 * share / 200.0 - 2617.0 * share**2 / 250.0
    )
    straightening = where(share <= 0.581 - 0.332 * draught / beam, moderate, severe)
    return (
        np.minimum(np.maximum(wake, 1.0), MOST_WAKE_GROWTH),
        np.minimum(np.maximum(thrust, 0.8), 1.15),
        np.minimum(np.maximum(straightening, 0.5), 1.8),
    )


@formula
def raven(depth_to_draught: Real) -> Real:
    """Growth of the viscous resistance. [-]

    Source: [Raven2019], formula from memory.
    Limits: depth/draught 2 upwards; below, a lower bound.
    """
    return 1.0 + 0.57 * np.maximum(depth_to_draught, SHALLOWEST) ** -1.79


@formula
def close_to_the_bed(depth_to_draught: Real) -> Real:
    """What the resistance grows by beyond `raven` below depth/draught 2, where that is a lower bound. [-]

    Drawn so that a full ship at constant revolutions loses a sixth of her speed at depth/draught 1.2.

    Source: [ShallowResistance], judgement.
    Limits: depth/draught 1.1 to 2.
    """
    closeness = np.maximum(2.0 / np.maximum(depth_to_draught, SHALLOWEST) - 1.0, 0.0)
    return 1.0 + CLOSE_TO_THE_BED * closeness * closeness


@formula
def schlichting(speed: Real, depth: Real, gravity: Real) -> Real:
    """Speed in deep water whose waves are as long as hers are here, over her speed. [-]

    Source: [Schlichting1934], from memory.
    Limits: depth Froude number below 1.
    """
    slow = np.maximum(speed * speed, 1e-12)
    return 1.0 / np.sqrt(np.tanh(gravity * depth / slow))


@formula
def cross_flow_drag(depth_to_draught: Real, deep: Real) -> Real:
    """Lateral drag coefficient of a hull set sideways, `deep` being its value in deep water. [-]

    Source: [UFC4-159-03], equations 11 to 13, exponent 2.
    Limits: depth/draught 1.04 upwards (the published example).
    """
    return deep + (3.2 - deep) / np.maximum(depth_to_draught, 1.0) ** 2


@formula
def deep_cross_flow_drag(length: Real, beam: Real, midship_area: Real, volume: Real) -> Real:
    """Lateral drag coefficient in deep water from L² Am/(B volume). [-]

    Source: [UFC4-159-03], equation 12; its root sign is lost in the public copy and verified against its own FFG-7
    table. Limits: merchant and naval hulls.
    """
    return 0.22 * np.sqrt(length**2 * midship_area / (beam * volume))


@formula
def factors(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real, deep_drag: Real
) -> Shallow:
    """Every factor of the model at a depth; `depth_to_draught` may be infinite.

    Transverse thrust of the screw grows linearly from 1 at depth/draught 2 to 1.75 at 1.1 (handbook range 1.5 to 2
    close to the bottom, low confidence).

    Source: [Ankudinov1990], [KijimaNakiri1990], [Raven2019], [UFC4-159-03].
    Limits: depth/draught 1.1 upwards.
    """
    fyv, fyr, fnr, fnv, gnr = hull_functions(depth_to_draught, length, beam, draught, block_coefficient)
    Yv, Yr, Nr = linear_terms(depth_to_draught, length, beam, draught, block_coefficient)
    wake, thrust, straightening = interaction(depth_to_draught, length, beam, draught, block_coefficient)
    growth = shallow_growth(depth_to_draught, length, beam, draught, block_coefficient)
    closeness = np.minimum(np.maximum((2.0 - depth_to_draught) / (2.0 - SHALLOWEST), 0.0), 1.0)
    return Shallow(
        fyv=fyv,
        fyr=fyr,
        fnr=fnr,
        fnv=fnv,
        gnr=gnr,
        Yv=Yv,
        Yr=Yr,
        Nr=Nr,
        surge_added_mass=growth.surge,
        sway_added_mass=growth.sway,
        yaw_added_inertia=growth.yaw,
        wake=wake,
        thrust=thrust,
        straightening=straightening,
        resistance=raven(depth_to_draught) * close_to_the_bed(depth_to_draught),
        cross_flow_drag=cross_flow_drag(depth_to_draught, deep_drag) / deep_drag,
        transverse_thrust=1.0 + 0.75 * closeness,
    )


@formula
def put_between(found: Any, low: Any, high: Any, share: float) -> None:
    """Write into the record `found` the factors part of the way from one depth to another; for kernels."""
    found.fyv = low.fyv + share * (high.fyv - low.fyv)
    found.fyr = low.fyr + share * (high.fyr - low.fyr)
    found.fnr = low.fnr + share * (high.fnr - low.fnr)
    found.fnv = low.fnv + share * (high.fnv - low.fnv)
    found.gnr = low.gnr + share * (high.gnr - low.gnr)
    found.Yv = low.Yv + share * (high.Yv - low.Yv)
    found.Yr = low.Yr + share * (high.Yr - low.Yr)
    found.Nr = low.Nr + share * (high.Nr - low.Nr)
    found.surge_added_mass = low.surge_added_mass + share * (high.surge_added_mass - low.surge_added_mass)
    found.sway_added_mass = low.sway_added_mass + share * (high.sway_added_mass - low.sway_added_mass)
    found.yaw_added_inertia = low.yaw_added_inertia + share * (high.yaw_added_inertia - low.yaw_added_inertia)
    found.wake = low.wake + share * (high.wake - low.wake)
    found.thrust = low.thrust + share * (high.thrust - low.thrust)
    found.straightening = low.straightening + share * (high.straightening - low.straightening)
    found.resistance = low.resistance + share * (high.resistance - low.resistance)
    found.cross_flow_drag = low.cross_flow_drag + share * (high.cross_flow_drag - low.cross_flow_drag)
    found.transverse_thrust = low.transverse_thrust + share * (high.transverse_thrust - low.transverse_thrust)


@formula
def effective_aspect(depth_to_draught: Real, exponent: Real) -> Real:
    """Growth of the hull's aspect ratio as a wing near the bed. [-]

    Source: [Hirano1985]; the exponents of `hirano` from memory.
    Limits: depth/draught 1.1 upwards.
    """
    share = 1.0 / np.maximum(depth_to_draught, SHALLOWEST)
    quarter = np.maximum(0.5 * np.pi * share, 1e-9)
    return 1.0 / (0.5 * share + (quarter / np.tan(quarter)) ** exponent)


@formula
def hirano(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real, deep_drag: Real
) -> Shallow:
    """Another published set, for comparison: the hull as a wing whose aspect ratio grows near the bed.

    What it says nothing of is as in `factors`.

    Source: [Hirano1985] for the linear terms, exponents from memory; [AminHasegawa2010] for interaction and the
    products of drift and turning, seen in transcriptions.
    Limits: depth/draught 1.1 upwards.
    """
    share = 1.0 / np.maximum(depth_to_draught, SHALLOWEST)
    aspect = 2.0 * draught / length
    fullness = 1.4 * block_coefficient * beam / length
    swing = effective_aspect(depth_to_draught, 0.7)
    drift = 0.5 * np.pi * aspect
    damping = 0.54 * aspect * swing - (aspect * swing) ** 2
    wake = 1.0 - hull_interaction.taylor_wake(block_coefficient, 1.0)
    products = 1.0 + 6.0 * share**2.5
    return factors(depth_to_draught, length, beam, draught, block_coefficient, deep_drag)._replace(
        fyv=products,
        fnv=effective_aspect(depth_to_draught, 1.7),
        Yv=(drift * effective_aspect(depth_to_draught, 2.3) + fullness) / (drift + fullness),
        Yr=swing,
        Nr=damping / (0.54 * aspect - aspect**2),
        wake=(1.0 - wake * np.cos(1.4 * block_coefficient * share)) / (1.0 - wake),
        thrust=1.0 - 0.2 * share + 0.7295 * share**2,
        straightening=1.0 + 0.0161 * share + 4.4222 * share**2 - 4.9825 * share**3,
    )


METHODS = {
    "combined": Method(
        function=factors,
        source="Ankudinov1990",
        limits={"depth_to_draught": (SHALLOWEST, float("inf")), "froude_depth": (0.0, 0.6)},
        note="hull functions; linear terms and interaction by KijimaNakiri1990",
    ),
    "hirano": Method(
        function=hirano,
        source="Hirano1985",
        limits={"depth_to_draught": (SHALLOWEST, float("inf"))},
        note="for comparison; interaction by AminHasegawa2010",
    ),
}
