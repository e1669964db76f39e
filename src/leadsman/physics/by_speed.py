"""Shares of a force by the ship's speed, tabulated at whole knots and read inside kernels."""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.units import KNOT

KNOTS = 9  # of the tables: 0 to 8 kn; every published table here has its points at whole knots


def speeds() -> Real:
    """The speeds the tables stand at. [m/s]"""
    return np.arange(KNOTS) * KNOT


@formula
def read(table: Real, row: int, speed: float) -> Real:
    """The share in one row at a speed [m/s], ahead or astern; constant beyond the last. Scalars only. [-]"""
    place = min(np.abs(speed) / KNOT, KNOTS - 1.0)
    index = min(int(place), KNOTS - 2)
    low = table[row, index]
    return low + (place - index) * (table[row, index + 1] - low)
