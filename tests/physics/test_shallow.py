"""Shallow-water factors against the computed table of the sheet, the moorings manual's frigate, and their limits."""

import math

import numpy as np
import pytest

from leadsman.physics import shallow
from leadsman.units import LONG_TON

TANKER = (320.0, 58.0, 20.8, 0.81)
DEPTHS = (3.0, 2.0, 1.5, 1.3, 1.2)
TABLE = {  # manoeuvring sheet 7.1, "Factors computed for KVLCC2", to be used as unit-test values; two decimals
    "fyv": (1.08, 1.26, 1.85, 2.77, 3.76),
    "fnv": (1.14, 1.40, 2.13, 3.25, 4.47),
    "Yv": (1.11, 1.37, 2.03, 2.99, 4.21),
    "Yr": (0.86, 0.95, 1.17, 1.39, 1.57),
    "Nr": (0.93, 0.99, 1.21, 1.54, 1.95),
    "fyr": (1.04, 1.14, 1.47, 2.00, 2.56),
    "fnr": (1.05, 1.17, 1.57, 2.18, 2.84),
    "gnr": (1.06, 1.19, 1.61, 2.25, 2.95),
    "wake": (1.08, 1.16, 1.26, 1.33, 1.38),
    "thrust": (1.01, 1.02, 1.04, 1.05, 1.05),
    "straightening": (1.02, 1.40, 1.67, 1.52, 1.29),
}


@pytest.mark.parametrize("name", TABLE)
def test_factors_of_the_tanker(name: str) -> None:
    found = getattr(shallow.factors(np.array(DEPTHS), *TANKER, 0.57), name)
    np.testing.assert_allclose(found, TABLE[name], atol=0.0051, err_msg="manoeuvring sheet 7.1, computed")


def test_deep_water_changes_nothing() -> None:
    """All but the thrust deduction, whose fit as printed leaves 0.2 % at infinite depth."""
    found = shallow.factors(math.inf, *TANKER, 0.57)
    assert tuple(found._replace(thrust=1.0)) == pytest.approx((1.0,) * len(found))
    assert found.thrust == pytest.approx(1.0, abs=0.005)


def test_below_the_limit_the_last_value_is_kept() -> None:
    assert shallow.factors(1.02, *TANKER, 0.57).fnv == shallow.factors(1.1, *TANKER, 0.57).fnv


FRIGATE = [  # draught/depth, force MN at 1.5 m/s, origin
    (0.096, 0.55, "UFC 4-159-03 (2005) table 4-6, FFG-7, seen; particulars from memory (forces sheet 2.1)"),
    (0.288, 0.66, "the same"),
    (0.576, 1.03, "the same"),
    (0.720, 1.30, "the same"),
    (0.960, 1.90, "the same"),
]


@pytest.mark.parametrize(("share", "expected", "origin"), FRIGATE)
def test_lateral_drag_of_the_frigate(share: float, expected: float, origin: str) -> None:
    volume = 3590.0 * LONG_TON / 1026.0
    deep = shallow.deep_cross_flow_drag(124.36, 13.72, 46.97, volume)
    drag = shallow.cross_flow_drag(1.0 / share, deep)
    force = 0.5 * 1026.0 * 1.5**2 * 124.36 * 4.389 * drag / 1e6
    assert force == pytest.approx(expected, rel=0.015), origin


def test_lateral_drag_of_the_tanker() -> None:
    """Sheet 4.3 [computed]: C0 = 0.57; at depth/draught 1.2 2.4."""
    deep = shallow.deep_cross_flow_drag(320.0, 58.0, 0.998 * 58.0 * 20.8, 312600.0)
    assert deep == pytest.approx(0.57, abs=0.005)
    assert shallow.cross_flow_drag(1.2, deep) == pytest.approx(2.4, abs=0.02)


def test_waves_lengthen_towards_the_critical_speed() -> None:
    """[Schlichting1934]: no effect far below, sqrt(1/tanh 1) at the depth Froude number of 1 (by hand 1.1459)."""
    assert shallow.schlichting(0.0, 10.0, 9.81) == 1.0
    assert shallow.schlichting(3.0, math.inf, 9.81) == 1.0
    assert shallow.schlichting(math.sqrt(98.1), 10.0, 9.81) == pytest.approx(1.1459, abs=1e-4)


@pytest.mark.parametrize("name", ["fyv", "fnv", "Yv", "sway_added_mass", "cross_flow_drag", "resistance"])
def test_growth_is_monotonic(name: str) -> None:
    depths = np.linspace(4.0, 1.1, 60)
    assert (np.diff(getattr(shallow.factors(depths, *TANKER, 0.57), name)) >= 0.0).all()


def test_a_tanker_at_constant_revolutions_slows_as_remembered() -> None:
    """Sheet 7.2: 15 to 30 % at depth/draught 1.2 [memory]; the resistance that brings it about is ours."""
    assert shallow.close_to_the_bed(2.0) == 1.0
    assert shallow.close_to_the_bed(3.0) == 1.0
    assert shallow.close_to_the_bed(1.2) == pytest.approx(1.0 + (2.0 / 1.2 - 1.0) ** 2)
    assert (np.diff(shallow.close_to_the_bed(np.linspace(2.0, 1.1, 20))) > 0.0).all()


def test_the_rotational_side_force_never_turns_round() -> None:
    """The cubic of Yr (memory) fell below nothing for a fullness Cb B/d under 1.9 at depth/draught 1.2."""
    for beam in (12.0, 14.4, 20.0, 26.0):
        found = shallow.factors(np.linspace(3.0, 1.1, 30), 90.0, beam, 6.2, 0.8, 0.6).Yr
        assert (found > 0.5).all()


BY_WING = [  # factor, its value for the tanker at depth/draught 1.2, origin
    ("fnv", 1.709, "by hand: share 0.8333, (1.3090 cot 1.3090)^1.7 = 0.1685, 1 / (0.4167 + 0.1685)"),
    ("Yr", 1.115, "by hand: 0.3508^0.7 = 0.480, 1 / (0.4167 + 0.480)"),
    ("fyv", 4.804, "by hand: 1 + 6 x 0.8333^2.5"),
    ("straightening", 1.201, "by hand: 1 + 0.01342 + 3.0710 - 2.8834"),
    ("thrust", 1.340, "by hand: 1 - 0.1667 + 0.5066"),
]


@pytest.mark.parametrize(("name", "expected", "origin"), BY_WING)
def test_the_other_set(name: str, expected: float, origin: str) -> None:
    """[Hirano1985] and [AminHasegawa2010] as the manoeuvring sheet 7.1 writes them."""
    assert getattr(shallow.hirano(1.2, *TANKER, 0.57), name) == pytest.approx(expected, rel=2e-3), origin


def test_the_other_set_in_deep_water() -> None:
    found = shallow.hirano(math.inf, *TANKER, 0.57)
    assert tuple(found) == pytest.approx((1.0,) * len(found), abs=1e-6)
