"""The stream along the track: by hours from high water, from constants or a series, at any place and time asked.

Sampled once on a regular grid; between samples and between stations the components, never the angle, lie on straight
lines. Beyond the end stations theirs holds.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import Real, formula
from leadsman.environment.prediction import Others, check_series, checked_table, turning_points
from leadsman.errors import CannotCompute
from leadsman.physics import tide, uncertainty
from leadsman.physics.interpolation import linear, sample_bracket, station_bracket
from leadsman.physics.method import Breach
from leadsman.physics.stream import components, on_axis, rate_for_range
from leadsman.station import StreamStation, TideStation
from leadsman.units import HOUR

Array = NDArray[np.float64]

GREATEST_HOLE = 2.0 * HOUR  # between the last row after one high water and the first before the next. Common practice
STREAM_DEVIATION = uncertainty.default("stream").value  # m/s, one standard deviation of the rate
_AROUND = timedelta(hours=26)  # enough to find a high and a low water on either side, also of a diurnal tide


@dataclass(frozen=True, kw_only=True)
class HarmonicStream:
    """Where the stream is known by harmonic constants of its components; without constants, a steady current."""

    name: str
    mean_north: float
    mean_east: float
    north: tuple[tuple[str, float, float], ...] = ()
    """(constituent, amplitude [m/s], phase lag on Greenwich [rad])."""
    east: tuple[tuple[str, float, float], ...] = ()
    deviation: float | None = None
    """One standard deviation of the rate. [m/s]"""


class StreamGrid(NamedTuple):
    """Stream components at stations and regular times; a kernel takes it as it is."""

    distance: Any  # of the stations along the track, rising [m]
    step: float  # between samples [s]
    north: Any  # one row per station, one column per sample [m/s]
    east: Any  # the same shape [m/s]


@formula
def stream_at(grid: StreamGrid, distance: Real, elapsed: Real) -> tuple[Real, Real]:
    """North and east component at a place of the track [m] and a time since the grid's start [s]. [m/s]

    Takes numbers or arrays, and compiles. Not a number outside the grid's time.
    """
    here, there, weight = station_bracket(grid.distance, distance)
    i, fraction = sample_bracket(grid.north.shape[1], grid.step, elapsed)
    north, east = grid.north, grid.east
    return (
        linear(
            linear(north[here, i], north[here, i + 1], fraction),
            linear(north[there, i], north[there, i + 1], fraction),
            weight,
        ),
        linear(
            linear(east[here, i], east[here, i + 1], fraction),
            linear(east[there, i], east[there, i + 1], fraction),
            weight,
        ),
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class Stream:
    """Tidal stream and current along a track in a span of time."""

    start: datetime
    """When `elapsed` is nought. UTC."""
    end: datetime
    grid: StreamGrid
    names: tuple[str, ...]
    """Of the stations, in order along the track."""
    extrapolated: tuple[tuple[str, Breach], ...]
    """Station, and the worst tidal range of the span that lies beyond its neap or spring range."""
    station_deviation: Array
    """One standard deviation of the rate at each station. [m/s]"""

    def components(self, distance: Real, elapsed: Real) -> tuple[Real, Real]:
        """North and east [m/s] at distances along the track [m] and times from the start [s], broadcast together.

        `CannotCompute` for a time outside the span.
        """
        north, east = stream_at(self.grid, np.asarray(distance, dtype=float), np.asarray(elapsed, dtype=float))
        if np.any(np.isnan(north)):
            raise CannotCompute(
                f"the stream is known from {self.start:%Y-%m-%d %H:%M} to {self.end:%Y-%m-%d %H:%M} UTC only; "
                "expected a place and a time within that"
            )
        return north, east

    def deviation(self, distance: Real) -> Real:
        """One standard deviation of the rate at places of the track. [m/s]"""
        return np.interp(distance, self.grid.distance, self.station_deviation)

    def beyond_stations(self, distance: Real) -> Real:
        """True where the stream is that of an end station, held constant beyond it."""
        distance = np.asarray(distance)
        return ((distance < self.grid.distance[0]) | (distance > self.grid.distance[-1]))[()]

    @cached_property
    def greatest_rate(self) -> float:
        """A bound that the rate never passes anywhere in the span. [m/s]"""
        return float(np.max(np.hypot(self.grid.north, self.grid.east)))

    @cached_property
    def corners(self) -> tuple[Array, ...]:
        """Corners of the convex hull of each station's vectors over the span, shape (corners, 2): north, east. [m/s]"""
        from shapely import get_coordinates, linestrings

        return tuple(
            get_coordinates(linestrings(np.column_stack(vectors)).convex_hull)
            for vectors in zip(self.grid.north, self.grid.east, strict=True)
        )

    @cached_property
    def changes(self) -> Array:
        """A bound for each station on how fast its vector changes. [m/s²]"""
        step = np.hypot(np.diff(self.grid.north), np.diff(self.grid.east))
        return np.asarray(np.max(step, axis=1, initial=0.0) / self.grid.step)

    @cached_property
    def greatest_change(self) -> float:
        """A bound on how fast the stream changes at a fixed place, as a vector, anywhere in the span. [m/s²]"""
        return float(np.max(np.hypot(np.diff(self.grid.north), np.diff(self.grid.east))) / self.grid.step)


def tidal_stream(
    stations: Iterable[tuple[float, StreamStation | HarmonicStream, TideStation | None]],
    start: datetime,
    end: datetime,
    scheme: str = "yearly",
    others: Others | None = None,
) -> Stream:
    """The stream along the track from `start` to `end`, both with a zone.

    `stations`: distance along the track [m], station and the tide station whose high water counts (None for harmonic
    constants or a series), in any order. `scheme`: of the nodal corrections, see `tide.SCHEMES`. `others`: where
    secondary ports find their standard ports. `CannotCompute` where stations or tables cannot answer.
    """
    if start.tzinfo is None or end.tzinfo is None:
        raise CannotCompute("the span of the stream has no zone; expected times such as 2031-05-04T06:00:00Z")
    if not start < end:
        raise CannotCompute("the span of the stream ends before it begins")
    along = sorted(stations, key=lambda place: place[0])
    if not along:
        raise CannotCompute("there is no stream station; the water is never assumed to stand still")
    for (before, one, _), (after, other, _) in pairwise(along):
        if not after > before:
            raise CannotCompute(f"stream stations '{one.name}' and '{other.name}' lie at the same place of the track")
    first, last = start.timestamp(), end.timestamp()
    time = np.linspace(first, last, math.ceil((last - first) / tide.SAMPLING) + 1)
    sampled: list[tuple[Array, Array]] = []
    extrapolated: list[tuple[str, Breach]] = []
    for _, station, reference in along:
        if isinstance(station, HarmonicStream) or station.constituents:
            sampled.append(_harmonic(_on_its_axis(station), time, scheme))
            continue
        if station.series:
            sampled.append(_through_series(station, time))
            continue
        highs, ranges = _high_waters(station, reference, start, end, scheme, others)
        sampled.append(_by_hours(station, highs, ranges, time))
        extrapolated.extend(_beyond_ranges(station, ranges))
    return Stream(
        start=start.astimezone(UTC),
        end=end.astimezone(UTC),
        grid=StreamGrid(
            distance=np.array([float(distance) for distance, _, _ in along]),
            step=(last - first) / (len(time) - 1),
            north=np.array([north for north, _ in sampled]),
            east=np.array([east for _, east in sampled]),
        ),
        names=tuple(station.name for _, station, _ in along),
        extrapolated=tuple(extrapolated),
        station_deviation=np.array([_deviation(station) for _, station, _ in along]),
    )


def _deviation(station: StreamStation | HarmonicStream) -> float:
    given = station.deviation
    return STREAM_DEVIATION if given is None else given


def _on_its_axis(station: StreamStation | HarmonicStream) -> HarmonicStream:
    """Constants along an axis as constants of the north and the east component."""
    if isinstance(station, HarmonicStream):
        return station
    if station.axis is None:
        raise CannotCompute(f"stream station '{station.name}' has constants but no axis")
    north, east = on_axis({name: (amplitude, lag) for name, amplitude, lag in station.constituents}, station.axis)
    mean_north, mean_east = components(station.mean, station.axis)
    return HarmonicStream(
        name=station.name,
        mean_north=float(mean_north),
        mean_east=float(mean_east),
        north=tuple((name, *constants) for name, constants in north.items()),
        east=tuple((name, *constants) for name, constants in east.items()),
    )


def _through_series(station: StreamStation, time: Array) -> tuple[Array, Array]:
    """Components between the rows of a series, on straight lines; never beyond its ends. [m/s]"""
    when, rate, towards = np.array(station.series, dtype=float).T
    check_series(when, time, f"the series of stream station '{station.name}'")
    north, east = components(rate, towards)
    return np.interp(time, when, north), np.interp(time, when, east)


def no_stream(start: datetime, end: datetime) -> Stream:
    """Still water, for a waterway whose stream nobody gave: whoever asks for it says so to the user."""
    still = HarmonicStream(name="still water", mean_north=0.0, mean_east=0.0, deviation=0.0)
    return tidal_stream([(0.0, still, None)], start, end)


def _high_waters(
    station: StreamStation,
    reference: TideStation | None,
    start: datetime,
    end: datetime,
    scheme: str,
    others: Others | None,
) -> tuple[Array, Array]:
    """Times of high water at the reference [s from 1970 UTC] and the mean range of the tide on both sides. [m]"""
    if reference is None:
        raise CannotCompute(f"stream station '{station.name}' needs the tide station '{station.reference}'")
    if reference.table:
        time, level, high = checked_table(reference)
    else:
        time, level, high = turning_points(reference, start - _AROUND, end + _AROUND, scheme, others)
    if not np.any(high):
        raise CannotCompute(
            f"stream station '{station.name}': '{reference.name}' has no high water about the time wanted"
        )
    fall = np.abs(np.diff(level))
    before, after = np.append(fall[0], fall), np.append(fall, fall[-1])
    highs, ranges = time[high], ((before + after) / 2.0)[high]
    first, last = np.searchsorted(highs, [start.timestamp(), end.timestamp()])
    relevant = slice(max(first - 1, 0), last + 1)
    return highs[relevant], ranges[relevant]


def _by_hours(station: StreamStation, highs: Array, ranges: Array, time: Array) -> tuple[Array, Array]:
    """Components by hours from the nearest high water. [m/s]

    Each high water brings the rows of the table up to the middle of the way to its neighbours. In the middle itself
    stands the mean of both tables where both reach it; else a straight line leads from one to the other.
    """
    hours, towards, spring, neap = np.array(station.rows, dtype=float).T
    rate = rate_for_range(spring, neap, *_ranges_of(station), ranges[:, None])
    curves = np.stack(components(rate, towards))
    half = np.diff(highs) / 2.0
    middle, knot = highs[:-1] + half, highs[:, None] + hours
    kept = (knot > np.append(-np.inf, middle)[:, None]) & (knot < np.append(middle, np.inf)[:, None])
    times, values = [knot[kept]], [curves[:, kept]]
    for k in np.flatnonzero((half <= hours[-1]) & (half <= -hours[0])):
        reached = [[np.interp(half[k], hours, curve[k]), np.interp(-half[k], hours, curve[k + 1])] for curve in curves]
        times.append(middle[[k]])
        values.append(np.mean(reached, axis=1, keepdims=True))
    knots, north_east = np.concatenate(times), np.concatenate(values, axis=1)
    order = np.argsort(knots)
    _check_cover(station, knots[order], time)
    north, east = (np.interp(time, knots[order], component[order]) for component in north_east)
    return north, east


def _check_cover(station: StreamStation, knots: Array, time: Array) -> None:
    """Refuse a span that the rows about the high waters do not cover, or with a hole in it."""
    if len(knots) == 0 or time[0] < knots[0] or time[-1] > knots[-1]:
        raise CannotCompute(
            f"stream station '{station.name}': the high waters of '{station.reference}' do not cover the time wanted; "
            "expected one before its beginning and one after its end"
        )
    wanted = (knots[1:] > time[0]) & (knots[:-1] < time[-1])
    hole = np.where(wanted, np.diff(knots), 0.0)
    worst = int(np.argmax(hole))
    if hole[worst] > GREATEST_HOLE:
        moment = datetime.fromtimestamp(knots[worst], UTC)
        raise CannotCompute(
            f"stream station '{station.name}' has no row for {hole[worst] / HOUR:.1f} h after {moment:%Y-%m-%d %H:%M} "
            "UTC; expected hourly rows from about 6 h before to 6 h after high water"
        )


def _ranges_of(station: StreamStation) -> tuple[float, float]:
    """Spring and neap range of the reference. [m]"""
    if station.spring_range is None or station.neap_range is None:
        raise CannotCompute(f"stream station '{station.name}' has no spring and neap range of its reference")
    return station.spring_range, station.neap_range


def _beyond_ranges(station: StreamStation, ranges: Array) -> Iterable[tuple[str, Breach]]:
    high, low = _ranges_of(station)
    beyond = np.maximum(low - ranges, ranges - high)
    if np.max(beyond) > 0.0:
        value = float(ranges[np.argmax(beyond)])
        yield station.name, Breach(quantity="tidal_range", value=value, low=low, high=high)


def _harmonic(station: HarmonicStream, time: Array, scheme: str) -> tuple[Array, Array]:
    north, east = (
        _harmonic_component(station.name, constants, mean, time, scheme)
        for constants, mean in ((station.north, station.mean_north), (station.east, station.mean_east))
    )
    return north, east


def _harmonic_component(
    name: str, constants: tuple[tuple[str, float, float], ...], mean: float, time: Array, scheme: str
) -> Array:
    if not constants:
        return np.full(len(time), mean)
    try:
        named = {constituent: (amplitude, lag) for constituent, amplitude, lag in constants}
        prepared = tide.harmonics(named, mean, time[0], time[-1], scheme)
    except ValueError as error:
        raise CannotCompute(f"stream station '{name}': {error}") from error
    component, _ = tide.grid(prepared, time[0], (time[-1] - time[0]) / (len(time) - 1), len(time))
    return np.asarray(component)
