"""What the pack prints of a rehearsal and of failures: their plain data (`leadsman.rehearsal/1`, `leadsman.failures/1`)
in words."""

import math
from datetime import datetime, timedelta
from typing import Any

from leadsman import format as text

Data = dict[str, Any]

SHOWN = 4  # tight places, and things that matter


def order_sheet(found: Data) -> Data:
    """The order sheet of the run as planned, and what came of the drawn runs."""
    run, start = found["planned"], datetime.fromisoformat(found["start"])
    return {
        "ended": run["ended"],
        "minutes": f"{run['time'] / 60.0:.0f}",
        "why": run["why"],
        "orders": [
            {
                "clock": text.clock_seconds(start + timedelta(seconds=order["time"])),
                "along": text.miles(order["distance"]).removesuffix(" nm"),
                "words": order["words"],
            }
            for order in run["orders"]
        ],
        "tried": None if found["ensemble"] is None else _tried(found["ensemble"]),
        "estimated": found["estimated"],
    }


def _tried(ensemble: Data) -> Data:
    tight = [
        f"{one['quantity']} {text.metres_signed(one['one_in_twenty'])} at {one['place']} in one run of twenty"
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


def contingency_sheet(found: Data) -> Data:
    """Each failure with how often it brings danger, how soon, and where no answer helps."""
    return {"every": f"{found['every']:.0f}", "failures": [_failing(one) for one in found["failures"]]}


def _failing(one: Data) -> Data:
    moments = one["moments"]
    dangers = sum(moment["danger"] is not None for moment in moments)
    lost = sum(moment["danger"] is not None and not moment["answered"] for moment in moments)
    left = one["least_time_left"]
    return {
        "name": one["name"],
        "dangers": f"{dangers} of {len(moments)} times",
        "least_time": "never" if left is None else text.duration(timedelta(seconds=math.floor(left))),
        "lost": f"{lost} of {len(moments)} times",
        "no_return": _places(one["no_return"]),
        "abort": _places(one["abort"]),
    }


def _places(places: list[Data]) -> str:
    return "; ".join(f"{one['place']}, {text.miles(one['distance'])}" for one in places)
