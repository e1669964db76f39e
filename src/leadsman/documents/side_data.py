"""Room to the sides and ahead as plain data: widths, bends, basins, and where her way must begin to come off."""

import math
from typing import Any

from leadsman import format as text
from leadsman.assessment.result import Assessment
from leadsman.assessment.room_result import BendTurn, ReachWidth, SwingRoom, WayOff

NOT_KNOWN = "not known"

COLUMNS = (
    (
        "widths",
        "Width of each reach against the guideline",
        {
            "Reach": "reach",
            "Wide": "available",
            "Guideline": "needed",
            "Left": "margin",
            "Lanes": "ways_text",
            "She sweeps": "swept",
            "Heads off the track": "heading_offset",
            "Most is asked, in beams, by": "rows_text",
        },
    ),
    (
        "bends",
        "Bends, by her estimated model",
        {
            "At": "waypoint",
            "Turn": "deflection",
            "Radius": "radius",
            "Lengths": "lengths",
            "Rate": "rate_of_turn",
            "Keeps the arc": "rudder",
            "Wheel over before": "wheel_over",
            "Meet her": "meet",
            "Sweeps": "swept",
            "Bend guideline": "needed",
        },
    ),
    (
        "way_off",
        "Taking way off, by her estimated model",
        {
            "Reach": "reach",
            "From": "speed",
            "To": "wanted",
            "By": "by",
            "Takes": "distance",
            "Begin at": "begin",
            "Full astern stops her in": "crash_stop",
            "Last at": "last_stop",
        },
    ),
    (
        "basins",
        "Basins",
        {
            "Basin": "basin",
            "Across": "diameter",
            "Her lengths": "lengths",
            "Guidelines": "rules_text",
            "Stream": "stream",
            "Sets her in a swing": "drift",
        },
    ),
)
"""(key, title, heading: key of the column) of the tables that paper, page and terminal show alike."""


def side_data(assessment: Assessment) -> dict[str, Any]:
    """The keys `widths`, `bends`, `basins`, `way_off` and, laid out as tables of words, `side_tables`."""
    data: dict[str, Any] = {
        "widths": [_width(one) for one in assessment.widths],
        "bends": [_bend(one) for one in assessment.bends],
        "basins": [_basin(one) for one in assessment.basins],
        "way_off": [_way_off(one) for one in assessment.way_off],
    }
    data["side_tables"] = [
        {
            "title": title,
            "heads": list(columns),
            "rows": [[_words(row[key]) for key in columns.values()] for row in rows],
        }
        for name, title, columns in COLUMNS
        if (rows := data[name])
    ]
    return data


def _words(value: Any) -> str:
    return str(value["text"]) if isinstance(value, dict) else str(value)


def _width(one: ReachWidth) -> dict[str, Any]:
    heaviest = sorted((row for row in one.rows if row.beams > 0.0), key=lambda row: -row.beams)
    return {
        "reach": one.reach,
        "available": _metres(one.available),
        "needed": _needed(one.needed),
        "margin": _margin(one.margin),
        "two_way": one.two_way,
        "ways_text": "two ways" if one.two_way else "one way",
        "rows": [
            {
                "name": row.name,
                "beams": _finite(row.beams, 3),
                "source": row.source,
                "mark": row.mark,
                "beyond": row.beyond,
            }
            for row in one.rows
        ],
        "rows_text": ", ".join(f"{row.name} {_beams(row.beams)}" for row in heaviest[:4]),
        "assumed": list(one.assumed),
        "swept": _metres(one.swept),
        "heading_offset": {"value": round(one.heading_offset, 5), "text": _offset(one.heading_offset)},
        "rudder": _angle(one.rudder, "wheel"),
        "held": one.held,
        "cross_stream": {"value": round(one.cross_stream, 4), "text": text.knots(one.cross_stream)},
        "cross_wind": {
            "value": _finite(one.cross_wind, 4),
            "text": NOT_KNOWN if one.cross_wind is None else text.knots(one.cross_wind),
        },
    }


def _bend(one: BendTurn) -> dict[str, Any]:
    return {
        "waypoint": one.waypoint,
        "distance": {"value": round(one.distance, 1), "text": text.miles(one.distance)},
        "radius": _metres(one.radius),
        "lengths": {"value": round(one.lengths, 3), "text": text.number(one.lengths, 1)},
        "deflection": {"value": round(one.deflection, 5), "text": text.alteration(one.deflection)},
        "speed": {"value": round(one.speed, 4), "text": text.knots(one.speed)},
        "rate_of_turn": {"value": round(one.rate_of_turn, 6), "text": text.rate_of_turn(one.rate_of_turn)},
        "rudder": _angle(one.rudder, "wheel"),
        "held": one.held,
        "held_text": {True: "yes", False: "not with the wheel alone", None: NOT_KNOWN}[one.held],
        "wheel_over": {
            "value": _finite(one.wheel_over, 1),
            "text": NOT_KNOWN if one.wheel_over is None else text.metres(_up(one.wheel_over), 0),
        },
        "meet": {
            "value": _finite(one.meet, 5),
            "text": NOT_KNOWN if one.meet is None else f"{text.number(math.degrees(one.meet), 0)}° before",
        },
        "available": _metres(one.available),
        "needed": _needed(one.needed),
        "margin": _margin(one.available - one.needed),
        "swept": _metres(one.swept),
    }


def _basin(one: SwingRoom) -> dict[str, Any]:
    return {
        "basin": one.basin,
        "diameter": _metres(one.diameter),
        "lengths": {"value": round(one.lengths, 3), "text": text.number(one.lengths, 2)},
        "stream": {"value": round(one.stream, 4), "text": text.knots(one.stream)},
        "drift": _metres(one.drift),
        "rules": [
            {"rule": rule.replace("_", " "), "asks": _metres(asks), "source": source, "mark": mark}
            for rule, asks, source, mark in one.rules
        ],
        "rules_text": "; ".join(f"{_named(rule)} {text.metres(asks, 0)}" for rule, asks, _, _ in one.rules),
    }


def _named(rule: str) -> str:
    """A guideline by who gives it: PIANC with its letters, the others in words."""
    return rule.replace("_", " ").replace("pianc", "PIANC").replace("corps", "Corps of Engineers,")


def _way_off(one: WayOff) -> dict[str, Any]:
    return {
        "reach": one.reach,
        "speed": {"value": round(one.speed, 4), "text": text.knots(one.speed)},
        "wanted": {"value": round(one.wanted, 4), "text": text.knots(one.wanted) if one.wanted > 0.0 else "stopped"},
        "by": one.by.replace("_", " "),
        "distance": _needed(one.distance),
        "begin": {
            "value": _finite(one.begin, 1),
            "text": text.miles(one.begin) if math.isfinite(one.begin) else NOT_KNOWN,
        },
        "room": _metres(one.room),
        "crash_stop": _needed(one.crash_stop),
        "source": one.source,
        "last_stop": {
            "value": _finite(one.last_stop, 1),
            "text": text.miles(one.last_stop) if math.isfinite(one.last_stop) else NOT_KNOWN,
        },
    }


def _finite(value: float | None, decimals: int) -> float | None:
    return None if value is None or not math.isfinite(value) else round(value, decimals)


def _metres(value: float) -> dict[str, Any]:
    return {"value": round(value, 2), "text": text.metres(value, 0)}


def _needed(value: float) -> dict[str, Any]:
    """What must be, rounded up; infinite where nothing would do."""
    return {"value": _finite(value, 2), "text": text.requirement(value, 0) if math.isfinite(value) else "without end"}


def _margin(value: float) -> dict[str, Any]:
    return {"value": _finite(value, 2), "text": text.clearance(value, 0) if math.isfinite(value) else "not allowed"}


def _beams(beams: float) -> str:
    return text.number(beams, 1) if math.isfinite(beams) else "not allowed"


def _up(value: float) -> float:
    """To the next ten metres or feet: a wheel-over is never told later than it is."""
    step = 10.0 * text.length_unit()[0]
    return math.ceil(value / step) * step


def _offset(angle: float) -> str:
    return f"{text.number(abs(math.degrees(angle)), 1)}° to {text.side(angle)}"


def _angle(angle: float | None, what: str) -> dict[str, Any]:
    if angle is None:
        return {"value": None, "text": NOT_KNOWN}
    return {"value": round(angle, 5), "text": f"{what} {text.number(abs(math.degrees(angle)), 0)}° {text.side(angle)}"}
