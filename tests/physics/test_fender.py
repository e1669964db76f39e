"""Berthing energy against a published design sheet and the forces sheet, section 10."""

import math

import numpy as np
import pytest

from leadsman.physics import fender
from leadsman.units import DEGREE

half_percent = 0.005


def test_published_design_sheet() -> None:
    """208 000 t, 0.10 m/s, 57 m beam, 15.5 m draught, K 85.0 m, R 74.52 m, gamma 61.52, softness 0.9: 960 kNm."""
    origin = "design sheet of a 12 000 TEU ship [seen]; forces sheet check 25"
    virtual = fender.vasco_costa(15.5, 57.0)
    eccentric = fender.eccentricity(85.0, 74.52, 61.52 * DEGREE)
    assert virtual == pytest.approx(1.544, rel=half_percent), origin
    assert eccentric == pytest.approx(0.664, rel=half_percent), origin
    energy = fender.berthing_energy(208.0e6, 0.10, virtual, eccentric, fender.HARD_FENDER, 1.0)
    assert energy / 1000.0 == pytest.approx(960.0, rel=half_percent), origin


def test_tanker_of_the_sheet() -> None:
    origin = "forces sheet check 26 [computed]"
    gyration = fender.gyration_radius(230.0, 0.82)
    radius = fender.contact_radius(57.5, 42.0)
    angle = fender.velocity_angle(57.5, 42.0, 6.0 * DEGREE)
    eccentric = fender.eccentricity(gyration, radius, angle)
    virtual = fender.vasco_costa(14.5, 42.0)
    assert gyration == pytest.approx(61.13, rel=half_percent), origin
    assert radius == pytest.approx(61.21, rel=half_percent), origin
    assert angle / DEGREE == pytest.approx(63.94, rel=half_percent), origin
    assert virtual == pytest.approx(1.690, rel=half_percent), origin
    assert eccentric == pytest.approx(0.596, rel=half_percent), origin
    energy = fender.berthing_energy(100.0e6, 0.12, virtual, eccentric, 1.0, 1.0)
    assert energy / 1000.0 == pytest.approx(725.0, rel=half_percent), origin
    by_ueda = fender.ueda(14.5, 42.0, 0.82)
    assert by_ueda == pytest.approx(1.661, rel=half_percent), "forces sheet check 27 [computed]"
    energy = fender.berthing_energy(100.0e6, 0.12, by_ueda, eccentric, 1.0, 1.0)
    assert energy / 1000.0 == pytest.approx(713.0, rel=half_percent), "forces sheet check 27 [computed]"


def test_pianc_virtual_mass() -> None:
    found = fender.pianc(np.array([0.2, 1.0, 3.0, 5.0, 9.0]), 10.0)
    np.testing.assert_allclose(found, [1.8, 1.8, 1.65, 1.5, 1.5], err_msg="forces sheet 5 [memory]")


def test_landing_flat_spends_nothing_in_turning() -> None:
    assert fender.eccentricity(60.0, 40.0, 0.0) == 1.0
    angles = np.linspace(0.0, math.pi / 2.0, 50)
    assert np.all(np.diff(fender.eccentricity(60.0, 40.0, angles)) < 0.0)


def test_landing_speed_undoes_the_energy() -> None:
    energy = fender.berthing_energy(50e6, 0.15, 1.6, 0.7, 0.9, 0.95)
    assert fender.landing_speed(energy, 50e6, 1.6, 0.7, 0.9, 0.95) == pytest.approx(0.15)


def test_velocity_curves() -> None:
    found = fender.brolsma(100e6, "difficult berthing, sheltered")
    assert found == pytest.approx(0.083, abs=0.0005), "forces sheet check 28 [memory]"
    between = fender.brolsma(math.sqrt(1e4 * 2e4) * 1000.0, "easy berthing, exposed")
    assert between == pytest.approx(math.sqrt(0.287 * 0.228)), "straight on logarithmic scales"
    masses = np.geomspace(1e6, 5e8, 60)
    curves = np.array([fender.brolsma(masses, name) for name in fender.brolsma_conditions()])
    assert curves.shape == (5, 60)
    assert np.all(np.diff(curves, axis=1) < 0.0), "slower for larger ships"
    assert np.all(np.diff(curves, axis=0) > 0.0), "faster in worse conditions"
    with pytest.raises(ValueError, match="berthing conditions 'awful' are not known; known: good berthing, sheltered"):
        fender.brolsma(1e6, "awful")


SPRING = (np.array([0.0, 0.5, 1.0]), np.array([0.0, 500e3, 1000e3]))
BUCKLING = (np.array([0.0, 0.3, 0.6, 1.0]), np.array([0.0, 900e3, 900e3, 1400e3]))


def test_landing_force_of_a_spring() -> None:
    """A spring of 1000 kN/m: E = k d²/2, so 320 kJ gives 0.8 m and 800 kN by hand."""
    force, deflection = fender.landing_force(320e3, *SPRING)
    assert deflection == pytest.approx(0.8)
    assert force == pytest.approx(800e3)
    assert fender.landing_force(0.0, *SPRING) == (0.0, 0.0)
    assert fender.landing_force(500e3, *SPRING) == (pytest.approx(1000e3), pytest.approx(1.0))


def test_landing_force_of_a_buckling_fender() -> None:
    """By hand: 135 kJ to 0.3 m, then 900 kN level: 225 kJ lies 0.1 m further."""
    force, deflection = fender.landing_force(225e3, *BUCKLING)
    assert (force, deflection) == (pytest.approx(900e3), pytest.approx(0.4))
    for energy in np.linspace(1e3, 800e3, 40):
        force, deflection = fender.landing_force(energy, *BUCKLING)
        path = np.linspace(0.0, deflection, 20001)
        area = np.trapezoid(np.interp(path, *BUCKLING), path)
        assert area == pytest.approx(energy, rel=1e-4)


def test_messages() -> None:
    with pytest.raises(ValueError, match="600 kJ is more than the fender takes, 500 kJ"):
        fender.landing_force(600e3, *SPRING)
    with pytest.raises(ValueError, match="a fender curve must begin at deflection 0 and rise"):
        fender.energy_curve(np.array([0.1, 0.2]), np.array([0.0, 1.0]))
    with pytest.raises(ValueError, match="'yacht' has no abnormal factor; known: tanker or bulk carrier"):
        fender.abnormal_factor("yacht", "largest")
    with pytest.raises(ValueError, match="size 'medium' is not known; expected largest, smallest"):
        fender.abnormal_factor("tug", "medium")
    with pytest.raises(ValueError, match="quay 'jelly' is not known; known: open, semi-open, closed, little water"):
        fender.configuration_factor("jelly")
    with pytest.raises(ValueError, match="no customary landing speed for 'raft'; known: large tanker, container ship"):
        fender.customary_landing_speed("raft")


def test_factors() -> None:
    assert fender.customary_landing_speed("large tanker") == 0.10, "forces sheet 5 [common practice]"
    assert fender.abnormal_factor("tanker or bulk carrier", "largest") == 1.25, "forces sheet 5 [memory]"
    assert fender.configuration_factor("open") == 1.0, "forces sheet 5 [memory]"
