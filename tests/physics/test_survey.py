"""Uncertainty of charted depths: row 46 and section 3.5 of the sheet on water."""

import numpy as np
import pytest

from leadsman.physics import survey

TVU = [  # order, total vertical uncertainty at 15 m; row 46, derived from figures of S-44 from memory
    ("exclusive", 0.188),
    ("special", 0.274),
    ("order_1a", 0.537),
    ("order_1b", 0.537),
    ("order_2", 1.058),
]


@pytest.mark.parametrize(("name", "expected"), TVU)
def test_total_vertical_uncertainty(name: str, expected: float) -> None:
    order = survey.order(name)
    assert survey.total_vertical_uncertainty(15.0, order.a, order.b) == pytest.approx(expected, abs=0.001)


ZONES = [  # zone, accuracy at 20 m by hand from S-57's a + b d, memory; position
    ("A1", 0.70, 5.0),
    ("A2", 1.40, 20.0),
    ("B", 1.40, 50.0),
    ("C", 3.00, 500.0),
]


@pytest.mark.parametrize(("name", "expected", "position"), ZONES)
def test_zones_of_confidence(name: str, expected: float, position: float) -> None:
    zone = survey.zone(name)
    assert survey.zone_uncertainty(20.0, zone.a, zone.b) == pytest.approx(expected, abs=1e-9)
    assert survey.zone_uncertainty(-20.0, zone.a, zone.b) == pytest.approx(expected, abs=1e-9)
    assert zone.position == position


@pytest.mark.parametrize("name", ["D", "U"])
def test_unassessed_depths_have_no_figure(name: str) -> None:
    with pytest.raises(KeyError, match=f"zone {name} states no depth accuracy; give the uncertainty of the depths"):
        survey.zone(name)


def test_unknown_names_are_refused_with_the_known_ones() -> None:
    with pytest.raises(
        KeyError, match="'order_3' is not known; known are exclusive, special, order_1a, order_1b, order_2"
    ):
        survey.order("order_3")
    with pytest.raises(KeyError, match="'E' is not known; known are A1, A2, B, C, D and U"):
        survey.zone("E")


def test_deviation_and_siltation() -> None:
    assert survey.standard_deviation(1.96) == pytest.approx(1.0)
    day = 86400.0
    np.testing.assert_allclose(survey.siltation(np.array([10.0, -10.0]) * day, 0.01 / day), [0.1, 0.0])
