"""Between low and high water: worked values, corners, and curves against each other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import tide_curve
from leadsman.units import HOUR

LOW_TO_HIGH = (
    0.0,
    0.6,
    6.2 * HOUR,
    4.2,
)  # low water 0.6 m, high water 4.2 m, 6.2 h later: sheet water.md 9, rows 13-15
one_millimetre = 0.001


def test_half_cosine() -> None:
    """Sheet water.md 9 row 13, derived."""
    assert tide_curve.half_cosine(2.5 * HOUR, *LOW_TO_HIGH) == pytest.approx(1.861, abs=one_millimetre)


def test_half_cosine_time() -> None:
    """Sheet water.md 9 row 14, derived."""
    assert tide_curve.half_cosine_time(3.0, *LOW_TO_HIGH) / HOUR == pytest.approx(3.771, abs=0.002)


@pytest.mark.parametrize(("sixth", "expected"), [(0, 0.6), (1, 0.9), (2, 1.5), (3, 2.4), (4, 3.3), (5, 3.9), (6, 4.2)])
def test_rule_of_twelfths(sixth: int, expected: float) -> None:
    """Sheet water.md 9 row 15, derived."""
    found = tide_curve.rule_of_twelfths(sixth / 6.0 * 6.2 * HOUR, *LOW_TO_HIGH)
    assert found == pytest.approx(expected, abs=one_millimetre)


spans = st.tuples(st.floats(-5.0, 5.0), st.floats(3.0 * HOUR, 9.0 * HOUR), st.floats(-5.0, 5.0)).map(
    lambda drawn: (0.0, drawn[0], drawn[1], drawn[0] + drawn[2] + np.copysign(0.1, drawn[2]))
)
fractions = st.floats(0.0, 1.0)


@given(points=spans, fraction=fractions)
def test_half_cosine_turns_back_to_its_time(points: tuple[float, float, float, float], fraction: float) -> None:
    time = fraction * points[2]
    level = tide_curve.half_cosine(time, *points)
    back = tide_curve.half_cosine_time(level, *points)
    # near a turning point the level hardly tells the time; there the level is compared instead
    assert tide_curve.half_cosine(back, *points) == pytest.approx(level, abs=1e-9) or np.isnan(back)
    if 0.01 < fraction < 0.99:
        assert back == pytest.approx(time, abs=0.01)


@given(points=spans, fraction=st.floats(0.01, 0.99))
def test_half_cosine_rate_is_the_derivative(points: tuple[float, float, float, float], fraction: float) -> None:
    time = fraction * points[2]
    difference = tide_curve.half_cosine(time + 0.5, *points) - tide_curve.half_cosine(time - 0.5, *points)
    assert tide_curve.half_cosine_rate(time, *points) == pytest.approx(difference, abs=1e-9)


@given(points=spans, fraction=fractions, method=st.sampled_from(sorted(tide_curve.METHODS)))
def test_every_method_stays_between_the_turning_points(
    points: tuple[float, float, float, float], fraction: float, method: str
) -> None:
    level = tide_curve.METHODS[method].function(fraction * points[2], *points)
    assert min(points[1], points[3]) - 1e-9 <= level <= max(points[1], points[3]) + 1e-9


def test_twelfths_and_half_cosine_agree_to_a_thirtieth_of_the_range() -> None:
    """The rule of twelfths is a half cosine in round numbers: at the sixths they differ by (1 - cos 30°)/2 - 1/12."""
    time = np.linspace(0.0, 6.2 * HOUR, 7)
    difference = tide_curve.rule_of_twelfths(time, *LOW_TO_HIGH) - tide_curve.half_cosine(time, *LOW_TO_HIGH)
    assert np.max(np.abs(difference)) == pytest.approx(3.6 * abs(1.0 / 12.0 - (1.0 - np.cos(np.pi / 6)) / 2.0))


def test_a_level_never_reached_has_no_time() -> None:
    assert np.isnan(tide_curve.half_cosine_time(4.3, *LOW_TO_HIGH))
    assert np.isnan(tide_curve.half_cosine_time(0.5, *LOW_TO_HIGH))


CURVE = {
    "curve_time": np.array([-6.0, -3.0, 0.0, 3.0, 6.0]) * HOUR,
    "spring_factor": np.array([0.0, 0.5, 1.0, 0.5, 0.0]),
    "neap_factor": np.array([0.0, 0.7, 1.0, 0.6, 0.0]),
    "spring_range": 5.0,
    "neap_range": 2.0,
}
PORT_CURVE = [  # hours from high water, high, low, expected, origin
    (-3.0, 5.5, 0.5, 3.0, "by hand: springs, 0.5 + 5 x 0.5"),
    (-3.0, 3.5, 1.5, 2.9, "by hand: neaps, 1.5 + 2 x 0.7"),
    (-3.0, 4.5, 1.0, 3.1, "by hand: half-way, 1 + 3.5 x 0.6"),
    (3.0, 3.0, 2.0, 2.6, "by hand: smaller than neaps, the neap curve: 2 + 1 x 0.6"),
    (1.5, 6.5, 0.5, 5.0, "by hand: greater than springs, the spring curve: 0.5 + 6 x 0.75"),
    (6.0, 5.5, 0.5, 0.5, "by hand: low water"),
]


@pytest.mark.parametrize(("hours", "high", "low", "expected", "origin"), PORT_CURVE)
def test_port_curve(hours: float, high: float, low: float, expected: float, origin: str) -> None:
    found = tide_curve.port_curve(hours * HOUR, high_level=high, low_level=low, **CURVE)
    assert found == pytest.approx(expected, abs=1e-9), origin


def test_port_curve_refusals() -> None:
    with pytest.raises(ValueError, match=r"covers -6.00 h to \+6.00 h of high water only"):
        tide_curve.port_curve(6.1 * HOUR, high_level=4.0, low_level=1.0, **CURVE)
    with pytest.raises(ValueError, match="times of a port curve must rise"):
        tide_curve.port_curve(0.0, high_level=4.0, low_level=1.0, **(CURVE | {"curve_time": np.zeros(5)}))
    with pytest.raises(ValueError, match="spring range of a port curve must exceed"):
        tide_curve.port_curve(0.0, high_level=4.0, low_level=1.0, **(CURVE | {"neap_range": 5.0}))


def test_through_turning_points_passes_them_level() -> None:
    time, level = np.array([0.0, 6.0, 12.5]) * HOUR, np.array([1.0, 4.0, 0.5])
    found, rate = tide_curve.through_turning_points(time, time, level)
    np.testing.assert_allclose(found, level, atol=1e-12)
    np.testing.assert_allclose(rate, 0.0, atol=1e-15)
    assert tide_curve.through_turning_points(3.0 * HOUR, time, level)[0] == pytest.approx(2.5)
    for outside in (-1.0, 12.5 * HOUR + 1.0, np.nan):
        with pytest.raises(ValueError, match="do not cover the time wanted"):
            tide_curve.through_turning_points(outside, time, level)
