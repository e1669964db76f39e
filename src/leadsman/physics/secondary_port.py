"""High and low waters of a secondary port from those of its standard port.

Times in seconds, levels in metres. Differences are added to the standard port's time and level.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real
from leadsman.units import DAY

_HALF_DAY = DAY / 2.0


class Differences(NamedTuple):
    """What tables print for a secondary port's high waters, or for its low waters.

    Two clock times of the standard port, each standing for itself and twelve hours later [s after midnight], with
    their time differences [s]; the standard port's mean spring and mean neap level [m above its chart datum] with
    their height differences [m].
    """

    clock: tuple[float, float]
    time: tuple[float, float]
    level: tuple[float, float]
    height: tuple[float, float]


def time_difference(clock: Real, differences: Differences) -> Real:
    """Time difference when the standard port's turning point is at `clock` [s after midnight]. [s]

    Straight between the two times printed, and on to the first of them twelve hours later.
    Source: [AdmiraltyTideTables]. Limits: the time zone of the tables, without summer time.
    """
    (first, second), (at_first, at_second) = differences.clock, differences.time
    to_second = (second - first) % _HALF_DAY
    if to_second == 0.0:
        raise ValueError("the two clock times of a secondary port's differences must not be the same half-day time")
    since = (np.asarray(clock) - first) % _HALF_DAY
    return np.interp(since, [0.0, to_second, _HALF_DAY], [at_first, at_second, at_first])


def height_difference(level: Real, differences: Differences) -> Real:
    """Height difference when the standard port's turning point has this level [m above its chart datum]. [m]

    Straight through the mean spring and mean neap values, and beyond them. Source: [AdmiraltyTideTables].
    """
    (spring, neap), (at_spring, at_neap) = differences.level, differences.height
    if spring == neap:
        raise ValueError("the spring and neap levels of a secondary port's differences must not be the same")
    return at_neap + (at_spring - at_neap) * (level - neap) / (spring - neap)


def by_differences(
    time: Real,
    level: Real,
    differences: Differences,
    zone: float = 0.0,
    standard_season: float = 0.0,
    secondary_season: float = 0.0,
) -> tuple[Real, Real]:
    """Time [s from 1970 UTC] and level [m above its own chart datum] of turning points of the secondary port.

    `time`, `level`: those of the standard port. `zone`: what is added to the time of the tables to give UTC [s],
    positive west of Greenwich. Seasonal changes of mean level [m] are taken off at the one and put on at the other.
    Source: [AdmiraltyTideTables].
    """
    clock = (np.asarray(time) - zone) % DAY
    without_season = np.asarray(level) - standard_season
    return (
        time + time_difference(clock, differences),
        without_season + height_difference(without_season, differences) + secondary_season,
    )


def by_offsets(
    time: Real, level: Real, time_offset: float, ratio: float = 1.0, added: float = 0.0
) -> tuple[Real, Real]:
    """Time [s] and level [m above its own datum] of turning points of a subordinate station, the American way.

    The reference station's level is multiplied by `ratio`, then `added` [m] is added; tables print one of the two.
    Source: [NOAATideTables].
    """
    return time + time_offset, level * ratio + added
