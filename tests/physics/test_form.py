"""Hull-form estimates against definitions, boxes, textbook exercises and benchmark ships."""

import math

import pytest

from leadsman.physics import form
from leadsman.units import SEA_WATER_DENSITY, TONNE

# Standards sheet 9, row 20: manoeuvring booklet, seen. Displacement t, length, beam, draught m, block coefficient.
BOOKLET = (57_054.0, 174.8, 32.19, 12.2, 0.811)

BLOCKS = [  # length, beam, draught, volume, block coefficient, origin
    (320.0, 58.0, 20.8, 312_600.0, 0.810, "KVLCC2, manoeuvring sheet 1: SIMMAN tables, seen as transcription"),
    (3.0, 0.489, 0.201, 244.6 / 1000.0, 0.83, "Esso Osaka 3 m model, manoeuvring sheet 12: open test data set, seen"),
    (174.8, 32.19, 12.2, 57_054.0 / 1.025, 0.811, "standards sheet 9 row 20: booklet, seen"),
]


@pytest.mark.parametrize(("length", "beam", "draught", "volume", "expected", "origin"), BLOCKS)
def test_block_coefficient(
    length: float, beam: float, draught: float, volume: float, expected: float, origin: str
) -> None:
    assert form.block_coefficient(volume, length, beam, draught) == pytest.approx(expected, abs=0.001), origin


def test_block_at_draught_keeps_volume_and_waterplane() -> None:
    block, plane, draught = 0.82, 0.88, 12.0
    step = 1e-4

    def volume(at: float) -> float:
        return float(form.block_at_draught(block, plane, draught, at) * at)

    assert volume(draught) == pytest.approx(block * draught)
    slope = (volume(draught + step) - volume(draught - step)) / (2.0 * step)
    assert slope == pytest.approx(plane, abs=1e-6), "dV/dT is the waterplane"
    assert form.block_at_draught(1.0, 1.0, draught, 3.0) == 1.0, "a box is a box at every draught"


def test_form_coefficients_of_a_box() -> None:
    assert form.waterplane_one_third(1.0) == pytest.approx(1.0)
    assert form.centre_of_buoyancy(10.0, 1.0, 1.0) == pytest.approx(5.0)
    assert form.midship_kerlen(1.0) == pytest.approx(1.0, abs=0.001)
    # The regression of the waterplane's inertia meets the box, 1/12, within 4 %.
    assert form.metacentric_radius(20.0, 5.0, 1.0, 1.0) == pytest.approx(20.0**2 / 12.0 / 5.0, rel=0.04)


def test_waterplane_methods_agree_on_full_ships() -> None:
    one_third = form.waterplane_one_third(0.81)
    prismatic = form.waterplane_prismatic(0.81, form.midship_kerlen(0.81))
    assert prismatic == pytest.approx(one_third, abs=0.02)


def test_immersion_is_tonnes_per_centimetre() -> None:
    # By hand: TPC = A_W rho / 100 = 100 x 20 x 0.8 x 1.025 / 100 = 16.4 t/cm (standards sheet 4.3)
    assert form.immersion(100.0, 20.0, 0.8, SEA_WATER_DENSITY) / (100.0 * TONNE) == pytest.approx(16.4)


def test_roll_period_by_the_weather_criterion() -> None:
    # By hand: C = 0.373 + 0.023 x 20/8 - 0.043 x 150/100 = 0.366; T = 2 x 0.366 x 20 / sqrt(1.0) = 14.64 s
    assert form.roll_period(150.0, 20.0, 8.0, 1.0) == pytest.approx(14.64)
    assert form.metacentric_height_from_roll(150.0, 20.0, 8.0, 14.64) == pytest.approx(1.0)


def test_trimming_moment_of_a_tanker() -> None:
    # A box waterplane: I_L = B L³/12, so MCTC = rho B L² / 12; the regression has 0.091 for 1/12 at C_W = 1.
    box = 1.025 * 30.0 * 180.0**2 / 12.0
    assert form.trimming_moment(180.0, 30.0, 1.0, 1.025) == pytest.approx(box, rel=0.10)
    # Oil tankers of 180 m have an MCTC near 500 to 650 t m/cm [memory, stability booklets].
    assert 450.0 < form.trimming_moment(174.8, 32.19, 0.876, SEA_WATER_DENSITY) / 1e5 < 750.0


def test_draught_at_the_mast_of_the_card_seen() -> None:
    # Standards sheet 9 row 36: T forward 7.2, aft 7.8, mast 35.4 m from the stern of 189.02 m: 7.69 m at the mast.
    at_mast = form.draught_along(7.8, 7.2, 35.4 / 189.02)
    assert at_mast == pytest.approx(7.69, abs=0.005)
    assert 49.42 - at_mast == pytest.approx(41.73, abs=0.005)


def test_list_and_the_low_side() -> None:
    angle = form.list_from_draughts(7.0, 7.0 + 32.2 * math.tan(math.radians(2.0)), 32.2)
    assert math.degrees(angle) == pytest.approx(2.0)
    # Standards sheet 9 row 35: list 2°, beam 32.2 m: the low side draws 0.56 m more.
    assert 0.5 * 32.2 * math.sin(angle) == pytest.approx(0.56, abs=0.005)


def test_lightship_of_the_booklet_seen() -> None:
    displacement, length, beam, draught, block = BOOKLET
    assert block * length * beam * draught * 1.025 == pytest.approx(displacement, rel=0.001)
    assert displacement - 47_363.0 == pytest.approx(9_691.0), "standards sheet 9 row 20"
