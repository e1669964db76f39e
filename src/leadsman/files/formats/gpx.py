"""GPX 1.0 and 1.1: routes, tracks and points read; version 1.1 written.

A track of GPX may have no times: then it is no sailed track, and it is read as a route. A track with times must have
one at every point, in order.

Source: [GPX11], from memory.
"""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import shapely
from lxml import etree

from leadsman.errors import Impossible
from leadsman.files.formats.door import MEGABYTE, Faults, write_bytes
from leadsman.files.formats.markup import DECIMAL, LATITUDE, LONGITUDE, Measure, decimal, elements, read_root, split
from leadsman.files.formats.records import MapFeature, Route, RouteWaypoint, array, elapsed_since
from leadsman.files.formats.times import NotATime, instant, shortened, written
from leadsman.geometry import Position
from leadsman.sailed import SailedTrack

LARGEST = 50 * MEGABYTE
NAMESPACE = "http://www.topografix.com/GPX/1/1"
NAMESPACES = (NAMESPACE, "http://www.topografix.com/GPX/1/0")


@dataclass(frozen=True, kw_only=True)
class GpxContent:
    """What a GPX file holds."""

    routes: tuple[Route, ...] = ()
    tracks: tuple[SailedTrack, ...] = ()
    points: tuple[MapFeature, ...] = ()
    """Waypoints that belong to no route, with `name` and `description`."""
    notes: tuple[str, ...] = ()


def read(path: Path) -> GpxContent:
    """Routes, tracks and points of a GPX file; all its faults at once as `InputErrors`."""
    faults = Faults(path)
    root = read_root(path, LARGEST, faults)
    namespace, name = split(root.tag)
    if name != "gpx" or namespace not in NAMESPACES:
        raise faults.stop(f"is '{shortened(name)}' in '{shortened(namespace)}'; expected 'gpx' of GPX 1.0 or 1.1")
    reader = _Reader(faults, namespace)
    for child in elements(root):
        reader.top(child)
    faults.check()
    if not (reader.routes or reader.tracks or reader.points):
        raise faults.stop("holds no route, track or point")
    return GpxContent(
        routes=tuple(reader.routes), tracks=tuple(reader.tracks), points=tuple(reader.points), notes=tuple(reader.notes)
    )


class _Reader:
    """Walks one file, noting faults."""

    def __init__(self, faults: Faults, namespace: str) -> None:
        self.faults = faults
        self.namespace = namespace
        self.routes: list[Route] = []
        self.tracks: list[SailedTrack] = []
        self.points: list[MapFeature] = []
        self.notes: list[str] = []

    def top(self, element: Any) -> None:
        namespace, name = split(element.tag)
        if namespace != self.namespace:
            return
        if name == "wpt":
            position = self.position(element)
            if position is not None:
                texts = {"name": self.text(element, "name"), "description": self.text(element, "desc")}
                self.points.append(
                    MapFeature(
                        geometry=shapely.Point(position.longitude, position.latitude),
                        properties={key: value for key, value in texts.items() if value},
                        layer="points",
                    )
                )
        elif name == "rte":
            label = self.text(element, "name") or f"route {len(self.routes) + 1}"
            self.route(element, label, self.children(element, "rtept"))
        elif name == "trk":
            self.track(element)

    def children(self, parent: Any, name: str) -> list[Any]:
        return list(parent.iterchildren(f"{{{self.namespace}}}{name}"))

    def text(self, parent: Any, name: str) -> str:
        """Text of the first child of this name, or an empty string."""
        return next(((child.text or "").strip() for child in self.children(parent, name)), "")

    def coordinate(self, element: Any, measure: Measure) -> float | None:
        text = element.get(measure.xml)
        if text is None or not DECIMAL.fullmatch(text):
            what = "is missing" if text is None else f"'{shortened(text)}' is no number"
            self.faults.add(what, line=element.sourceline, field=measure.xml)
            return None
        value = float(text)
        if not measure.low <= value <= measure.high:
            self.faults.add(
                f"is {value:g}; expected {measure.low:g} to {measure.high:g}",
                line=element.sourceline,
                field=measure.xml,
            )
            return None
        return value

    def position(self, element: Any) -> Position | None:
        latitude, longitude = self.coordinate(element, LATITUDE), self.coordinate(element, LONGITUDE)
        return None if latitude is None or longitude is None else Position(latitude, longitude)

    def route(self, element: Any, name: str, points: list[Any]) -> None:
        """Corners in their order; ids count from 1."""
        waypoints = []
        for number, point in enumerate(points, start=1):
            position = self.position(point)
            if position is not None:
                waypoints.append(RouteWaypoint(identifier=number, position=position, name=self.text(point, "name")))
        if len(points) < 2:
            self.faults.add(
                f"has {len(points)} points; expected at least two", line=element.sourceline, field=shortened(name)
            )
        elif len(waypoints) == len(points):
            self.routes.append(Route(name=name, waypoints=tuple(waypoints)))

    def track(self, element: Any) -> None:
        """One track with all its segments; without any time it is a route."""
        name = self.text(element, "name") or f"track {len(self.tracks) + 1}"
        points = [point for segment in self.children(element, "trkseg") for point in self.children(segment, "trkpt")]
        times = [self.text(point, "time") for point in points]
        if not any(times):
            self.notes.append(f"track '{shortened(name)}' has no times; it was read as a route")
            self.route(element, name, points)
            return
        moments: list[datetime] = []
        positions: list[Position] = []
        for point, text in zip(points, times, strict=True):
            position, moment = self.position(point), self.time(point, text)
            if position is None or moment is None:
                continue
            if moments and moment <= moments[-1]:
                self.faults.add(
                    f"{written(moment)} does not come after {written(moments[-1])}", line=point.sourceline, field="time"
                )
                continue
            moments.append(moment)
            positions.append(position)
        if moments:
            self.tracks.append(
                SailedTrack(
                    name=name,
                    start=moments[0],
                    elapsed=elapsed_since(moments[0], moments),
                    latitude=array([position.latitude for position in positions]),
                    longitude=array([position.longitude for position in positions]),
                )
            )

    def time(self, point: Any, text: str) -> datetime | None:
        if not text:
            self.faults.add("is missing here, though other points have one", line=point.sourceline, field="time")
            return None
        try:
            return instant(text)
        except NotATime as problem:
            self.faults.add(str(problem), line=point.sourceline, field="time")
            return None


def write(content: GpxContent, path: Path) -> None:
    """Write a GPX 1.1 file, whole or not at all; limits, speeds and radii of a route have no place in it."""
    write_bytes(path, to_bytes(content))


def to_bytes(content: GpxContent) -> bytes:
    """The content as GPX 1.1; raises `Impossible` for a text that XML cannot carry."""
    root = etree.Element(f"{{{NAMESPACE}}}gpx", nsmap={None: NAMESPACE})
    root.set("version", "1.1")
    root.set("creator", "Leadsman")
    try:
        for feature in content.points:
            point = _point(root, "wpt", Position(feature.geometry.y, feature.geometry.x))
            _text(point, "name", str(feature.properties.get("name", "")))
            _text(point, "desc", str(feature.properties.get("description", "")))
        for route in content.routes:
            element = etree.SubElement(root, f"{{{NAMESPACE}}}rte")
            _text(element, "name", route.name)
            for waypoint in route.waypoints:
                _text(_point(element, "rtept", waypoint.position), "name", waypoint.name)
        for track in content.tracks:
            element = etree.SubElement(root, f"{{{NAMESPACE}}}trk")
            _text(element, "name", track.name)
            segment = etree.SubElement(element, f"{{{NAMESPACE}}}trkseg")
            for index in range(len(track.elapsed)):
                place = Position(float(track.latitude[index]), float(track.longitude[index]))
                _text(_point(segment, "trkpt", place), "time", written(track.time(index)))
    except ValueError:
        raise Impossible([("name", "holds characters that XML cannot carry")]) from None
    made: bytes = etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True)
    return made


def _point(parent: Any, name: str, position: Position) -> Any:
    """A point element; 180 degrees east is written as 180 west, since GPX ends below 180."""
    element = etree.SubElement(parent, f"{{{NAMESPACE}}}{name}")
    longitude = float(decimal(position.longitude))
    element.set("lat", decimal(position.latitude))
    element.set("lon", decimal(-180.0 if longitude == 180.0 else longitude))
    return element


def _text(parent: Any, name: str, text: str) -> None:
    """A child with this text, unless it is empty."""
    if text:
        etree.SubElement(parent, f"{{{NAMESPACE}}}{name}").text = text
