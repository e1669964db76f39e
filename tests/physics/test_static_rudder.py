"""Kick ahead and thrust astern of a stopped ship."""

import math

import pytest

from leadsman.compiled import kernel
from leadsman.physics import static_rudder
from leadsman.units import DEGREE, SEA_WATER_DENSITY


def test_astern_share() -> None:
    assert static_rudder.astern_share(0.6) == pytest.approx(0.55, abs=0.01), "manoeuvring sheet 5 [computed]"


def test_right_handed_screw_throws_the_stern_to_port() -> None:
    assert static_rudder.transverse_thrust(400e3, 0.10, 1.0) == pytest.approx(-40e3), "manoeuvring sheet 4.6 [memory]"
    assert static_rudder.transverse_thrust(400e3, 0.10, -1.0) == pytest.approx(40e3)


SHARES = [  # rudder, lateral force over bollard thrust, origin
    ("conventional", 0.25, "forces sheet 3.3 [common practice]"),
    ("spade", 0.25, "forces sheet 3.3, careful end of 0.25 to 0.35 [common practice]"),
    ("flap", 0.30, "forces sheet 3.3, middle of 0.25 to 0.35 [common practice]"),
    ("fishtail", 0.50, "manoeuvring sheet 3.6: 0.5 to 0.6 at 65 to 70 degrees [memory, low confidence]"),
]


@pytest.mark.parametrize(("name", "expected", "origin"), SHARES)
def test_rudder_types(name: str, expected: float, origin: str) -> None:
    assert static_rudder.rudder_type(name).side_share == expected, origin


def test_unknown_rudder() -> None:
    with pytest.raises(ValueError, match="rudder type 'oar' is not known; known: conventional, spade, flap, fishtail"):
        static_rudder.rudder_type("oar")


def test_thrust_goes_as_the_power() -> None:
    full = static_rudder.bollard_thrust(10e6, 1.0, 0.10)
    assert full == pytest.approx(1.0e6), "forces sheet 3.3: 0.10 to 0.15 kN/kW [tool setting]"
    assert static_rudder.bollard_thrust(10e6, 0.5, 0.10) == pytest.approx(full / 8.0)


def test_free_stream_rudder_pushes_the_stern_against_the_helm() -> None:
    """Slope 6.13 A/(A + 2.25) by hand: aspect ratio 1.8 gives 2.724; 0.5 x 1025 x 40 x 16 x 2.724 x sin 20 cos 20."""
    found = static_rudder.free_stream_rudder(4.0, 40.0, 1.8, 20.0 * DEGREE, SEA_WATER_DENSITY)
    by_hand = 0.5 * 1025.0 * 40.0 * 16.0 * 2.7244 * math.sin(20.0 * DEGREE) * math.cos(20.0 * DEGREE)
    assert found == pytest.approx(-by_hand, rel=1e-3), "Fujii's slope (manoeuvring sheet 3.6) [seen: transcription]"


@kernel
def thrown(thrust: float) -> float:
    return static_rudder.transverse_thrust(thrust, 0.1, 1.0) + static_rudder.astern_share(0.6)


def test_works_inside_a_kernel() -> None:
    assert thrown(100.0) == pytest.approx(-10.0 + static_rudder.astern_share(0.6))
