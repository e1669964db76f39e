"""Where the arrows and words of a force balance lie: worked out once, so that screen and paper show the same drawing.

Coordinates are metres from midships, to starboard and forward; forces are drawn to one scale, told as pulls are.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from leadsman import format as text
from leadsman.assessment.holding.result import HeldAt, Load, Order

Point = tuple[float, float]
LONGEST = 0.42  # of her length: the arrow of the greatest force
GAP = 0.02  # of her length between hull and the tip of what pushes
LEAST_TOLD = 5e3  # N: about half a tonne; an order smaller than this is written as none
LEAST = 0.01  # of the greatest force: what is smaller, or too small to be told beside it, is left out of the drawing
COLUMN = 0.60  # of her length from the centreline: where the words begin
SPACING = 0.085  # of her length between lines of words
HALF_HEIGHT = 0.98  # of her length: how far up and down words may be moved
UNIT = 0.0098  # of her length: the grain of strokes and letters
LETTER = 0.028  # of her length: about the width of a letter


@dataclass(frozen=True, kw_only=True)
class _Arrow:
    kind: str
    tail: Point
    head: Point
    outer: Point
    words: str
    label: Point = (0.0, 0.0)


def balance_layout(place: HeldAt, length: float, beam: float) -> dict[str, Any]:
    """Arrows with their words, the scale of forces, and the box of the drawing. [m]"""
    greatest = max((_size(load) for load in _loads(place)), default=0.0) or 1.0
    scale = LONGEST * length / greatest
    least = max(LEAST * greatest, min(LEAST_TOLD, 0.2 * greatest))
    arrows = [arrow for arrow in _arrows(place, length, beam, scale) if _long(arrow, least * scale)]
    bar = _round_pull(greatest)
    unit, sign = text.force_unit()
    placed = _labelled(arrows, length)
    return {
        "unit": round(UNIT * length, 3),
        "box": [round(edge, 1) for edge in _box(placed, length, beam)],
        "bar": {"length": round(bar * unit * scale, 2), "text": f"{bar:g} {sign}"},
        "arrows": [
            {
                "kind": arrow.kind,
                "tail": _rounded(arrow.tail),
                "head": _rounded(arrow.head),
                "outer": _rounded(arrow.outer),
                "label": _rounded(arrow.label),
                "words": arrow.words,
            }
            for arrow in placed
        ],
    }


def _box(arrows: list[_Arrow], length: float, beam: float) -> tuple[float, float, float, float]:
    """Left, right, bottom, top of all that is drawn, a rim about it and a line for the scale below. [m]"""
    rim = 0.07 * length
    points = [point for arrow in arrows for point in (arrow.tail, arrow.head)]
    xs, ys = [0.7 * beam, -0.7 * beam, *(x for x, _ in points)], [0.5 * length, -0.5 * length, *(y for _, y in points)]
    for arrow in arrows:
        xs.append(math.copysign(COLUMN * length + LETTER * length * len(arrow.words), arrow.label[0]))
        ys.append(arrow.label[1])
    return min(xs) - rim, max(xs) + rim, min(ys) - 2.0 * rim, max(ys) + rim


def _rounded(point: Point) -> list[float]:
    return [round(point[0], 2), round(point[1], 2)]


def _size(load: Load) -> float:
    return math.hypot(load.surge, load.sway)


def _loads(place: HeldAt) -> Iterator[Load]:
    yield place.balance.wind
    yield place.balance.stream
    yield from (order.force for order in place.balance.orders)


def _round_pull(greatest: float) -> float:
    """A round pull not over the greatest force, for the scale bar, in the unit pulls are written in."""
    pull = greatest / text.force_unit()[0]
    steps = [step * 10.0**power for power in range(-1, 5) for step in (1.0, 2.0, 5.0)]
    return max((step for step in steps if step <= pull), default=0.1)


def _long(arrow: _Arrow, least: float) -> bool:
    return math.dist(arrow.tail, arrow.head) >= least


def _arrows(place: HeldAt, length: float, beam: float, scale: float) -> Iterator[_Arrow]:
    balance = place.balance
    wind = _load(balance.wind, "wind", "wind", length, beam, scale, 0.0)
    yield wind
    stream = _load(balance.stream, "stream", "stream", length, beam, scale, 0.0)
    if math.dist(wind.head, stream.head) < 0.06 * length:  # two loads at one place are drawn beside each other
        stream = _load(balance.stream, "stream", "stream", length, beam, scale, 0.1 * length)
    yield stream
    for order in balance.orders:
        yield from _of_order(order, beam, scale, length)
    if not balance.held:
        words = f"left over {text.pull(_size(balance.left_over))}"
        yield _pull(balance.left_over.surge, balance.left_over.sway, (0.0, 0.0), "left_over", words, scale)


def _load(load: Load, kind: str, name: str, length: float, beam: float, scale: float, shift: float) -> _Arrow:
    """What presses on her: the tip at her side, where the force acts."""
    size = _size(load)
    if size == 0.0:
        return _Arrow(kind=kind, tail=(0.0, 0.0), head=(0.0, 0.0), outer=(0.0, 0.0), words="")
    right, ahead = load.sway / size, load.surge / size
    lever = load.yaw / load.sway if abs(load.sway) > 0.2 * size else 0.0
    acts = (0.0, max(-0.45 * length, min(0.45 * length, lever + shift)))
    clear = GAP * length + min(
        0.5 * beam / abs(right) if right else math.inf,
        (0.5 * length + math.copysign(acts[1], ahead)) / abs(ahead) if ahead else math.inf,
    )
    head = (acts[0] - right * clear, acts[1] - ahead * clear)
    tail = (head[0] - right * size * scale, head[1] - ahead * size * scale)
    return _Arrow(kind=kind, tail=tail, head=head, outer=tail, words=f"{name} {text.pull(size)}")


def _of_order(order: Order, beam: float, scale: float, length: float) -> Iterator[_Arrow]:
    at = (order.to_starboard, order.forward)
    surge, sway = order.force.surge, order.force.sway
    pull = text.pull(_size(order.force))
    if order.kind == "tug" and order.to_starboard * sway < 0.0:  # she pushes: the tip is at the hull
        reach = math.copysign(abs(sway) * scale, order.to_starboard)
        gap = math.copysign(GAP * length, order.to_starboard)
        tail, head = (at[0] + gap + reach, at[1]), (at[0] + gap, at[1])
        yield _Arrow(kind="tug", tail=tail, head=head, outer=tail, words=f"{order.name} pushes {pull}")
    elif order.kind == "tug":
        yield _pull(surge, sway, at, "tug", f"{order.name} pulls {pull}", scale)
    elif order.kind == "screw" and "pod" not in order.name:
        way = "ahead" if surge > 0.0 else "astern"
        below = (order.to_starboard, order.forward + (0.0 if surge > 0.0 else -0.02 * length))
        yield _pull(surge, 0.0, below, "screw", f"{order.name} {way} {text.pull(abs(surge))}", scale)
        name = "rudder" if surge > -LEAST_TOLD else "transverse thrust"
        yield _pull(0.0, sway, at, "rudder", f"{name} {text.pull(abs(sway))}", scale)
    else:
        numbered = ":" if order.name[-1:].isdigit() else ""
        yield _pull(surge, sway, at, order.kind, f"{order.name}{numbered} {pull}", scale)


def _pull(surge: float, sway: float, at: Point, kind: str, words: str, scale: float) -> _Arrow:
    head = (at[0] + sway * scale, at[1] + surge * scale)
    return _Arrow(kind=kind, tail=at, head=head, outer=head, words=words)


def _labelled(arrows: list[_Arrow], length: float) -> list[_Arrow]:
    """Words in a column on each side, kept apart, as near to their arrows as that allows."""
    found: list[_Arrow] = []
    for side in (-1.0, 1.0):
        mine = sorted((arrow for arrow in arrows if _side(arrow) == side), key=lambda arrow: arrow.outer[1])
        heights = apart([arrow.outer[1] for arrow in mine], SPACING * length, 0.92 * HALF_HEIGHT * length)
        found += [
            replace(arrow, label=(side * COLUMN * length, height)) for arrow, height in zip(mine, heights, strict=True)
        ]
    return found


def _side(arrow: _Arrow) -> float:
    return 1.0 if arrow.outer[0] >= 0.0 else -1.0


def apart(wanted: list[float], spacing: float, most: float) -> list[float]:
    """Rising heights at least a spacing apart within bounds, near the wanted ones."""
    heights: list[float] = []
    for height in wanted:
        heights.append(max(height, -most, heights[-1] + spacing if heights else -most))
    for index in range(len(heights) - 1, -1, -1):
        above = heights[index + 1] - spacing if index + 1 < len(heights) else most
        heights[index] = min(heights[index], above)
    return heights
