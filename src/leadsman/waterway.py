"""The waterway: a planned track of reaches and bends, what stands in the way, and how deep it is. No physics.

Positions are degrees, WGS 84. Depths are below chart datum, positive down. Heights stand above a datum that is named.
"""

import functools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from leadsman.errors import Impossible, refuse
from leadsman.geometry import LocalPlane, Position, Track, crosses_itself
from leadsman.rule import Opening, Rule
from leadsman.station import StreamStation, TideStation


class ChannelKind(StrEnum):
    """How the sides of the water shape the flow about the ship (PIANC 121: U, R, C)."""

    OPEN = "open"
    TRENCH = "trench"
    CANAL = "canal"


@dataclass(frozen=True, kw_only=True)
class Waypoint:
    """A corner of the track; `bend_radius` is needed at every inner one."""

    name: str
    position: Position
    bend_radius: float | None = None


@dataclass(frozen=True, kw_only=True)
class Fairway:
    """What guidelines for the width of channels ask about a reach; None: nobody says."""

    sheltered: bool | None = None
    """Protected water, an inner channel."""
    aids: str | None = None
    """Aids to navigation: `excellent`, `good` or `moderate`."""
    bank_port: str | None = None
    """`gentle`, `sloping` or `steep`; port side when inward bound."""
    bank_starboard: str | None = None
    two_way: bool = False
    """Whether ships meet in it."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        known = {"aids": ("excellent", "good", "moderate")}
        known["bank_port"] = known["bank_starboard"] = ("gentle", "sloping", "steep")
        for name, words in known.items():
            value = getattr(self, name)
            if value is not None and value not in words:
                yield name, f"'{value}' is not known; expected one of {', '.join(words)}"


@dataclass(frozen=True, kw_only=True)
class Reach:
    """The track between one waypoint and the next, with its width and cross-section."""

    name: str
    width_port: float
    """From the track to the edge of the fairway, port side when inward bound. [m]"""
    width_starboard: float
    channel: ChannelKind
    bottom_width: float | None = None
    side_slope: float | None = None
    """Metres horizontal for each metre of depth. [-]"""
    trench_height: float | None = None
    """From the bed to the top of the dredged slope. [m]"""
    maximum_speed: float | None = None
    """Local rule, over the ground. [m/s]"""
    wave_share: float = 1.0
    """Share of the forecast's wave height that reaches this reach; all of it unless the waterway says less. [-]"""
    fairway: Fairway = Fairway()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if not 0.0 <= self.wave_share <= 1.5:
            yield "wave_share", f"{self.wave_share:.3g} is no share of the waves; expected 0 to 1.5 (0 to 150 percent)"
        for name in ("width_port", "width_starboard"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0.0):
                yield name, f"{value} is impossible; expected metres from the track to the edge"
        if self.channel is not ChannelKind.OPEN:
            for name in ("bottom_width", "side_slope"):
                if getattr(self, name) is None:
                    yield name, f"is missing; a {self.channel} needs it to know how the water flows about the ship"
        if self.channel is ChannelKind.TRENCH and self.trench_height is None:
            yield "trench_height", "is missing; a trench needs the height of its dredged slope"
        for name in ("bottom_width", "trench_height", "maximum_speed"):
            value = getattr(self, name)
            if value is not None and not (math.isfinite(value) and value > 0.0):
                yield name, f"{value} is impossible; expected a number above zero"
        if self.side_slope is not None and not 0.0 <= self.side_slope <= 50.0:
            yield "side_slope", f"{self.side_slope} is impossible; expected metres along for each metre down, 0 to 50"


class GateKind(StrEnum):
    """What kind of limit stands at a place of the track."""

    BRIDGE = "bridge"
    CABLE = "cable"
    SILL = "sill"
    NARROWS = "narrows"


@dataclass(frozen=True, kw_only=True)
class Gate:
    """A place with a limit of its own, somewhere along the track."""

    name: str
    kind: GateKind
    position: Position
    clearance: float | None = None
    """Underside above `clearance_datum`. [m]"""
    clearance_datum: str | None = None
    electrical_distance: float | None = None
    """For a cable charted by its physical height: what electricity needs. [m]"""
    depth: float | None = None
    """Of a sill, below chart datum; negative dries. [m]"""
    width: float | None = None
    source: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        overhead = self.kind in (GateKind.BRIDGE, GateKind.CABLE)
        if overhead and self.clearance is None:
            yield "clearance", f"is missing; a {self.kind} needs its height in metres above a named datum"
        if overhead and not self.clearance_datum:
            yield "clearance_datum", "is missing; expected the datum of the clearance, such as HAT or MHWS"
        if overhead and self.clearance is not None and not 0.0 < self.clearance < 250.0:
            yield "clearance", f"{self.clearance} is no height of a {self.kind}; expected metres, 0 to 250"
        if self.kind is GateKind.SILL and self.depth is None:
            yield "depth", "is missing; a sill needs its depth below chart datum (negative where it dries)"
        if self.kind is GateKind.NARROWS and self.width is None:
            yield "width", "is missing; narrows need their width in metres"


@dataclass(frozen=True, kw_only=True)
class DepthArea:
    """An area of one least depth; where areas overlap, the shallowest counts."""

    name: str
    ring: tuple[Position, ...]
    """Outer boundary; first position is not repeated at the end."""
    depth: float | None
    """Least depth below chart datum, negative dries; None: unsurveyed, never assumed deep. [m]"""
    holes: tuple[tuple[Position, ...], ...] = ()
    uncertainty: float | None = None
    """Of the survey, 95 %. [m]"""
    siltation: float = 0.0
    """What may have settled since the survey. [m]"""
    surveyed: str = ""
    bottom: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if len(self.ring) < 3:
            yield "ring", f"area '{self.name}' has {len(self.ring)} corners; expected at least 3"
        elif crosses_itself([(place.longitude, place.latitude) for place in self.ring]):
            yield "ring", f"area '{self.name}' crosses itself; expected a boundary that does not"
        if self.depth is not None and not -20.0 <= self.depth <= 11_000.0:
            yield "depth", f"{self.depth} m in area '{self.name}' is no depth; expected metres below chart datum"
        for name in ("uncertainty", "siltation"):
            value = getattr(self, name)
            if value is not None and not 0.0 <= value <= 50.0:
                yield name, f"{value} m in area '{self.name}' is impossible; expected metres, 0 to 50"


@dataclass(frozen=True, kw_only=True)
class Basin:
    """A circle to swing in."""

    name: str
    centre: Position
    diameter: float
    no_anchor: str = ""
    """Why none may be let go there: a cable, a pipe, foul ground, an order of the port; empty: nothing is said."""


@dataclass(frozen=True, kw_only=True)
class WaitingPlace:
    """Where a ship on her way can wait, anchor or turn back."""

    name: str
    position: Position


@dataclass(frozen=True, kw_only=True)
class Berth:
    """The quay she goes to, from one end of its face to the other."""

    name: str
    begin: Position
    end: Position
    depth: float
    """Alongside, below chart datum; negative dries. [m]"""
    side_to: str
    """`port` or `starboard`: which side of the ship lies to the quay."""
    aground_allowed: bool = False
    """Whether a ship may take the ground here by local rule."""
    maximum_landing_speed: float | None = None
    face: str = ""
    """`closed`, a wall that turns a jet back, or `open`, a jetty on piles; empty: not known."""
    approach_angle: float | None = None
    """Of her side to the quay when she lands. [rad]"""
    fender_energy: float | None = None
    """That the fenders touched first may take. [J]"""
    fender_reaction: float | None = None
    """What they push with at that energy. [N]"""
    bollard_load: float | None = None
    """Safe load of one bollard. [N]"""
    bridge_mark: float | None = None
    """From `begin` along the face, abreast of which her bridge is to lie; None: she lies at the middle. [m]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    @property
    def length(self) -> float:
        """Of the quay face, nearly: a minute of latitude is a nautical mile. [m]"""
        north = self.end.latitude - self.begin.latitude
        east = (self.end.longitude - self.begin.longitude) * math.cos(math.radians(self.begin.latitude))
        return 60.0 * 1852.0 * math.hypot(north, east)

    @property
    def middle(self) -> Position:
        """Of the quay face."""
        return Position(
            0.5 * (self.begin.latitude + self.end.latitude), 0.5 * (self.begin.longitude + self.end.longitude)
        )

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.face not in ("", "closed", "open"):
            yield "face", f"'{self.face}' is no face of a quay; expected closed (a wall) or open (on piles)"
        if self.approach_angle is not None and not 0.0 <= self.approach_angle <= math.radians(45.0):
            degrees = math.degrees(self.approach_angle)
            yield "approach_angle", f"{degrees:.3g} deg is no angle to land at; expected degrees, 0 to 45"
        if self.bridge_mark is not None and not 0.0 <= self.bridge_mark <= self.length + 1.0:
            yield (
                "bridge_mark",
                f"{self.bridge_mark:g} m is not on a face of {self.length:.0f} m; expected metres from begin",
            )
        for name in ("maximum_landing_speed", "fender_energy", "fender_reaction", "bollard_load"):
            value = getattr(self, name)
            if value is not None and not (math.isfinite(value) and value > 0.0):
                yield name, f"{value} is impossible; expected a number above zero"
        if self.side_to not in ("port", "starboard"):
            yield "side_to", f"'{self.side_to}' is no side; expected port or starboard"


@dataclass(frozen=True, kw_only=True)
class Mark:
    """Something to steer or look by."""

    name: str
    kind: str
    position: Position
    description: str = ""


@dataclass(frozen=True, kw_only=True)
class Waterway:
    """One way from sea to berth, written inward bound."""

    name: str
    chart_datum: str
    """What chart datum is here, in words, such as LAT."""
    origin: Position
    datums: dict[str, float]
    """Height of each named datum above chart datum. [m]"""
    waypoints: tuple[Waypoint, ...]
    reaches: tuple[Reach, ...]
    areas: tuple[DepthArea, ...]
    tide_stations: tuple[TideStation, ...]
    stream_stations: tuple[StreamStation, ...] = ()
    gates: tuple[Gate, ...] = ()
    basins: tuple[Basin, ...] = ()
    waiting_places: tuple[WaitingPlace, ...] = ()
    berths: tuple[Berth, ...] = ()
    marks: tuple[Mark, ...] = ()
    rules: tuple[Rule, ...] = ()
    magnetic_variation: float | None = None
    """East positive. [rad]"""
    caution: str = ""
    """Local warnings, as the author of the files writes them."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if len(self.waypoints) < 2:
            yield "waypoint", "a track needs at least two waypoints"
            return
        if len(self.reaches) != len(self.waypoints) - 1:
            yield (
                "reach",
                f"{len(self.waypoints)} waypoints make {len(self.waypoints) - 1} reaches, got {len(self.reaches)}",
            )
        for thing in ("waypoints", "reaches", "gates", "berths", "basins", "tide_stations", "stream_stations", "rules"):
            names = [item.name for item in getattr(self, thing)]
            for name in sorted({name for name in names if names.count(name) > 1}):
                yield thing, f"the name '{name}' stands twice; expected names that tell one from another"
        for waypoint in self.waypoints[1:-1]:
            if waypoint.bend_radius is None or not waypoint.bend_radius > 0.0:
                yield (
                    f"waypoint.{waypoint.name}",
                    "bend_radius_m is missing; every inner waypoint needs the radius of its bend",
                )
        if not self.areas:
            yield "areas", "there is no depth area; nothing missing is ever assumed deep"
        if all(station.reference_only for station in self.tide_stations):
            yield "tide_station", "there is none; expected at least one station for the water level"
        yield from self._reference_problems()
        yield from self._place_problems()

    def _reference_problems(self) -> Iterator[tuple[str, str]]:
        known = ", ".join(["CD", *self.datums])
        for gate in self.gates:
            if gate.clearance_datum and gate.clearance_datum != "CD" and gate.clearance_datum not in self.datums:
                yield (
                    f"gate.{gate.name}",
                    f"clearance_datum '{gate.clearance_datum}' has no height above CD here; expected one of {known}",
                )
        stations = {station.name: station for station in self.tide_stations}
        for stream in self.stream_stations:
            if stream.rows and stream.reference not in stations:
                yield (
                    f"stream_station.{stream.name}",
                    f"reference '{stream.reference}' is no tide station of this waterway",
                )
        for station in self.tide_stations:
            reference = station.secondary.reference if station.secondary else station.name
            if reference not in stations or (station.secondary and stations[reference].secondary):
                yield (
                    f"tide_station.{station.name}",
                    f"reference '{reference}' is no standard port among the tide stations of this waterway",
                )
        for rule in self.rules:
            yield from ((f"rule.{rule.name}", why) for why in self.unknown_in(rule))

    def _place_problems(self) -> Iterator[tuple[str, str]]:
        places = [("waypoint." + item.name, item.position) for item in self.waypoints]
        places += [("gate." + item.name, item.position) for item in self.gates]
        places += [
            ("tide_station." + item.name, item.position) for item in self.tide_stations if not item.reference_only
        ]
        places += [("stream_station." + item.name, item.position) for item in self.stream_stations]
        places += [("mark." + item.name, item.position) for item in self.marks]
        for key, place in places:
            metres = math.hypot(
                (place.latitude - self.origin.latitude) * 111_000.0,
                ((place.longitude - self.origin.longitude + 180.0) % 360.0 - 180.0)
                * 111_000.0
                * math.cos(math.radians(self.origin.latitude)),
            )
            if metres > 150_000.0:
                yield (
                    key,
                    (
                        f"lies {metres / 1852.0:.0f} nm from the origin of the waterway; expected under 80 nm "
                        "(latitude and longitude swapped?)"
                    ),
                )

    @functools.cached_property
    def plane(self) -> LocalPlane:
        """The local metric plane of this waterway."""
        return LocalPlane(self.origin)

    @functools.cached_property
    def track(self) -> Track:
        """The track inward bound; `Impossible` if bends do not fit between the waypoints."""
        x, y = self.plane.to_plane(
            [waypoint.position.latitude for waypoint in self.waypoints],
            [waypoint.position.longitude for waypoint in self.waypoints],
        )
        track = Track(np.column_stack([x, y]), tuple(point.bend_radius or 0.0 for point in self.waypoints[1:-1]))
        problems = [(f"waypoint.{self.waypoints[index].name}", why) for index, why in track.problems()]
        if problems:
            raise Impossible(problems)
        return track

    @functools.cached_property
    def places(self) -> dict[str, Position]:
        """Every place along the way a rule can name: waypoints, gates, basins, and berths by the middle of their face.

        Where two kinds share a name, the berth, basin or gate is meant before the waypoint.
        """
        return (
            {point.name: point.position for point in self.waypoints}
            | {gate.name: gate.position for gate in self.gates}
            | {basin.name: basin.centre for basin in self.basins}
            | {berth.name: berth.middle for berth in self.berths}
        )

    def unknown_in(self, rule: Rule) -> Iterator[str]:
        """What a rule names that is not of this waterway."""
        yield from self.unknown_places(rule.at, rule.reaches)
        if isinstance(rule.asks, Opening) and rule.asks.reference is not None:
            known = [station.name for station in self.tide_stations]
            if rule.asks.reference not in known:
                yield f"'{rule.asks.reference}' is no tide station here; expected one of {', '.join(known)}"

    def unknown_places(self, at: str | None, reaches: tuple[str, ...]) -> Iterator[str]:
        """Sentences about a place or reaches that this waterway does not have."""
        if at is not None and at not in self.places:
            yield f"'{at}' is no waypoint, gate, basin or berth here; expected one of {', '.join(self.places)}"
        names = [reach.name for reach in self.reaches]
        for name in reaches:
            if name not in names:
                yield f"'{name}' is no reach here; expected one of {', '.join(names)}"

    def datum_height(self, datum: str) -> float:
        """Height of a named datum above chart datum; refuses a datum this waterway does not connect. [m]"""
        if datum == "CD":
            return 0.0
        if datum not in self.datums:
            raise Impossible([("datums", f"'{datum}' has no height above chart datum in waterway '{self.name}'")])
        return self.datums[datum]
