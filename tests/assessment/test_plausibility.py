"""The table of usual ships: every type has rows, ranges run upwards, and the row of a length is the nearest."""

import math

import pytest

from leadsman.assessment import plausibility
from leadsman.ship import ShipType

RANGES = (
    "length",
    "length_to_beam",
    "beam_to_draught",
    "block",
    "service",
    "power",
    "lightship",
    "admiralty",
    "perpendiculars",
    "stability_loaded",
    "stability_ballast",
    "rudder",
    "depth",
)


def test_every_type_has_rows_but_the_unknown_one() -> None:
    assert {row.kind for row in plausibility.table()} == set(ShipType) - {ShipType.OTHER}
    assert plausibility.usual(ShipType.OTHER, 100.0) is None


@pytest.mark.parametrize("row", plausibility.table(), ids=lambda row: row.size)
def test_ranges_run_upwards(row: plausibility.Usual) -> None:
    for name in RANGES:
        low, high = getattr(row, name)
        assert 0.0 < low < high, name


ROWS = [  # type, length overall m, size
    (ShipType.TANKER, 183.0, "medium-range tanker"),
    (ShipType.TANKER, 244.0, "aframax or suezmax tanker"),
    (ShipType.TANKER, 210.0, "medium-range tanker"),  # between two rows: 5 % above the one, 7 % below the other
    (ShipType.BULK_CARRIER, 289.0, "cape-size or larger bulk carrier"),
    (ShipType.CONTAINER, 399.0, "ultra-large container ship"),
    (ShipType.TUG, 90.0, "tug"),
]


@pytest.mark.parametrize(("kind", "length", "size"), ROWS)
def test_the_nearest_row_is_taken(kind: ShipType, length: float, size: str) -> None:
    found = plausibility.usual(kind, length)
    assert found is not None
    assert found.size == size


def test_distance_outside_a_range() -> None:
    assert plausibility.distance(5.0, (4.0, 6.0)) == 0.0
    assert plausibility.distance(2.0, (4.0, 6.0)) == pytest.approx(math.log(2.0))
    assert plausibility.distance(12.0, (4.0, 6.0)) == pytest.approx(math.log(2.0))
    assert plausibility.distance(0.0, (4.0, 6.0)) == math.inf
    assert plausibility.distance(-1.0, (4.0, 6.0)) == math.inf
