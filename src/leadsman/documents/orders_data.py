"""The order sheet: the plain data of a rehearsal (`leadsman.rehearsal/1`) in words, leg by leg."""

import math
import re
from bisect import bisect_right
from collections.abc import Mapping
from datetime import datetime, timedelta
from itertools import groupby
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
OWN_COLUMNS = {"engine": 2, "thruster": 2, "tug": 3}
ADDRESSED = {
    "engine": re.compile(r"^.*\bengines? "),
    "thruster": re.compile(r"^.*\bthrust(ers?)?( \d+( and \d+)*)? "),
    "tug": re.compile(r"^.*: "),
}
"""How an order begins that is told to an engine, thruster or tug."""
UNDER_WAY = ("course", "wheel", "engine")
"""Kinds of order given while she makes her way: a leg with any other is slow work."""
WIDE = 4  # columns: with more of them the orders to thrusters and tugs are written short
SHORT = {"one quarter": "1/4", "three quarters": "3/4", "to starboard": "to stbd"}
HEAD = 40  # letters on a line of what stands, in a half
SIDE_BY_SIDE = (12, 70)
"""Lines of legs under way, from and to, that are laid out in two halves side by side."""


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
    run, start = found["planned"], datetime.fromisoformat(found["start"])
    return {
        "ended": run["ended"],
        "at": text.clock(start + timedelta(seconds=run["time"])),
        "took": text.duration(timedelta(seconds=round(run["time"]))),
        "why": run["why"],
        "outcome": outcome(found),
        "berth": found.get("berth") or "",
        "parts": _parts(run["orders"], start, data),
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
    ended = datetime.fromisoformat(found["start"]) + timedelta(seconds=run["time"])
    planned = f"Rehearsed as planned: {run['ended']} at {text.clock(ended)}"
    if drawn is None:
        return f"{planned}; not run with anything drawn, so nothing is said of how often."
    return (
        f"{planned}; {text.percent(drawn['rate'])} of {drawn['runs']} drawn runs succeed "
        f"({text.percent(drawn['low'])} to {text.percent(drawn['high'])} with 95 % confidence)."
    )


def _parts(orders: list[Data], start: datetime, data: Mapping[str, Any]) -> list[Data]:
    """Legs under way and legs of slow work by turns, each part with the columns its own orders need.

    What stands of other means than a part's own is told at its first leg alone. A leg once left is not gone back to,
    though she may lie behind its end for a moment.
    """
    begins = leg_begins(data)
    by_leg: dict[int, list[Data]] = {}
    reached = 0
    for order in orders:
        reached = max(reached, leg_at(begins, order["distance"]))
        by_leg.setdefault(reached, []).append(order)
    standing: dict[str, str] = {}
    parts = []
    for slow, indices in groupby(by_leg, key=lambda index: any(one["kind"] not in UNDER_WAY for one in by_leg[index])):
        some = list(indices)
        heads = _heads([order for index in some for order in by_leg[index]])
        columns = list(dict.fromkeys(heads.values()))
        legs: list[Data] = []
        for index in some:
            told = {means: said for means, said in standing.items() if not legs or means in heads}
            legs.append(_leg(data["legs"][index], by_leg[index], start, heads, told))
            for order in by_leg[index]:
                standing = {means: said for means, said in standing.items() if means not in order["means"]}
                standing |= dict.fromkeys(order["means"], order["words"])
        parts.append({"columns": columns, "legs": legs, "short": len(columns) > WIDE, "halves": _halves(legs, slow)})
    return parts


def _leg(leg: Data, orders: list[Data], start: datetime, heads: dict[str, str], standing: dict[str, str]) -> Data:
    """A row for each minute in which something is ordered, every order under the head of its means.

    An order that is the last to any of its means in its minute is marked: it stands until the next one below.
    """
    columns = list(dict.fromkeys(heads.values()))
    rows: list[Data] = []
    before = ", ".join(dict.fromkeys(said for said in standing.values() if not said.endswith(" stop")))
    for order in orders:
        clock = text.clock_seconds(start + timedelta(seconds=order["time"]))
        cells = _row(rows, clock[:-3], order, columns)["cells"]
        for head in dict.fromkeys(heads[means] for means in order["means"]):
            cell = cells[columns.index(head)]
            for earlier in cell:
                earlier["means"] = [one for one in earlier["means"] if one not in order["means"]]
            words = _under(head, order, short=len(columns) > WIDE)
            cell.append({"second": clock[-3:], "words": words, "means": list(order["means"])})
    return {"number": leg["number"], "reach": leg["reach"], "standing": before, "rows": rows}


def _halves(legs: list[Data], slow: bool) -> int | None:
    """How many legs stand at the left where legs under way are few enough to lie side by side; None where not."""
    lines = [
        1 + len(leg["standing"]) // HEAD + sum(max(len(cell) for cell in row["cells"]) for row in leg["rows"])
        for leg in legs
    ]
    if slow or len(legs) < 2 or not SIDE_BY_SIDE[0] <= sum(lines) <= SIDE_BY_SIDE[1]:
        return None
    return min(range(1, len(legs)), key=lambda left: max(sum(lines[:left]), sum(lines[left:])))


def _row(rows: list[Data], minute: str, order: Data, columns: list[str]) -> Data:
    """The row of a minute, begun where it is not yet there."""
    if not rows or rows[-1]["clock"] != minute:
        along = text.miles(order["distance"]).rsplit(" ", 1)[0]
        rows.append({"clock": minute, "along": along, "cells": [[] for _ in columns]})
    return rows[-1]


def _heads(orders: list[Data]) -> dict[str, str]:
    """Under which head each means stands, the helm first.

    Few engines, thrusters or tugs have each a column of their own; engines that are always told the same share one.
    """
    found: dict[str, str] = {}
    for kind, head in HEADS.items():
        here = dict.fromkeys(means for order in orders if order["kind"] == kind for means in order["means"])
        own = len(here) <= OWN_COLUMNS.get(kind, 0)
        if kind == "engine" and all(len(order["means"]) == 2 for order in orders if order["kind"] == kind):
            found |= dict.fromkeys(here, "Both engines")
        else:
            found |= {means: f"{means[0].upper()}{means[1:]}" if own else head for means in here}
    return found


def _under(head: str, order: Data, *, short: bool) -> str:
    """The words of an order, without what its column says already."""
    words = str(order["words"])
    if order["kind"] in ADDRESSED and head not in HEADS.values():
        words = ADDRESSED[order["kind"]].sub("", words, count=1)
    if order["kind"] == "wheel":
        words = words.replace(" degrees", "°")
    if order["kind"] == "thruster" and head in HEADS.values():
        words = re.sub(r" thrust(ers?)? ", " ", words)
    if short and order["kind"] in ("thruster", "tug"):
        for said, written in SHORT.items():
            words = words.replace(said, written)
    return words


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
