"""Turning circles, stops and the turn back for a person in the water, drawn to scale from plain data.

The course she comes on points up the paper; nothing here is computed but scales and places.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from leadsman import format as text
from leadsman.documents.drawings.scale import round_step
from leadsman.documents.drawings.svg import NORMAL, PAPER, SMALL, Point, Svg, text_width

Data = Mapping[str, Any]
Box = tuple[float, float, float, float]

MARGIN = 3.0  # mm
FOOT = 7.0  # mm for the scale bar
LANE = 7.4  # mm from one stop to the next
SIDEWAYS = 22.0  # mm at each side of the circles, for words
LABELS = 42.0  # mm left of the stops' lanes
FAINT = "#aeb5c4"  # of grid lines
HULL = ((0.5, 0.0), (0.3, 0.5), (-0.5, 0.5), (-0.5, -0.5), (0.3, -0.5))
"""Her waterline: shares of length forward and of a breadth to starboard."""
TALL = 2.4  # mm of small letters
SHIFTS = (0.0, 3.0, -3.0, 6.0, -6.0, 9.0, 12.0, 15.0)
"""Down the paper, tried in turn for words that would lie over others or over her. [mm]"""
BREADTH = 0.16  # of her length, for the sketch of her on the paper
LEAST_HULL = 4.0  # mm: smaller she would be a dot


class Plan:
    """Metres north and east of the origin to millimetres of paper, one scale for both."""

    def __init__(self, points: Sequence[Sequence[float]], box: tuple[float, float, float, float]) -> None:
        norths, easts = [point[0] for point in points], [point[1] for point in points]
        left, top, width, height = box
        tall, wide = max(norths) - min(norths), max(easts) - min(easts)
        self.scale = min(height / max(tall, 1.0), width / max(wide, 1.0))
        self._left = left + 0.5 * (width - wide * self.scale) - min(easts) * self.scale
        self._bottom = top + height - 0.5 * (height - tall * self.scale) + min(norths) * self.scale

    def __call__(self, north: float, east: float) -> Point:
        """Where a place lies on the paper. [mm]"""
        return self._left + east * self.scale, self._bottom - north * self.scale


def turning_circles(water: Data, length: float, letters: Sequence[str], name: str, width: float, height: float) -> str:
    """Both circles from one approach, times and speeds at each quarter, brackets for the bands."""
    drawing = Svg(name, width, height)
    circles = water["circles"]
    tracks = [point for circle in circles for point in circle["track"]]
    if not tracks:
        return _nothing(drawing, "She does not stay afloat so fast in this depth.", letters)
    ends = [end for circle in circles for bracket in _bands(circle).values() for end in bracket]
    reach = 1.1 * length
    side = MARGIN + SIDEWAYS
    place = Plan([*tracks, *ends, (-reach, 0.0)], (side, MARGIN + 5.0, width - 2.0 * side, height - FOOT - 13.0))
    _grid(drawing, place, width, height - FOOT)
    drawing.line([place(-reach, 0.0), place(0.0, 0.0)], stroke=0.5)
    _ship(drawing, place, -0.5 * length, 0.0, 0.0, length)
    for circle in circles:
        dash = "" if circle["side"] > 0 else "1.6 0.8"
        drawing.line([place(*point) for point in circle["track"]], stroke=0.5, dash=dash)
        for moment in circle["moments"]:
            _ship(drawing, place, moment["north"], moment["east"], moment["heading"], length)
        for bracket in _bands(circle).values():
            begin, end = (place(*point) for point in bracket)
            _bracket(drawing, begin, end, upright=bracket[0][1] == bracket[1][1])
    moments = [(circle, moment) for circle in circles for moment in circle["moments"]]
    taken = [_hull_box(place, moment, length) for _, moment in moments]
    for circle, moment in moments:
        _words(drawing, place, circle, moment, length, taken)
    _scale_bar(drawing, place, height)
    return drawing.written(letters)


def _bands(circle: Data) -> dict[str, tuple[tuple[float, float], tuple[float, float]]]:
    """Between which places the band of the advance lies at 90 degrees, and of the tactical diameter at 180."""
    by_label = {moment["label"]: moment for moment in circle["moments"]}
    found = {}
    _, low, high = circle["advance"]
    if low is not None and "90°" in by_label:
        east = by_label["90°"]["east"]
        found["90°"] = ((low, east), (high, east))
    _, low, high = circle["tactical_diameter"]
    if low is not None and "180°" in by_label:
        north = by_label["180°"]["north"]
        found["180°"] = ((north, circle["side"] * low), (north, circle["side"] * high))
    return found


def _hull_box(place: Plan, moment: Data, length: float) -> Box:
    """Left, top, right, bottom of her waterline at a moment. [mm]"""
    x, y = place(moment["north"], moment["east"])
    long = max(length * place.scale, LEAST_HULL)
    sine, cosine = abs(math.sin(moment["heading"])), abs(math.cos(moment["heading"]))
    wide, high = 0.5 * long * max(sine, BREADTH * cosine), 0.5 * long * max(cosine, BREADTH * sine)
    return x - wide, y - high, x + wide, y + high


def _words(drawing: Svg, place: Plan, circle: Data, moment: Data, length: float, taken: list[Box]) -> None:
    """When and how fast, at a quarter of her turn: clear of her, of the bracket and of other words, if it can be."""
    label, right = moment["label"], circle["side"] > 0
    bracket = _bands(circle).get(label)
    x, y = place(moment["north"], moment["east"])
    half = 0.5 * max(length * place.scale, LEAST_HULL)
    words = f"{label}  {moment['time']}  {moment['speed']}"
    wide = text_width(words, SMALL)
    quarter = round(abs(moment["heading"]) / (0.5 * math.pi)) % 4
    if quarter == 1:
        top = y if bracket is None else min(place(*end)[1] for end in bracket)
        start, y = x - 0.5 * wide, min(top, y - 1.2) - 1.6
    elif quarter == 2:
        outer = x if bracket is None else (max if right else min)(place(*end)[0] for end in bracket)
        start, y = (outer + 2.0 if right else outer - 2.0 - wide), y + 0.9
    elif quarter == 3:
        start, y = x - 0.5 * wide, y + 5.0
    else:  # come round: inside her circle
        start, y = (x + 2.6 if right else x - 2.6 - wide), y + half - 1.0
    start = min(max(start, 0.5), drawing.width - wide - 0.5)
    boxes = [(start, y + shift - TALL, start + wide, y + shift + 0.4) for shift in SHIFTS]
    box = next((one for one in boxes if not any(_cross(one, other) for other in taken)), boxes[0])
    taken.append(box)
    drawing.text(start, box[3] - 0.4, words, SMALL, halo=True)


def _cross(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _bracket(drawing: Svg, begin: Point, end: Point, upright: bool) -> None:
    """A thin line with a bar at each end."""
    drawing.line([begin, end], stroke=0.25)
    for x, y in (begin, end):
        bar = [(x - 1.2, y), (x + 1.2, y)] if upright else [(x, y - 1.2), (x, y + 1.2)]
        drawing.line(bar, stroke=0.25)


def _ship(drawing: Svg, place: Plan, north: float, east: float, heading: float, length: float) -> None:
    """Her waterline to scale, but never smaller than can be seen."""
    x, y = place(north, east)
    long = max(length * place.scale, LEAST_HULL)
    cosine, sine = math.cos(heading), math.sin(heading)
    ring = []
    for ahead, aside in HULL:
        forward, across = ahead * long, aside * BREADTH * long
        ring.append((x + forward * sine + across * cosine, y - forward * cosine + across * sine))
    drawing.shape([ring], fill=PAPER, stroke=0.3)


def _grid(drawing: Svg, place: Plan, width: float, bottom: float) -> None:
    """Hair lines a round number of metres or feet apart, through the point where the wheel was put over."""
    x, y = place(0.0, 0.0)
    apart = _round_length(18.0 / place.scale) * place.scale
    for line in _lines(x, apart, 0.5, width - 0.5):
        drawing.line([(line, 0.5), (line, bottom)], stroke=0.1, colour=FAINT)
    for line in _lines(y, apart, 0.5, bottom):
        drawing.line([(0.5, line), (width - 0.5, line)], stroke=0.1, colour=FAINT)


def _lines(through: float, apart: float, low: float, high: float) -> Iterator[float]:
    first = math.ceil((low - through) / apart)
    return (through + count * apart for count in range(first, math.floor((high - through) / apart) + 1))


def _scale_bar(drawing: Svg, place: Plan, height: float) -> None:
    step = _round_length(18.0 / place.scale)
    y, right = height - 4.0, MARGIN + step * place.scale
    drawing.line([(MARGIN, y - 1.0), (MARGIN, y), (right, y), (right, y - 1.0)], stroke=0.4)
    words = f"{text.metres(step, 0)}; starboard drawn through, port dashed; brackets: nine in ten"
    drawing.text(right + 2.0, y, words, SMALL)


def _round_length(least: float) -> float:
    """The next round number of metres or feet. [m]"""
    unit, _ = text.length_unit()
    return round_step(least / unit) * unit


def stopping(water: Data, letters: Sequence[str], name: str, width: float) -> str:
    """A lane for each stop, as long as her track, with the bracket of its band; engine stopped dashed."""
    stops = water["stops"]
    height = 12.0 + LANE * max(len(stops), 1)
    drawing = Svg(name, width, height)
    reached = [end for stop in stops for end in stop["reach"] if end is not None]
    if not reached:
        return _nothing(drawing, "No stop from a speed at which she stays afloat in this depth.", letters)
    longest = max(reached)
    scale = (width - LABELS - 34.0) / longest
    step = _round_length(longest / 6.0)
    unit, sign = text.length_unit()
    bottom = height - 6.0
    for count in range(math.floor(longest / step) + 1):
        x = LABELS + count * step * scale
        drawing.line([(x, 2.0), (x, bottom)], stroke=0.1, colour=FAINT)
        words = f"{count * step / unit:.0f}{f' {sign}' if count == 0 else ''}"
        drawing.text(x, height - 2.2, words, SMALL, anchor="middle")
    for number, stop in enumerate(stops):
        _lane(drawing, stop, 6.0 + LANE * number, scale, width)
    return drawing.written(letters)


def _lane(drawing: Svg, stop: Data, y: float, scale: float, width: float) -> None:
    drawing.text(0.5, y, f"{stop['order']}, {stop['speed']}", NORMAL, bold=True)
    drawing.text(0.5, y + 3.4, stop["by"], SMALL)
    value, low, high = stop["reach"]
    dash = "" if stop["astern"] else "2 1"
    if value is None:
        drawing.line([(LABELS, y), (width - 36.0, y)], stroke=0.9, dash=dash)
        drawing.text(width - 34.0, y + 1.0, "farther than tried", SMALL)
        return
    end = LABELS + value * scale
    drawing.line([(LABELS, y), (end, y)], stroke=0.9, dash=dash)
    drawing.dot(end, y, 0.9)
    if low is not None and high is not None:
        _bracket(drawing, (LABELS + low * scale, y), (LABELS + high * scale, y), upright=False)
    after = max(end, LABELS + (high or value) * scale) + 2.0
    words = f"{text.metres(value, 0)} in {stop['time'].split(' ')[0]}"
    if after + text_width(words, NORMAL) > width:
        drawing.text(end - 2.0, y + 4.2, words, NORMAL, anchor="end", halo=True)
    else:
        drawing.text(after, y + 1.0, words, NORMAL, halo=True)


def turn_back(turn: Data, length: float, letters: Sequence[str], name: str, width: float, height: float) -> str:
    """Williamson's turn: her old track, the turn, and the wheel orders where they are given."""
    drawing = Svg(name, width, height)
    place = Plan(
        [*turn["track"], (-1.3 * length, 0.0)], (MARGIN + 6.0, MARGIN, width - 2 * MARGIN - 12.0, height - FOOT - 4.0)
    )
    x, y = place(0.0, 0.0)
    drawing.line([(x, 1.0), (x, height - FOOT)], stroke=0.2, dash="0.8 0.8")
    drawing.line([place(-1.3 * length, 0.0), (x, y)], stroke=0.5)
    drawing.line([place(*point) for point in turn["track"]], stroke=0.5)
    _ship(drawing, place, -0.5 * length, 0.0, 0.0, length)
    north, east = turn["track"][-1]
    _ship(drawing, place, north, east, math.pi, length)
    drawing.dot(x, y, 0.8)
    drawing.text(x - 2.0, y + 1.0, "man overboard", SMALL, anchor="end" if turn["side"] > 0 else "start", halo=True)
    step = _round_length(14.0 / place.scale)
    foot, right = height - 4.0, MARGIN + step * place.scale
    drawing.line([(MARGIN, foot - 1.0), (MARGIN, foot), (right, foot), (right, foot - 1.0)], stroke=0.4)
    drawing.text(right + 2.0, foot, text.metres(step, 0), SMALL)
    return drawing.written(letters)


def _nothing(drawing: Svg, words: str, letters: Sequence[str]) -> str:
    drawing.text(MARGIN, 8.0, words, NORMAL)
    return drawing.written(letters)
