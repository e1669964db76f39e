"""The slip benchmark of the ship card as `make validate` runs it: writes docs/validation/card.md."""

from card_slips import write


def main() -> None:
    write()
