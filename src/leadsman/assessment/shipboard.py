"""Her own papers: the card checked, and the manoeuvres of poster and booklet where the model can do with it."""

from collections.abc import Callable

from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.posted import posted_manoeuvres
from leadsman.assessment.posted_result import Posted, Shipboard
from leadsman.errors import CannotCompute
from leadsman.ship import Loading, Ship

Sail = Callable[[Ship, Loading], Posted]

CARD_STOPS = "the card cannot be true as it stands; the findings of grade stop must be mended first."


def shipboard(ship: Ship, loading: Loading, sail: Sail = posted_manoeuvres) -> Shipboard:
    """Card and manoeuvres of a ship in her loading; `sail` may be one that keeps what it has sailed before."""
    card = checked_card(ship, loading)
    if card.stops:
        return Shipboard(card=card, untried=CARD_STOPS)
    try:
        return Shipboard(card=card, posted=sail(ship, loading))
    except CannotCompute as reason:
        return Shipboard(card=card, untried=f"{reason}.")
