"""Forces on a moored ship by a ship that passes, and the jet of a propeller over the bed and against a quay."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method

SHALLOW_UNCERTAINTY = 1.5  # factor on shallow-water answers for planning (forces sheet 8.1), tool setting
IMAGES = 30  # mirrored hulls above and below; the sum has converged to 0.01 % (forces sheet 11) [computed]
POINTS = 48  # Gauss points along each hull; 200 and 400 give the same (forces sheet 11) [computed]


class PassingLoads(NamedTuple):
    """Loads on the moored ship."""

    along: Real
    """Positive in the direction the passing ship goes. [N]"""
    towards: Real
    """Positive towards the passing ship. [N]"""
    yaw: Real
    """Positive turns the end that lies in the passing direction towards the passing ship. [N m]"""


def wang(
    ahead: Real,
    separation: float,
    speed: float,
    moored_length: float,
    passing_length: float,
    moored_section: float,
    passing_section: float,
    water_depth: float | None,
    density: float,
) -> PassingLoads:
    """Loads by slender-body theory on a ship moored parallel to the passing ship's track.

    Parameters
    ----------
    ahead : float or array, shape (n,)
        Midships of the passing ship ahead of midships of the moored one, along the track. [m]
    separation : float
        Between the centrelines. [m]
    speed : float
        Of the passing ship through calm water. [m/s]
    moored_section, passing_section : float
        Midship sections under water; the section falls off as a parabola to the ends. [m²]
    water_depth : float or None
        None for deep water. [m]

    Source: [Wang1975], from memory, derived again in docs/methods/passing.md.
    Limits: separation over 1.2 mean beams; depth Froude number under 0.4; no quay wall; calm water.
    """
    nodes, weights = np.polynomial.legendre.leggauss(POINTS)
    x1, w1 = 0.5 * moored_length * nodes, 0.5 * moored_length * weights
    x2, w2 = 0.5 * passing_length * nodes, 0.5 * passing_length * weights
    section = moored_section * (1.0 - 4.0 * x1**2 / moored_length**2)
    slope1 = -8.0 * moored_section * x1 / moored_length**2
    slope2 = -8.0 * passing_section * x2 / passing_length**2

    offset = (x2[None, :] - x1[:, None])[None] + np.atleast_1d(np.asarray(ahead, dtype=float))[:, None, None]
    flat = offset**2 + separation**2
    inverse_cube = flat**-1.5
    if water_depth is not None:
        for image in range(1, IMAGES + 1):
            inverse_cube = inverse_cube + 2.0 * (flat + (2.0 * image * water_depth) ** 2) ** -1.5

    passing = w2 * slope2
    along = np.einsum("i,j,nij->n", w1 * slope1, passing, offset * inverse_cube)
    towards = np.einsum("i,j,nij->n", w1 * slope1, passing, inverse_cube)
    yaw = np.einsum("i,j,nij->n", w1 * (slope1 * x1 + section), passing, inverse_cube)
    strength = density * speed**2 / np.pi
    found = (0.5 * strength * along, separation * strength * towards, separation * strength * yaw)
    if np.ndim(ahead) == 0:
        return PassingLoads(*(float(values[0]) for values in found))
    return PassingLoads(*found)


@formula
def jet_at_propeller(revolutions: Real, diameter: Real, thrust_coefficient: Real) -> Real:
    """Speed of the jet behind a propeller at rest. [m/s]

    Parameters
    ----------
    revolutions : float
        [1/s]
    thrust_coefficient : float
        KT at rest. [-]

    Source: derived: momentum theory, with sqrt(8/pi) = 1.60.
    """
    return 1.60 * revolutions * diameter * np.sqrt(thrust_coefficient)


@formula
def jet_from_power(power: Real, diameter: Real, ducted: Real, density: Real) -> Real:
    """Speed of the jet behind a propeller at rest, from its power. [m/s]

    Source: [Blaauw1978], from memory.
    """
    return np.where(ducted, 1.17, 1.48)[()] * np.cbrt(power / (density * diameter**2))


@formula
def jet_on_axis(jet: Real, distance: Real, diameter: Real, ducted: Real) -> Real:
    """Greatest speed of the jet at a distance behind the propeller. [m/s]

    Parameters
    ----------
    jet : float
        At the propeller. [m/s]

    Source: [Blaauw1978], from memory; constant over the first 2.8 diameters of the jet.
    """
    width = np.where(ducted, 1.0, 0.71)[()] * diameter
    return jet * np.minimum(1.0, 2.8 * width / distance)


@formula
def jet_on_bed(jet: Real, diameter: Real, axis_above_bed: Real, ducted: Real) -> Real:
    """Greatest speed of the jet at the bed. [m/s]

    Source: [Blaauw1978], from memory.
    """
    return np.where(ducted, 0.30, 0.22)[()] * jet * diameter / axis_above_bed


METHODS = {
    "wang": Method(
        function=wang,
        source="Wang1975",
        limits={"separation_to_mean_beam": (1.2, np.inf), "froude_depth": (0.0, 0.4)},
        note="calm water, no quay wall; loads grow faster than the square of speed in narrow channels",
    )
}
