"""A ship's own papers as plain data: card, what was found about it, poster, and her manoeuvres where sailed."""

from typing import Any

from leadsman.assessment.posted_result import Shipboard
from leadsman.documents.card_data import card_data
from leadsman.documents.posted_data import posted_data

Data = dict[str, Any]


def ship_sheets(found: Shipboard) -> Data:
    """Everything card, poster and booklet show."""
    card, posted = found.card, found.posted
    data: Data = card_data(card.ship, card.loading, card.findings, card.figures, card.meanings)
    return data | {"posted": None if posted is None else posted_data(posted), "untried": found.untried}
