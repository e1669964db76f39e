"""Surface currents of S-111: regular grids and station series; rates in knots, directions towards, degrees true.

Source: [S111Units] for units and coding formats; names from memory.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.files.formats import s100
from leadsman.files.formats.isolated import Limits
from leadsman.files.formats.records import Array, array
from leadsman.files.formats.s100 import Product
from leadsman.files.formats.series import StreamGrid, StreamSeries
from leadsman.units import DEGREE, KNOT

FEATURE = "SurfaceCurrent"
SPEED, DIRECTION = "surfaceCurrentSpeed", "surfaceCurrentDirection"
EDITIONS = range(1, 3)
FASTEST = 30.0  # kn; the strongest tidal streams run at about 16 kn [memory]


@dataclass(frozen=True, kw_only=True)
class Streams:
    """What a file of S-111 holds."""

    grids: tuple[StreamGrid, ...] = ()
    series: tuple[StreamSeries, ...] = ()


def read(path: Path, *, limits: Limits | None = None) -> Streams:
    """Streams of all grids or stations; `InputErrors` names what is not supported."""
    product = s100.open_product(path, 111, EDITIONS, limits=limits)
    s100.horizontal_crs(product, (4326,))
    form = s100.coding_format(product, FEATURE, (2, 8))
    product.check_unit(FEATURE, SPEED, ("knot", "knots", "kn"))
    product.check_unit(FEATURE, DIRECTION, ("degree", "degrees", "arc-degree", "arc-degrees", "deg"))
    notes = _depth_note(product)
    instances = product.instances(FEATURE)
    if form == 2:
        return Streams(grids=tuple(_grid(product, instance, notes) for instance in instances))
    return Streams(series=tuple(each for instance in instances for each in _series(product, instance, notes)))


def _depth_note(product: Product) -> tuple[str, ...]:
    """For which depth the streams hold, as far as the file says."""
    depth = product.attribute("surfaceCurrentDepth")
    return (f"streams hold {abs(depth):g} m below the surface",) if isinstance(depth, int | float) and depth else ()


def _streams(product: Product, group: str) -> tuple[Array, Array]:
    """(rate in m/s, direction in radians) of one group; both NaN where either is missing."""
    speed = product.column(group, SPEED, product.fill(FEATURE, SPEED, -9999.0))
    towards = product.column(group, DIRECTION, product.fill(FEATURE, DIRECTION, -9999.0))
    known = ~(np.isnan(speed) | np.isnan(towards))
    if np.any((speed[known] < 0.0) | (speed[known] > FASTEST)):
        raise product.faults.stop(f"goes beyond 0 to {FASTEST:g}; expected knots", field=f"{group}/{SPEED}")
    if np.any((towards[known] < 0.0) | (towards[known] > 360.0)):
        raise product.faults.stop("goes beyond 0 to 360; expected degrees true", field=f"{group}/{DIRECTION}")
    return np.where(known, speed * KNOT, np.nan), np.where(known, (towards % 360.0) * DEGREE, np.nan)


def _grid(product: Product, instance: str, notes: tuple[str, ...]) -> StreamGrid:
    grid = s100.regular_grid(product, instance, FEATURE)
    latitude, longitude = s100.grid_lines(product, grid)
    groups = product.groups(instance)
    for group in groups:
        s100.check_shape(product, group, grid)
    start, elapsed = s100.group_times(product, instance, groups)
    columns = [_streams(product, group) for group in groups]
    return StreamGrid(
        name=instance.rsplit("/", 1)[1],
        start=start,
        elapsed=elapsed,
        latitude=latitude,
        longitude=longitude,
        rate=array(np.stack([rate for rate, _ in columns])),
        towards=array(np.stack([towards for _, towards in columns])),
        notes=notes,
    )


def _series(product: Product, instance: str, notes: tuple[str, ...]) -> list[StreamSeries]:
    found = []
    for station in s100.stations(product, FEATURE, instance):
        rate, towards = _streams(product, station.group)
        found.append(
            StreamSeries(
                station=station.name,
                start=station.start,
                elapsed=station.elapsed,
                rate=array(rate),
                towards=array(towards),
                position=station.position,
                notes=(*notes, s100.STATION_NOTE),
            )
        )
    return found
