"""Positions, the local plane, and the track as straights and arcs.

Geographical positions are degrees, WGS 84, latitude first (the one exception to radians: they are read and shown as
such and never enter a formula). Everything else lies on a transverse Mercator plane about the port's own origin:
x north, y east, metres. The plane keeps angles; a leg 18 km from the origin is 5 mm per 1.7 km off (tried).
"""

import functools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from leadsman.errors import refuse

Array = NDArray[np.float64]

PLANE_REACH = 100_000.0  # m; farther from the origin the plane's scale is off by more than 1 in 8 000


@dataclass(frozen=True)
class Position:
    """A place on the earth, degrees, WGS 84."""

    latitude: float
    longitude: float

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterable[tuple[str, str]]:
        if not -90.0 <= self.latitude <= 90.0:
            yield "latitude", f"{self.latitude} is outside -90 to 90; expected degrees north"
        if not -180.0 <= self.longitude <= 180.0:
            yield "longitude", f"{self.longitude} is outside -180 to 180; expected degrees east"


@dataclass(frozen=True)
class LocalPlane:
    """The transverse Mercator plane about an origin; equal origins are equal planes."""

    origin: Position

    def to_plane(self, latitude: Any, longitude: Any) -> tuple[Array, Array]:
        """(x north, y east) in metres of positions in degrees, any shape."""
        east, north = _projection(self.origin.latitude, self.origin.longitude)(
            np.asarray(longitude), np.asarray(latitude)
        )
        return np.asarray(north, dtype=np.float64), np.asarray(east, dtype=np.float64)

    def to_earth(self, x: Any, y: Any) -> tuple[Array, Array]:
        """(latitude, longitude) in degrees of points of the plane, any shape."""
        longitude, latitude = _projection(self.origin.latitude, self.origin.longitude)(
            np.asarray(y), np.asarray(x), inverse=True
        )
        return np.asarray(latitude, dtype=np.float64), np.asarray(longitude, dtype=np.float64)


@functools.lru_cache(maxsize=32)
def _projection(latitude: float, longitude: float) -> Any:
    from pyproj import Proj

    return Proj(proj="tmerc", lat_0=latitude, lon_0=longitude, k=1.0, ellps="WGS84", preserve_units=True)


@dataclass(frozen=True)
class Bend:
    """An arc of the track about one waypoint."""

    waypoint: int
    radius: float
    deflection: float
    """Change of course, to starboard positive. [rad]"""
    begin: float
    """Distance along the track where the arc begins. [m]"""
    end: float


@dataclass(frozen=True, eq=False)
class Track:
    """A planned track: straights joined by arcs tangent to both, given by waypoints and a radius at each inner one."""

    points: Array
    """Waypoints on the plane, shape (n, 2): x north, y east. [m]"""
    radii: tuple[float, ...]
    """n - 2 radii of the bends. [m]"""

    @functools.cached_property
    def courses(self) -> Array:
        """Course of each of the n - 1 reaches. [rad]"""
        step = np.diff(self.points, axis=0)
        return np.asarray(np.arctan2(step[:, 1], step[:, 0]) % (2.0 * math.pi))

    @functools.cached_property
    def spans(self) -> Array:
        """Distance between successive waypoints, shape (n - 1,). [m]"""
        return np.asarray(np.hypot(*np.diff(self.points, axis=0).T))

    @functools.cached_property
    def bends(self) -> tuple[Bend, ...]:
        """The arcs, with where they begin and end along the track."""
        deflections = (np.diff(self.courses) + math.pi) % (2.0 * math.pi) - math.pi
        found, travelled, tangent_before = [], 0.0, 0.0
        for index, (radius, deflection) in enumerate(zip(self.radii, deflections, strict=True)):
            tangent = radius * math.tan(abs(deflection) / 2.0)
            begin = travelled + self.spans[index] - tangent_before - tangent
            end = begin + radius * abs(deflection)
            found.append(Bend(index + 1, radius, float(deflection), float(begin), float(end)))
            travelled, tangent_before = end, tangent
        return tuple(found)

    @functools.cached_property
    def length(self) -> float:
        """Along straights and arcs. [m]"""
        last = self.bends[-1] if self.bends else None
        if last is None:
            return float(self.spans[0])
        tangent = last.radius * math.tan(abs(last.deflection) / 2.0)
        return float(last.end + self.spans[-1] - tangent)

    @functools.cached_property
    def waypoint_distances(self) -> Array:
        """Where each waypoint is passed: the ends, and the middle of each arc. [m]"""
        return np.array([0.0, *(0.5 * (bend.begin + bend.end) for bend in self.bends), self.length])

    def problems(self) -> Iterable[tuple[int, str]]:
        """What makes the track impossible, as (index of the waypoint, sentence)."""
        for index, span in enumerate(self.spans):
            if span < 1.0:
                yield index + 1, "lies on the waypoint before it; expected waypoints apart"
        tangents = [0.0]
        for radius, bend in zip(self.radii, self.bends, strict=True):
            if abs(bend.deflection) > math.radians(170.0):
                yield bend.waypoint, "the track turns back on itself; expected less than 170 degrees of alteration"
            tangents.append(radius * math.tan(abs(bend.deflection) / 2.0))
        tangents.append(0.0)
        for index, span in enumerate(self.spans):
            needed = tangents[index] + tangents[index + 1]
            if needed > span:
                yield (
                    min(index + 1, len(self.radii)),
                    f"the bends at the ends of this reach need {needed:.0f} m of it, it is {span:.0f} m long; "
                    "expected smaller bend radii or waypoints farther apart",
                )

    def at(self, distance: Any) -> tuple[Array, Array, Array]:
        """(x, y, course) at distances along the track, any shape; beyond the ends the end straights go on."""
        wanted = np.atleast_1d(np.asarray(distance, dtype=np.float64))
        x, y, course = np.empty_like(wanted), np.empty_like(wanted), np.empty_like(wanted)
        for begin, reach in self._straights():
            here = wanted >= begin
            x[here] = reach[0] + np.cos(reach[2]) * (wanted[here] - begin)
            y[here] = reach[1] + np.sin(reach[2]) * (wanted[here] - begin)
            course[here] = reach[2]
        first = wanted < 0.0
        x[first] = self.points[0, 0] + np.cos(self.courses[0]) * wanted[first]
        y[first] = self.points[0, 1] + np.sin(self.courses[0]) * wanted[first]
        course[first] = self.courses[0]
        for bend in self.bends:
            here = (wanted >= bend.begin) & (wanted < bend.end)
            x[here], y[here], course[here] = self._on_arc(bend, wanted[here])
        return x, y, course % (2.0 * math.pi)

    def _straights(self) -> Iterable[tuple[float, tuple[float, float, float]]]:
        """For each reach: the distance where its straight begins, and (x, y, course) there."""
        begin, point = 0.0, self.points[0]
        for index, course in enumerate(self.courses):
            yield begin, (float(point[0]), float(point[1]), float(course))
            if index < len(self.bends):
                bend = self.bends[index]
                tangent = bend.radius * math.tan(abs(bend.deflection) / 2.0)
                onward = self.courses[index + 1]
                point = self.points[index + 1] + tangent * np.array([math.cos(onward), math.sin(onward)])
                begin = bend.end

    def _on_arc(self, bend: Bend, distance: Array) -> tuple[Array, Array, Array]:
        before = float(self.courses[bend.waypoint - 1])
        side = math.copysign(1.0, bend.deflection)
        tangent = bend.radius * math.tan(abs(bend.deflection) / 2.0)
        start = self.points[bend.waypoint] - tangent * np.array([math.cos(before), math.sin(before)])
        turned = side * (distance - bend.begin) / bend.radius
        course = before + turned
        x = start[0] + side * bend.radius * (np.sin(course) - math.sin(before))
        y = start[1] - side * bend.radius * (np.cos(course) - math.cos(before))
        return x, y, course

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """(distance along the track, distance off it, to starboard positive) of the nearest place of the track."""
        from scipy.optimize import minimize_scalar

        coarse = np.linspace(0.0, self.length, max(2, int(self.length / 25.0) + 2))
        xs, ys, _ = self.at(coarse)
        best = float(coarse[int(np.argmin((xs - x) ** 2 + (ys - y) ** 2))])

        def squared(distance: float) -> float:
            px, py, _ = self.at(distance)
            return float((px[0] - x) ** 2 + (py[0] - y) ** 2)

        low, high = max(0.0, best - 50.0), min(self.length, best + 50.0)
        found = minimize_scalar(squared, bounds=(low, high), method="bounded", options={"xatol": 1e-3})
        distance = min((float(found.x), low, high), key=squared)
        px, py, course = self.at(distance)
        off = -math.sin(course[0]) * (x - px[0]) + math.cos(course[0]) * (y - py[0])
        return distance, math.copysign(math.hypot(x - px[0], y - py[0]), off)


def reversed_track(track: Track) -> Track:
    """The same track sailed the other way."""
    return Track(track.points[::-1].copy(), track.radii[::-1])


def rectangle(x: Any, y: Any, heading: Any, ahead: float, astern: float, half_beam: float) -> Array:
    """Corners of a ship's outline as a rectangle, shape (..., 4, 2), clockwise from the port bow.

    `x, y` is the reference point, which lies `ahead` metres behind the bow and `astern` metres before the stern.
    """
    x, y, heading = np.asarray(x)[..., None], np.asarray(y)[..., None], np.asarray(heading)[..., None]
    forward = np.array([ahead, ahead, -astern, -astern])
    starboard = np.array([-half_beam, half_beam, half_beam, -half_beam])
    corner_x = x + forward * np.cos(heading) - starboard * np.sin(heading)
    corner_y = y + forward * np.sin(heading) + starboard * np.cos(heading)
    return np.stack([corner_x, corner_y], axis=-1)


def crosses_itself(ring: Sequence[tuple[float, float]]) -> bool:
    """Whether a closed ring of points touches or crosses itself."""
    from shapely import Polygon

    return not Polygon(ring).is_valid
