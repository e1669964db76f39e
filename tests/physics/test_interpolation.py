"""Between samples: cubics that are exact for cubics, bounds that hold, and brackets at the ends."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import interpolation

numbers = st.floats(-10.0, 10.0)
fractions = st.floats(0.0, 1.0)


@given(a=numbers, b=numbers, c=numbers, d=numbers, fraction=fractions, step=st.floats(0.5, 100.0))
def test_a_cubic_is_held_exactly(a: float, b: float, c: float, d: float, fraction: float, step: float) -> None:
    def value(x: float) -> float:
        return a + b * x + c * x**2 + d * x**3

    def rate(x: float) -> float:
        return (b + 2.0 * c * x + 3.0 * d * x**2) / step

    ends = value(0.0), rate(0.0), value(1.0), rate(1.0), fraction, step
    assert interpolation.cubic(*ends) == pytest.approx(value(fraction), abs=1e-9)
    assert interpolation.cubic_rate(*ends) == pytest.approx(rate(fraction), abs=1e-9)


@given(values=st.lists(numbers, min_size=3, max_size=8), rates=st.lists(numbers, min_size=8, max_size=8))
def test_the_greatest_rate_is_a_bound_and_is_reached(values: list[float], rates: list[float]) -> None:
    value, rate, step = np.array(values), np.array(rates[: len(values)]), 0.7
    bound = interpolation.greatest_cubic_rate(value, rate, step)
    fraction = np.linspace(0.0, 1.0, 201)[:, None]
    found = np.abs(interpolation.cubic_rate(value[:-1], rate[:-1], value[1:], rate[1:], fraction, step)).max()
    assert found <= bound * (1.0 + 1e-12) + 1e-12
    assert bound <= found + 0.01 * (1.0 + bound)


@given(values=st.lists(numbers, min_size=2, max_size=8), steps=st.lists(st.floats(0.1, 5.0), min_size=8, max_size=8))
def test_monotone_rates_never_overshoot(values: list[float], steps: list[float]) -> None:
    value, time = np.array(values), np.cumsum(steps[: len(values)])
    rate, step = interpolation.monotone_rates(time, value), np.diff(time)
    found = interpolation.cubic(value[:-1], rate[:-1], value[1:], rate[1:], np.linspace(0, 1, 51)[:, None], step)
    low, high = np.minimum(value[:-1], value[1:]), np.maximum(value[:-1], value[1:])
    assert np.all((low - 1e-9 <= found) & (found <= high + 1e-9))


def test_a_straight_line_keeps_its_rate() -> None:
    np.testing.assert_allclose(interpolation.monotone_rates(np.array([0.0, 1.0, 5.0]), np.array([1.0, 3.0, 11.0])), 2.0)


STATIONS = np.array([100.0, 300.0, 1100.0])
BRACKETS = [  # distance, station before, station after, weight: by hand
    (0.0, 0, 1, 0.0),
    (100.0, 0, 1, 0.0),
    (200.0, 0, 1, 0.5),
    (300.0, 1, 2, 0.0),
    (500.0, 1, 2, 0.25),
    (1100.0, 2, 2, 1.0),
    (5000.0, 2, 2, 1.0),
]


@pytest.mark.parametrize(("distance", "before", "after", "weight"), BRACKETS)
def test_station_bracket(distance: float, before: int, after: int, weight: float) -> None:
    found = interpolation.station_bracket(STATIONS, distance)
    assert found[:2] == (before, after)
    assert interpolation.linear(STATIONS[before], STATIONS[after], found[2]) == np.clip(distance, 100.0, 1100.0)
    if before != after:
        assert found[2] == weight


def test_sample_bracket_has_no_answer_outside() -> None:
    assert interpolation.sample_bracket(4, 10.0, 0.0) == (0, 0.0)
    assert interpolation.sample_bracket(4, 10.0, 25.0) == (2, 0.5)
    assert interpolation.sample_bracket(4, 10.0, 30.0) == (2, 1.0)
    for outside in (-0.1, 30.1, np.nan):
        assert np.isnan(interpolation.sample_bracket(4, 10.0, outside)[1])
