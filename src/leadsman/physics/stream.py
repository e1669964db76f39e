"""The tidal stream: its rate on a day of given range, its components, and what it does to course and speed.

Directions are towards, clockwise from true north. Components are north and east, as the earth axes x and y.
"""

from collections.abc import Mapping

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method


@formula
def rate_for_range(spring_rate: Real, neap_rate: Real, spring_range: Real, neap_range: Real, tidal_range: Real) -> Real:
    """Rate of the stream on a day of this range at the reference port, straight through neaps and springs. [m/s]

    Ranges in metres, rates in metres per second. Never below nought: on the smallest ranges it would turn round.
    Source: [TidalStreamAtlas]. Limits: ranges between neaps and springs; beyond them it is extrapolated.
    """
    steepness = (spring_rate - neap_rate) / (spring_range - neap_range)
    return np.maximum(neap_rate + steepness * (tidal_range - neap_range), 0.0)


@formula
def rate_by_springs(spring_rate: Real, spring_range: Real, tidal_range: Real) -> Real:
    """Rate of the stream when only the spring rate is known: in proportion to the range. [m/s]

    Source: [TidalStreamAtlas]. Limits: ranges up to springs.
    """
    return spring_rate * tidal_range / spring_range


@formula
def components(rate: Real, towards: Real) -> tuple[Real, Real]:
    """North and east component of a stream. [m/s]"""
    return rate * np.cos(towards), rate * np.sin(towards)


@formula
def rate_and_direction(north: Real, east: Real) -> tuple[Real, Real]:
    """Rate [m/s] and direction towards [rad], in [0, 2 pi), of a stream with these components."""
    return np.hypot(north, east), np.arctan2(east, north) % (2.0 * np.pi)


@formula
def crab_angle(speed: Real, course: Real, north: Real, east: Real) -> Real:
    """What is added to the course for the heading that keeps her on it, to starboard positive. [rad]

    `speed` through the water [m/s]; stream components [m/s]. Not a number where the stream across exceeds her speed.
    Source: derived.
    """
    across = east * np.cos(course) - north * np.sin(course)
    sine = np.where(np.abs(across) <= speed, -across / speed, np.nan)
    return np.arcsin(sine)


@formula
def speed_over_ground(speed: Real, course: Real, north: Real, east: Real) -> Real:
    """Speed made good along the course, with the crab angle that holds it; negative if she is set back. [m/s]

    Not a number where the stream across exceeds her speed. Source: derived.
    """
    along = north * np.cos(course) + east * np.sin(course)
    return speed * np.cos(crab_angle(speed, course, north, east)) + along


def on_axis(
    constants: Mapping[str, tuple[float, float]], towards: float
) -> tuple[dict[str, tuple[float, float]], dict[str, tuple[float, float]]]:
    """Harmonic constants of the north and the east component of a stream that runs to and fro on one axis.

    `constants`: amplitude [m/s] and phase lag [rad] of the stream positive `towards` [rad]. An amplitude may come out
    negative; with its phase lag it is right all the same. Source: derived.
    """
    north, east = (
        {name: (amplitude * share, lag) for name, (amplitude, lag) in constants.items()}
        for share in (np.cos(towards), np.sin(towards))
    )
    return north, east


METHODS = {
    "rate_for_range": Method(function=rate_for_range, source="TidalStreamAtlas", note="spring and neap rates known"),
    "rate_by_springs": Method(function=rate_by_springs, source="TidalStreamAtlas", note="only the spring rate known"),
}
"""From the day's range at the reference port to the rate of the stream."""
