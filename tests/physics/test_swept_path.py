"""Swept width, bends, basins: rows 50 and 51 and sections 4.3 to 4.5 of the sheet on water."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import swept_path
from leadsman.units import DEGREE


def test_crabbing() -> None:
    """Row 51, derived: length 280 m, beam 45 m, 4 degrees."""
    assert swept_path.width(280.0, 45.0, 4.0 * DEGREE) == pytest.approx(64.42, abs=0.01)


def test_more_width_in_bends() -> None:
    """Row 50, computed from PIANC 121 (memory), and section 4.4: length 290 m, radius 1450 m."""
    assert swept_path.bend_drift_width(290.0, 1450.0, 0.82) == pytest.approx(12.89, abs=0.01)
    assert swept_path.bend_drift_width(290.0, 1450.0, 0.62) == pytest.approx(7.25, abs=0.01)
    assert swept_path.bend_response_width(45.0) == pytest.approx(18.0)
    assert swept_path.sagitta(290.0, 1450.0) == pytest.approx(7.268, abs=0.001)
    assert (swept_path.LEAST_RADIUS, swept_path.PREFERRED_RADIUS, swept_path.STRAIGHT_BETWEEN) == (5.0, 10.0, 5.0)


def test_an_arc_tighter_than_half_the_length() -> None:
    assert swept_path.sagitta(200.0, 90.0) == math.inf


DEFLECTIONS = [  # degrees, beams, radius in lengths; EM 1110-2-1613, memory, section 4.4
    (8.0, 0.0, (0.0, 3.0)),
    (10.1, 2.0, (3.0, 5.0)),
    (25.0, 2.0, (3.0, 5.0)),
    (35.0, 1.0, (5.0, 7.0)),
    (-50.0, 0.7, (7.0, 10.0)),
    (51.0, 0.5, (10.0, math.inf)),
]


@pytest.mark.parametrize(("degrees", "beams", "radii"), DEFLECTIONS)
def test_bend_width_by_deflection(degrees: float, beams: float, radii: tuple[float, float]) -> None:
    found = swept_path.bend_width_by_deflection(degrees * DEGREE)
    assert found.beams == beams
    assert (found.radius_from, found.radius_to) == radii
    assert found.mark == "memory"


@given(
    length=st.floats(50.0, 400.0),
    length_to_beam=st.floats(4.0, 9.0),
    drift=st.floats(-0.35, 0.35),
    radii=st.floats(2.0, 30.0),
)
def test_the_swept_path_of_a_turn_holds_the_whole_ship(
    length: float, length_to_beam: float, drift: float, radii: float
) -> None:
    """Corner by corner and along both sides, distances from the centre of the turn lie between two circles."""
    beam, turn = length / length_to_beam, radii * length
    along = np.linspace(-0.5 * length, 0.5 * length, 2001)
    distances = [
        np.hypot(along - turn * np.sin(drift), side - turn * np.cos(drift)) for side in (-0.5 * beam, 0.5 * beam)
    ]
    expected = np.max(distances) - np.min(distances)
    found = swept_path.width_in_turn(length, beam, drift, turn)
    assert found == pytest.approx(expected, abs=0.001)
    assert found >= beam - 1e-9
    assert found == swept_path.width_in_turn(length, beam, -drift, -turn)


@given(length=st.floats(50.0, 400.0), angle=st.floats(-1.5, 1.5))
def test_swept_width_is_even_and_never_below_the_beam_of_a_long_ship(length: float, angle: float) -> None:
    beam = length / 6.0
    assert swept_path.width(length, beam, angle) == swept_path.width(length, beam, -angle)
    assert swept_path.width(length, beam, angle) >= beam - 1e-9


def test_a_wide_turn_sweeps_what_a_straight_crab_sweeps() -> None:
    assert swept_path.width_in_turn(280.0, 45.0, 4.0 * DEGREE, 1e7) == pytest.approx(
        swept_path.width(280.0, 45.0, 4.0 * DEGREE), abs=0.01
    )


BASINS = [  # rule, diameter in lengths, mark; water sheet 4.5
    ("pianc_with_tugs", 2.0, "seen"),
    ("pianc_unaided", 3.0, "seen"),
    ("military_unaided", 4.0, "seen"),
    ("military_with_tugs", 1.5, "seen"),
    ("corps_slack", 1.2, "memory"),
    ("corps_current", 1.5, "memory"),
    ("warping", 1.2, "memory"),
    ("inland", 1.2, "seen"),
]


@pytest.mark.parametrize(("rule", "lengths", "mark"), BASINS)
def test_basins(rule: str, lengths: float, mark: str) -> None:
    assert swept_path.basin_diameter(rule, 200.0) == pytest.approx(200.0 * lengths)
    assert swept_path.BASINS[rule].mark == mark


def test_an_unknown_basin_rule_is_refused() -> None:
    assert len(swept_path.BASINS) == len(BASINS)
    with pytest.raises(KeyError, match="no rule for swinging basins is called 'guess'; known are pianc_with_tugs,"):
        swept_path.basin_diameter("guess", 200.0)


def test_drift_while_swinging() -> None:
    assert swept_path.basin_drift(-0.25, 1500.0) == pytest.approx(375.0)
