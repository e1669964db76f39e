"""Tugs: bollard pull, and what of it reaches the ship by type, working method, speed, angle and wash."""

from typing import Literal, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import KNOT, MECHANICAL_HORSEPOWER, TONNE, TONNE_FORCE

Work = Literal["on a line", "pushing", "indirect"]

_RULES = published("tug")["rules"]
USABLE = float(_RULES["usable"])  # of the certified pull, 0.80 to 0.85 (forces sheet 4.2) [practice]
SAFETY = float(_RULES["safety"])  # on demand with the mean wind (forces sheet 4.2) [practice]
LITTLE_CLEARANCE = 0.2  # of the draught, below which wash costs more (forces sheet 4.3), tool setting
_WASH = published("tug")["wash"]
_WASH_DISTANCE = np.asarray(_WASH["distance_m"])
_WASH_SHARE = np.asarray(_WASH["share"])
_WASH_SHALLOW = float(_WASH["little_water"])


class TugType(NamedTuple):
    """A type of tug as the tables have it."""

    family: str
    """"conventional" or "azimuth" (any that steers its thrust)."""
    pull: float
    """Bollard pull per brake power, lower end of the range. [N/W]"""
    astern: float
    """Bollard pull astern over ahead, lower end of the range. [-]"""


def types() -> tuple[str, ...]:
    """Names of the types of tug."""
    return tuple(published("tug")["types"])


def tug_type(name: str) -> TugType:
    """The figures of a type of tug, the lower end of each range.

    Raises ValueError for a type not known.
    Source: [HensenTugUse], from memory.
    """
    if name not in types():
        raise ValueError(f"tug type {name!r} is not known; known: {', '.join(types())}")
    row = published("tug")["types"][name]
    return TugType(row["family"], row["pull"][0] * TONNE_FORCE / (100.0 * MECHANICAL_HORSEPOWER), row["astern"][0])


def speed_share(name: str, work: Work, speed: Real) -> Real:
    """Share of the bollard pull that reaches the ship athwart at her speed through the water. [-]

    Parameters
    ----------
    name : str
        Type of tug.
    work : str
        "on a line", "pushing" or, for an escort tug, "indirect".
    speed : float or array
        Of the ship through the water, ahead or astern. [m/s]

    Raises ValueError for a work the type does not do.
    Source: [HensenTugUse], from memory; the lower of two sets of figures.
    Limits: speed up to 8 kn; held constant above.
    """
    table = published("tug")["speed"]
    family = "escort" if work == "indirect" else tug_type(name).family
    if work == "indirect" and name != "escort":
        raise ValueError(f"tug type {name!r} does not tow indirect; only an escort tug is credited with it")
    speeds = np.asarray(table["speed_kn"]) * KNOT
    return np.interp(np.abs(speed), speeds, np.asarray(table[f"{family}, {work}"]))[()]


@formula
def wash_share(distance: Real, underkeel_clearance: Real, draught: Real) -> Real:
    """Share of the pull left when the tug's wash strikes the hull; one that pushes or washes clear has all. [-]

    Parameters
    ----------
    distance : float
        Free length between tug and hull. [m]

    Source: common practice, no source.
    """
    shallow = underkeel_clearance < LITTLE_CLEARANCE * draught
    return np.interp(distance, _WASH_DISTANCE, _WASH_SHARE) - where(shallow, _WASH_SHALLOW, 0.0)


@formula
def components(pull: Real, angle_to_beam: Real, vertical_lead: Real) -> tuple[Real, Real]:
    """Athwart and along-ship parts of a line's pull. [N]

    Parameters
    ----------
    angle_to_beam : float
        Of the line in plan, from straight abeam towards the bow. [rad]
    vertical_lead : float
        Of the line below the horizontal. [rad]

    Source: derived.
    """
    flat = pull * np.cos(vertical_lead)
    return flat * np.cos(angle_to_beam), flat * np.sin(angle_to_beam)


def bollard_pull(name: str, power: float) -> float:
    """Bollard pull ahead from brake power, the lower end of the type's range. [N]

    Source: [HensenTugUse], from memory.
    """
    return tug_type(name).pull * power


@formula
def displacement_rule(displacement: Real) -> Real:
    """Total bollard pull for a laden tanker or bulk carrier, by her displacement alone. [N]

    Parameters
    ----------
    displacement : float
        [kg]

    Source: [HensenTugUse] quoting port practice, from memory, weak.
    """
    tonnes = displacement / TONNE
    return (tonnes / 100000.0 * 60.0 + 40.0) * TONNE_FORCE  # published in tonnes


@formula
def windage_rule(lateral_demand: Real) -> Real:
    """Total bollard pull by the lateral force of wind, current and waves: 1.25 of it, with 0.8 of each tug usable. [N]

    Parameters
    ----------
    lateral_demand : float
        [N]

    Source: [HensenTugUse], from memory.
    """
    return SAFETY * np.abs(lateral_demand) / USABLE


@formula
def two_tugs(sway: Real, yaw: Real, forward: Real, aft: Real) -> tuple[Real, Real]:
    """Lateral forces of two tugs that balance a lateral force and a moment left over by all else.

    Parameters
    ----------
    sway, yaw : float
        What is to be balanced, about midships. [N, N m]
    forward, aft : float
        Where the tugs work, forward of midships positive. [m]

    Returns
    -------
    forward, aft : the tugs' forces against it; a negative one must work the other way. [N]

    Source: derived: balance of forces and moments.
    """
    at_forward = (yaw - aft * sway) / (forward - aft)
    return at_forward, sway - at_forward


METHODS = {
    "displacement": Method(
        function=displacement_rule,
        source="HensenTugUse",
        applies_to=("tanker, loaded", "bulk carrier"),
        note="weak: knows no wind",
    ),
    "windage": Method(function=windage_rule, source="HensenTugUse", note="at least two tugs beyond the thrusters"),
}
