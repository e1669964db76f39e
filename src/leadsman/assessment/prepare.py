"""All of a call that does not depend on the start: stations, hull, water, needed levels, and the windows themselves."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

import numpy as np

from leadsman.assessment import sailing, windows
from leadsman.assessment.floating import Floating, floating
from leadsman.assessment.overhead import Overhead, ceilings, overheads
from leadsman.assessment.own_figures import with_own_figures
from leadsman.assessment.passage import Passage, passage
from leadsman.assessment.rules.rulebook import Rulebook, rulebook
from leadsman.assessment.sailing import Stations
from leadsman.assessment.underkeel import Underkeel
from leadsman.assessment.water import LONGEST_PASSAGE, Water, water
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.portcall import PortCall
from leadsman.ship import Loading, Ship

STRETCH_STEP = 1800.0  # s between the starts at which the stretch is taken; streams turn in hours
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
        her way, passings lie farther apart than starts. That stretch is taken from starts all over the search, and
        half as much again is allowed for what lies between them.
        """
        return float(self.water.level.greatest_rate * self.stretch)

    @cached_property
    def stretch(self) -> float:
        """How much farther apart than their starts she passes any place, at most, with half as much again. [s/s]"""
        begin, end = self.water.elapsed(self.call.search_begin), self.water.elapsed(self.call.search_end)
        starts = np.linspace(begin, end, max(2, int((end - begin) / STRETCH_STEP) + 2))
        return 1.5 * float(sailing.greatest_stretch(self.stations, self.water.stream.grid, starts))

    @cached_property
    def rules(self) -> Rulebook:
        """The rules of the port for this ship, ready for any start."""
        return rulebook(self.passage, self.water, self.stations, self.stretch)

    @cached_property
    def search(self) -> windows.Search:
        """All windows of the search: where the water and the rules both let her."""
        begin, end = self.water.elapsed(self.call.search_begin), self.water.elapsed(self.call.search_end)
        return self.rules.narrowed(windows.solve(self.margins, begin, end, self.steepness), begin, end)


def prepare(call: PortCall) -> Prepared:
    """Everything but the start; `CannotCompute` where something needed is missing."""
    stations = passage(call)
    hull = floating(call)
    found = Prepared(
        call=call,
        passage=stations,
        floating=hull,
        underkeel=Underkeel(passage=stations, floating=hull),
        overheads=overheads(stations, hull),
        water=water(stations),
    )
    longest = float(np.sum(np.diff(stations.distance) / stations.speed[:-1]))
    if longest > 0.5 * LONGEST_PASSAGE.total_seconds():
        raise CannotCompute(
            f"the passage takes {longest / 3600.0:.0f} h in still water; expected less than "
            f"{LONGEST_PASSAGE.total_seconds() / 7200.0:.0f} h"
        )
    return found
