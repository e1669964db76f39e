"""What she covers in slow work: every cell she lies over, none beside; outlines that are never smaller."""

import math

import numpy as np
import pytest

from leadsman.assessment.rehearse_stage import outlines, packed, rings, unpacked
from leadsman.conning.outline import Stage, cover, filling, outline
from leadsman.simulation.state import Motion

STAGE = Stage(north=-200.0, east=-200.0, cell=5.0)
CELLS = (81, 81)
LONG, BROAD = 180.0, 30.0


def lain_over(*headings: float) -> np.ndarray:
    covered = np.zeros(CELLS, np.uint8)
    points = filling(outline(LONG, BROAD), STAGE.cell)
    for heading in headings:
        cover(STAGE, points, Motion(0.0, 0.0, heading, 0.0, 0.0, 0.0), covered)
    return covered


def area(ring: np.ndarray) -> float:
    return 0.5 * abs(float(np.sum(ring[:-1, 0] * ring[1:, 1] - ring[1:, 0] * ring[:-1, 1])))


@pytest.mark.parametrize("heading", [0.0, 0.7, math.pi / 2.0, 4.0])
def test_all_cells_under_her_are_noted_and_none_is_passed_over(heading: float) -> None:
    import shapely

    covered = lain_over(heading)
    hull = outline(LONG, BROAD)
    turn = np.array([[math.cos(heading), -math.sin(heading)], [math.sin(heading), math.cos(heading)]])
    ship = shapely.MultiPoint(hull @ turn.T).convex_hull
    for i, j in np.ndindex(*CELLS):
        here = shapely.Point(STAGE.north + i * STAGE.cell, STAGE.east + j * STAGE.cell)
        if ship.contains(here):
            assert covered[i, j], "by geometry: its centre is under her"
        if ship.distance(here) > STAGE.cell:
            assert not covered[i, j], "by geometry: she is more than a cell away"


def test_a_whole_swing_covers_a_circle_of_her_length() -> None:
    covered = lain_over(*np.linspace(0.0, 2.0 * math.pi, 360))
    farthest = float(np.max(np.hypot(*outline(LONG, BROAD).T)))
    found = float(covered.sum()) * STAGE.cell**2
    expected = math.pi * (farthest + 0.5 * STAGE.cell) ** 2
    assert found == pytest.approx(expected, rel=0.03), "by geometry: her farthest corner, and half a cell"


def test_outlines_hold_what_was_covered_and_nest() -> None:
    import shapely

    runs = np.stack([lain_over(0.0)] * 50 + [lain_over(0.0, math.pi / 2.0)] * 50)
    found = outlines(STAGE, runs, {"50": 0.5, "99": 0.99})
    assert area(found["99"][0]) > 1.5 * area(found["50"][0])
    whole = shapely.Polygon(found["99"][0])
    for i, j in np.argwhere(runs[-1]):
        assert whole.contains(shapely.Point(STAGE.north + i * STAGE.cell, STAGE.east + j * STAGE.cell))


def test_a_hole_is_a_ring_of_its_own_and_nothing_has_none() -> None:
    inside = np.ones((20, 20), bool)
    inside[5:15, 5:15] = False
    assert len(rings(STAGE, inside)) == 2
    assert rings(STAGE, np.zeros((20, 20), bool)) == ()
    assert outlines(STAGE, np.zeros((0, *CELLS), np.uint8), {"50": 0.5}) == {"50": ()}


def test_runs_are_packed_without_loss() -> None:
    runs = np.random.default_rng(1).integers(0, 2, (7, 13, 11)).astype(np.uint8)
    assert np.array_equal(unpacked(packed(runs), (13, 11)), runs)
