"""Heel and bilge sinkage. Rows are those of the sheet on water, section 9."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import heel
from leadsman.units import DEGREE, KNOT

heels = st.floats(-0.5, 0.5)


def test_heel_in_turn() -> None:
    """Row 36, derived: 12 kn, radius 600 m, lever 4 m, metacentric height 1.2 m."""
    angle = heel.in_turn(12 * KNOT, 600.0, 4.0, 1.2)
    assert angle / DEGREE == pytest.approx(1.236, abs=0.003)
    assert heel.bilge_sinkage(32.2, angle, 1.0) == pytest.approx(0.347, abs=0.003)


def test_heel_by_wind() -> None:
    """Row 37, derived: 25 m/s on 6000 m² at a lever of 18 m, 80 000 t, metacentric height 1.5 m."""
    angle = heel.by_wind(25.0, 6000.0, 18.0, 8.0e7, 1.5, 1.0, 1.25)
    assert angle / DEGREE == pytest.approx(2.052, abs=0.005)


@pytest.mark.parametrize("metacentric_height", [0.0, -0.3])
def test_no_stability_is_no_small_heel(metacentric_height: float) -> None:
    assert heel.in_turn(3.0, 600.0, 4.0, metacentric_height) == pytest.approx(math.pi / 2)
    assert heel.by_wind(25.0, 6000.0, 18.0, 8.0e7, metacentric_height, 1.0, 1.25) == pytest.approx(math.pi / 2)


@given(speed=st.floats(0.1, 12.0), radius=st.floats(100.0, 3000.0))
def test_port_and_starboard_turns_heel_alike(speed: float, radius: float) -> None:
    assert heel.in_turn(speed, radius, 4.0, 1.2) == heel.in_turn(speed, -radius, 4.0, 1.2)
    assert heel.in_turn(-speed, radius, 4.0, 1.2) == heel.in_turn(speed, radius, 4.0, 1.2)


def test_heels_add_to_the_same_side() -> None:
    assert heel.together(-0.01, 0.02, -0.03) == pytest.approx(0.06)


@given(angle=heels, beam=st.floats(8.0, 60.0), draught=st.floats(2.0, 20.0))
def test_the_approximate_bilge_is_never_above_the_exact_one(angle: float, beam: float, draught: float) -> None:
    simple = heel.bilge_sinkage(beam, angle, 1.0)
    exact = heel.bilge_sinkage_of_box(beam, draught, angle)
    assert 0.0 <= exact <= simple
    # Exact by turning the corner (beam/2, draught) of the box about the waterline's middle.
    corner = 0.5 * beam * math.sin(abs(angle)) + draught * math.cos(angle)
    assert exact == pytest.approx(max(corner - draught, 0.0), abs=1e-9)


def test_a_rounded_bilge_goes_less_deep() -> None:
    square = heel.bilge_sinkage(40.0, 0.05, heel.BILGE_SHARES["square"])
    assert all(heel.bilge_sinkage(40.0, 0.05, share) <= square for share in heel.BILGE_SHARES.values())
