"""Thrusters against the forces sheet; its losses are settings, so the tests hold their course and the seen point."""

import math

import numpy as np
import pytest

from leadsman.compiled import kernel
from leadsman.physics import thruster
from leadsman.units import KNOT, SEA_WATER_DENSITY, TONNE_FORCE


def test_momentum_limit() -> None:
    found = thruster.momentum_limit(1.0e6, 2.0, SEA_WATER_DENSITY) / 1000.0
    assert found == pytest.approx(234.4, rel=0.005), "forces sheet check 24 [derived]"


def test_trade_rule_is_between_planning_and_momentum() -> None:
    ceiling = TONNE_FORCE / (100.0 * 745.7)
    assert ceiling == pytest.approx(thruster.CEILING_THRUST, abs=0.001), "1 t per 100 hp (forces sheet 3.1) [seen]"
    assert thruster.by_power(1.0e6) == pytest.approx(120e3), "forces sheet 3.1: default 0.12 kN/kW [common practice]"
    by_diameter = thruster.by_power_and_diameter(1.0e6, 2.0)
    assert by_diameter == pytest.approx(850.0 * 2000.0 ** (2.0 / 3.0)), "manoeuvring sheet 9 [memory]"
    assert thruster.by_power(1.0e6) < by_diameter < thruster.momentum_limit(1.0e6, 2.0, SEA_WATER_DENSITY)


SPEED = [  # speed_kn, moment left, origin
    (0.0, 1.0, "forces sheet 3.2 [tool setting]"),
    (4.0, 0.5, "KMW and HyA tests 1967 [seen: abstract]"),
    (2.5, 0.675, "linear between 2 and 3 kn"),
    (15.0, 0.45, "the recovery at 15 kn is not credited"),
]


@pytest.mark.parametrize(("speed_kn", "expected", "origin"), SPEED)
def test_moment_left(speed_kn: float, expected: float, origin: str) -> None:
    assert thruster.moment_factor(speed_kn * KNOT, 100.0) == pytest.approx(expected), origin
    assert thruster.moment_factor(-speed_kn * KNOT, -100.0) == pytest.approx(expected), "stern thruster, sternway"


def test_bow_thruster_keeps_more_with_sternway() -> None:
    assert thruster.force_factor(-2.0 * KNOT, 100.0) == pytest.approx(0.9), "forces sheet 3.2 [tool setting]"
    assert thruster.force_factor(2.0 * KNOT, 100.0) == pytest.approx(0.65), "manoeuvring sheet 9 [low confidence]"


@pytest.mark.parametrize("position", [-100.0, 100.0])
@pytest.mark.parametrize("factor", [thruster.force_factor, thruster.moment_factor])
def test_speed_never_adds_thrust(factor, position: float) -> None:
    speeds = np.linspace(0.0, 12.0, 200)
    for way in (1.0, -1.0):
        values = factor(way * speeds, position)
        assert values[0] == 1.0
        assert np.all(np.diff(values) <= 1e-12)
        assert np.all(values > 0.0)


def test_immersion() -> None:
    found = thruster.immersion_factor(np.array([-1.0, 1.0, 1.5, 2.0, 5.0]), 2.0)
    np.testing.assert_allclose(found, [0.0, 0.0, 0.5, 1.0, 1.0], err_msg="forces sheet 3.2 [tool setting]")


def test_quay_and_bed() -> None:
    origin = "forces sheet 3.2 [tool setting]"
    assert thruster.quay_factor(10.0, 30.0, True) == 0.8, origin
    assert thruster.quay_factor(10.0, 30.0, False) == 1.0, origin
    assert thruster.quay_factor(math.inf, 30.0, True) == 1.0
    assert thruster.bed_factor(1.0, 10.0) == 0.9, origin
    assert thruster.bed_factor(2.5, 10.0) == 1.0


def test_jet_gives_its_thrust_back() -> None:
    area = math.pi
    speed = thruster.jet_speed(150e3, 2.0, SEA_WATER_DENSITY)
    assert SEA_WATER_DENSITY * area * speed**2 == pytest.approx(150e3), "momentum flux of the jet [derived]"


@kernel
def left(speed: float, position: float) -> float:
    return thruster.force_factor(speed, position) * thruster.immersion_factor(3.0, 2.0)


def test_works_inside_a_kernel() -> None:
    assert left(2.0 * KNOT, 100.0) == pytest.approx(0.65)
