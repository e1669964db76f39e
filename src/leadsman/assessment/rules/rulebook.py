"""All rules of a call together, for any start: what is left of each, which binds, and the windows they leave.

Margins of different kinds are brought to one measure: divided by the fastest they can change with the start, they say
for how many seconds at least nothing can change. The least of them decides, and since it changes by no more than a
second in a second, the solver of windows finds its edges as it does those of the water.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.judged import limits
from leadsman.assessment.rules.limit import Limit, Told, Unjudged
from leadsman.assessment.rules.march import Passing, march
from leadsman.assessment.sailing import Stations
from leadsman.assessment.water import Water
from leadsman.assessment.windows import Search, Span, solve
from leadsman.geometry import Array


@dataclass(frozen=True, kw_only=True, eq=False)
class Rulebook:
    """The limits of a call, as she sails these stations in this water."""

    limits: tuple[Limit, ...]
    unjudged: tuple[Unjudged, ...]
    stations: Stations
    water: Water
    stretch: float
    """How much farther apart than their starts she passes any place, at most. [s/s]"""

    def sailed(self, stations: Stations) -> "Rulebook":
        """The same rules for another plan of speeds."""
        return replace(self, stations=stations)

    def margins(self, starts: Array) -> Array:
        """Margin of each limit in its own unit, shape (limits, starts); never met: minus infinity."""
        found = [limit.margins(passing) for limit, passing in zip(self.limits, self.passings(starts), strict=True)]
        rows = np.array(found, dtype=np.float64).reshape(len(self.limits), len(starts))
        return np.where(np.isnan(rows), -np.inf, rows)

    def measured(self, starts: Array) -> Array:
        """Margins as the seconds of start for which nothing can change, shape (limits, starts). [s]"""
        rates = np.array([limit.rate * self.stretch for limit in self.limits])[:, np.newaxis]
        margins = self.margins(starts)
        never_changes = np.where(margins >= 0.0, np.inf, -np.inf)
        return np.where(rates > 0.0, margins / np.where(rates > 0.0, rates, 1.0), never_changes)

    def passings(self, starts: Array) -> tuple[Passing, ...]:
        """How she passes the stretch of each limit."""
        return march(self.stations, self.water.stream.grid, tuple(limit.stretch for limit in self.limits), starts)

    def broken(self, starts: Array) -> NDArray[np.intp]:
        """For each start the limit it breaks most, as its index; -1 where every rule is kept."""
        if not self.limits:
            return np.full(len(starts), -1)
        measured = self.measured(starts)
        worst = np.argmin(measured, axis=0)
        return np.where(np.min(measured, axis=0) < 0.0, worst, -1)

    def told(self, start: float) -> tuple[Told, ...]:
        """What is to be said of each limit for one start."""
        passings = self.passings(np.array([start]))
        return tuple(limit.told(passing) for limit, passing in zip(self.limits, passings, strict=True))

    def open(self, begin: float, end: float) -> tuple[Span, ...]:
        """Spans of starts for which every rule is kept, edges as exact as those of the water."""

        fixed = [limit for limit in self.limits if limit.rate == 0.0]
        changing = replace(self, limits=tuple(limit for limit in self.limits if limit.rate > 0.0))
        if np.any(replace(self, limits=tuple(fixed)).broken(np.array([begin])) >= 0):
            return ()
        if not changing.limits:
            return (Span(opens=begin, closes=end, opens_at_edge=False, closes_at_edge=False),)

        def evaluate(starts: Array) -> Array:
            rows = np.full((len(starts), 3), np.inf)
            rows[:, 0] = np.min(changing.measured(starts), axis=0)
            return rows

        return solve(evaluate, begin, end, 1.0).spans

    def narrowed(self, search: Search, begin: float, end: float) -> Search:
        """The search with only what of its spans the rules leave."""
        if not self.limits or not search.spans:
            return search
        kept = tuple(_common(search.spans, self.open(begin, end)))
        return Search(spans=kept, sampled=search.sampled, margins=search.margins, evaluations=search.evaluations)


def rulebook(passage: Passage, water: Water, stations: Stations, stretch: float) -> Rulebook:
    """The rules of the waterway and the call, for this ship sailing these stations."""
    found, unjudged = limits(passage, water)
    return Rulebook(limits=found, unjudged=unjudged, stations=stations, water=water, stretch=stretch)


def _common(one: tuple[Span, ...], other: tuple[Span, ...]) -> list[Span]:
    """What two sets of spans in order share, in order."""
    shared = []
    i = j = 0
    while i < len(one) and j < len(other):
        opening = max(one[i], other[j], key=lambda span: span.opens)
        closing = min(one[i], other[j], key=lambda span: span.closes)
        if opening.opens < closing.closes:
            shared.append(
                Span(
                    opens=opening.opens,
                    closes=closing.closes,
                    opens_at_edge=opening.opens_at_edge,
                    closes_at_edge=closing.closes_at_edge,
                )
            )
        if one[i].closes <= other[j].closes:
            i += 1
        else:
            j += 1
    return shared
