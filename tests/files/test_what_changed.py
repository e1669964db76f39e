"""What differs between two versions, in words: things by their names, not by their numbers."""

from typing import Any

import pytest

from leadsman.files.what_changed import MOST, what_changed

AREA = {"properties": {"name": "Bar", "depth_m": 2.1}, "geometry": {"coordinates": [[[0, 0], [1, 0], [1, 1]]]}}
BEFORE: dict[str, Any] = {
    "waterway": {"gate": [{"name": "Bridge", "clearance_m": 27.1}, {"name": "Cable", "clearance_m": 40}]},
    "areas": {"features": [AREA]},
    "call": {"margins": {"width_m": 15}},
}

CASES: list[tuple[dict[str, Any], list[tuple[str, str]]]] = [
    ({}, []),
    (
        {"waterway": {"gate": [{"name": "Cable", "clearance_m": 40}, {"name": "Bridge", "clearance_m": 26}]}},
        [("waterway, gate Bridge, clearance_m", "27.1 is 26 now"), ("waterway, gate", "stand in another order now")],
    ),
    (
        {"waterway": {"gate": [{"name": "Cable", "clearance_m": 40}, {"name": "Sill"}]}},
        [("waterway, gate Bridge", "was taken out"), ("waterway, gate Sill", "was added")],
    ),
    (
        {"areas": {"features": [AREA | {"properties": {"name": "Bar", "depth_m": "unsurveyed"}}]}},
        [("areas Bar, depth_m", "2.1 is 'unsurveyed' now")],
    ),
    ({"call": {"margins": {}}}, [("call, margins, width_m", "15 was taken out")]),
    ({"call": {"margins": {"width_m": 15}, "name": "x"}}, [("call, name", "'x' was added")]),
]


@pytest.mark.parametrize(("other", "expected"), CASES)
def test_changes_are_told_by_name(other: dict[str, Any], expected: list[tuple[str, str]]) -> None:
    assert what_changed(BEFORE, BEFORE | other) == expected


def test_many_changes_are_counted() -> None:
    told = what_changed({"call": {}}, {"call": {f"key{i}": i for i in range(MOST + 7)}})
    assert len(told) == MOST + 1
    assert told[-1] == ("", "and 7 more changes")
