"""The section along the track: overhead, under keel, and the room to both sides, above one another on one distance."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.drawings.room import room_labels, room_panel
from leadsman.documents.drawings.scale import Scale, round_step, ticks
from leadsman.documents.drawings.svg import INK, LARGE, NORMAL, PAPER, SMALL, Point, Svg, shortened, text_width
from leadsman.format import length_unit
from leadsman.manner import clock
from leadsman.units import NAUTICAL_MILE

LEFT, RIGHT = 11.0, 2.0  # mm for the scales, and beyond the last station
HEAD, GAP, AXIS, LEGEND = 9.5, 2.2, 7.0, 5.0
HULL_SHARE = 0.3
"""Part of the panel's height for her draught: the water beneath the keel is what the reader came for."""

DRAUGHT_TINT = "#dfe2e6"
SQUAT_TINT = "#7c8492"
BED_TINT = "#b9bec7"

Data = Mapping[str, Any]


def section(data: Data, families: Sequence[str], width: float, height: float) -> str:
    """Overhead above, under keel in the middle, room to port and starboard below."""
    svg = Svg("section", width, height)
    account = data["account"]
    along = Scale((account["distance"][0], LEFT), (account["distance"][-1], width - RIGHT))
    legs = _leg_ends(data, along)
    gates = [gate for gate in data["gates"] if "underside" in gate["figures"]]
    body = height - HEAD - AXIS - LEGEND - 2.0 * GAP
    above, room = (0.22 * body if gates else 0.0), 0.20 * body
    top = HEAD + (above + GAP if gates else 0.0)
    below = height - AXIS - LEGEND - room - GAP - top
    bottom = top + below + GAP + room
    heights = _overhead_scale(gates, HEAD, above) if gates else None
    if heights is not None:
        _frame(svg, HEAD, above)
        _heights(svg, heights, HEAD, above)
    depths = _keel_panel(svg, data, along, top, below)
    room_panel(svg, data, along, (LEFT, top + below + GAP, width - RIGHT - LEFT, room))
    _legs(svg, data, legs, HEAD, bottom)
    if heights is not None:
        _bridges(svg, gates, along, heights, HEAD, above)
    _leg_clearances(svg, data, along, depths, top, below)
    room_labels(svg, data, legs, top + below + GAP, room)
    _distance_axis(svg, along, bottom)
    _legend(svg, height - 0.9)
    return svg.written(families)


def _mast(gate: Data) -> float:
    """Her highest point at the gate, above chart datum. [m]"""
    return float(gate["figures"]["underside"]["value"]) - float(gate["value"]["value"])


def _overhead_scale(gates: Sequence[Data], top: float, high: float) -> Scale:
    """Heights above chart datum that take in all undersides and her highest point beneath each."""
    ends = [height for gate in gates for height in (gate["figures"]["underside"]["value"], _mast(gate))]
    spare = max(0.35 * (max(ends) - min(ends)), 1.0)
    return Scale((min(ends) - spare, top + high), (max(ends) + spare, top))


def _bridges(svg: Svg, gates: Sequence[Data], along: Scale, up: Scale, top: float, high: float) -> None:
    """Bridges at their height, her highest point beneath each, and the gap."""
    for gate in gates:
        under, mast = up(gate["figures"]["underside"]["value"]), up(_mast(gate))
        x = along(gate["distance"]["value"])
        svg.rectangle(x - 3.4, top, 6.8, under - top, fill=svg.fill("dense"))
        svg.line([(x - 3.4, under), (x + 3.4, under)], 0.7)
        svg.line([(x, top + high), (x, mast)], 0.9)
        svg.line([(x - 1.6, mast), (x + 1.6, mast)], 0.5)
        words = f"{gate['value']['text']} at {gate['time']['clock']}"
        if gate["margin"]["value"] < 0.0:
            words += f", {gate['required']['text']} required"
        name = shortened(gate["name"], 34)
        side, anchor = (x - 5.0, "end") if x > 0.5 * svg.width else (x + 5.0, "start")
        svg.text(side, top + 0.5 * high - 0.6, name, SMALL, anchor=anchor, halo=True)
        svg.text(side, top + 0.5 * high + 3.4, words, LARGE, bold=True, anchor=anchor, halo=True)


def _keel_panel(svg: Svg, data: Data, along: Scale, top: float, high: float) -> Scale:
    """Water level at her time, hull, squat, allowances, what is left, and the bed; metres from chart datum."""
    account = data["account"]
    xs = [along(distance) for distance in account["distance"]]
    level, bed = account["water_level"], [-depth for depth in account["depth"]]
    keel = [a - b for a, b in zip(level, _draught(account), strict=True)]
    sunk = [a - b for a, b in zip(keel, account["squat"], strict=True)]
    lowest = [a + b for a, b in zip(bed, account["net"], strict=True)]
    needed = [a + b for a, b in zip(bed, account["required"], strict=True)]
    up = _keel_scale(data, level, keel, lowest, bed, top, high)

    def between(upper: Sequence[float], lower: Sequence[float]) -> list[Point]:
        return up.line(xs, upper) + up.line(xs, lower)[::-1]

    deepest = [min(*bed, up.low) - 1.0] * len(xs)
    svg.clip(LEFT, top, svg.width - RIGHT - LEFT, high)
    svg.shape([between(level, keel)], DRAUGHT_TINT)
    svg.shape([between(bed, deepest)], BED_TINT)
    svg.shape([between(bed, deepest)], svg.fill("sand"))
    svg.shape([between(needed, bed)], svg.fill("sparse"))
    svg.shape([between(keel, sunk)], SQUAT_TINT)
    svg.shape([between(sunk, lowest)], svg.fill("upright"))
    svg.shape([between(needed, [min(pair) for pair in zip(lowest, needed, strict=True)])], INK)
    svg.line(up.line(xs, needed), 0.25, "1.6 0.9")
    svg.line(up.line(xs, bed), 0.75)
    svg.line(up.line(xs, keel), 0.5)
    svg.line(up.line(xs, lowest), 0.3)
    svg.line(up.line(xs, level), 0.35)
    svg.line([(LEFT, up(0.0)), (svg.width - RIGHT, up(0.0))], 0.2, "0.4 1.2")
    for x, margin in zip(xs, account["margin"], strict=True):
        if margin < 0.0:
            svg.rectangle(x - 0.5, top + high - 1.4, 1.0, 1.4, fill=INK)
    svg.unclip()
    _frame(svg, top, high)
    _heights(svg, up, top, high)
    return up


def _draught(account: Data) -> Sequence[float]:
    """What the account takes off for draught, station by station. [m]"""
    values: Sequence[float] = next(line["values"] for line in account["lines"] if line["key"] == "draught")
    return values


def _keel_scale(
    data: Data,
    level: Sequence[float],
    keel: Sequence[float],
    lowest: Sequence[float],
    bed: Sequence[float],
    top: float,
    high: float,
) -> Scale:
    """Shortened above the keel, and cut off below where the tightest places of most legs are in sight."""
    wanted = sorted((-data["account"]["depth"][leg["tightest"]["station"]] for leg in data["legs"]), reverse=True)
    sight = wanted[: max(1, (2 * len(wanted) + 2) // 3)]
    span = max(max(keel) - min(*sight, *lowest), 1.0)
    floor, knee = min(*sight, *lowest) - 0.35 * span, max(keel) + 0.08 * span
    ceiling = max(*level, *bed, knee + 0.5)
    return Scale((floor, top + high), (knee, top + HULL_SHARE * high), (ceiling + 0.04 * (ceiling - knee), top))


def _leg_clearances(svg: Svg, data: Data, along: Scale, up: Scale, top: float, high: float) -> None:
    """Net clearance where each leg is tightest, worst first, so that the worst is never crowded out."""
    account = data["account"]
    letters = {place["station"]: place["letter"] for place in data["tightest"] if place["limit"] == "underkeel"}
    taken: list[tuple[float, float]] = []
    for leg in sorted(data["legs"], key=lambda leg: float(leg["least_margin"]["value"])):
        station = leg["tightest"]["station"]
        depth, net = account["depth"][station], account["net"][station]
        x, bed = along(account["distance"][station]), min(up(-depth), top + high)
        words = f"{letters.get(station, '')} {leg['least_net']['text']}".strip()
        half = 0.5 * text_width(words, LARGE) + 1.0
        middle = min(max(x, LEFT + half), svg.width - RIGHT - half)
        if any(abs(middle - other) < half + reach for other, reach in taken):
            continue
        taken.append((middle, half))
        y = min(max(bed + 6.0, top + 0.72 * high), top + high - 2.2)
        svg.line([(x, min(up(net - depth), top + high)), (x, bed)], 0.7)
        svg.line([(x, bed), (x, max(y - 3.4, bed))], 0.2)
        svg.text(middle, y, words, LARGE, bold=True, anchor="middle", halo=True)


def _leg_ends(data: Data, along: Scale) -> list[tuple[float, float]]:
    """Where each leg's stations begin and end on paper, in the order sailed."""
    account = data["account"]
    ends: dict[int, tuple[float, float]] = {}
    for distance, reach in zip(account["distance"], account["reach"], strict=True):
        begin, _ = ends.get(reach, (along(distance), 0.0))
        ends[reach] = (begin, along(distance))
    return [ends.get(index, (LEFT, LEFT)) for index in range(len(data["legs"]))]


def _legs(svg: Svg, data: Data, ends: Sequence[tuple[float, float]], top: float, bottom: float) -> None:
    """Numbers and names of the legs, and the times at which she passes from one to the next."""
    free_number, free_time = LEFT, LEFT - 5.0
    for leg, (begin, end) in zip(data["legs"], ends, strict=True):
        svg.line([(begin, top), (begin, bottom if end - begin > 4.0 else top + 1.5)], 0.15)
        middle, number = 0.5 * (begin + end), str(leg["number"])
        for words in (f"{number}  {leg['reach']}", number):
            width = text_width(words, NORMAL)
            if width < end - begin - 1.0 and middle - 0.5 * width > free_number:
                svg.text(middle, 3.4, words, NORMAL, bold=True, anchor="middle")
                free_number = middle + 0.5 * width + 0.8
                break
        if begin - 5.0 >= free_time:
            anchor = "start" if begin <= LEFT + 1.0 else "middle"
            svg.text(begin, top - 1.2, leg["time_begin"]["clock"], NORMAL, anchor=anchor)
            free_time = begin + 6.0
    if svg.width - RIGHT - 10.0 > free_time:
        svg.text(svg.width - RIGHT, top - 1.2, data["legs"][-1]["time_end"]["clock"], NORMAL, anchor="end")
    svg.text(LEFT - 1.2, top - 1.2, clock().removeprefix("UTC") or clock(), SMALL, bold=True, anchor="end")
    svg.text(LEFT - 1.2, 3.4, "leg", SMALL, bold=True, anchor="end")


def _distance_axis(svg: Svg, along: Scale, y: float) -> None:
    whole = (along.high - along.low) / NAUTICAL_MILE
    for miles, words in ticks(0.0, whole, round_step(whole / 8.0)):
        x = along(along.low + miles * NAUTICAL_MILE)
        svg.line([(x, y), (x, y + 1.2)], 0.2)
        svg.text(x, y + 4.4, words, SMALL, anchor="middle")
    svg.text(LEFT - 2.2, y + 4.4, "nm", SMALL, bold=True, anchor="end")


def _heights(svg: Svg, up: Scale, top: float, high: float) -> None:
    """Ticks from chart datum; where the scale changes, its parts have steps of their own."""
    unit, sign = length_unit()
    svg.text(0.0, top + 2.4, sign, SMALL, bold=True)
    for (low, at_low), (most, at_most) in zip(up.knots[:-1], up.knots[1:], strict=True):
        step = round_step((most - low) / unit / max(1.0, abs(at_low - at_most) / 6.0))
        for value, words in ticks(low / unit, most / unit, step):
            y = up(value * unit)
            if top + 2.0 < y < top + high - 0.6 and abs(y - at_most) > 1.2:
                svg.line([(LEFT - 0.9, y), (LEFT, y)], 0.2)
                svg.text(LEFT - 1.3, y + 0.95, f"CD {words}" if value == 0.0 else words, SMALL, anchor="end")
    for _, y in up.knots[1:-1]:
        svg.line([(LEFT - 1.0, y + 0.9), (LEFT + 1.0, y - 0.1)], 0.3)
        svg.line([(LEFT - 1.0, y + 0.1), (LEFT + 1.0, y - 0.9)], 0.3)


def _frame(svg: Svg, top: float, high: float) -> None:
    svg.rectangle(LEFT, top, svg.width - RIGHT - LEFT, high, stroke=0.3)


def _legend(svg: Svg, y: float) -> None:
    x = LEFT
    entries = (
        (DRAUGHT_TINT, "", "her draught, shortened"),
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
