"""The call's water, wind and banks laid out as the plain arrays a rehearsal samples: `conning.waters.Waters`."""

import math
from typing import Any

import numpy as np
from scipy.ndimage import distance_transform_edt
from scipy.spatial import cKDTree

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_moored import lying
from leadsman.conning.waters import Waters
from leadsman.environment.depth import Depths
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.geometry import Array
from leadsman.physics.wind_profile import FORECAST_MEAN, SHIP_GUST, gust_factor
from leadsman.portcall import Direction
from leadsman.units import SEA_WATER_DENSITY
from leadsman.waterway import Berth, ChannelKind

TRACK_STEP = 10.0  # m
STATION_STEP = 200.0  # m
TIME_STEP = 60.0  # s
BESIDE = 350.0  # m: how far beside track and berth the bed is looked at
CELLS_A_BEAM = 4.0  # of the grid of depths
SMALLEST_CELL, LARGEST_CELL = 4.0, 8.0  # m
LONGER = 2.0  # times the time planned: how long the water is known for
SPARE_TIME = 5400.0  # s, more, for slow work at the end
GUST_PEAKS = 3.0  # standard deviations of the gusts a forecast names, above the mean (common practice, no source)
UNSEEN = 60  # cells a side of the blocks whose level is taken as one


def waters(prepared: Prepared, start: Any, orders: Array, speeds: Array) -> Waters:
    """The surroundings of a passage that starts at a time.

    `orders` and `speeds` of each reach in the order sailed: line of the telegraph, or -1 for a speed alone.
    """
    track = track_table(prepared, orders, speeds)
    begin = prepared.water.elapsed(start)
    planned = float(np.max(prepared.passed(start))) - begin
    moments = np.arange(0.0, LONGER * planned + SPARE_TIME, TIME_STEP)
    length = prepared.passage.track.length
    stations = np.arange(0.0, length + STATION_STEP, STATION_STEP)
    place, moment = np.meshgrid(stations, begin + moments, indexing="ij")
    level = np.asarray(level_at(prepared.water.level.grid, place, moment))
    north, east = stream_at(prepared.water.stream.grid, place, moment)
    cell = min(max(prepared.call.ship.beam / CELLS_A_BEAM, SMALLEST_CELL), LARGEST_CELL)
    depth, corner = depth_grid(prepared, cell)
    passed = np.interp(stations, prepared.passage.distance, prepared.passed(start)) - begin
    at_her_time = np.array([np.interp(when, moments, row) for when, row in zip(passed, level, strict=True)])
    forecast = prepared.call.forecast
    mean = forecast.wind_speed or 0.0
    return Waters(
        track=track,
        track_step=TRACK_STEP,
        level=level,
        stream_north=np.asarray(north),
        stream_east=np.asarray(east),
        station_step=STATION_STEP,
        time_step=TIME_STEP,
        depth=depth,
        clear=clear_of(depth, at_her_time, track, corner, cell, prepared.floating.draught),
        cell=cell,
        north=corner[0],
        east=corner[1],
        wind_speed=mean,
        wind_from=forecast.wind_from or 0.0,
        gust_deviation=gust_deviation(mean, forecast.gust_speed),
        density=forecast.water_density or prepared.call.loading.water_density or SEA_WATER_DENSITY,
    )


def gust_deviation(mean: float, gust: float | None) -> float:
    """Standard deviation of the wind about its mean, from the gust forecast or the usual gust a ship feels. [m/s]"""
    peak = gust if gust is not None else mean * float(gust_factor(SHIP_GUST, FORECAST_MEAN))
    return max(peak - mean, 0.0) / GUST_PEAKS


def track_table(prepared: Prepared, orders: Array, speeds: Array) -> Array:
    """`Waters.track`: the track in the direction sailed in short steps, with edges, banks and what is planned."""
    passage = prepared.passage
    distance = np.arange(0.0, passage.track.length + 0.5 * TRACK_STEP, TRACK_STEP)
    x, y, course = passage.track.at(distance)
    curvature = np.zeros_like(distance)
    for bend in passage.track.bends:
        inside = (distance >= bend.begin) & (distance < bend.end)
        curvature[inside] = math.copysign(1.0 / bend.radius, bend.deflection)
    bounds = passage.track.waypoint_distances
    reach = np.clip(np.searchsorted(bounds, distance, side="right") - 1, 0, len(passage.reaches) - 1)
    port = np.array([one.width_port for one in passage.reaches])[reach]
    starboard = np.array([one.width_starboard for one in passage.reaches])[reach]
    if passage.call.direction is Direction.OUTWARD:
        port, starboard = starboard, port
    bank = np.array([_bank(one, prepared) for one in passage.reaches])[reach]
    return np.column_stack(
        [x, y, np.unwrap(course), curvature, port, starboard, bank, bank, speeds[reach], orders[reach]]
    )


def _bank(reach: Any, prepared: Prepared) -> float:
    """From the middle of the channel to a wall at half its depth; infinite in open water. [m]"""
    if reach.channel is ChannelKind.OPEN:
        return math.inf
    inside = prepared.passage.reach == [one.name for one in prepared.passage.reaches].index(reach.name)
    height = reach.trench_height or float(np.min(prepared.passage.depth[inside]))
    return float(0.5 * reach.bottom_width + 0.5 * reach.side_slope * max(height, 0.0))


def berth_line(prepared: Prepared) -> tuple[Array, Array]:
    """The two ends of the berth's face on the plane, shape (2,) each: north, east. [m]"""
    berth = the_berth(prepared)
    return prepared.call.waterway.plane.to_plane(
        [berth.begin.latitude, berth.end.latitude], [berth.begin.longitude, berth.end.longitude]
    )


def the_berth(prepared: Prepared) -> Berth:
    """The berth of the call."""
    return next(berth for berth in prepared.call.waterway.berths if berth.name == prepared.call.berth)


def depth_grid(prepared: Prepared, cell: float) -> tuple[Array, tuple[float, float]]:
    """Careful depths below datum on square cells about track and berth, minus infinity where none is known; and the
    centre of the first cell."""
    passage = prepared.passage
    ends = berth_line(prepared)
    roads = anchor_places(prepared)
    north = np.concatenate([passage.x, ends[0], roads[0]])
    east = np.concatenate([passage.y, ends[1], roads[1]])
    low = np.array([north.min() - BESIDE, east.min() - BESIDE])
    count = np.ceil((np.array([north.max() + BESIDE, east.max() + BESIDE]) - low) / cell).astype(int) + 1
    depths = Depths(passage.call.waterway.areas, passage.call.waterway.plane)
    found = np.full(count, np.inf)
    for area, depth in zip(depths.areas, depths.careful, strict=True):
        rings = [depths._ring(ring) for ring in (area.ring, *area.holes)]
        rows, columns, inside = filled(rings, low, cell, (int(count[0]), int(count[1])))
        if rows.stop > rows.start and columns.stop > columns.start:
            part = found[rows, columns]
            part[inside] = np.minimum(part[inside], depth)
    found[np.isposinf(found)] = -np.inf
    _close_slivers(depths, found, low, cell)
    _sills(prepared, found, low, cell)
    _pocket(prepared, found, low, cell)
    _moored(prepared, found, low, cell)
    return found, (float(low[0]), float(low[1]))


def anchor_places(prepared: Prepared) -> tuple[Array, Array]:
    """Where she anchors on her way, if she does: north and east. [m]"""
    asked, waterway = prepared.call.anchoring, prepared.call.waterway
    found = [basin.centre for basin in waterway.basins if asked and basin.name == asked.at]
    found += [place.position for place in waterway.waiting_places if asked and place.name == asked.at]
    return waterway.plane.to_plane([one.latitude for one in found], [one.longitude for one in found])


def filled(rings: list[Array], low: Array, cell: float, count: tuple[int, int]) -> tuple[slice, slice, Any]:
    """Cells whose centres lie inside rings, by the even-odd rule: rows, columns, and which of those."""
    corners = np.concatenate(rings)
    first = np.clip(np.floor((corners.min(axis=0) - low) / cell).astype(int), 0, np.array(count))
    last = np.clip(np.ceil((corners.max(axis=0) - low) / cell).astype(int) + 1, 0, np.array(count))
    rows, columns = slice(int(first[0]), int(last[0])), slice(int(first[1]), int(last[1]))
    height, width = max(rows.stop - rows.start, 0), max(columns.stop - columns.start, 0)
    crossings = np.zeros((height, width + 1), dtype=np.int32)
    lines = low[0] + cell * np.arange(rows.start, rows.stop)
    for ring in rings:
        for here, there in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            if here[0] == there[0]:
                continue
            crossed = np.flatnonzero((lines >= min(here[0], there[0])) & (lines < max(here[0], there[0])))
            at = here[1] + (lines[crossed] - here[0]) * (there[1] - here[1]) / (there[0] - here[0])
            column = np.ceil((at - low[1]) / cell).astype(int) - columns.start
            np.add.at(crossings, (crossed, np.clip(column, 0, width)), 1)
    return rows, columns, (np.cumsum(crossings[:, :width], axis=1) % 2).astype(bool)


def _close_slivers(depths: Depths, grid: Array, low: Array, cell: float) -> None:
    """Cells that fell between neighbouring areas take the least depth about them; `Depths` says which those are."""
    import shapely

    unknown = np.isneginf(grid)
    known = ~unknown
    beside = np.zeros_like(known)
    beside[1:-1] |= known[:-2] & known[2:]
    beside[:, 1:-1] |= known[:, :-2] & known[:, 2:]
    rows, columns = np.nonzero(unknown & beside)
    covered = shapely.contains_xy(depths._surveyed, low[0] + cell * rows, low[1] + cell * columns)
    for i, j in zip(rows[covered], columns[covered], strict=True):
        about = grid[max(i - 1, 0) : i + 2, max(j - 1, 0) : j + 2]
        grid[i, j] = np.min(about[np.isfinite(about)])


def _sills(prepared: Prepared, grid: Array, low: Array, cell: float) -> None:
    """Lower the water over sills across the whole fairway."""
    passage = prepared.passage
    for gate, at in passage.gate_distances:
        if gate.depth is None:
            continue
        x, y, course = passage.track.at(at)
        half = max(max(reach.width_port, reach.width_starboard) for reach in passage.reaches)
        for along in np.arange(-cell, 1.5 * cell, cell):
            across = np.arange(-half, half + cell, 0.5 * cell)
            north = x[0] + along * np.cos(course[0]) - across * np.sin(course[0])
            east = y[0] + along * np.sin(course[0]) + across * np.cos(course[0])
            i = np.clip(np.round((north - low[0]) / cell).astype(int), 0, grid.shape[0] - 1)
            j = np.clip(np.round((east - low[1]) / cell).astype(int), 0, grid.shape[1] - 1)
            grid[i, j] = np.minimum(grid[i, j], gate.depth)


def _pocket(prepared: Prepared, grid: Array, low: Array, cell: float) -> None:
    """Cells cut by the quay's face have the depth alongside, where nothing else is known of them."""
    berth = the_berth(prepared)
    ends = berth_line(prepared)
    along = np.linspace(-0.1, 1.1, 400)
    step = np.array([ends[0][1] - ends[0][0], ends[1][1] - ends[1][0]])
    normal = np.array([-step[1], step[0]]) / np.hypot(*step)
    for off in (-0.9 * cell, -0.45 * cell, 0.0, 0.45 * cell, 0.9 * cell):
        north = ends[0][0] + along * step[0] + off * normal[0]
        east = ends[1][0] + along * step[1] + off * normal[1]
        i = np.clip(np.round((north - low[0]) / cell).astype(int), 0, grid.shape[0] - 1)
        j = np.clip(np.round((east - low[1]) / cell).astype(int), 0, grid.shape[1] - 1)
        unknown = np.isneginf(grid[i, j])
        grid[i[unknown], j[unknown]] = berth.depth


def _moored(prepared: Prepared, grid: Array, low: Array, cell: float) -> None:
    """No water where other ships lie alongside: the conn keeps clear of them as of a shoal.

    Grown by half a cell, so that none is too narrow to hold the middle of one.
    """
    for _, corners in lying(prepared, 0.5 * cell):
        rows, columns, inside = filled([corners], low, cell, (int(grid.shape[0]), int(grid.shape[1])))
        if rows.stop > rows.start and columns.stop > columns.start:
            grid[rows, columns][inside] = -np.inf


def clear_of(
    depth: Array, level: Array, track: Array, corner: tuple[float, float], cell: float, draught: float
) -> Array:
    """Distance of each cell from water in which she would take the ground, at the level of her time there. [m]"""
    rows = np.arange(0, depth.shape[0], UNSEEN)
    columns = np.arange(0, depth.shape[1], UNSEEN)
    north, east = np.meshgrid(corner[0] + cell * rows, corner[1] + cell * columns, indexing="ij")
    _, nearest = cKDTree(track[:, :2]).query(np.column_stack([north.ravel(), east.ravel()]))
    station = np.minimum((nearest * TRACK_STEP / STATION_STEP).astype(int), level.shape[0] - 1)
    coarse = level[station].reshape(north.shape)
    fine = np.repeat(np.repeat(coarse, UNSEEN, axis=0), UNSEEN, axis=1)[: depth.shape[0], : depth.shape[1]]
    found: Array = distance_transform_edt(depth + fine > draught) * cell
    return found.astype(np.float32)
