"""Wind loads on a ship by four published methods, as coefficients by angle and as forces in ship axes.

The coefficients are those of the publications: the longitudinal one positive aft, lateral and yaw positive to leeward,
at an angle counted from the bow to where the wind comes from. `loads` turns them into ship axes (x forward, y to
starboard, yaw to starboard positive). All areas are of the ship above water; lengths are overall.
"""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import DEGREE

SMOOTHED_FROM, SMOOTHED_TO = 80.0 * DEGREE, 100.0 * DEGREE  # ISO 15016:2015 Annex C, smoothing range 10° [memory]


class Coefficients(NamedTuple):
    """Wind coefficients at one angle or at an array of angles."""

    longitudinal: Real
    """Positive aft; referred to the transverse area. [-]"""
    lateral: Real
    """Positive to leeward; referred to the lateral area. [-]"""
    yaw: Real
    """Positive turns the bow to leeward; referred to lateral area times length overall. [-]"""


class Loads(NamedTuple):
    """Forces and moment in ship axes, about the origin amidships."""

    surge: Real
    """Positive forward. [N]"""
    sway: Real
    """Positive to starboard. [N]"""
    yaw: Real
    """Positive turns the bow to starboard. [N m]"""


@formula
def off_bow(angle: Real) -> Real:
    """Angle off the bow on either side, 0 to pi. [rad]"""
    return np.abs((angle + np.pi) % (2.0 * np.pi) - np.pi)


def isherwood(
    angle: Real,
    length_overall: float,
    beam: float,
    lateral_area: float,
    transverse_area: float,
    superstructure_area: float,
    profile_outline: float,
    centroid_from_bow: float,
    mast_groups: float,
) -> Coefficients:
    """Wind coefficients of merchant ships of older, conventional form.

    Parameters
    ----------
    angle : float or array
        From the bow to where the wind comes from, either side. [rad]
    superstructure_area : float
        Lateral projected area of the superstructure. [m²]
    profile_outline : float
        Length of the outline of the side profile above water, the waterline itself and thin things left out. [m]
    centroid_from_bow : float
        From the bow to the centroid of the lateral area. [m]
    mast_groups : float
        Separate masts or king-post groups seen from the side, none that stands against the bridge front. [-]

    Source: [Isherwood1973], evaluated at the tabulated angles, linear between them.
    Limits: not for full deck loads of containers, car carriers or ferries.
    """
    table = published("wind")["isherwood"]
    common = (
        1.0,
        2.0 * lateral_area / length_overall**2,
        2.0 * transverse_area / beam**2,
        length_overall / beam,
        profile_outline / length_overall,
        centroid_from_bow / length_overall,
    )
    terms = {
        "longitudinal": (*common, mast_groups),
        "lateral": (*common, superstructure_area / lateral_area),
        "yaw": common,
    }
    angles = np.asarray(table["angle_deg"]) * DEGREE
    curves = {name: np.asarray(table[name])[:, :-1] @ np.asarray(factors) for name, factors in terms.items()}
    return Coefficients(**{name: np.interp(off_bow(angle), angles, curve)[()] for name, curve in curves.items()})


def isherwood_standard_error(angle: Real) -> Coefficients:
    """Standard error of the fit of each coefficient; 1.96 times it bounds about 95 of 100 ships. [-]

    Source: [Isherwood1973]
    """
    table = published("wind")["isherwood"]
    angles = np.asarray(table["angle_deg"]) * DEGREE
    names = Coefficients._fields
    return Coefficients(*(np.interp(off_bow(angle), angles, np.asarray(table[name])[:, -1])[()] for name in names))


@formula
def _fujiwara_shape(angle: Real, along: Real, across: Real, lift: Real) -> Real:
    """The longitudinal coefficient of Fujiwara from its three parts. [-]"""
    sine, cosine = np.sin(angle), np.cos(angle)
    return along * cosine + across * (sine - 0.5 * sine * cosine**2) * sine * cosine + lift * sine * cosine**3


@formula
def fujiwara(
    angle: Real,
    length_overall: Real,
    beam: Real,
    lateral_area: Real,
    transverse_area: Real,
    deck_house_area: Real,
    centroid_forward: Real,
    centroid_height: Real,
    bridge_height: Real,
) -> Coefficients:
    """Wind coefficients of modern ships whose full particulars are known.

    Parameters
    ----------
    angle : float or array
        From the bow to where the wind comes from, either side. [rad]
    deck_house_area : float
        Lateral area of houses and deck cargo above the upper deck. [m²]
    centroid_forward : float
        Centroid of the lateral area forward of midships. [m]
    centroid_height : float
        Of the centroid of the lateral area above water. [m]
    bridge_height : float
        Of the top of the superstructure above water. [m]

    Source: [Fujiwara2006]; the longitudinal part as in [ISO15016], straight between 80 and 100 degrees.
    Limits: beam/length 0.09 to 0.25; lateral area/(length x bridge height) 0.2 to 0.95.
    """
    p = off_bow(angle)
    length, height = length_overall, bridge_height
    ahead_along = 0.922 - 0.507 * lateral_area / (length * beam) - 1.162 * centroid_forward / length
    ahead_across = -0.458 - 3.245 * lateral_area / (length * height) + 2.313 * transverse_area / (beam * height)
    ahead_lift = 0.585 + 0.906 * deck_house_area / lateral_area - 3.239 * beam / length
    astern_along = (
        -0.018
        + 5.091 * beam / length
        - 10.367 * centroid_height / length
        + 3.011 * deck_house_area / length**2
        + 0.341 * transverse_area / beam**2
    )
    astern_across = (
        1.901
        - 12.727 * lateral_area / (length * height)
        - 24.407 * transverse_area / lateral_area
        + 40.310 * beam / length
        + 5.481 * transverse_area / (beam * height)
    )
    astern_lift = 0.314 + 1.117 * deck_house_area / lateral_area
    ahead = _fujiwara_shape(np.minimum(p, SMOOTHED_FROM), ahead_along, ahead_across, ahead_lift)
    astern = _fujiwara_shape(np.maximum(p, SMOOTHED_TO), astern_along, astern_across, astern_lift)
    share = np.minimum(1.0, np.maximum(0.0, (p - SMOOTHED_FROM) / (SMOOTHED_TO - SMOOTHED_FROM)))
    longitudinal = (1.0 - share) * ahead + share * astern

    cross_flow = 0.404 + 0.368 * transverse_area / (beam * height) + 0.902 * height / length
    additional = where(
        p <= np.pi / 2.0,
        0.116 + 3.345 * transverse_area / (length * beam),
        0.446 + 2.192 * transverse_area / length**2,
    )
    lift = np.pi * lateral_area / length**2 + additional
    sine, cosine = np.sin(p), np.cos(p)
    lateral = cross_flow * sine**2 + lift * (cosine + 0.5 * sine**2 * cosine) * sine * cosine
    yaw = lateral * (0.927 * centroid_forward / length - 0.149 * (p - np.pi / 2.0))
    return Coefficients(longitudinal, lateral, yaw)


@formula
def blendermann(
    angle: Real,
    length_overall: Real,
    lateral_area: Real,
    transverse_area: Real,
    centroid_forward: Real,
    lateral: Real,
    ahead: Real,
    astern: Real,
    cross_force: Real,
) -> Coefficients:
    """Wind coefficients by type of ship, from areas and centroid alone.

    Parameters
    ----------
    angle : float or array
        From the bow to where the wind comes from, either side. [rad]
    centroid_forward : float
        Centroid of the lateral area forward of midships. [m]
    lateral, ahead, astern, cross_force : float
        The four figures of the type, of `blendermann_types()`. [-]

    Source: [Blendermann1994]
    """
    e = off_bow(angle)
    along = where(e <= np.pi / 2.0, ahead, astern) * transverse_area / lateral_area
    divisor = 1.0 - 0.5 * cross_force * (1.0 - along / lateral) * np.sin(2.0 * e) ** 2
    sideways = lateral * np.sin(e) / divisor
    return Coefficients(
        along * np.cos(e) / divisor * lateral_area / transverse_area,
        sideways,
        sideways * blendermann_lever(e, centroid_forward, length_overall),
    )


@formula
def blendermann_lever(angle: Real, centroid_forward: Real, length_overall: Real) -> Real:
    """Where the lateral wind force acts, forward of midships, as a share of the length overall. [-]

    Source: [Blendermann1994]
    """
    return centroid_forward / length_overall - 0.18 * (off_bow(angle) - np.pi / 2.0)


def blendermann_types() -> Mapping[str, Mapping[str, float]]:
    """The figures of each type of ship, by the paper's names. [-]

    Source: [Blendermann1994]
    """
    types: Mapping[str, Mapping[str, float]] = published("wind")["blendermann"]["types"]
    return types


@formula
def ufc_lateral_coefficient(
    superstructure_height: Real, hull_height: Real, superstructure_area: Real, hull_area: Real
) -> Real:
    """Lateral coefficient for the wind abeam, with the wind's growth with height inside it. [-]

    Parameters
    ----------
    superstructure_height : float
        Of the top of the superstructure above water. [m]
    hull_height : float
        Mean height of the hull above water. [m]

    Source: [UFC4-159-03], section 4-4; uncertainty of the coefficient about 0.1 of 0.92.
    """
    house = (0.5 * (superstructure_height + hull_height) / 10.0) ** (2.0 / 7.0) * superstructure_area
    hull = (0.5 * hull_height / 10.0) ** (2.0 / 7.0) * hull_area
    return 0.92 * (house + hull) / (superstructure_area + hull_area)


@formula
def ufc_lateral_shape(angle: Real) -> Real:
    """How the lateral force grows from ahead to abeam, 1 abeam. [-]

    Source: [UFC4-159-03], section 4-4.
    """
    e = off_bow(angle)
    return (np.sin(e) - np.sin(5.0 * e) / 20.0) / 0.95


@formula
def ufc_longitudinal_shape(angle: Real, zero_angle: Real, distributed: Real) -> Real:
    """How the longitudinal force goes from +1, wind ahead, to -1, wind astern. [-]

    Parameters
    ----------
    zero_angle : float
        Where the longitudinal force is nil. [rad]
    distributed : bool
        A superstructure spread along the ship (case II) instead of a single distinct one (case I).

    Source: [UFC4-159-03], equations 6 and 7.
    """
    t = off_bow(angle)
    quarter = np.pi / 2.0
    before = quarter / zero_angle * t
    after = quarter / (np.pi - zero_angle)
    single = np.cos(where(t < zero_angle, before, after * (t - zero_angle) + quarter))
    g = where(t < zero_angle, before + quarter, after * t + np.pi - quarter * zero_angle / (np.pi - zero_angle))
    spread = (np.sin(g) - np.sin(5.0 * g) / 10.0) / 0.9
    return where(distributed, spread, single)


@formula
def ufc(
    angle: Real,
    length_overall: Real,
    centroid_forward: Real,
    lateral: Real,
    ahead: Real,
    astern: Real,
    zero_angle: Real,
    distributed: Real,
) -> Coefficients:
    """Wind coefficients of the mooring design manual; the yaw lever is Blendermann's, for its own table was not seen.

    Parameters
    ----------
    angle : float or array
        From the bow to where the wind comes from, either side. [rad]
    lateral : float
        From `ufc_lateral_coefficient`. [-]
    ahead, astern : float
        Longitudinal coefficients for the wind from ahead and from astern. [-]

    Source: [UFC4-159-03], section 4-4; yaw [Blendermann1994].
    """
    shape = ufc_longitudinal_shape(angle, zero_angle, distributed)
    sideways = lateral * ufc_lateral_shape(angle)
    return Coefficients(
        where(shape > 0.0, ahead, astern) * shape,
        sideways,
        sideways * blendermann_lever(angle, centroid_forward, length_overall),
    )


METHODS = {
    "fujiwara": Method(
        function=fujiwara,
        source="Fujiwara2006",
        limits={"beam_to_length": (0.09, 0.25), "lateral_area_to_length_bridge_height": (0.2, 0.95)},
        note="full particulars with house area and bridge height",
    ),
    "blendermann": Method(function=blendermann, source="Blendermann1994", note="type, areas and centroid alone"),
    "isherwood": Method(
        function=isherwood,
        source="Isherwood1973",
        applies_to=tuple(name for name, row in published("wind")["choice"].items() if "isherwood" in row["methods"]),
        note="older conventional forms; not for deck loads of containers, car carriers, ferries",
    ),
    "ufc": Method(function=ufc, source="UFC4-159-03", note="naval ships and mooring design checks"),
}


def suited(ship_type: str) -> tuple[str, ...]:
    """Names of the methods that suit a type of ship, best first.

    Raises ValueError for a type not known, for a guess could be the weaker coefficient.
    Source: common practice, no source; the reasons stand in docs/methods/wind.md.
    """
    return tuple(_choice(ship_type)["methods"])


def blendermann_type(ship_type: str) -> str:
    """The row of Blendermann's table for a type of ship of ours; ValueError for a type not known."""
    return str(_choice(ship_type)["blendermann"])


def ship_types() -> tuple[str, ...]:
    """The types of ship for which a choice of method stands."""
    return tuple(published("wind")["choice"])


def _choice(ship_type: str) -> Mapping[str, Any]:
    rows: Mapping[str, Mapping[str, Any]] = published("wind")["choice"]
    if ship_type not in rows:
        raise ValueError(f"no wind method is chosen for ship type {ship_type!r}; known: {', '.join(rows)}")
    return rows[ship_type]


def coefficient_table(method: Callable[[Real], Coefficients], step: float) -> np.ndarray:
    """Coefficients on a regular grid from 0 to pi, for kernels and for repeated use.

    Parameters
    ----------
    method : callable
        Coefficients by angle, all else of the ship already given.
    step : float
        Of the grid, a whole part of pi. [rad]

    Returns
    -------
    table : array, shape (n, 3)
        Longitudinal, lateral, yaw.
    """
    angles = np.linspace(0.0, np.pi, round(np.pi / step) + 1)
    return np.stack(np.broadcast_arrays(*method(angles)), axis=1)


@formula
def from_table(angle: float, table: np.ndarray) -> Coefficients:
    """Coefficients at one angle from a regular grid, linear between its points; scalars only. [-]"""
    place = off_bow(angle) * (len(table) - 1) / np.pi
    i = min(int(place), len(table) - 2)
    share = place - i
    return Coefficients(
        (1.0 - share) * table[i, 0] + share * table[i + 1, 0],
        (1.0 - share) * table[i, 1] + share * table[i + 1, 1],
        (1.0 - share) * table[i, 2] + share * table[i + 1, 2],
    )


@formula
def loads(
    coefficients: Coefficients,
    angle: Real,
    pressure: Real,
    length_overall: Real,
    lateral_area: Real,
    transverse_area: Real,
) -> Loads:
    """Wind forces in ship axes.

    Parameters
    ----------
    angle : float or array
        From the bow to where the wind comes from, to starboard positive. [rad]
    pressure : float or array
        Dynamic pressure of the relative wind, 0.5 rho V². [Pa]

    Returns
    -------
    loads : surge [N], sway [N], yaw [N m]
    """
    leeward = -np.sign(np.sin(angle))
    return Loads(
        -coefficients.longitudinal * pressure * transverse_area,
        leeward * coefficients.lateral * pressure * lateral_area,
        leeward * coefficients.yaw * pressure * lateral_area * length_overall,
    )
