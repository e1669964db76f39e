"""What foreign files hold, in our words: neutral, frozen, checked; the same whatever the format it came in.

Latitudes and longitudes are degrees, WGS 84 (as in `geometry.Position`); all else is SI and radians. Series carry an
aware `start` and `elapsed` seconds. In an array NaN means: not reported here. Arrays are read-only.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from leadsman.errors import refuse
from leadsman.geometry import Position
from leadsman.sailed import position_problems

Array = NDArray[np.float64]


def array(values: Any) -> Array:
    """The values as a read-only array of float64."""
    made = np.array(values, dtype=np.float64)
    made.setflags(write=False)
    return made


def printable(text: str) -> str:
    """A text of unknown hands without what would move a terminal's cursor or break a line."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def elapsed_since(start: datetime, times: Iterable[datetime]) -> Array:
    """Seconds from `start` to each of the times; all aware."""
    return array([(time - start).total_seconds() for time in times])


@dataclass(frozen=True, kw_only=True)
class Extension:
    """A part of a route file that belongs to somebody else's program; kept as it stood, to be written back."""

    manufacturer: str
    name: str
    xml: str
    """The whole element."""


@dataclass(frozen=True, kw_only=True)
class RouteLeg:
    """Limits and wishes for the way to the waypoint that carries it."""

    geometry: str | None = None
    """`Loxodrome` (rhumb line) or `Orthodrome` (great circle); None: not said."""
    cross_track_limit_port: float | None = None
    """[m]"""
    cross_track_limit_starboard: float | None = None
    speed_min: float | None = None
    speed_max: float | None = None
    safety_contour: float | None = None
    safety_depth: float | None = None
    draught_forward: float | None = None
    draught_aft: float | None = None
    static_underkeel_clearance: float | None = None
    dynamic_underkeel_clearance: float | None = None
    masthead: float | None = None
    """Height of the masthead above water. [m]"""
    texts: Mapping[str, str] = field(default_factory=dict)
    """Reports, notes and whatever else the file says of this leg, under the file's own names."""
    extensions: tuple[Extension, ...] = ()


@dataclass(frozen=True, kw_only=True)
class RouteWaypoint:
    """A corner of a route; `leg` is the way that leads to it."""

    identifier: int
    position: Position
    name: str = ""
    turn_radius: float | None = None
    """[m]"""
    revision: int | None = None
    leg: RouteLeg | None = None
    texts: Mapping[str, str] = field(default_factory=dict)
    """What else the file says of this waypoint, under the file's own names."""
    extensions: tuple[Extension, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ScheduleEntry:
    """Times and speed at one waypoint."""

    waypoint: int
    """Identifier of the waypoint."""
    departure: datetime | None = None
    arrival: datetime | None = None
    stay: timedelta | None = None
    speed: float | None = None
    """On the way to the waypoint. [m/s]"""
    texts: Mapping[str, str] = field(default_factory=dict)
    extensions: tuple[Extension, ...] = ()


@dataclass(frozen=True, kw_only=True)
class RouteSchedule:
    """One schedule of a route: entered by hand, computed, or both."""

    identifier: int
    name: str = ""
    manual: tuple[ScheduleEntry, ...] = ()
    calculated: tuple[ScheduleEntry, ...] = ()
    extensions: Mapping[str, tuple[Extension, ...]] = field(default_factory=dict)
    """By the part they stood in: `schedule`, `manual`, `calculated`."""


@dataclass(frozen=True, kw_only=True)
class Route:
    """A planned route: waypoints in the order they are passed."""

    name: str
    waypoints: tuple[RouteWaypoint, ...]
    schedules: tuple[RouteSchedule, ...] = ()
    default_waypoint: tuple[float | None, RouteLeg | None] = (None, None)
    """Turn radius [m] and leg that hold where a waypoint says nothing."""
    info: Mapping[str, str] = field(default_factory=dict)
    """What else the file says of the route, under the file's own names."""
    vessel_maximum_wind: float | None = None
    """[m/s]"""
    extensions: Mapping[str, tuple[Extension, ...]] = field(default_factory=dict)
    """By the part they stood in: `route`, `routeInfo`, `waypoints`, `defaultWaypoint`, `schedules`."""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if len(self.waypoints) < 2:
            yield "waypoints", f"a route needs at least two waypoints, got {len(self.waypoints)}"
        known = Counter(waypoint.identifier for waypoint in self.waypoints)
        for number in sorted(number for number, count in known.items() if count > 1):
            yield "waypoints", f"the id {number} stands twice; expected ids that tell one waypoint from another"
        for schedule in self.schedules:
            for entry in (*schedule.manual, *schedule.calculated):
                if entry.waypoint not in known:
                    yield "schedules", f"an entry names waypoint {entry.waypoint}, which the route does not have"


@dataclass(frozen=True, kw_only=True, eq=False)
class Soundings:
    """Depths at points, below a named datum, positive down; a drying height is negative."""

    latitude: Array
    longitude: Array
    depth: Array
    """[m]"""
    datum: str
    uncertainty: Array | None = None
    """At 95 %. [m]"""
    quality: tuple[str, ...] = ()
    """One word or code for each sounding, as the file gives it; empty: the file gives none."""
    surveyed: date | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from position_problems(self.latitude, self.longitude)
        if not len(self.latitude) == len(self.longitude) == len(self.depth):
            yield "depth", "has another length than the positions"
        if not np.all(np.isfinite(self.depth)):
            yield "depth", "is missing somewhere; a missing depth is never assumed"
        if not self.datum:
            yield "datum", "is missing; a depth without datum says nothing"


@dataclass(frozen=True, kw_only=True, eq=False)
class MapFeature:
    """A geometry with properties, as general map files carry; coordinates (longitude, latitude), WGS 84."""

    geometry: Any
    """A shapely geometry."""
    properties: Mapping[str, Any] = field(default_factory=dict)
    layer: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class ChartFeature:
    """One object of a chart cell."""

    kind: str
    """Class acronym: `DEPARE`."""
    identifier: str
    """The cell's own name for it."""
    attributes: Mapping[str, float | int | str | tuple[int, ...]]
    """By acronym, in the cell's units: metres, degrees, code numbers. An absent attribute is unknown, never zero."""
    geometry: Any
    """A shapely geometry; coordinates (longitude, latitude), WGS 84."""

    @property
    def name(self) -> str:
        """The object's name on one line, or an empty string."""
        return " ".join(printable(str(self.attributes.get("OBJNAM", ""))).split())

    def number(self, acronym: str) -> float | None:
        """An attribute that is a number; None where the cell does not say."""
        value = self.attributes.get(acronym)
        return float(value) if isinstance(value, int | float) else None


@dataclass(frozen=True, kw_only=True, eq=False)
class ChartCell:
    """A chart cell with its updates applied."""

    name: str
    edition: int
    update: int
    """Number of the last update applied."""
    issued: date | None
    scale: int
    """Denominator of the compilation scale."""
    vertical_datum: str | None
    """Of heights and clearances, where an object names no other."""
    sounding_datum: str
    """Of depths, where an object names no other."""
    features: tuple[ChartFeature, ...]
    soundings: Soundings | None
    notes: tuple[str, ...] = ()
    """What was left out or looks wrong, in sentences."""

    def of(self, *kinds: str) -> tuple[ChartFeature, ...]:
        """The objects of these classes, in the cell's order."""
        return tuple(feature for feature in self.features if feature.kind in kinds)
