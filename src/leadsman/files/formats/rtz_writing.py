"""Writes a `Route` as RTZ 1.0, 1.1 or 1.2; the companion of `rtz`, which holds names, units and limits.

A value beyond the limits of the schema is not bent to fit: the file is refused. Source: [RTZ12Schema].
"""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from lxml import etree

from leadsman.errors import Impossible
from leadsman.files.formats.door import write_bytes
from leadsman.files.formats.markup import LATITUDE, LONGITUDE, Measure, decimal, parser
from leadsman.files.formats.records import Extension, Route, RouteLeg, RouteSchedule, RouteWaypoint, ScheduleEntry
from leadsman.files.formats.rtz import (
    GEOMETRIES,
    LEG,
    NAMESPACES,
    RADIUS,
    SPEED,
    WIND,
    WIND_UNIT,
    namespace_of,
)
from leadsman.files.formats.times import written, written_duration


def write(route: Route, path: Path, version: str = "1.2") -> None:
    """Write the route as an RTZ file, whole or not at all; raises `Impossible` for what the format cannot hold."""
    write_bytes(path, to_bytes(route, version))


def to_bytes(route: Route, version: str = "1.2") -> bytes:
    """The route as the content of an RTZ file."""
    writer = _Writer(version)
    root = writer.route(route)
    if writer.problems:
        raise Impossible(writer.problems)
    content: bytes = etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True)
    return content


class _Writer:
    """Builds the elements of one file and gathers what does not fit."""

    def __init__(self, version: str) -> None:
        self.version = version
        self.namespace = namespace_of(version)
        self.problems: list[tuple[str, str]] = []

    def route(self, route: Route) -> Any:
        root = etree.Element(f"{{{self.namespace}}}route", nsmap={None: self.namespace})
        root.set("version", self.version)
        info = self.element(root, "routeInfo", {"routeName": route.name, **route.info})
        if route.vessel_maximum_wind is not None:
            info.set(WIND.xml, decimal(route.vessel_maximum_wind / WIND_UNIT[self.version]))
        self.extensions(info, route.extensions.get("routeInfo", ()))
        holder = self.element(root, "waypoints")
        radius, leg = route.default_waypoint
        if radius is not None or leg is not None:
            default = self.element(holder, "defaultWaypoint")
            self.number(default, RADIUS, radius, "default waypoint")
            self.leg(default, leg, "default waypoint")
            self.extensions(default, route.extensions.get("defaultWaypoint", ()))
        for waypoint in route.waypoints:
            self.waypoint(holder, waypoint)
        self.extensions(holder, route.extensions.get("waypoints", ()))
        if route.schedules:
            schedules = self.element(root, "schedules")
            for schedule in route.schedules:
                self.schedule(schedules, schedule)
            self.extensions(schedules, route.extensions.get("schedules", ()))
        self.extensions(root, route.extensions.get("route", ()))
        return root

    def element(self, parent: Any, name: str, texts: Mapping[str, str] | None = None) -> Any:
        """A new child with these attributes; a text that XML cannot carry is a problem."""
        made = etree.SubElement(parent, f"{{{self.namespace}}}{name}")
        for key, value in (texts or {}).items():
            try:
                made.set(key, value)
            except ValueError:
                self.problems.append((name, f"'{key}' holds characters that XML cannot carry"))
        return made

    def number(self, element: Any, measure: Measure, value: float | None, place: str) -> None:
        """Set a numeric attribute in the file's unit, if there is a value."""
        if value is None:
            return
        theirs = value / measure.unit
        problem = measure.problem(float(decimal(theirs)))
        if problem:
            self.problems.append((f"{place}, {measure.name}", f"in the file's unit it {problem}"))
        element.set(measure.xml, decimal(theirs))

    def waypoint(self, parent: Any, waypoint: RouteWaypoint) -> None:
        place = f"waypoint {waypoint.identifier}"
        if waypoint.identifier < 0:
            self.problems.append((place, "the id is negative; expected 0 or above"))
        texts = {"id": str(waypoint.identifier)}
        if waypoint.revision is not None:
            texts["revision"] = str(waypoint.revision)
        if waypoint.name:
            texts["name"] = waypoint.name
        element = self.element(parent, "waypoint", {**texts, **waypoint.texts})
        self.number(element, RADIUS, waypoint.turn_radius, place)
        position = self.element(element, "position")
        self.number(position, LATITUDE, waypoint.position.latitude, place)
        longitude = float(decimal(waypoint.position.longitude))  # may round to 180, which is 180 west here
        self.number(position, LONGITUDE, -180.0 if longitude == 180.0 else longitude, place)
        self.leg(element, waypoint.leg, place)
        self.extensions(element, waypoint.extensions)

    def leg(self, parent: Any, leg: RouteLeg | None, place: str) -> None:
        if leg is None:
            return
        element = self.element(parent, "leg", leg.texts)
        for measure in LEG:
            self.number(element, measure, getattr(leg, measure.name), place)
        if leg.geometry is not None:
            if leg.geometry not in GEOMETRIES:
                self.problems.append((place, f"geometry '{leg.geometry}'; expected Loxodrome or Orthodrome"))
            element.set("geometryType", leg.geometry)
        self.extensions(element, leg.extensions)

    def schedule(self, parent: Any, schedule: RouteSchedule) -> None:
        element = self.element(parent, "schedule", {"id": str(schedule.identifier)})
        if schedule.name:
            element.set("name", schedule.name)
        for name, entries in (("manual", schedule.manual), ("calculated", schedule.calculated)):
            if entries:
                part = self.element(element, name)
                for entry in entries:
                    self.entry(part, entry)
                self.extensions(part, schedule.extensions.get(name, ()))
        self.extensions(element, schedule.extensions.get("schedule", ()))

    def entry(self, parent: Any, entry: ScheduleEntry) -> None:
        texts = {"waypointId": str(entry.waypoint)}
        for name, time in (("etd", entry.departure), ("eta", entry.arrival)):
            if time is not None:
                texts[name] = written(time)
        if entry.stay is not None:
            texts["stay"] = written_duration(entry.stay)
        element = self.element(parent, "scheduleElement", {**texts, **entry.texts})
        self.number(element, SPEED, entry.speed, f"schedule entry of waypoint {entry.waypoint}")
        self.extensions(element, entry.extensions)

    def extensions(self, parent: Any, extensions: Iterable[Extension]) -> None:
        """What belongs to other programs, written back; only the version in its name is brought up to date."""
        made = [etree.fromstring(extension.xml, parser()) for extension in extensions]
        if not made:
            return
        holder = self.element(parent, "extensions")
        for element in made:
            for part in element.iter(etree.Element):
                name = etree.QName(part.tag)
                if name.namespace in NAMESPACES:
                    part.tag = f"{{{self.namespace}}}{name.localname}"
            holder.append(element)
            prefixes = [prefix for part in element.iter(etree.Element) for prefix in part.nsmap if prefix]
            etree.cleanup_namespaces(element, keep_ns_prefixes=prefixes)
