"""The order sheet: the plain data of a rehearsal (`leadsman.rehearsal/1`) in words, leg by leg."""

import math
from bisect import bisect_right
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from leadsman import format as text

Data = dict[str, Any]

SHOWN = 4  # tight places, and things that matter


def leg_begins(data: Mapping[str, Any]) -> list[float]:
    """Where along the track each leg of an assessment begins. [m]"""
    begins = [0.0]
    for leg in data["legs"][:-1]:
        begins.append(begins[-1] + float(leg["distance"]["value"]))
    return begins


def leg_at(begins: list[float], distance: float) -> int:
    """Which leg, counted from nought, a distance along the track lies on."""
    return max(bisect_right(begins, distance) - 1, 0)


def order_sheet(found: Data, data: Mapping[str, Any]) -> Data:
    """The orders of the run as planned over the legs of the same plan's assessment, and what came of the drawn runs."""
    run = found["planned"]
    return {
        "ended": run["ended"],
        "took": text.duration(timedelta(seconds=round(run["time"]))),
        "why": run["why"],
        "outcome": outcome(found),
        "legs": _legs(run["orders"], datetime.fromisoformat(found["start"]), data),
        "along_unit": text.miles(0.0).rsplit(" ", 1)[1],
        "wheel_overs": [_wheel_over(one) for one in run.get("wheel_overs", [])],
        "least": _least(run.get("least", [])),
        "tried": None if found["ensemble"] is None else _tried(found["ensemble"]),
        "estimated": found["estimated"],
    }


def outcome(found: Data) -> str:
    """What came of the rehearsal, in one sentence for the first page."""
    run, drawn = found["planned"], found["ensemble"]
    planned = f"Rehearsed as planned: {run['ended']} after {text.duration(timedelta(seconds=round(run['time'])))}"
    if drawn is None:
        return f"{planned}; not run with anything drawn, so nothing is said of how often."
    return (
        f"{planned}; {text.percent(drawn['rate'])} of {drawn['runs']} drawn runs succeed "
        f"({text.percent(drawn['low'])} to {text.percent(drawn['high'])} with 95 % confidence)."
    )


def _legs(orders: list[Data], start: datetime, data: Mapping[str, Any]) -> list[Data]:
    """Each leg with its orders; a leg once left is not gone back to, though she may lie behind its end for a moment."""
    begins = leg_begins(data)
    legs: list[Data] = [{"name": f"{leg['number']} {leg['reach']}", "orders": []} for leg in data["legs"]]
    reached = 0
    for order in orders:
        reached = max(reached, leg_at(begins, order["distance"]))
        legs[reached]["orders"].append(
            {
                "clock": text.clock_seconds(start + timedelta(seconds=order["time"])),
                "along": text.miles(order["distance"]).rsplit(" ", 1)[0],
                "words": order["words"],
            }
        )
    return [leg for leg in legs if leg["orders"]]


def _wheel_over(one: Data) -> Data:
    return {
        "waypoint": one["waypoint"],
        "before": text.metres(one["before"], 0),
        "wheel": f"{text.side(one['wheel'])} {abs(math.degrees(one['wheel'])):.0f}°",
        "tangent": text.metres(one["tangent"], 0),
        "reach": text.metres(one["reach"], 0),
    }


def _least(found: list[Data]) -> str:
    known = [one for one in found if one["value"] is not None]
    return "; ".join(f"{_spoken(one['quantity'])} {text.clearance(one['value'], 1)} at {one['place']}" for one in known)


def _spoken(quantity: str) -> str:
    return {"underkeel": "under keel", "water room": "room to shoal water"}.get(quantity, quantity)


def _tried(ensemble: Data) -> Data:
    tight = [
        f"{_spoken(one['quantity'])} {text.clearance(one['one_in_twenty'], 1)} at {one['place']}"
        for one in ensemble["tight"][:SHOWN]
    ]
    heavy = [one["name"] for one in ensemble["matters"][:SHOWN]]
    return {
        "runs": ensemble["runs"],
        "seed": ensemble["seed"],
        "rate": text.percent(ensemble["rate"]),
        "low": text.percent(ensemble["low"]),
        "high": text.percent(ensemble["high"]),
        "reasons": ", ".join(f"{count} {reason}" for reason, count in ensemble["reasons"].items()),
        "tight": "; ".join(tight) or "nowhere",
        "matters": ", ".join(heavy) or "nothing drawn",
    }
