"""What poster and booklet show of her manoeuvres, as plain data: words for the tables, metres for the drawings."""

import math
from typing import Any

from leadsman import format as text
from leadsman.assessment.posted_result import (
    Posted,
    PostedCircle,
    PostedRecovery,
    PostedSquat,
    PostedStop,
    PostedWater,
    Spread,
)

Data = dict[str, Any]

ESTIMATED = (
    "ESTIMATED from the card by a manoeuvring model, not measured: calm water, no wind, no stream, clean hull. "
    "In brackets the values between which nine in ten draws of the uncertain ship lie. "
    "Performance may differ with environment, hull and loading."
)
NOT_REACHED = "not reached"


def posted_data(posted: Posted) -> Data:
    """Everything the drawings and tables of her manoeuvres need."""
    return {
        "estimated": ESTIMATED,
        "draws": posted.draws,
        "length": posted.length,
        "waters": [_water(water, "pods" if posted.podded else "rudder") for water in posted.waters],
        "recovery": None if posted.recovery is None else _recovery(posted.recovery),
        "clearances": [text.metres(value, 1) for value in _clearances(posted)],
        "squats": [_squat(row, posted) for row in posted.squats],
        "heels": [[f"{math.degrees(angle):.0f}°", text.requirement(more)] for angle, more in posted.heels],
        "assumed": list(posted.assumed),
    }


def _clearances(posted: Posted) -> list[float]:
    deepest = max(max(water.draught_forward, water.draught_aft) for water in posted.waters)
    return [share * deepest for share in posted.clearances]


def _water(water: PostedWater, steered_by: str) -> Data:
    depth = water.depth_to_draught
    where = "deep water" if depth is None else f"depth {depth:g} times the draught"
    draughts = f"{text.metres(water.draught_forward)} forward, {text.metres(water.draught_aft)} aft"
    return {
        "title": f"{water.condition.capitalize()}, {where}",
        "condition": water.condition,
        "shallow": depth is not None,
        "draughts": draughts + (" (estimated: the card gives the other condition)" if water.loading_estimated else ""),
        "speeds": [[_spoken(name), text.knots(speed)] for name, speed in water.speeds],
        "aground": [_spoken(name) for name in water.aground],
        "circles": [_circle(circle, steered_by) for circle in water.circles],
        "stops": [_stop(stop) for stop in water.stops],
    }


def _circle(circle: PostedCircle, steered_by: str) -> Data:
    rows = {"Advance": circle.advance, "Transfer": circle.transfer, "Tactical diameter": circle.tactical_diameter}
    return {
        "side": circle.side,
        "name": text.side(circle.side),
        "about": f"{_spoken(circle.order)}, {text.knots(circle.approach_speed)}, {steered_by} "
        f"{math.degrees(circle.rudder):.0f}° {text.side(circle.side)}",
        "rows": [[name, _metres(spread)] for name, spread in rows.items()],
        "moments": [
            {
                "heading": moment.heading_change * circle.side,
                "label": f"{math.degrees(moment.heading_change):.0f}°",
                "time": _clock(moment.time),
                "speed": text.knots(moment.speed),
                "north": moment.north,
                "east": moment.east,
            }
            for moment in circle.moments
        ],
        "advance": _ends(circle.advance),
        "tactical_diameter": _ends(circle.tactical_diameter),
        "track": [list(point) for point in circle.track],
    }


def _stop(stop: PostedStop) -> Data:
    astern = stop.stopped_by != "stop"
    reached = stop.track_reach.value is not None
    return {
        "order": _spoken(stop.order),
        "by": "full astern" if astern else f"engine stopped, to {text.knots(stop.end_speed)}",
        "astern": astern,
        "speed": text.knots(stop.approach_speed),
        "track_reach": _metres(stop.track_reach),
        "head_reach": text.metres(stop.head_reach, 0) if reached else "",
        "side_reach": _aside(stop.side_reach, text.metres(abs(stop.side_reach), 0)) if reached else "",
        "turned": _turned(math.degrees(stop.heading_change)) if reached else "",
        "time": _time(stop.time),
        "reach": _ends(stop.track_reach),
        "track": [list(point) for point in stop.track],
    }


def _recovery(turn: PostedRecovery) -> Data:
    return {
        "about": f"{_spoken(turn.order)}, first to {text.side(turn.side)}; to port likewise",
        "steps": [
            ["At once", f"hard over to {text.side(turn.side)}"],
            [_clock(turn.time_shifted), f"{math.degrees(turn.away):.0f}° off: hard over to {text.side(-turn.side)}"],
            [_clock(turn.time_eased), "20° short of the opposite course: midships, steady on it"],
            [_clock(turn.time_back), f"on the opposite course, {text.metres(abs(turn.offset), 0)} from her old track"],
        ],
        "side": turn.side,
        "offset": turn.offset,
        "track": [list(point) for point in turn.track],
    }


def _squat(row: PostedSquat, posted: Posted) -> Data:
    words = []
    for squat, outside, clearance in zip(row.squats, row.outside, _clearances(posted), strict=True):
        if not math.isfinite(squat) or squat >= clearance:
            words.append("touches")
        else:
            words.append(text.requirement(squat) + (" *" if outside else ""))
    return {"order": _spoken(row.order), "speed": text.knots(row.speed), "squats": words}


def _ends(spread: Spread) -> list[float | None]:
    return [spread.value, spread.low, spread.high]


def _metres(spread: Spread) -> str:
    if spread.value is None:
        return NOT_REACHED
    if spread.low is None or spread.high is None:
        return text.metres(spread.value, 0)
    unit, _ = text.length_unit()
    return f"{text.metres(spread.value, 0)} ({spread.low / unit:.0f}–{spread.high / unit:.0f})"


def _time(spread: Spread) -> str:
    if spread.value is None:
        return NOT_REACHED
    band = "" if spread.low is None or spread.high is None else f" ({_clock(spread.low)}–{_clock(spread.high)})"
    return f"{_clock(spread.value)}{band}"


def _clock(seconds: float) -> str:
    """3:05 min, rounded to the second."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def _aside(value: float, written: str) -> str:
    """How far to which side; nothing to tell is said in a word."""
    return "none" if abs(value) < 0.5 else f"{written} to {text.side(value)}"


def _turned(degrees: float) -> str:
    return _aside(degrees, f"{abs(degrees):.0f}°")


def _spoken(order: str) -> str:
    return order.replace("_", " ")
