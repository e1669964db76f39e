"""A tug at work as the moving ship feels it: where her force acts, which way it can be asked for, what speed leaves."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import by_speed, tug
from leadsman.units import DEGREE

ROWS = (  # of `shares`: family of tug and working method
    ("conventional, open screw", "on a line"),
    ("conventional, open screw", "pushing"),
    ("azimuth stern drive", "on a line"),
    ("azimuth stern drive", "pushing"),
    ("escort", "indirect"),
)
PLACES = ("forward", "aft", "port_bow", "starboard_bow", "port_quarter", "starboard_quarter")
NOT_WORKED = -1.0  # in place of a row: the tug does not work that way
POINTING = 30.0 * DEGREE  # off the way asked for, beyond which she takes her power off until she points [judgement]


class TugAtWork(NamedTuple):
    """One tug at the place she works; SI.

    `position` and `offset` of the point her force meets the ship, forward of midships and to starboard; `home` the way
    her line leads from there, from the bow clockwise; `sector` how far to either side of it, or of the opposite way
    when she pushes; `line_pull` and `push_pull` credited at rest [N]; `line_row`, `push_row` of `shares`, or
    `NOT_WORKED`; `wash_shallow` what little water takes from a pull on a line, as a share of it; `reaction` from an
    order to its begin [s]; `slew` round the sector [rad/s]; `ramp` of the power [1/s].
    """

    position: float
    offset: float
    home: float
    sector: float
    line_pull: float
    push_pull: float
    line_row: float
    push_row: float
    wash_shallow: float
    reaction: float
    slew: float
    ramp: float


def shares() -> Real:
    """Share of the pull that is left by speed, a row for each of `ROWS`. [5, KNOTS]

    Source: [HensenTugUse], from memory, as `tug.speed_share`.
    """
    speeds = by_speed.speeds()
    return np.stack(
        [tug.speed_share(kind, work, speeds) for kind, work in ROWS]  # type: ignore[arg-type]
    )


def row(kind: str, work: str) -> float:
    """The row of `shares` for a type of tug and a working method.

    Raises ValueError for a type not known.
    """
    if work == "indirect":
        return float(ROWS.index(("escort", "indirect")))
    family = tug.tug_type(kind).family
    return next(
        float(place)
        for place, (known, worked) in enumerate(ROWS)
        if worked == work and tug.tug_type(known).family == family
    )


def position(place: str, length_overall: float, parallel_body: float) -> float:
    """How far forward of midships a tug meets the ship at one of `PLACES`; `parallel_body` its length [m]. [m]

    Source: common practice, no source: centre leads about 0.48 and 0.47 of the length from midships, sides at the ends
    of the parallel body.
    """
    if place in ("forward", "aft"):
        return (0.48 if place == "forward" else -0.47) * length_overall
    return 0.5 * parallel_body if place.endswith("bow") else -0.5 * parallel_body


def side(place: str) -> float:
    """+1 on the starboard side, -1 on the port side, 0 at a centre lead."""
    return {"port": -1.0, "starboard": 1.0}.get(place.partition("_")[0], 0.0)


@formula
def signed(angle: float) -> Real:
    """Angle brought into -pi to pi. [rad]"""
    return angle - 2.0 * np.pi * np.floor(angle / (2.0 * np.pi) + 0.5)


@formula
def aim(work: TugAtWork, direction: float) -> tuple[float, float]:
    """How an ordered direction of force [rad from the bow, clockwise] is worked: +1 on the line or -1 pushing, and the
    angle off that axis, held to the sector. [rad]
    """
    away = signed(direction - work.home)
    way = 1.0
    if np.abs(away) > 0.5 * np.pi + 1e-9:
        way = -1.0
        away = signed(away - np.pi)
    return way, min(max(away, -work.sector), work.sector)


@formula
def pull(work: TugAtWork, way: float, power: float, table: Real, speed: float, little_water: bool) -> Real:
    """Force a tug puts on the ship. Scalars only. [N]

    Parameters
    ----------
    way : float
        +1 on the line, -1 pushing.
    power : float
        Of what she is credited with at rest, 0 to 1. [-]
    table : array
        `shares`.
    speed : float
        Of the ship through the water along the hull. [m/s]
    little_water : bool
        As `tug.wash_share`: the keel has less than a fifth of the draught under it.

    Source: [HensenTugUse], from memory; her wash is common practice, no source.
    Limits: ship's speed up to 8 kn, held constant above.
    """
    if way > 0.0:
        if work.line_row < 0.0:
            return 0.0
        washed = 1.0 - work.wash_shallow if little_water else 1.0
        return power * work.line_pull * washed * by_speed.read(table, int(work.line_row), speed)
    if work.push_row < 0.0:
        return 0.0
    return power * work.push_pull * by_speed.read(table, int(work.push_row), speed)
