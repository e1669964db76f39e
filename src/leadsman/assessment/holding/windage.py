"""From the profile of a ship above water to her windage by every method that suits her type."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from leadsman.assessment.holding.case import Windage
from leadsman.compiled import Real
from leadsman.physics import wind, wind_profile
from leadsman.physics.method import Breach
from leadsman.physics.wind import Coefficients

GRID = math.radians(2.0)  # of the coefficient tables: linear between, within 0.002 of the formulas (tested)


@dataclass(frozen=True, kw_only=True)
class Profile:
    """The ship above water; None where a figure is not known, and a method that needs it is left out."""

    ship_type: str
    """A row of `physics.wind.ship_types()`."""
    length_overall: float
    beam: float
    lateral_area: float
    transverse_area: float
    centroid_forward: float
    """Of the lateral area, forward of midships. [m]"""
    height: float
    """To which the wind's growth with height is averaged: top of house or stacks above water. [m]"""
    centroid_height: float | None = None
    bridge_height: float | None = None
    deck_house_area: float | None = None
    """Lateral, of houses and deck cargo above the upper deck. [m²]"""
    superstructure_area: float | None = None
    """Lateral. [m²]"""
    outline: float | None = None
    """Length of the profile's outline above water. [m]"""
    mast_groups: float | None = None


def windages(profile: Profile, exponent: float, air_density: float) -> tuple[Windage, ...]:
    """Her windage by every method that suits her type and has what it needs, best suited first.

    The pressure is that averaged over her height, but never under that at 10 m: a low ship is not credited with the
    calmer air near the water.

    Raises ValueError for a type not known.
    """
    ratio = float(wind_profile.felt_ratio(profile.height, exponent))
    return tuple(
        Windage(
            method=name,
            coefficients=wind.coefficient_table(method, GRID),
            length_overall=profile.length_overall,
            lateral_area=profile.lateral_area,
            transverse_area=profile.transverse_area,
            pressure_ratio=ratio,
            air_density=air_density,
        )
        for name, method in _methods(profile)
    )


def breaches(profile: Profile) -> dict[str, tuple[Breach, ...]]:
    """Limits of the methods that her profile does not respect, by method."""
    shares = {"beam_to_length": profile.beam / profile.length_overall}
    if profile.bridge_height is not None:
        face = profile.length_overall * profile.bridge_height
        shares["lateral_area_to_length_bridge_height"] = profile.lateral_area / face
    found = {name: wind.METHODS[name].outside(**shares) for name, _ in _methods(profile)}
    return {name: broken for name, broken in found.items() if broken}


def _methods(profile: Profile) -> Iterator[tuple[str, Callable[[Real], Coefficients]]]:
    builders = {"fujiwara": _fujiwara, "blendermann": _blendermann, "isherwood": _isherwood}
    for name in wind.suited(profile.ship_type):
        method = builders[name](profile) if name in builders else None
        if method is not None:
            yield name, method


def _fujiwara(profile: Profile) -> Callable[[Real], Coefficients] | None:
    needed = (profile.deck_house_area, profile.centroid_height, profile.bridge_height)
    if any(value is None for value in needed):
        return None
    return partial(
        wind.fujiwara,
        length_overall=profile.length_overall,
        beam=profile.beam,
        lateral_area=profile.lateral_area,
        transverse_area=profile.transverse_area,
        deck_house_area=profile.deck_house_area,
        centroid_forward=profile.centroid_forward,
        centroid_height=profile.centroid_height,
        bridge_height=profile.bridge_height,
    )


def _blendermann(profile: Profile) -> Callable[[Real], Coefficients]:
    row = wind.blendermann_types()[wind.blendermann_type(profile.ship_type)]
    return partial(
        wind.blendermann,
        length_overall=profile.length_overall,
        lateral_area=profile.lateral_area,
        transverse_area=profile.transverse_area,
        centroid_forward=profile.centroid_forward,
        lateral=row["lateral"],
        ahead=row["ahead"],
        astern=row["astern"],
        cross_force=row["cross_force"],
    )


def _isherwood(profile: Profile) -> Callable[[Real], Coefficients] | None:
    if profile.superstructure_area is None or profile.outline is None or profile.mast_groups is None:
        return None
    return partial(
        wind.isherwood,
        length_overall=profile.length_overall,
        beam=profile.beam,
        lateral_area=profile.lateral_area,
        transverse_area=profile.transverse_area,
        superstructure_area=profile.superstructure_area,
        profile_outline=profile.outline,
        centroid_from_bow=0.5 * profile.length_overall - profile.centroid_forward,
        mast_groups=profile.mast_groups,
    )
