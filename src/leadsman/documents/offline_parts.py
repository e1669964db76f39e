"""What the parts of the offline page are made of: headings, tables, drawings; every word of a call is escaped here."""

import re
from collections.abc import Iterable, Sequence
from html import escape

FAMILIES = ("Source Sans 3", "Arial Narrow", "Liberation Sans Narrow", "sans-serif")
WIDTH = 184.0  # mm of the drawings' own paper; the page stretches them to the screen

Cells = Sequence[str]


def heading(words: str, level: int = 2) -> str:
    """A heading; the first level begins a part that the list of parts leads to."""
    name = f' id="{part_name(words)}"' if level == 1 else ""
    return f"\n<h{level}{name}>{escape(words)}</h{level}>\n"


def part_name(words: str) -> str:
    """The heading of a part as the name of its place on the page."""
    return "-".join("".join(letter if letter.isalnum() else " " for letter in words.lower()).split())


def paragraph(words: str, kind: str = "") -> str:
    """A paragraph of plain words."""
    return f'<p class="{kind}">{escape(words)}</p>' if kind else f"<p>{escape(words)}</p>"


def unbroken(words: str) -> str:
    """A figure that keeps its unit on its line."""
    return words.replace(" ", "\u00a0")


def source_words(source: str) -> str:
    """A source as a reader has it: a page of this program's methods by its name."""
    named = re.sub(r"docs/methods/(\w+)\.md", r"our method, page \1", source)
    return re.sub(r"water\.md [\d.]+(, )?", "", named).replace("_", " ")


def drawing(svg: str, words: str) -> str:
    """A drawing and what it shows, in words."""
    return f'<figure role="img" aria-label="{escape(words)}">{svg}</figure>'


def table(heads: Cells, rows: Iterable[Cells], close: bool = False) -> str:
    """A table that scrolls by itself where it is wider than the screen; `close` where it has many columns of words."""
    body = "".join(f"<tr>{''.join(map(_cell, row))}</tr>\n" for row in rows)
    if not body:
        return "<p>None.</p>"
    head = "".join(f'<th scope="col">{escape(words)}</th>' for words in heads)
    head = f"<thead><tr>{head}</tr></thead>" if any(heads) else ""
    kind = "wide close" if close else "wide"
    return f'<div class="{kind}" tabindex="0"><table>{head}<tbody>\n{body}</tbody></table></div>'


def _cell(words: str) -> str:
    """Figures stay on one line; sentences get room."""
    short = len(words) <= 14 and any(letter.isdigit() for letter in words)
    kind = ' class="figure"' if short else ' class="words"' if len(words) > 24 else ""
    return f"<td{kind}>{escape(words)}</td>"
