"""Equipment number and its table against the standards sheet, sections 5 and 9."""

import itertools
import math

import numpy as np
import pytest

from leadsman.physics import equipment_number
from leadsman.physics.published import published


def test_worked_number() -> None:
    """57 054 t, beam 32.2 m, height 20 m, profile 1500 m²: 2920, anchors of 8700 kg, 632.5 m in all."""
    origin = "standards sheet check 33 [computed, formula seen, table from memory]"
    found = equipment_number.equipment_number(57054.0e3, 32.2, 20.0, 1500.0, 0.0)
    assert found == pytest.approx(2920.0, abs=1.0), origin
    asked = equipment_number.equipment(found)
    assert (asked.anchor_mass, asked.cable) == (8700.0, 632.5), origin


def test_shackles() -> None:
    origin = "standards sheet check 16 [table from memory]"
    cable = equipment_number.equipment(2500.0).cable
    assert cable == 605.0, origin
    assert equipment_number.shackles_a_side(cable, 27.5) == pytest.approx(11.0), origin


ROWS = [  # number, anchor_kg, cable_m, grade 3 in mm, origin
    (205.0, 570.0, 302.5, 20.5 * math.nan, "IACS Recommendation 10 [seen]"),
    (205.1, 660.0, 302.5, 20.5, "UR A1 [memory]: above 205 the next row begins"),
    (16000.0, 46000.0, 770.0, 162.0, "UR A1 [memory]"),
]


@pytest.mark.parametrize(("number", "mass", "cable", "third", "origin"), ROWS)
def test_rows(number: float, mass: float, cable: float, third: float, origin: str) -> None:
    found = equipment_number.equipment(number)
    assert (found.anchor_mass, found.cable) == (mass, cable), origin
    assert 1000.0 * found.diameters[2] == pytest.approx(third, nan_ok=True), origin


def test_table_is_whole() -> None:
    rows = published("equipment_number")["rows"]
    assert len(rows) == 67
    for before, after in itertools.pairwise(rows):
        assert after[0] > before[0]
        assert after[1] > before[1]
        assert after[2] >= before[2]
    steps = np.diff([row[2] for row in rows]) / 27.5
    np.testing.assert_allclose(steps, np.round(steps), atol=1e-12, err_msg="cable grows by whole shackles")


def test_chain_grows_with_the_number_and_shrinks_with_the_grade() -> None:
    """No second printing was at hand; a slip of a diameter would break the order or the ratio of the grades."""
    diameters = np.array([row[3:] for row in published("equipment_number")["rows"]])
    offered = np.where(diameters > 0.0, diameters, np.nan)
    for column in offered.T:
        assert np.all(np.diff(column[~np.isnan(column)]) >= 0.0)
    for thinner in (offered[:, 1] / offered[:, 0], offered[:, 2] / offered[:, 1]):
        ratios = thinner[~np.isnan(thinner)]
        assert ratios.min() > 0.82
        assert ratios.max() < 0.96


def test_outside_the_table() -> None:
    with pytest.raises(ValueError, match="equipment number 40 is outside the table, 50 to 16000"):
        equipment_number.equipment(40.0)
    with pytest.raises(ValueError, match="equipment number 20000 is outside the table"):
        equipment_number.equipment(20000.0)
    with pytest.raises(ValueError, match="an anchor of 90 kg is lighter than the least of the table, 180 kg"):
        equipment_number.implied_numbers(90.0)


def test_an_anchor_tells_its_numbers() -> None:
    low, high = equipment_number.implied_numbers(8700.0)
    assert (low, high) == (2870.0, 3040.0), "UR A1 [memory]"
    assert equipment_number.implied_numbers(8750.0) == (low, high)
    assert equipment_number.implied_numbers(180.0) == (50.0, 70.0)
