"""Concept widths: the example and tables of the sheet on water, section 4 (rows a to d seen, the others memory)."""

import math
from dataclasses import replace
from typing import Any

import pytest

from leadsman.physics import width
from leadsman.physics.width import Conditions
from leadsman.units import KNOT

EXAMPLE = Conditions(  # water sheet 4.1: inner, beam 45 m
    place="inner",
    manoeuvrability="moderate",
    speed=9 * KNOT,
    cross_wind=20 * KNOT,
    cross_current=0.8 * KNOT,
    along_current=1.0 * KNOT,
    wave_height=0.0,
    aids="good",
    bottom="soft",
    depth_to_draught=1.2,
    bank_port="sloping",
    bank_starboard="sloping",
)


def test_the_example_one_way() -> None:
    """Row 49, computed: 4.0 beams, 180 m."""
    found = width.one_way(EXAMPLE)
    assert found.beams == pytest.approx(4.0, abs=1e-12)
    assert found.metres(45.0) == pytest.approx(180.0, abs=1e-9)
    assert [row.beams for row in found.rows] == [1.5, 0.0, 0.4, 0.6, 0.0, 0.0, 0.2, 0.1, 0.2, 0.5, 0.5]
    assert found.beyond == ()


def test_the_example_two_way() -> None:
    """Row 49, computed: 8.4 beams, 378 m."""
    found = width.two_way(EXAMPLE)
    assert found.beams == pytest.approx(8.4, abs=1e-12)
    assert found.metres(45.0) == pytest.approx(378.0, abs=1e-9)


def test_read_backwards() -> None:
    found = width.one_way(EXAMPLE)
    assert found.margin(200.0, 45.0) == pytest.approx(20.0)
    assert found.margin(160.0, 45.0) == pytest.approx(-20.0)
    heaviest = found.heaviest()
    assert [row.name for row in heaviest[:2]] == ["basic lane", "cross current"]
    assert sum(row.beams for row in heaviest) == pytest.approx(found.beams)


# Each cell of each table: condition changed, place, (fast, moderate, slow) in beams; water sheet 4.1, marks as there.
CELLS: list[tuple[str, dict[str, Any], str, tuple[float, float, float]]] = [
    ("speed", {}, "outer", (0.1, 0.0, 0.0)),
    ("speed", {}, "inner", (0.1, 0.0, 0.0)),
    ("cross wind", {"cross_wind": 14.9 * KNOT}, "outer", (0.1, 0.2, 0.3)),
    ("cross wind", {"cross_wind": 15 * KNOT}, "inner", (0.3, 0.4, 0.6)),
    ("cross wind", {"cross_wind": -32 * KNOT}, "outer", (0.3, 0.4, 0.6)),
    ("cross wind", {"cross_wind": 33 * KNOT}, "inner", (0.5, 0.7, 1.1)),
    ("cross current", {"cross_current": 0.2 * KNOT}, "outer", (0.0, 0.0, 0.0)),
    ("cross current", {"cross_current": 0.5 * KNOT}, "outer", (0.2, 0.25, 0.3)),
    ("cross current", {"cross_current": 0.5 * KNOT}, "inner", (0.1, 0.2, 0.3)),
    ("cross current", {"cross_current": -1.5 * KNOT}, "outer", (0.5, 0.7, 1.0)),
    ("cross current", {"cross_current": 1.5 * KNOT}, "inner", (0.4, 0.6, 0.8)),
    ("cross current", {"cross_current": 2.0 * KNOT}, "outer", (1.0, 1.2, 1.6)),
    ("cross current", {"cross_current": 1.6 * KNOT}, "inner", (math.inf, math.inf, math.inf)),
    ("along current", {"along_current": 1.5 * KNOT}, "inner", (0.0, 0.0, 0.0)),
    ("along current", {"along_current": 3.0 * KNOT}, "outer", (0.0, 0.1, 0.2)),
    ("along current", {"along_current": -3.1 * KNOT}, "inner", (0.1, 0.2, 0.4)),
    ("waves", {"wave_height": 1.0}, "outer", (0.0, 0.0, 0.0)),
    ("waves", {"wave_height": 2.9}, "outer", (0.5, 0.5, 0.5)),
    ("waves", {"wave_height": 3.0}, "outer", (1.0, 1.0, 1.0)),
    ("aids to navigation", {"aids": "excellent"}, "outer", (0.0, 0.0, 0.0)),
    ("aids to navigation", {"aids": "good"}, "outer", (0.2, 0.2, 0.2)),
    ("aids to navigation", {"aids": "moderate"}, "inner", (0.4, 0.4, 0.4)),
    ("bottom", {"depth_to_draught": 1.5, "bottom": "hard"}, "outer", (0.0, 0.0, 0.0)),
    ("bottom", {"depth_to_draught": 1.4, "bottom": "soft"}, "outer", (0.1, 0.1, 0.1)),
    ("bottom", {"depth_to_draught": 1.4, "bottom": "hard"}, "inner", (0.2, 0.2, 0.2)),
    ("depth", {"depth_to_draught": 1.5}, "inner", (0.0, 0.0, 0.0)),
    ("depth", {"depth_to_draught": 1.25}, "outer", (0.1, 0.1, 0.1)),
    ("depth", {"depth_to_draught": 1.24}, "outer", (0.2, 0.2, 0.2)),
    ("depth", {"depth_to_draught": 1.15}, "inner", (0.2, 0.2, 0.2)),
    ("depth", {"depth_to_draught": 1.14}, "inner", (0.4, 0.4, 0.4)),
    ("bank to port", {"bank_port": "gentle"}, "outer", (0.2, 0.1, 0.0)),
    ("bank to port", {"bank_port": "sloping"}, "inner", (0.7, 0.5, 0.3)),
    ("bank to starboard", {"bank_starboard": "steep"}, "inner", (1.3, 1.0, 0.5)),
]


@pytest.mark.parametrize(("name", "changes", "place", "expected"), CELLS)
def test_cells_of_the_tables(
    name: str, changes: dict[str, Any], place: Any, expected: tuple[float, float, float]
) -> None:
    for speed_kn, beams in zip((12.0, 8.0, 7.9), expected, strict=True):
        found = width.one_way(replace(EXAMPLE, place=place, speed=speed_kn * KNOT, **changes))
        row = next(row for row in found.rows if row.name == name)
        assert row.beams == beams, speed_kn
        assert row.source == "PIANC121"
        assert row.mark in ("seen", "memory")


@pytest.mark.parametrize(("word", "beams"), [("good", 1.3), ("moderate", 1.5), ("poor", 1.8)])
def test_basic_lane(word: Any, beams: float) -> None:
    assert width.one_way(replace(EXAMPLE, manoeuvrability=word)).rows[0].beams == beams


PASSING = [("outer", (2.0, 1.6, 1.2)), ("inner", (1.8, 1.4, 1.0))]  # water sheet 4.1, memory


@pytest.mark.parametrize(("place", "expected"), PASSING)
def test_passing_distance(place: Any, expected: tuple[float, float, float]) -> None:
    for speed_kn, beams in zip((12.0, 8.0, 5.0), expected, strict=True):
        assert width.two_way(replace(EXAMPLE, place=place, speed=speed_kn * KNOT)).rows[-1].beams == beams


BEYOND: list[tuple[dict[str, Any], str]] = [
    ({"cross_wind": 49 * KNOT}, "cross wind"),
    ({"place": "outer", "cross_current": 2.1 * KNOT}, "cross current"),
    ({"wave_height": 1.1}, "waves"),
    ({"speed": 4.9 * KNOT}, "speed"),
]


@pytest.mark.parametrize(("changes", "name"), BEYOND)
def test_past_the_end_of_a_table_is_marked(changes: dict[str, Any], name: str) -> None:
    assert [row.name for row in width.one_way(replace(EXAMPLE, **changes)).beyond] == [name]


def test_what_is_not_allowed_needs_no_end_of_width() -> None:
    found = width.one_way(replace(EXAMPLE, cross_current=1.8 * KNOT))
    assert found.beams == math.inf
    assert found.margin(1000.0, 45.0) == -math.inf


def test_additions_of_1997() -> None:
    """Water sheet 4.1, memory."""
    assert [row.beams for row in width.additions_of_1997("outer", "heavy", "high")] == [0.5, 1.0]
    assert [row.beams for row in width.additions_of_1997("inner", "heavy", "medium")] == [0.4, 0.4]
    assert [row.beams for row in width.additions_of_1997("inner", "light", "low")] == [0.0, 0.0]


@pytest.mark.parametrize(
    "name", ["speed", "cross_wind", "cross_current", "along_current", "wave_height", "depth_to_draught"]
)
def test_a_missing_figure_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match=f"{name} is missing; expected a number"):
        replace(EXAMPLE, **{name: math.nan})


CORPS = [  # ways, aids, cross-section, beams at 0.5, 1.5, 3.0 kn; water sheet 4.2, memory
    ("one_way", "best", "shallow", (3.0, 4.0, 5.0)),
    ("one_way", "best", "canal", (2.5, 3.0, 3.5)),
    ("one_way", "best", "trench", (2.75, 3.25, 4.0)),
    ("one_way", "average", "shallow", (3.5, 4.5, 5.5)),
    ("one_way", "average", "canal", (3.0, 3.5, 4.0)),
    ("one_way", "average", "trench", (3.5, 4.0, 5.0)),
    ("two_way", "best", "shallow", (5.0, 6.0, 8.0)),
    ("two_way", "best", "canal", (4.0, 4.5, 5.5)),
    ("two_way", "best", "trench", (4.5, 5.5, 6.5)),
]


@pytest.mark.parametrize(("ways", "aids", "cross_section", "expected"), CORPS)
def test_corps(ways: Any, aids: Any, cross_section: Any, expected: tuple[float, float, float]) -> None:
    for current_kn, beams in zip((0.5, -1.5, 3.0), expected, strict=True):
        found = width.corps(cross_section, aids, current_kn * KNOT, ways)
        assert found.beams == beams
        assert found.beyond == ()
    assert width.corps(cross_section, aids, 3.1 * KNOT, ways).beyond[0].beams == expected[2]


def test_corps_has_no_two_way_width_with_average_aids() -> None:
    with pytest.raises(ValueError, match="two-way widths are given for a constant cross-section with best aids only"):
        width.corps("canal", "average", 0.0, "two_way")
