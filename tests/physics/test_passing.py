"""Passing ships and propeller jets against the forces sheet, section 10, and against the mechanics of two bodies."""

import math

import numpy as np
import pytest

from leadsman.physics import passing
from leadsman.units import SEA_WATER_DENSITY

SHIPS = {
    "separation": 60.0,
    "speed": 3.0,
    "moored_length": 240.0,
    "passing_length": 240.0,
    "moored_section": 500.0,
    "passing_section": 500.0,
    "density": SEA_WATER_DENSITY,
}


def test_abeam_in_deep_water() -> None:
    found = passing.wang(0.0, water_depth=None, **SHIPS)
    assert found.towards / 1000.0 == pytest.approx(258.8, rel=0.01), "forces sheet check 32 [memory and derived]"
    assert found.along == pytest.approx(0.0, abs=1.0)
    assert found.yaw == pytest.approx(0.0, abs=100.0)


def test_ahead_in_deep_water() -> None:
    origin = "forces sheet check 33 [memory and derived]"
    found = passing.wang(100.0, water_depth=None, **SHIPS)
    assert found.along / 1000.0 == pytest.approx(66.7, rel=0.01), origin
    assert found.towards / 1000.0 == pytest.approx(-3.1, abs=0.5), origin
    assert found.yaw / 1000.0 == pytest.approx(10975.0, rel=0.01), origin


def test_abeam_in_shallow_water() -> None:
    found = passing.wang(0.0, water_depth=15.0, **SHIPS)
    assert found.towards / 1000.0 == pytest.approx(1020.0, rel=0.02), "forces sheet check 34 [memory and derived]"


@pytest.mark.parametrize("depth", [None, 18.0])
def test_symmetry_of_the_passage(depth: float | None) -> None:
    """Equal ships, symmetric fore and aft: surge and yaw change sign with the place, sway does not."""
    places = np.linspace(10.0, 400.0, 40)
    before = passing.wang(-places, water_depth=depth, **SHIPS)
    after = passing.wang(places, water_depth=depth, **SHIPS)
    np.testing.assert_allclose(after.along, -np.asarray(before.along), atol=1.0)
    np.testing.assert_allclose(after.towards, before.towards, atol=1.0)
    np.testing.assert_allclose(after.yaw, -np.asarray(before.yaw), atol=100.0)


def test_fades_with_distance_and_grows_as_the_square_of_speed() -> None:
    far = passing.wang(5000.0, water_depth=None, **SHIPS)
    assert abs(far.towards) < 1.0
    slow = passing.wang(50.0, water_depth=15.0, **SHIPS)
    fast = passing.wang(50.0, water_depth=15.0, **SHIPS | {"speed": 6.0})
    assert fast.towards == pytest.approx(4.0 * slow.towards)


def test_deep_water_is_the_limit_of_shallow() -> None:
    deep = passing.wang(70.0, water_depth=None, **SHIPS)
    nearly = passing.wang(70.0, water_depth=50000.0, **SHIPS)
    np.testing.assert_allclose(nearly, deep, rtol=1e-4)


def test_jets() -> None:
    found = passing.jet_at_propeller(1.5, 6.0, 0.35)
    assert found == pytest.approx(8.52, rel=0.005), "forces sheet check 35 [derived]"
    assert math.sqrt(8.0 / math.pi) == pytest.approx(1.60, abs=0.005)
    open_jet = passing.jet_from_power(5e6, 4.0, False, SEA_WATER_DENSITY)
    assert open_jet == pytest.approx(1.48 * (5e6 / (1025.0 * 16.0)) ** (1.0 / 3.0)), "forces sheet 8.2 [memory]"
    assert passing.jet_from_power(5e6, 4.0, True, SEA_WATER_DENSITY) < open_jet
    assert passing.jet_on_axis(10.0, 5.0, 4.0, False) == 10.0, "within the first 2.8 jet widths"
    assert passing.jet_on_axis(10.0, 80.0, 4.0, False) == pytest.approx(2.8 * 10.0 * 0.71 * 4.0 / 80.0)
    assert passing.jet_on_bed(10.0, 4.0, 5.0, True) == pytest.approx(0.30 * 10.0 * 4.0 / 5.0), "forces sheet 8.2"


def test_limits_are_marked() -> None:
    broken = passing.METHODS["wang"].outside(separation_to_mean_beam=1.0, froude_depth=0.5)
    assert {breach.quantity for breach in broken} == {"separation_to_mean_beam", "froude_depth"}
