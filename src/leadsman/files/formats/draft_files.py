"""A draft as the files of a waterway; what is missing is left out and asked for, so that the reader refuses the rest.

Every question stands as a comment at the head of `waterway.toml`; keys the cell cannot give stand as comments where
they belong. The depth areas go to `areas.geojson`, a table of high and low waters to `tide.csv`.
"""

import json
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from leadsman.errors import refuse
from leadsman.files.formats import geojson
from leadsman.files.formats.draft_areas import polygon_of
from leadsman.files.formats.records import MapFeature, Route
from leadsman.files.formats.series import HighLowTable
from leadsman.files.formats.times import written
from leadsman.files.formats.waterway_draft import Fairway, WaterwayDraft
from leadsman.geometry import LocalPlane, Position
from leadsman.units import DEGREE
from leadsman.waterway import Gate

STEP = 50.0  # m between places of a reach where the fairway is measured
SIGHT = 5_000.0  # m; a fairway wider than this to one side has no edge that matters


def files_of(
    draft: WaterwayDraft, *, name: str, route: Route | None = None, tide: HighLowTable | None = None
) -> dict[str, bytes]:
    """The files by their names within the folder `waterway`; the route gives the track, inward bound."""
    refuse(
        [
            (
                "tide",
                f"its heights stand above {tide.datum}, the chart's depths below {draft.chart_datum}; convert it first",
            )
        ]
        if tide is not None and tide.datum not in ("CD", draft.chart_datum)
        else []
    )
    lines = [*_head(draft, name), *_datums(draft), *_track(draft, route), *_gates(draft.gates), *_berths(draft)]
    lines += [*_marks(draft), *_tide(tide)]
    found = {"waterway.toml": ("\n".join(lines) + "\n").encode(), "areas.geojson": _areas(draft)}
    if tide is not None:
        rows = ["time,height_m", *(f"{written(point.time)},{point.level!r}" for point in tide.points)]
        found["tide.csv"] = ("\n".join(rows) + "\n").encode()
    return found


def quoted(text: str) -> str:
    """A text as a TOML string on one line."""
    return json.dumps("".join(letter if letter.isprintable() else " " for letter in text), ensure_ascii=False)


def remark(text: str) -> str:
    """A text as a TOML comment on one line."""
    return "# " + "".join(letter if letter.isprintable() else " " for letter in text)


def _place(position: Position) -> list[str]:
    return [f"latitude = {position.latitude:.7f}", f"longitude = {position.longitude:.7f}"]


def _asked(key: str, what: str) -> str:
    """A key that a person must fill in."""
    return f"# {key} = ?  # {what}"


def _head(draft: WaterwayDraft, name: str) -> list[str]:
    lines = [
        remark(f"A draft from chart cell {draft.cell}, to be completed and confirmed by a person. Not for navigation."),
        remark(f"{len(draft.questions)} questions are open; answer each, then take its line away:"),
    ]
    for number, question in enumerate(draft.questions, start=1):
        place = question.position
        where = "" if place is None else f" (at {place.latitude:.5f}, {place.longitude:.5f})"
        lines.append(remark(f"{number}. {question.subject}{where}: {question.sentence}"))
    lines += [remark(f"Note: {note}") for note in draft.notes]
    lines += ["", f"name = {quoted(name)}", f"chart_datum = {quoted(draft.chart_datum)}", 'areas = "areas.geojson"']
    if draft.magnetic_variation is not None:
        lines.append(f"magnetic_variation_deg = {draft.magnetic_variation / DEGREE:.2f}")
    middle = _middle(draft)
    return [*lines, "", "[origin]", *_place(middle)]


def _middle(draft: WaterwayDraft) -> Position:
    places = [place for area in draft.areas for place in area.ring] or [gate.position for gate in draft.gates]
    refuse([] if places else [("areas", "the draft holds no depth area")])
    latitude, longitude = [p.latitude for p in places], [p.longitude for p in places]
    return Position(0.5 * (min(latitude) + max(latitude)), 0.5 * (min(longitude) + max(longitude)))


def _datums(draft: WaterwayDraft) -> list[str]:
    lines = ["", "[heights_above_chart_datum_m]", f"{quoted(draft.chart_datum)} = 0.0"]
    needed = [datum for datum in draft.datums_needed if datum != draft.chart_datum]
    return lines + [_asked(quoted(datum), "from the tide tables of the port") for datum in needed]


def _track(draft: WaterwayDraft, route: Route | None) -> Iterator[str]:
    """Waypoints and reaches; a width the fairway gives is written, one it does not give is asked for."""
    if route is None:
        yield "\n# [[waypoint]] and [[reach]]: draw the track inward bound, or import a route with the cell"
        return
    names = _waypoint_names(route)
    for index, (name, waypoint) in enumerate(zip(names, route.waypoints, strict=True)):
        yield f"\n[[waypoint]]\nname = {quoted(name)}"
        yield from _place(waypoint.position)
        if 0 < index < len(names) - 1:
            radius = waypoint.turn_radius
            yield (
                f"bend_radius_m = {radius:.1f}" if radius else _asked("bend_radius_m", "of the track, not the channel")
            )
    for (before, after), widths in zip(pairwise(names), reach_widths(route, draft.fairways), strict=True):
        yield f"\n[[reach]]\nname = {quoted(f'{before} to {after}')}"
        for side, width in zip(("port", "starboard"), widths, strict=True):
            key = f"width_{side}_m"
            yield f"{key} = {width:.1f}" if width else _asked(key, "track to edge; no fairway is charted all along")
        yield _asked("channel", '"open", "trench" or "canal"')


def _waypoint_names(route: Route) -> list[str]:
    """Names that tell the waypoints apart: their own, with the id where one is missing or stands twice."""
    plain = Counter(waypoint.name for waypoint in route.waypoints)
    return [
        waypoint.name
        if waypoint.name and plain[waypoint.name] == 1
        else f"{waypoint.name or 'waypoint'} {waypoint.identifier}"
        for waypoint in route.waypoints
    ]


def reach_widths(route: Route, fairways: Sequence[Fairway]) -> list[tuple[float | None, float | None]]:
    """(port, starboard) least distance from each reach to the edge of the fairway; None where it leaves it. [m]"""
    places = [waypoint.position for waypoint in route.waypoints]
    plane = LocalPlane(places[len(places) // 2])
    channel = (
        shapely.union_all([_on_plane(fairway.ring, plane) for fairway in fairways]) if fairways else shapely.Polygon()
    )
    x, y = plane.to_plane([p.latitude for p in places], [p.longitude for p in places])
    return [_reach_width(channel, a, b) for a, b in pairwise(np.column_stack([x, y]).tolist())]


def _on_plane(ring: Sequence[Position], plane: LocalPlane) -> Any:
    x, y = plane.to_plane([place.latitude for place in ring], [place.longitude for place in ring])
    return shapely.make_valid(shapely.Polygon(np.column_stack([x, y])))


def _reach_width(channel: Any, begin: list[float], end: list[float]) -> tuple[float | None, float | None]:
    """Least distance to the edge on either side, measured square to the reach at every step."""
    length = math.dist(begin, end)
    if length == 0.0 or not shapely.covers(channel, shapely.LineString([begin, end])):
        return None, None
    ahead = (np.array(end) - begin) / length
    starboard = np.array([-ahead[1], ahead[0]])  # x north, y east: starboard of north is east
    least = []
    for side in (-1.0, 1.0):
        distances = []
        for along in np.linspace(0.0, length, max(2, math.ceil(length / STEP) + 1)):
            place = np.array(begin) + along * ahead
            sight = shapely.LineString([place, place + side * SIGHT * starboard])
            inside = [part for part in shapely.get_parts(shapely.intersection(sight, channel)) if part.length > 0.0]
            here = [part for part in inside if shapely.distance(part, shapely.Point(place)) < 0.01]
            distances.append(max((part.length for part in here), default=0.0))
        width = min(distances)
        least.append(width if 0.0 < width < SIGHT - 1.0 else None)
    return least[0], least[1]


def _gates(gates: Sequence[Gate]) -> Iterator[str]:
    for gate in gates:
        yield "\n[[gate]]"
        yield f"name = {quoted(gate.name)}"
        yield f"kind = {quoted(str(gate.kind))}"
        yield from _place(gate.position)
        for key, value in (("clearance_m", gate.clearance), ("depth_m", gate.depth), ("width_m", gate.width)):
            if value is not None:
                yield f"{key} = {value!r}"
        if gate.clearance_datum is not None:
            yield f"clearance_datum = {quoted(gate.clearance_datum)}"
        yield f"source = {quoted(gate.source)}"


def _berths(draft: WaterwayDraft) -> Iterator[str]:
    """Berths stand as comments where anything of them is missing, since side_to always is."""
    for berth in draft.berths:
        yield f"\n# [[berth]]  # complete it and take the marks away, or leave it out\n# name = {quoted(berth.name)}"
        for key, place in (("begin", berth.begin), ("end", berth.end)):
            yield (
                _asked(key, "latitude and longitude of one end of the face")
                if place is None
                else f"# {key} = {{ latitude = {place.latitude:.7f}, longitude = {place.longitude:.7f} }}"
            )
        yield _asked("depth_m", "alongside") if berth.depth is None else f"# depth_m = {berth.depth!r}"
        yield _asked("side_to", '"port" or "starboard": the side of the ship that lies to it')


def _marks(draft: WaterwayDraft) -> Iterator[str]:
    for mark in draft.marks:
        yield "\n[[mark]]"
        yield f"name = {quoted(mark.name)}"
        yield f"kind = {quoted(mark.kind)}"
        yield from _place(mark.position)
        yield f"description = {quoted(mark.description)}"


def _tide(tide: HighLowTable | None) -> Iterator[str]:
    if tide is None:
        yield "\n# [[tide_station]]: at least one, from constants or a table of high and low waters"
        return
    yield "\n[[tide_station]]"
    yield f"name = {quoted(tide.station)}"
    if tide.position is None:
        yield _asked("latitude", "of the station")
        yield _asked("longitude", "of the station")
    else:
        yield from _place(tide.position)
    yield 'high_low_table = "tide.csv"'


def _areas(draft: WaterwayDraft) -> bytes:
    features = []
    for area in draft.areas:
        properties: dict[str, Any] = {"name": area.name, "depth_m": "unsurveyed" if area.depth is None else area.depth}
        if area.uncertainty is not None:
            properties["survey_uncertainty_m"] = area.uncertainty
        features.append(MapFeature(geometry=polygon_of(area), properties=properties))
    return geojson.to_bytes(features)
