"""A port call as files that other programs open: the track as a route, and the waterway as map features.

The track is written in the direction sailed. What a format has no place for stays out of it (docs/methods/formats.md);
nothing is bent to fit.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

import shapely

from leadsman.files.formats import geojson, geopackage, gpx, map_features, rtz_writing
from leadsman.files.formats.door import write_bytes
from leadsman.files.formats.draft_areas import polygon_of
from leadsman.files.formats.gpx import GpxContent
from leadsman.files.formats.records import (
    MapFeature,
    Route,
    RouteLeg,
    RouteSchedule,
    RouteWaypoint,
    ScheduleEntry,
)
from leadsman.files.formats.route_files import reversed_route
from leadsman.files.formats.soundings_csv import quoted
from leadsman.files.formats.times import written
from leadsman.geometry import Position
from leadsman.portcall import Direction, PortCall
from leadsman.units import KNOT
from leadsman.waterway import Waterway


class ExportFormat(StrEnum):
    """What a call is written as."""

    RTZ = "rtz"
    GPX = "gpx"
    GEOJSON = "geojson"
    GEOPACKAGE = "geopackage"
    CSV = "csv"


ROUTE_FILES = {"route.rtz": ExportFormat.RTZ, "route.gpx": ExportFormat.GPX, "track.geojson": ExportFormat.GEOJSON}
"""What goes along with the pack, for other programs."""


@dataclass(frozen=True, kw_only=True)
class Passed:
    """When she is to pass a waypoint, and how fast she comes to it."""

    time: datetime
    speed: float | None = None
    """Over the ground, on the way to the waypoint. [m/s]"""


def route_of(call: PortCall, passed: Sequence[Passed] = ()) -> Route:
    """The track in the direction sailed: bend radii, edges as cross-track limits, local speed limits.

    `passed`: one for each waypoint in the order sailed, as a computed schedule; empty: none is given.
    """
    waterway = call.waterway
    legs = [None, *(_leg(reach.width_port, reach.width_starboard, reach.maximum_speed) for reach in waterway.reaches)]
    waypoints = tuple(
        RouteWaypoint(
            identifier=number, name=point.name, position=point.position, turn_radius=point.bend_radius, leg=leg
        )
        for number, (point, leg) in enumerate(zip(waterway.waypoints, legs, strict=True), start=1)
    )
    route = Route(name=call.name, waypoints=waypoints)
    if call.direction is Direction.OUTWARD:
        route = reversed_route(route)
    schedule = tuple(
        ScheduleEntry(waypoint=point.identifier, arrival=at.time, speed=at.speed)
        for point, at in zip(route.waypoints, passed, strict=bool(passed))
    )
    return Route(
        name=route.name,
        waypoints=route.waypoints,
        schedules=(RouteSchedule(identifier=1, name=call.name, calculated=schedule),) if schedule else (),
        info={"vesselName": call.ship.name},
    )


def _leg(port: float, starboard: float, fastest: float | None) -> RouteLeg:
    return RouteLeg(
        geometry="Loxodrome", cross_track_limit_port=port, cross_track_limit_starboard=starboard, speed_max=fastest
    )


def features_of(call: PortCall, passed: Sequence[Passed] = ()) -> tuple[MapFeature, ...]:
    """Route and waterway as map features, in layers by what they are."""
    line, *corners = map_features.of_route(route_of(call, passed))
    times: Sequence[dict[str, Any]] = [{"time": written(at.time)} for at in passed] or [{}] * len(corners)
    timed = [
        MapFeature(geometry=corner.geometry, properties={**corner.properties, **time}, layer=corner.layer)
        for corner, time in zip(corners, times, strict=True)
    ]
    return (line, *timed, *_areas(call.waterway), *_gates(call.waterway), *_other(call.waterway))


def _point(layer: str, name: str, position: Position, **properties: Any) -> MapFeature:
    known = {key: value for key, value in properties.items() if value not in (None, "")}
    place = shapely.Point(position.longitude, position.latitude)
    return MapFeature(geometry=place, properties={"kind": layer, "name": name, **known}, layer=layer)


def _areas(waterway: Waterway) -> Iterator[MapFeature]:
    for area in waterway.areas:
        properties: dict[str, Any] = {"kind": "depth_area", "name": area.name, "chart_datum": waterway.chart_datum}
        properties |= {"unsurveyed": 1} if area.depth is None else {"depth_m": area.depth}
        if area.uncertainty is not None:
            properties["survey_uncertainty_m"] = area.uncertainty
        properties["siltation_m"] = area.siltation
        yield MapFeature(geometry=polygon_of(area), properties=properties, layer="depth_areas")


def _gates(waterway: Waterway) -> Iterator[MapFeature]:
    for gate in waterway.gates:
        yield _point(
            "gate",
            gate.name,
            gate.position,
            gate=str(gate.kind),
            clearance_m=gate.clearance,
            clearance_datum=gate.clearance_datum,
            electrical_distance_m=gate.electrical_distance,
            depth_m=gate.depth,
            width_m=gate.width,
            source=gate.source,
        )


def _other(waterway: Waterway) -> Iterator[MapFeature]:
    for berth in waterway.berths:
        face = shapely.LineString(
            [(place.longitude, place.latitude) for place in (berth.begin, berth.end)],
        )
        properties = {"kind": "berth", "name": berth.name, "depth_m": berth.depth, "side_to": berth.side_to}
        yield MapFeature(geometry=face, properties=properties, layer="berth")
    for basin in waterway.basins:
        yield _point("basin", basin.name, basin.centre, diameter_m=basin.diameter)
    for mark in waterway.marks:
        yield _point("mark", mark.name, mark.position, mark=mark.kind, description=mark.description)
    for station in waterway.tide_stations:
        yield _point("tide_station", station.name, station.position, source=station.source)
    for stream in waterway.stream_stations:
        yield _point("stream_station", stream.name, stream.position, source=stream.source)


def waypoint_table(call: PortCall, passed: Sequence[Passed] = ()) -> bytes:
    """The waypoints as a table: one line each, in the order sailed, times UTC."""
    route = route_of(call, passed)
    header = "number,name,latitude,longitude,bend_radius_m,width_port_m,width_starboard_m,time_utc,speed_over_ground_kn"
    lines = [header]
    for index, point in enumerate(route.waypoints):
        leg, at = point.leg, passed[index] if passed else None
        cells = [
            str(index + 1),
            quoted(point.name),
            f"{point.position.latitude:.7f}",
            f"{point.position.longitude:.7f}",
            _cell(point.turn_radius),
            _cell(leg.cross_track_limit_port if leg else None),
            _cell(leg.cross_track_limit_starboard if leg else None),
            written(at.time) if at else "",
            _cell(at.speed / KNOT if at and at.speed is not None else None),
        ]
        lines.append(",".join(cells))
    return ("\n".join(lines) + "\n").encode()


def _cell(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def export(call: PortCall, to: ExportFormat, path: Path, passed: Sequence[Passed] = ()) -> None:
    """Write the call as one file of a format, whole or not at all; `Impossible` for what the format cannot hold."""
    if to is ExportFormat.RTZ:
        rtz_writing.write(route_of(call, passed), path)
    elif to is ExportFormat.GPX:
        marks = tuple(feature for feature in features_of(call) if feature.layer in ("mark", "gate"))
        gpx.write(GpxContent(routes=(route_of(call, passed),), points=marks), path)
    elif to is ExportFormat.GEOJSON:
        geojson.write(features_of(call, passed), path)
    elif to is ExportFormat.GEOPACKAGE:
        geopackage.write(features_of(call, passed), path)
    else:
        write_bytes(path, waypoint_table(call, passed))
