"""Density of water against UNESCO's check values and TEOS-10, and the load line rules."""

import gsw
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import density

UNESCO = [  # salinity, temperature, kg/m³: UNESCO 1983, paper 44, check values; sheet water.md 8 and 9 row 58
    (0.0, 5.0, 999.96675),
    (0.0, 25.0, 997.04796),
    (35.0, 5.0, 1027.67547),
    (35.0, 25.0, 1023.34306),
]


@pytest.mark.parametrize(("salinity", "temperature", "expected"), UNESCO)
def test_eos80_check_values(salinity: float, temperature: float, expected: float) -> None:
    assert density.eos80(temperature, salinity) == pytest.approx(expected, abs=1e-4)


TEOS_10 = [  # salinity, temperature, kg/m³: sheet water.md 8, computed with gsw 3.6; the first is 9 row 57
    (35.0, 15.0, 1025.976),
    (0.0, 4.0, 999.976),
    (0.0, 20.0, 998.208),
    (10.0, 10.0, 1007.499),
    (15.0, 15.0, 1010.613),
    (20.0, 15.0, 1014.446),
    (25.0, 20.0, 1017.158),
    (30.0, 10.0, 1023.054),
    (35.0, 0.0, 1028.108),
]


@pytest.mark.parametrize(("salinity", "temperature", "expected"), TEOS_10)
def test_eos80_is_within_5_g_of_teos_10(salinity: float, temperature: float, expected: float) -> None:
    assert density.eos80(temperature, salinity) == pytest.approx(expected, abs=0.005)


@given(salinity=st.floats(0.0, 40.0), temperature=st.floats(0.0, 32.0))
def test_teos_10_agrees_over_the_waters_ships_meet(salinity: float, temperature: float) -> None:
    """TEOS-10 by gsw: 35.16504 g/kg of absolute for 35 of practical salinity, mid-ocean."""
    absolute = 35.16504 / 35.0 * salinity
    expected = gsw.rho(absolute, gsw.CT_from_t(absolute, temperature, 0.0), 0.0)
    assert density.eos80(temperature, salinity) == pytest.approx(expected, abs=0.02)


def test_sinkage_into_fresh_water() -> None:
    """Draught 12 m, block 0.80, waterplane 0.88, 1025 to 1000: 0.273 m. Sheet water.md 9 row 44, derived."""
    assert density.sinkage(12.0, 0.80, 0.88, 1025.0, 1000.0) == pytest.approx(0.273, abs=0.001)


def test_fresh_and_dock_water_allowance() -> None:
    """72 875 t, 66.80 t/cm: 272.7 mm; at 1010: 163.6 mm. Sheet water.md 9 row 45, formula seen."""
    fresh = density.fresh_water_allowance(72_875e3, 66.80e5)
    assert fresh * 1000.0 == pytest.approx(272.7, abs=0.2)
    assert density.dock_water_allowance(fresh, 1010.0) * 1000.0 == pytest.approx(163.6, abs=0.2)


@given(st.floats(1000.0, 1030.0), st.floats(1000.0, 1030.0))
def test_she_keeps_her_weight(before: float, after: float) -> None:
    """Displaced volume times density stays: the box that floats deeper by `sinkage`."""
    sunk = density.sinkage(10.0, 1.0, 1.0, before, after)
    assert (10.0 + sunk) * after == pytest.approx(10.0 * before)
    assert np.sign(sunk) == np.sign(before - after)


def test_the_limits_are_told() -> None:
    (breach,) = density.METHODS["eos80"].outside(temperature=45.0, salinity=35.0)
    assert str(breach) == "temperature 45 is outside -2 to 40"
