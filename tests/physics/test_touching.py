"""Probability of touching: rows 47 and 48 of the sheet on water, derived, and a Monte Carlo count beside them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import touching


def test_calm() -> None:
    deviation = touching.together(0.10, 0.05, 0.274 / 1.96, 0.15)
    assert deviation == pytest.approx(0.2335, rel=0.002)
    assert touching.calm(0.3, 0.2335) == pytest.approx(0.0995, rel=0.02)
    assert touching.calm(0.5, 0.2335) == pytest.approx(0.0161, rel=0.02)
    assert touching.calm(0.0, 0.2335) == pytest.approx(0.5)


def test_in_waves() -> None:
    assert touching.in_waves(1.2, 0.2335, 0.2281, 200) == pytest.approx(0.045, rel=0.03)


def test_in_waves_by_counting_draws() -> None:
    """A quarter of a million passages drawn: the count's own standard deviation is about one per cent."""
    draw = np.random.default_rng(7)
    clearance = draw.normal(0.9, 0.25, 250_000)
    # The greatest of N Rayleigh cycles by its distribution turned round.
    greatest = 0.3 * np.sqrt(-2.0 * np.log(-np.expm1(np.log(draw.random(250_000)) / 50)))
    assert touching.in_waves(0.9, 0.25, 0.3, 50) == pytest.approx(np.mean(greatest > clearance), rel=0.03)


@given(
    mean=st.floats(-1.0, 3.0), deviation=st.floats(0.02, 0.6), wave=st.floats(0.001, 0.8), cycles=st.floats(1.0, 2000.0)
)
def test_waves_only_make_it_worse(mean: float, deviation: float, wave: float, cycles: float) -> None:
    still = touching.calm(mean, deviation)
    rough = touching.in_waves(mean, deviation, wave, cycles)
    assert still <= rough <= 1.0
    assert rough <= touching.in_waves(mean, deviation, 1.1 * wave, cycles) + 1e-9
    assert rough <= touching.in_waves(mean, deviation, wave, 2.0 * cycles) + 1e-9
    assert rough >= touching.in_waves(mean + 0.1, deviation, wave, cycles) - 1e-9


@given(mean=st.floats(-1.0, 3.0), deviation=st.floats(0.02, 0.6))
def test_no_waves_is_calm(mean: float, deviation: float) -> None:
    assert touching.in_waves(mean, deviation, 0.0, 200) == pytest.approx(touching.calm(mean, deviation), abs=1e-12)


def test_many_stations() -> None:
    clearances = np.array([[0.3, 0.5], [0.8, 1.2]])
    found = touching.in_waves(clearances, 0.2335, 0.2281, 200)
    assert found.shape == (2, 2)
    assert found[1, 1] == touching.in_waves(1.2, 0.2335, 0.2281, 200)


def test_bounds_of_a_passage() -> None:
    assert touching.passage([0.01, 0.03, 0.02]) == pytest.approx((0.03, 0.06))
    assert touching.passage([0.6, 0.7]) == (0.7, 1.0)
