"""Sailing the stations in time: when she passes each, at what water level, and how much level is left there.

One rule of motion, written once as formulas: between two stations she makes good, over the ground and along the track,
her planned speed through the water less what she must give to hold the track against the stream across, plus the stream
along it; the stream is that at the first station at the moment she passes it.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, kernel
from leadsman.environment.level import LevelGrid, level_at
from leadsman.environment.stream import stream_at

LEAST_SPEED_OVER_GROUND = 0.1  # m/s; slower than this she is not making the passage, and no time can be given


class Stations(NamedTuple):
    """What the march needs of each station, as the kernel takes it."""

    distance: Any  # along the track [m]
    course: Any  # [rad]
    speed: Any  # through the water [m/s]
    need: Any  # least water level above chart datum [m]
    ceiling: Any  # greatest water level, infinite where nothing hangs over the track [m]


@formula
def speed_over_ground(speed: Real, along: Real, across: Real) -> Real:
    """Along the track, with the heading laid off against the stream across. [m/s]

    `speed` through the water, `along` and `across` the stream's components. Never below a creeping minimum: against a
    stream stronger than the ship the time would be infinite, and the assessment raises a finding instead.
    """
    held = np.sqrt(np.maximum(speed * speed - across * across, 0.0))
    return np.maximum(held + along, LEAST_SPEED_OVER_GROUND)


@formula
def stream_components(north: Real, east: Real, course: Real) -> Real:
    """Components of a stream along a course and across it, to starboard positive. [m/s]"""
    return north * np.cos(course) + east * np.sin(course), east * np.cos(course) - north * np.sin(course)


@kernel
def passing_times(stations: Any, stream: Any, start: float) -> Any:
    """Seconds from the grids' start at which she passes each station, having started at `start`. [s]"""
    count = stations.distance.size
    passed = np.empty(count)
    elapsed = start
    for i in range(count):
        passed[i] = elapsed
        if i + 1 < count:
            north, east = stream_at(stream, stations.distance[i], elapsed)
            along, across = stream_components(north, east, stations.course[i])
            elapsed += (stations.distance[i + 1] - stations.distance[i]) / speed_over_ground(
                stations.speed[i], along, across
            )
    return passed


@kernel
def least_margins(stations: Any, weighed: Any, level: Any, stream: Any, starts: Any) -> Any:
    """For each start the least level margin under keel and overhead, and the station of each.

    `weighed` says at which stations a margin can be the least at all; the march passes all of them. Returns
    (starts, 4): under-keel margin, its station, overhead margin, its station. [m of water level]
    """
    found = np.empty((starts.size, 4))
    count = stations.distance.size
    for j in range(starts.size):
        elapsed = starts[j]
        least, least_at, lowest, lowest_at = np.inf, 0, np.inf, 0
        for i in range(count):
            if weighed[i]:
                height = level_at(level, stations.distance[i], elapsed)
                known = not np.isnan(height)  # beyond the water's time nothing holds: never optimistic
                under = height - stations.need[i] if known else -np.inf
                over = stations.ceiling[i] - height if known else -np.inf
                if under < least:
                    least, least_at = under, i
                if over < lowest:
                    lowest, lowest_at = over, i
            if i + 1 < count:
                north, east = stream_at(stream, stations.distance[i], elapsed)
                along, across = stream_components(north, east, stations.course[i])
                elapsed += (stations.distance[i + 1] - stations.distance[i]) / speed_over_ground(
                    stations.speed[i], along, across
                )
        found[j, 0], found[j, 1], found[j, 2], found[j, 3] = least, least_at, lowest, lowest_at
    return found


def weighed_stations(stations: Stations, level: LevelGrid) -> Any:
    """Stations that can hold the least margin for some start.

    A station whose need lies farther below the greatest need than the level ever ranges can never bind; stations with
    something overhead always may.
    """
    highest, lowest = float(np.max(level.level)), float(np.min(level.level))
    slack = 1.0  # m; the cubic between samples may leave their range by less than this
    return (stations.need >= np.max(stations.need) - (highest - lowest) - slack) | np.isfinite(stations.ceiling)
