"""The under-keel account at every station, from the chart to what is left, and the water level each station needs.

    static   depth + water level - draught in the water sailed in
    gross    static - survey uncertainty - siltation - what the level may lack
    net      gross - squat
    margin   net - required

Squat never grows with depth, and methods leave the comparison on the deep side only (docs/conventions.md), so the
margin rises with the level: every station has one level above which she may pass. That turns the search for windows
into a comparison of levels.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.floating import Floating
from leadsman.assessment.passage import Passage
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.physics import squat
from leadsman.physics.channel import KINDS, Section
from leadsman.waterway import ChannelKind

HIGHEST_LEVEL = 30.0  # m above chart datum; no tide on earth comes near it
_KIND = {ChannelKind.OPEN: "unrestricted", ChannelKind.TRENCH: "trench", ChannelKind.CANAL: "canal"}


@dataclass(frozen=True, kw_only=True, eq=False)
class Squats:
    """Squat at stations for one water level each."""

    governing: Array
    """[m]"""
    method: NDArray[np.intp]
    """Row of `squat.NAMES`."""
    every: Array
    """All methods, shape (methods, stations); not a number where a method is not meant for the channel. [m]"""
    comparable: NDArray[np.bool_]
    outside: NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True, eq=False)
class Underkeel:
    """What under-keel clearance needs to know of one passage; water levels come in as arrays, one a station."""

    passage: Passage
    floating: Floating

    @cached_property
    def chosen(self) -> NDArray[np.bool_]:
        """Which rows of `squat.NAMES` the call lets compare."""
        wanted = self.passage.call.squat_methods
        unknown = [name for name in wanted if name not in squat.NAMES]
        if unknown:
            import difflib

            close = difflib.get_close_matches(unknown[0], squat.NAMES, n=1)
            hint = f"did you mean '{close[0]}'?" if close else f"expected one of {', '.join(squat.NAMES)}"
            raise CannotCompute(f"squat method '{unknown[0]}' is not known; {hint}")
        return np.array([not wanted or name in wanted for name in squat.NAMES])

    @cached_property
    def fitting(self) -> NDArray[np.bool_]:
        """Which rows of `squat.NAMES` were published for a hull of her proportions.

        Unlike depth and speed, proportions do not change along the way: a formula made for very large tankers says
        nothing of a ferry at any depth. Methods that state no proportions fit every hull, so some always do.
        """
        hull = self.floating.hull
        proportions = {
            "block_coefficient": hull.block_coefficient,
            "length_to_beam": hull.length_between_perpendiculars / hull.beam,
            "beam_to_draught": hull.beam / hull.draught,
            "length_to_draught": hull.length_between_perpendiculars / hull.draught,
        }
        return np.array([not squat.METHODS[name].outside(**proportions) for name in squat.NAMES])

    @cached_property
    def level_shortfall(self) -> float:
        """What the level may lack of the best forecast: best residual less its low bound. [m]"""
        forecast = self.passage.call.forecast
        return forecast.residual - forecast.residual_low

    @cached_property
    def required(self) -> float:
        """Least net clearance: the greater of metres and share of draught. [m]"""
        return self.passage.call.margins.underkeel_required(self.floating.draught)

    def squats(self, level: Array, stations: NDArray[np.intp] | slice = slice(None)) -> Squats:
        """Squat for a water level above chart datum at these stations."""
        compared = squat.compare(self.passage.speed[stations], self.floating.hull, self._section(level, stations))
        fitting = compared.comparable & self.fitting[:, np.newaxis]
        comparable = np.where(np.any(fitting, axis=0), fitting, compared.comparable)
        if self.passage.call.squat_methods:
            # A chosen method stays beyond its deep limit too, marked; where none is meant for the channel, all do.
            meant = ~np.isnan(compared.greatest) & self.chosen[:, np.newaxis]
            comparable = np.where(np.any(meant, axis=0), meant, comparable)
        found = squat.largest(compared.greatest, comparable)
        return Squats(
            governing=found.value,
            method=found.method,
            every=compared.greatest,
            comparable=comparable,
            outside=compared.outside,
        )

    def static(self, level: Array, stations: NDArray[np.intp] | slice = slice(None)) -> Array:
        """Depth and level less draught. [m]"""
        return self.passage.depth[stations] + level - self.floating.draught

    def gross(self, level: Array, stations: NDArray[np.intp] | slice = slice(None)) -> Array:
        """Static clearance less what bed and level may lack. [m]"""
        lacking = self.passage.survey_uncertainty + self.passage.siltation
        return self.static(level, stations) - lacking[stations] - self.level_shortfall

    def net(self, level: Array, stations: NDArray[np.intp] | slice = slice(None)) -> Array:
        """Gross clearance less squat. [m]"""
        return self.gross(level, stations) - self.squats(level, stations).governing

    @cached_property
    def needed_levels(self) -> Array:
        """The water level at and above which the net clearance is enough, station by station. [m]"""
        from scipy.optimize import elementwise

        count = len(self.passage.distance)
        stations = np.arange(count)
        aground = self.floating.draught - self.passage.depth  # the level at which she would just float

        def margin(level: Array, index: Array) -> Array:
            left = self.net(level, index.astype(np.intp)) - self.required
            return np.where(np.isfinite(left), left, -1e6)

        found = elementwise.find_root(
            margin, (aground, np.full(count, HIGHEST_LEVEL)), args=(stations.astype(np.float64),), maxiter=200
        )
        hopeless = margin(np.full(count, HIGHEST_LEVEL), stations.astype(np.float64)) < 0.0
        return np.where(hopeless, HIGHEST_LEVEL, np.maximum(found.bracket[0], found.bracket[1]))

    def _section(self, level: Array, stations: NDArray[np.intp] | slice) -> Section:
        cross = self._cross_sections
        return Section(
            kind=cross[0][stations],
            water_depth=np.maximum(self.passage.depth[stations] + level, 0.01),
            bottom_width=cross[1][stations],
            slope=cross[2][stations],
            trench_height=cross[3][stations],
        )

    @cached_property
    def _cross_sections(self) -> tuple[Array, Array, Array, Array]:
        reaches = self.passage.reaches
        index = self.passage.reach

        def along(values: list[float | None]) -> Array:
            return np.array([np.nan if value is None else value for value in values], dtype=np.float64)[index]

        return (
            np.array([float(KINDS[_KIND[reach.channel]]) for reach in reaches])[index],
            along([reach.bottom_width for reach in reaches]),
            along([reach.side_slope for reach in reaches]),
            along([reach.trench_height for reach in reaches]),
        )
