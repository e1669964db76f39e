"""Friction line, wetted surface, power and thrust relations; the tanker's resistance against her benchmark
coefficient."""

import math

import numpy as np
import pytest

from leadsman.physics import resistance
from leadsman.physics.resistance import Form

TANKER_FORM = Form(0.998, 0.901, 3.48, 0.0, 0.0, 0.0, 0.0)  # KVLCC2 CM, CWP, lcb from memory; bulb neglected
FRICTION = [  # Reynolds, CF, origin
    (1e6, 0.075 / 16.0, "by hand: 0.075/(6-2)²"),
    (1e9, 0.075 / 49.0, "by hand: 0.075/(9-2)²"),
]


@pytest.mark.parametrize(("reynolds", "expected", "origin"), FRICTION)
def test_ittc_1957(reynolds: float, expected: float, origin: str) -> None:
    assert resistance.ittc_1957(reynolds, 1.0, 1.0) == pytest.approx(expected, rel=1e-9), origin


def test_denny_mumford() -> None:
    """By hand for KVLCC2: 1.7 x 320 x 20.8 + 312600/20.8; her published wetted surface is 27 194 m² (memory)."""
    found = resistance.denny_mumford(320.0, 20.8, 312600.0)
    assert found == pytest.approx(26344.0, abs=1.0)
    assert found == pytest.approx(27194.0, rel=0.04)


def test_wetted_surface_by_holtrop_agrees() -> None:
    """Same memory value, 27 194 m²."""
    found = resistance.holtrop_surface(320.0, 58.0, 20.8, 0.81, 0.998, 0.901, 0.0)
    assert found == pytest.approx(27194.0, rel=0.04)


def test_resistance_of_the_tanker_gives_her_full_scale_coefficient() -> None:
    """Sheet 1: R0' about 0.0078 for the full-scale ship [computed by friction line and form]; Holtrop adds waves, so
    20 %."""
    speed = 15.5 * 1852.0 / 3600.0
    drag = resistance.holtrop_mennen(speed, 325.5, 58.0, 20.8, 312600.0, TANKER_FORM, 1025.0, 1.19e-6)
    found = drag / (0.5 * 1025.0 * 320.0 * 20.8 * speed**2)
    assert found == pytest.approx(0.0078, rel=0.20)


def test_resistance_grows_steeper_than_the_square() -> None:
    form = Form(0.98, 0.75, -0.5, 20.0, 4.0, 0.0, 0.0)
    speeds = np.linspace(2.0, 12.0, 30)
    drag = resistance.holtrop_mennen(speeds, 200.0, 30.0, 10.0, 36000.0, form, 1025.0, 1.19e-6)
    assert (np.diff(drag) > 0.0).all()
    per_square = drag / speeds**2
    assert per_square[-1] > per_square[5]


def test_bollard_thrust_from_power() -> None:
    """Identity: n from power, then T = KT rho n² D⁴; KT0 0.354, KQ0 0.0434 of B4-70 P/D 0.8 (sheet section 5)."""
    power, diameter = 10e6, 6.0
    turning = (power / (2.0 * math.pi * 0.0434 * 1025.0 * diameter**5)) ** (1.0 / 3.0)
    expected = 0.354 * 1025.0 * turning**2 * diameter**4
    assert resistance.bollard_thrust(power, diameter, 0.354, 0.0434, 1025.0) == pytest.approx(expected)


ASTERN = [  # power share, efficiency share, resistance ratio, least, greatest speed ratio, origin
    (0.6, 0.65, 1.35, 0.63, 0.72, "sheet 5: x = 0.6, efficiency 0.6-0.7, resistance 1.2-1.5: 0.63 to 0.72"),
]


@pytest.mark.parametrize(("power", "efficiency", "drag", "least", "most", "origin"), ASTERN)
def test_astern_speed_is_not_the_power_share(
    power: float, efficiency: float, drag: float, least: float, most: float, origin: str
) -> None:
    assert least <= resistance.astern_speed_ratio(power, efficiency, drag) <= most, origin
