"""All of a call that does not depend on the start: stations, hull, water, needed levels, and the windows themselves."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

import numpy as np

from leadsman.assessment import parts, sailing, windows
from leadsman.assessment.drift import Drift, drift
from leadsman.assessment.floating import Floating, floating
from leadsman.assessment.heeling import Stability, heeling, stability
from leadsman.assessment.overhead import Overhead, ceilings, overheads
from leadsman.assessment.own_figures import with_own_figures
from leadsman.assessment.passage import Passage, passage
from leadsman.assessment.rules.rulebook import Rulebook, rulebook
from leadsman.assessment.sailing import Stations
from leadsman.assessment.seaway import seaway
from leadsman.assessment.touching import Chances, narrowed
from leadsman.assessment.underkeel import Underkeel
from leadsman.assessment.water import LONGEST_PASSAGE, Water, water
from leadsman.environment.level import level_at
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.portcall import PortCall
from leadsman.ship import Loading, Ship

UNDERKEEL, UNDERKEEL_AT, OVERHEAD, OVERHEAD_AT = range(4)
"""Columns of `margins`."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Prepared:
    """Ready to answer for any start within the search."""

    call: PortCall
    passage: Passage
    floating: Floating
    underkeel: Underkeel
    overheads: tuple[Overhead, ...]
    water: Water
    drift: Drift

    @cached_property
    def aboard(self) -> tuple[Ship, Loading]:
        """Ship and loading as computations take them: the handler's own figures before those of the card."""
        return with_own_figures(self.call.ship, self.call.loading)

    @cached_property
    def stations(self) -> Stations:
        """What the kernels take."""
        return Stations(
            distance=self.passage.distance,
            course=self.passage.course,
            speed=self.passage.speed,
            need=self.underkeel.needed_levels,
            ceiling=ceilings(self.passage, self.overheads),
        )

    @cached_property
    def _weighed(self) -> Any:
        return sailing.weighed_stations(self.stations, self.water.level.grid)

    def margins(self, starts: Array) -> Array:
        """Least margins for starts in seconds of the water's clock; columns as named above. [m of water level]"""
        found: Array = sailing.least_margins(
            self.stations,
            self._weighed,
            self.water.level.grid,
            self.water.stream.grid,
            np.ascontiguousarray(starts, dtype=np.float64),
        )
        return found

    def passed(self, start: datetime) -> Array:
        """When she passes each station. [s of the water's clock]"""
        times: Array = sailing.passing_times(self.stations, self.water.stream.grid, self.water.elapsed(start))
        return times

    @cached_property
    def steepness(self) -> float:
        """A bound on how fast the level margin of a start can change with the start. [m/s]

        The level at a station changes no faster than its greatest rate; and where the stream changes while she is on
        her way, passings lie farther apart than starts, by no more than the stretch.
        """
        return float(self.water.level.greatest_rate * self.drift.stretch)

    @cached_property
    def rules(self) -> Rulebook:
        """The rules of the port for this ship, ready for any start."""
        return rulebook(self.passage, self.water, self.stations, self.drift.stretch)

    @cached_property
    def chances(self) -> Chances:
        """The chance of touching, ready for any start."""
        deviation = self.water.level.deviation(self.passage.distance) * np.ones_like(self.passage.distance)
        return Chances(underkeel=self.underkeel, level_deviation=deviation)

    def levels(self, start: float) -> Array:
        """Water level at each station as she passes it, for a start in seconds of the water's clock. [m]"""
        times = sailing.passing_times(self.stations, self.water.stream.grid, start)
        found: Array = level_at(self.water.level.grid, self.passage.distance, times)
        return found

    @cached_property
    def search(self) -> windows.Search:
        """All windows of the search: where water, rules and the chance of touching all let her."""
        begin, end = self.water.elapsed(self.call.search_begin), self.water.elapsed(self.call.search_end)
        found = self.rules.narrowed(windows.solve(self.margins, begin, end, self.steepness), begin, end)
        limit = self.call.margins.touching
        return found if limit is None else narrowed(self.chances, found, self.levels, self.steepness, limit)


def prepare(call: PortCall) -> Prepared:
    """Everything but the start; `CannotCompute` where something needed is missing."""
    stations = passage(call)
    hull = floating(call)
    hanging = overheads(stations, hull)
    around = water(stations)
    bounds = drift(stations, around.stream)
    found = Prepared(
        call=call,
        passage=stations,
        floating=hull,
        underkeel=underkeel(stations, hull, bounds, stability(call)),
        overheads=hanging,
        water=around,
        drift=bounds,
    )
    longest = float(np.sum(np.diff(stations.distance) / stations.speed[:-1]))
    if longest > 0.5 * LONGEST_PASSAGE.total_seconds():
        raise CannotCompute(
            f"the passage takes {longest / 3600.0:.0f} h in still water; expected less than "
            f"{LONGEST_PASSAGE.total_seconds() / 7200.0:.0f} h"
        )
    return found


def underkeel(
    stations: Passage, hull: Floating, bounds: Drift, known: Stability, before: parts.Depth | None = None
) -> Underkeel:
    """The under-keel account of a passage, a hull and what stream, wind and waves do to it.

    `before`: the depths of the same stations under other speeds or draughts, to spare work.
    """
    return Underkeel(
        passage=stations,
        floating=hull,
        depth=parts.depths(stations, bounds, before),
        stability=known,
        heel=heeling(stations, bounds, known),
        seaway=seaway(stations, bounds, hull.hull, known),
    )
