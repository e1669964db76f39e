"""Ship cards: checked alone, checked and completed, and ten thousand of them on two cores."""

import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "studies"))

from card_designs import cards

from leadsman.assessment.card import check_card
from leadsman.assessment.checked_card import checked_card
from leadsman.ship import Loading, Ship

SEED, TOTAL, CORES, BATCHES = 20260501, 10_000, 2, 40
Card = tuple[Ship, Loading]


def timed(action: Callable[[Ship, Loading], object], batch: list[Card]) -> float:
    """Seconds for a batch of cards."""
    begin = time.perf_counter()
    for ship, loading in batch:
        action(ship, loading)
    return time.perf_counter() - begin


def checked(batch: list[Card]) -> int:
    """How many of a batch carry a stop; all of them checked and completed."""
    return sum(checked_card(*card).stops for card in batch)


def main() -> None:
    some = [(card.ship, card.loading) for card in cards(SEED)]
    for action in (check_card, checked_card):
        timed(action, some)  # tables are read once
    alone = min(timed(check_card, some) for _ in range(3)) / len(some)
    whole = min(timed(checked_card, some) for _ in range(3)) / len(some)
    print(f"check a card               {1000 * alone:6.3f} ms  without estimates")
    print(f"check and complete a card  {1000 * whole:6.3f} ms  {whole / alone:5.2f} x the checks alone")
    many = [some[number % len(some)] for number in range(TOTAL)]
    batches = [many[first::BATCHES] for first in range(BATCHES)]
    with ProcessPoolExecutor(CORES) as pool:
        list(pool.map(checked, [some[:1]] * CORES))
        begin = time.perf_counter()
        stops = sum(pool.map(checked, batches))
        taken = time.perf_counter() - begin
    share = TOTAL * whole / taken
    print(f"10 000 cards on {CORES} cores    {taken:6.3f} s   {share:5.2f} x one core; {stops} with a stop")


if __name__ == "__main__":
    main()
