"""Tunnel thruster on a moving ship: the same figures as the statics, mirrored, and nothing out of the water."""

import math

import pytest

from leadsman.physics import thruster, tunnel
from leadsman.units import KNOT

BOW = tunnel.Tunnel(position=60.0, thrust=120e3, ramp=0.1, immersion=1.0, greatest_speed=math.inf)


@pytest.mark.parametrize("knots", [-8.0, -3.3, -2.0, -0.5, 0.0, 0.7, 2.0, 3.5, 5.0, 6.0, 8.0])
@pytest.mark.parametrize("position", [60.0, -55.0])
def test_the_moving_ship_feels_what_the_statics_say(knots: float, position: float) -> None:
    """Against `thruster.force_factor` and `moment_factor`, whose own figures are tested against the sheet."""
    speed = knots * KNOT
    force, moment = tunnel.push(BOW._replace(position=position), 0.5, tunnel.shares(), speed, False)
    assert force == pytest.approx(0.5 * 120e3 * thruster.force_factor(speed, position))
    assert moment == pytest.approx(0.5 * 120e3 * position * thruster.moment_factor(speed, position))


def test_half_of_the_moment_is_left_at_four_knots() -> None:
    """KMW and HyA tests of 1967, abstract [seen]: moment down to 50 % at 4 kn."""
    _, moment = tunnel.push(BOW, 1.0, tunnel.shares(), 4.0 * KNOT, False)
    assert moment == pytest.approx(0.5 * 120e3 * 60.0)


def test_to_port_is_the_mirror_of_to_starboard() -> None:
    starboard = tunnel.push(BOW, 0.7, tunnel.shares(), 1.2, True)
    port = tunnel.push(BOW, -0.7, tunnel.shares(), 1.2, True)
    assert port == (-starboard[0], -starboard[1])


def test_out_of_the_water_it_gives_nothing() -> None:
    assert tunnel.push(BOW._replace(immersion=0.0), 1.0, tunnel.shares(), 0.0, False) == (0.0, 0.0)


def test_little_water_takes_a_tenth() -> None:
    """Forces sheet 3.2: 0.9 with under 20 % of the draught below the keel [tool setting]."""
    assert tunnel.push(BOW, 1.0, tunnel.shares(), 0.0, True)[0] == pytest.approx(0.9 * 120e3)


def test_nothing_is_credited_at_the_speed_the_card_calls_not_effective() -> None:
    limited = BOW._replace(greatest_speed=5.0 * KNOT)
    assert tunnel.push(limited, 1.0, tunnel.shares(), 5.0 * KNOT, False) == (0.0, 0.0)
    assert tunnel.push(limited, 1.0, tunnel.shares(), 3.0 * KNOT, False) == tunnel.push(
        BOW, 1.0, tunnel.shares(), 3.0 * KNOT, False
    )
