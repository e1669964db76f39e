"""The under-keel account at every station and part of her, from the chart to what is left, and the level each needs.

    static           depth + water level - draught, each under the part and of the part
    gross            static - survey uncertainty - siltation - what the level may lack
    manoeuvrability  gross - squat - heel - what the reading of draughts may lack: what is left in calm water
    net              manoeuvrability - waves
    margin           net - required

What a port's margin already holds (`Margins.includes`) is not taken off a second time. Squat never grows with depth,
methods leave the comparison on the deep side only (docs/conventions.md), and nothing else taken off depends on the
level; so the margin rises with it, and every station has one level above which she may pass. That turns the search for
windows into a comparison of levels.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.floating import DRAUGHT_DEVIATION, Floating
from leadsman.assessment.heeling import Heel, Stability
from leadsman.assessment.parts import BILGE_REACH, BOW, PARTS, STERN, Depth
from leadsman.assessment.passage import Passage
from leadsman.assessment.seaway import Seaway
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.physics import squat, uncertainty
from leadsman.physics.channel import KINDS, Section
from leadsman.physics.survey import TWO_SIDED_95
from leadsman.units import SEA_WATER_DENSITY
from leadsman.waterway import ChannelKind

HIGHEST_LEVEL = 30.0  # m above chart datum; no tide on earth comes near it
_KIND = {ChannelKind.OPEN: "unrestricted", ChannelKind.TRENCH: "trench", ChannelKind.CANAL: "canal"}
Index = NDArray[np.intp]


@dataclass(frozen=True, kw_only=True, eq=False)
class Squats:
    """Squat of one part at each of some stations, for one water level each."""

    governing: Array
    """[m]"""
    method: Index
    """Row of `squat.NAMES`."""
    every: Array
    """All methods, shape (methods, stations); not a number where a method is not meant for the channel. [m]"""
    comparable: NDArray[np.bool_]
    outside: NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True, eq=False)
class Least:
    """The part that has least left at each of some stations, for one water level each."""

    part: Index
    """Row of `parts.PARTS`."""
    squats: Squats
    """Of that part."""
    net: Array
    """[m]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class Underkeel:
    """What under-keel clearance needs to know of one passage. Arrays of parts have the shape (parts, stations)."""

    passage: Passage
    floating: Floating
    depth: Depth
    stability: Stability
    heel: Heel
    seaway: Seaway

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

    @cached_property
    def draught(self) -> Array:
        """Of each part in the water of the passage; the bilges at the deeper end of theirs, sag in it. [m]"""
        loading, sinkage = self.passage.call.loading, self.floating.density_sinkage
        lean = BILGE_REACH * abs(loading.trim)
        bilge = max(loading.mean_draught + lean, self.stability.draught_midships)
        by_part = {BOW: loading.draught_forward, STERN: loading.draught_aft}
        return np.array([by_part.get(row, bilge) + sinkage for row in range(len(PARTS))])

    @cached_property
    def reading_deviation(self) -> float:
        """One standard deviation of the draught: its reading, and the density the water may have. [m]"""
        by_density = self.floating.draught * uncertainty.default("density").value / SEA_WATER_DENSITY
        return float(np.hypot(DRAUGHT_DEVIATION, by_density))

    def allowance(self, key: str) -> Array:
        """What is taken off under a key of `ALLOWANCES` that does not depend on the level, 0 if the margin holds it."""
        return np.zeros_like(self.depth.depth) if self.held_by_margin(key) else self._allowances[key]

    @cached_property
    def _allowances(self) -> dict[str, Array]:
        every = np.ones_like(self.depth.depth)
        return {
            "survey": self.depth.survey,
            "siltation": self.depth.siltation,
            "level": self.level_shortfall * every,
            "heel": self.heel.sinkage,
            "draught_reading": TWO_SIDED_95 * self.reading_deviation * every,
            "waves": self.seaway.allowance,
        }

    def held_by_margin(self, key: str) -> bool:
        """Whether the clearance required is meant to hold this allowance."""
        return key in self.passage.call.margins.includes

    @cached_property
    def taken(self) -> Array:
        """Draught and all allowances that do not depend on the level. [m]"""
        return np.asarray(self.draught[:, None] + sum(self.allowance(key) for key in self._allowances))

    def squats(self, level: Array, part: Index, stations: Index) -> Squats:
        """Squat of parts at stations for a water level above chart datum; all of one shape."""
        return self._squats(self.depth.depth[part, stations] + level, part, stations)

    def net(self, level: Array, stations: Index | None = None) -> Array:
        """Net clearance of every part at these stations, all by default. Shape (parts, stations). [m]"""
        here = np.arange(len(self.passage.distance)) if stations is None else stations
        part, station = (one.ravel() for one in np.meshgrid(np.arange(len(PARTS)), here, indexing="ij"))
        water_depth = self.depth.depth[part, station] + np.tile(level, len(PARTS))
        left = water_depth - self._off(water_depth, part, station) - self.taken[part, station]
        return np.asarray(left.reshape(len(PARTS), len(here)))

    def least(self, level: Array, stations: Index | None = None) -> Least:
        """The part with least left at each station."""
        here = np.arange(len(self.passage.distance)) if stations is None else stations
        net = self.net(level, here)
        part = np.argmin(net, axis=0)
        return Least(part=part, squats=self.squats(level, part, here), net=net[part, np.arange(len(here))])

    @cached_property
    def needed_levels(self) -> Array:
        """The water level at and above which every part has enough, station by station. [m]

        What she needs is a water depth, and it depends only on the reach, the part and what is taken off: each
        combination is solved once.
        """
        from scipy.optimize import elementwise

        part, station = np.indices(self.depth.depth.shape).reshape(2, -1)
        rows = np.column_stack([self.passage.reach[station], part, (self.taken + self.required).ravel()])
        _, first, back = np.unique(rows, axis=0, return_index=True, return_inverse=True)
        wanted = rows[first, 2]

        def spare(water_depth: Array, index: Array) -> Array:
            row = first[index.astype(np.intp)]
            left = water_depth - self._off(water_depth, part[row], station[row]) - rows[row, 2]
            return np.where(np.isfinite(left), left, -1e6)

        most = np.full(len(first), HIGHEST_LEVEL + float(np.max(self.depth.depth)))
        index = np.arange(len(first), dtype=np.float64)
        found = elementwise.find_root(spare, (np.minimum(wanted, most - 1.0), most), args=(index,), maxiter=200)
        hopeless = spare(most, index) < 0.0
        depth = np.where(hopeless, np.inf, np.maximum(found.bracket[0], found.bracket[1]))
        levels = depth[back].reshape(self.depth.depth.shape) - self.depth.depth
        return np.asarray(np.minimum(np.max(levels, axis=0), HIGHEST_LEVEL))

    def _off(self, water_depth: Array, part: Index, stations: Index) -> Array:
        """Squat taken off, 0 if the margin holds it. [m]"""
        if self.held_by_margin("squat"):
            return np.zeros_like(water_depth)
        return self._squats(water_depth, part, stations).governing

    def _squats(self, water_depth: Array, part: Index, stations: Index) -> Squats:
        section = self._section(water_depth, stations)
        compared = squat.compare(self.passage.speed[stations], self.floating.hull, section)
        every = _of_part(compared.bow, compared.stern, part)
        fitting = compared.comparable & self.fitting[:, np.newaxis]
        comparable = np.where(np.any(fitting, axis=0), fitting, compared.comparable)
        if self.passage.call.squat_methods:
            # A chosen method stays beyond its deep limit too, marked; where none is meant for the channel, all do.
            meant = ~np.isnan(every) & self.chosen[:, np.newaxis]
            comparable = np.where(np.any(meant, axis=0), meant, comparable)
        found = squat.largest(every, comparable)
        return Squats(
            governing=found.value,
            method=found.method,
            every=every,
            comparable=comparable,
            outside=compared.outside,
        )

    def section(self, water_depth: Array) -> Section:
        """The cross-section of the water at every station, so deep there. [m]"""
        return self._section(water_depth, np.arange(len(water_depth)))

    def _section(self, water_depth: Array, stations: Index) -> Section:
        cross = self._cross_sections
        return Section(
            kind=cross[0][stations],
            water_depth=np.maximum(water_depth, 0.01),
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


def _of_part(bow: Array, stern: Array, part: Index) -> Array:
    """Squat of the part from those of the ends, a straight line between them; of a bilge, at its deeper end. [m]"""
    near, far = 0.5 + BILGE_REACH, 0.5 - BILGE_REACH
    # An end without bound leaves no finite mean: then the bilge goes with it.
    bilge = np.where(
        np.isinf(bow) | np.isinf(stern), np.inf, np.maximum(near * bow + far * stern, far * bow + near * stern)
    )
    return np.where(part == BOW, bow, np.where(part == STERN, stern, bilge))
