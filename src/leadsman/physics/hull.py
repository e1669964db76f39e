"""Hull derivatives of the manoeuvring polynomial, estimated from the proportions of the ship.

Forces are made non-dimensional by ½ρ L d U², moments by ½ρ L² d U², with d the mean draught; v' = v/U, r' = r L/U,
origin amidships. `Yr` and `Nr` do not contain the inertial parts (m + mx) u r, which stand on the left of the equations
of motion. In the literature's letters: k = 2d/L, s = Cb B/L, e = d (1 - Cb)/B, q = d/B.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method


class Derivatives(NamedTuple):
    """Coefficients of the hull polynomial [-]; `Yvv` multiplies v'|v'|, `Yvvv` multiplies v'³, and so on."""

    Xvv: Real = 0.0
    Xvr: Real = 0.0
    Xrr: Real = 0.0
    Xvvvv: Real = 0.0
    Yv: Real = 0.0
    Yr: Real = 0.0
    Yvv: Real = 0.0
    Yrr: Real = 0.0
    Yvvv: Real = 0.0
    Yvvr: Real = 0.0
    Yvrr: Real = 0.0
    Yrrr: Real = 0.0
    Nv: Real = 0.0
    Nr: Real = 0.0
    Nvv: Real = 0.0
    Nrr: Real = 0.0
    Nvvv: Real = 0.0
    Nvvr: Real = 0.0
    Nvrr: Real = 0.0
    Nrrr: Real = 0.0


class SurgeDerivatives(NamedTuple):
    """The part of the polynomial that slows her in a turn [-]."""

    Xvv: Real
    Xvr: Real
    Xrr: Real
    Xvvvv: Real


class LinearDerivatives(NamedTuple):
    """Linear hull derivatives and added masses in the same system [-]; masses by ½ρ L² d, inertia by ½ρ L⁴ d."""

    Yv: Real
    Yr: Real
    Nv: Real
    Nr: Real
    sway_added_mass: Real
    yaw_added_inertia: Real


@formula
def yoshimura_masumoto_surge(
    length: Real, beam: Real, block_coefficient: Real, sway_added_mass: Real
) -> SurgeDerivatives:
    """Surge derivatives of a merchant hull; `sway_added_mass` is my' [-].

    Source: [YoshimuraMasumoto2012].
    Limits: as `yoshimura_masumoto`.
    """
    s = block_coefficient * beam / length
    return SurgeDerivatives(
        Xvv=1.15 * s - 0.18, Xvr=1.91 * s - 0.08 - sway_added_mass, Xrr=-0.085 * s + 0.008, Xvvvv=-6.68 * s + 1.1
    )


@formula
def yoshimura_masumoto(
    length: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    surge_added_mass: Real,
    sway_added_mass: Real,
) -> Derivatives:
    """Hull derivatives on an even keel.

    Parameters
    ----------
    length, beam, draught : float or array
        Between perpendiculars; mean draught. [m]
    block_coefficient : float or array
        At this draught. [-]
    surge_added_mass, sway_added_mass : float or array
        mx', my' in the system of this module. [-]

    Source: [YoshimuraMasumoto2012]. Limits: data base of medium-speed ships, block coefficient about 0.5 to 0.65; its
    authors let the linear part serve full hulls too.
    """
    s = block_coefficient * beam / length
    k = 2.0 * draught / length
    slenderness = length / beam
    surge = yoshimura_masumoto_surge(length, beam, block_coefficient, sway_added_mass)
    zero = 0.0 * s
    return Derivatives(
        Xvv=surge.Xvv,
        Xvr=surge.Xvr,
        Xrr=surge.Xrr,
        Xvvvv=surge.Xvvvv,
        Yv=-(0.5 * np.pi * k + 1.4 * s),
        Yr=0.5 * s + surge_added_mass,
        Yvv=zero,
        Yrr=zero,
        Yvvv=-(0.185 * slenderness + 0.48),
        Yvvr=-0.75 + zero,
        Yvrr=-(0.26 * (1.0 - block_coefficient) * slenderness + 0.11),
        Yrrr=-0.051 + zero,
        Nv=-k,
        Nr=-0.54 * k + k**2,
        Nvv=zero,
        Nrr=zero,
        Nvvv=-(-0.69 * block_coefficient + 0.66),
        Nvvr=1.55 * s - 0.76,
        Nvrr=-(-0.075 * (1.0 - block_coefficient) * slenderness + 0.098),
        Nrrr=0.25 * s - 0.056,
    )


@formula
def kijima(
    length: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    surge_added_mass: Real,
    sway_added_mass: Real,
    trim: Real = 0.0,
) -> Derivatives:
    """Hull derivatives at any loading; `trim` is positive by the stern [m], the other arguments as
    `yoshimura_masumoto`.

    The paper gives lateral terms only; the surge terms are those of Yoshimura and Masumoto. Trim acts on the linear
    terms and on the squares; the two cross terms keep their even-keel value because the order of their trim factors is
    in doubt.

    Source: [Kijima1990].
    Limits: block coefficient 0.55 to 0.85, length/beam 5 to 8, beam/draught 2.2 to 4.5, |trim|/draught below 0.5.
    """
    s = block_coefficient * beam / length
    k = 2.0 * draught / length
    e = draught * (1.0 - block_coefficient) / beam
    q = draught / beam
    tau = trim / draught
    mass = 2.0 * s
    surge = yoshimura_masumoto_surge(length, beam, block_coefficient, sway_added_mass)
    zero = 0.0 * s
    return Derivatives(
        Xvv=surge.Xvv,
        Xvr=surge.Xvr,
        Xrr=surge.Xrr,
        Xvvvv=surge.Xvvvv,
        Yv=-(0.5 * np.pi * k + 1.4 * s) * (1.0 + (25.0 * s - 2.25) * tau),
        Yr=mass + surge_added_mass - 1.5 * s * (1.0 + (571.0 * e**2 - 81.0 * e + 2.1) * tau),
        Yvv=-(2.5 * e + 0.5) * (1.0 - (35.7 * s - 2.5) * tau),
        Yrr=(0.343 * block_coefficient * q - 0.07) * (1.0 + (45.0 * s - 8.1) * tau),
        Yvvv=zero,
        Yvvr=1.5 * block_coefficient * q - 0.65,
        Yvrr=-5.95 * e,
        Yrrr=zero,
        Nv=-k * (1.0 - tau),
        Nr=(-0.54 * k + k**2) * (1.0 + (34.0 * s - 3.4) * tau),
        Nvv=-(-0.96 * e + 0.066) * (1.0 + (58.0 * e - 5.0) * tau),
        Nrr=(0.5 * s - 0.09) * (1.0 - (30.0 * s - 2.6) * tau),
        Nvvv=zero,
        Nvvr=-(57.5 * s**2 - 18.4 * s + 1.6),
        Nvrr=0.5 * block_coefficient * q - 0.05,
        Nrrr=zero,
    )


@formula
def clarke(length: Real, beam: Real, draught: Real, block_coefficient: Real) -> LinearDerivatives:
    """Linear derivatives and added masses, rudder amidships included.

    Returned in the system of this module: the paper divides by L² and L³ where we divide by L d and L² d. Its Yr holds
    the surge added mass, which it takes as nil.

    Source: [ClarkeGedlingHine1983].
    Limits: length/beam 4.5 to 8, beam/draught 2.2 to 4.5 (memory).
    """
    scale = np.pi * (draught / length) ** 2 * length / draught
    width = beam / length
    flatness = beam / draught
    return LinearDerivatives(
        Yv=-scale * (1.0 + 0.40 * block_coefficient * flatness),
        Yr=-scale * (-0.5 + 2.2 * width - 0.080 * flatness),
        Nv=-scale * (0.5 + 2.4 * draught / length),
        Nr=-scale * (0.25 + 0.039 * flatness - 0.56 * width),
        sway_added_mass=scale * (1.0 + 0.16 * block_coefficient * flatness - 5.1 * width**2),
        yaw_added_inertia=scale * (1.0 / 12.0 + 0.017 * block_coefficient * flatness - 0.33 * width),
    )


METHODS = {
    "yoshimura_masumoto": Method(
        function=yoshimura_masumoto,
        source="YoshimuraMasumoto2012",
        limits={"block_coefficient": (0.5, 0.65)},
        note="linear part also for full hulls",
    ),
    "kijima": Method(
        function=kijima,
        source="Kijima1990",
        limits={
            "block_coefficient": (0.55, 0.85),
            "length_to_beam": (5.0, 8.0),
            "beam_to_draught": (2.2, 4.5),
            "trim_to_draught": (-0.5, 0.5),
        },
    ),
    "clarke": Method(
        function=clarke,
        source="ClarkeGedlingHine1983",
        limits={"length_to_beam": (4.5, 8.0), "beam_to_draught": (2.2, 4.5)},
        note="linear terms only: used for comparison",
    ),
}
