"""What was found about a card and what computation makes of it, as plain data (`leadsman.checked-card/1`)."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.card_data import figure_words
from leadsman.documents.data import findings_data
from leadsman.figure import Figure, Finding

SCHEMA = "leadsman.checked-card/1"


def card_report(
    name: str, findings: Sequence[Finding], figures: Mapping[str, Figure], meanings: Mapping[str, str]
) -> dict[str, Any]:
    """Findings, the heaviest first, and every figure: SI number and unit, and as written for people."""
    rows = [
        {"name": key, "value": figure.value, "unit": figure.unit} | figure_words(figure, meanings.get(key, ""))
        for key, figure in figures.items()
    ]
    return findings_data(name, findings) | {"schema": SCHEMA, "figures": rows}
