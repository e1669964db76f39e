"""Windows of start times, found by solving: intervals are cut until each is proved open or shut, or under a second.

The level margin of a start changes by no more than `steepness` metres in a second. Where its size at both ends of an
interval exceeds what it could change in between, no crossing hides there; every other interval is halved. So no window
and no gap longer than the resolution is missed, and only the neighbourhood of crossings is looked at closely.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leadsman.geometry import Array

RESOLUTION = 0.5  # s: windows and gaps shorter than this are not told
EDGE = 0.01  # s: how exactly an edge is solved for
FIRST_STEP = 600.0  # s between the first samples; only the cost depends on it


@dataclass(frozen=True, kw_only=True, eq=False)
class Span:
    """An interval of starts for which every limit holds; seconds from the same zero as the search."""

    opens: float
    closes: float
    opens_at_edge: bool
    """False where the search itself began inside the window."""
    closes_at_edge: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Search:
    """What the solver found, and the samples it took first (evenly spaced), for drawing."""

    spans: tuple[Span, ...]
    sampled: Array
    margins: Array
    """Whatever the evaluation returned for the samples, one row each."""
    evaluations: int


def solve(evaluate: Callable[[Array], Array], begin: float, end: float, steepness: float) -> Search:
    """All spans in [begin, end] where the margin is at least zero.

    `evaluate(starts)` gives rows whose first and third entries are margins; the least of them counts. `steepness`
    bounds its rate of change. [m/s]
    """
    sampled = np.linspace(begin, end, max(2, int(np.ceil((end - begin) / FIRST_STEP)) + 1))
    rows = evaluate(sampled)
    evaluations = len(sampled)
    times, margins = sampled, _least(rows)
    while True:
        doubtful = _doubtful(times, margins, steepness)
        if not np.any(doubtful):
            break
        middles = 0.5 * (times[:-1] + times[1:])[doubtful]
        found = _least(evaluate(middles))
        evaluations += len(middles)
        order = np.argsort(np.concatenate([times, middles]), kind="stable")
        times = np.concatenate([times, middles])[order]
        margins = np.concatenate([margins, found])[order]
    edges, opening, more = _edges(evaluate, times, margins)
    spans = _spans(edges, opening, times, margins)
    return Search(spans=spans, sampled=sampled, margins=rows, evaluations=evaluations + more)


def _least(rows: Array) -> Array:
    return np.minimum(rows[:, 0], rows[:, 2])


def _doubtful(times: Array, margins: Array, steepness: float) -> NDArray[np.bool_]:
    """Intervals wide enough to matter in which a crossing hides for sure, or could.

    With different signs at the ends a crossing is certain, and others could hide beside it. With equal signs a pair can
    hide only if the sizes at the ends add to no more than the steepness allows over the width.
    """
    width = np.diff(times)
    same = (margins[:-1] >= 0.0) == (margins[1:] >= 0.0)
    could = np.abs(margins[:-1]) + np.abs(margins[1:]) <= steepness * width
    doubtful: NDArray[np.bool_] = (~same | could) & (width > RESOLUTION)
    return doubtful


def _edges(evaluate: Callable[[Array], Array], times: Array, margins: Array) -> tuple[Array, NDArray[np.bool_], int]:
    """Where the margin crosses zero, by bisection of all crossings at once; and whether it opens there."""
    crossing = np.flatnonzero((margins[:-1] >= 0.0) != (margins[1:] >= 0.0))
    low, high = times[crossing], times[crossing + 1]
    opening = margins[crossing + 1] >= 0.0
    evaluations = 0
    while len(low) and float(np.max(high - low)) > EDGE:
        middle = 0.5 * (low + high)
        open_there = _least(evaluate(middle)) >= 0.0
        evaluations += len(middle)
        before = open_there != opening  # the state before the edge is the opposite of that after it
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    inside = np.where(opening, high, low)  # the side of the edge that is proved open
    return inside, opening, evaluations


def _spans(edges: Array, opening: NDArray[np.bool_], times: Array, margins: Array) -> tuple[Span, ...]:
    spans = []
    begun: float | None = float(times[0]) if margins[0] >= 0.0 else None
    at_edge = False
    for edge, opens in zip(edges, opening, strict=True):
        if opens:
            begun, at_edge = float(edge), True
        elif begun is not None:
            spans.append(Span(opens=begun, closes=float(edge), opens_at_edge=at_edge, closes_at_edge=True))
            begun = None
    if begun is not None:
        spans.append(Span(opens=begun, closes=float(times[-1]), opens_at_edge=at_edge, closes_at_edge=False))
    return tuple(spans)
