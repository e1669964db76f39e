"""Cross-sections of the water a ship runs in, and the limiting speed and drawdown in a canal (Schijf).

unrestricted         trench: dredged, shoals flooded      canal: slopes reach the surface
~~~~~~~~~~~~~~~      ~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~      ~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~
                     ______                 ______         .                           .
                           .               .  trench         .                       .   1 : slope
_______________              .___________.    height           .___________________.
                             bottom width                          bottom width
"""

from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.units import GRAVITY

MIDSHIP_COEFFICIENT = 0.98  # midship section / (beam x draught): PIANC Report 121 (2014), squat appendix; memory
LEAST_DEPTH = 0.01  # m: dry ground counts as a film of water, so that squat there is unbounded and not undefined
LEAST_FREE_SHARE = 1e-3  # of the cross-section: a channel filled by the ship answers with a huge number, not with none


class Kind(IntEnum):
    """What bounds the water at the sides."""

    UNRESTRICTED = 0
    TRENCH = 1
    CANAL = 2


KINDS = {kind.name.lower(): kind for kind in Kind}


@formula
def froude_depth(speed: Real, water_depth: Real) -> Real:
    """Depth Froude number, speed / sqrt(g water_depth). [-]

    Source: definition.
    """
    return speed / np.sqrt(GRAVITY * water_depth)


@formula
def unbounded(numerator: Real, denominator: Real) -> Real:
    """The quotient, infinite where the denominator is not positive: no flow is steady at and above critical speed."""
    return where(denominator > 0.0, numerator / np.maximum(denominator, 1e-12), np.inf)


@formula
def cross_section_area(water_depth: Real, bottom_width: Real, slope: Real) -> Real:
    """Wetted area of a trapezoidal channel; for a trench the slopes are projected to the surface. [m²]

    `slope` is metres of width for each metre of height. Source: [PIANC121], memory; geometry.
    """
    return water_depth * (bottom_width + slope * water_depth)


@formula
def surface_width(water_depth: Real, bottom_width: Real, slope: Real) -> Real:
    """Width of a trapezoidal channel at the surface. [m]

    Source: geometry.
    """
    return bottom_width + 2.0 * slope * water_depth


@formula
def width_of_influence(beam: Real, block_coefficient: Real) -> Real:
    """Width of open water that acts on the ship like a channel. [m]

    Source: [Barrass2004], also in [PIANC121]; memory.
    """
    return 7.04 / block_coefficient**0.85 * beam


@formula
def width_of_influence_by_waterplane(beam: Real, waterplane_coefficient: Real) -> Real:
    """Width of influence by the older formula. [m]

    Source: [Barrass1979], seen in a shipping company's worksheet.
    """
    return (7.7 + 45.0 * (1.0 - waterplane_coefficient) ** 2) * beam


@formula
def return_factor(blockage: Real) -> Real:
    """Velocity return factor, midship section / free section beside the ship. [-]

    Source: [Barrass1979], seen.
    """
    return blockage / np.maximum(1.0 - blockage, LEAST_FREE_SHARE)


@formula
def limiting_froude(blockage: Real) -> Real:
    """Schijf's limiting speed / sqrt(g mean depth): faster, the water cannot pass the ship any more. [-]

    Closed form of 1 - S + F²/2 - 1.5 F^(2/3) = 0. Source: [Schijf1949], derived.
    """
    free = np.minimum(np.maximum(1.0 - blockage, 0.0), 1.0)
    return (2.0 * np.sin(np.arcsin(free) / 3.0)) ** 1.5


@formula
def limiting_speed(blockage: Real, mean_depth: Real) -> Real:
    """Schijf's limiting speed in a canal. [m/s]

    Source: [Schijf1949], derived. Merchant ships do not get past about 0.9 of it.
    """
    return limiting_froude(blockage) * np.sqrt(GRAVITY * mean_depth)


@formula
def drawdown(speed: Real, blockage: Real, mean_depth: Real) -> Real:
    """Lowering of the water beside a ship in a canal; infinite from the limiting speed on.

    By continuity and Bernoulli's law the free share q = 1 - S - z/h of the section obeys
    q³ - (1 - S + F²/2) q² + F²/2 = 0, whose largest root is the sub-critical one. [m]

    Source: [Schijf1949], derived.
    """
    half_square = 0.5 * speed**2 / (GRAVITY * mean_depth)
    a = 1.0 - blockage + half_square
    cosine = 1.0 - 13.5 * half_square / a**3
    free = a / 3.0 * (1.0 + 2.0 * np.cos(np.arccos(np.minimum(np.maximum(cosine, -1.0), 1.0)) / 3.0))
    below = speed < limiting_speed(blockage, mean_depth)
    return where(below, mean_depth * np.maximum(1.0 - blockage - free, 0.0), np.inf)


@formula
def return_speed(speed: Real, blockage: Real, mean_depth: Real) -> Real:
    """Speed of the water running back beside a ship in a canal; infinite from the limiting speed. [m/s]

    Source: [Schijf1949], derived.
    """
    lowered = drawdown(speed, blockage, mean_depth)
    free = 1.0 - blockage - np.minimum(lowered / mean_depth, 1.0)
    return where(lowered < np.inf, speed * (1.0 / np.maximum(free, LEAST_FREE_SHARE) - 1.0), np.inf)


@dataclass(frozen=True, kw_only=True, eq=False)
class Section:
    """Cross-sections at many stations at once: each field a number or an array, broadcast against one another.

    `kind` holds values of `Kind`; for unrestricted water the other figures but the depth are not read. `trench_height`
    is the height of the dredged slope above the bed and is read for trenches only. [m; slope: m of width per m of
    height] Raises `ValueError` for a missing figure that is read, since missing would mean wide or deep.
    """

    kind: Real
    water_depth: Real
    bottom_width: Real = np.nan
    slope: Real = np.nan
    trench_height: Real = np.nan

    def __post_init__(self) -> None:
        trench = np.equal(self.kind, Kind.TRENCH)
        for name, read in (("water_depth", True), ("bottom_width", self.restricted), ("slope", self.restricted)):
            missing = np.count_nonzero(read & ~np.isfinite(getattr(self, name)))
            if missing:
                raise ValueError(f"{name} is missing at {missing} of the stations that need it")
        if np.any(trench & ~np.greater(self.trench_height, 0.0)):
            raise ValueError("trench_height is missing or zero at a station in a trench")

    @cached_property
    def restricted(self) -> Real:
        """Whether the sides act: trench or canal."""
        return np.not_equal(self.kind, Kind.UNRESTRICTED)

    @cached_property
    def depth(self) -> Real:
        """Water depth, at least `LEAST_DEPTH`. [m]"""
        return np.maximum(self.water_depth, LEAST_DEPTH)

    @cached_property
    def width(self) -> Real:
        """Width at the bottom, infinite in unrestricted water. [m]"""
        return where(self.restricted, self.bottom_width, np.inf)

    @cached_property
    def area(self) -> Real:
        """Wetted area, infinite in unrestricted water. [m²]"""
        inside = cross_section_area(self.depth, self._finite_width, self.slope)
        return where(self.restricted, inside, np.inf)

    @cached_property
    def surface_width(self) -> Real:
        """Width at the surface, infinite in unrestricted water. [m]"""
        return where(self.restricted, surface_width(self.depth, self._finite_width, self.slope), np.inf)

    @cached_property
    def mean_depth(self) -> Real:
        """Wetted area / width at the surface; the depth itself in unrestricted water. [m]"""
        width = surface_width(self.depth, self._finite_width, self.slope)
        inside = cross_section_area(self.depth, self._finite_width, self.slope) / np.maximum(width, LEAST_DEPTH)
        return where(self.restricted, inside, self.depth)

    @cached_property
    def trench_share(self) -> Real:
        """Trench height / water depth: 0 in unrestricted water, 1 in a canal. [-]"""
        share = np.minimum(self.trench_height / self.depth, 1.0)
        return where(np.equal(self.kind, Kind.TRENCH), share, where(self.restricted, 1.0, 0.0))

    @cached_property
    def _finite_width(self) -> Real:
        """The bottom width where it is read, a harmless figure where it is not."""
        return where(self.restricted, self.bottom_width, 1.0)
