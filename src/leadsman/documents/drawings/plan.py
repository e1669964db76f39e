"""The plan: water tinted by room under her keel, her track and outline to scale, gates, bends, tightest places."""

import math
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from leadsman import format as text
from leadsman.documents.drawings.labels import Labels
from leadsman.documents.drawings.sheet_view import SheetView, fitted
from leadsman.documents.drawings.svg import INK, NORMAL, PAPER, SMALL, Point, Svg, shortened, text_width
from leadsman.units import NAUTICAL_MILE

NO_WATER_TINT = "#d3d6db"
TOUCH_TINT = "#596173"
LEGEND = 5.0
BAR = (58.0, 12.0)  # mm, the box of the scale bar
MOST_BENDS = 12
"""With more bends than this their numbers would hide the water; the table has them."""
NAME = 26
"""Longest name written in the plan, in letters."""

Data = Mapping[str, Any]
Frame = tuple[float, float, float, float]


def plan(data: Data, families: Sequence[str], width: float, height: float) -> str:
    """The whole passage on one plan, to a round scale."""
    svg = Svg("plan", width, height)
    frame = (0.2, 0.2, width - 0.4, height - LEGEND - 0.4)
    view = fitted(_extent(data), _spare(data), frame)
    svg.rectangle(*frame, fill=NO_WATER_TINT)
    svg.clip(*frame)
    labels = Labels(svg, (frame[0] + 1.0, frame[1] + 1.0, frame[0] + frame[2] - 1.0, frame[1] + frame[3] - 1.0))
    north, bar = _free_corners(view.line(_extent(data)), frame)
    labels.take(north[0], north[1], 7.5)
    for step in range(6):
        labels.take(bar[0] + 5.0 + 10.0 * step, bar[1] + 6.0, 5.5)
    numbers = _areas(svg, data, view, frame)
    _edges(svg, data, view)
    _fixtures(svg, data, view)
    _track(svg, data, view)
    _gates(svg, data, view)
    _wheel_overs(svg, data, view, labels)
    _tightest(svg, data, view, labels)
    _her_outline(svg, data, view, labels)
    _names(data, view, labels)
    for x, y, words in numbers:
        labels.put(x, y, words, NORMAL, bold=True)
    svg.unclip()
    svg.rectangle(*frame, stroke=0.4)
    _north(svg, view, north)
    _scale_bar(svg, view, bar)
    _legend(svg, data, height - 0.8)
    return svg.written(families)


def required(data: Data) -> float:
    """The greatest requirement under keel along the passage: what the tints are measured by. [m]"""
    return max(float(value) for value in data["account"]["required"])


def _extent(data: Data) -> list[tuple[float, float]]:
    account = data["account"]
    return list(zip(account["x"], account["y"], strict=True))


def _spare(data: Data) -> float:
    account = data["account"]
    widest: float = max(*account["room_port"], *account["room_starboard"], 0.0)
    return widest + float(data["plan"]["ship"]["length_overall"])


def _free_corners(track: Sequence[Point], frame: Frame) -> tuple[Point, Point]:
    """Where the north arrow (its middle) and the scale bar (its top left) lie, in corners the track leaves free."""
    left, top, width, height = frame
    rights, lowers = (left, left + width - BAR[0]), (top, top + height - BAR[1])
    bar = min(((x, y) for y in lowers[::-1] for x in rights), key=lambda box: _inside(track, box, BAR))
    arrows = [(x, y) for x in (left + width - 16.0, left) for y in (top, top + height - 16.0)]
    arrows = [
        box for box in arrows if not _inside([(box[0] + 8.0, box[1] + 8.0)], (bar[0], bar[1] - 8.0), (60.0, 28.0))
    ]
    north = min(arrows, key=lambda box: _inside(track, box, (16.0, 16.0)))
    return (north[0] + 8.0, north[1] + 8.0), bar


def _inside(points: Sequence[Point], corner: Point, size: Point) -> int:
    spare = 4.0
    return sum(
        corner[0] - spare <= x <= corner[0] + size[0] + spare and corner[1] - spare <= y <= corner[1] + size[1] + spare
        for x, y in points
    )


def _tint(net: float | None, needed: float) -> tuple[str, str]:
    """(flat tint, pattern over it): more ink, less room."""
    if net is None:
        return PAPER, "cross"
    if net < 0.0:
        return TOUCH_TINT, ""
    if net < needed:
        return PAPER, "dense"
    return PAPER, "sparse" if net < 2.0 * needed else ""


def _areas(svg: Svg, data: Data, view: SheetView, frame: Frame) -> list[tuple[float, float, str]]:
    """Draws deep areas first, so that the shallowest counts where they overlap; returns the numbers to write."""
    from shapely import Polygon, box

    window = box(frame[0], frame[1], frame[0] + frame[2], frame[1] + frame[3])
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
        rings = [view.line(area["ring"]), *(view.line(hole) for hole in area["holes"])]
        net = None if area["net"] is None else area["net"]["value"]
        tint, pattern = _tint(net, needed)
        svg.shape(rings, tint)
        svg.shape(rings, svg.fill(pattern) if pattern else "none", stroke=0.2)
    return numbers


def _edges(svg: Svg, data: Data, view: SheetView) -> None:
    """Edges of the fairway, from the room to either side of her."""
    account, half = data["account"], 0.5 * data["plan"]["ship"]["beam"]
    for side, rooms in ((-1.0, account["room_port"]), (1.0, account["room_starboard"])):
        points = []
        for x, y, course, room in zip(account["x"], account["y"], account["course"], rooms, strict=True):
            across = course + side * 0.5 * math.pi
            reach = half + room
            points.append(view(x + reach * math.cos(across), y + reach * math.sin(across)))
        svg.line(points, 0.7, colour=PAPER)
        svg.line(points, 0.3, "2.2 0.9")


def _fixtures(svg: Svg, data: Data, view: SheetView) -> None:
    for basin in data["plan"]["basins"]:
        x, y = view(*basin["at"])
        svg.dot(x, y, 0.5 * basin["diameter"] / view.scale, fill="none", stroke=0.3)
    for berth in data["plan"]["berths"]:
        svg.line([view(*berth["begin"]), view(*berth["end"])], 1.4)
    for mark in data["plan"]["marks"]:
        x, y = view(*mark["at"])
        svg.shape([[(x, y - 1.2), (x + 1.2, y), (x, y + 1.2), (x - 1.2, y)]], PAPER, 0.35)


def _track(svg: Svg, data: Data, view: SheetView) -> None:
    points = view.line(_extent(data))
    svg.line(points, 1.3, colour=PAPER)
    svg.line(points, 0.45)


def _gates(svg: Svg, data: Data, view: SheetView) -> None:
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


def _wheel_overs(svg: Svg, data: Data, view: SheetView, labels: Labels) -> None:
    """A stroke across the track where the bend begins, as geometry has it."""
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
        if len(data["legs"]) <= MOST_BENDS:
            labels.put(x, y, f"bend {leg['number']}", SMALL)


def _tightest(svg: Svg, data: Data, view: SheetView, labels: Labels) -> None:
    account = data["account"]
    for place in data["tightest"]:
        station = place["station"]
        x, y = view(account["x"][station], account["y"][station])
        svg.dot(x, y, 0.9, fill=PAPER, stroke=0.5)
        labels.take(x, y, 1.0)
        labels.put(x, y, f"{place['letter']} {place['value']['text']}", NORMAL, bold=True, must=True)


def _her_outline(svg: Svg, data: Data, view: SheetView, labels: Labels) -> None:
    """Her outline to scale at round times, with the time beside."""
    account = data["account"]
    start = datetime.fromisoformat(data["call"]["start"]["value"])
    elapsed, distance = np.asarray(account["elapsed"]), np.asarray(account["distance"])
    minutes = _interval(elapsed, distance, view.scale)
    ship = data["plan"]["ship"]
    first = start.replace(second=0) + timedelta(minutes=-start.minute % minutes)
    while (since := (first - start).total_seconds()) <= elapsed[-1]:
        if since >= 0.0:
            x, y = (float(np.interp(since, elapsed, account[axis])) for axis in ("x", "y"))
            course = account["course"][_station(account, float(np.interp(since, elapsed, distance)))]
            at = view(x, y)
            svg.shape([_outline(at, view.bearing(course), ship, view.scale)], INK, 0.25)
            labels.take(*at, 1.4)
            labels.put(*at, f"{first:%H:%M}", SMALL)
        first += timedelta(minutes=minutes)


def _outline(at: Point, forward: Point, ship: Data, scale: float) -> list[Point]:
    half, beam = 0.5 * ship["length_overall"] / scale, 0.5 * ship["beam"] / scale
    starboard = (-forward[1], forward[0])
    corners = ((half, 0.0), (0.7 * half, beam), (-half, beam), (-half, -beam), (0.7 * half, -beam))
    return [(at[0] + a * forward[0] + b * starboard[0], at[1] + a * forward[1] + b * starboard[1]) for a, b in corners]


def _interval(elapsed: Any, distance: Any, scale: float) -> int:
    """Minutes between outlines so that they stand about 16 mm apart."""
    speed = float(distance[-1] / max(elapsed[-1], 1.0))
    choices = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 720)
    return next((minutes for minutes in choices if speed * 60.0 * minutes / scale >= 16.0), 1440)


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


def _north(svg: Svg, view: SheetView, middle: Point) -> None:
    x, y = middle
    ahead = view.bearing(0.0)
    right = (-ahead[1], ahead[0])
    svg.dot(x, y, 7.0, fill=PAPER, stroke=0.2)

    def at(along: float, across: float) -> Point:
        return (x + along * ahead[0] + across * right[0], y + along * ahead[1] + across * right[1])

    tip, starboard, notch, port = at(2.6, 0.0), at(-5.8, 2.2), at(-3.8, 0.0), at(-5.8, -2.2)
    svg.shape([[tip, starboard, notch, port]], PAPER, 0.3)
    svg.shape([[tip, starboard, notch]], INK)
    letter = at(4.7, 0.0)
    svg.text(letter[0], letter[1] + 1.1, "N", NORMAL, bold=True, anchor="middle")


def _scale_bar(svg: Svg, view: SheetView, corner: Point) -> None:
    """Cables above, metres below, and the scale for paper printed at full size."""
    left, top = corner[0] + 3.0, corner[1]
    svg.rectangle(*corner, *BAR, fill=PAPER, stroke=0.2)
    svg.text(left, top + 3.6, f"1 : {view.denominator:,}".replace(",", "\u202f"), SMALL, bold=True)
    svg.text(left + 20.0, top + 3.6, "north up" if view.north_up else "north as the arrow", SMALL)
    for y, unit, name, size in ((top + 7.0, 0.1 * NAUTICAL_MILE, "cables", 1), (top + 10.8, 100.0, "m", 100)):
        step = _bar_step(unit, view.scale)
        each = step * unit / view.scale
        for index in range(2):
            svg.rectangle(left + index * each, y - 1.1, each, 1.1, fill=INK if index == 0 else PAPER, stroke=0.2)
        svg.text(left + 2.0 * each + 1.4, y + 0.3, f"{2 * step * size} {name}", SMALL)


def _bar_step(unit: float, scale: float) -> int:
    """Units in half the bar, so that the whole stays under 40 mm."""
    return next((step for step in (50, 20, 10, 5, 2, 1) if 2.0 * step * unit / scale <= 40.0), 1)


def _legend(svg: Svg, data: Data, y: float) -> None:
    x = 0.4
    needed = required(data)
    svg.text(x, y, "Room under her keel:", SMALL, bold=True)
    x += text_width("Room under her keel:", SMALL) + 3.0
    entries = (
        (*_tint(2.0 * needed, needed), f"{text.requirement(2.0 * needed)} and over"),
        (*_tint(needed, needed), f"{text.requirement(needed)} and over"),
        (*_tint(0.0, needed), f"under {text.requirement(needed)}"),
        (*_tint(-1.0, needed), "none"),
        (*_tint(None, needed), "unsurveyed"),
        (NO_WATER_TINT, "", "no depth given"),
    )
    for tint, pattern, words in entries:
        svg.rectangle(x, y - 2.6, 5.0, 3.1, fill=tint, stroke=0.2)
        if pattern:
            svg.rectangle(x, y - 2.6, 5.0, 3.1, fill=svg.fill(pattern))
        svg.text(x + 6.0, y, words, SMALL)
        x += 9.0 + text_width(words, SMALL)


def _station(account: Data, distance: float) -> int:
    return int(np.argmin(np.abs(np.asarray(account["distance"]) - distance)))
