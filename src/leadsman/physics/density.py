"""Density of water, and how a ship floats in it."""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.units import FRESH_WATER_DENSITY, SEA_WATER_DENSITY

# Coefficients of [UNESCO44], memory; they meet the publication's check values to its last figure.
_PURE = (999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
_SALT = (0.824493, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
_SALT_ROOT = (-5.72466e-3, 1.0227e-4, -1.6546e-6)
_SALT_SQUARE = 4.8314e-4


@formula
def eos80(temperature: Real, salinity: Real) -> Real:
    """Density of sea water at the surface. [kg/m³]

    `temperature` [°C], practical `salinity` [-]. Source: [UNESCO44]. Limits: -2 to 40 °C, salinity 0 to 42.
    A density read with a hydrometer comes before any computed one.
    """
    t, s = temperature, salinity
    pure = _PURE[0] + t * (_PURE[1] + t * (_PURE[2] + t * (_PURE[3] + t * (_PURE[4] + t * _PURE[5]))))
    salt = _SALT[0] + t * (_SALT[1] + t * (_SALT[2] + t * (_SALT[3] + t * _SALT[4])))
    salt_root = _SALT_ROOT[0] + t * (_SALT_ROOT[1] + t * _SALT_ROOT[2])
    return pure + s * (salt + np.sqrt(s) * salt_root + s * _SALT_SQUARE)


@formula
def sinkage(
    draught: Real, block_coefficient: Real, waterplane_coefficient: Real, density_before: Real, density_after: Real
) -> Real:
    """How much deeper she floats after going from one density into another; negative: she rises. [m]

    `draught` before [m], densities [kg/m³]. Source: derived (her weight stays). Limits: wall-sided between the two
    waterlines; bodily, without the small change of trim.
    """
    return draught * block_coefficient / waterplane_coefficient * (density_before / density_after - 1.0)


@formula
def fresh_water_allowance(displacement: Real, mass_per_immersion: Real) -> Real:
    """How much deeper she floats in fresh water than in sea water of 1025 kg/m³. [m]

    `displacement` at the summer load line [kg]; `mass_per_immersion` in sea water [kg/m] (1 t/cm is 1e5 kg/m).
    Source: [LoadLines1966] regulation 40(4). Limits: at or near the load line.
    """
    return displacement / (40.0 * mass_per_immersion)


@formula
def dock_water_allowance(fresh_water_allowance: Real, density: Real) -> Real:
    """How much deeper she floats in water of this density [kg/m³] than in sea water. [m]

    Source: [LoadLines1966], in proportion to the lack of density. Limits: 1000 to 1025 kg/m³.
    """
    return fresh_water_allowance * (SEA_WATER_DENSITY - density) / (SEA_WATER_DENSITY - FRESH_WATER_DENSITY)


METHODS = {
    "eos80": Method(function=eos80, source="UNESCO44", limits={"temperature": (-2.0, 40.0), "salinity": (0.0, 42.0)}),
}
"""From temperature and salinity to density."""
