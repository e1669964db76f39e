"""Mean and extreme levels from constants."""

import tomllib
from pathlib import Path

import pytest

from leadsman.physics import datum
from leadsman.units import DEGREE

STATION = tomllib.loads(
    (Path(__file__).parents[2] / "authorities" / "noaa_boston" / "station.toml").read_text(encoding="utf-8")
)
BOSTON = {name: (amplitude, lag * DEGREE) for name, (amplitude, lag) in STATION["constituents"].items()}


def test_form_number_of_boston() -> None:
    """0.164, semidiurnal: sheet water.md 1.3, computed."""
    m2, s2, k1, o1 = (BOSTON[name][0] for name in ("M2", "S2", "K1", "O1"))
    assert datum.form_number(m2, s2, k1, o1) == pytest.approx(0.164, abs=0.0005)


def test_spring_and_neap_levels() -> None:
    """Mean level 3 m, M2 2 m, S2 0.5 m. By hand."""
    assert datum.spring_levels(3.0, 2.0, 0.5) == (5.5, 0.5)
    assert datum.neap_levels(3.0, 2.0, 0.5) == (4.5, 1.5)


def test_lowest_and_highest_tide_of_boston_are_those_noaa_publishes() -> None:
    """HAT 3.757 m (2016-11-15), LAT -0.646 m (2036-01-14) above MLLW: NOAA CO-OPS datums, seen; years hold both."""
    lowest, highest = datum.astronomical_extremes(BOSTON, STATION["mean_level_m"], 2016, years=21)
    assert highest == pytest.approx(STATION["datums_m"]["HAT"], abs=0.005)
    assert lowest == pytest.approx(STATION["datums_m"]["LAT"], abs=0.005)
