"""Between samples and between stations: what kernels read instead of a sum of forty cosines.

All formulas take numbers or arrays, and compile.
"""

import numpy as np

from leadsman.compiled import Real, formula, where


@formula
def station_bracket(distances: Real, distance: Real) -> tuple[Real, Real, Real]:
    """The stations before and after a place, and the weight of the one after. [-]

    `distances` of the stations along the track, rising [m]. Beyond the first and the last station theirs holds.
    """
    last = len(distances) - 1
    before = np.maximum(np.searchsorted(distances, distance, side="right") - 1, 0)
    after = np.minimum(before + 1, last)
    gap = np.maximum(distances[after] - distances[before], 1e-9)
    weight = np.minimum(np.maximum((distance - distances[before]) / gap, 0.0), 1.0)
    return before, after, weight


@formula
def sample_bracket(count: int, step: float, elapsed: Real) -> tuple[Real, Real]:
    """The sample before a time, and how far it is on the way to the next; not a number outside the samples. [-]

    `count` samples, two or more, `step` apart [s], the first at nought; `elapsed` [s].
    """
    place = elapsed / step
    before = np.int64(np.fmin(np.fmax(place, 0.0), count - 2.0))
    inside = (place >= 0.0) & (place <= count - 1.0)
    return before, where(inside, place - before, np.nan)


@formula
def linear(before: Real, after: Real, fraction: Real) -> Real:
    """On the straight line from one value to the next."""
    return before + (after - before) * fraction


@formula
def cubic(before: Real, rate_before: Real, after: Real, rate_after: Real, fraction: Real, step: Real) -> Real:
    """The cubic with these values and rates [1/s] at both ends of a `step` [s], `fraction` of the way along.

    Source: derived (Hermite). Limits: against a cosine of frequency w it errs by (w step)^4 / 384 of its amplitude.
    """
    rest = 1.0 - fraction
    return rest * rest * ((1.0 + 2.0 * fraction) * before + fraction * step * rate_before) + fraction * fraction * (
        (3.0 - 2.0 * fraction) * after - rest * step * rate_after
    )


@formula
def cubic_rate(before: Real, rate_before: Real, after: Real, rate_after: Real, fraction: Real, step: Real) -> Real:
    """The derivative in time of `cubic`. [1/s]"""
    rest = 1.0 - fraction
    return (
        6.0 * fraction * rest * (after - before) / step
        + rest * (1.0 - 3.0 * fraction) * rate_before
        + fraction * (3.0 * fraction - 2.0) * rate_after
    )


def greatest_cubic_rate(value: Real, rate: Real, step: float) -> float:
    """The greatest |rate| that `cubic` reaches anywhere between these samples (last axis). [1/s]

    The rate of a cubic is a parabola: greatest at an end or at its vertex.
    """
    ends = value[..., :-1], rate[..., :-1], value[..., 1:], rate[..., 1:]
    slope = (ends[2] - ends[0]) / step
    linear_term = 6.0 * slope - 4.0 * ends[1] - 2.0 * ends[3]
    square_term = 3.0 * (ends[1] + ends[3] - 2.0 * slope)
    straight = square_term == 0.0
    vertex = np.where(straight, 0.0, -linear_term / (2.0 * np.where(straight, 1.0, square_term)))
    at_vertex = cubic_rate(*ends, np.clip(vertex, 0.0, 1.0), step)
    return float(max(np.max(np.abs(rate)), np.max(np.abs(at_vertex), initial=0.0)))


def monotone_rates(time: Real, value: Real) -> Real:
    """Rates at uneven samples for which `cubic` never leaves the span between neighbours. [1/s]

    Source: [FritschButland1984]. `time` rises, two or more samples [s].
    """
    step, slope = np.diff(time), np.diff(value) / np.diff(time)
    rates = np.empty(len(time))
    rates[[0, -1]] = slope[[0, -1]]
    weight_before, weight_after = step[:-1] + 2.0 * step[1:], 2.0 * step[:-1] + step[1:]
    same_way = slope[:-1] * slope[1:] > 0.0
    before, after = np.where(same_way, slope[:-1], 1.0), np.where(same_way, slope[1:], 1.0)
    mean = (weight_before + weight_after) / (weight_before / before + weight_after / after)
    rates[1:-1] = np.where(same_way, mean, 0.0)
    return rates
