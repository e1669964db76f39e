"""Rates for the day's range, components, and laying off against a stream."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import stream
from leadsman.units import DEGREE, KNOT

rates = st.floats(0.0, 4.0)
angles = st.floats(0.0, 2.0 * np.pi)


def test_rate_for_the_range_of_the_day() -> None:
    """Neap 0.9, spring 2.4 kn, ranges 2.2 and 5.0 m, day 4.0 m: 1.864 kn. Sheet water.md 9 row 18, derived."""
    found = stream.rate_for_range(2.4 * KNOT, 0.9 * KNOT, 5.0, 2.2, 4.0) / KNOT
    assert found == pytest.approx(1.864, abs=0.002)


def test_rate_is_that_of_springs_and_neaps_at_their_ranges_and_never_turns_round() -> None:
    assert stream.rate_for_range(2.4, 0.9, 5.0, 2.2, 5.0) == pytest.approx(2.4)
    assert stream.rate_for_range(2.4, 0.9, 5.0, 2.2, 2.2) == pytest.approx(0.9)
    assert stream.rate_for_range(2.4, 0.9, 5.0, 2.2, 0.2) == 0.0


def test_rate_in_proportion_to_springs() -> None:
    """Half the spring range, half the spring rate: sheet water.md 1.5, memory."""
    assert stream.rate_by_springs(2.4, 5.0, 2.5) == pytest.approx(1.2)


def test_crab_angle() -> None:
    """1.2 kn across, 8 kn through the water: 8.63 degrees. Sheet water.md 9 row 52, derived."""
    north, east = stream.components(1.2, 270.0 * DEGREE)  # setting to port of a course of north
    found = stream.crab_angle(8.0, 0.0, north, east)
    assert found / DEGREE == pytest.approx(8.63, abs=0.01)


@given(speed=st.floats(0.5, 12.0), course=angles, rate=rates, towards=angles)
def test_water_and_stream_add_up_to_the_course(speed: float, course: float, rate: float, towards: float) -> None:
    north, east = stream.components(rate, towards)
    crab = stream.crab_angle(speed, course, north, east)
    across = abs(rate * np.sin(towards - course))
    if across > speed * (1.0 + 1e-9):
        assert np.isnan(crab)
        assert np.isnan(stream.speed_over_ground(speed, course, north, east))
    elif across < speed * (1.0 - 1e-9):
        over_ground = stream.speed_over_ground(speed, course, north, east)
        assert speed * np.cos(course + crab) + north == pytest.approx(over_ground * np.cos(course), abs=1e-9)
        assert speed * np.sin(course + crab) + east == pytest.approx(over_ground * np.sin(course), abs=1e-9)


@given(rate=st.floats(0.01, 4.0), towards=angles)
def test_components_turn_back(rate: float, towards: float) -> None:
    found_rate, found_towards = stream.rate_and_direction(*stream.components(rate, towards))
    assert found_rate == pytest.approx(rate)
    assert np.cos(found_towards - towards) == pytest.approx(1.0)
    assert 0.0 <= found_towards <= 2.0 * np.pi  # a hair below north rounds to the whole circle


def test_constants_on_an_axis() -> None:
    """A stream of 1 m/s towards 150 degrees: north -0.866, east 0.5. By hand."""
    north, east = stream.on_axis({"M2": (1.0, 0.3)}, 150.0 * DEGREE)
    assert north["M2"] == pytest.approx((-0.8660254, 0.3))
    assert east["M2"] == pytest.approx((0.5, 0.3))
