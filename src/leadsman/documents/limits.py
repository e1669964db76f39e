"""Static limits in a terminal and as data (`leadsman.limits/1`)."""

import math
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.holding.result import HeldAt, HoldingAnswer, Rose, StaticLimits
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.holding_data import holding_data, place_data, rose_data
from leadsman.documents.terminal_table import table as headed
from leadsman.manner import clock
from leadsman.portcall import PortCall
from leadsman.units import KNOT

WIDTH = 100
TOLD_EVERY = 3  # directions: of thirty-six on the circle every third is written


def limits_data(call: PortCall, found: StaticLimits) -> dict[str, Any]:
    """Everything, ready for JSON."""
    return {
        "schema": "leadsman.limits/1",
        "caution": SHORT_CAUTION,
        "call": call.name,
        "ship": call.ship.name,
        "start": text.iso(call.start),
        "method": "static",
        "holding": holding_data(found.answer),
        "streams": {key: rose_data(rose) for key, rose in found.streams.items()},
    }


def print_limits(call: PortCall, found: StaticLimits) -> None:
    """Place by place: held or not, by whom, the rose of wind, and of stream where she is stopped."""
    console = Console(width=WIDTH, highlight=False)
    when = f"{text.day_clock(call.start)} {clock()}"
    console.print(Text(f"{call.ship.name}: what holds her, by statics; start {when}", "bold"))
    for place in found.answer.places:
        _print_place(console, place, found.answer)
        console.print(_rose(found.answer.roses[place.key], "Wind from"))
        if place.key in found.streams:
            console.print(_rose(found.streams[place.key], "Stream from", decimals=1))
    console.print(Text(SHORT_CAUTION, style="italic"))


def _print_place(console: Console, place: HeldAt, answer: HoldingAnswer) -> None:
    data = place_data(place, answer.length_overall, answer.beam)
    console.print(
        Text(
            f"\n{place.place}, {data['situation_text']}, heading {data['heading']['text']}, {data['time']['clock']}: "
            f"{data['word'].upper()}, limit {data['wind_limit']['text']}",
            "bold",
        )
    )
    console.print(
        f"Wind {data['wind']['text']} from {data['wind_from']['text']}, gusts {data['gust']['text']}; stream "
        f"{data['stream']['text']} towards {data['stream_towards']['text']}; reserve {data['reserve']['text']}"
        + ("" if data["alone"] is None else f", without tugs {data['alone']['text']}")
    )
    orders = [
        f"{order['name']} {order['words']} {order['force']['text']} ({order['used_text']})"
        for order in data["balance"]["orders"]
        if order["used"] >= 0.01
    ]
    console.print("Held by: " + ("; ".join(orders) or "nothing needed"))
    needed = data["needed"]
    if needed is not None:
        statics = needed["by_statics"]
        each = "tugs at these places cannot" if statics is None else _by_place(statics)
        rules = ", ".join(f"{name} rule {pull}" for name, pull in needed["by_rules"].items())
        console.print(f"Tugs needed: by statics {each}; {rules}")
    for change in data["changes"]:
        console.print(f"  {'would do' if change['works'] else 'not enough'}: {change['sentence']}")


def _by_place(statics: list[dict[str, Any]]) -> str:
    return ", ".join(f"{one['text']} {one['place_text']}" for one in statics)


def _rose(rose: Rose, head: str, decimals: int = 0) -> Table:
    """Both sides of each angle from the bow, one row a set of tugs; knots, rounded down."""
    table = headed("", head)
    table.columns[0].no_wrap = True
    chosen = range(0, len(rose.off_bow), TOLD_EVERY)
    for index in chosen:
        degrees = round(math.degrees(rose.off_bow[index]))
        side = "" if degrees in (0, 180) else "S" if degrees < 180 else "P"
        table.add_column(f"{side}{min(degrees, 360 - degrees)}", justify="right")
    for name, speeds in rose.limits.items():
        table.add_row(name, *(_limit(speeds[index], rose.ceiling, decimals) for index in chosen))
    return table


def _limit(speed: float, ceiling: float, decimals: int) -> str:
    knots = speed / KNOT
    scale = 10.0**decimals
    written = text.number(math.floor(knots * scale + 1e-6) / scale, decimals)
    return f">{written}" if speed >= ceiling else written
