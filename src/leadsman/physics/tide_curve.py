"""The level between a low and a high water when only their times and heights are known.

Times in seconds of any one clock, levels in metres above any one datum. `before` and `after` are the turning points on
either side of `time`; they may rise or fall.
"""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.units import HOUR

_TWELFTHS = np.array([0.0, 1.0, 3.0, 6.0, 9.0, 11.0, 12.0]) / 12.0  # of the range, after each sixth of the time


@formula
def half_cosine(time: Real, time_before: Real, level_before: Real, time_after: Real, level_after: Real) -> Real:
    """Level between two turning points on half a cosine. [m]

    Source: [NOAATideTables]. Limits: times between the turning points; against the full harmonic curve it errs by
    0.015 to 0.075 m rms and up to 0.26 m at four American ports, far more where high water stands or doubles.
    """
    angle = np.pi * (time - time_before) / (time_after - time_before)
    return level_before + (level_after - level_before) * 0.5 * (1.0 - np.cos(angle))


@formula
def half_cosine_rate(time: Real, time_before: Real, level_before: Real, time_after: Real, level_after: Real) -> Real:
    """Rate of rise between two turning points on half a cosine. [m/s]  Source: [NOAATideTables], derived."""
    frequency = np.pi / (time_after - time_before)
    return (level_after - level_before) * 0.5 * frequency * np.sin(frequency * (time - time_before))


@formula
def half_cosine_time(level: Real, time_before: Real, level_before: Real, time_after: Real, level_after: Real) -> Real:
    """When half a cosine between two turning points passes `level`; not a number if it never does. [s]

    Source: [NOAATideTables], derived.
    """
    fraction = (level - level_before) / (level_after - level_before)
    inside = np.where(np.abs(fraction - 0.5) <= 0.5, 1.0 - 2.0 * fraction, np.nan)
    return time_before + (time_after - time_before) / np.pi * np.arccos(inside)


def rule_of_twelfths(time: Real, time_before: Real, level_before: Real, time_after: Real, level_after: Real) -> Real:
    """Level between two turning points by the rule of twelfths, straight within each sixth of the time. [m]

    Source: [RuleOfTwelfths]. Limits: times between the turning points; a rule for the head, not for a margin.
    """
    sixths = 6.0 * (time - time_before) / (time_after - time_before)
    return level_before + (level_after - level_before) * np.interp(sixths, np.arange(7.0), _TWELFTHS)


def port_curve(
    from_high: Real,
    high_level: float,
    low_level: float,
    curve_time: Real,
    spring_factor: Real,
    neap_factor: Real,
    spring_range: float,
    neap_range: float,
) -> Real:
    """Level at a time `from_high` water [s] on a port's own curves of springs and neaps. [m]

    `curve_time` [s from high water, rising] and the factors there, 0 at low and 1 at high water. Between the two
    curves it is interpolated by the day's range, `high_level` less `low_level` [m]; beyond spring or neap range the
    nearer curve holds. ValueError for a time that the curves do not cover.
    Source: [AdmiraltyTideTables].
    """
    curve_time = np.asarray(curve_time, dtype=float)
    if np.any(np.diff(curve_time) <= 0.0):
        raise ValueError("the times of a port curve must rise")
    if not np.all((curve_time[0] <= np.asarray(from_high)) & (np.asarray(from_high) <= curve_time[-1])):
        first, last = curve_time[[0, -1]] / HOUR
        raise ValueError(f"the port curve covers {first:+.2f} h to {last:+.2f} h of high water only")
    if not spring_range > neap_range:
        raise ValueError("the spring range of a port curve must exceed the neap range")
    range_ = high_level - low_level
    spring = np.clip((range_ - neap_range) / (spring_range - neap_range), 0.0, 1.0)
    factor = spring * np.asarray(spring_factor) + (1.0 - spring) * np.asarray(neap_factor)
    return low_level + range_ * np.interp(from_high, curve_time, factor)


def through_turning_points(time: Real, point_time: Real, point_level: Real) -> tuple[Real, Real]:
    """Level [m] and rate of rise [m/s] on half cosines through a row of turning points.

    ValueError for a time outside the row: it is never extrapolated. Source: [NOAATideTables].
    """
    time = np.asarray(time, dtype=float)
    if len(point_time) < 2 or not np.all((point_time[0] <= time) & (time <= point_time[-1])):
        raise ValueError("the high and low waters do not cover the time wanted")
    after = np.clip(np.searchsorted(point_time, time, side="right"), 1, len(point_time) - 1)
    ends = point_time[after - 1], point_level[after - 1], point_time[after], point_level[after]
    return half_cosine(time, *ends), half_cosine_rate(time, *ends)


METHODS = {
    "half_cosine": Method(
        function=half_cosine, source="NOAATideTables", note="smooth; within 0.08 m rms of four harmonic ports"
    ),
    "rule_of_twelfths": Method(
        function=rule_of_twelfths, source="RuleOfTwelfths", note="for the head; has corners at each sixth"
    ),
}
"""Ways from two turning points to a level between them; each takes time and the two points."""
