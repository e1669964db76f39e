"""What was found about a card and what computation makes of it, as plain data (`leadsman.checked-card/1`)."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman import format as text
from leadsman.assessment.card_result import Change
from leadsman.documents.card_data import figure_words
from leadsman.documents.data import findings_data
from leadsman.figure import Figure, Finding

SCHEMA = "leadsman.checked-card/1"
NOT_KNOWN = "not known"


def card_report(
    name: str,
    findings: Sequence[Finding],
    figures: Mapping[str, Figure],
    meanings: Mapping[str, str],
    changed: Mapping[str, Change] | None = None,
) -> dict[str, Any]:
    """Findings, the heaviest first, every figure in SI and as written for people, and what own figures change."""
    rows = [
        {"name": key, "value": figure.value, "unit": figure.unit} | figure_words(figure, meanings.get(key, ""))
        for key, figure in figures.items()
    ]
    changes = change_rows(changed or {})
    return findings_data(name, findings) | {"schema": SCHEMA, "figures": rows, "changes": changes}


def change_rows(changed: Mapping[str, Change]) -> list[dict[str, Any]]:
    """What own figures change: without them, with them, and by how much; `own` marks the own figures themselves."""
    return [_change(name, *pair) for name, pair in changed.items()]


def _change(name: str, before: Figure | None, after: Figure | None) -> dict[str, Any]:
    either = after or before
    assert either is not None, "a change has at least one side"
    words = {
        side: {"text": NOT_KNOWN, "band": "", "origin": ""} if figure is None else figure_words(figure, "")
        for side, figure in (("before", before), ("after", after))
    }
    return {
        "name": name,
        "label": figure_words(either, "")["label"],
        "before": f"{words['before']['text']} {words['before']['band']}".strip(),
        "before_origin": words["before"]["origin"],
        "after": words["after"]["text"],
        "by": _by(before, after),
        "own": after is not None and after.source.startswith("own figure"),
    }


def _by(before: Figure | None, after: Figure | None) -> str:
    """How much more or less, in percent of what it was; nothing where that says nothing."""
    if before is None or after is None or before.value <= 0.0 or after.value < 0.0:
        return ""
    percent = 100.0 * (after.value / before.value - 1.0)
    words = text.number(percent, 0 if abs(percent) >= 10.0 else 1)
    return f"{'+' if percent > 0.0 else ''}{words} %" if abs(percent) >= 0.05 else ""
