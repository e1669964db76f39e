"""The ship from the side with the measures of her card: bridge, mast and draughts."""

from collections.abc import Callable, Mapping, Sequence
from typing import TypeAlias

from leadsman import format as text
from leadsman.documents.drawings.svg import LARGE, NORMAL, Point, Svg

Measures: TypeAlias = Mapping[str, float | None]
Place: TypeAlias = Callable[[float, float], Point]
"""From metres off the stern and above the keel to the paper."""
MARGIN = 24.0  # mm at each end, for the draughts
RAKE = 0.035  # of the length, bow and stern above the water


def profile(measures: Measures, letters: Sequence[str], width: float, height: float) -> str:
    """Her outline to one scale along and another upward, both told; measures not given are left out."""
    drawing = Svg("profile", width, height)
    length = measures["length_overall"] or 1.0
    mean = 0.5 * ((measures["draught_forward"] or 0.0) + (measures["draught_aft"] or 0.0))
    top = measures["keel_to_highest_point"] or (measures["air_draught"] or 2.0 * mean) + mean
    along, upward = (width - 2.0 * MARGIN) / length, (height - 15.0) / max(top, 1.0)
    keel = height - 6.5

    def place(from_stern: float, above_keel: float) -> tuple[float, float]:
        return MARGIN + from_stern * along, keel - above_keel * upward

    deck = measures["moulded_depth"] or 0.62 * mean + mean
    drawing.shape([_hull(length, deck, place)], fill="#ffffff", stroke=0.5)
    water = keel - mean * upward
    drawing.line([(2.0, water), (width - 2.0, water)], stroke=0.3, dash="2 1")
    stern = measures["bridge_to_stern"]
    if stern is not None:
        _house(drawing, stern, length, deck, top, place)
    mast = measures["mast_from_stern"]
    if mast is None:
        mast = stern
    if mast is not None:
        foot, head = place(mast, deck), place(mast, top)
        drawing.line([foot, head], stroke=0.5)
        _heights(drawing, measures, head[0], head[1])
    _lengths(drawing, measures, place, keel + 3.2)
    _draughts(drawing, measures, width, water)
    return drawing.written(letters)


def _hull(length: float, deck: float, place: Place) -> list[Point]:
    rake = RAKE * length
    return [
        place(0.0, deck),
        place(0.0, 0.55 * deck),
        place(rake, 0.0),
        place(length - 1.6 * rake, 0.0),
        place(length - rake, 0.45 * deck),
        place(length, 1.12 * deck),
        place(length - 2.5 * rake, deck),
    ]


def _house(drawing: Svg, stern: float, length: float, deck: float, top: float, place: Place) -> None:
    roof = deck + 0.62 * (top - deck)
    back = max(stern - 0.09 * length, 0.02 * length)
    drawing.shape([[place(back, deck), place(back, roof), place(stern, roof), place(stern, deck)]], "#ffffff", 0.5)


def _heights(drawing: Svg, measures: Measures, x: float, head: float) -> None:
    right = x < 0.6 * drawing.width
    side, anchor = (2.0, "start") if right else (-2.0, "end")
    words = []
    if measures["air_draught"] is not None:
        words.append(f"air draught {text.metres(measures['air_draught'] or 0.0)}")
    if measures["keel_to_highest_point"] is not None:
        words.append(f"keel to highest point {text.metres(measures['keel_to_highest_point'] or 0.0)}")
    for number, line in enumerate(words):
        drawing.text(x + side, head + 3.0 + 3.6 * number, line, NORMAL, anchor=anchor, halo=True)


def _lengths(drawing: Svg, measures: Measures, place: Place, y: float) -> None:
    length, stern, bow = measures["length_overall"] or 0.0, measures["bridge_to_stern"], measures["bridge_to_bow"]
    left, right = place(0.0, 0.0)[0], place(length, 0.0)[0]
    drawing.line([(left, y - 1.2), (left, y + 1.2)], stroke=0.3)
    drawing.line([(right, y - 1.2), (right, y + 1.2)], stroke=0.3)
    drawing.line([(left, y), (right, y)], stroke=0.3)
    if stern is None or bow is None:
        drawing.text(0.5 * (left + right), y + 3.0, text.metres(length, 1), NORMAL, anchor="middle")
        return
    bridge = place(stern, 0.0)[0]
    drawing.line([(bridge, y - 1.2), (bridge, y + 1.2)], stroke=0.3)
    for begin, end, measure in ((left, bridge, stern), (bridge, right, bow)):
        drawing.text(0.5 * (begin + end), y + 3.0, text.metres(measure, 1), NORMAL, anchor="middle")


def _draughts(drawing: Svg, measures: Measures, width: float, water: float) -> None:
    for x, anchor, name in ((2.0, "start", "aft"), (width - 2.0, "end", "forward")):
        value = measures[f"draught_{name}"]
        if value is not None:
            drawing.text(x, water - 5.4, name, NORMAL, anchor=anchor)
            drawing.text(x, water - 1.4, text.metres(value), LARGE, bold=True, anchor=anchor)
