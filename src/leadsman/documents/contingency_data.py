"""The contingency sheet: what each failure tried along the passage comes to, reach by reach, in words; and what is done
first, from `contingencies.toml`."""

import functools
import math
import tomllib
from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from leadsman import format as text
from leadsman.documents.orders_data import leg_at, leg_begins

Data = dict[str, Any]

FIRST = Path(__file__).parent / "contingencies.toml"
SHOWN = 3  # places of no return


@functools.cache
def done_first() -> list[Data]:
    """What is done first, failure by failure, as it stands in the file."""
    return list(tomllib.loads(FIRST.read_text("utf-8"))["failure"])


def contingency_sheet(found: Mapping[str, Any], data: Mapping[str, Any]) -> Data:
    """Failures tried (`leadsman.failures/1`) over the legs of the same plan's assessment."""
    return {
        "every": f"{found['every']:.0f}",
        "estimated": list(found["estimated"]),
        "failures": [_failing(one) for one in found["failures"]],
        "reaches": _reaches(found, data),
    }


def _failing(one: Data) -> Data:
    """Over the whole passage: how often it brings danger, how soon, and where no answer helps."""
    moments, left = one["moments"], one["least_time_left"]
    dangers = sum(moment["danger"] is not None for moment in moments)
    lost = sum(not moment["answered"] for moment in moments)
    return {
        "name": one["name"],
        "dangers": f"{dangers} of {len(moments)}",
        "least_time": "never" if left is None else _soon(left),
        "lost": f"{lost} of {len(moments)}",
        "no_return": _places(one["no_return"]),
        "abort": _places(one["abort"]),
    }


def _places(places: list[Data]) -> str:
    """Each place once, with where in it along the track; the first few."""
    shown: dict[str, list[str]] = {}
    for one in places[:SHOWN]:
        where = shown.setdefault(one["place"], [])
        told = text.miles(one["distance"])
        if told not in where:
            where.append(told)
    unit = text.miles(0.0).rsplit(" ", 1)[1]
    words = "; ".join(
        f"{place}, {', '.join(one.removesuffix(f' {unit}') for one in where)} {unit}" for place, where in shown.items()
    )
    return words + (f"; {len(places) - SHOWN} more" if len(places) > SHOWN else "")


def _reaches(found: Mapping[str, Any], data: Mapping[str, Any]) -> list[Data]:
    """Each leg with the failures that bring danger there, the soonest first, and those that bring none."""
    start = datetime.fromisoformat(data["call"]["start"]["value"])
    begins = leg_begins(data)
    legs = []
    for index, leg in enumerate(data["legs"]):
        here = {
            one["name"]: [moment for moment in one["moments"] if leg_at(begins, moment["distance"]) == index]
            for one in found["failures"]
        }
        tried = {name: moments for name, moments in here.items() if moments}
        lost = [_lost(name, moments, start) for name, moments in tried.items() if any(one["danger"] for one in moments)]
        lost.sort(key=lambda one: float(one["seconds"]))
        calm = [name for name, moments in tried.items() if not any(one["danger"] for one in moments)]
        legs.append(
            {
                "number": leg["number"],
                "reach": leg["reach"],
                "lost": lost,
                "calm": ", ".join(calm),
                "tried": bool(tried),
            }
        )
    return legs


def _lost(name: str, moments: list[Data], start: datetime) -> Data:
    dangerous = [one for one in moments if one["danger"] is not None]
    soonest = min(dangerous, key=lambda one: float(one["time_left"]))
    helped = sum(bool(one["answered"]) for one in moments)
    return {
        "name": name,
        "seconds": soonest["time_left"],
        "danger": soonest["danger"],
        "soonest": _soon(soonest["time_left"]),
        "at": text.clock(start + timedelta(seconds=soonest["time"])),
        "do": soonest["answer"],
        "ends": soonest["answered_ends"],
        "averted": f"{helped} of {len(moments)}",
        "helps": helped == len(moments),
    }


def _soon(seconds: float) -> str:
    """Time left, rounded down: to whole seconds, and from two minutes on to whole minutes."""
    step = 60.0 if seconds >= 120.0 else 1.0
    return text.duration(timedelta(seconds=math.floor(seconds / step) * step))
