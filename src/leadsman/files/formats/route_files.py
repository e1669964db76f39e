"""Routes from any file that holds them, the same route sailed the other way, and one proposed from a chart cell."""

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from leadsman.files.formats import geojson, geopackage, gpx, map_features, rtz
from leadsman.files.formats.door import Faults
from leadsman.files.formats.recognise import Format, recognise
from leadsman.files.formats.records import ChartCell, Route, RouteLeg, RouteWaypoint
from leadsman.geometry import LocalPlane, Position

STRAIGHT = math.radians(0.5)  # of alteration: a corner of less is none, but a rounded coordinate. Ours, no source
ONE_WAY = {1: "inbound", 2: "outbound"}  # TRAFIC [S57Attributes]


def read_routes(path: Path) -> Mapping[str, Route]:
    """Every route in an RTZ, GPX, GeoJSON or GeoPackage file, by a name of its own; `InputErrors` if there is none."""
    kind = recognise(path)
    if kind is Format.RTZ:
        found: tuple[Route, ...] = (rtz.read(path),)
    elif kind is Format.GPX:
        found = gpx.read(path).routes
    elif kind is Format.GEOJSON:
        found = map_features.routes(geojson.read(path))
    elif kind is Format.GEOPACKAGE:
        found = map_features.routes(geopackage.read(path))
    else:
        raise Faults(path).stop(f"is a {kind}; expected a route as RTZ, GPX, GeoJSON or GeoPackage")
    if not found:
        raise Faults(path).stop("holds no route: no line of at least two points")
    named: dict[str, Route] = {}
    for number, route in enumerate(found, start=1):
        name = route.name or f"route {number}"
        named[name if name not in named else f"{name} ({number})"] = route
    return named


def reversed_route(route: Route) -> Route:
    """The same route sailed the other way: port limits become starboard ones; schedules and extensions stay behind."""
    last = len(route.waypoints) - 1
    ways: list[RouteLeg | None] = [None, *(route.waypoints[last - k].leg for k in range(last))]
    waypoints = tuple(
        replace(route.waypoints[last - k], leg=None if leg is None else _other_side(leg)) for k, leg in enumerate(ways)
    )
    radius, leg = route.default_waypoint
    default = (radius, None if leg is None else _other_side(leg))
    return Route(name=route.name, waypoints=waypoints, default_waypoint=default, notes=route.notes)


def _other_side(leg: RouteLeg) -> RouteLeg:
    return replace(
        leg,
        cross_track_limit_port=leg.cross_track_limit_starboard,
        cross_track_limit_starboard=leg.cross_track_limit_port,
    )


def distance_between(one: Position, other: Position) -> float:
    """On the ellipsoid. [m]"""
    from pyproj import Geod

    return float(Geod(ellps="WGS84").inv(one.longitude, one.latitude, other.longitude, other.latitude)[2])


def corridor(route: Route, beside: float) -> Any:
    """All water within a distance of a route [m], as a shape (longitude, latitude)."""
    latitude = [point.position.latitude for point in route.waypoints]
    longitude = [point.position.longitude for point in route.waypoints]
    plane = LocalPlane(route.waypoints[len(route.waypoints) // 2].position)
    wide = shapely.buffer(shapely.LineString(np.column_stack(plane.to_plane(latitude, longitude))), beside)

    def back(points: Any) -> Any:
        north, east = plane.to_earth(points[:, 0], points[:, 1])
        return np.column_stack([east, north])

    return shapely.transform(wide, back)


def ends_at(route: Route, berth: Position) -> bool:
    """Whether the route's last waypoint lies nearer to the berth than its first."""
    first, last = route.waypoints[0].position, route.waypoints[-1].position
    return distance_between(last, berth) <= distance_between(first, berth)


def recommended_route(cell: ChartCell, berth: Position) -> Route | None:
    """The recommended tracks of a cell joined up, towards the berth; None where it has none.

    Where they do not join into one, that which ends nearest to the berth, with a note. Leading lines are not taken:
    they run on over shoals and land.
    """
    tracks = [
        feature
        for feature in cell.of("RECTRC")
        if feature.geometry.geom_type in ("LineString", "MultiLineString")
        and int(feature.number("TRAFIC") or 0) not in ONE_WAY
    ]
    lines = [part for feature in tracks for part in shapely.get_parts(feature.geometry)]
    if not lines:
        return None
    pieces = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines)))
    ends = [(piece, which) for piece in pieces for which in (0, -1)]

    def to_berth(end: tuple[object, int]) -> float:
        x, y = shapely.get_coordinates(end[0])[end[1]].tolist()
        return distance_between(Position(y, x), berth)

    piece, which = min(ends, key=to_berth)
    corners = shapely.get_coordinates(piece)[:: 1 if which == -1 else -1].tolist()
    notes = [] if len(pieces) == 1 else [f"of {len(pieces)} recommended tracks the one that ends nearest the berth"]
    places = _without_straight_corners([Position(y, x) for x, y in corners])
    waypoints = tuple(
        RouteWaypoint(identifier=number, position=place, name=f"Track {number}")
        for number, place in enumerate(places, start=1)
    )
    return Route(name="recommended track", waypoints=waypoints, notes=tuple(notes))


def _without_straight_corners(places: list[Position]) -> list[Position]:
    plane = LocalPlane(places[0])
    points = np.column_stack(plane.to_plane([p.latitude for p in places], [p.longitude for p in places]))
    kept = [0]
    for index in range(1, len(places) - 1):
        (x0, y0), (x1, y1) = points[index] - points[kept[-1]], points[index + 1] - points[index]
        if abs(math.atan2(x0 * y1 - y0 * x1, x0 * x1 + y0 * y1)) > STRAIGHT:
            kept.append(index)
    return [places[index] for index in (*kept, len(places) - 1)]
