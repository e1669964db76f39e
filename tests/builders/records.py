"""A record of a call as the pilot keeps it, entry chained to entry."""

from collections.abc import Iterable
from datetime import UTC, datetime

from leadsman.record import Entry, Record, Role, State


def recorded(said: Iterable[tuple[str, State, str]], plan: str = "an older one") -> Record:
    """Each item with its state and words, told by one pilot at one time about a `plan`."""
    record = Record()
    for item, state, words in said:
        entry = Entry(
            number=len(record.entries) + 1,
            time=datetime(2031, 5, 4, 4, 10, tzinfo=UTC),
            by="Ann Example",
            role=Role.PILOT,
            item=item,
            state=state,
            words=words,
            plan=plan,
            previous=record.mark,
        )
        record = Record((*record.entries, entry))
    return record
