"""Mooring lines: what class asks of them, how they stretch, and what they hold alongside."""

import math
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.physics.published import published

BRAKE_RENDER = 0.6  # of breaking load: the winch brake renders (forces sheet 7) [memory]
UNEQUAL_SHARE = 0.65  # of the sum when few lines share unequally, 0.6 to 0.7 (forces sheet 7), tool setting
ALONGSIDE_SAFETY = 1.25  # on the offshore force until all is fast (forces sheet 7), tool setting
RULE_CURRENT = 1.0  # m/s, that goes with the wind of `acceptable_wind` (forces sheet 7) [memory]


@formula
def design_breaking_load(side_area: Real) -> Real:
    """Breaking load a ship's lines are designed for, from her side area in ballast. [N]

    Source: [IACSA1], from memory.
    Limits: side area over 2000 m².
    """
    return (0.1 * side_area + 350.0) * 1000.0  # published in kN


def number_of_lines(side_area: float, ship_type: str, equipment_number: float) -> tuple[int, int]:
    """Head, stern and breast lines together, and springs, that class recommends.

    Parameters
    ----------
    side_area : float
        In ballast. [m²]

    Source: [IACSA1], from memory; tankers and bulk carriers have four more.
    Limits: side area over 2000 m².
    """
    lines = 8.3e-4 * side_area + 6.0
    if ship_type in ("tanker", "bulk carrier", "ore carrier"):
        lines += 4.0
    return round(lines), 2 if equipment_number < 5000.0 else 4


@formula
def acceptable_wind(side_area: Real, passenger: Real) -> Real:
    """Greatest mean wind the recommended lines are meant for, with a current of 1 m/s. [m/s]

    Parameters
    ----------
    passenger : bool
        Passenger ship, ferry or car carrier.

    Source: [IACSA1], from memory.
    """
    reduced = 25.0 - 0.002 * np.minimum(np.maximum(side_area - 2000.0, 0.0), 2000.0)
    return np.where(passenger, reduced, 25.0)[()]


def safe_load(breaking_load: float, material: str) -> float:
    """Working load limit of a line, "synthetic" or "wire". [N]

    Raises ValueError for another material.
    Source: [IACSA1], from memory.
    """
    rows = {name: share for name, share in published("mooring")["safe_load"].items() if isinstance(share, float)}
    if material not in rows:
        raise ValueError(f"line material {material!r} is not known; expected {', '.join(rows)}")
    return breaking_load * rows[material]


def stiffness(breaking_load: float, length: float, fibre: str) -> tuple[float, float]:
    """Softest and stiffest a line of a fibre may be: breaking load over its stretch there. [N/m]

    Raises ValueError for a fibre not known.
    Source: common practice, no source.
    """
    rows = published("mooring")["strain"]
    if fibre not in rows:
        raise ValueError(f"line fibre {fibre!r} is not known; known: {', '.join(rows)}")
    low, high = rows[fibre]
    return breaking_load / (high * length), breaking_load / (low * length)


class LinePull(NamedTuple):
    """A line's pull in parts."""

    along: Real
    """Towards the end it leads to. [N]"""
    athwart: Real
    """Towards the quay. [N]"""
    up: Real
    """[N]"""


@formula
def components(force: Real, plan_angle: Real, vertical_angle: Real) -> LinePull:
    """Parts of a line's force.

    Parameters
    ----------
    plan_angle : float
        Between line and hull in plan; pi/2 a breast line. [rad]
    vertical_angle : float
        Above or below the horizontal. [rad]

    Source: derived.
    """
    flat = force * np.cos(vertical_angle)
    return LinePull(flat * np.cos(plan_angle), flat * np.sin(plan_angle), force * np.sin(vertical_angle))


@formula
def held_alongside(lines: Real, safe: Real, plan_angle: Real, vertical_angle: Real, share: Real) -> Real:
    """Offshore force the first lines hold, sharing unequally. [N]

    Parameters
    ----------
    lines : int
        How many are fast.
    safe : float
        Working load limit of one. [N]
    share : float
        Of their sum that counts. [-]

    Source: common practice, no source.
    """
    return lines * components(safe, plan_angle, vertical_angle).athwart * share


def lines_before_letting_go(offshore_force: float, others: float, safe: float, plan_angle: float) -> int:
    """How many lines must be fast before tugs and thrusters that hold her alongside may stop. [-]

    Parameters
    ----------
    offshore_force : float
        Of wind and current. [N]
    others : float
        What goes on pushing her alongside. [N]
    safe : float
        Working load limit of one line. [N]
    plan_angle : float
        Between line and hull in plan. [rad]

    Source: common practice, no source: 1.25 times the force, the lines sharing unequally.
    """
    each = UNEQUAL_SHARE * safe * math.sin(plan_angle)
    return max(0, math.ceil((ALONGSIDE_SAFETY * offshore_force - others) / each - 1e-9))


METHODS = {
    "design_breaking_load": Method(
        function=design_breaking_load, source="IACSA1", limits={"side_area": (2000.0, math.inf)}
    )
}
