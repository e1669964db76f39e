"""The hull at a small drift angle."""

import math

import pytest

from leadsman.physics import static_hull
from leadsman.units import DEGREE, KNOT, SEA_WATER_DENSITY


def test_by_hand() -> None:
    """L 285, B 40, d 12.5, Cb 0.65: k 0.08772, slope 0.5 pi k + 1.4 Cb B/L = 0.26551; 6 kn and 5 degrees."""
    speed, angle = 6.0 * KNOT, 5.0 * DEGREE
    found = static_hull.drift_loads(speed, angle, 285.0, 40.0, 12.5, 0.65, SEA_WATER_DENSITY)
    pressure = 0.5 * 1025.0 * 285.0 * 12.5 * speed**2
    origin = "Kijima 1990, linear set (manoeuvring sheet 3.1) [memory and seen: transcription]"
    assert found.sway == pytest.approx(pressure * 0.26551 * angle, rel=1e-4), origin
    assert found.yaw == pytest.approx(pressure * 285.0 * 0.08772 * angle, rel=1e-4), origin
    assert found.surge == 0.0


def test_mirrored_and_square_of_speed() -> None:
    here = static_hull.drift_loads(4.0, 0.08, 200.0, 32.0, 10.0, 0.8, SEA_WATER_DENSITY)
    there = static_hull.drift_loads(2.0, -0.08, 200.0, 32.0, 10.0, 0.8, SEA_WATER_DENSITY)
    assert here.sway == pytest.approx(-4.0 * there.sway)
    assert here.yaw == pytest.approx(-4.0 * there.yaw)
    assert math.copysign(1.0, here.sway) == 1.0, "water from port ahead: the force is to starboard"


def test_limits_are_marked() -> None:
    (breach,) = static_hull.METHODS["linear"].outside(drift_angle=0.3, block_coefficient=0.7)
    assert breach.quantity == "drift_angle"
