"""Rudder in the race, stalled, reversed: signs, bollard kick, continuity."""

import math

import numpy as np
import pytest

from leadsman.physics import rudder

SLOPE, STALL, MOST = 2.747, math.radians(35.0), 1.9
TANKER = {"diameter": 9.86, "density": 1025.0, "race_share": 9.86 / 15.8, "race_factor": 0.5, "wake_ratio": 1.09}


def test_fujii_slope_of_the_tanker() -> None:
    """Sheet 3.6: gives 3.0 for KVLCC2 against 2.747 measured; aspect ratio H²/A = 15.8²/112.5."""
    assert rudder.fujii(15.8**2 / 112.5) == pytest.approx(3.0, rel=0.05)


def test_race_speed_is_the_published_form_without_j() -> None:
    """[YasukawaYoshimura2015]: u sqrt(1 + 8 KT/(pi J²)), here KT 0.2, J 0.4, n 1, D 5."""
    advance, thrust = 0.4 * 5.0, 1025.0 * 5.0**4 * 0.2
    expected = advance * math.sqrt(1.0 + 8.0 * 0.2 / (math.pi * 0.16))
    assert rudder.race_speed(advance, thrust, 5.0, 1025.0) == pytest.approx(expected)


def test_inflow_ahead_is_the_published_form() -> None:
    """The same paper: eps u (1-w) sqrt(eta (1 + kappa(...))² + 1 - eta)."""
    advance, thrust = 4.0, 2.0e6
    rise = rudder.race_speed(advance, thrust, 9.86, 1025.0) / advance
    expected = 1.09 * advance * math.sqrt(0.62405 * (1.0 + 0.5 * (rise - 1.0)) ** 2 + (1.0 - 0.62405))
    assert rudder.inflow_speed(advance, thrust, **TANKER) == pytest.approx(expected, rel=1e-4)


def test_bollard_kick_is_a_third_of_the_thrust() -> None:
    """Sheet 3.6: conventional rudder hard over at rest, lateral 0.30 to 0.40 of bollard thrust [memory, low
    confidence]."""
    thrust = 1.0e6
    inflow = rudder.inflow_speed(0.0, thrust, **TANKER)
    normal = rudder.normal_force(112.5, SLOPE, STALL, MOST, math.radians(35.0), inflow, 0.0, 1025.0)
    assert 0.30 < normal * math.cos(math.radians(35.0)) / thrust < 0.40


FLOWS = [  # advance m/s, thrust N, sign of the inflow, origin
    (4.0, 2e6, 1, "ahead: race"),
    (0.0, 2e6, 1, "kick ahead at rest"),
    (-1.0, 4e6, 1, "kick ahead with sternway: the race wins"),
    (-2.0, 0.0, -1, "sternway, screw idle"),
    (-2.0, -2e6, -1, "sternway, screw astern: no race on the rudder"),
    (4.0, -1e6, 1, "headway, screw astern: only what passes beside the race"),
]


@pytest.mark.parametrize(("advance", "thrust", "sign", "origin"), FLOWS)
def test_direction_of_the_inflow(advance: float, thrust: float, sign: int, origin: str) -> None:
    assert np.sign(rudder.inflow_speed(advance, thrust, **TANKER)) == sign, origin


def test_inflow_has_no_jump_where_the_water_turns() -> None:
    for thrust in (-3e6, 0.0, 3e6):
        before = rudder.inflow_speed(-1e-9, thrust, **TANKER)
        after = rudder.inflow_speed(1e-9, thrust, **TANKER)
        assert before == pytest.approx(after, abs=1e-3)


def test_starboard_rudder_pushes_the_stern_to_port_ahead_and_to_starboard_astern() -> None:
    angle = math.radians(20.0)
    assert rudder.normal_force(50.0, SLOPE, STALL, MOST, angle, 5.0, 0.0, 1025.0) > 0.0
    assert rudder.normal_force(50.0, SLOPE, STALL, MOST, angle, -5.0, 0.0, 1025.0) < 0.0


def test_normal_coefficient_is_odd_and_continuous() -> None:
    angles = np.radians(np.linspace(-180.0, 180.0, 7201))
    values = np.array([rudder.normal_coefficient(float(a), SLOPE, STALL, MOST) for a in angles])
    np.testing.assert_allclose(values, -values[::-1], atol=1e-12)
    assert np.abs(np.diff(values)).max() < 0.003
    at_right_angles = rudder.normal_coefficient(math.pi / 2, SLOPE, STALL, MOST)
    assert at_right_angles == pytest.approx(1.2, abs=1e-9), "sheet 3.6: plate value 1.2 [memory]"


STALLED = [  # degrees, share of the peak, origin
    (35.0, 1.0, "sheet 3.6: linear in the sine up to stall"),
    (45.0, 0.75, "sheet 3.6: 0.75 of the peak ten degrees beyond"),
]


@pytest.mark.parametrize(("degrees", "share", "origin"), STALLED)
def test_stall(degrees: float, share: float, origin: str) -> None:
    peak = SLOPE * math.sin(STALL)
    found = rudder.normal_coefficient(math.radians(degrees), SLOPE, STALL, MOST)
    assert found == pytest.approx(share * peak, rel=1e-6), origin


def test_a_screw_driving_astern_screens_the_rudder() -> None:
    """Sheet 4.5: multiply by 0.2 to 0.3 [judgement]; nothing is lost with a locked screw or with sternway."""
    disc = 0.25 * math.pi * 9.86**2
    locked = -0.8 * 0.5 * 1025.0 * disc * 16.0
    assert rudder.screening(4.0, locked, 9.86, 1025.0) == 1.0
    assert rudder.screening(4.0, 6.0 * locked, 9.86, 1025.0) == pytest.approx(0.25)
    assert rudder.screening(-1.0, 6.0 * locked, 9.86, 1025.0) == 1.0
    assert rudder.screening(4.0, 1e6, 9.86, 1025.0) == 1.0


def test_high_lift_rudders_kick_harder() -> None:
    """Sheet 3.6: fishtail and flap give more than a plain rudder of the same area at their greatest angles [memory]."""
    inflow = rudder.inflow_speed(0.0, 1e6, **TANKER)
    kicks = {}
    for name in ("normal", "fishtail", "flap"):
        kind = rudder.TYPES[name]
        angle = kind.greatest_angle
        normal = rudder.normal_force(
            112.5, SLOPE * kind.slope_factor, kind.stall, kind.greatest_normal, angle, inflow, 0.0, 1025.0
        )
        kicks[name] = normal * math.cos(rudder.force_angle(angle, kind.turning_limit)) / 1e6
    assert kicks["normal"] < kicks["fishtail"] < 0.6
    assert kicks["normal"] < kicks["flap"] < 0.6


def test_a_stopped_ship_has_nothing_induced_on_her_hull() -> None:
    """[HeavyRace], from memory: none at rest, in proportion to the advance ratio, whole in ordinary running."""
    thrust = 1.0e6
    race = float(rudder.race_speed(0.0, thrust, 5.0, 1025.0))
    shares = [float(rudder.induced_share(part * race, thrust, 5.0, 1025.0)) for part in (-0.2, 0.0, 0.1, 0.3, 0.6)]
    assert shares[:2] == [0.0, 0.0]
    assert 0.4 < shares[2] < 0.6
    assert shares[3:] == [1.0, 1.0]
    assert rudder.induced_share(3.0, 0.0, 5.0, 1025.0) == 1.0, "a screw without thrust loads nothing"
    assert rudder.induced_share(3.0, -1e6, 5.0, 1025.0) == 1.0, "nor one that drives astern"
    assert rudder.induced_share(-3.0, -1e6, 5.0, 1025.0) == 0.0, "sternway"


def test_interaction_passes_smoothly_to_sternway() -> None:
    assert rudder.ahead_share(1.0, 1.0) == 1.0
    assert rudder.ahead_share(-1.0, 1.0) == 0.0
    assert rudder.ahead_share(0.0, 0.0) == 0.5


def test_rule_area() -> None:
    """By hand from the sheet's formula: 3.2 x 20.8 (1 + 50 x 0.6561 x 0.032852) = 138.3 m²; KVLCC2 has 112.5 movable
    + horn."""
    assert rudder.det_norske_veritas_area(320.0, 58.0, 20.8, 0.81) == pytest.approx(138.3, abs=0.1)
