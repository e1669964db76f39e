"""What frames a plan: where the corners are free, the north arrow, the scale bar, and the scale of ink."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman import format as text
from leadsman.documents.drawings.sheet_view import SheetView
from leadsman.documents.drawings.svg import INK, NORMAL, PAPER, SMALL, Point, Svg, text_width
from leadsman.units import NAUTICAL_MILE

NO_WATER_TINT = "#d3d6db"
TOUCH_TINT = "#596173"
LEGEND = 5.0
BAR = (58.0, 12.0)  # mm, the box of the scale bar

Data = Mapping[str, Any]
Frame = tuple[float, float, float, float]


def required(data: Data) -> float:
    """The greatest requirement under keel along the passage: what the tints are measured by. [m]"""
    return max(float(value) for value in data["account"]["required"])


def tint(net: float | None, needed: float) -> tuple[str, str]:
    """(flat tint, pattern over it): more ink, less room."""
    if net is None:
        return PAPER, "cross"
    if net < 0.0:
        return TOUCH_TINT, ""
    if net < needed:
        return PAPER, "dense"
    return PAPER, "sparse" if net < 2.0 * needed else ""


def free_corners(water: Sequence[Point], frame: Frame) -> tuple[Point, Point]:
    """Where the north arrow (its middle) and the scale bar (its top left) lie, in corners the fairway leaves free."""
    left, top, width, height = frame
    rights, lowers = (left, left + width - BAR[0]), (top, top + height - BAR[1])
    bar = min(((x, y) for y in lowers[::-1] for x in rights), key=lambda box: _inside(water, box, BAR))
    arrows = [(x, y) for x in (left + width - 16.0, left) for y in (top, top + height - 16.0)]
    arrows = [
        box for box in arrows if not _inside([(box[0] + 8.0, box[1] + 8.0)], (bar[0], bar[1] - 8.0), (60.0, 28.0))
    ]
    north = min(arrows, key=lambda box: _inside(water, box, (16.0, 16.0)))
    return (north[0] + 8.0, north[1] + 8.0), bar


def _inside(points: Sequence[Point], corner: Point, size: Point) -> int:
    spare = 4.0
    return sum(
        corner[0] - spare <= x <= corner[0] + size[0] + spare and corner[1] - spare <= y <= corner[1] + size[1] + spare
        for x, y in points
    )


def north_arrow(svg: Svg, view: SheetView, middle: Point) -> None:
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


def scale_bar(svg: Svg, view: SheetView, corner: Point) -> None:
    """Cables above, metres or feet below, and the scale for paper printed at full size."""
    left, top = corner[0] + 3.0, corner[1]
    svg.rectangle(*corner, *BAR, fill=PAPER, stroke=0.2)
    svg.text(left, top + 3.6, f"1 : {view.denominator:,}".replace(",", "\u202f"), SMALL, bold=True)
    svg.text(left + 20.0, top + 3.6, "north up" if view.north_up else "north as the arrow", SMALL)
    small, sign = text.length_unit()
    for y, unit, name, size in ((top + 7.0, 0.1 * NAUTICAL_MILE, "cables", 1), (top + 10.8, 100.0 * small, sign, 100)):
        step = _bar_step(unit, view.scale)
        each = step * unit / view.scale
        for index in range(2):
            svg.rectangle(left + index * each, y - 1.1, each, 1.1, fill=INK if index == 0 else PAPER, stroke=0.2)
        svg.text(left + 2.0 * each + 1.4, y + 0.3, f"{2 * step * size} {name}", SMALL)


def _bar_step(unit: float, scale: float) -> int:
    """Units in half the bar, so that the whole stays under 40 mm."""
    return next((step for step in (50, 20, 10, 5, 2, 1) if 2.0 * step * unit / scale <= 40.0), 1)


def ink_legend(svg: Svg, data: Data, y: float) -> None:
    x = 0.4
    needed = required(data)
    svg.text(x, y, "Room under her keel:", SMALL, bold=True)
    x += text_width("Room under her keel:", SMALL) + 3.0
    entries = (
        (*tint(2.0 * needed, needed), f"{text.requirement(2.0 * needed)} and over"),
        (*tint(needed, needed), f"{text.requirement(needed)} and over"),
        (*tint(0.0, needed), f"under {text.requirement(needed)}"),
        (*tint(-1.0, needed), "none"),
        (*tint(None, needed), "unsurveyed"),
        (NO_WATER_TINT, "", "no depth given"),
    )
    for flat, pattern, words in entries:
        svg.rectangle(x, y - 2.6, 5.0, 3.1, fill=flat, stroke=0.2)
        if pattern:
            svg.rectangle(x, y - 2.6, 5.0, 3.1, fill=svg.fill(pattern))
        svg.text(x + 6.0, y, words, SMALL)
        x += 9.0 + text_width(words, SMALL)
