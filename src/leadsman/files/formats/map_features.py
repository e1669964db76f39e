"""Routes, sailed tracks and soundings as plain map features and back: what GeoJSON and GeoPackage files carry.

Properties are written for a person with a general map program: seafarers' units with the unit in the name. Reading
takes our own properties back, and any other program's plain lines as routes and timed points as tracks.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

import numpy as np
import shapely

from leadsman.errors import Impossible
from leadsman.files.formats.records import MapFeature, Route, RouteLeg, RouteWaypoint, Soundings, array, elapsed_since
from leadsman.files.formats.times import NotATime, instant, written
from leadsman.geometry import Position
from leadsman.sailed import SailedTrack
from leadsman.units import DEGREE, KNOT, MINUTE

WAYPOINT_UNITS = {"turn_radius_m": ("turn_radius", 1.0)}
LEG_UNITS = {
    "cross_track_limit_port_m": ("cross_track_limit_port", 1.0),
    "cross_track_limit_starboard_m": ("cross_track_limit_starboard", 1.0),
    "speed_min_kn": ("speed_min", KNOT),
    "speed_max_kn": ("speed_max", KNOT),
}
TRACK_UNITS = {
    "speed_over_ground_kn": ("speed_over_ground", KNOT),
    "course_deg": ("course", DEGREE),
    "heading_deg": ("heading", DEGREE),
    "rate_of_turn_deg_min": ("rate_of_turn", DEGREE / MINUTE),
}


def cut_line(longitude: Sequence[float], latitude: Sequence[float]) -> Any:
    """A line through these points, cut in two where it crosses the antimeridian (RFC 7946, section 3.1.9)."""
    parts: list[list[tuple[float, float]]] = [[(float(longitude[0]), float(latitude[0]))]]
    for index in range(1, len(longitude)):
        x, y = float(longitude[index]), float(latitude[index])
        before_x, before_y = parts[-1][-1]
        if abs(x - before_x) > 180.0:
            side = math.copysign(180.0, before_x)
            to_edge, beyond = side - before_x, x + side  # `beyond`: from the other edge on, of opposite sign
            whole = to_edge + beyond
            there = before_y if whole == 0.0 else before_y + (y - before_y) * to_edge / whole
            parts[-1].append((side, there))
            parts.append([(-side, there)])
        parts[-1].append((x, y))
    lines = [shapely.LineString(part) for part in parts if len(part) > 1]
    return lines[0] if len(lines) == 1 else shapely.MultiLineString(lines)


def of_route(route: Route) -> tuple[MapFeature, ...]:
    """The route as one line and its waypoints as points."""
    longitude = [point.position.longitude for point in route.waypoints]
    latitude = [point.position.latitude for point in route.waypoints]
    line = MapFeature(
        geometry=cut_line(longitude, latitude), properties={"kind": "route", "route": route.name}, layer="route"
    )
    points = []
    for order, point in enumerate(route.waypoints, start=1):
        properties: dict[str, Any] = {
            "kind": "waypoint", "route": route.name, "order": order, "id": point.identifier, "name": point.name,
        }  # fmt: skip
        properties |= _present(point, WAYPOINT_UNITS)
        if point.leg is not None:
            properties |= _present(point.leg, LEG_UNITS)
            if point.leg.geometry:
                properties["leg_geometry"] = point.leg.geometry
        place = shapely.Point(point.position.longitude, point.position.latitude)
        points.append(MapFeature(geometry=place, properties=properties, layer="waypoints"))
    return (line, *points)


def _present(thing: Any, units: Mapping[str, tuple[str, float]]) -> dict[str, float]:
    """Those measures that are known, in the units of their names."""
    known = {key: (getattr(thing, name), unit) for key, (name, unit) in units.items()}
    return {key: value / unit for key, (value, unit) in known.items() if value is not None}


def of_track(track: SailedTrack) -> tuple[MapFeature, ...]:
    """The sailed track as one timed point for each position."""
    columns = {key: (getattr(track, name), unit) for key, (name, unit) in TRACK_UNITS.items()}
    features = []
    for index in range(len(track.elapsed)):
        properties: dict[str, Any] = {
            "kind": "position", "track": track.name, "identifier": track.identifier, "time": written(track.time(index)),
        }  # fmt: skip
        for key, (values, unit) in columns.items():
            if values is not None and math.isfinite(values[index]):
                properties[key] = float(values[index]) / unit
        place = shapely.Point(float(track.longitude[index]), float(track.latitude[index]))
        features.append(MapFeature(geometry=place, properties=properties, layer="positions"))
    return tuple(features)


def of_soundings(soundings: Soundings) -> tuple[MapFeature, ...]:
    """One point for each sounding, with its datum."""
    features = []
    for index in range(len(soundings.depth)):
        properties: dict[str, Any] = {
            "kind": "sounding", "depth_m": float(soundings.depth[index]), "datum": soundings.datum,
        }  # fmt: skip
        if soundings.uncertainty is not None and math.isfinite(soundings.uncertainty[index]):
            properties["uncertainty_m"] = float(soundings.uncertainty[index])
        if soundings.quality:
            properties["quality"] = soundings.quality[index]
        place = shapely.Point(float(soundings.longitude[index]), float(soundings.latitude[index]))
        features.append(MapFeature(geometry=place, properties=properties, layer="soundings"))
    return tuple(features)


def routes(features: Iterable[MapFeature]) -> tuple[Route, ...]:
    """Every route among the features: our own by their waypoints, any other line by its corners."""
    ours: dict[str, list[MapFeature]] = {}
    found: list[Route] = []
    for feature in features:
        kind = feature.properties.get("kind")
        if kind == "waypoint" and feature.geometry.geom_type == "Point":
            ours.setdefault(str(feature.properties.get("route") or ""), []).append(feature)
        elif kind is None and feature.geometry.geom_type == "LineString":
            points = [
                RouteWaypoint(identifier=number, position=Position(y, x))
                for number, (x, y) in enumerate(shapely.get_coordinates(feature.geometry).tolist(), start=1)
            ]
            name = str(feature.properties.get("name") or feature.layer or f"line {len(found) + 1}")
            found.append(Route(name=name, waypoints=tuple(points)))
    for name, corners in ours.items():
        ordered = sorted(corners, key=lambda corner: _order(corner.properties.get("order")))
        found.append(Route(name=name, waypoints=tuple(map(_waypoint, ordered))))
    return tuple(found)


def _order(value: Any) -> float:
    """Place of a waypoint in its route; `Impossible` where the property is no number."""
    number = _number("order", value)
    if number is None:
        raise Impossible([("order", "is missing; each waypoint of a route needs its place in it")])
    return number


def _number(name: str, value: Any) -> float | None:
    """A property that must be a finite number, or absent."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise Impossible([(name, f"is {str(value)[:40]!r}; expected a number")])
    return float(value)


def _waypoint(feature: MapFeature) -> RouteWaypoint:
    """One of our own waypoints back from its properties."""
    given = feature.properties
    leg: dict[str, Any] = {
        name: None if (value := _number(key, given.get(key))) is None else value * unit
        for key, (name, unit) in LEG_UNITS.items()
    }
    geometry = given.get("leg_geometry")
    known = geometry is not None or any(value is not None for value in leg.values())
    return RouteWaypoint(
        identifier=int(_order(given.get("id"))),
        position=Position(feature.geometry.y, feature.geometry.x),
        name=str(given.get("name") or ""),
        turn_radius=_number("turn_radius_m", given.get("turn_radius_m")),
        leg=RouteLeg(geometry=None if geometry is None else str(geometry), **leg) if known else None,
    )


def tracks(features: Iterable[MapFeature]) -> tuple[SailedTrack, ...]:
    """Every sailed track among the features: points with a `time`, gathered by `track` or `name`, in order of time."""
    groups: dict[tuple[str, str], list[tuple[datetime, MapFeature]]] = {}
    for feature in features:
        time = feature.properties.get("time")
        if time is None or feature.geometry.geom_type != "Point":
            continue
        try:
            moment = instant(str(time))
        except NotATime as problem:
            raise Impossible([("time", str(problem))]) from None
        name = feature.properties.get("track") or feature.properties.get("name") or feature.layer
        key = (str(name or ""), str(feature.properties.get("identifier") or ""))
        groups.setdefault(key, []).append((moment, feature))
    found: list[SailedTrack] = []
    for (name, identifier), points in groups.items():
        points.sort(key=lambda point: point[0])
        times = [moment for moment, _ in points]
        places = [feature.geometry for _, feature in points]
        columns = {
            ours: _column([feature.properties.get(key) for _, feature in points], key, unit)
            for key, (ours, unit) in TRACK_UNITS.items()
        }
        found.append(
            SailedTrack(
                name=name,
                identifier=identifier,
                start=times[0],
                elapsed=elapsed_since(times[0], times),
                latitude=array([place.y for place in places]),
                longitude=array([place.x for place in places]),
                **columns,
            )
        )
    return tuple(found)


def _column(values: list[Any], name: str, unit: float) -> Any:
    """A column of numbers in our unit, NaN where one is absent; None where all are."""
    numbers = [_number(name, value) for value in values]
    if all(number is None for number in numbers):
        return None
    return array([math.nan if number is None else number * unit for number in numbers])


def soundings(features: Iterable[MapFeature]) -> Soundings | None:
    """All points with `depth_m` as soundings, or None; they must name one datum, the same for all."""
    points = [f for f in features if f.geometry.geom_type == "Point" and f.properties.get("depth_m") is not None]
    if not points:
        return None
    datums = {str(feature.properties.get("datum") or "") for feature in points}
    if len(datums) != 1 or "" in datums:
        named = ", ".join(sorted(datums - {""})) or "none"
        raise Impossible([("datum", f"every sounding must name the same one; found: {named}")])
    return Soundings(
        latitude=array([feature.geometry.y for feature in points]),
        longitude=array([feature.geometry.x for feature in points]),
        depth=array([_number("depth_m", feature.properties["depth_m"]) for feature in points]),
        datum=datums.pop(),
        uncertainty=_column([feature.properties.get("uncertainty_m") for feature in points], "uncertainty_m", 1.0),
        quality=tuple(str(f.properties.get("quality") or "") for f in points)
        if any(f.properties.get("quality") for f in points)
        else (),
    )


def plain_columns(features: Sequence[MapFeature]) -> dict[str, Any]:
    """The properties of features as columns of one type each: real numbers with NaN, or text with None."""
    names = list(dict.fromkeys(name for feature in features for name in feature.properties))
    columns: dict[str, Any] = {}
    for name in names:
        values = [feature.properties.get(name) for feature in features]
        known = [value for value in values if value is not None]
        if all(isinstance(value, int | float) and not isinstance(value, bool) for value in known):
            columns[name] = np.array([math.nan if value is None else float(value) for value in values])
        else:
            columns[name] = np.array([None if value is None else str(value) for value in values], dtype=object)
    return columns
