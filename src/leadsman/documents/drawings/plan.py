"""The plan: water tinted by room under her keel, her track and outline to scale, gates, bends, tightest places."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import numpy as np

from leadsman import format as text
from leadsman.documents.drawings.furniture import (
    LEGEND,
    NO_WATER_TINT,
    Frame,
    free_corners,
    ink_legend,
    north_arrow,
    required,
    scale_bar,
    tint,
)
from leadsman.documents.drawings.labels import Labels
from leadsman.documents.drawings.sheet_view import SheetView, fitted
from leadsman.documents.drawings.svg import INK, NORMAL, PAPER, SMALL, Point, Svg, shortened
from leadsman.units import NAUTICAL_MILE

MOST_STRIPS = (2, 3, 4)
STRIP_GAP = 2.5  # mm between strips
OVERLAP = 0.06
"""Of a strip's length, shown again at the end of the one before and the beginning of the one after."""
LENGTHS_AT_BERTH = 3.0
"""Of hers: what is at least shown of the way to or from the berth."""
LARGER = 1.3
"""How much larger the scale at the berth must come out before it gets a piece of its own."""
MOST_BENDS = 12
"""With more bends than this their numbers would hide the water; the table has them."""
CLEAR = 3.0  # mm: as far outside its frame as a piece is drawn
NAME = 26
"""Longest name written in the plan, in letters."""

Data = Mapping[str, Any]


@dataclass(frozen=True)
class _Piece:
    """A stretch of the track, and how and where it lies on paper."""

    view: SheetView
    frame: Frame
    stations: Sequence[int]


def plan(data: Data, families: Sequence[str], width: float, height: float) -> str:
    """The whole passage on one plan, to a round scale."""
    svg = Svg("plan", width, height)
    frame = (0.2, 0.2, width - 0.4, height - LEGEND - 0.4)
    points = track_points(data)
    stations = range(len(points))
    _draw(svg, data, _Piece(fitted(points, room_about(data, stations), frame), frame, stations))
    ink_legend(svg, data, height - 0.8)
    return svg.written(families)


def strips(data: Data, families: Sequence[str], width: float, height: float) -> str:
    """The passage cut into two to four pieces, each turned along the track, all to the same larger scale.

    The work at the berth has a piece of its own to a scale larger still, where that can be had.
    """
    svg = Svg("strips", width, height)
    berth = _at_the_berth(data)
    cuts = [_cut(data, count, width, height - LEGEND, berth) for count in MOST_STRIPS]
    if berth:
        cuts = [cut for cut in cuts if cut[0].view.scale > LARGER * min(cut[0].view.scale, cut[-1].view.scale)] or [
            _cut(data, count, width, height - LEGEND, []) for count in MOST_STRIPS
        ]
    for piece in min(cuts, key=lambda pieces: (pieces[0].view.scale, len(pieces))):
        _draw(svg, data, piece)
    ink_legend(svg, data, height - 0.8)
    return svg.written(families)


def _at_the_berth(data: Data) -> list[int]:
    """The stations of the last of the way in, or the first of the way out: a leg, some lengths, at most a mile."""
    if not data["plan"]["berths"] or not data["legs"]:
        return []
    distance = np.asarray(data["account"]["distance"])
    outward = data["call"]["direction"] == "outward"
    leg = data["legs"][0 if outward else -1]["distance"]["value"]
    reach = min(max(leg, LENGTHS_AT_BERTH * data["plan"]["ship"]["length_overall"]), NAUTICAL_MILE)
    near = distance <= distance[0] + reach if outward else distance >= distance[-1] - reach
    return [int(station) for station in np.flatnonzero(near)]


def _cut(data: Data, count: int, width: float, height: float, berth: Sequence[int]) -> list[_Piece]:
    """A piece for each of so many of equal length, overlapping a little, and one for the stations at the berth."""
    points, distance = track_points(data), np.asarray(data["account"]["distance"])
    frames = count + bool(berth)
    high, length = (height - (frames - 1) * STRIP_GAP) / frames, (distance[-1] - distance[0]) / count
    outward = data["call"]["direction"] == "outward"

    def frame(index: int) -> Frame:
        return (0.2, 0.2 + index * (high + STRIP_GAP), width - 0.4, high - 0.4)

    def piece(stations: Sequence[int], index: int, more: Sequence[tuple[float, float]] = ()) -> _Piece:
        shown = [*(points[station] for station in stations), *more]
        return _Piece(fitted(shown, room_about(data, stations), frame(index), gain=1.0), frame(index), stations)

    pieces = []
    for index in range(count):
        begin = distance[0] + (index - OVERLAP) * length
        here = np.flatnonzero((distance >= begin) & (distance <= begin + (1.0 + 2.0 * OVERLAP) * length))
        pieces.append(piece([int(station) for station in here], index + (1 if outward and berth else 0)))
    scale = max(one.view.scale for one in pieces)
    pieces = [replace(one, view=replace(one.view, scale=scale)) for one in pieces]
    if berth:
        ends = [tuple(berth[end]) for berth in data["plan"]["berths"] for end in ("begin", "end")]
        pieces.append(piece(berth, 0 if outward else count, ends))
    return pieces


def _draw(svg: Svg, data: Data, piece: _Piece) -> None:
    """One framed piece of the plan."""
    view, frame = piece.view, piece.frame
    track = view.line(track_points(data))
    edges = fairway_edges(data, view)
    north, bar = free_corners([*track, *edges[0], *edges[1]], frame)
    svg.rectangle(*frame, fill=NO_WATER_TINT)
    svg.clip(*frame)
    labels = Labels(svg, (frame[0] + 1.0, frame[1] + 1.0, frame[0] + frame[2] - 1.0, frame[1] + frame[3] - 1.0))
    labels.take(north[0], north[1], 7.5)
    for step in range(6):
        labels.take(bar[0] + 5.0 + 10.0 * step, bar[1] + 6.0, 5.5)
    numbers = draw_areas(svg, data, view, frame)
    for edge in edges:
        for run in _near(edge, frame):
            draw_edge(svg, run)
    draw_fixtures(svg, data, view)
    runs = _near(track, frame)
    for run in runs:
        svg.line(run, 1.3, colour=PAPER)
    for run in runs:
        svg.line(run, 0.45)
    draw_gates(svg, data, view)
    bends = _wheel_overs(svg, data, view, labels)
    times = _her_outline(svg, data, piece, labels)
    _tightest(svg, data, view, labels)
    for x, y, words in (*(bends if len(bends) <= MOST_BENDS else ()), *times):
        labels.put(x, y, words, SMALL)
    _names(data, view, labels)
    for x, y, words in numbers:
        labels.put(x, y, words, NORMAL, bold=True)
    _courses(data, view, labels)
    svg.unclip()
    svg.rectangle(*frame, stroke=0.4)
    north_arrow(svg, view, north)
    scale_bar(svg, view, bar)


def _near(line: Sequence[Point], frame: Frame) -> list[list[Point]]:
    """The runs of a line within a frame or next to it: what lies farther off is not drawn."""
    left, top, right, bottom = (
        frame[0] - CLEAR,
        frame[1] - CLEAR,
        frame[0] + frame[2] + CLEAR,
        frame[1] + frame[3] + CLEAR,
    )
    runs: list[list[Point]] = []
    last = -2
    for index, (begin, end) in enumerate(pairwise(line)):
        beside = max(begin[0], end[0]) < left or min(begin[0], end[0]) > right
        if beside or max(begin[1], end[1]) < top or min(begin[1], end[1]) > bottom:
            continue
        if index != last + 1:
            runs.append([begin])
        runs[-1].append(end)
        last = index
    return runs


def track_points(data: Data) -> list[tuple[float, float]]:
    account = data["account"]
    return list(zip(account["x"], account["y"], strict=True))


def room_about(data: Data, stations: Iterable[int]) -> float:
    """What must be in sight about these stations: the room to the edges, and her length."""
    account = data["account"]
    widest = max(max(account["room_port"][one], account["room_starboard"][one], 0.0) for one in stations)
    return float(widest) + float(data["plan"]["ship"]["length_overall"])


def draw_areas(svg: Svg, data: Data, view: SheetView, frame: Frame) -> list[tuple[float, float, str]]:
    """Draws deep areas first, so that the shallowest counts where they overlap; returns the numbers to write."""
    from shapely import Polygon, box

    window = box(frame[0], frame[1], frame[0] + frame[2], frame[1] + frame[3])
    about = window.buffer(CLEAR, join_style="mitre")
    needed, numbers, covered = required(data), [], None
    areas = sorted(data["plan"]["areas"], key=lambda area: -math.inf if area["depth"] is None else area["depth"])
    for area in areas:
        rings = [view.line(area["ring"]), *(view.line(hole) for hole in area["holes"])]
        shown = Polygon(rings[0], rings[1:]).intersection(window)
        open_part = shown if covered is None else shown.difference(covered)
        covered = shown if covered is None else covered.union(shown)
        if open_part.area > 25.0:
            spot = open_part.buffer(-1.5).representative_point() if not open_part.buffer(-1.5).is_empty else None
            words = "no depth" if area["net"] is None else area["net"]["text"]
            if spot is not None:
                numbers.append((float(spot.x), float(spot.y), words))
    for area in reversed(areas):
        shown = Polygon(view.line(area["ring"]), [view.line(hole) for hole in area["holes"]]).intersection(about)
        pieces = [
            piece for piece in getattr(shown, "geoms", [shown]) if piece.geom_type == "Polygon" and piece.area > 0.0
        ]
        rings = [list(ring.coords) for piece in pieces for ring in (piece.exterior, *piece.interiors)]
        if not rings:
            continue
        net = None if area["net"] is None else area["net"]["value"]
        flat, pattern = tint(net, needed)
        svg.shape(rings, flat)
        svg.shape(rings, svg.fill(pattern) if pattern else "none", stroke=0.2)
    return numbers


def fairway_edges(data: Data, view: SheetView) -> tuple[list[Point], list[Point]]:
    """Edges of the fairway on paper, port and starboard, from the room to either side of her."""
    account, half = data["account"], 0.5 * data["plan"]["ship"]["beam"]

    def edge(side: float, rooms: Sequence[float]) -> list[Point]:
        points = []
        for x, y, course, room in zip(account["x"], account["y"], account["course"], rooms, strict=True):
            across = course + side * 0.5 * math.pi
            reach = half + room
            points.append(view(x + reach * math.cos(across), y + reach * math.sin(across)))
        return points

    return edge(-1.0, account["room_port"]), edge(1.0, account["room_starboard"])


def draw_edge(svg: Svg, edge: Sequence[Point]) -> None:
    svg.line(edge, 0.7, colour=PAPER)
    svg.line(edge, 0.3, "2.2 0.9")


def draw_fixtures(svg: Svg, data: Data, view: SheetView) -> None:
    for basin in data["plan"]["basins"]:
        x, y = view(*basin["at"])
        svg.dot(x, y, 0.5 * basin["diameter"] / view.scale, fill="none", stroke=0.3)
    for berth in data["plan"]["berths"]:
        svg.line([view(*berth["begin"]), view(*berth["end"])], 1.4)
    for mark in data["plan"]["marks"]:
        x, y = view(*mark["at"])
        svg.shape([[(x, y - 1.2), (x + 1.2, y), (x, y + 1.2), (x - 1.2, y)]], PAPER, 0.35)


def draw_gates(svg: Svg, data: Data, view: SheetView) -> None:
    """Two strokes across the fairway."""
    account = data["account"]
    for gate in data["gates"]:
        station = _station(account, gate["distance"]["value"])
        across = account["course"][station] + 0.5 * math.pi
        reach = max(account["room_port"][station], account["room_starboard"][station]) + 60.0
        for along in (-0.6, 0.6):
            middle = view(account["x"][station], account["y"][station])
            step, forward = view.bearing(across), view.bearing(account["course"][station])
            x, y = middle[0] + along * forward[0], middle[1] + along * forward[1]
            span = reach / view.scale
            svg.line([(x - span * step[0], y - span * step[1]), (x + span * step[0], y + span * step[1])], 0.5)


def _wheel_overs(svg: Svg, data: Data, view: SheetView, labels: Labels) -> list[tuple[float, float, str]]:
    """A stroke across the track where the bend begins, as geometry has it; returns the numbers to write."""
    numbers = []
    corners = {point["name"]: point["at"] for point in data["plan"]["waypoints"]}
    for leg in data["legs"]:
        if leg["wheel_over_before"] is None or leg["ends_at"] not in corners:
            continue
        course, before = leg["course"]["value"], leg["wheel_over_before"]["value"]
        corner = corners[leg["ends_at"]]
        x, y = view(corner[0] - before * math.cos(course), corner[1] - before * math.sin(course))
        step = view.bearing(course + 0.5 * math.pi)
        svg.line([(x - 2.6 * step[0], y - 2.6 * step[1]), (x + 2.6 * step[0], y + 2.6 * step[1])], 0.8)
        labels.take(x, y, 1.2)
        numbers.append((x, y, f"bend {leg['number']}"))
    return numbers


def _tightest(svg: Svg, data: Data, view: SheetView, labels: Labels) -> None:
    """All rings before the first letter, so that no letter hides a ring."""
    account = data["account"]
    spots = [view(account["x"][place["station"]], account["y"][place["station"]]) for place in data["tightest"]]
    for x, y in spots:
        svg.dot(x, y, 0.9, fill=PAPER, stroke=0.5)
        labels.take(x, y, 1.0)
    for (x, y), place in zip(spots, data["tightest"], strict=True):
        labels.put(x, y, f"{place['letter']} {place['value']['text']}", NORMAL, bold=True, must=True)


def _her_outline(svg: Svg, data: Data, piece: _Piece, labels: Labels) -> list[tuple[float, float, str]]:
    """Her outline to scale at round times; returns the times to write."""
    view, times = piece.view, []
    account = data["account"]
    start = datetime.fromisoformat(data["call"]["start"]["value"])
    elapsed, distance = np.asarray(account["elapsed"]), np.asarray(account["distance"])
    ship = data["plan"]["ship"]
    here = list(piece.stations)
    minutes = _interval(elapsed[here], distance[here], view.scale, ship["length_overall"])
    first = start.replace(second=0) + timedelta(minutes=-start.minute % minutes)
    while (since := (first - start).total_seconds()) <= elapsed[-1]:
        if since >= 0.0:
            x, y = (float(np.interp(since, elapsed, account[axis])) for axis in ("x", "y"))
            course = account["course"][_station(account, float(np.interp(since, elapsed, distance)))]
            at = view(x, y)
            svg.shape([_outline(at, view.bearing(course), ship, view.scale)], INK, 0.25)
            labels.take(*at, 1.4)
            times.append((*at, text.clock(first)))
        first += timedelta(minutes=minutes)
    return times


def _outline(at: Point, forward: Point, ship: Data, scale: float) -> list[Point]:
    half, beam = 0.5 * ship["length_overall"] / scale, 0.5 * ship["beam"] / scale
    starboard = (-forward[1], forward[0])
    corners = ((half, 0.0), (0.7 * half, beam), (-half, beam), (-half, -beam), (0.7 * half, -beam))
    return [(at[0] + a * forward[0] + b * starboard[0], at[1] + a * forward[1] + b * starboard[1]) for a, b in corners]


def _interval(elapsed: Any, distance: Any, scale: float, length: float) -> int:
    """Minutes between outlines so that they stand about 16 mm apart, and clear of each other. [s, m, m/mm, m]"""
    speed = float((distance[-1] - distance[0]) / max(elapsed[-1] - elapsed[0], 1.0))
    apart = max(16.0, 1.3 * length / scale)
    choices = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 720)
    return next((minutes for minutes in choices if speed * 60.0 * minutes / scale >= apart), 1440)


def _courses(data: Data, view: SheetView, labels: Labels) -> None:
    """Number and course of each leg at its middle, where the table of legs is not at hand."""
    account = data["account"]
    if len(data["legs"]) > MOST_BENDS:
        return
    for leg in data["legs"]:
        stations = [station for station, reach in enumerate(account["reach"]) if reach == leg["number"] - 1]
        middle = stations[len(stations) // 2]
        labels.put(
            *view(account["x"][middle], account["y"][middle]), f"{leg['number']}: {leg['course']['text']}°", NORMAL
        )


def _names(data: Data, view: SheetView, labels: Labels) -> None:
    """Names of gates and berths first; what stands under the same name is written once."""
    drawn = data["plan"]
    things = [(gate["name"], gate["at"], True) for gate in drawn["gates"]]
    things += [(berth["name"], berth["end"], True) for berth in drawn["berths"]]
    things += [(point["name"], point["at"], False) for point in drawn["waypoints"]]
    things += [(mark["name"], mark["at"], False) for mark in drawn["marks"]]
    written: set[str] = set()
    for name, at, bold in things:
        if name not in written:
            written.add(name)
            labels.put(*view(*at), shortened(name, NAME), SMALL, bold=bold)


def _station(account: Data, distance: float) -> int:
    return int(np.argmin(np.abs(np.asarray(account["distance"]) - distance)))
