"""Widths, bends and where to begin to slow, as a terminal shows them."""

from rich.console import Group

from leadsman.assessment.result import Assessment
from leadsman.documents.side_data import side_data
from leadsman.documents.terminal_table import table as headed

LEFT_OUT = {"Lanes", "Bend guideline", "Most is asked, in beams, by", "Turn", "Stream", "Sets her in a swing"}
"""Columns a terminal has no room for; paper, page and `--json` have them."""


def sides_screen(assessment: Assessment) -> Group:
    """The tables of `side_data`, each only where it has a row."""
    tables = []
    for one in side_data(assessment)["side_tables"]:
        shown = [index for index, head in enumerate(one["heads"]) if head not in LEFT_OUT]
        table = headed(one["title"], *(one["heads"][index].lower() for index in shown))
        for row in one["rows"]:
            table.add_row(*(row[index] for index in shown))
        tables.append(table)
    return Group(*tables)
