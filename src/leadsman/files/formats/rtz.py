"""Routes as RTZ (IEC 61174 annex): versions 1.0, 1.1 and 1.2 read and written.

Limits are those of version 1.2. Names of attributes in 1.0 and 1.1 are taken to be the same; their schemas were not
compared. Parts that belong to other programs (`extension`) are kept and written back where they stood.

Source: [RTZ12Schema]; versions 1.0 and 1.1 and the rule that a leg belongs to the waypoint it leads to: from memory.
"""

import re
from pathlib import Path
from typing import Any

from leadsman.errors import Impossible
from leadsman.files.formats.door import MEGABYTE, Faults
from leadsman.files.formats.markup import DECIMAL, LATITUDE, LONGITUDE, Measure, elements, read_root, split
from leadsman.files.formats.records import Extension, Route, RouteLeg, RouteSchedule, RouteWaypoint, ScheduleEntry
from leadsman.files.formats.times import NotATime, duration, instant, shortened
from leadsman.geometry import Position
from leadsman.units import KNOT, NAUTICAL_MILE

LARGEST = 20 * MEGABYTE
NAMESPACES = {  # 1/2 [read, schema]; 1/1 [read, sample files]; 1/0 [memory]
    "http://www.cirm.org/RTZ/1/0": "1.0",
    "http://www.cirm.org/RTZ/1/1": "1.1",
    "http://www.cirm.org/RTZ/1/2": "1.2",
}
WIND_UNIT = {"1.0": 1.0, "1.1": 1.0, "1.2": KNOT}  # m/s in older versions [a stored listing], knots in 1.2 [schema]
SCHEDULE_ELEMENTS = ("scheduleElement", "sheduleElement")  # the second is a misspelling in early files [memory]
GEOMETRIES = ("Loxodrome", "Orthodrome")


RADIUS = Measure("radius", "turn_radius", NAUTICAL_MILE, 0.0, 5.0)
WIND = Measure("vesselMaxWind", "vessel_maximum_wind", 1.0, 0.0, 1000.0)
SPEED = Measure("speed", "speed", KNOT, 0.0, 1000.0)
LEG = (
    Measure("starboardXTD", "cross_track_limit_starboard", NAUTICAL_MILE, 0.0, 10.0, below=True),
    Measure("portsideXTD", "cross_track_limit_port", NAUTICAL_MILE, 0.0, 10.0, below=True),
    Measure("speedMin", "speed_min", KNOT, 0.0),
    Measure("speedMax", "speed_max", KNOT, 0.0),
    Measure("safetyContour", "safety_contour", 1.0),
    Measure("safetyDepth", "safety_depth", 1.0),
    Measure("draughtForward", "draught_forward", 1.0, 0.0),
    Measure("draughtAft", "draught_aft", 1.0, 0.0),
    Measure("staticUKC", "static_underkeel_clearance", 1.0),
    Measure("dynamicUKC", "dynamic_underkeel_clearance", 1.0),
    Measure("masthead", "masthead", 1.0, 0.0),
)


def read(path: Path) -> Route:
    """The route in an RTZ file; all its faults at once as `InputErrors`."""
    faults = Faults(path)
    root = read_root(path, LARGEST, faults)
    namespace, name = split(root.tag)
    if name != "route" or namespace not in NAMESPACES:
        found = f"'{shortened(namespace)}'" if namespace else "no namespace"
        raise faults.stop(
            f"is '{shortened(name)}' in {found}; expected 'route' of RTZ 1.0, 1.1 or 1.2", line=root.sourceline
        )
    version = NAMESPACES[namespace]
    if root.get("version", version) != version:
        faults.add(
            f"is '{shortened(root.get('version'))}', the namespace says {version}",
            line=root.sourceline,
            field="version",
        )
    return _Reader(faults, namespace, version).route(root)


class _Reader:
    """Walks one file, noting faults and what it did not understand."""

    def __init__(self, faults: Faults, namespace: str, version: str) -> None:
        self.faults = faults
        self.namespace = namespace
        self.version = version
        self.notes: list[str] = []

    def route(self, root: Any) -> Route:
        parts = self.children(root, "routeInfo", "waypoints", "schedules")
        info, wind = self.info(parts["routeInfo"], root)
        waypoints, default, kept = self.waypoints(parts["waypoints"], root)
        extensions = {"route": self.extensions(root), **kept}
        schedules: tuple[RouteSchedule, ...] = ()
        for element in parts["schedules"][:1]:
            schedules = tuple(self.schedule(child) for child in self.all(element, "schedule"))
            extensions["schedules"] = self.extensions(element)
        for element in parts["routeInfo"][:1]:
            extensions["routeInfo"] = self.extensions(element)
        self.faults.check()
        try:
            return Route(
                name=info.pop("routeName"),
                waypoints=waypoints,
                schedules=schedules,
                default_waypoint=default,
                info=info,
                vessel_maximum_wind=wind,
                extensions={part: found for part, found in extensions.items() if found},
                notes=tuple(self.notes),
            )
        except Impossible as impossible:
            for field, problem in impossible.problems:
                self.faults.add(problem, field=field)
            raise self.faults.errors() from None

    def children(self, parent: Any, *names: str) -> dict[str, list[Any]]:
        """Child elements by name; one that is not known is noted, one that stands twice is a fault."""
        found: dict[str, list[Any]] = {name: [] for name in names}
        for child in elements(parent):
            namespace, name = split(child.tag)
            if namespace == self.namespace and name in found:
                found[name].append(child)
                if len(found[name]) == 2:
                    self.faults.add("stands twice; expected it once", line=child.sourceline, field=name)
            elif not (namespace == self.namespace and name == "extensions"):
                self.notes.append(f"line {child.sourceline}: element '{shortened(name)}' is not known here; left out")
        return found

    def all(self, parent: Any, *names: str, beside: tuple[str, ...] = ()) -> list[Any]:
        """Child elements of these names, any number of them; others than these and those beside are noted."""
        found = []
        for child in elements(parent):
            namespace, name = split(child.tag)
            if namespace == self.namespace and name in names:
                found.append(child)
            elif namespace != self.namespace or name not in (*beside, "extensions"):
                self.notes.append(f"line {child.sourceline}: element '{shortened(name)}' is not known here; left out")
        return found

    def extensions(self, parent: Any) -> tuple[Extension, ...]:
        """What other programs left here."""
        from lxml import etree

        found = []
        for holder in parent.iterchildren(f"{{{self.namespace}}}extensions"):
            for element in elements(holder):
                if not (element.get("manufacturer") and element.get("name")):
                    self.faults.add(
                        "an extension needs manufacturer and name", line=element.sourceline, field="extension"
                    )
                    continue
                text = etree.tostring(element, encoding="unicode", with_tail=False)
                found.append(Extension(manufacturer=element.get("manufacturer"), name=element.get("name"), xml=text))
        return tuple(found)

    def number(self, element: Any, measure: Measure, *, needed: bool = False) -> float | None:
        """An attribute in our unit; None where it is absent or faulty."""
        text = element.get(measure.xml)
        if text is None:
            if needed:
                self.faults.add("is missing", line=element.sourceline, field=measure.xml)
            return None
        if not DECIMAL.fullmatch(text):
            self.faults.add(f"'{shortened(text)}' is no number", line=element.sourceline, field=measure.xml)
            return None
        problem = measure.problem(float(text))
        if problem:
            self.faults.add(problem, line=element.sourceline, field=measure.xml)
            return None
        return float(text) * measure.unit

    def integer(self, element: Any, name: str, *, needed: bool = True) -> int:
        """A non-negative integer attribute; -1 where it is absent or faulty."""
        text = element.get(name)
        if text is not None and re.fullmatch(r"\s*\+?\d{1,18}\s*", text, re.ASCII):
            return int(text)
        if text is not None or needed:
            what = "is missing" if text is None else f"is '{shortened(text)}'"
            self.faults.add(f"{what}; expected a whole number, 0 or above", line=element.sourceline, field=name)
        return -1

    def info(self, found: list[Any], root: Any) -> tuple[dict[str, str], float | None]:
        """Attributes of `routeInfo`, and the vessel's greatest wind in m/s."""
        if not found:
            self.faults.add("is missing; a route needs one", line=root.sourceline, field="routeInfo")
            return {"routeName": ""}, None
        element = found[0]
        info = {str(name): str(value) for name, value in element.attrib.items()}
        if "routeName" not in info:
            self.faults.add("is missing; a route needs a name", line=element.sourceline, field="routeName")
            info["routeName"] = ""
        wind = self.number(element, WIND)
        info.pop("vesselMaxWind", None)
        return info, None if wind is None else wind * WIND_UNIT[self.version]

    def waypoints(
        self, found: list[Any], root: Any
    ) -> tuple[tuple[RouteWaypoint, ...], tuple[float | None, RouteLeg | None], dict[str, tuple[Extension, ...]]]:
        """Waypoints, the default one, and extensions by where they stood."""
        if not found:
            self.faults.add("is missing; a route needs waypoints", line=root.sourceline, field="waypoints")
            return (), (None, None), {}
        holder = found[0]
        points: list[RouteWaypoint] = []
        lines: dict[int, int] = {}
        for element in self.all(holder, "waypoint", beside=("defaultWaypoint",)):
            point = self.waypoint(element)
            if point is None:
                continue
            if point.identifier in lines:
                first = lines[point.identifier]
                self.faults.add(f"{point.identifier} stands on line {first} too; expected ids that differ",
                                line=element.sourceline, field="id")  # fmt: skip
            lines[point.identifier] = element.sourceline
            points.append(point)
        if len(points) < 2 and not self.faults:
            self.faults.add(f"holds {len(points)}; expected at least two", line=holder.sourceline, field="waypoints")
        kept = {"waypoints": self.extensions(holder)}
        default: tuple[float | None, RouteLeg | None] = (None, None)
        for element in holder.iterchildren(f"{{{self.namespace}}}defaultWaypoint"):
            default = self.number(element, RADIUS), self.leg(element)
            kept["defaultWaypoint"] = self.extensions(element)
        return tuple(points), default, kept

    def waypoint(self, element: Any) -> RouteWaypoint | None:
        """One waypoint; None where it has no usable id or position."""
        identifier = self.integer(element, "id")
        revision = self.integer(element, "revision", needed=False)
        radius = self.number(element, RADIUS)
        places = list(element.iterchildren(f"{{{self.namespace}}}position"))
        if len(places) != 1:
            self.faults.add(f"stands {len(places)} times; expected once", line=element.sourceline, field="position")
            return None
        latitude = self.number(places[0], LATITUDE, needed=True)
        longitude = self.number(places[0], LONGITUDE, needed=True)
        self.all(element, "position", "leg")
        leg = self.leg(element)
        if identifier < 0 or latitude is None or longitude is None:
            return None
        texts = {str(k): str(v) for k, v in element.attrib.items() if k not in ("id", "revision", "name", "radius")}
        return RouteWaypoint(
            identifier=identifier,
            position=Position(latitude, longitude),
            name=element.get("name", ""),
            turn_radius=radius,
            revision=revision if revision >= 0 else None,
            leg=leg,
            texts=texts,
            extensions=self.extensions(element),
        )

    def leg(self, parent: Any) -> RouteLeg | None:
        """The leg of a waypoint, or None."""
        legs = list(parent.iterchildren(f"{{{self.namespace}}}leg"))
        if not legs:
            return None
        element = legs[0]
        if len(legs) > 1:
            self.faults.add("stands twice; expected it once", line=legs[1].sourceline, field="leg")
        values: dict[str, Any] = {measure.name: self.number(element, measure) for measure in LEG}
        geometry = element.get("geometryType")
        if geometry is not None and geometry not in GEOMETRIES:
            self.faults.add(
                f"is '{shortened(geometry)}'; expected Loxodrome or Orthodrome",
                line=element.sourceline,
                field="geometryType",
            )
        low, high = values["speed_min"], values["speed_max"]
        if low is not None and high is not None and low > high:
            self.faults.add("lies above speedMax", line=element.sourceline, field="speedMin")
        known = {measure.xml for measure in LEG} | {"geometryType"}
        texts = {str(name): str(value) for name, value in element.attrib.items() if name not in known}
        return RouteLeg(geometry=geometry, texts=texts, extensions=self.extensions(element), **values)

    def schedule(self, element: Any) -> RouteSchedule:
        """One schedule with its manual and calculated entries."""
        parts = self.children(element, "manual", "calculated")
        entries: dict[str, tuple[ScheduleEntry, ...]] = {"manual": (), "calculated": ()}
        kept = {"schedule": self.extensions(element)}
        for name, found in parts.items():
            for part in found[:1]:
                entries[name] = tuple(self.entry(child) for child in self.all(part, *SCHEDULE_ELEMENTS))
                kept[name] = self.extensions(part)
        return RouteSchedule(
            identifier=self.integer(element, "id"),
            name=element.get("name", ""),
            extensions={name: found for name, found in kept.items() if found},
            **entries,
        )

    def entry(self, element: Any) -> ScheduleEntry:
        """Times and speed at one waypoint."""
        values: dict[str, Any] = {}
        for xml, name, parse in (
            ("etd", "departure", instant),
            ("eta", "arrival", instant),
            ("stay", "stay", duration),
        ):
            text = element.get(xml)
            try:
                values[name] = None if text is None else parse(text)
            except NotATime as problem:
                self.faults.add(str(problem), line=element.sourceline, field=xml)
        known = ("waypointId", "etd", "eta", "stay", "speed")
        return ScheduleEntry(
            waypoint=self.integer(element, "waypointId"),
            speed=self.number(element, SPEED),
            texts={str(name): str(value) for name, value in element.attrib.items() if name not in known},
            extensions=self.extensions(element),
            **values,
        )


def namespace_of(version: str) -> str:
    """Namespace of a version; `Impossible` for one that is not known."""
    for namespace, known in NAMESPACES.items():
        if known == version:
            return namespace
    raise Impossible([("version", f"'{version}' of RTZ is not known; expected 1.0, 1.1 or 1.2")])
