"""What the stream of the time searched can do to her, station by station: bounds that hold for every start.

The stream at a place is a weighted mean of two stations' (environment/stream.py), and each station's vectors lie within
their convex hull; so the extremes of any component at a place are bounded by those of the hulls' corners, however long
the time searched. What depends on the stream only by its bounds is the same for every start, and the search for windows
stays one of levels.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.passage import Passage
from leadsman.assessment.sailing import LEAST_SPEED_OVER_GROUND
from leadsman.environment.stream import Stream
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array

GREATEST_CRAB = np.radians(60.0)  # a stream across as strong as the ship holds no track; such a passage is told of
MOST_STRETCH = 60.0  # more is a passage that waits for the stream to turn
LEAST_HELD = 0.2  # share of her speed left along the track by the crab, at the least that a bound is made for


@dataclass(frozen=True, kw_only=True, eq=False)
class Drift:
    """Bounds of the stream at the stations of a passage over the whole time searched."""

    speed: Array
    """Through the water. [m/s]"""
    spacing: Array
    """To the next station; nought at the last. [m]"""
    along_least: Array
    along_most: Array
    across_least: Array
    """To starboard positive. [m/s]"""
    across_most: Array
    change: Array
    """How fast the stream changes, as a vector, at most. [m/s²]"""

    @cached_property
    def crab_least(self) -> Array:
        """Least angle laid off, to starboard positive, against the stream across. [rad]"""
        return _crab(-self.across_most / self.speed)

    @cached_property
    def crab_most(self) -> Array:
        """[rad]"""
        return _crab(-self.across_least / self.speed)

    @cached_property
    def _held(self) -> Array:
        """Along the track through the water, the crab at its greatest. [m/s]"""
        across = np.maximum(np.abs(self.across_least), np.abs(self.across_most))
        return np.asarray(np.maximum(np.sqrt(np.maximum(self.speed**2 - across**2, 0.0)), LEAST_HELD * self.speed))

    @cached_property
    def slowest(self) -> Array:
        """Least speed over the ground. [m/s]"""
        return np.maximum(self._held + self.along_least, LEAST_SPEED_OVER_GROUND)

    @cached_property
    def fastest(self) -> Array:
        """Greatest speed over the ground. [m/s]"""
        return np.maximum(self.speed + self.along_most, LEAST_SPEED_OVER_GROUND)

    @cached_property
    def stretch(self) -> float:
        """A bound on how much farther apart than their starts two passings of a station can lie. [-]

        Between stations the time taken, spacing / speed over the ground, changes with the moment she is there by no
        more than spacing x change of that speed / its least square; and the speed over the ground changes no faster
        than the stream's vector divided by the cosine of the crab. The factors multiply along the track. Derived. Where
        the stream can all but stop her there is no bound worth having: one start gets through and the next waits for
        the turn. The stretch is then held at `MOST_STRETCH`, and a finding says what may be missed.
        """
        return min(self._stretch, MOST_STRETCH)

    @cached_property
    def _stretch(self) -> float:
        factor = 1.0 + self.spacing * self.change * self.speed / self._held / self.slowest**2
        return float(np.exp(np.minimum(np.sum(np.log(factor)), 100.0)))

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What a person must know of windows where the stream can all but stop her."""
        if self._stretch <= MOST_STRETCH:
            return ()
        return (
            Finding(
                grade=Grade.NOTE,
                subject="stream",
                sentence="Somewhere in the time searched the stream can all but stop her on her way: there a window or "
                "a gap shorter than ten minutes may go untold.",
            ),
        )


def drift(passage: Passage, stream: Stream) -> Drift:
    """The bounds for a passage and the stream of its search."""
    hulls = [corners.T for corners in stream.corners]
    cos, sin = np.cos(passage.course), np.sin(passage.course)
    along = [np.multiply.outer(north, cos) + np.multiply.outer(east, sin) for north, east in hulls]
    across = [np.multiply.outer(east, cos) - np.multiply.outer(north, sin) for north, east in hulls]

    def between(values: list[Array]) -> Array:
        """Each stream station's bound, weighted as the stream itself is."""
        return _between(passage.distance, stream.grid.distance, np.array(values))

    return Drift(
        speed=passage.speed,
        spacing=np.append(np.diff(passage.distance), 0.0),
        along_least=between([np.min(one, axis=0) for one in along]),
        along_most=between([np.max(one, axis=0) for one in along]),
        across_least=between([np.min(one, axis=0) for one in across]),
        across_most=between([np.max(one, axis=0) for one in across]),
        change=between([np.full(len(passage.distance), change) for change in stream.changes]),
    )


def _between(distance: Array, stations: Array, values: Array) -> Array:
    """Values of shape (stations, places), linear between stations along the track, constant beyond the ends."""
    if len(stations) == 1:
        return np.asarray(values[0])
    here = np.clip(np.searchsorted(stations, distance, side="right") - 1, 0, len(stations) - 2)
    weight = np.clip((distance - stations[here]) / (stations[here + 1] - stations[here]), 0.0, 1.0)
    column = np.arange(len(distance))
    return np.asarray((1.0 - weight) * values[here, column] + weight * values[here + 1, column])


def _crab(sine: Array | NDArray[np.float64]) -> Array:
    return np.asarray(np.arcsin(np.clip(sine, -np.sin(GREATEST_CRAB), np.sin(GREATEST_CRAB))))
