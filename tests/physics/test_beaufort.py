"""The scales of the weather report, every row of them."""

import math

import pytest

from leadsman.physics import beaufort
from leadsman.units import KNOT

SCALE = [  # force, from_kn, up_to_kn, from_m_s, up_to_m_s, wave_m; WMO [speeds seen, waves memory]
    (0, 0, 0, 0.0, 0.2, 0.0),
    (1, 1, 3, 0.3, 1.5, 0.1),
    (2, 4, 6, 1.6, 3.3, 0.2),
    (3, 7, 10, 3.4, 5.4, 0.6),
    (4, 11, 16, 5.5, 7.9, 1.0),
    (5, 17, 21, 8.0, 10.7, 2.0),
    (6, 22, 27, 10.8, 13.8, 3.0),
    (7, 28, 33, 13.9, 17.1, 4.0),
    (8, 34, 40, 17.2, 20.7, 5.5),
    (9, 41, 47, 20.8, 24.4, 7.0),
    (10, 48, 55, 24.5, 28.4, 9.0),
    (11, 56, 63, 28.5, 32.6, 11.5),
]


@pytest.mark.parametrize(("number", "from_kn", "up_to_kn", "from_speed", "up_to_speed", "wave"), SCALE)
def test_scale(number: int, from_kn: int, up_to_kn: int, from_speed: float, up_to_speed: float, wave: float) -> None:
    for speed in (from_speed, up_to_speed):
        found = beaufort.force_of_wind(speed)
        assert (found.number, found.wave_height) == (number, wave), "WMO scale (forces sheet 9)"
    assert beaufort.speeds_in_knots(number) == (from_kn, up_to_kn)
    # The published columns themselves differ: 8.0 m/s, where force 5 begins, is 15.6 kn, not 17.
    assert from_kn * KNOT == pytest.approx(from_speed, abs=1.5 * KNOT)


def test_hurricane() -> None:
    found = beaufort.force_of_wind(40.0)
    assert (found.number, found.to_speed) == (12, math.inf)
    assert beaufort.speeds_in_knots(12) == (64, None)


@pytest.mark.parametrize("number", range(1, 12))
def test_formula_lies_within_the_force(number: int) -> None:
    found = beaufort.force(number)
    assert found.from_speed <= beaufort.speed_of_force(number) <= found.to_speed, "V = 0.836 B^1.5 (forces sheet 9)"


SEAS = [(0.0, 0), (0.05, 1), (0.5, 2), (1.0, 3), (2.0, 4), (3.0, 5), (5.0, 6), (8.0, 7), (10.0, 8), (15.0, 9)]


@pytest.mark.parametrize(("height", "figure"), SEAS)
def test_sea_state(height: float, figure: int) -> None:
    assert beaufort.sea_state(height)[0] == figure, "WMO code table 3700 (forces sheet 9) [memory]"


WORDS = [(20.0, "dense fog"), (150.0, "thick fog"), (900.0, "fog"), (1500.0, "mist"), (3000.0, "poor"), (2e4, "good")]


@pytest.mark.parametrize(("distance", "word"), WORDS)
def test_visibility(distance: float, word: str) -> None:
    assert beaufort.visibility(distance) == word, "forces sheet 9 [memory]"


def test_message() -> None:
    with pytest.raises(ValueError, match="Beaufort force 13 is not on the scale, 0 to 12"):
        beaufort.force(13)
