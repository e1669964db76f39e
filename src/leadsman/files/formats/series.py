"""Levels, streams and depths through time and over grids, as foreign files hold them; companion of `records`.

A series has an aware `start` and `elapsed` seconds; NaN means: not reported then. Grids begin in the south-west: first
row south, first column west.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

import numpy as np

from leadsman.errors import refuse
from leadsman.files.formats.records import Array, Soundings, array
from leadsman.geometry import Position
from leadsman.sailed import position_problems, series_problems


class LevelKind(StrEnum):
    """How a series of levels was got."""

    OBSERVED = "observed"
    PREDICTED = "predicted"
    FORECAST = "forecast"
    UNKNOWN = "unknown"


@dataclass(frozen=True, kw_only=True, eq=False)
class LevelSeries:
    """Water level at one place through time, above a named datum."""

    station: str
    datum: str
    start: datetime
    elapsed: Array
    level: Array
    """[m]"""
    kind: LevelKind = LevelKind.UNKNOWN
    position: Position | None = None
    uncertainty: Array | None = None
    """As the file gives it. [m]"""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from series_problems(self, ("level", "uncertainty"))
        if not self.datum:
            yield "datum", "is missing; a level without datum says nothing"

    def gaps(self, longest: float) -> tuple[tuple[datetime, datetime], ...]:
        """Spans longer than `longest` seconds without any level, as (last before, first after)."""
        known = self.elapsed[np.isfinite(self.level)]
        where = np.flatnonzero(np.diff(known) > longest)
        return tuple(
            (self.start + timedelta(seconds=float(known[i])), self.start + timedelta(seconds=float(known[i + 1])))
            for i in where
        )


@dataclass(frozen=True, kw_only=True)
class TurningPoint:
    """One high or low water."""

    time: datetime
    level: float
    """Above the datum of its table. [m]"""
    high: bool


@dataclass(frozen=True, kw_only=True)
class HighLowTable:
    """Successive high and low waters at one place."""

    station: str
    datum: str
    points: tuple[TurningPoint, ...]
    position: Position | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if len(self.points) < 2:
            yield "points", "a table needs at least two turning points"
        if not self.datum:
            yield "datum", "is missing; a level without datum says nothing"
        for before, after in zip(self.points, self.points[1:], strict=False):
            if not after.time > before.time:
                yield "points", f"{after.time.isoformat()} does not come after {before.time.isoformat()}"
            elif after.high == before.high:
                name = "high" if after.high else "low"
                yield (
                    "points",
                    f"two {name} waters follow each other at {after.time.isoformat()}; one between is missing",
                )
            elif after.high != (after.level > before.level):
                yield "points", f"the low water beside {after.time.isoformat()} stands above its high water"


@dataclass(frozen=True, kw_only=True, eq=False)
class StreamSeries:
    """Stream at one place through time."""

    station: str
    start: datetime
    elapsed: Array
    rate: Array
    """[m/s]"""
    towards: Array
    """True. [rad]"""
    position: Position | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from series_problems(self, ("rate", "towards"))
        if np.any(self.rate < 0.0):
            yield "rate", "is negative; expected a rate, and where it goes as a direction"


@dataclass(frozen=True, kw_only=True, eq=False)
class LevelGrid:
    """Water level over a regular grid through time: arrays (time, row from south, column from west)."""

    name: str
    datum: str
    start: datetime
    elapsed: Array
    latitude: Array
    """Of the rows, southernmost first."""
    longitude: Array
    """Of the columns, westernmost first."""
    level: Array
    uncertainty: Array | None = None
    kind: LevelKind = LevelKind.UNKNOWN
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse((*series_problems(self, ("level", "uncertainty")), *position_problems(self.latitude, self.longitude)))

    def series(self, position: Position) -> LevelSeries:
        """The series of the nearest node; refuses a position more than half a cell outside the grid, and dry nodes."""
        row, column = _nearest_node(self, position)
        if not np.any(np.isfinite(self.level[:, row, column])):
            refuse([("position", f"the grid '{self.name}' holds no level at {position}")])
        return LevelSeries(
            station=self.name,
            datum=self.datum,
            start=self.start,
            elapsed=self.elapsed,
            level=array(self.level[:, row, column]),
            kind=self.kind,
            position=Position(float(self.latitude[row]), float(self.longitude[column])),
            uncertainty=None if self.uncertainty is None else array(self.uncertainty[:, row, column]),
            notes=self.notes,
        )


@dataclass(frozen=True, kw_only=True, eq=False)
class StreamGrid:
    """Stream over a regular grid through time: arrays (time, row from south, column from west)."""

    name: str
    start: datetime
    elapsed: Array
    latitude: Array
    longitude: Array
    rate: Array
    towards: Array
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse((*series_problems(self, ("rate", "towards")), *position_problems(self.latitude, self.longitude)))

    def series(self, position: Position) -> StreamSeries:
        """The series of the nearest node; refuses a position more than half a cell outside the grid."""
        row, column = _nearest_node(self, position)
        if not np.any(np.isfinite(self.rate[:, row, column])):
            refuse([("position", f"the grid '{self.name}' holds no stream at {position}")])
        return StreamSeries(
            station=self.name,
            start=self.start,
            elapsed=self.elapsed,
            rate=array(self.rate[:, row, column]),
            towards=array(self.towards[:, row, column]),
            position=Position(float(self.latitude[row]), float(self.longitude[column])),
            notes=self.notes,
        )


def _nearest_node(grid: LevelGrid | StreamGrid, position: Position) -> tuple[int, int]:
    """(row, column) of the node nearest to a position, the short way round the globe."""
    north = np.abs(grid.latitude - position.latitude)
    east = np.abs((grid.longitude - position.longitude + 180.0) % 360.0 - 180.0)
    row, column = int(np.argmin(north)), int(np.argmin(east))
    for name, least, lines in (("latitude", north[row], grid.latitude), ("longitude", east[column], grid.longitude)):
        cell = math.inf if len(lines) < 2 else abs((float(lines[1] - lines[0]) + 180.0) % 360.0 - 180.0)
        if least > 0.5 * cell * 1.000001:
            refuse([(name, f"{getattr(position, name):.5f} lies outside the grid '{grid.name}'")])
    return row, column


@dataclass(frozen=True, kw_only=True, eq=False)
class DepthGrid:
    """Depths on a regular grid: arrays (row from south, column from west); NaN where nothing is known."""

    name: str
    datum: str
    crs: int
    """EPSG code of the grid's own coordinates: 4326, or a projected one in metres."""
    origin: tuple[float, float]
    """(northing or latitude, easting or longitude) of the south-western node."""
    spacing: tuple[float, float]
    """(northward, eastward), in the same units."""
    depth: Array
    """Below the datum, positive down. [m]"""
    uncertainty: Array | None = None
    """As the file gives it. [m]"""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not self.datum:
            yield "datum", "is missing; a depth without datum says nothing"
        if not all(math.isfinite(step) and step > 0.0 for step in self.spacing):
            yield "spacing", f"{self.spacing} is impossible; expected two steps above zero"
        if self.depth.ndim != 2 or self.depth.size == 0:
            yield "depth", f"has the shape {self.depth.shape}; expected rows and columns"
        if np.any(np.isinf(self.depth)):
            yield "depth", "holds an infinite value"

    def positions(self) -> tuple[Array, Array]:
        """(latitude, longitude) of every node, each shaped like `depth`. [degrees]"""
        from pyproj import Transformer

        rows, columns = self.depth.shape
        north = self.origin[0] + self.spacing[0] * np.arange(rows)
        east = self.origin[1] + self.spacing[1] * np.arange(columns)
        x, y = np.meshgrid(east, north)
        longitude, latitude = Transformer.from_crs(self.crs, 4326, always_xy=True).transform(x, y)
        return array(latitude), array(longitude)

    def soundings(self) -> Soundings:
        """Every node with a known depth, as soundings."""
        known = np.isfinite(self.depth)
        latitude, longitude = self.positions()
        return Soundings(
            latitude=array(latitude[known]),
            longitude=array(longitude[known]),
            depth=array(self.depth[known]),
            datum=self.datum,
            uncertainty=None if self.uncertainty is None else array(self.uncertainty[known]),
            notes=self.notes,
        )
