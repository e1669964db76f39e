"""How uncertain a charted depth is: survey orders of S-44 and zones of confidence of S-57; siltation since."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.published import published

TWO_SIDED_95 = 1.96  # standard deviations of a normal distribution within which 95 % lie


class Order(NamedTuple):
    """Largest permitted total vertical uncertainty of a survey order, sqrt(a² + (b depth)²) at 95 %."""

    a: float
    b: float
    mark: str


class Zone(NamedTuple):
    """Depth accuracy a + b depth and position accuracy of a zone of confidence at 95 %. [m]"""

    a: float
    b: float
    position: float
    position_by_depth: float
    mark: str


ORDERS: Mapping[str, Order] = {
    name: Order(**row) for name, row in published("survey")["orders"].items() if name != "source"
}
ZONES: Mapping[str, Zone] = {
    name: Zone(**row) for name, row in published("survey")["zones"].items() if name != "source"
}


@formula
def total_vertical_uncertainty(depth: Real, a: Real, b: Real) -> Real:
    """Largest permitted vertical uncertainty of a survey at 95 %. [m]

    Source: [S44], memory.
    """
    return np.sqrt(a**2 + (b * depth) ** 2)


@formula
def zone_uncertainty(depth: Real, a: Real, b: Real) -> Real:
    """Depth accuracy of a zone of confidence at 95 %; a drying height counts by its size. [m]

    Source: [S57], memory.
    """
    return a + b * np.abs(depth)


@formula
def standard_deviation(uncertainty: Real) -> Real:
    """One standard deviation of an uncertainty stated at 95 %. [m]

    Source: normal distribution.
    """
    return uncertainty / TWO_SIDED_95


@formula
def siltation(time_since_survey: Real, rate: Real) -> Real:
    """Loss of depth since the survey; never a gain. [m; s and m/s]"""
    return np.maximum(time_since_survey * rate, 0.0)


def order(name: str) -> Order:
    """A survey order by name; raises `KeyError` that lists the names."""
    if name not in ORDERS:
        raise KeyError(f"survey order {name!r} is not known; known are {', '.join(ORDERS)}")
    return ORDERS[name]


def zone(name: str) -> Zone:
    """A zone of confidence by letter; raises `KeyError` for D and U, which state no accuracy, and for anything else."""
    if name in ("D", "U"):
        raise KeyError(f"zone {name} states no depth accuracy; give the uncertainty of the depths yourself")
    if name not in ZONES:
        raise KeyError(f"zone of confidence {name!r} is not known; known are {', '.join(ZONES)}, D and U")
    return ZONES[name]
