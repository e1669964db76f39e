"""The equipment number of class and the anchors and chain that go with it, to check a card against.

Class equipment is for temporary anchoring in sheltered water, one anchor, wind 25 m/s and current 2.5 m/s at a scope
of 6 to 10; it is not meant to hold on an exposed coast or to stop a ship that drifts.
"""

import math
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import TONNE

PLAUSIBLE_SHACKLES = (3.0, 15.0)  # a side; fewer or more is to be asked about (standards sheet 5) [common practice]


@formula
def equipment_number(displacement: Real, beam: Real, height: Real, profile_area: Real, funnel_area: Real) -> Real:
    """Equipment number. [-]

    Parameters
    ----------
    displacement : float
        At the summer load line. [kg]
    height : float
        Freeboard and the heights of houses wider than a quarter of the beam. [m]
    profile_area : float
        Side area above the summer waterline within the length; deck cargo does not count. [m²]
    funnel_area : float
        Front area of the funnel by the text of 2020; 0 by the older. [m²]

    Source: [IACSA1]; formula seen in class rules, the funnel seen in part.
    """
    return np.cbrt((displacement / TONNE) ** 2) + 2.0 * (height * beam + funnel_area) + profile_area / 10.0


class Equipment(NamedTuple):
    """What class asks for one equipment number."""

    anchor_mass: float
    """Of each bower anchor. [kg]"""
    cable: float
    """Of both bowers together. [m]"""
    diameters: tuple[float, float, float]
    """Of chain of grade 1, 2 and 3; nan where the grade is not offered. [m]"""


def equipment(number: float) -> Equipment:
    """Anchors and chain for an equipment number.

    Raises ValueError outside the table, 50 to 16 000.
    Source: [IACSA1]; seen up to 205, from memory above.
    """
    table = published("equipment_number")
    rows = table["rows"]
    if not table["lowest"] < number <= rows[-1][0]:
        raise ValueError(f"equipment number {number:.0f} is outside the table, {table['lowest']} to {rows[-1][0]}")
    _, mass, cable, *diameters = next(row for row in rows if number <= row[0])
    first, second, third = (float(d) / 1000.0 if d else math.nan for d in diameters)
    return Equipment(float(mass), float(cable), (first, second, third))


@formula
def shackles_a_side(cable: Real, shackle: Real) -> Real:
    """Shackles on each side when both have the same, of the cable of both together. [-]"""
    return cable / 2.0 / shackle


def implied_numbers(anchor_mass: float) -> tuple[float, float]:
    """Equipment numbers that an anchor of this mass serves: above the first, up to the second.

    Raises ValueError for an anchor lighter than the least of the table.
    Source: [IACSA1], the table read backwards; from memory above 205.
    """
    table = published("equipment_number")
    low, high = float(table["lowest"]), float(table["lowest"])
    for up_to, mass, *_ in table["rows"]:
        if mass > anchor_mass:
            break
        low, high = high, float(up_to)
    if high == table["lowest"]:
        raise ValueError(f"an anchor of {anchor_mass:.0f} kg is lighter than the least of the table, {mass} kg")
    return low, high


METHODS = {"iacs": Method(function=equipment_number, source="IACSA1", limits={"equipment_number": (50.0, 16000.0)})}
