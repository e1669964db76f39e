"""A survey on a grid as depth areas: neighbouring cells of one depth band become one area, never deeper than its cells.

A node stands for the cell about it, half a step to each side. A depth is taken at the shallow end of its band, an
uncertainty at the greater. Water without a node has no area.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import shapely

from leadsman.errors import refuse
from leadsman.files.formats.draft_areas import polygon_of, ring_of
from leadsman.files.formats.records import Array, Soundings, array
from leadsman.files.formats.series import DepthGrid
from leadsman.waterway import DepthArea

BAND = 0.1  # m: of depth in one area; the answer is at most this much too careful. Ours, no source
UNCERTAINTY_BAND = 0.05  # m
ONE_SIGMA_TO_95 = 1.96  # of a normal distribution
LATTICE = 0.02  # of a step: how far a position may lie off its row and still be of a grid; positions are rounded
MOST_CELLS = 400_000  # of one survey; more take minutes to join


def areas_of_grid(grid: DepthGrid, *, near: Any | None = None, rise: float = 0.0) -> tuple[DepthArea, ...]:
    """The depth areas of a grid, only where its cells touch `near` (longitude, latitude).

    `rise`: height of the grid's datum above chart datum [m]. The uncertainty of an S-102 file is taken as one standard
    deviation, which is the careful reading, and told at 95 %. `Impossible` for more cells than can be joined.
    """
    known = np.argwhere(np.isfinite(grid.depth))
    boxes = _boxes(grid, known)
    if near is not None:
        shapely.prepare(near)
        touching = shapely.intersects(near, boxes)
        known, boxes = known[touching], boxes[touching]
    refuse(
        [("depths", f"'{grid.name}' has {len(known)} cells here; at most {MOST_CELLS} are joined: cut it down first")]
        if len(known) > MOST_CELLS
        else []
    )
    depth = grid.depth[known[:, 0], known[:, 1]] - rise
    bands = np.floor(depth / BAND + 1e-6).astype(np.int64)
    doubt = None if grid.uncertainty is None else ONE_SIGMA_TO_95 * grid.uncertainty[known[:, 0], known[:, 1]]
    doubts = np.full(len(known), -1) if doubt is None else _doubt_bands(doubt)
    return tuple(
        area
        for band, of_doubt in sorted({*zip(bands.tolist(), doubts.tolist(), strict=True)})
        for area in _joined(boxes[(bands == band) & (doubts == of_doubt)], grid.name, band * BAND, of_doubt)
    )


def _doubt_bands(doubt: Array) -> Any:
    """Index of the band of an uncertainty, rounded to the greater; -1 where the survey gives none."""
    return np.where(np.isfinite(doubt), np.ceil(np.nan_to_num(doubt) / UNCERTAINTY_BAND - 1e-6), -1).astype(np.int64)


def _boxes(grid: DepthGrid, nodes: Any) -> Any:
    """The cell about each node as a polygon in longitude and latitude; neighbours share their corners exactly."""
    from pyproj import Transformer

    corners = np.array([(-1, -1), (-1, 1), (1, 1), (1, -1)])
    twice = 2 * nodes[:, None, :] + corners  # in half steps, so that corners are whole numbers
    north = grid.origin[0] + 0.5 * grid.spacing[0] * twice[..., 0]
    east = grid.origin[1] + 0.5 * grid.spacing[1] * twice[..., 1]
    if grid.crs == 4326:
        longitude, latitude = east, north
    else:
        longitude, latitude = Transformer.from_crs(grid.crs, 4326, always_xy=True).transform(east, north)
    return shapely.polygons(np.stack([longitude, latitude], axis=-1))


def _joined(boxes: Any, survey: str, depth: float, doubt: int) -> Iterator[DepthArea]:
    for part in shapely.get_parts(shapely.union_all(boxes)):
        yield DepthArea(
            name=f"survey {survey} {depth:.1f} m".replace("  ", " "),
            ring=ring_of(part.exterior),
            holes=tuple(ring_of(hole) for hole in part.interiors),
            depth=round(depth, 3),
            uncertainty=None if doubt < 0 else round(doubt * UNCERTAINTY_BAND, 3),
            surveyed=survey,
        )


def covered_by(areas: Sequence[DepthArea]) -> Any:
    """All water that these areas cover, as one shape (longitude, latitude)."""
    return shapely.union_all([polygon_of(area) for area in areas])


def grid_of(soundings: Soundings, name: str) -> DepthGrid | None:
    """Soundings that stand on a regular grid of latitude and longitude, as that grid; None where they do not."""
    rows, columns = _lines(soundings.latitude), _lines(soundings.longitude)
    if rows is None or columns is None or len(soundings.depth) < 4:
        return None
    (south, north_step, row), (west, east_step, column) = rows, columns
    shape = int(row.max()) + 1, int(column.max()) + 1
    if len({*zip(row.tolist(), column.tolist(), strict=True)}) != len(soundings.depth) or math.prod(shape) > 4_000_000:
        return None
    depth, doubt = np.full(shape, np.nan), np.full(shape, np.nan)
    depth[row, column] = soundings.depth
    if soundings.uncertainty is not None:
        doubt[row, column] = soundings.uncertainty / ONE_SIGMA_TO_95  # a table gives it at 95 %, a grid as it stands
    return DepthGrid(
        name=name,
        datum=soundings.datum,
        crs=4326,
        origin=(south, west),
        spacing=(north_step, east_step),
        depth=array(depth),
        uncertainty=None if soundings.uncertainty is None else array(doubt),
        notes=soundings.notes,
    )


def _lines(values: Array) -> tuple[float, float, Any] | None:
    """(first, step, index of each) of values that stand on evenly spaced lines; None where they do not."""
    apart = np.diff(np.unique(values))
    if len(apart) == 0:
        return None
    step = float(np.median(apart[apart > 0.2 * np.max(apart)]))
    first = float(np.min(values))
    index = np.round((values - first) / step)
    if np.max(np.abs(values - first - index * step)) > LATTICE * step:
        return None
    return first, step, index.astype(np.int64)


def with_soundings(own: Soundings | None, more: Soundings) -> Soundings:
    """The soundings of a cell, and more of the same datum; `Impossible` where the datums differ."""
    if own is None:
        return more
    refuse(
        [("datum", f"soundings stand below {more.datum}, the chart's below {own.datum}; convert them first")]
        if own.datum != more.datum
        else []
    )
    return replace(
        own,
        latitude=array(np.concatenate([own.latitude, more.latitude])),
        longitude=array(np.concatenate([own.longitude, more.longitude])),
        depth=array(np.concatenate([own.depth, more.depth])),
        uncertainty=None,
        quality=(),
        notes=(*own.notes, *more.notes),
    )
