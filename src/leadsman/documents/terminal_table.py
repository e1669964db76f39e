"""Tables in a terminal: one look for all, with an empty line above so that they can follow each other."""

from collections.abc import Collection

from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text


def table(title: str, *heads: str, right: Collection[str] = ()) -> Table:
    """A table with its heads; those in `right` have figures, to the right and in one line. No title: no line above."""
    drawn = Table(
        box=SIMPLE_HEAD,
        title=Text(f"\n{title}", style="bold") if title else None,
        title_justify="left",
        caption_justify="left",
        show_edge=False,
        pad_edge=False,
    )
    for head in heads:
        drawn.add_column(head, justify="right" if head in right else "left", no_wrap=head in right)
    return drawn


def keep_whole(drawn: Table, *columns: int) -> None:
    """These columns are not broken into lines."""
    for column in columns:
        drawn.columns[column].no_wrap = True
