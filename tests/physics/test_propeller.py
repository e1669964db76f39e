"""Screws in four quadrants: published check values, a table without seams, mirror images, sense of the sideways
push."""

import math

import numpy as np
import pytest

from leadsman.physics import propeller, propeller_series

SERIES = [  # pitch ratio, J, KT, 10 KQ of B4-70, origin
    (0.6, 0.0, 0.2500, 0.2481, "manoeuvring sheet, appendix A, check values [computed]"),
    (0.8, 0.0, 0.3542, 0.4336, "the same"),
    (0.8, 0.4, 0.2123, 0.2846, "the same"),
    (1.0, 0.0, 0.4547, 0.6754, "the same"),
    (1.0, 0.5, 0.2710, 0.4343, "the same"),
]


@pytest.mark.parametrize(("pitch", "ratio", "thrust", "torque", "origin"), SERIES)
def test_wageningen_b(pitch: float, ratio: float, thrust: float, torque: float, origin: str) -> None:
    found = propeller_series.wageningen_b(ratio, pitch, 0.70, 4.0)
    assert found[0] == pytest.approx(thrust, abs=5e-5), origin
    assert 10.0 * found[1] == pytest.approx(torque, abs=5e-5), origin


QUADRANTS = [  # pitch, CT* and CQ* at rest, the same astern, CT* locked, worst in a crash stop, origin
    (0.6, 0.1275, 0.01528, -0.0881, -0.00873, -0.794, -0.794, "manoeuvring sheet, appendix B, derived [computed]"),
    (0.8, 0.1822, 0.02262, -0.1343, -0.02088, -0.796, -0.796, "the same"),
    (1.2, 0.2734, 0.04993, -0.2192, -0.04789, -0.709, -0.763, "the same"),
]


@pytest.mark.parametrize(("pitch", "ct", "cq", "ct_astern", "cq_astern", "locked", "worst", "origin"), QUADRANTS)
def test_wageningen_b4_70(
    pitch: float, ct: float, cq: float, ct_astern: float, cq_astern: float, locked: float, worst: float, origin: str
) -> None:
    thrust, torque = propeller_series.wageningen_b4_70(np.radians([0.0, 180.0, 90.0]), pitch)
    assert thrust == pytest.approx([ct, ct_astern, locked], abs=5e-4), origin
    assert torque[:2] == pytest.approx([cq, cq_astern], abs=5e-6), origin
    crash = propeller_series.wageningen_b4_70(np.radians(np.arange(90.0, 181.0)), pitch)[0]
    assert crash.min() == pytest.approx(worst, abs=2e-3), origin


def test_four_quadrants_meet_the_open_water_curve() -> None:
    """In the first quadrant the table must give back KT and KQ of the series; sheet section 13 says 3 to 6 % for raw
    B4-70."""
    curve = propeller_series.wageningen(0.8, 0.70, 4.0)
    table, torque, _ = propeller_series.fixed_pitch(curve, 0.8)
    for ratio in (0.2, 0.4, 0.6):
        beta = math.atan2(ratio, propeller.BLADE)
        expected = curve(ratio)
        thrust = propeller.thrust(propeller.read_quadrants(table, 0, beta), ratio, 1.0, 1.0, 1.0)
        moment = propeller.torque(propeller.read_quadrants(torque, 0, beta), ratio, 1.0, 1.0, 1.0)
        assert thrust == pytest.approx(expected[0], rel=0.005)
        assert moment == pytest.approx(expected[1], rel=0.005)


def test_astern_at_rest_gives_three_quarters_of_the_thrust() -> None:
    """Sheet appendix B [computed]: KT ratio 0.74 at P/D 0.8."""
    table, _, _ = propeller_series.fixed_pitch(propeller_series.wageningen(0.8, 0.70, 4.0), 0.8)
    ahead = propeller.thrust(propeller.read_quadrants(table, 0, 0.0), 0.0, 1.0, 5.0, 1025.0)
    astern = propeller.thrust(propeller.read_quadrants(table, 0, math.pi), 0.0, -1.0, 5.0, 1025.0)
    assert astern / ahead == pytest.approx(-0.74, abs=0.01)


def test_the_table_has_no_seams() -> None:
    """Between degrees and across north of the circle the cubic is smooth: neighbours a hundredth of a degree apart
    agree."""
    table, _, _ = propeller_series.fixed_pitch(propeller_series.wageningen(0.7, 0.55, 4.0), 0.7)
    angles = np.radians(np.linspace(-5.0, 365.0, 37001))
    values = np.array([propeller.read_quadrants(table, 0, float(angle)) for angle in angles])
    assert np.abs(np.diff(values)).max() < 7e-4
    assert propeller.read_quadrants(table, 0, 0.1) == pytest.approx(
        propeller.read_quadrants(table, 0, 0.1 + 2.0 * math.pi), abs=1e-12
    )


def test_controllable_pitch_astern_is_the_mirror_image_less_camber() -> None:
    """Sheet 4.4: astern pitch gives 0.65 to 0.7 of the ahead bollard thrust at a pitch somewhat smaller than ahead
    (memory)."""
    thrust, _, pitches = propeller_series.controllable_pitch(0.55, 4.0)
    ahead = propeller.read_pitched(thrust, pitches, 0, 8, 0.9, 0.0)
    astern = propeller.read_pitched(thrust, pitches, 0, 8, -0.75, 0.0)
    assert 0.6 < -astern / ahead < 0.75
    same = propeller.read_pitched(thrust, pitches, 0, 8, -0.9, 0.0)
    assert -same / ahead == pytest.approx(propeller_series.REVERSED_CAMBER, rel=1e-9)


def test_pitch_beyond_the_table_is_held() -> None:
    thrust, _, pitches = propeller_series.controllable_pitch(0.55, 4.0)
    assert propeller.read_pitched(thrust, pitches, 0, 8, 2.0, 0.3) == propeller.read_pitched(
        thrust, pitches, 0, 8, 1.2, 0.3
    )


SIDEWAYS = [  # hand, shaft, thrust, sign of the push (+ stern to starboard), origin
    (1.0, -1.0, -100.0, -1.0, "sheet 4.6: right-handed fixed pitch astern: stern to port"),
    (1.0, 1.0, -100.0, 1.0, "sheet 4.6: right-handed controllable pitch astern: stern to starboard"),
    (1.0, 1.0, 100.0, 1.0, "sheet 4.6: ahead from rest: stern slightly to starboard"),
    (-1.0, 1.0, -100.0, -1.0, "sheet 4.6: left-handed controllable pitch: as right-handed fixed pitch"),
]


@pytest.mark.parametrize(("hand", "shaft", "axial", "sign", "origin"), SIDEWAYS)
def test_transverse_thrust(hand: float, shaft: float, axial: float, sign: float, origin: str) -> None:
    found = propeller.transverse_thrust(axial, shaft, hand, 0.025, 0.10, 1.0)
    assert math.copysign(1.0, found) == sign, origin
    assert abs(found) == pytest.approx(10.0 if axial < 0 else 2.5)


def test_transverse_thrust_fades_with_headway() -> None:
    """Sheet 4.6: weight 1/(1 + (J/0.3)²)."""
    assert propeller.transverse_share(0.0, 1.0, 5.0) == 1.0
    assert propeller.transverse_share(1.5, 1.0, 5.0) == pytest.approx(0.5)
    assert propeller.transverse_share(0.0, 0.0, 5.0) == 0.0


def test_wake_in_a_turn() -> None:
    """[YasukawaYoshimura2015] formula by hand: C1 2.0, C2 1.6, inflow 0.5 rad: 1 + (1 - e^-1) 0.6."""
    assert propeller.wake_factor(0.5, 2.0, 1.6, 1.1) == pytest.approx(1.0 + (1.0 - math.exp(-1.0)) * 0.6)
    assert propeller.wake_factor(-0.5, 2.0, 1.6, 1.1) == pytest.approx(1.0 + (1.0 - math.exp(-1.0)) * 0.1)


def test_nothing_is_divided_by_a_stopped_shaft() -> None:
    assert propeller.advance_angle(0.0, 0.0, 5.0) == 0.0
    assert propeller.thrust(0.2, 0.0, 0.0, 5.0, 1025.0) == 0.0


def test_a_curve_without_thrust_is_refused() -> None:
    with pytest.raises(ValueError, match="open-water thrust"):
        propeller_series.zero_thrust(lambda ratio: (-0.1 - 0.0 * ratio, 0.0 * ratio))
