"""The shallowest water an outline touches counts; a hole, a gap and the unsurveyed are never deep."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np

from leadsman.environment.depth import Depths
from leadsman.geometry import LocalPlane, Position
from leadsman.waterway import DepthArea

ROOT = Path(__file__).parents[2]
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


THREADS = """
from concurrent.futures import ThreadPoolExecutor
import numpy as np
from tests_depth import PLANE, box, outline
from leadsman.environment.depth import Depths

rng = np.random.default_rng(1)
for _ in range(30):
    depths = Depths(tuple(box(f"a{i}", 100 * i, 0, 100 * (i + 1), 1000, 5.0 + i) for i in range(20)), PLANE)
    asked = np.array([outline(x, y) for x, y in rng.uniform(20.0, 980.0, (300, 2))])
    with ThreadPoolExecutor(8) as pool:
        found = [bed.area.tolist() for bed in pool.map(depths.under, [asked] * 8)]
    assert all(one == found[0] for one in found)
print("whole")
"""


def test_threads_of_a_server_may_ask_at_once(tmp_path: Path) -> None:
    """Prepared geometry is built by whoever asks first; two at once end the process, so this runs in its own."""
    (tmp_path / "tests_depth.py").write_text(Path(__file__).read_text().split("\n\nTHREADS")[0])
    environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(tmp_path), str(ROOT / "src")])}
    done = subprocess.run([sys.executable, "-c", THREADS], env=environment, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout.strip()) == (0, "whole"), done.stderr[-2000:]
