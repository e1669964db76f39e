"""Constants against their definitions and the check values of standards.md section 9."""

import math

import pytest

from leadsman import units

CHECKS = [  # found, expected, tolerance, origin
    (10_000e3 / units.METRIC_HORSEPOWER, 13_596.2, 0.05, "standards.md 9 row 12, definition of the metric horsepower"),
    (10_000e3 / units.MECHANICAL_HORSEPOWER, 13_410.2, 0.05, "standards.md 9 row 12, definition of the mechanical horsepower"),
    (12_900 * units.METRIC_HORSEPOWER / 1e3, 9_487.9, 0.05, "standards.md 9 row 13, a card seen says 9 480"),
    (24_427 * units.MECHANICAL_HORSEPOWER / 1e3, 18_215.2, 0.05, "standards.md 9 row 14, a card seen says 18 215"),
    (11 * units.SHACKLE, 301.75, 0.01, "standards.md 9 row 15, definition"),
    (7 * units.NAUTICAL_MILE / (7.5 * units.KNOT) / units.MINUTE, 56.0, 1e-9, "standards.md 9 row 22, navy training, seen"),
    (16 * units.KNOT * 180.0, 1_481.6, 0.01, "standards.md 9 row 23, navy training, seen"),
    (9.2 * units.NAUTICAL_MILE / (7 * units.KNOT) / units.MINUTE, 78.9, 0.05, "standards.md 9 row 24, magazine, seen"),
    (units.SHACKLE / units.FATHOM, 15.0, 1e-12, "standards.md 4.5: one shackle is fifteen fathoms"),
    (units.FATHOM / units.FOOT, 6.0, 1e-12, "standards.md 4.5: one fathom is six feet"),
    (units.LONG_TON, 2240 * 0.45359237, 1e-7, "international pound 0.45359237 kg exactly, 1959"),
    (units.TONNE_FORCE, 1000 * units.STANDARD_GRAVITY, 1e-9, "3rd CGPM, 1901"),
    (units.METRIC_HORSEPOWER, 75 * units.STANDARD_GRAVITY, 1e-9, "75 kgf m/s"),
    (units.MECHANICAL_HORSEPOWER, 550 * 0.3048 * 4.4482216152605, 1e-5, "550 ft lbf/s"),
    (units.CABLE * 10, units.NAUTICAL_MILE, 1e-9, "one tenth of the nautical mile"),
]


@pytest.mark.parametrize(("found", "expected", "tolerance", "origin"), CHECKS, ids=[row[3][:44] for row in CHECKS])
def test_units(found: float, expected: float, tolerance: float, origin: str) -> None:
    assert found == pytest.approx(expected, abs=tolerance), origin


@pytest.mark.parametrize("angle", [-7.0, -math.pi, 0.0, 1.0, math.pi, 9.0])
def test_angles_come_back_the_short_way(angle: float) -> None:
    assert 0.0 <= units.wrapped(angle) < 2.0 * math.pi
    assert -math.pi <= units.signed(angle) < math.pi
    assert math.cos(units.signed(angle)) == pytest.approx(math.cos(angle))
    assert math.sin(units.wrapped(angle)) == pytest.approx(math.sin(angle))
