"""The trials of a ship as plain data (`leadsman.manoeuvres/1`) and as a table for a terminal."""

from typing import Any

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.result import Manoeuvre, Manoeuvres
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH

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
        "depth_to_draught": found.depth_to_draught,
        "assumed": list(found.assumed),
        "rows": [
            {
                "trial": row.trial,
                "quantity": row.quantity,
                "value": row.value,
                "unit": row.unit,
                "lengths": row.lengths,
                "limit": row.limit,
                "kept": row.kept,
                "text": written(row.value, row),
            }
            for row in found.rows
        ],
    }


def print_manoeuvres(found: Manoeuvres) -> None:
    """One table."""
    console = Console(width=WIDTH, highlight=False)
    water = "deep water" if found.depth_to_draught is None else f"depth {found.depth_to_draught:g} times draught"
    table = Table(box=SIMPLE_HEAD, title=f"{found.ship}, {water}", title_justify="left", pad_edge=False)
    table.add_column("trial")
    table.add_column("quantity")
    table.add_column("estimated", justify="right")
    table.add_column("lengths", justify="right")
    table.add_column("limit", justify="right")
    before = ""
    for row in found.rows:
        limit = "" if row.limit is None else written(row.limit, row) + ("" if row.kept else "  broken")
        lengths = "" if row.lengths is None else text.number(row.lengths, 1)
        table.add_row("" if row.trial == before else row.trial, row.quantity, written(row.value, row), lengths, limit)
        before = row.trial
    console.print(table)
    for sentence in (*found.assumed, ESTIMATED, SHORT_CAUTION):
        console.print(Text(sentence, style="italic"))


def written(value: float | None, row: Manoeuvre) -> str:
    """A figure of a trial in the unit people use."""
    if value is None:
        return "not reached"
    if row.unit == "m":
        return text.metres(value, 0)
    if row.unit == "lengths":
        return f"{text.number(value, 1)} L"
    if row.unit == "s":
        return f"{text.number(value / 60.0, 1)} min"
    return {"m/s": text.knots, "rad": text.degrees, "rad/s": text.rate}[row.unit](value)
