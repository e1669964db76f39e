"""Ship cards as the page's form sends them: checked and completed, or told what cannot be so."""

from collections.abc import Mapping
from typing import Any


def check(data: Mapping[str, Any]) -> dict[str, Any]:
    """Findings and figures of a card, or its faults: a card half typed is no failure of the question."""
    from leadsman.assessment.checked_card import checked_card
    from leadsman.documents.card_report import card_report
    from leadsman.errors import InputErrors
    from leadsman.files.card_form import ship_of_form

    try:
        card = checked_card(*ship_of_form(data))
    except InputErrors as told:
        faults = [{"file": "", "line": None, "field": one.field, "problem": one.problem} for one in told.errors]
        return card_report("", (), {}, {}) | {"faults": faults}
    return card_report(card.ship.name, card.findings, card.figures, card.meanings, card.changed) | {"faults": []}
