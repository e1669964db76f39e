"""Probability that the keel touches, with all components taken as independent and normal.

The special functions do not compile, so that these take numbers and arrays but stand outside kernels.
"""

from typing import NamedTuple

import numpy as np
from numpy.polynomial.legendre import leggauss
from scipy.special import ndtr

from leadsman.compiled import Real

_NODES, _WEIGHTS = leggauss(96)  # resolves 16 standard deviations of the calm clearance to a sixth of one
_FAR = 8.0  # standard deviations beyond which a normal density is nothing: 1e-15
_RARE = 1e-14  # chance of a wave that is not worth following further


class Passage(NamedTuple):
    """Bounds of the probability over many stations: as if all were one, and as if none had to do with another."""

    lowest: float
    highest: float


def together(*deviations: Real) -> Real:
    """Standard deviation of the sum of independent components. [unit of the components]"""
    return np.sqrt(sum(np.square(deviation) for deviation in deviations))


def calm(clearance: Real, deviation: Real) -> Real:
    """Probability that the clearance is in truth below zero. [-]

    `clearance` mean net underkeel clearance and `deviation` its standard deviation, positive. [m] Source: normal
    distribution.
    """
    return ndtr(-np.asarray(clearance) / deviation)[()]


def in_waves(clearance: Real, deviation: Real, wave_deviation: Real, cycles: Real) -> Real:
    """Probability that the deepest of `cycles` wave motions of a normal, narrow-banded sea takes the clearance. [-]

    The integral of the density of the calm clearance c times 1 - [1 - exp(-c²/2σ_w²)]^N, the latter 1 for c below
    zero. Motions are Rayleigh distributed and independent from cycle to cycle. Source: [Jensen2004] for the motions;
    probability calculus.
    """
    mean, sigma, wave, count = np.broadcast_arrays(
        *(np.asarray(one, dtype=np.float64) for one in (clearance, deviation, wave_deviation, cycles))
    )
    reach = wave * np.sqrt(2.0 * np.log(np.maximum(count, 1.0) / _RARE))
    low = np.maximum(mean - _FAR * sigma, 0.0)
    half = 0.5 * np.maximum(np.minimum(mean + _FAR * sigma, reach) - low, 0.0)
    at = low[..., np.newaxis] + half[..., np.newaxis] * (1.0 + _NODES)
    density = np.exp(-0.5 * ((at - mean[..., np.newaxis]) / sigma[..., np.newaxis]) ** 2)
    exceeded = np.exp(-0.5 * (at / np.maximum(wave, 1e-9)[..., np.newaxis]) ** 2)
    taken = -np.expm1(count[..., np.newaxis] * np.log1p(-np.minimum(exceeded, 1.0 - 1e-16)))
    by_waves = half * np.sum(_WEIGHTS * density * taken, axis=-1) / (sigma * np.sqrt(2.0 * np.pi))
    return np.minimum(calm(mean, sigma) + by_waves, 1.0)[()]


def passage(probabilities: Real) -> Passage:
    """Bounds for a passage from the probabilities of its stations: the greatest, and the sum. [-]

    Source: probability calculus.
    """
    at_stations = np.asarray(probabilities, dtype=np.float64)
    return Passage(lowest=float(np.max(at_stations)), highest=float(min(np.sum(at_stations), 1.0)))
