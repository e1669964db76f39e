"""Motions in waves: rows 38 to 43 of the sheet on water and properties of the formulas."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.compiled import kernel
from leadsman.physics import waves
from leadsman.units import DEGREE, GRAVITY

SHIP = {"length_between_perpendiculars": 230.0, "beam": 32.2, "draught": 12.0, "block_coefficient": 0.80}
SPEED = 5.144
HEAD = np.pi
FREQUENCY = np.linspace(0.1, 3.0, 2000)


def deep(frequency: float | np.ndarray, angle: float, speed: float = SPEED) -> waves.Response:
    return waves.response(frequency, waves.wave_number_in_deep_water(frequency), angle, speed, **SHIP)


RESPONSES = [  # frequency, heave m/m, pitch rad/m in head seas; rows 38 and 39, computed
    (0.4, 0.6548, 0.014481),
    (0.3, 0.9073, 0.009015),
]


@pytest.mark.parametrize(("frequency", "heave", "pitch"), RESPONSES)
def test_response(frequency: float, heave: float, pitch: float) -> None:
    found = deep(frequency, HEAD)
    assert found.heave == pytest.approx(heave, abs=0.0005)
    assert found.pitch == pytest.approx(pitch, abs=1e-5)


def test_deviations_in_a_growing_sea() -> None:
    """Row 40, computed: significant height 2 m, peak period 10 s, peakedness 3.3."""
    spectrum = waves.jonswap(FREQUENCY, 2.0, 10.0, 3.3)
    found = deep(FREQUENCY, HEAD)
    bow = waves.vertical_motion(found.heave, found.pitch, 115.0)
    assert waves.deviation(found.heave, spectrum, FREQUENCY) == pytest.approx(0.0475, rel=0.02)
    assert waves.deviation(found.pitch, spectrum, FREQUENCY) / DEGREE == pytest.approx(0.1112, rel=0.02)
    assert waves.deviation(bow, spectrum, FREQUENCY) == pytest.approx(0.2281, rel=0.02)


def test_extremes() -> None:
    """Row 41, derived: deviation 0.2281 m, 200 cycles."""
    assert waves.exceeded_with(0.01, 0.2281, 200) == pytest.approx(1.015, abs=0.002)
    assert waves.most_probable_greatest(0.2281, 200) == pytest.approx(0.743, abs=0.002)
    assert waves.most_probable_greatest(0.2281, 0.5) == 0.0


def test_bretschneider_moments() -> None:
    """Row 42, derived: significant height 2 m, peak period 10 s; the period needs the whole tail of the spectrum."""
    frequency = np.linspace(0.1, 25.0, 20_000)
    spectrum = waves.bretschneider(frequency, 2.0, 10.0)
    zeroth = waves.moment(spectrum, frequency, 0.0)
    assert zeroth == pytest.approx(0.2500, rel=0.005)
    assert waves.zero_crossing_period(1.0, spectrum, frequency, 1.0) == pytest.approx(7.11, rel=0.005)
    assert waves.bretschneider(0.2 * np.pi, 2.0, 10.0) == pytest.approx(0.570, rel=0.005)


@pytest.mark.parametrize("peakedness", [1.0, 2.0, 3.3, 5.0])
def test_jonswap_keeps_the_significant_height(peakedness: float) -> None:
    """By definition the zeroth moment is the square of the significant height over 16; the usual scale is good to 1 %."""
    frequency = np.linspace(0.1, 15.0, 10_000)
    spectrum = waves.jonswap(frequency, 2.0, 10.0, peakedness)
    assert waves.moment(spectrum, frequency, 0.0) == pytest.approx(0.25, rel=0.01)


def test_roll_period() -> None:
    """Row 43, computed: coefficient 0.3358, 19.74 s."""
    assert waves.roll_period(230.0, 32.2, 12.0, 1.2) == pytest.approx(19.74, abs=0.02)


def test_wave_length_in_shallow_water() -> None:
    """Water sheet 3.3, computed: 10 s waves are 109.05 m long in 15 m and 156.13 m in deep water."""
    frequency = 2.0 * np.pi / 10.0
    assert 2.0 * np.pi / waves.wave_number(frequency, 15.0) == pytest.approx(109.05, abs=0.01)
    assert 2.0 * np.pi / waves.wave_number_in_deep_water(frequency) == pytest.approx(156.13, abs=0.01)


@given(frequency=st.floats(0.05, 4.0), water_depth=st.floats(0.5, 500.0))
def test_wave_number_obeys_the_dispersion_relation(frequency: float, water_depth: float) -> None:
    k = waves.wave_number(frequency, water_depth)
    assert GRAVITY * k * np.tanh(k * water_depth) == pytest.approx(frequency**2, rel=1e-12)


def test_in_very_long_waves_she_rides_the_surface() -> None:
    """Mechanics: heave follows the wave; in head seas pitch follows its slope."""
    frequency = 0.03
    still = deep(frequency, HEAD, speed=0.0)
    assert still.heave == pytest.approx(1.0, abs=0.02)
    assert still.pitch == pytest.approx(waves.wave_number_in_deep_water(frequency), rel=0.02)


@given(frequency=st.floats(0.15, 2.0), angle=st.floats(0.0, np.pi))
def test_port_and_starboard_waves_are_alike(frequency: float, angle: float) -> None:
    assert deep(frequency, angle) == pytest.approx(deep(frequency, -angle), rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("offset", [-1e-6, 0.0, 1e-6])
def test_beam_seas_are_no_gap(offset: float) -> None:
    """With the waves abeam the length has no say: no division by zero, no pitch, heave as close by."""
    at = deep(0.5, np.pi / 2 + offset)
    assert at.pitch == pytest.approx(0.0, abs=1e-6)
    assert at.heave == pytest.approx(deep(0.5, np.pi / 2 + 1e-3).heave, rel=1e-3)


def test_following_seas_stay_finite() -> None:
    found = deep(FREQUENCY, 0.0, speed=12.0)
    assert np.all(np.isfinite(found.heave))
    assert np.all(np.isfinite(found.pitch))
    assert waves.encounter_ratio(1.0, waves.wave_number_in_deep_water(1.0), 12.0, 0.0) == waves.LEAST_ENCOUNTER


def roll(frequency: float | np.ndarray, angle: float) -> float | np.ndarray:
    return waves.roll_response(
        frequency, waves.wave_number_in_deep_water(frequency), angle, SPEED, 230.0, 32.2, 12.0, 0.8, 1.2, 0.1, 1025.0
    )


def test_roll_by_slope_in_long_waves_and_at_resonance() -> None:
    """Mechanics: the slope of long waves abeam, and 1/(2 damping) times the slope where the periods meet."""
    period, damping = 20.0, 0.1
    for frequency, gain in ((0.02, 1.0), (2.0 * np.pi / period, 1.0 / (2.0 * damping))):
        k = waves.wave_number_in_deep_water(frequency)
        found = waves.roll_by_slope(frequency, k, np.pi / 2, 0.0, 230.0, period, damping)
        assert found == pytest.approx(gain * k, rel=0.01)


def test_no_roll_in_head_seas() -> None:
    k = waves.wave_number_in_deep_water(0.5)
    assert waves.roll_by_slope(0.5, k, HEAD, SPEED, 230.0, 20.0, 0.1) == pytest.approx(0.0, abs=1e-9)
    assert roll(0.5, HEAD) == pytest.approx(0.0, abs=1e-9)


def test_roll_by_radiation_dies_out_in_long_waves() -> None:
    """The doubt named on the page of methods: at the natural period this form gives next to nothing."""
    natural = 2.0 * np.pi / waves.roll_period(230.0, 32.2, 12.0, 1.2)
    k = waves.wave_number_in_deep_water(natural)
    assert roll(natural, np.pi / 2) < 0.01 * waves.roll_by_slope(natural, k, np.pi / 2, SPEED, 230.0, 19.74, 0.1)
    assert np.all(np.isfinite(roll(FREQUENCY, np.pi / 2)))


@given(probability=st.floats(1e-4, 0.5), cycles=st.floats(1.0, 5000.0))
def test_exceedance_is_that_of_the_rayleigh_distribution(probability: float, cycles: float) -> None:
    amplitude = waves.exceeded_with(probability, 1.0, cycles)
    assert 1.0 - (1.0 - np.exp(-0.5 * amplitude**2)) ** cycles == pytest.approx(probability, rel=1e-6)


@kernel
def in_a_kernel(frequency: float, water_depth: float) -> float:
    k = waves.wave_number(frequency, water_depth)
    motion = waves.response(frequency, k, 2.5, 4.0, 230.0, 32.2, 12.0, 0.8)
    tilt = waves.roll_response(frequency, k, 2.5, 4.0, 230.0, 32.2, 12.0, 0.8, 1.2, 0.1, 1025.0)
    slope = waves.roll_by_slope(frequency, k, 2.5, 4.0, 230.0, 20.0, 0.1)
    return (
        waves.vertical_motion(motion.heave, motion.pitch, 115.0)
        + tilt
        + slope
        + waves.jonswap(frequency, 2.0, 10.0, 3.3)
        + waves.exceeded_with(0.01, 1.0, 200.0)
    )


def test_the_formulas_compile_to_the_same_numbers() -> None:
    assert in_a_kernel(0.5, 15.0) == pytest.approx(in_a_kernel.function(0.5, 15.0), rel=1e-12)
