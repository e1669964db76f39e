"""Widths, bends and where to begin to slow, as a terminal shows them."""

from rich.box import SIMPLE_HEAD
from rich.console import Group
from rich.table import Table

from leadsman.assessment.result import Assessment
from leadsman.documents.side_data import side_data

LEFT_OUT = {"Lanes", "Bend guideline", "Most is asked, in beams, by", "Turn", "Stream", "Sets her in a swing"}
"""Columns a terminal has no room for; paper, page and `--json` have them."""


def sides_screen(assessment: Assessment) -> Group:
    """The tables of `side_data`, each only where it has a row."""
    tables = []
    for one in side_data(assessment)["side_tables"]:
        table = Table(box=SIMPLE_HEAD, title=one["title"], title_justify="left", pad_edge=False)
        shown = [index for index, head in enumerate(one["heads"]) if head not in LEFT_OUT]
        for index in shown:
            table.add_column(one["heads"][index].lower())
        for row in one["rows"]:
            table.add_row(*(row[index] for index in shown))
        tables.append(table)
    return Group(*tables)
