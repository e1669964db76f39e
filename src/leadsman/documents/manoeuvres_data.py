"""The trials of a ship as plain data (`leadsman.manoeuvres/1`) and as a table for a terminal."""

from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.manoeuvres_result import Manoeuvre, Manoeuvres
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH
from leadsman.documents.terminal_table import table as headed

SCHEMA = "leadsman.manoeuvres/1"
ESTIMATED = (
    "All estimated from the card, for calm water, no stream, clean hull; not trial results. Real turns and stops "
    "scatter by tenths of their size; in shallow water circles grow more than told here."
)


def manoeuvres_data(found: Manoeuvres) -> dict[str, Any]:
    """Everything, ready for JSON."""
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "estimated": ESTIMATED,
        "ship": found.ship,
        "condition": found.condition,
        "condition_estimated": found.condition_estimated,
        "draught": found.draught,
        "draws": found.draws,
        "depth_to_draught": found.depth_to_draught,
        "assumed": list(found.assumed),
        "stated": [
            {
                "quantity": one.quantity,
                "order": one.order,
                "value": one.value,
                "estimated": one.estimated,
                "calibrated": one.calibrated,
                "missed_by": one.missed_by,
            }
            for one in found.stated
        ],
        "rows": [
            {
                "trial": row.trial,
                "quantity": row.quantity,
                "value": row.value,
                "low": row.low,
                "high": row.high,
                "unit": row.unit,
                "lengths": row.lengths,
                "limit": row.limit,
                "kept": row.kept,
                "text": written(row.value, row),
                "band_text": band(row),
            }
            for row in found.rows
        ],
    }


def print_manoeuvres(found: Manoeuvres) -> None:
    """One table, and what the model was calibrated to."""
    console = Console(width=WIDTH, highlight=False)
    water = "deep water" if found.depth_to_draught is None else f"depth {found.depth_to_draught:g} times draught"
    condition = f"{found.condition}{', estimated' if found.condition_estimated else ''}"
    title = f"{found.ship}, {condition}, mean draught {text.metres(found.draught)}, {water}"
    figures = ("estimated", "nine in ten", "lengths", "limit")
    table = headed(title, "trial", "quantity", *figures, right=figures)
    before = ""
    for row in found.rows:
        limit = "" if row.limit is None else written(row.limit, row) + ("" if row.kept else "  broken")
        lengths = "" if row.lengths is None else text.number(row.lengths, 1)
        trial = "" if row.trial == before else row.trial
        table.add_row(trial, row.quantity, written(row.value, row), band(row), lengths, limit)
        before = row.trial
    console.print(table)
    if found.stated:
        console.print(_stated(found))
    for sentence in (*found.assumed, ESTIMATED, SHORT_CAUTION):
        console.print(Text(sentence, style="italic"))


def _stated(found: Manoeuvres) -> Table:
    """What card and poster state, and how near the ship comes before and after calibration."""
    figures = ("as stated", "from the card alone", "calibrated", "left, in deviations")
    table = headed("Calibrated to card and poster", "stated", "from", *figures, right=figures)
    for one in found.stated:
        unit = next((unit for word, unit in _UNITS.items() if word in one.quantity), "m")
        values = (one.value, one.estimated, one.calibrated)
        left = "" if one.missed_by is None else f"{one.missed_by:+.1f}"
        table.add_row(one.quantity, one.order.replace("_", " "), *(in_unit(value, unit) for value in values), left)
    return table


_UNITS = {"time": "s", "speed": "m/s", "overshoot": "rad", "rate": "rad/s"}


def band(row: Manoeuvre) -> str:
    """The ends of a row's band, or nothing."""
    if row.low is None or row.high is None:
        return ""
    if row.unit == "m":
        return text.metres_between(row.low, row.high, 0)
    low, high = written(row.low, row), written(row.high, row)
    return f"{low.split()[0].removesuffix('°')} to {high}"


def written(value: float | None, row: Manoeuvre) -> str:
    """A figure of a trial in the unit people use."""
    return in_unit(value, row.unit)


def in_unit(value: float | None, unit: str) -> str:
    """A value in the unit people use."""
    if value is None:
        return "not reached"
    if unit == "m":
        return text.metres(value, 0)
    if unit == "lengths":
        return f"{text.number(value, 1)} L"
    if unit == "s":
        return f"{text.number(value / 60.0, 1)} min"
    if unit == "of ahead":
        return f"{text.percent(value)} of ahead"
    return {"m/s": text.knots, "rad": text.degrees, "rad/s": text.rate}[unit](value)
