"""Hull derivatives, added masses and interaction coefficients against the benchmark tanker and their printed forms."""

import numpy as np
import pytest

from leadsman.physics import hull, hull_added_mass, hull_interaction

LENGTH, BEAM, DRAUGHT, BLOCK = 320.0, 58.0, 20.8, 0.810  # KVLCC2, [YasukawaYoshimura2015] table 1, transcription
S = BLOCK * BEAM / LENGTH

ADDED = [  # in units of ½ρL²d and ½ρL⁴d, model size, block coefficient from her volume
    ("surge", 0.0227, 0.00005, 0.022, "manoeuvring sheet 3.5, computed; paper 0.022"),
    ("sway", 0.225, 0.0005, 0.223, "manoeuvring sheet 3.5, computed; paper 0.223"),
    ("yaw", 0.0110, 0.00005, 0.011, "manoeuvring sheet 3.5, computed; paper 0.011"),
]


@pytest.mark.parametrize(("quantity", "expected", "tolerance", "measured", "origin"), ADDED)
def test_zhou_for_the_benchmark_tanker(
    quantity: str, expected: float, tolerance: float, measured: float, origin: str
) -> None:
    length, beam, draught, volume = 7.0, 1.27, 0.46, 3.27
    block = volume / (length * beam * draught)
    found = getattr(hull_added_mass.zhou(length, beam, draught, block), quantity) * 2.0 * block * beam / length
    assert found == pytest.approx(expected, abs=tolerance), origin
    assert found == pytest.approx(measured, rel=0.05), origin


LINEAR = [  # derivative, kijima by hand, origin
    ("Yv", -(0.5 * np.pi * 0.13 + 1.4 * 0.1468125), "by hand, sheet 3.1: k = 2 x 20.8/320, s = 0.81 x 58/320"),
    ("Nv", -0.13, "by hand: -k"),
    ("Nr", -0.54 * 0.13 + 0.0169, "by hand: -0.54 k + k²"),
    ("Yr", 0.0227 + 0.07340625, "sheet 3.1: Yr = mx' + 0.5 s"),
]


@pytest.mark.parametrize(("name", "expected", "origin"), LINEAR)
def test_both_sets_share_their_linear_part(name: str, expected: float, origin: str) -> None:
    for method in (hull.kijima, hull.yoshimura_masumoto):
        found = getattr(method(LENGTH, BEAM, DRAUGHT, BLOCK, 0.0227, 0.225), name)
        assert found == pytest.approx(expected, abs=1e-9), origin


def test_regressions_are_near_the_measured_derivatives_of_the_tanker() -> None:
    """[YasukawaYoshimura2015] table 2 (transcription): the linear terms a regression should meet within a third."""
    measured = {"Yv": -0.315, "Yr": 0.083, "Nv": -0.137, "Nr": -0.049}
    found = hull.yoshimura_masumoto(LENGTH, BEAM, DRAUGHT, BLOCK, 0.0227, 0.225)
    for name, value in measured.items():
        assert getattr(found, name) == pytest.approx(value, rel=0.34), name


def test_clarke_is_near_the_measured_linear_terms() -> None:
    """[YasukawaYoshimura2015] table 2 (transcription); a wholly independent regression."""
    found = hull.clarke(LENGTH, BEAM, DRAUGHT, BLOCK)
    assert found.Yv == pytest.approx(-0.315, rel=0.25)
    assert found.Nv == pytest.approx(-0.137, rel=0.1)
    assert found.Nr == pytest.approx(-0.049, rel=0.25)
    assert found.sway_added_mass == pytest.approx(0.223, rel=0.2)


def test_trim_by_the_stern_makes_her_steadier() -> None:
    """More lateral area aft: less unstable yaw moment, more yaw damping (hydrostatics of the deadwood; common
    practice)."""
    level = hull.kijima(LENGTH, BEAM, DRAUGHT, BLOCK, 0.02, 0.22)
    trimmed = hull.kijima(LENGTH, BEAM, DRAUGHT, BLOCK, 0.02, 0.22, trim=0.1 * DRAUGHT)
    assert abs(trimmed.Nv) < abs(level.Nv)
    assert abs(trimmed.Nr) > abs(level.Nr)


def test_methods_take_arrays() -> None:
    block = np.array([0.6, 0.7, 0.8])
    found = hull.yoshimura_masumoto(200.0, 32.0, 10.0, block, 0.02, 0.2)
    assert np.shape(found.Yv) == np.shape(found.Nrrr) == np.shape(found.Xvv) == (3,)
    assert np.shape(hull_interaction.kijima(200.0, 32.0, block, 0.3).wake_ratio) == (3,)
    assert np.shape(hull_added_mass.zhou(200.0, 32.0, 10.0, block).sway) == (3,)


def test_interaction_is_near_the_measured_values_of_the_tanker() -> None:
    """[YasukawaYoshimura2015] table 3 (transcription): aH 0.312, tR 0.387, eps 1.09, mean gammaR 0.52."""
    own = hull_interaction.kijima(LENGTH, BEAM, BLOCK, 0.35)
    assert own.force_increase == pytest.approx(0.312, rel=0.15)
    assert own.wake_ratio == pytest.approx(1.09, rel=0.15)
    other = hull_interaction.yoshimura_masumoto(LENGTH, BEAM, BLOCK, 0.35)
    assert other.steering_deduction == pytest.approx(0.387, rel=0.02)
    assert other.straightening == pytest.approx(0.52, rel=0.2)


WAKE = [
    (0.81, 1.0, 0.355, "by hand: 0.5 x 0.81 - 0.05"),
    (0.60, 2.0, 0.13, "by hand: 0.55 x 0.60 - 0.20"),
]


@pytest.mark.parametrize(("block", "screws", "expected", "origin"), WAKE)
def test_taylor_wake(block: float, screws: float, expected: float, origin: str) -> None:
    assert hull_interaction.taylor_wake(block, screws) == pytest.approx(expected, abs=1e-9), origin


def test_limits_are_reported() -> None:
    (breach,) = hull.METHODS["yoshimura_masumoto"].outside(block_coefficient=0.81)
    assert str(breach) == "block coefficient 0.81 is outside 0.5 to 0.65"
