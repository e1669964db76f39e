"""The section along the track: overhead, under keel, and the room to both sides, above one another on one distance."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.drawings.svg import INK, LARGE, NORMAL, PAPER, SMALL, Point, Svg, shortened, text_width
from leadsman.units import NAUTICAL_MILE

LEFT, RIGHT = 11.0, 2.0  # mm for the scales, and beyond the last station
HEAD, GAP, AXIS, LEGEND = 9.5, 2.2, 7.0, 5.0

DRAUGHT_TINT = "#dfe2e6"
SQUAT_TINT = "#7c8492"
BED_TINT = "#b9bec7"

Data = Mapping[str, Any]


class _Scale:
    """Values to millimetres, straight."""

    def __init__(self, low: float, high: float, at_low: float, at_high: float) -> None:
        self.low, self.high = low, high if high > low else low + 1.0
        self._at, self._per = at_low, (at_high - at_low) / (self.high - self.low)

    def __call__(self, value: float) -> float:
        return self._at + (value - self.low) * self._per


def section(data: Data, families: Sequence[str], width: float, height: float) -> str:
    """Overhead above, under keel in the middle, room to port and starboard below."""
    svg = Svg("section", width, height)
    account = data["account"]
    along = _Scale(account["distance"][0], account["distance"][-1], LEFT, width - RIGHT)
    overhead = [gate for gate in _overhead(data) if gate["underside"] is not None]
    body = height - HEAD - AXIS - LEGEND - 2.0 * GAP
    above = 0.22 * body if overhead else 0.0
    room = 0.20 * body
    top = HEAD
    if overhead:
        up = _overhead_panel(svg, overhead, along, top, above)
        top += above + GAP
    below = height - AXIS - LEGEND - room - GAP - top
    depths = _keel_panel(svg, data, along, top, below)
    _room_panel(svg, data, along, top + below + GAP, room)
    bottom = top + below + GAP + room
    _legs(svg, data, along, HEAD, bottom)
    if overhead:
        _bridges(svg, overhead, along, up, HEAD, above)
    _leg_clearances(svg, data, along, depths, top, below)
    _rooms(svg, data, along, top + below + GAP, room)
    _distance_axis(svg, along, bottom)
    _legend(svg, height - 0.9)
    return svg.written(families)


def _overhead(data: Data) -> list[dict[str, Any]]:
    """Gates with something overhead, with the height of their underside above chart datum, or None."""
    heights = {gate["name"]: gate["underside"] for gate in data["plan"]["gates"]}
    return [
        gate | {"underside": heights.get(gate["name"])} for gate in data["gates"] if gate["kind"] in ("bridge", "cable")
    ]


def _overhead_panel(svg: Svg, gates: Sequence[Data], along: _Scale, top: float, high: float) -> _Scale:
    """Frame and scale of heights above chart datum that takes in all undersides and her highest point beneath each."""
    undersides = [gate["underside"]["value"] for gate in gates]
    masts = [gate["underside"]["value"] - gate["value"]["value"] for gate in gates]
    low, most = min(*masts, *undersides), max(*masts, *undersides)
    spare = max(0.35 * (most - low), 1.0)
    up = _Scale(low - spare, most + spare, top + high, top)
    _frame(svg, along, top, high)
    _ticks(svg, up, top, high, "m")
    return up


def _bridges(svg: Svg, gates: Sequence[Data], along: _Scale, up: _Scale, top: float, high: float) -> None:
    """Bridges at their height, her highest point beneath each, and the gap in metres."""
    for gate in gates:
        under = gate["underside"]["value"]
        mast = under - gate["value"]["value"]
        x = along(gate["distance"]["value"])
        svg.rectangle(x - 3.4, top, 6.8, up(under) - top, fill=svg.fill("dense"))
        svg.line([(x - 3.4, up(under)), (x + 3.4, up(under))], 0.7)
        svg.line([(x, top + high), (x, up(mast))], 0.9)
        svg.line([(x - 1.6, up(mast)), (x + 1.6, up(mast))], 0.5)
        words = f"{gate['value']['text']} at {gate['time']['clock']}"
        name = shortened(gate["name"], 34)
        side, anchor = (x - 5.0, "end") if x > 0.5 * svg.width else (x + 5.0, "start")
        svg.text(side, top + 0.5 * high - 0.6, name, SMALL, anchor=anchor, halo=True)
        svg.text(side, top + 0.5 * high + 3.4, words, LARGE, bold=True, anchor=anchor, halo=True)


def _keel_panel(svg: Svg, data: Data, along: _Scale, top: float, high: float) -> _Scale:
    """Water level at her time, hull, squat, allowances, what is left, and the bed; metres from chart datum."""
    account = data["account"]
    draught = data["call"]["draught"]["value"]
    xs = [along(distance) for distance in account["distance"]]
    level, bed = account["water_level"], [-depth for depth in account["depth"]]
    keel = [water - draught for water in level]
    sunk = [a - b for a, b in zip(keel, account["squat"], strict=True)]
    lowest = [a + b for a, b in zip(bed, account["net"], strict=True)]
    needed = [a + b for a, b in zip(bed, account["required"], strict=True)]
    floor = max(min(bed), min(*lowest, *needed) - 0.45 * draught)
    ceiling = max(*level, 0.0)
    spare = 0.05 * (ceiling - floor)
    up = _Scale(floor - spare, ceiling + spare, top + high, top)

    def path(values: Sequence[float]) -> list[Point]:
        return [(x, up(value)) for x, value in zip(xs, values, strict=True)]

    def between(upper: Sequence[float], lower: Sequence[float]) -> list[Point]:
        return path(upper) + path(lower)[::-1]

    bottom = [floor - spare] * len(xs)
    svg.clip(LEFT, top, svg.width - RIGHT - LEFT, high)
    svg.shape([between(level, keel)], DRAUGHT_TINT)
    svg.shape([between(bed, bottom)], BED_TINT)
    svg.shape([between(bed, bottom)], svg.fill("sand"))
    svg.shape([between(needed, bed)], svg.fill("sparse"))
    svg.shape([between(keel, sunk)], SQUAT_TINT)
    svg.shape([between(sunk, lowest)], svg.fill("upright"))
    for ring in _broken(xs, lowest, needed, up):
        svg.shape([ring], INK)
    svg.line(path(needed), 0.25, "1.6 0.9")
    svg.line(path(bed), 0.75)
    svg.line(path(keel), 0.5)
    svg.line(path(lowest), 0.3)
    svg.line(path(level), 0.35)
    svg.unclip()
    _frame(svg, along, top, high)
    _ticks(svg, up, top, high, "m")
    svg.line([(LEFT, up(0.0)), (svg.width - RIGHT, up(0.0))], 0.2, "0.4 1.2")
    svg.text(svg.width - RIGHT - 1.0, up(0.0) - 0.7, "chart datum", SMALL, anchor="end", halo=True)
    return up


def _broken(xs: Sequence[float], lowest: Sequence[float], needed: Sequence[float], up: _Scale) -> list[list[Point]]:
    """Runs of stations where what she takes reaches into what must stay free: drawn solid."""
    rings, upper, lower = [], [], []
    for x, low, need in [*zip(xs, lowest, needed, strict=True), (math.nan, 1.0, 0.0)]:
        if low < need:
            upper.append((x, up(need)))
            lower.append((x, up(low)))
        elif upper:
            rings.append(upper + lower[::-1])
            upper, lower = [], []
    return [ring for ring in rings if len(ring) > 2]


def _leg_clearances(svg: Svg, data: Data, along: _Scale, up: _Scale, top: float, high: float) -> None:
    """Net clearance in metres where each leg is tightest, worst first, so that the worst is never crowded out."""
    letters = {
        place["distance"]["value"]: place["letter"] for place in data["tightest"] if place["limit"] == "underkeel"
    }
    taken: list[tuple[float, float]] = []
    for leg in sorted(data["legs"], key=lambda leg: float(leg["least_margin"]["value"])):
        station = leg["tightest"]["station"]
        distance = data["account"]["distance"][station]
        x, bed = along(distance), up(-data["account"]["depth"][station])
        letter = letters.get(leg["least_at"]["value"], "")
        words = f"{letter} {leg['least_net']['text']}".strip()
        half = 0.5 * text_width(words, LARGE) + 1.0
        middle = min(max(x, LEFT + half), svg.width - RIGHT - half)
        if any(abs(middle - other) < half + reach for other, reach in taken):
            continue
        taken.append((middle, half))
        y = min(max(bed + 6.0, top + 0.62 * high), top + high - 1.6)
        svg.line([(x, up(-data["account"]["depth"][station] + data["account"]["net"][station])), (x, bed)], 0.7)
        svg.line([(x, bed), (x, y - 3.4)], 0.2)
        svg.text(middle, y, words, LARGE, bold=True, anchor="middle", halo=True)


def _room_panel(svg: Svg, data: Data, along: _Scale, top: float, high: float) -> None:
    """Room from her sides to the edges: port above, starboard below, her beam as the dark band between."""
    account = data["account"]
    xs = [along(distance) for distance in account["distance"]]
    port, starboard = account["room_port"], account["room_starboard"]
    half = 0.5 * data["plan"]["ship"]["beam"]
    most = max(*port, *starboard, 1.0) + half
    up = _Scale(-most * 1.04, most * 1.04, top + high, top)
    edge_port = [(x, up(half + room)) for x, room in zip(xs, port, strict=True)]
    edge_starboard = [(x, up(-half - room)) for x, room in zip(xs, starboard, strict=True)]
    svg.clip(LEFT, top, svg.width - RIGHT - LEFT, high)
    svg.shape([[(xs[0], top), *edge_port, (xs[-1], top)]], svg.fill("sparse"))
    svg.shape([[(xs[0], top + high), *edge_starboard, (xs[-1], top + high)]], svg.fill("sparse"))
    svg.rectangle(xs[0], up(half), xs[-1] - xs[0], up(-half) - up(half), fill=SQUAT_TINT)
    svg.line(edge_port, 0.4)
    svg.line(edge_starboard, 0.4)
    svg.unclip()
    _frame(svg, along, top, high)
    svg.text(LEFT - 1.2, top + 0.25 * high + 1.0, "port", SMALL, anchor="end")
    svg.text(LEFT - 1.2, top + 0.75 * high + 1.0, "stbd", SMALL, anchor="end")


def _rooms(svg: Svg, data: Data, along: _Scale, top: float, high: float) -> None:
    """The least room of each leg in metres, where the leg is long enough on paper to carry it."""
    for leg in data["legs"]:
        begin, end = _leg_ends(data, leg, along)
        for y, words in ((0.25, leg["room_port"]["text"]), (0.75, leg["room_starboard"]["text"])):
            if end - begin > text_width(words, NORMAL) + 2.0:
                svg.text(0.5 * (begin + end), top + y * high + 1.2, words, NORMAL, anchor="middle", halo=True)


def _leg_ends(data: Data, leg: Data, along: _Scale) -> tuple[float, float]:
    """Where this leg's stations begin and end on paper."""
    account = data["account"]
    here = [
        distance
        for distance, reach in zip(account["distance"], account["reach"], strict=True)
        if reach == leg["number"] - 1
    ]
    return (along(here[0]), along(here[-1])) if here else (LEFT, LEFT)


def _legs(svg: Svg, data: Data, along: _Scale, top: float, bottom: float) -> None:
    """Numbers and names of the legs, and the times at which she passes from one to the next."""
    free_number, free_time = LEFT, LEFT - 5.0
    for leg in data["legs"]:
        begin, end = _leg_ends(data, leg, along)
        svg.line([(begin, top), (begin, bottom if end - begin > 4.0 else top + 1.5)], 0.15)
        middle, number = 0.5 * (begin + end), str(leg["number"])
        name = f"{number}  {leg['reach']}"
        for words in (name, number):
            width = text_width(words, NORMAL)
            if width < end - begin - 1.0 and middle - 0.5 * width > free_number:
                svg.text(middle, 3.4, words, NORMAL, bold=True, anchor="middle")
                free_number = middle + 0.5 * width + 0.8
                break
        if begin - 5.0 >= free_time:
            svg.text(
                begin,
                top - 1.2,
                leg["time_begin"]["clock"],
                NORMAL,
                anchor="start" if begin <= LEFT + 1.0 else "middle",
            )
            free_time = begin + 6.0
    last = data["legs"][-1]["time_end"]["clock"] if data["legs"] else ""
    if svg.width - RIGHT - 10.0 > free_time:
        svg.text(svg.width - RIGHT, top - 1.2, last, NORMAL, anchor="end")
    svg.text(LEFT - 1.2, top - 1.2, "UTC", SMALL, bold=True, anchor="end")
    svg.text(LEFT - 1.2, 3.4, "leg", SMALL, bold=True, anchor="end")


def _distance_axis(svg: Svg, along: _Scale, y: float) -> None:
    whole = (along.high - along.low) / NAUTICAL_MILE
    step = _step(whole / 8.0)
    count = int(whole / step + 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    for index in range(count + 1):
        x = along(along.low + index * step * NAUTICAL_MILE)
        svg.line([(x, y), (x, y + 1.2)], 0.2)
        svg.text(x, y + 4.4, f"{index * step:.{decimals}f}", SMALL, anchor="middle")
    svg.text(LEFT - 2.2, y + 4.4, "nm", SMALL, bold=True, anchor="end")


def _ticks(svg: Svg, up: _Scale, top: float, high: float, unit: str) -> None:
    step = _step((up.high - up.low) / max(2.0, high / 7.5))
    value = math.ceil(up.low / step) * step
    while value <= up.high:
        y = up(value)
        if top + 2.0 < y < top + high - 0.6:
            svg.line([(LEFT - 0.9, y), (LEFT, y)], 0.2)
            svg.text(
                LEFT - 1.3, y + 0.95, f"{value:.{0 if step >= 1.0 else 1}f}".replace("-", "−"), SMALL, anchor="end"
            )
        value += step
    svg.text(0.0, top + 2.4, unit, SMALL, bold=True)


def _step(least: float) -> float:
    """The next of 1, 2, 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(max(least, 1e-6)))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= least - 1e-12)


def _frame(svg: Svg, along: _Scale, top: float, high: float) -> None:
    svg.rectangle(LEFT, top, svg.width - RIGHT - LEFT, high, stroke=0.3)


def _legend(svg: Svg, y: float) -> None:
    x = LEFT
    entries = (
        (DRAUGHT_TINT, "", "her draught"),
        (SQUAT_TINT, "", "squat"),
        (PAPER, "upright", "allowances"),
        (PAPER, "", "clear water"),
        (PAPER, "sparse", "must stay clear"),
        (INK, "", "limit broken"),
        (BED_TINT, "sand", "bed"),
    )
    for tint, pattern, words in entries:
        svg.rectangle(x, y - 2.5, 5.0, 3.0, fill=tint, stroke=0.2)
        if pattern:
            svg.rectangle(x, y - 2.5, 5.0, 3.0, fill=svg.fill(pattern))
        svg.text(x + 6.2, y, words, SMALL)
        x += 9.4 + text_width(words, SMALL)
