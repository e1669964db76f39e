"""The stand-in for bank effect: direction, symmetry, reach, and the one published anchor it is built on."""

import math

import pytest

from leadsman.physics import banks

SHIP = {"depth": 12.0, "length": 180.0, "beam": 32.2, "draught": 10.0, "density": 1025.0}


def test_towards_the_near_bank_and_bow_away() -> None:
    force = banks.stand_in(4.0, distance_port=math.inf, distance_starboard=50.0, **SHIP)
    assert force.sway > 0.0
    assert force.yaw < 0.0


def test_mirrored_banks_give_the_mirrored_force() -> None:
    left = banks.stand_in(4.0, distance_port=40.0, distance_starboard=90.0, **SHIP)
    right = banks.stand_in(4.0, distance_port=90.0, distance_starboard=40.0, **SHIP)
    assert (left.sway, left.yaw) == pytest.approx((-right.sway, -right.yaw))


def test_none_in_the_middle_and_none_beyond_reach() -> None:
    assert banks.stand_in(4.0, distance_port=60.0, distance_starboard=60.0, **SHIP).sway == 0.0
    far = 0.5 * 32.2 + banks.reach(4.0, 12.0, 32.2) + 1.0
    assert banks.stand_in(4.0, distance_port=far, distance_starboard=math.inf, **SHIP).sway == 0.0


def test_reach_at_low_speed_is_five_beams() -> None:
    """Sheet 8: B (5 + 5 Fnh) [memory]."""
    assert banks.reach(0.0, 12.0, 32.2) == pytest.approx(161.0)
