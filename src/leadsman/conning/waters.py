"""Water, air, banks and quay about a ship that moves, sampled inside a compiled run without allocation.

All is laid out once as plain arrays: the track in short steps, level and stream along it in time, depths on a grid of
the local plane. `elapsed` is seconds from the start of the passage. Compiled formulas.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula

NORTH, EAST, COURSE, CURVATURE, PORT, STARBOARD, BANK_PORT, BANK_STARBOARD, SPEED, ORDER = range(10)
"""Columns of `Waters.track`: place [m], course unwrapped [rad], its change [1/m], from the track to the edges [m] and
to the equivalent banks, infinite where there are none [m], speed planned through the water [m/s], line of the
telegraph."""

GUST_PERIODS = np.geomspace(20.0, 600.0, 12)  # s: shorter ones a ship hardly feels, longer ones belong to the mean


class Waters(NamedTuple):
    """The surroundings of one passage.

    `track` [points, columns above] every `track_step` metres; `level` [stations, moments] above chart datum and
    `stream_north`, `stream_east` of the same shape, stations every `station_step` metres of the track, moments every
    `time_step` seconds from the start; `depth` [cells north, cells east] below chart datum, minus infinity where
    nothing is known, and `clear` the distance of each cell to water too shallow for her [m], both on square cells of
    `cell` metres whose first centre lies at `north`, `east`. Wind at 10 m [m/s, rad from], density of the water.
    """

    track: Any
    track_step: float
    level: Any
    stream_north: Any
    stream_east: Any
    station_step: float
    time_step: float
    depth: Any
    clear: Any
    cell: float
    north: float
    east: float
    wind_speed: float
    wind_from: float
    gust_deviation: float
    density: float


class Draw(NamedTuple):
    """What one run has drawn; record fields. All nil or one in the undisturbed run.

    Factors on wind and stream speeds; angles the wind and the stream are turned by [rad]; water level more [m];
    draught more [m]; where and how she starts: off the track to starboard [m], heading [rad]; delay of helmsman and
    tugs more than usual [s]; `gusts` the share of the gust process, `phases` of its parts [rad].
    """

    wind: float
    wind_turn: float
    stream: float
    stream_turn: float
    level: float
    draught: float
    across: float
    heading: float
    helmsman: float
    tugs: float
    gusts: float


def draw_type() -> np.dtype[np.void]:
    """The record of `Draw` with the phases of the gust process."""
    fields: list[Any] = [(name, np.float64) for name in Draw._fields]
    return np.dtype([*fields, ("phases", np.float64, (GUST_PERIODS.size,))], align=True)


@formula
def between(table: Any, station: float, moment: float) -> Real:
    """Bilinear value of a table [stations, moments] at fractional places; the ends are held."""
    stations, moments = table.shape
    row = min(max(station, 0.0), stations - 1.001)
    column = min(max(moment, 0.0), moments - 1.001)
    i = int(row)
    j = int(column)
    a = row - i
    b = column - j
    first = table[i, j] + b * (table[i, j + 1] - table[i, j])
    second = table[i + 1, j] + b * (table[i + 1, j + 1] - table[i + 1, j])
    return first + a * (second - first)


@formula
def progress(waters: Waters, index: int, north: float, east: float) -> int:
    """The nearest point of the track, looked for from the last one known."""
    track = waters.track
    last = track.shape[0] - 1
    best = index
    least = (track[best, NORTH] - north) ** 2 + (track[best, EAST] - east) ** 2
    for way in (1, -1):
        here = index
        while 0 <= here + way <= last:
            here += way
            apart = (track[here, NORTH] - north) ** 2 + (track[here, EAST] - east) ** 2
            if apart >= least:
                break
            least = apart
            best = here
    return best


@formula
def along_across(waters: Waters, index: int, north: float, east: float) -> tuple[Real, Real]:
    """Distance along the track and to starboard of it, from its nearest point; past its ends it goes straight. [m]"""
    course = waters.track[index, COURSE]
    ahead = north - waters.track[index, NORTH]
    right = east - waters.track[index, EAST]
    along = ahead * np.cos(course) + right * np.sin(course)
    across = right * np.cos(course) - ahead * np.sin(course)
    return index * waters.track_step + along, across


@formula
def cell_of(waters: Waters, north: float, east: float) -> tuple[int, int]:
    """Row and column of the cell a place lies in; -1 outside the grid."""
    i = int(np.floor((north - waters.north) / waters.cell + 0.5))
    j = int(np.floor((east - waters.east) / waters.cell + 0.5))
    if i < 0 or j < 0 or i >= waters.depth.shape[0] or j >= waters.depth.shape[1]:
        return -1, -1
    return i, j


@formula
def depth_at(waters: Waters, north: float, east: float) -> Real:
    """Depth below chart datum; minus infinity where nothing is known: never assumed deep. [m]"""
    i, j = cell_of(waters, north, east)
    return -np.inf if i < 0 else waters.depth[i, j]


@formula
def clear_at(waters: Waters, north: float, east: float) -> Real:
    """Distance to water too shallow for her; none where nothing is known. [m]"""
    i, j = cell_of(waters, north, east)
    return 0.0 if i < 0 else waters.clear[i, j]


@formula
def level_here(waters: Waters, draw: Any, along: float, elapsed: float) -> Real:
    """Water level above chart datum at a place of the track. [m]"""
    return between(waters.level, along / waters.station_step, elapsed / waters.time_step) + draw.level


@formula
def stream_here(waters: Waters, draw: Any, along: float, elapsed: float) -> tuple[Real, Real]:
    """Stream at a place of the track: north and east. [m/s]"""
    station = along / waters.station_step
    moment = elapsed / waters.time_step
    north = draw.stream * between(waters.stream_north, station, moment)
    east = draw.stream * between(waters.stream_east, station, moment)
    cosine = np.cos(draw.stream_turn)
    sine = np.sin(draw.stream_turn)
    return north * cosine - east * sine, north * sine + east * cosine


@formula
def gust(draw: Any, elapsed: float) -> Real:
    """The wind's departure from its mean in standard deviations: harmonics of equal strength, evenly spread over the
    logarithm of the period. [-]

    Source: spectral representation of a random process; that gusts have equal energy in each ratio of periods between
    20 s and 10 min is a setting of ours.
    """
    total = 0.0
    for part in range(GUST_PERIODS.size):
        total += np.cos(2.0 * np.pi * elapsed / GUST_PERIODS[part] + draw.phases[part])
    return total * np.sqrt(2.0 / GUST_PERIODS.size)


@formula
def wind_here(waters: Waters, draw: Any, elapsed: float) -> Real:
    """Wind speed now, gusts included. [m/s]"""
    departure = draw.gusts * waters.gust_deviation * gust(draw, elapsed)
    return max(draw.wind * (waters.wind_speed + departure), 0.0)


@formula
def look_round(
    waters: Waters,
    draw: Any,
    length: float,
    index: int,
    along: float,
    across: float,
    heading: float,
    north: float,
    east: float,
    elapsed: float,
    interval: float,
    around: Any,
) -> None:
    """Write water, air and banks of this moment into the surroundings record `around`."""
    cosine = np.cos(heading)
    sine = np.sin(heading)
    half = 0.5 * length
    level = level_here(waters, draw, along, elapsed)
    around.depth_bow = max(depth_at(waters, north + half * cosine, east + half * sine) + level, LEAST_DEPTH)
    around.depth_midships = max(depth_at(waters, north, east) + level, LEAST_DEPTH)
    around.depth_stern = max(depth_at(waters, north - half * cosine, east - half * sine) + level, LEAST_DEPTH)

    course = waters.track[index, COURSE]
    lie = half * np.cos(heading - course)
    before_north = around.stream_north
    before_east = around.stream_east
    around.stream_north, around.stream_east = stream_here(waters, draw, along, elapsed)
    bow_north, bow_east = stream_here(waters, draw, along + lie, elapsed)
    stern_north, stern_east = stream_here(waters, draw, along - lie, elapsed)
    around.stream_turn = ((bow_east - stern_east) * cosine - (bow_north - stern_north) * sine) / length
    if elapsed > 0.0:
        around.stream_change_north = (around.stream_north - before_north) / interval
        around.stream_change_east = (around.stream_east - before_east) / interval

    around.wind_speed = wind_here(waters, draw, elapsed)
    around.wind_from = waters.wind_from + draw.wind_turn
    around.density = waters.density
    if np.cos(heading - course) >= 0.0:
        around.bank_port = waters.track[index, BANK_PORT] + across
        around.bank_starboard = waters.track[index, BANK_STARBOARD] - across
    else:
        around.bank_port = waters.track[index, BANK_STARBOARD] - across
        around.bank_starboard = waters.track[index, BANK_PORT] + across


LEAST_DEPTH = 0.1  # m: of dry or unknown ground, only so that the formulas stay finite; the run ends there as aground
