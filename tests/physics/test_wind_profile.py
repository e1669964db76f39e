"""Height, gusts and the wind felt aboard, against the forces sheet, section 10."""

import math

import numpy as np
import pytest

from leadsman.physics import wind_profile
from leadsman.units import KNOT, TONNE_FORCE

GUSTS = [  # seconds, over the hour, origin
    (3.0, 1.509, "forces sheet check 14; 1.53 in a discussion of ASCE 7-95 figure C6-1 [seen]"),
    (30.0, 1.324, "forces sheet 1.7 [memory]"),
    (45.0, 1.28, "discussion of ASCE 7-95 figure C6-1 [seen]"),
    (60.0, 1.244, "forces sheet 1.7 [memory]"),
    (600.0, 1.050, "forces sheet 1.7 [memory]"),
]


@pytest.mark.parametrize(("seconds", "expected", "origin"), GUSTS)
def test_hourly_gust(seconds: float, expected: float, origin: str) -> None:
    assert wind_profile.hourly_gust(seconds) == pytest.approx(expected, abs=0.01), origin


def test_gust_of_thirty_seconds_over_ten_minutes() -> None:
    assert wind_profile.gust_factor(30.0, 600.0) == pytest.approx(1.260, abs=0.01), "forces sheet check 15"


def test_gust_factor_is_nearly_one_over_the_hour_and_never_grows_with_time() -> None:
    seconds = np.geomspace(1.0, 36000.0, 200)
    factors = wind_profile.hourly_gust(seconds)
    assert wind_profile.hourly_gust(3600.0) == pytest.approx(1.0, abs=0.005)
    assert np.all(np.diff(factors) <= 0.002)


def test_power_law() -> None:
    found = wind_profile.at_height(10.0, 25.0, wind_profile.OPEN_SEA_EXPONENT)
    assert found == pytest.approx(11.399, abs=0.01), "forces sheet check 13"


def test_mean_pressure_is_the_mean_of_the_profile() -> None:
    heights = (np.arange(40000) + 0.5) * (40.0 / 40000)
    mean = np.mean(wind_profile.at_height(1.0, heights, 1.0 / 7.0) ** 2)
    assert wind_profile.pressure_ratio(40.0, 1.0 / 7.0) == pytest.approx(mean, rel=1e-4)


def test_trade_rule() -> None:
    found = wind_profile.trade_rule(12.86, 8500.0) / TONNE_FORCE
    assert found == pytest.approx(78.1, rel=0.01), "forces sheet check 16 [common practice]"
    by_knots = 25.0**2 / 68.0 * 8.5
    assert wind_profile.trade_rule(25.0 * KNOT, 8500.0) / TONNE_FORCE == pytest.approx(by_knots, rel=0.01)


def test_relative_wind() -> None:
    speed, angle = wind_profile.relative(5.0, 0.0, 5.0, 0.0)
    assert (speed, angle) == (10.0, 0.0), "head wind adds to her speed"
    speed, angle = wind_profile.relative(5.0, math.pi / 2.0, 5.0, 0.0)
    assert speed == pytest.approx(5.0 * math.sqrt(2.0))
    assert angle == pytest.approx(math.pi / 4.0), "a wind abeam to starboard is felt from the starboard bow"
    speed, _ = wind_profile.relative(5.0, math.pi, 5.0, 0.0)
    assert speed == pytest.approx(0.0, abs=1e-12)
