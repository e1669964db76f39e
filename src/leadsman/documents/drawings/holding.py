"""The force balance and the limit rose on paper, from the same layout as on the page."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.drawings.svg import INK, PAPER, SMALL, Point, Svg, shortened, text_width
from leadsman.documents.holding_layout import apart
from leadsman.units import KNOT

Data = Mapping[str, Any]
HULL = ((0.0, 0.5), (0.2, 0.47), (0.38, 0.4), (0.5, 0.3), (0.5, -0.42), (0.44, -0.5))
"""Starboard half of her outline, shares of beam and length."""
STROKES = ("0.5 0.9", "2.4 1.1", "3.6 0.8 0.6 0.8", "", "1.2 0.6", "5 1.2")
"""Of the sets of tugs, told apart by their dashes and by the figure on the line. [mm]"""
RIM, FOOT, LINE = 1.4, 4.6, 3.3  # mm: beside the words, below for the scale, from line to line of words
WORDS = 0.40  # of the width, at most, for words on either side
LOADS = ("wind", "stream")
ENDS = (20.0, 30.0, 40.0, 60.0, 80.0)
"""Winds a rose may end at. [kn]"""


def balance(place: Data, holding: Data, families: Sequence[str], width: float, height: float) -> str:
    """Forces to one scale, bow up."""
    svg = Svg(f"balance-{place['key'].replace(' ', '-')}", width, height)
    length, beam = holding["length_overall"], holding["beam"]
    arrows = [arrow | {"words": _within(arrow["words"], WORDS * width)} for arrow in place["drawing"]["arrows"]]
    words = {side: [one for one in arrows if (one["label"][0] < 0.0) == (side == "left")] for side in ("left", "right")}
    room = {side: max((text_width(one["words"], SMALL) for one in some), default=0.0) for side, some in words.items()}
    points = [tuple(point) for one in arrows for point in (one["tail"], one["head"])]
    xs = [-0.8 * beam, 0.8 * beam, *(x for x, _ in points)]
    ys = [-0.55 * length, 0.55 * length, *(y for _, y in points)]
    free = width - room["left"] - room["right"] - 2.0 * RIM
    scale = min(free / (max(xs) - min(xs)), (height - FOOT) / (max(ys) - min(ys)))
    spare = 0.5 * (free - scale * (max(xs) - min(xs)))

    def at(point: Sequence[float]) -> Point:
        return room["left"] + RIM + spare + (point[0] - min(xs)) * scale, (max(ys) - point[1]) * scale

    _quay(svg, place, holding, at)
    half = [(x * beam, y * length) for x, y in HULL]
    svg.shape([[at(point) for point in half] + [at((-x, y)) for x, y in reversed(half)]], PAPER, 0.35)
    for arrow in arrows:
        _arrow(svg, arrow, at(arrow["tail"]), at(arrow["head"]), at(arrow["outer"]))
    for side, some in words.items():
        _words(svg, some, at, room["left"] if side == "left" else width - room["right"], side, height)
    _scale(svg, place["drawing"]["bar"], scale, height)
    return svg.written(families)


def _within(words: str, width: float) -> str:
    """A name with its force, the name cut where both are too wide: the table beside the drawing has it in full."""
    if text_width(words, SMALL) > width:
        words = words.replace(" engine ", " ", 1)
    name, *force = words.rsplit(" ", 2)
    for longest in range(len(name), 1, -1):
        shown = " ".join((shortened(name, longest), *force))
        if text_width(shown, SMALL) <= width:
            return shown
    return words


def _words(svg: Svg, arrows: Sequence[Data], at: Any, edge: float, side: str, height: float) -> None:
    """The words of one side in a column, kept apart, each with a line to its arrow."""
    ordered = sorted(arrows, key=lambda one: at(one["outer"])[1])
    middle = 0.5 * (height - FOOT)
    heights = apart([at(one["outer"])[1] - middle for one in ordered], LINE, middle - 0.5 * LINE)
    for arrow, y in zip(ordered, heights, strict=True):
        inner = edge + (0.6 if side == "left" else -0.6)
        svg.line([at(arrow["outer"]), (inner, middle + y)], 0.1)
        anchor = "end" if side == "left" else "start"
        svg.text(edge, middle + y + 0.9, arrow["words"], SMALL, anchor=anchor, halo=True)


def _quay(svg: Svg, place: Data, holding: Data, at: Any) -> None:
    side = place["quay_side"]
    if not side:
        return
    x, length = side * holding["beam"], holding["length_overall"]
    svg.line([at((x, -0.6 * length)), at((x, 0.6 * length))], 0.6)
    for step in range(16):
        y = (-0.6 + 0.08 * step) * length
        svg.line([at((x, y)), at((x + side * 0.03 * length, y - 0.03 * length))], 0.15)


def _arrow(svg: Svg, arrow: Data, tail: Point, head: Point, outer: Point) -> None:
    load = arrow["kind"] in LOADS
    dash = {"stream": "1.6 0.8", "left_over": "0.5 0.7"}.get(arrow["kind"], "")
    svg.line([tail, head], 0.75 if load else 0.5, dash)
    long = math.dist(tail, head) or 1.0
    u, v = (head[0] - tail[0]) / long, (head[1] - tail[1]) / long
    size = min(2.2, long)
    back = (head[0] - u * size, head[1] - v * size)
    half = 0.42 * size
    wings = [(back[0] - v * half, back[1] + u * half), (back[0] + v * half, back[1] - u * half)]
    svg.shape([[head, *wings]], PAPER if load else INK, 0.3)
    if arrow["kind"] == "tug":
        svg.dot(*outer, 1.0, fill=PAPER, stroke=0.35)


def _scale(svg: Svg, bar: Data, scale: float, height: float) -> None:
    long, y = bar["length"] * scale, height - 1.4
    svg.line([(0.5, y - 0.8), (0.5, y), (0.5 + long, y), (0.5 + long, y - 0.8)], 0.35)
    svg.text(long + 1.6, y + 0.3, bar["text"], SMALL)


def rose(place: Data, found: Data, families: Sequence[str], size: float) -> str:
    """Greatest wind by direction, bow up, one line for each set of tugs. [mm]"""
    svg = Svg(f"rose-{place['key'].replace(' ', '-')}", size, size)
    middle, radius = 0.5 * size, 0.5 * size - 5.0
    wind = place["wind"]["value"] / KNOT
    end = _end(found, wind)

    def at(angle: float, knots: float) -> Point:
        reach = min(knots, end) / end * radius
        return middle + reach * math.sin(angle), middle - reach * math.cos(angle)

    _rings(svg, end, radius, middle, at)
    half = [(x * 3.0, -y * 13.0) for x, y in HULL]
    svg.shape([[(middle + x, middle + y) for x, y in half + [(-x, y) for x, y in reversed(half)]]], PAPER, 0.2)
    for index, one in enumerate(found["sets"]):
        points = [at(angle, speed / KNOT) for angle, speed in zip(found["off_bow"], one["limits"], strict=True)]
        svg.line([*points, points[0]], 0.55, STROKES[index % len(STROKES)])
    for index, one in enumerate(found["sets"]):
        step = round((0.09 + 0.21 * index) * len(one["limits"])) % len(one["limits"])
        x, y = at(found["off_bow"][step], one["limits"][step] / KNOT)
        svg.dot(x, y, 1.7, fill=PAPER, stroke=0.25)
        svg.text(x, y + 0.95, str(index), SMALL, bold=True, anchor="middle")
    x, y = at(place["wind_off_bow"], wind)
    svg.dot(x, y, 1.6, fill="none", stroke=0.5)
    svg.line([(x - 2.4, y), (x + 2.4, y)], 0.35)
    svg.line([(x, y - 2.4), (x, y + 2.4)], 0.35)
    return svg.written(families)


def _end(found: Data, wind: float) -> float:
    speeds = sorted(speed / KNOT for one in found["sets"] for speed in one["limits"])
    usual = speeds[int(0.7 * len(speeds))] if speeds else 0.0
    return next((end for end in ENDS if end >= 1.15 * max(usual, wind, 12.0)), ENDS[-1])


def _rings(svg: Svg, end: float, radius: float, middle: float, at: Any) -> None:
    step = 5.0 if end <= 30.0 else 10.0 if end <= 40.0 else 20.0
    for degrees in range(0, 360, 30):
        angle = math.radians(degrees)
        svg.line([(middle, middle), at(angle, end)], 0.08)
        x, y = at(angle, end)
        words = f"{min(degrees, 360 - degrees)}°"
        svg.text(x + 3.2 * math.sin(angle), y - 3.2 * math.cos(angle) + 1.0, words, SMALL, anchor="middle")
    for ring in range(1, int(end / step) + 1):
        reach = ring * step / end * radius
        svg.line([(middle + reach * math.sin(a), middle - reach * math.cos(a)) for a in _round()], 0.12)
        svg.text(middle + 0.6, middle - reach - 0.4, f"{ring * step:.0f}", SMALL, halo=True)


def _round() -> list[float]:
    return [math.radians(5.0 * step) for step in range(73)]


def shown_places(data: Data) -> list[Data]:
    """The places that get a drawing of their own on paper: where she is stopped."""
    holding = data["holding"]
    return [] if holding is None else [place for place in holding["places"] if place["key"] in holding["roses"]]
