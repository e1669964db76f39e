"""The order sheet: the plain data of a rehearsal (`leadsman.rehearsal/1`) in words, leg by leg."""

import math
import re
from bisect import bisect_right
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from leadsman import format as text

Data = dict[str, Any]

SHOWN = 4  # tight places, and things that matter
HEADS = {
    "course": "Helm",
    "wheel": "Helm",
    "engine": "Engine",
    "thruster": "Thrusters",
    "tug": "Tugs",
    "anchor": "Anchors",
}
OWN_COLUMNS = {"thruster": 2, "tug": 3}
ADDRESSED = {"thruster": re.compile(r"^\w+ thrust(er \d+)? (?!and )"), "tug": re.compile(r"^.*: ")}
"""How an order begins that is told to a thruster or tug."""


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
        **_by_minute(run["orders"], datetime.fromisoformat(found["start"]), data),
        "along_unit": text.miles(0.0).rsplit(" ", 1)[1],
        "wheel_overs": [_wheel_over(one) for one in run.get("wheel_overs", [])],
        "least": _least(run.get("least", [])),
        "machinery": _machinery(run.get("machinery"), found["ensemble"]),
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


def _by_minute(orders: list[Data], start: datetime, data: Mapping[str, Any]) -> Data:
    """Each leg with a row for each minute in which something is ordered, every order under the head of its means.

    A leg once left is not gone back to, though she may lie behind its end for a moment. An order that is the last to
    any of its means in its minute is marked: it stands until the next one below.
    """
    begins = leg_begins(data)
    legs: list[Data] = [{"number": leg["number"], "reach": leg["reach"], "rows": []} for leg in data["legs"]]
    heads = _heads(orders)
    columns = list(dict.fromkeys(heads.values()))
    standing: dict[str, str] = {}
    reached = -1
    for order in orders:
        here = max(reached, leg_at(begins, order["distance"]))
        if here > reached:
            legs[here]["standing"] = ", ".join(dict.fromkeys(standing.values()))
            reached = here
        clock = text.clock_seconds(start + timedelta(seconds=order["time"]))
        cells = _row(legs[here]["rows"], clock[:-3], order, columns)["cells"]
        for head in dict.fromkeys(heads[means] for means in order["means"]):
            cell = cells[columns.index(head)]
            for earlier in cell:
                earlier["means"] = [one for one in earlier["means"] if one not in order["means"]]
            cell.append({"second": clock[-3:], "words": _under(head, order), "means": list(order["means"])})
        standing = {one: said for one, said in standing.items() if one not in order["means"]}
        standing |= dict.fromkeys(order["means"], order["words"])
    return {"columns": columns, "legs": [leg for leg in legs if leg["rows"]]}


def _row(rows: list[Data], minute: str, order: Data, columns: list[str]) -> Data:
    """The row of a minute, begun where it is not yet there."""
    if not rows or rows[-1]["clock"] != minute:
        along = text.miles(order["distance"]).rsplit(" ", 1)[0]
        rows.append({"clock": minute, "along": along, "cells": [[] for _ in columns]})
    return rows[-1]


def _heads(orders: list[Data]) -> dict[str, str]:
    """Under which head each means stands, the helm first; few thrusters or tugs have each a column of their own."""
    found: dict[str, str] = {}
    for kind, head in HEADS.items():
        here = dict.fromkeys(means for order in orders if order["kind"] == kind for means in order["means"])
        own = len(here) <= OWN_COLUMNS.get(kind, 0)
        found |= {means: f"{means[0].upper()}{means[1:]}" if own else head for means in here}
    return found


def _under(head: str, order: Data) -> str:
    """The words of an order, without what its column says already."""
    if head in HEADS.values():
        return str(order["words"])
    return str(ADDRESSED[order["kind"]].sub("", order["words"], count=1))


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


def _machinery(use: Data | None, drawn: Data | None) -> str:
    """What the run asks of engines and thrusters, in one line, and in how many drawn runs an order found no air; empty
    where an answer from before does not say."""
    if use is None:
        return ""
    parts = [f"ahead {text.percent(use['ahead'])} of full", f"astern {text.percent(use['astern'])} of full"]
    if use["astern_longest"] > 0.0:
        at_one_go = text.stopwatch(use["astern_longest"])
        parts.append(f"astern {at_one_go} at one go, {text.stopwatch(use['astern_in_all'])} in all")
    if use["thruster"]:
        parts.append(f"{use['thruster']} {text.stopwatch(use['thruster_longest'])} at one go")
    air = use["air"]
    if air is not None:
        refused = f", {air['refused']} REFUSED FOR WANT OF AIR" if air["refused"] else ""
        parts.append(f"{air['made']} starts on air, {air['left']} of {air['at_first']} left at the least{refused}")
    if drawn is not None and drawn.get("without_air"):
        parts.append(f"in {drawn['without_air']} of {drawn['runs']} drawn runs an order found NO AIR")
    return "; ".join(parts)


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
