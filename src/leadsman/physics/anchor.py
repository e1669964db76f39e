"""Will the anchor hold: holding power by bottom, chain, catenary, cable to veer, and bringing her up with it.

Depths here run from the hawse pipe down to the bed, the height the cable really spans, unless the rule quoted has the
depth of water. A pull is horizontal unless it says otherwise.
"""

import math
from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import KNOT, STANDARD_GRAVITY

CLASS_SHACKLE = 27.5  # m, the length class chain is made in (forces sheet 6.2) [seen: US shot 27.4]
SUBMERGED_SHARE = 0.869  # of the weight in air: steel in sea water (forces sheet 6.2) [memory]
LEFT_ON_BOTTOM = CLASS_SHACKLE  # m, at least one shackle (forces sheet 6.3) [common practice]
YAWING_AMPLIFICATION = 1.5  # at single anchor, 1.5 to 2.0 (forces sheet 6.3) [common practice]
DRAGGING_SHARE = 0.3  # of the ultimate holding: careful end of 0.3 to 0.5 (forces sheet 6.1), tool setting
BRAKE_SHARE = 0.8  # windlass brake over breaking load, static design (manoeuvring sheet 9) [memory]
LENGTH_BY_MASS = 0.13  # m for each cube root of a kilogram: about 1.9 m for 3060 kg, stockless, from memory
WALK_BACK_SPEED = 3.0 * KNOT  # m/s: careful end of 3 to 4 kn, walking back (manoeuvring sheet 9) [memory]
WINDLASS_RATED_LENGTH = 82.5  # m: a windlass lifts anchor and three shackles (standards sheet 5) [seen]


def anchor_types() -> tuple[str, ...]:
    """Names of the anchor types of the holding table."""
    return tuple(name for name, row in published("anchor")["holding"].items() if isinstance(row, dict))


def holding_ufc(mass: Real, anchor: str, bottom: str) -> Real:
    """Ultimate holding of an anchor well set. [N]

    Parameters
    ----------
    mass : float or array
        In air. [kg]
    bottom : str
        "mud" (soft) or "sand".

    Raises ValueError for an anchor or a bottom without figures.
    Source: [UFC4-159-03], equation 26 [seen]; figures of tables 5-3 and 5-4 from memory.
    """
    table = published("anchor")["holding"]
    if anchor not in anchor_types():
        raise ValueError(f"anchor {anchor!r} is not known; known: {', '.join(anchor_types())}")
    row = table[anchor]
    if f"{bottom}_kN" not in row:
        raise ValueError(f"anchor {anchor!r} has no figures for bottom {bottom!r}; expected mud or sand")
    return row[f"{bottom}_kN"] * 1000.0 * (mass / table["reference_mass_kg"]) ** row[f"{bottom}_exponent"]


def holding_on(mass: Real, anchor: str, bottom: str) -> Real:
    """Ultimate holding on one of the bottoms of the handbook, from the figure in sand. [N]

    Raises ValueError for a bottom not known.
    Source: [CrenshawNavalShiphandling] for the bottom; [UFC4-159-03] for the anchor in sand.
    """
    shares = published("anchor")["bottom"]
    if not isinstance(shares.get(bottom), float):
        known = ", ".join(name for name, share in shares.items() if isinstance(share, float))
        raise ValueError(f"bottom {bottom!r} is not known; known: {known}")
    return shares[bottom] * holding_ufc(mass, anchor, "sand")


@formula
def holding_ratio(mass: Real, ratio: Real) -> Real:
    """Holding as a multiple of the anchor's weight. [N]

    Source: common practice, no source: stockless 3 in mud, 3 to 5 in sand or good clay; high holding power twice that.
    """
    return ratio * mass * STANDARD_GRAVITY


@formula
def chain_weight(diameter: Real) -> Real:
    """Weight of stud link chain in water for each metre. [N/m]

    Parameters
    ----------
    diameter : float
        Of the bar. [m]

    Source: common practice, no source: 0.0219 d² kg/m in air, d in millimetres, from memory.
    """
    return SUBMERGED_SHARE * 0.0219 * (1000.0 * diameter) ** 2 * STANDARD_GRAVITY


def chain_breaking_load(diameter: float, grade: str) -> float:
    """Breaking load of stud link chain of grade "U1", "U2" or "U3". [N]

    Source: [IACSA1], from memory.
    """
    return _chain_load("breaking", diameter, grade)


def chain_proof_load(diameter: float, grade: str) -> float:
    """Proof load of stud link chain of grade "U1", "U2" or "U3". [N]

    Source: [IACSA1], from memory.
    """
    return _chain_load("proof", diameter, grade)


def _chain_load(kind: str, diameter: float, grade: str) -> float:
    factors = published("anchor")["chain"][kind]
    if grade not in factors:
        raise ValueError(f"chain grade {grade!r} is not known; expected {', '.join(factors)}")
    d = 1000.0 * diameter
    return float(factors[grade] * d**2 * (44.0 - 0.08 * d) * 1000.0)


class Catenary(NamedTuple):
    """A cable that leaves the bed with no angle at all."""

    length: Real
    """Of the part that hangs. [m]"""
    span: Real
    """Horizontal distance it covers. [m]"""
    tension: Real
    """At the hawse. [N]"""


@formula
def catenary(height: Real, pull: Real, weight: Real) -> Catenary:
    """The least cable that keeps the pull on the anchor horizontal.

    Parameters
    ----------
    height : float
        From the bed to the hawse. [m]
    pull : float
        Horizontal. [N]
    weight : float
        Of the chain in water. [N/m]

    Source: derived: the catenary.
    """
    stiffness = np.maximum(pull / weight, 1e-9 * height)  # no pull at all: up and down
    return Catenary(
        np.sqrt(height * (height + 2.0 * stiffness)),
        stiffness * np.arccosh(1.0 + height / stiffness),
        pull + weight * height,
    )


@formula
def pull_that_lifts(height: Real, length: Real, weight: Real) -> Real:
    """The horizontal pull at which the last of a cable leaves the bed. [N]

    Parameters
    ----------
    length : float
        Of cable from hawse to anchor, more than the height. [m]

    Source: derived: the catenary.
    """
    return weight * (length**2 - height**2) / (2.0 * height)


@formula
def cable_needed(height: Real, pull: Real, weight: Real, on_bottom: Real) -> Real:
    """Cable from hawse to anchor for a pull, with some left on the bed. [m]

    Source: derived: the catenary; at least one shackle on the bed is common practice.
    """
    return catenary(height, pull, weight).length + on_bottom


@formula
def swing_radius(height: Real, pull: Real, weight: Real, cable: Real, length_overall: Real) -> Real:
    """From the anchor to her stern with the cable stretched by a pull. [m]

    With no pull the cable hangs straight down; the greatest radius, with the cable as a straight line, is the limit.

    Source: derived: span of the catenary, the rest along the bed, and her length.
    """
    hanging = catenary(height, pull, weight)
    straight = np.sqrt(np.maximum(cable**2 - height**2, 0.0))
    return np.minimum(hanging.span + np.maximum(cable - hanging.length, 0.0), straight) + length_overall


@formula
def chain_friction(weight: Real, length: Real, coefficient: Real) -> Real:
    """Holding of the cable that lies on the bed. [N]

    Parameters
    ----------
    coefficient : float
        0.74 to 1.0 in sand, 0.6 to 0.7 in mud. [-]

    Source: common practice, no source, from memory.
    """
    return coefficient * weight * length


@formula
def cable_fair_weather(water_depth: Real) -> Real:
    """Cable to veer in fair weather, three times the depth and 90 m. [m]

    Source: common practice, no source (Japanese rule).
    """
    return 3.0 * water_depth + 90.0


@formula
def cable_rough_weather(water_depth: Real) -> Real:
    """Cable to veer in rough weather, four times the depth and 145 m. [m]

    Source: common practice, no source (Japanese rule).
    """
    return 4.0 * water_depth + 145.0


@formula
def cable_root_rule(water_depth: Real) -> Real:
    """Cable to veer, 39 times the root of the depth in metres. [m]

    Source: common practice, no source (standards sheet 5) [seen].
    """
    return 39.0 * np.sqrt(water_depth)


@formula
def cable_admiralty(water_depth: Real) -> Real:
    """Cable of special steel to veer, two shackles times the root of the depth in metres. [m]

    Source: common practice, no source (forces sheet 6.4); for forged steel three quarters of it.
    """
    return 2.0 * np.sqrt(water_depth) * CLASS_SHACKLE


@formula
def dragging_force(mass: Real, height: Real, weight: Real, ratio: Real) -> Real:
    """Force at the hawse while an anchor is dredged at short stay. [N]

    Parameters
    ----------
    mass : float
        Of the anchor. [kg]
    ratio : float
        Its drag over its weight, 1.0 for planning, up to 1.5. [-]

    Source: common practice, no source: the anchor's weight and twice the weight of the hanging chain.
    """
    return ratio * mass * STANDARD_GRAVITY + 2.0 * weight * height


@formula
def standing_height(mass: Real) -> Real:
    """How high above the bed a stockless anchor can stand, on its flukes with its shank up. [m]

    Its whole length; on its side, as a dredged anchor mostly lies, it is about half as high.

    Parameters
    ----------
    mass : float
        Of the anchor. [kg]

    Source: common practice, no source: anchors of one shape grow as the cube root of their mass; the length, from
    memory.
    """
    return LENGTH_BY_MASS * mass ** (1.0 / 3.0)


@formula
def stopping_distance(speed: Real, mass: Real, force: Real) -> Real:
    """Way she makes against a steady force until she stops, her own resistance not counted. [m]

    Parameters
    ----------
    mass : float
        With the water that moves with her. [kg]

    Source: derived: work and energy.
    """
    return mass * speed**2 / (2.0 * force)


@formula
def stopping_speed(distance: Real, mass: Real, force: Real) -> Real:
    """Greatest speed from which a steady force stops her within a distance. [m/s]

    Source: derived: work and energy.
    """
    return np.sqrt(2.0 * force * distance / mass)


@formula
def catenary_energy(height: Real, pull: Real, weight: Real) -> Real:
    """Work that stretches a cable from hanging straight down to where a pull has lifted it. [J]

    It is the weight of the chain times the height through which it was raised.

    Source: derived: integral of the height along the catenary.
    """
    stiffness = pull / weight
    length = np.sqrt(height * (height + 2.0 * stiffness))
    raised = 0.5 * (length * np.hypot(stiffness, length) + stiffness**2 * np.arcsinh(length / stiffness))
    return weight * (raised - stiffness * length - 0.5 * height**2)


@formula
def bringing_up_speed(height: Real, cable: Real, weight: Real, tension: Real, mass: Real) -> Real:
    """Greatest speed over the ground at which the cable alone brings her up without passing a tension. [m/s]

    Her energy goes into lifting cable until the tension is reached, or until all of it is off the bed, whichever comes
    first; the stretch of the chain and the anchor's movement are not credited.

    Parameters
    ----------
    cable : float
        From hawse to anchor. [m]
    tension : float
        At the hawse, that must not be passed: brake or proof load. [N]
    mass : float
        Of the ship with the water that moves with her. [kg]

    Source: derived: her energy of motion equals the work that lifts the cable.
    """
    pull = np.minimum(tension - weight * height, pull_that_lifts(height, cable, weight))
    pull = np.maximum(pull, 1.0e-3 * weight * height)  # a cable up and down takes up nothing
    return np.sqrt(2.0 * np.maximum(catenary_energy(height, pull, weight), 0.0) / mass)


class CableOrder(NamedTuple):
    """How much cable to give, in the words of the forecastle."""

    shackles: float
    """In half shackles. [-]"""
    where: str
    """"on deck" or "in the water"."""


def cable_order(
    cable: float, shackle: float, hawse_to_windlass: float, hawse_above_water: float
) -> tuple[CableOrder, CableOrder]:
    """The order that gives at least a length of cable outside the hawse, counted on deck and at the water.

    Parameters
    ----------
    cable : float
        From hawse to anchor. [m]
    shackle : float
        Length of a shackle of this ship. [m]
    hawse_to_windlass : float
        Cable between hawse and windlass, where a shackle counts as on deck. [m]
    hawse_above_water : float
        [m]

    Returns
    -------
    on deck, in the water : both rounded up to a half shackle.

    Source: common practice, no source.
    """
    on_deck = _half_up((cable + hawse_to_windlass) / shackle)
    in_water = _half_up(max(cable - hawse_above_water, 0.0) / shackle)
    return CableOrder(on_deck, "on deck"), CableOrder(in_water, "in the water")


def _half_up(shackles: float) -> float:
    """Up to the next half, a millimetre forgiven."""
    return math.ceil(2.0 * shackles - 1e-4) / 2.0


METHODS = {
    "ufc": Method(function=holding_ufc, source="UFC4-159-03", note="ultimate, anchor well set, horizontal pull"),
    "handbook_bottom": Method(function=holding_on, source="CrenshawNavalShiphandling", note="sand figure by bottom"),
    "ratio": Method(function=holding_ratio, source="TradeForces", note="multiple of the anchor's weight"),
}

CABLE_RULES = {
    "fair_weather": Method(function=cable_fair_weather, source="TradeForces"),
    "rough_weather": Method(function=cable_rough_weather, source="TradeForces"),
    "root": Method(function=cable_root_rule, source="TradeForces"),
    "admiralty": Method(function=cable_admiralty, source="TradeForces"),
}
