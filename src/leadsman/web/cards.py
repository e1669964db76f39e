"""Ship cards as the page's form sends them: checked and completed, or told what cannot be so."""

from collections.abc import Mapping
from dataclasses import replace
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


def beside(data: Mapping[str, Any]) -> dict[str, Any]:
    """Two cards side by side, `one` and `other`; without another: the same ship in her other condition, estimated."""
    from leadsman.assessment.beside import beside
    from leadsman.assessment.checked_card import checked_card
    from leadsman.assessment.conditions import other_condition
    from leadsman.documents.beside_data import beside_data
    from leadsman.errors import InputErrors
    from leadsman.files.card_form import ship_of_form

    cards, faults = [], []
    for name in ("one", "other"):
        if data.get(name) is None:
            continue
        try:
            cards.append(ship_of_form(data[name]))
        except InputErrors as told:
            faults += [replace(one, field=f"{name}.{one.field}") for one in told.errors]
    if faults:
        raise InputErrors(faults)
    first, *rest = cards
    second = rest[0] if rest else (first[0], other_condition(*first))
    return beside_data(beside(checked_card(*first), checked_card(*second), loading_estimated=not rest))
