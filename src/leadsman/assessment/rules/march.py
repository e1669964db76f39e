"""All stretches of all rules in one march for each start: when she enters and leaves, how fast, in what stream."""

from typing import Any, NamedTuple

import numpy as np

from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.sailing import Stations, speed_over_ground, stream_components
from leadsman.compiled import kernel
from leadsman.environment.stream import StreamGrid, stream_at
from leadsman.geometry import Array

ENTERS, LEAVES, FASTEST, FASTEST_AT, STRONGEST, STRONGEST_AT = range(6)
CLOSE = 0.01  # m: stations are rounded to a millimetre, so a shared end is told from an overlap


class Passing(NamedTuple):
    """How she passes one stretch, one entry a start; times on the clock of the water."""

    enters: Array
    """[s]"""
    leaves: Array
    fastest: Array
    """Greatest speed over the ground at a station of the stretch. [m/s]"""
    fastest_at: Array
    """Index of that station."""
    strongest: Array
    """Greatest rate of the stream she meets at a station of the stretch. [m/s]"""
    strongest_at: Array


def march(stations: Stations, stream: StreamGrid, stretches: tuple[Stretch, ...], starts: Array) -> tuple[Passing, ...]:
    """How she passes each stretch, for starts in seconds of the water's clock."""
    bounds = np.array([(stretch.begin, stretch.end) for stretch in stretches]).reshape(-1, 2)
    found = _march(stations, stream, bounds, np.ascontiguousarray(starts, dtype=np.float64))
    return tuple(
        Passing(
            enters=found[index, :, ENTERS] - stretch.before,
            leaves=found[index, :, LEAVES] + stretch.after,
            fastest=found[index, :, FASTEST],
            fastest_at=found[index, :, FASTEST_AT],
            strongest=found[index, :, STRONGEST],
            strongest_at=found[index, :, STRONGEST_AT],
        )
        for index, stretch in enumerate(stretches)
    )


@kernel
def _march(stations: Any, stream: Any, bounds: Any, starts: Any) -> Any:
    """Shape (stretches, starts, 6), columns as named above; not a number where the water is not known.

    Between two stations her speed is steady.
    """
    count, rules = stations.distance.size, bounds.shape[0]
    last = bounds[:, 1].max() if rules > 0 else 0.0
    found = np.full((rules, starts.size, 6), np.nan)
    for j in range(starts.size):
        elapsed = starts[j]
        for i in range(count):
            here = stations.distance[i]
            if here > last:
                break
            north, east = stream_at(stream, here, elapsed)
            along, across = stream_components(north, east, stations.course[i])
            speed = speed_over_ground(stations.speed[i], along, across)
            rate = np.hypot(north, east)
            step = stations.distance[i + 1] - here if i + 1 < count else 0.0
            for r in range(rules):
                begin, end = bounds[r, 0], bounds[r, 1]
                if here <= begin < here + step:
                    found[r, j, 0] = elapsed + (begin - here) / speed
                if here <= end < here + step or (i + 1 == count and end >= here):
                    found[r, j, 1] = elapsed + max(end - here, 0.0) / speed
                if here + step > begin + CLOSE and here < end - CLOSE:
                    if not speed <= found[r, j, 2]:
                        found[r, j, 2], found[r, j, 3] = speed, i
                    if not rate <= found[r, j, 4]:
                        found[r, j, 4], found[r, j, 5] = rate, i
            elapsed += step / speed
    return found
