"""What the exchange and the tests ask, read once from `checklists.toml`, with what the record says of each item."""

import functools
import tomllib
from pathlib import Path
from typing import Any

CHECKLISTS = Path(__file__).parent / "checklists.toml"
EXCHANGE_PARTS = ("ship_tells", "pilot_tells", "agreed")


@functools.cache
def checklists() -> dict[str, Any]:
    """The lists as they stand in the file."""
    return tomllib.loads(CHECKLISTS.read_text("utf-8"))


def tests_for(direction: str) -> str:
    """Which list of tests belongs to a call: before arrival or before departure."""
    return "arrival" if direction == "inward" else "departure"


def item_keys(direction: str) -> dict[str, str]:
    """Every item a record of this call may speak of, as `part.key`, with its words."""
    lists = checklists()
    found = {f"{part}.{item['key']}": item["text"] for part in EXCHANGE_PARTS for item in lists["exchange"][part]}
    tests = tests_for(direction)
    return found | {f"{tests}.{item['key']}": item["text"] for item in lists[tests]["items"]}
