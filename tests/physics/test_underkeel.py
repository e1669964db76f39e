"""Clearances asked for: section 3.1 of the sheet on water, PIANC 121 from memory."""

import pytest

from leadsman.physics import uncertainty, underkeel
from leadsman.units import KNOT


def test_manoeuvrability_margin() -> None:
    assert underkeel.manoeuvrability_margin(10.0) == 0.6
    assert underkeel.manoeuvrability_margin(14.0) == pytest.approx(0.7)


def test_a_ports_rule_takes_the_larger() -> None:
    assert underkeel.required_by_share(12.0, 0.10, 1.0) == pytest.approx(1.2)
    assert underkeel.required_by_share(8.0, 0.10, 1.0) == 1.0


BOTTOMS = [  # channel, bottom, metres; PIANC 121 table 2.2, memory
    ("inner", "mud", 0.0),
    ("inner", "sand_clay", 0.4),
    ("inner", "rock_coral", 0.6),
    ("outer", "mud", 0.0),
    ("outer", "sand_clay", 0.5),
    ("outer", "rock_coral", 1.0),
]


@pytest.mark.parametrize(("channel", "bottom", "expected"), BOTTOMS)
def test_bottom_margin(channel: str, bottom: str, expected: float) -> None:
    assert underkeel.bottom_margin(channel, bottom) == expected


RATIOS = [  # speed in knots, depth/draught of an inner channel; PIANC 121 table 2.2, memory
    (8.0, 1.10),
    (10.0, 1.10),
    (10.1, 1.12),
    (15.0, 1.12),
    (16.0, 1.15),
]


@pytest.mark.parametrize(("speed_kn", "expected"), RATIOS)
def test_concept_depth_of_inner_channels(speed_kn: float, expected: float) -> None:
    assert underkeel.concept_depth_inner(speed_kn * KNOT) == (expected, expected)


OUTER = [  # significant height, range; PIANC 121 table 2.2, memory
    (0.5, 1.15, 1.2),
    (1.0, 1.2, 1.3),
    (2.0, 1.2, 1.3),
    (2.1, 1.3, 1.4),
]


@pytest.mark.parametrize(("significant_height", "low", "high"), OUTER)
def test_concept_depth_of_outer_channels(significant_height: float, low: float, high: float) -> None:
    assert underkeel.concept_depth_outer(significant_height) == (low, high)


def test_default_uncertainties_are_careful_and_marked() -> None:
    """Water sheet, section 7: ranges as quoted there, the value at the careful end."""
    marks = {"memory", "common practice, no source"}
    for name, row in uncertainty.DEFAULTS.items():
        assert 0.0 < row.low <= row.value <= row.high, name
        assert row.value == row.high, name
        assert row.mark in marks, name
    assert uncertainty.default("squat").value == 0.25
    assert uncertainty.default("residual_open_coast")[:3] == (0.20, 0.15, 0.20)
    assert uncertainty.default("speed_through_water").high / KNOT == pytest.approx(0.3, abs=0.0001)
    with pytest.raises(
        KeyError, match=r"no default uncertainty is known for 'luck'; known are astronomical_prediction,"
    ):
        uncertainty.default("luck")
