"""Mooring lines against the forces sheet, sections 7 and 10."""

import math

import pytest

from leadsman.physics import mooring
from leadsman.units import DEGREE


def test_class_lines() -> None:
    origin = "forces sheet check 37 [memory]"
    assert mooring.design_breaking_load(8500.0) == 1200e3, origin
    assert mooring.number_of_lines(8500.0, "container ship", 5200.0) == (13, 4), origin
    assert mooring.number_of_lines(8500.0, "tanker", 4999.0) == (17, 2), "four more; two springs below EN 5000"


WINDS = [  # side area, passenger, m/s, origin
    (8500.0, False, 25.0, "forces sheet 7 [memory]"),
    (2000.0, True, 25.0, "forces sheet 7 [memory]"),
    (3000.0, True, 23.0, "by hand: 25 - 0.002 x 1000"),
    (9000.0, True, 21.0, "forces sheet 7 [memory]"),
]


@pytest.mark.parametrize(("area", "passenger", "expected", "origin"), WINDS)
def test_acceptable_wind(area: float, passenger: bool, expected: float, origin: str) -> None:
    assert mooring.acceptable_wind(area, passenger) == pytest.approx(expected), origin


def test_first_lines_alongside() -> None:
    """Four lines of 1200 kN breaking load, safe 600 kN, 70 degrees in plan, 20 up, share 0.65: 1378 kN."""
    safe = mooring.safe_load(1200e3, "synthetic")
    held = mooring.held_alongside(4, safe, 70.0 * DEGREE, 20.0 * DEGREE, mooring.UNEQUAL_SHARE)
    assert held / 1000.0 == pytest.approx(1378.0, rel=0.001), "forces sheet 7, example [computed]"


def test_lines_before_letting_go() -> None:
    count = mooring.lines_before_letting_go(1000e3, 0.0, 600e3, math.pi / 2.0)
    assert count == 4, "by hand: 1250 / (0.65 x 600) = 3.2"
    assert mooring.lines_before_letting_go(100e3, 500e3, 600e3, math.pi / 2.0) == 0
    assert mooring.lines_before_letting_go(4 * 0.65 * 600e3 / 1.25, 0.0, 600e3, math.pi / 2.0) == 4


def test_components_close() -> None:
    pull = mooring.components(500e3, 40.0 * DEGREE, 25.0 * DEGREE)
    assert math.hypot(*pull) == pytest.approx(500e3)
    assert pull.athwart / pull.along == pytest.approx(math.tan(40.0 * DEGREE))


def test_stiffness() -> None:
    soft, stiff = mooring.stiffness(1200e3, 50.0, "nylon")
    assert soft == pytest.approx(1200e3 / (0.30 * 50.0)), "forces sheet 7 [common practice]"
    assert stiff == pytest.approx(1200e3 / (0.25 * 50.0))
    assert mooring.stiffness(1200e3, 50.0, "HMPE")[0] > stiff


def test_messages() -> None:
    with pytest.raises(ValueError, match="line material 'hair' is not known; expected synthetic, wire"):
        mooring.safe_load(1.0, "hair")
    with pytest.raises(ValueError, match="line fibre 'hair' is not known; known: wire, HMPE, polyester"):
        mooring.stiffness(1.0, 1.0, "hair")


def test_limit_is_marked() -> None:
    (breach,) = mooring.METHODS["design_breaking_load"].outside(side_area=1500.0)
    assert breach.quantity == "side_area"
