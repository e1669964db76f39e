"""The room to port and starboard along the way, from what she sweeps to the edges, in the order sailed."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.drawings.scale import Scale
from leadsman.documents.drawings.svg import NORMAL, SMALL, Svg, text_width

HER_TINT = "#7c8492"
WIDEST = 3.0
"""Drawn as far as this many times the narrowest room; the number says what lies beyond."""

Data = Mapping[str, Any]


def room_panel(svg: Svg, data: Data, along: Scale, frame: tuple[float, float, float, float]) -> None:
    """Port above, starboard below, her beam as the dark band between; hatched beyond the edges."""
    left, top, width, high = frame
    account = data["account"]
    xs = [along(distance) for distance in account["distance"]]
    port, starboard = account["room_port"], account["room_starboard"]
    half = 0.5 * data["plan"]["ship"]["beam"]
    narrowest, widest = min(*port, *starboard), max(*port, *starboard, 1.0)
    most = half + min(widest, max(WIDEST * narrowest, 10.0)) * 1.08
    across = Scale((-most, top + high), (most, top))
    edges = (
        (top, [(x, across(half + room)) for x, room in zip(xs, port, strict=True)]),
        (top + high, [(x, across(-half - room)) for x, room in zip(xs, starboard, strict=True)]),
    )
    svg.clip(left, top, width, high)
    for border, edge in edges:
        far = border + (border - (top + 0.5 * high)) * 100.0
        svg.shape([[(xs[0], far), *edge, (xs[-1], far)]], svg.fill("sparse"))
        svg.line(edge, 0.4)
    svg.rectangle(xs[0], across(half), xs[-1] - xs[0], across(-half) - across(half), fill=HER_TINT)
    svg.unclip()
    svg.rectangle(left, top, width, high, stroke=0.3)
    svg.text(left - 1.2, top + 0.25 * high + 1.0, "port", SMALL, anchor="end")
    svg.text(left - 1.2, top + 0.75 * high + 1.0, "stbd", SMALL, anchor="end")


def room_labels(svg: Svg, data: Data, ends: Sequence[tuple[float, float]], top: float, high: float) -> None:
    """The least room of each leg, where the leg is long enough on paper to carry it."""
    for leg, (begin, end) in zip(data["legs"], ends, strict=True):
        for y, words in ((0.25, leg["room_port"]["text"]), (0.75, leg["room_starboard"]["text"])):
            if end - begin > text_width(words, NORMAL) + 2.0:
                svg.text(0.5 * (begin + end), top + y * high + 1.2, words, NORMAL, anchor="middle", halo=True)
