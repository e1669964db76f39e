"""A draft of a waterway from a chart cell: areas, gates, marks, berths, fairways, and questions to a person.

A draft is no waterway. What the cell does not say (the height of a bridge without one, which opening counts, which side
lies to a berth, how its datums connect) becomes a `Question`, never a guess.

Source: [S57Edition31], [S57Attributes].
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from leadsman.errors import Impossible, refuse
from leadsman.files.formats.datums import datum_name
from leadsman.files.formats.draft_areas import AreaDraft, Question, label, representative, ring_of
from leadsman.files.formats.records import ChartCell, ChartFeature, Route
from leadsman.files.formats.s57 import names
from leadsman.geometry import LocalPlane, Position
from leadsman.units import DEGREE, NAUTICAL_MILE
from leadsman.waterway import DepthArea, Gate, GateKind, Mark

OVERHEAD = {"BRIDGE": GateKind.BRIDGE, "PIPOHD": GateKind.BRIDGE, "CONVYR": GateKind.BRIDGE, "CBLOHD": GateKind.CABLE}
OPENING = frozenset((2, 3, 4, 5, 7, 8))  # CATBRG: opening, swing, lifting, bascule, draw, transporter
HIGHEST = 250.0  # m; a gate refuses greater clearances
NO_GATE_OF_HERS = 250.0  # m from the route: farther off, a bridge stands over other water. Ours: half of a long ship
LATERAL = {1: "port-hand", 2: "starboard-hand", 3: "preferred channel to starboard", 4: "preferred channel to port"}
CARDINAL = {1: "north cardinal", 2: "east cardinal", 3: "south cardinal", 4: "west cardinal"}
COLOURS = {1: "white", 2: "black", 3: "red", 4: "green", 5: "blue", 6: "yellow", 7: "grey", 8: "brown", 9: "amber",
           10: "violet", 11: "orange", 12: "magenta", 13: "pink"}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class BerthDraft:
    """A charted berth; which side of the ship lies to it is for a person to say."""

    name: str
    position: Position
    """A place on it; the middle of a line."""
    begin: Position | None
    end: Position | None
    depth: float | None
    """Alongside, below chart datum. [m]"""


@dataclass(frozen=True, kw_only=True)
class UnknownGate:
    """A bridge or cable whose height or its datum, or a lock gate whose sill, the cell does not give."""

    name: str
    kind: GateKind
    position: Position
    clearance: float | None
    """The height, where only its datum is missing. [m]"""
    source: str


@dataclass(frozen=True, kw_only=True)
class Fairway:
    """A charted fairway or dredged channel."""

    name: str
    ring: tuple[Position, ...]
    least_depth: float | None
    orientation: float | None
    """[rad]"""


@dataclass(frozen=True, kw_only=True)
class WaterwayDraft:
    """What a cell gives towards a waterway."""

    cell: str
    """Name, edition and last update of the cell."""
    chart_datum: str
    areas: tuple[DepthArea, ...]
    gates: tuple[Gate, ...]
    unknown_gates: tuple[UnknownGate, ...]
    physical_cables: tuple[str, ...]
    """Names of gates that are cables given by their physical height only."""
    marks: tuple[Mark, ...]
    berths: tuple[BerthDraft, ...]
    fairways: tuple[Fairway, ...]
    datums_needed: tuple[str, ...]
    """Datums of clearances whose height above chart datum the cell does not give."""
    magnetic_variation: float | None
    """East positive. [rad]"""
    questions: tuple[Question, ...]
    notes: tuple[str, ...]


def draft(
    cell: ChartCell,
    *,
    along: Route | None = None,
    corridor: float = 2.0 * NAUTICAL_MILE,
    survey: Sequence[DepthArea] = (),
) -> WaterwayDraft:
    """A draft from a cell; with a route, only what lies within the corridor on either side of it. [m]

    `survey`: depth areas of a newer survey, in place of the cell's own where they lie.
    """
    line = None if along is None else _line_of(along)
    plane = LocalPlane(_middle(cell, line))
    near = None if line is None else AreaDraft(cell, plane, None).widened(line, corridor)
    return _Drafter(cell, plane, line, near, survey).draft()


def _line_of(route: Route) -> Any:
    """The route as a line; one over the antimeridian is refused, since no cell lies on both its sides."""
    places = [waypoint.position for waypoint in route.waypoints]
    refuse(
        ("route", f"crosses the antimeridian after waypoint {waypoint.identifier}; a draft needs it on one side")
        for waypoint, before, after in zip(route.waypoints, places, places[1:], strict=False)
        if abs(after.longitude - before.longitude) > 180.0
    )
    return shapely.LineString([(place.longitude, place.latitude) for place in places])


def berths_of(cell: ChartCell) -> tuple[BerthDraft, ...]:
    """All charted berths, by names that tell one from another."""
    taken: set[str] = set()
    return tuple(_berth(feature, unique(label(feature), taken)) for feature in cell.of("BERTHS"))


def _berth(feature: ChartFeature, name: str) -> BerthDraft:
    """A berth with the ends of its face where the cell draws it as a line."""
    begin = end = None
    place = representative(feature.geometry)
    if feature.geometry.geom_type == "LineString":
        (x0, y0), (x1, y1) = shapely.get_coordinates(feature.geometry)[[0, -1]].tolist()
        begin, end = Position(y0, x0), Position(y1, x1)
        place = representative(shapely.line_interpolate_point(feature.geometry, 0.5, normalized=True))
    return BerthDraft(name=name, position=place, begin=begin, end=end, depth=feature.number("DRVAL1"))


def unique(wanted: str, taken: set[str]) -> str:
    """The name, with a number where it is taken already."""
    name, number = wanted, 1
    while name in taken:
        number += 1
        name = f"{wanted} ({number})"
    taken.add(name)
    return name


def edition_of(cell: ChartCell) -> str:
    """How a cell is cited."""
    return f"{cell.name} edition {cell.edition} update {cell.update}"


def _middle(cell: ChartCell, line: Any | None) -> Position:
    """A place about which the plane is laid."""
    shapes = [line] if line is not None else [feature.geometry for feature in cell.features]
    if not shapes:
        raise Impossible([("cell", f"'{cell.name}' holds nothing that a waterway is made of")])
    west, south, east, north = shapely.total_bounds(np.array(shapes, dtype=object)).tolist()
    return Position(0.5 * (south + north), 0.5 * (west + east))


class _Drafter:
    """Goes through a cell once for each kind of thing."""

    def __init__(
        self, cell: ChartCell, plane: LocalPlane, line: Any | None, near: Any | None, survey: Sequence[DepthArea]
    ) -> None:
        self.cell = cell
        self.line = line
        self.near = near
        self.areas = AreaDraft(cell, plane, near, survey)
        self.under = None if line is None else self.areas.widened(line, NO_GATE_OF_HERS)
        self.questions: list[Question] = []
        self.notes: list[str] = []
        self.taken: set[str] = set()
        self.unknown: list[UnknownGate] = []
        self.physical: list[str] = []

    def draft(self) -> WaterwayDraft:
        areas = self.areas.areas()
        gates = tuple(self.gates())
        marks = (*self.marks(), *self.leading_lines())
        berths = tuple(self.berths())
        self.check_cover()
        needed = {gate.clearance_datum for gate in gates if gate.clearance_datum not in (None, "CD")}
        return WaterwayDraft(
            cell=edition_of(self.cell),
            chart_datum=self.cell.sounding_datum,
            areas=areas,
            gates=gates,
            unknown_gates=tuple(self.unknown),
            physical_cables=tuple(self.physical),
            marks=marks,
            berths=berths,
            fairways=tuple(self.fairways()),
            datums_needed=tuple(sorted(str(datum) for datum in needed)),
            magnetic_variation=self.variation(),
            questions=(*self.areas.questions, *self.questions),
            notes=(*self.cell.notes, *self.areas.notes, *self.notes),
        )

    def of(self, *kinds: str) -> Iterator[ChartFeature]:
        """Objects of these classes within reach."""
        for feature in self.cell.of(*kinds):
            if self.near is None or shapely.intersects(self.near, feature.geometry):
                yield feature

    def ask(self, subject: str, sentence: str, feature: ChartFeature, answered_by: str = "") -> None:
        place = representative(feature.geometry)
        self.questions.append(Question(subject=subject, sentence=sentence, position=place, answered_by=answered_by))

    def unique(self, name: str) -> str:
        """A name that no other gate or mark has."""
        return unique(name, self.taken)

    def over_her(self, *kinds: str) -> Iterator[ChartFeature]:
        """Objects of these classes that stand over the route or close to it; one over other water is left out."""
        for feature in self.of(*kinds):
            if self.under is None or shapely.intersects(self.under, feature.geometry):
                yield feature
            else:
                self.notes.append(f"{label(feature)} stands more than {NO_GATE_OF_HERS:g} m off the route; left out")

    def where(self, feature: ChartFeature) -> Position:
        """Where the route meets an object; without a route, a place on it."""
        if self.line is not None:
            crossing = shapely.intersection(self.line, feature.geometry)
            if not crossing.is_empty:
                return representative(crossing)
        return representative(feature.geometry)

    def gates(self) -> Iterator[Gate]:
        for feature in self.over_her(*OVERHEAD):
            gate = self.overhead(feature)
            if gate is not None:
                yield gate
            yield from self.narrows(feature)
        for feature in self.over_her("GATCON", "LOKBSN"):
            yield from self.narrows(feature)
            depth = feature.number("DRVAL1")
            if depth is not None:
                yield self.gate(feature, GateKind.SILL, f"{label(feature)}, sill", depth=depth)
            elif feature.kind == "GATCON":
                made = self.unknown_gate(feature, GateKind.SILL, f"{label(feature)}, sill")
                self.ask(made.name, "has no depth over its sill (DRVAL1); ask the port", feature, "sill_depth_m")

    def gate(self, feature: ChartFeature, kind: GateKind, name: str, **values: Any) -> Gate:
        """A gate that names the object of the cell it comes from."""
        place = self.where(feature)
        return Gate(name=self.unique(name), kind=kind, position=place, source=self.source(feature), **values)

    def source(self, feature: ChartFeature) -> str:
        """How an object of the cell is cited."""
        return f"{edition_of(self.cell)}, {feature.kind} {feature.identifier}"

    def narrows(self, feature: ChartFeature) -> Iterator[Gate]:
        width = feature.number("HORCLR")
        if width is not None and width > 0.0:
            yield self.gate(feature, GateKind.NARROWS, f"{label(feature)}, width", width=width)

    def overhead(self, feature: ChartFeature) -> Gate | None:
        """A bridge or cable with the least height the cell gives for it; without height or datum a question instead."""
        name = label(feature)
        codes = feature.attributes.get("CATBRG", ())
        opens = isinstance(codes, tuple) and bool(OPENING.intersection(codes))
        heights = [feature.number(acronym) for acronym in ("VERCLR", "VERCCL", "VERCSA")]
        known = [height for height in heights if height is not None and height > 0.0]
        if opens or feature.number("VERCOP") is not None:
            opened = feature.number("VERCOP")
            to = "without a charted limit" if opened is None else f"to {opened:g} m"
            self.ask(name, f"opens {to}; the draft counts it as closed: say whether it will be opened for her", feature)
        datum = self.clearance_datum(feature)
        lowest = min(known, default=None)
        if lowest is not None and lowest >= HIGHEST:
            self.ask(name, f"its height is given as {lowest:g} m, which is no bridge's", feature)
            lowest = None
        doubt = feature.number("VERACC")
        if doubt and lowest is not None:
            lowest -= doubt
            self.notes.append(f"{name}: its height is good to {doubt:g} m; it was lowered by as much")
        if lowest is None or lowest <= 0.0 or datum is None:
            known_height = lowest if lowest is not None and lowest > 0.0 else None
            gap = self.unknown_gate(feature, OVERHEAD[feature.kind], name, known_height)
            lacks = "height" if known_height is None else "datum of its height"
            words = f"has no {lacks} in the cell: it is NOT in the draft; find it and add the gate"
            self.ask(gap.name, words, feature, "clearance_m")
            return None
        made = self.gate(feature, OVERHEAD[feature.kind], name, clearance=lowest, clearance_datum=datum)
        if feature.kind == "CBLOHD" and feature.number("VERCSA") is None:
            self.physical.append(made.name)
            words = "has a physical height only; ask its owner for the electrical safety distance"
            self.ask(made.name, words, feature, "electrical_distance_m")
        return made

    def unknown_gate(
        self,
        feature: ChartFeature,
        kind: GateKind,
        name: str,
        clearance: float | None = None,
    ) -> UnknownGate:
        """Note one that cannot be a gate until a person says what it lacks."""
        made = UnknownGate(
            name=self.unique(name),
            kind=kind,
            position=self.where(feature),
            clearance=clearance,
            source=self.source(feature),
        )
        self.unknown.append(made)
        return made

    def clearance_datum(self, feature: ChartFeature) -> str | None:
        """Datum of an object's heights: its own, that of the area it lies in, or the cell's."""
        own = feature.attributes.get("VERDAT")
        if own is not None:
            found = datum_name(own)
        else:
            local = {
                datum_name(area.attributes.get("VERDAT"))
                for area in self.cell.of("M_VDAT")
                if shapely.intersects(area.geometry, feature.geometry)
            }
            found = self.cell.vertical_datum if not local else local.pop() if len(local) == 1 else None
        return "CD" if found is not None and found == self.cell.sounding_datum else found

    def marks(self) -> Iterator[Mark]:
        """Buoys and beacons, described by side and colour."""
        kinds = [kind for kind in names() if kind.startswith(("BOY", "BCN"))]
        for feature in self.of(*kinds):
            yield Mark(
                name=self.unique(label(feature)),
                kind="buoy" if feature.kind.startswith("BOY") else "beacon",
                position=representative(feature.geometry),
                description=", ".join(self.described(feature)),
            )

    def described(self, feature: ChartFeature) -> Iterator[str]:
        """Words for side or quarter, else for the class; then the colours."""
        side = LATERAL.get(int(feature.number("CATLAM") or 0)) or CARDINAL.get(int(feature.number("CATCAM") or 0))
        yield side or names()[feature.kind]
        colours = feature.attributes.get("COLOUR", ())
        if isinstance(colours, tuple) and colours:
            yield "-".join(COLOURS.get(code, f"colour {code}") for code in colours)

    def leading_lines(self) -> Iterator[Mark]:
        for feature in self.of("NAVLNE", "RECTRC"):
            towards = feature.number("ORIENT")
            if towards is not None:
                yield Mark(
                    name=self.unique(label(feature)),
                    kind="leading_line",
                    position=representative(feature.geometry),
                    description=f"{names()[feature.kind]}, {towards:05.1f} degrees true",
                )

    def berths(self) -> Iterator[BerthDraft]:
        """Berths within reach, and what the cell does not say of them."""
        for berth, feature in zip(berths_of(self.cell), self.cell.of("BERTHS"), strict=True):
            if self.near is not None and not shapely.intersects(self.near, feature.geometry):
                continue
            lacks = [] if berth.begin is not None else ["the two ends of its face"]
            lacks += [] if berth.depth is not None else ["the depth alongside"]
            words = f"give {', '.join([*lacks, 'which side of the ship lies to it'])}"
            self.ask(berth.name, words, feature, "side_to")
            yield berth

    def fairways(self) -> Iterator[Fairway]:
        for feature in self.of("FAIRWY", "DRGARE", "TSSLPT"):
            orientation = feature.number("ORIENT")
            for polygon in shapely.get_parts(feature.geometry):
                if polygon.geom_type == "Polygon":
                    yield Fairway(
                        name=label(feature),
                        ring=ring_of(polygon.exterior),
                        least_depth=feature.number("DRVAL1"),
                        orientation=None if orientation is None else orientation * DEGREE,
                    )

    def variation(self) -> float | None:
        """Magnetic variation, with its yearly change told as a question; None where the cell has none. [rad]"""
        for feature in self.of("MAGVAR"):
            value = feature.number("VALMAG")
            if value is not None and abs(value) <= 180.0:
                year = re.sub(r"\D", "", str(feature.attributes.get("RYRMGV", ""))) or "an unnamed year"
                self.ask("magnetic variation", f"is {value:g} degrees for {year}; bring it up to date", feature)
                return value * DEGREE
        return None

    def check_cover(self) -> None:
        """Whether the route stays where the cell has data."""
        if self.line is None:
            return
        covered = [area.geometry for area in self.cell.of("M_COVR") if area.number("CATCOV") == 1]
        if not covered or not shapely.covers(shapely.union_all(covered), self.line):
            self.questions.append(
                Question(
                    subject="coverage", sentence="the route leaves the waters this cell covers; another cell is needed"
                )
            )
