"""The shallowest water an outline touches counts; a hole, a gap and the unsurveyed are never deep."""

import numpy as np

from leadsman.environment.depth import Depths
from leadsman.geometry import LocalPlane, Position
from leadsman.waterway import DepthArea

PLANE = LocalPlane(Position(0.0, 0.0))


def box(name: str, south: float, west: float, north: float, east: float, depth: float | None, **more) -> DepthArea:
    return DepthArea(name=name, ring=ring(south, west, north, east), depth=depth, **more)


def ring(south: float, west: float, north: float, east: float) -> tuple[Position, ...]:
    x, y = [south, south, north, north], [west, east, east, west]
    latitude, longitude = PLANE.to_earth(x, y)
    return tuple(Position(float(a), float(b)) for a, b in zip(latitude, longitude, strict=True))


def outline(x: float, y: float, size: float = 10.0) -> np.ndarray:
    return np.array([[x - size, y - size], [x - size, y + size], [x + size, y + size], [x + size, y - size]])


def test_the_shallowest_touched_counts() -> None:
    depths = Depths((box("deep", 0, 0, 100, 200, 10.0), box("shoal", 100, 0, 200, 200, 3.0)), PLANE)
    bed = depths.under(np.array([outline(50, 100), outline(95, 100), outline(150, 100)]))
    assert list(bed.area) == [0, 1, 1]
    assert list(bed.covered) == [True, True, True]


def test_survey_and_siltation_decide_which_counts() -> None:
    sure = box("sure", 0, 0, 100, 200, 5.0)
    vague = box("vague", 0, 0, 100, 200, 5.4, uncertainty=0.5, siltation=0.2)
    assert list(Depths((sure, vague), PLANE).under(np.array([outline(50, 100)])).area) == [1]


def test_gaps_and_holes_are_not_covered() -> None:
    left, right = box("left", 0, 0, 100, 100, 10.0), box("right", 0, 100.3, 100, 200, 10.0)
    assert list(Depths((left, right), PLANE).under(np.array([outline(50, 100), outline(50, 50)])).covered) == [False, True]
    holed = box("holed", 0, 0, 200, 200, 10.0, holes=(ring(90, 90, 110, 110),))
    bed = Depths((holed,), PLANE).under(np.array([outline(100, 100, 5.0), outline(100, 100, 30.0), outline(30, 30)]))
    assert list(bed.covered) == [False, False, True]
    assert bed.area[0] == -1


def test_neighbours_that_only_differ_by_rounding_are_closed() -> None:
    left, right = box("left", 0, 0, 100, 100, 10.0), box("right", 0, 100.04, 100, 200, 8.0)
    assert list(Depths((left, right), PLANE).under(np.array([outline(50, 100)])).covered) == [True]


def test_the_unsurveyed_is_never_deep() -> None:
    bed = Depths((box("known", 0, 0, 100, 100, 9.0), box("unknown", 0, 100, 100, 200, None)), PLANE).under(
        np.array([outline(50, 50), outline(50, 95)])
    )
    assert list(bed.unsurveyed) == [False, True]
    assert list(bed.covered) == [True, False]


def test_outside_everything() -> None:
    bed = Depths((box("known", 0, 0, 100, 100, 9.0),), PLANE).under(np.array([outline(500, 500)]))
    assert list(bed.area) == [-1]
    assert not bed.covered[0]
