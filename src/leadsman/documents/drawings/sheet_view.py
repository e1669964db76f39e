"""How a piece of the local plane is laid on paper: a round scale, north up unless turning her track gains much."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from leadsman.documents.drawings.svg import Point

ROUND = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 10.0)
GAIN = 1.3
"""How much larger the scale must come out before a plan is turned from north up."""


@dataclass(frozen=True, kw_only=True)
class SheetView:
    """From metres north and east to millimetres right and down."""

    to_right: float
    """Bearing that points to the right on paper; pi/2 is north up. [rad]"""
    scale: float
    """Metres for each millimetre."""
    centre: Point
    """Middle of the piece, (right, up) in metres."""
    middle: Point
    """Where that lies on paper. [mm]"""

    def __call__(self, x: float, y: float) -> Point:
        """A point (x north, y east) on paper."""
        right, up = turned(x, y, self.to_right)
        return (
            self.middle[0] + (right - self.centre[0]) / self.scale,
            self.middle[1] - (up - self.centre[1]) / self.scale,
        )

    def line(self, points: Iterable[Sequence[float]]) -> list[Point]:
        """Many points on paper."""
        return [self(point[0], point[1]) for point in points]

    def bearing(self, angle: float) -> Point:
        """Unit step on paper along a bearing."""
        return (math.cos(angle - self.to_right), math.sin(angle - self.to_right))

    @property
    def denominator(self) -> int:
        """The 25 000 of 1 : 25 000."""
        return round(self.scale * 1000.0)

    @property
    def north_up(self) -> bool:
        """Whether north is straight up the sheet."""
        return abs(self.to_right - 0.5 * math.pi) < 1e-9


def turned(x: float, y: float, to_right: float) -> Point:
    """(right, up) in metres of a point (x north, y east)."""
    return (
        x * math.cos(to_right) + y * math.sin(to_right),
        x * math.sin(to_right) - y * math.cos(to_right),
    )


def fitted(
    points: Sequence[Sequence[float]], spare: float, frame: tuple[float, float, float, float], gain: float = GAIN
) -> SheetView:
    """The view with the largest round scale that shows all points with `spare` metres about them.

    `frame` is left, top, width, height on paper in millimetres. North is up unless turning her track to run from left
    to right makes the scale more than `gain` times larger.
    """
    north_up = 0.5 * math.pi
    bearings = [math.radians(5.0 * step) for step in range(72)]
    needed = {bearing: _needed(points, spare, frame, bearing) for bearing in [north_up, *bearings]}
    first, last = points[0], points[-1]
    forwards = [
        bearing
        for bearing in bearings
        if turned(last[0] - first[0], last[1] - first[1], bearing)[0] >= 0.0  # she goes from left to right
    ]
    best = min(forwards, key=lambda bearing: (round(needed[bearing], 6), bearing))
    chosen = best if needed[north_up] > gain * needed[best] else north_up
    placed = [turned(point[0], point[1], chosen) for point in points]
    rights, ups = [right for right, _ in placed], [up for _, up in placed]
    left, top, width, height = frame
    return SheetView(
        to_right=chosen,
        scale=_round_scale(needed[chosen]),
        centre=(0.5 * (min(rights) + max(rights)), 0.5 * (min(ups) + max(ups))),
        middle=(left + 0.5 * width, top + 0.5 * height),
    )


def _needed(
    points: Sequence[Sequence[float]], spare: float, frame: tuple[float, float, float, float], bearing: float
) -> float:
    placed = [turned(point[0], point[1], bearing) for point in points]
    rights, ups = [right for right, _ in placed], [up for _, up in placed]
    return max(
        (max(rights) - min(rights) + 2.0 * spare) / frame[2],
        (max(ups) - min(ups) + 2.0 * spare) / frame[3],
    )


def _round_scale(least: float) -> float:
    power = math.pow(10.0, math.floor(math.log10(least)))
    return min(step * power for step in ROUND if step * power >= least * (1.0 - 1e-9))
