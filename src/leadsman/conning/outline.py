"""Her outline in plan and what is left about it: to the edges, to water too shallow, to the quay, under the keel.

Compiled formulas, and `outline` that draws her from the card.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.conning.waters import (
    COURSE,
    EAST,
    NORTH,
    PORT,
    STARBOARD,
    Waters,
    clear_at,
    depth_at,
    progress,
)
from leadsman.simulation.state import Motion

SHAPE = (
    (0.5, 0.0),
    (0.45, 0.25),
    (0.38, 0.42),
    (0.30, 0.5),
    (0.0, 0.5),
    (-0.38, 0.5),
    (-0.5, 0.38),
)
"""Starboard half of a deck line, shares of length overall and beam: a setting of ours, fuller than most."""


class Quay(NamedTuple):
    """The face of a berth: one end [m], direction along it, length [m], the direction from it to the water, and the
    place along it where midships is to lie [m]."""

    north: float
    east: float
    along_north: float
    along_east: float
    length: float
    off_north: float
    off_east: float
    place: float


class Keel(NamedTuple):
    """Least depth under her less draught and squat, and its place: share of the length from midships, side. [m]"""

    clearance: float
    forward: float
    starboard: float


class Stage(NamedTuple):
    """Square cells of `cell` metres on which it is noted what she covers; the first centre at `north`, `east`. [m]"""

    north: float
    east: float
    cell: float


NO_STAGE = Stage(0.0, 0.0, 1.0)


def filling(hull: Any, cell: float) -> Any:
    """Points all over her [points, 2], so close that no cell she covers is passed over, her outline among them. [m]"""
    import shapely

    step = CLOSE * cell
    ahead = np.arange(hull[:, 0].min(), hull[:, 0].max() + step, step)
    right = np.arange(hull[:, 1].min(), hull[:, 1].max() + step, step)
    along, across = (values.ravel() for values in np.meshgrid(ahead, right))
    around = shapely.MultiPoint(hull).convex_hull
    inside = shapely.contains_xy(around, along, across)
    edge = shapely.get_coordinates(shapely.segmentize(around.exterior, step))
    return np.concatenate([np.column_stack([along, across])[inside], edge])


CLOSE = 0.7  # of a cell, between points: less than half its diagonal


def outline(length_overall: float, beam: float) -> Any:
    """Points of her outline [points, 2], forward of midships and to starboard, symmetrical. [m]"""
    half = [(length_overall * ahead, beam * side) for ahead, side in SHAPE]
    return np.array(half + [(ahead, -side) for ahead, side in half if side > 0.0])


@formula
def place(motion: Motion, ahead: float, right: float) -> tuple[Real, Real]:
    """North and east of a point of the ship. [m]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    return motion.north + ahead * cosine - right * sine, motion.east + ahead * sine + right * cosine


@formula
def cover(stage: Stage, points: Any, motion: Motion, covered: Any) -> None:
    """Note the cells she lies over in `covered` [cells north, cells east]."""
    for point in range(points.shape[0]):
        north, east = place(motion, points[point, 0], points[point, 1])
        i = int(np.floor((north - stage.north) / stage.cell + 0.5))
        j = int(np.floor((east - stage.east) / stage.cell + 0.5))
        if 0 <= i < covered.shape[0] and 0 <= j < covered.shape[1]:
            covered[i, j] = 1


@formula
def edge_room(waters: Waters, hull: Any, index: int, motion: Motion, swept: Any) -> tuple[Real, Real]:
    """Least room between her outline and the edges of the fairway, port and starboard as sailed; and what she sweeps
    is noted in `swept` [stretches, 2]: greatest reach to port and to starboard of the track. [m]"""
    port = np.inf
    starboard = np.inf
    near = index
    for point in range(hull.shape[0]):
        north, east = place(motion, hull[point, 0], hull[point, 1])
        near = progress(waters, near, north, east)
        course = waters.track[near, COURSE]
        across = (east - waters.track[near, EAST]) * np.cos(course) - (north - waters.track[near, NORTH]) * np.sin(
            course
        )
        stretch = near // STRETCH
        if stretch < swept.shape[0]:
            swept[stretch, 0] = max(swept[stretch, 0], -across)
            swept[stretch, 1] = max(swept[stretch, 1], across)
        port = min(port, waters.track[near, PORT] + across)
        starboard = min(starboard, waters.track[near, STARBOARD] - across)
    return port, starboard


@formula
def water_room(waters: Waters, hull: Any, motion: Motion) -> Real:
    """Least distance between her outline and water too shallow for her. [m]"""
    least = np.inf
    for point in range(hull.shape[0]):
        north, east = place(motion, hull[point, 0], hull[point, 1])
        least = min(least, clear_at(waters, north, east))
    return least


@formula
def keel(waters: Waters, ship: Any, hull: Any, draught: float, level: float, motion: Motion) -> Keel:
    """Least water under her outline and along her keel; `draught` is added to hers. [m]"""
    body = ship.hull
    squat = body.squat * motion.surge * motion.surge
    middle = 0.5 * (body.draught_forward + body.draught_aft) + draught + squat
    trim = (body.draught_aft - body.draught_forward) / body.length
    least = np.inf
    forward = 0.0
    starboard = 0.0
    for point in range(hull.shape[0] + 1):
        ahead = hull[point, 0] if point < hull.shape[0] else 0.0
        right = hull[point, 1] if point < hull.shape[0] else 0.0
        north, east = place(motion, ahead, right)
        left = depth_at(waters, north, east) + level - (middle - trim * ahead)
        if left < least:
            least = left
            forward = ahead
            starboard = right
    return Keel(least, forward, starboard)


@formula
def off_quay(quay: Quay, north: float, east: float) -> tuple[Real, Real]:
    """Distance of a place from the face of the quay, and along it from its beginning. [m]"""
    ahead = north - quay.north
    right = east - quay.east
    return (
        ahead * quay.off_north + right * quay.off_east,
        ahead * quay.along_north + right * quay.along_east,
    )


@formula
def quay_gap(quay: Quay, hull: Any, motion: Motion) -> tuple[Real, int]:
    """Least distance of her outline from the face of the quay, where she lies before it, and the point. [m]"""
    least = np.inf
    nearest = 0
    for point in range(hull.shape[0]):
        north, east = place(motion, hull[point, 0], hull[point, 1])
        off, along = off_quay(quay, north, east)
        if -BESIDE <= along <= quay.length + BESIDE and off < least:
            least = off
            nearest = point
    return least, nearest


@formula
def closing(quay: Quay, hull: Any, motion: Motion, around: Any) -> Real:
    """Speed towards the quay of the end of her parallel body that comes faster. [m/s]"""
    cosine = np.cos(motion.heading)
    sine = np.sin(motion.heading)
    north = motion.surge * cosine - motion.sway * sine + around.stream_north
    east = motion.surge * sine + motion.sway * cosine + around.stream_east
    bodily = -(north * quay.off_north + east * quay.off_east)
    return bodily + np.abs(motion.yaw_rate) * np.abs(hull[0, 0]) * LANDING_ARM


LANDING_ARM = 0.6  # of half her length: where the ends of the parallel body are, whose approach counts too. Ours
STRETCH = 5  # points of the track that are one stretch of the swept path
BESIDE = 5.0  # m: beyond its ends the quay is taken to go on so far
