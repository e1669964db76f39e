"""Two cards side by side as plain data (`leadsman.beside/1`) and as tables for a terminal."""

from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.card_result import Beside, CheckedCard, Pair
from leadsman.documents.card_data import NOT_GIVEN, Data, card_data, figure_words
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.terminal import WIDTH
from leadsman.documents.terminal_table import table as headed
from leadsman.figure import Grade

SCHEMA = "leadsman.beside/1"
DIFFERENT, UNSURE = "≠", "~"
MARKS = f"{DIFFERENT} differs; {UNSURE} differs by less than its bands, one standard deviation each."
GROUPS = {"head": "The ship today", "particulars": "Particulars", "engine": "Engine", "steering": "Steering"}
NOT_KNOWN = {"text": "not known", "band": "", "origin": ""}


def beside_data(two: Beside) -> Data:
    """Both cards line by line, every figure of both, and what the differences mean."""
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "called": list(two.called),
        "about": [_about(two.one, False), _about(two.other, two.loading_estimated)],
        "remarks": [{"name": one.name, "sentence": one.sentence} for one in two.remarks],
        "groups": _groups(two),
        "figures": [_figure(pair) for pair in two.pairs],
        "marks": MARKS,
    }


def _about(card: CheckedCard, estimated: bool) -> str:
    """One line under the name: what she is and how she floats."""
    loading = card.loading
    counts = [(grade.value, sum(one.grade is grade for one in card.findings)) for grade in Grade]
    found = ", ".join(f"{number} {word}{'s' if number > 1 else ''}" for word, number in counts if number)
    ends = f"{text.metres(loading.draught_forward)} forward, {text.metres(loading.draught_aft)} aft"
    kind = card.ship.kind.value.replace("_", " ")
    how = " (draughts estimated, as usual in that condition)" if estimated else ""
    return f"{kind}, {loading.condition}, {ends}{how}; {found or 'nothing'} found on her card"


def _groups(two: Beside) -> list[Data]:
    one, other = (card_data(c.ship, c.loading, c.findings, {}, {}) for c in (two.one, two.other))
    groups = [{"title": title, "rows": _rows(one[name], other[name])} for name, title in GROUPS.items()]
    orders = _rows(_order_rows(one), _order_rows(other))
    return [*groups, {"title": "Engine orders: setting, loaded and ballast speed in knots", "rows": orders}]


def _order_rows(data: Data) -> list[Data]:
    return [
        {"label": line["order"], "text": f"{line['setting']}; {line['loaded']}; {line['ballast']}"}
        for line in data["orders"]
    ]


def _rows(one: list[Data], other: list[Data]) -> list[Data]:
    """Lines of the same label beside each other, in the order of the first card; what only one has says so."""
    left, right = ({row["label"]: row["text"] for row in rows} for rows in (one, other))
    labels = [*left, *(label for label in right if label not in left)]
    rows = [(label, left.get(label, NOT_GIVEN), right.get(label, NOT_GIVEN)) for label in labels]
    return [{"label": a, "one": b, "other": c, "mark": DIFFERENT if b != c else ""} for a, b, c in rows]


def _figure(pair: Pair) -> Data:
    sides = [NOT_KNOWN if side is None else figure_words(side, "") for side in (pair.one, pair.other)]
    label = next(side for side in sides if side is not NOT_KNOWN)["label"]
    shown = [{key: side[key] for key in ("text", "band", "origin")} for side in sides]
    mark = (DIFFERENT if pair.certain else UNSURE) if pair.differs else ""
    return {"name": pair.name, "label": label, "one": shown[0], "other": shown[1], "mark": mark}


def print_beside(two: Beside, everything: bool = False) -> None:
    """What the differences mean, then the lines and figures that differ, or all of them."""
    data = beside_data(two)
    console = Console(width=WIDTH, highlight=False)
    for name, about in zip(data["called"], data["about"], strict=True):
        console.print(Text(name, style="bold").append(f": {about}", style="not bold"))
    console.print()
    for remark in data["remarks"]:
        console.print(Padding(Text(f"· {remark['sentence']}"), (0, 0, 0, 1)))
    lines: list[tuple[str, list[Any]]] = [(group["title"], group["rows"]) for group in data["groups"]]
    figures = [{**row, "one": _side(row["one"]), "other": _side(row["other"])} for row in data["figures"]]
    for title, rows in [*lines, ("What computation takes", figures)]:
        shown = [row for row in rows if everything or row["mark"]]
        if shown:
            console.print(_table(title, data["called"], shown))
    equal = sum(not row["mark"] for _, rows in [*lines, ("", figures)] for row in rows)
    console.print(Text(MARKS + ("" if everything else f" {equal} lines are equal and not shown; --all shows them.")))
    console.print(Text(SHORT_CAUTION, style="italic"))


def _side(side: Data) -> str:
    origin = "" if side["origin"] in ("given", "") else f" {side['origin']}"
    return f"{side['text']} {side['band']}".strip() + origin


def _table(title: str, called: list[str], rows: list[Any]) -> Table:
    table = headed(title, "", "", *called)
    table.width = WIDTH
    for row in rows:
        table.add_row(row["mark"], row["label"], row["one"], row["other"])
    return table
