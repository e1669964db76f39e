"""Beaufort's scale, the sea state and the words for visibility."""

import math
from bisect import bisect_left, bisect_right
from typing import NamedTuple

from leadsman.compiled import Real, formula
from leadsman.physics.published import published


class Force(NamedTuple):
    """One force of Beaufort's scale."""

    number: int
    name: str
    from_speed: float
    """Least mean wind of it. [m/s]"""
    to_speed: float
    """Where the next begins; infinite for force 12. [m/s]"""
    wave_height: float
    """Probable, in the open sea; at least, for force 12. [m]"""


def force(number: int) -> Force:
    """A force of Beaufort's scale by its number, 0 to 12.

    Raises ValueError for another number.
    Source: [WMO306]; speeds seen, wave heights from memory.
    """
    table = published("beaufort")["beaufort"]
    if not 0 <= number <= 12:
        raise ValueError(f"Beaufort force {number} is not on the scale, 0 to 12")
    starts = [*table["from_m_s"], math.inf]
    return Force(number, table["name"][number], starts[number], starts[number + 1], table["wave_m"][number])


def force_of_wind(speed: float) -> Force:
    """The force a mean wind at 10 m belongs to.

    Source: [WMO306], seen.
    """
    return force(bisect_right(published("beaufort")["beaufort"]["from_m_s"], speed) - 1)


def speeds_in_knots(number: int) -> tuple[int, int | None]:
    """Least and greatest whole knots of a force; force 12 has no greatest.

    Source: [WMO306], seen.
    """
    table = published("beaufort")["beaufort"]
    number = force(number).number
    return table["from_kn"][number], table["up_to_kn"][number] if number < 12 else None


@formula
def speed_of_force(number: Real) -> Real:
    """Mean wind at 10 m of a force, whole or broken. [m/s]

    Source: [WMO306]: 0.836 times the force to the power of three halves.
    """
    return 0.836 * number**1.5


def sea_state(significant_height: float) -> tuple[int, str]:
    """Figure and word for the height of the sea. [m]

    Source: [WMO306], code table 3700, from memory.
    """
    table = published("beaufort")["sea_state"]
    figure = bisect_left(table["up_to_m"], significant_height)
    return figure, table["name"][figure]


def visibility(distance: float) -> str:
    """The word for how far one sees. [m]

    Source: [WMO306], from memory; weather services differ.
    """
    table = published("beaufort")["visibility"]
    return str(table["name"][bisect_right(table["up_to_m"], distance)])
