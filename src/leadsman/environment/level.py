"""The water level along the track: what the tide stations say, and the residual, at any place and time asked.

Prediction is done once, on a regular grid of six minutes; between samples a cubic through level and rate holds the
harmonic sum to a micrometre, between stations a straight line along the track, beyond the end stations theirs.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import Real, formula
from leadsman.environment.prediction import Others, predicted, spoken, turning_points
from leadsman.errors import CannotCompute
from leadsman.physics import tide, uncertainty
from leadsman.physics.interpolation import (
    cubic,
    cubic_rate,
    greatest_cubic_rate,
    linear,
    monotone_rates,
    sample_bracket,
    station_bracket,
)
from leadsman.station import TideStation

__all__ = ["LevelGrid", "WaterLevel", "level_at", "rate_at", "turning_points", "water_level"]

Array = NDArray[np.float64]
Moments = Sequence[tuple[float, float]]
"""(seconds from 1970 UTC, metres), in order of time."""

HARMONIC_DEVIATION = uncertainty.default("astronomical_prediction").value  # m, one standard deviation
TABLE_DEVIATION = math.hypot(HARMONIC_DEVIATION, 0.075)  # m: with the half cosine at the worst port of sheet 1.4


class LevelGrid(NamedTuple):
    """Water level at stations and regular times; a kernel takes it as it is."""

    distance: Any  # of the stations along the track, rising [m]
    step: float  # between samples [s]
    level: Any  # above chart datum, one row per station, one column per sample [m]
    rate: Any  # of rise, the same shape [m/s]


@formula
def level_at(grid: LevelGrid, distance: Real, elapsed: Real) -> Real:
    """Water level above chart datum at a place of the track [m] and a time since the grid's start [s]. [m]

    Takes numbers or arrays, and compiles. Not a number outside the grid's time.
    """
    here, there, weight = station_bracket(grid.distance, distance)
    i, fraction = sample_bracket(grid.level.shape[1], grid.step, elapsed)
    level, rate, step = grid.level, grid.rate, grid.step
    return linear(
        cubic(level[here, i], rate[here, i], level[here, i + 1], rate[here, i + 1], fraction, step),
        cubic(level[there, i], rate[there, i], level[there, i + 1], rate[there, i + 1], fraction, step),
        weight,
    )


@formula
def rate_at(grid: LevelGrid, distance: Real, elapsed: Real) -> Real:
    """Rate of rise at a fixed place of the track, the derivative in time of `level_at`. [m/s]"""
    here, there, weight = station_bracket(grid.distance, distance)
    i, fraction = sample_bracket(grid.level.shape[1], grid.step, elapsed)
    level, rate, step = grid.level, grid.rate, grid.step
    return linear(
        cubic_rate(level[here, i], rate[here, i], level[here, i + 1], rate[here, i + 1], fraction, step),
        cubic_rate(level[there, i], rate[there, i], level[there, i + 1], rate[there, i + 1], fraction, step),
        weight,
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class WaterLevel:
    """Water level along a track in a span of time: predicted tide and best residual, above chart datum."""

    start: datetime
    """When `elapsed` is nought. UTC."""
    end: datetime
    grid: LevelGrid
    names: tuple[str, ...]
    """Of the stations, in order along the track."""
    station_deviation: Array
    """One standard deviation of the prediction at each station, without the residual's. [m]"""
    residual_deviation: float
    """One standard deviation of the residual. [m]"""

    def elapsed(self, moment: datetime) -> float:
        """Seconds from the start to a moment. `CannotCompute` if the moment has no zone."""
        if moment.tzinfo is None:
            raise CannotCompute(f"the time {moment} has no zone; expected one such as 2031-05-04T06:00:00Z")
        return (moment - self.start).total_seconds()

    def level(self, distance: Real, elapsed: Real) -> Real:
        """Above chart datum [m] at distances along the track [m] and times from the start [s], broadcast together.

        `CannotCompute` for a time outside the span.
        """
        return self._asked(level_at, distance, elapsed)

    def rate(self, distance: Real, elapsed: Real) -> Real:
        """Rate of rise at fixed places. [m/s] Otherwise as `level`."""
        return self._asked(rate_at, distance, elapsed)

    def deviation(self, distance: Real) -> Real:
        """One standard deviation of the level at places of the track, prediction and residual together. [m]"""
        return np.hypot(np.interp(distance, self.grid.distance, self.station_deviation), self.residual_deviation)

    def beyond_stations(self, distance: Real) -> Real:
        """True where the level is that of an end station, held constant beyond it."""
        distance = np.asarray(distance)
        return ((distance < self.grid.distance[0]) | (distance > self.grid.distance[-1]))[()]

    @cached_property
    def greatest_rate(self) -> float:
        """A bound that the rate of rise or fall at a fixed place never passes anywhere in the span. [m/s]"""
        return greatest_cubic_rate(self.grid.level, self.grid.rate, self.grid.step)

    def _asked(self, formula_at: Any, distance: Real, elapsed: Real) -> Real:
        found = formula_at(self.grid, np.asarray(distance, dtype=float), np.asarray(elapsed, dtype=float))
        if np.any(np.isnan(found)):
            raise CannotCompute(
                f"the water level is known from {spoken(self.start)} to {spoken(self.end)} only; "
                "expected a place and a time within that"
            )
        return found


def water_level(
    stations: Iterable[tuple[float, TideStation]],
    start: datetime,
    end: datetime,
    residual: float | Moments,
    residual_deviation: float,
    scheme: str = "yearly",
    others: Others | None = None,
) -> WaterLevel:
    """The water level along the track from `start` to `end`, both with a zone.

    `stations`: distance along the track [m] and station, in any order. `residual`: one number [m], or times and
    residuals that cover the span. `residual_deviation`: its standard deviation [m]. `scheme`: of the nodal
    corrections, see `tide.SCHEMES`. `others`: where secondary ports find their standard ports.
    `CannotCompute` where stations, tables or residual cannot answer.
    """
    if start.tzinfo is None or end.tzinfo is None:
        raise CannotCompute("the span of the water level has no zone; expected times such as 2031-05-04T06:00:00Z")
    if not start < end:
        raise CannotCompute("the span of the water level ends before it begins")
    along = sorted(stations, key=lambda place: place[0])
    if not along:
        raise CannotCompute("there is no tide station; the water level is never assumed")
    for (before, one), (after, other) in pairwise(along):
        if not after > before:
            raise CannotCompute(f"tide stations '{one.name}' and '{other.name}' lie at the same place of the track")
    first, last = start.timestamp(), end.timestamp()
    samples = math.ceil((last - first) / tide.SAMPLING) + 1
    time = np.linspace(first, last, samples)
    residual_level, residual_rate = _residual(residual, time)
    levels = np.array([predicted(station, time, scheme, others) for _, station in along])
    return WaterLevel(
        start=start.astimezone(UTC),
        end=end.astimezone(UTC),
        grid=LevelGrid(
            distance=np.array([float(distance) for distance, _ in along]),
            step=(last - first) / (samples - 1),
            level=levels[:, 0] + residual_level,
            rate=levels[:, 1] + residual_rate,
        ),
        names=tuple(station.name for _, station in along),
        station_deviation=np.array([_deviation(station) for _, station in along]),
        residual_deviation=residual_deviation,
    )


def _residual(residual: float | Moments, time: Array) -> tuple[Real, Real]:
    """Residual [m] and its rate [m/s] at these times [s from 1970 UTC]."""
    if isinstance(residual, int | float):
        if not math.isfinite(residual):
            raise CannotCompute(f"a residual cannot be {residual}")
        return float(residual), 0.0
    given = np.array(residual, dtype=float)
    if given.ndim != 2 or len(given) < 2 or not np.all(np.isfinite(given)) or np.any(np.diff(given[:, 0]) <= 0.0):
        raise CannotCompute("a residual in time needs at least two rows of time and metres, in order of time")
    if time[0] < given[0, 0] or time[-1] > given[-1, 0]:
        raise CannotCompute(
            f"the residual runs from {spoken(given[0, 0])} to {spoken(given[-1, 0])}; "
            f"expected it from {spoken(time[0])} to {spoken(time[-1])}"
        )
    when, value = given.T
    rate = monotone_rates(when, value)
    i = np.clip(np.searchsorted(when, time, side="right") - 1, 0, len(when) - 2)
    step = when[i + 1] - when[i]
    ends = value[i], rate[i], value[i + 1], rate[i + 1], (time - when[i]) / step, step
    return cubic(*ends), cubic_rate(*ends)


def _deviation(station: TideStation) -> float:
    if station.deviation is not None:
        return station.deviation
    if station.constituents or station.series:
        return HARMONIC_DEVIATION
    return TABLE_DEVIATION
