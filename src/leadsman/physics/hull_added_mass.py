"""Water that has to be moved with the ship: added masses in surge and sway, added inertia in yaw, deep and shallow."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method


class AddedMass(NamedTuple):
    """In units of the ship's own: mx/m, my/m [-], and Jz/(m L²) [-]."""

    surge: Real
    sway: Real
    yaw: Real


@formula
def zhou(length: Real, beam: Real, draught: Real, block_coefficient: Real) -> AddedMass:
    """Added masses in deep water, a regression of Motora's charts.

    Parameters
    ----------
    length, beam, draught : float or array
        Between perpendiculars; mean draught. [m]
    block_coefficient : float or array
        [-]

    Source: [Zhou1983].
    Limits: merchant hulls; length/beam 4 to 8, beam/draught 2 to 4.5 (judgement).
    """
    slenderness = length / beam
    q = draught / beam
    block = block_coefficient
    surge = 0.01 * (
        0.398
        + 11.97 * block * (1.0 + 3.73 * q)
        - 2.89 * block * slenderness * (1.0 + 1.13 * q)
        + 0.175 * block * slenderness**2 * (1.0 + 0.541 * q)
        - 1.107 * slenderness * q
    )
    sway = (
        0.882
        - 0.54 * block * (1.0 - 1.6 * q)
        - 0.156 * slenderness * (1.0 - 0.673 * block)
        + 0.826 * q * slenderness * (1.0 - 0.678 * q)
        - 0.638 * block * q * slenderness * (1.0 - 0.669 * q)
    )
    arm = 0.01 * (33.0 - 76.85 * block * (1.0 - 0.784 * block) + 3.43 * slenderness * (1.0 - 0.63 * block))
    return AddedMass(surge=surge, sway=sway, yaw=arm**2)


@formula
def shallow_growth(
    depth_to_draught: Real, length: Real, beam: Real, draught: Real, block_coefficient: Real
) -> AddedMass:
    """Factors by which the deep added masses grow in shallow water.

    Surge is held between 1 and 2: the published form leaves any physical range near the bottom.

    Source: [Ankudinov1990], from memory; the held range is judgement.
    Limits: depth/draught 1.1 upwards; below 1.1 the value at 1.1 is given.
    """
    gap = np.maximum(depth_to_draught - 1.0, 0.1)
    flatness = beam / draught
    sway = 1.0 + (0.413 + 0.0320 * flatness + 0.0129 * flatness**2) / gap**0.82
    yaw = 1.0 + (0.413 + 0.0192 * flatness + 0.00554 * flatness**2) / gap**0.82
    surge = 1.0 + (3.77 + 1.14 * flatness - 0.233 * length / draught - 3.43 * block_coefficient) / gap**1.3
    return AddedMass(surge=np.minimum(np.maximum(surge, 1.0), 2.0), sway=sway, yaw=yaw)


METHODS = {
    "zhou": Method(
        function=zhou,
        source="Zhou1983",
        limits={"length_to_beam": (4.0, 8.0), "beam_to_draught": (2.0, 4.5), "block_coefficient": (0.5, 0.87)},
    )
}
SHALLOW_METHODS = {
    "ankudinov": Method(function=shallow_growth, source="Ankudinov1990", limits={"depth_to_draught": (1.1, 1e9)})
}
