"""When the sun rises and sets, and twilight: daylight for rules that want it.

Times are seconds from 1970-01-01 00:00 UTC; latitude north and longitude east positive, in radians.
Source: [Meeus1998] chapters 22, 25 and 28 in low accuracy, memory; its altitude is held to within
0.01 degrees, 2.4 seconds of time, of another program.
"""

import numpy as np

from leadsman.compiled import Real
from leadsman.units import DAY, DEGREE

RISE_AND_SET = -50.0 / 60.0 * DEGREE  # altitude of the centre: refraction 34' and semidiameter 16', common practice
CIVIL_TWILIGHT = -6.0 * DEGREE  # common practice, no source
NAUTICAL_TWILIGHT = -12.0 * DEGREE  # common practice, no source

_EPOCH = (2451545.0 - 2440587.5) * DAY  # 2000-01-01 12:00, seconds from 1970
_CENTURY = 36525.0 * DAY
_ROUNDS = 5  # each brings the moment of a crossing some hundred times nearer


def declination_and_equation(time: Real) -> tuple[Real, Real]:
    """Declination of the sun [rad] and equation of time, apparent less mean [s]."""
    t = (np.asarray(time, dtype=float) - _EPOCH) / _CENTURY
    mean_longitude = (280.46646 + t * (36000.76983 + t * 0.0003032)) * DEGREE
    anomaly = (357.52911 + t * (35999.05029 - t * 0.0001537)) * DEGREE
    eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267)
    centre = (
        (1.914602 - t * (0.004817 + t * 0.000014)) * np.sin(anomaly)
        + (0.019993 - t * 0.000101) * np.sin(2.0 * anomaly)
        + 0.000289 * np.sin(3.0 * anomaly)
    ) * DEGREE
    node = (125.04 - 1934.136 * t) * DEGREE
    longitude = mean_longitude + centre - (0.00569 + 0.00478 * np.sin(node)) * DEGREE
    obliquity = (23.43929111 - t * (0.0130042 + t * (1.64e-7 - t * 5.04e-7)) + 0.00256 * np.cos(node)) * DEGREE
    y = np.tan(obliquity / 2.0) ** 2
    equation = (
        y * np.sin(2.0 * mean_longitude)
        - 2.0 * eccentricity * np.sin(anomaly)
        + 4.0 * eccentricity * y * np.sin(anomaly) * np.cos(2.0 * mean_longitude)
        - 0.5 * y**2 * np.sin(4.0 * mean_longitude)
        - 1.25 * eccentricity**2 * np.sin(2.0 * anomaly)
    )
    return np.arcsin(np.sin(obliquity) * np.sin(longitude)), equation / (2.0 * np.pi) * DAY


def altitude(time: Real, latitude: Real, longitude: Real) -> Real:
    """Altitude of the sun's centre, without refraction. [rad]"""
    declination, _ = declination_and_equation(time)
    hour_angle = _hour_angle(time, longitude)
    sine = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
    return np.arcsin(np.clip(sine, -1.0, 1.0))


def culmination(time: Real, longitude: Real) -> Real:
    """The sun's upper culmination nearest to `time`. [s from 1970 UTC]"""
    found = np.asarray(time, dtype=float)
    for _ in range(_ROUNDS):
        found = found - _hour_angle(found, longitude) / (2.0 * np.pi) * DAY
    return found[()]


def crossings(time: Real, latitude: Real, longitude: Real, height: float = RISE_AND_SET) -> tuple[Real, Real]:
    """When the sun rises through, and sinks through, an altitude `height` [rad] on the day of the noon nearest `time`.

    [s from 1970 UTC] Not a number where she stays above or below all day; `altitude` says which.
    Limits: to some seconds up to 60 degrees of latitude, plus what refraction differs from its mean; nearer the poles
    the sun moves slantwise and the moment is soft.
    """
    noon = np.asarray(culmination(time, longitude))
    found = []
    for side in (-1.0, 1.0):
        moment = noon + side * DAY / 4.0
        for _ in range(_ROUNDS):
            declination, equation = declination_and_equation(moment)
            cosine = (np.sin(height) - np.sin(latitude) * np.sin(declination)) / (
                np.cos(latitude) * np.cos(declination)
            )
            away = np.arccos(np.where(np.abs(cosine) <= 1.0, cosine, np.nan)) / (2.0 * np.pi) * DAY
            drift = equation - declination_and_equation(noon)[1]
            moment = noon + side * away - drift
        found.append(moment[()])
    return found[0], found[1]


def _hour_angle(time: Real, longitude: Real) -> Real:
    """Of the sun at a place, in [-pi, pi). [rad]"""
    _, equation = declination_and_equation(time)
    return (2.0 * np.pi * (np.asarray(time) + equation) / DAY + longitude) % (2.0 * np.pi) - np.pi
