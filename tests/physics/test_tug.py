"""Tugs against the forces sheet: the worked balance, the published rules, and the course of every table."""

import math

import numpy as np
import pytest

from leadsman.physics import tug
from leadsman.units import DEGREE, KNOT, TONNE_FORCE

WORKS = [(name, work) for name in tug.types() for work in ("on a line", "pushing")] + [("escort", "indirect")]


def test_worked_balance_of_two_tugs() -> None:
    """Container ship, wind abeam 25 kn: 775 kN and -1550 kNm, margin 1.25, bow thruster 200 kN at +135 m."""
    origin = "forces sheet check 36, worked in 4.4 [computed]"
    sway, yaw = 1.25 * 775e3 - 200e3, 1.25 * -1550e3 - 135.0 * 200e3
    forward, aft = tug.two_tugs(sway, yaw, forward=100.0, aft=-110.0)
    assert forward / 1000.0 == pytest.approx(265.0, rel=0.01), origin
    assert aft / 1000.0 == pytest.approx(504.0, rel=0.01), origin
    assert forward / TONNE_FORCE == pytest.approx(27.0, rel=0.01), origin
    assert aft / TONNE_FORCE == pytest.approx(51.4, rel=0.01), origin
    assert forward / TONNE_FORCE / tug.USABLE == pytest.approx(34.0, abs=0.5), origin
    assert aft / TONNE_FORCE / tug.USABLE == pytest.approx(64.0, abs=0.5), origin


def test_two_tugs_close_the_balance() -> None:
    forward, aft = tug.two_tugs(300e3, -20e6, forward=80.0, aft=-90.0)
    assert forward + aft == pytest.approx(300e3, abs=1.0)
    assert 80.0 * forward - 90.0 * aft == pytest.approx(-20e6, abs=100.0)


SHARES = [  # type, work, speed_kn, share, origin
    ("azimuth stern drive", "on a line", 0.0, 1.0, "forces sheet 4.2 [tool setting]"),
    ("azimuth stern drive", "on a line", 3.0, 0.80, "forces sheet 4.2 [tool setting]"),
    ("azimuth tractor", "on a line", 5.0, 0.50, "forces sheet 4.2 [tool setting]"),
    ("conventional, nozzle", "on a line", 2.0, 0.75, "forces sheet 4.2 [tool setting]"),
    ("conventional, nozzle", "pushing", 4.0, 0.35, "forces sheet 4.2 [tool setting]"),
    ("conventional, open screw", "pushing", 7.0, 0.0, "forces sheet 4.2 [tool setting]"),
    ("azimuth tractor", "pushing", 8.0, 0.30, "manoeuvring sheet 9 [memory]"),
    ("escort", "indirect", 8.0, 1.5, "manoeuvring sheet 9, lower end [memory]"),
]


@pytest.mark.parametrize(("name", "work", "speed_kn", "expected", "origin"), SHARES)
def test_speed_share(name: str, work: str, speed_kn: float, expected: float, origin: str) -> None:
    assert tug.speed_share(name, work, speed_kn * KNOT) == pytest.approx(expected), origin


@pytest.mark.parametrize(("name", "work"), [pair for pair in WORKS if pair[1] != "indirect"])
def test_speed_never_helps_a_tug(name: str, work: str) -> None:
    shares = tug.speed_share(name, work, np.linspace(0.0, 6.0, 100))
    assert np.all(np.diff(shares) <= 0.0)
    assert np.all((shares >= 0.0) & (shares <= 1.0))


def test_messages() -> None:
    with pytest.raises(ValueError, match="tug type 'row boat' is not known; known: conventional, open screw, "):
        tug.speed_share("row boat", "pushing", 1.0)
    with pytest.raises(ValueError, match="tug type 'azimuth tractor' does not tow indirect; only an escort tug"):
        tug.speed_share("azimuth tractor", "indirect", 1.0)


def test_bollard_pull_from_power() -> None:
    expected = 0.0168 * 1.25 / 1.25  # tonnes per kW at 1.25 t per 100 bhp
    found = tug.bollard_pull("azimuth stern drive", 4.0e6) / TONNE_FORCE
    assert found == pytest.approx(4000.0 * expected, rel=0.005), "forces sheet 4.1: 0.0168 t/kW [common practice]"


def test_displacement_rule() -> None:
    assert tug.displacement_rule(100.0e6) / TONNE_FORCE == pytest.approx(100.0), "forces sheet 4.4 [memory]"


def test_windage_rule() -> None:
    assert tug.windage_rule(-800e3) == pytest.approx(1.25 * 800e3 / 0.8), "forces sheet 4.4"


def test_wash() -> None:
    found = tug.wash_share(np.array([5.0, 30.0, 45.0, 200.0]), 10.0, 10.0)
    np.testing.assert_allclose(found, [0.70, 0.85, 0.95, 0.95], err_msg="forces sheet 4.3 [tool setting]")
    assert tug.wash_share(30.0, 1.0, 10.0) == pytest.approx(0.75), "forces sheet 4.3: less 0.10 in little water"


def test_components() -> None:
    athwart, along = tug.components(500e3, 30.0 * DEGREE, 20.0 * DEGREE)
    assert math.hypot(athwart, along) == pytest.approx(500e3 * math.cos(20.0 * DEGREE))
    assert along / athwart == pytest.approx(math.tan(30.0 * DEGREE))
