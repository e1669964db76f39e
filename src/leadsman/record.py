"""What was told, agreed, changed, refused and done on the bridge: entries that are only ever added.

Each entry carries the mark of the one before it and a mark of its own over everything it says, so that a change in any
earlier entry shows in every later mark. Entries cut off from the end leave no trace here: the last number and mark
stand printed on the signed sheet for that.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from hashlib import sha256

from leadsman.errors import refuse

BEGIN = "0" * 16
"""What the first entry carries as the mark before it."""
LONGEST_NAME, LONGEST_WORDS = 200, 2_000  # letters


class State(StrEnum):
    """What happened to an item."""

    TOLD = "told"
    AGREED = "agreed"
    CHANGED = "changed"
    REFUSED = "refused"
    DONE = "done"
    DEFECT = "defect"
    NOTED = "noted"
    WITHDRAWN = "withdrawn"


class Role(StrEnum):
    """In what capacity somebody speaks."""

    MASTER = "master"
    PILOT = "pilot"
    OFFICER = "officer"
    OTHER = "other"


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One line of the record."""

    number: int
    """From 1."""
    time: datetime
    """UTC, to the second."""
    by: str
    role: Role
    item: str
    """Key of the item of exchange or tests it concerns; empty: of none."""
    state: State
    words: str
    """To what it was changed, why refused, what was found; may be empty."""
    plan: str
    """Fingerprint of the assessment in sight when it was said."""
    previous: str
    """Mark of the entry before."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.time.tzinfo is None:
            yield "time", "has no zone; expected a time such as 2031-05-04T06:00:00Z"
        if not self.by.strip():
            yield "by", "is missing; expected the name of who says so"
        if len(self.by) > LONGEST_NAME:
            yield "by", f"is {len(self.by)} letters long; expected a name of at most {LONGEST_NAME}"
        if len(self.words) > LONGEST_WORDS:
            yield "words", f"are {len(self.words)} letters; expected at most {LONGEST_WORDS}"
        for name in ("by", "item", "words", "plan"):
            if not _writable(getattr(self, name)):
                yield name, "holds half a letter (a lone surrogate), which no file can keep"
        needs_words = (State.CHANGED, State.REFUSED, State.DEFECT, State.NOTED)
        if self.state in needs_words and not self.words.strip():
            yield "words", f"are missing; '{self.state}' needs to say what or why"

    @property
    def mark(self) -> str:
        """Sixteen hexadecimal figures over everything this entry says, the mark before it included."""
        return sha256(self.line().encode()).hexdigest()[:16]

    def line(self) -> str:
        """The entry as it stands in the file, one line of JSON with its fields in this order."""
        said = {
            "number": self.number,
            "time": self.time.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"),
            "by": self.by,
            "role": self.role.value,
            "item": self.item,
            "state": self.state.value,
            "words": self.words,
            "plan": self.plan,
            "previous": self.previous,
        }
        return json.dumps(said, ensure_ascii=False, separators=(",", ":"))


def _writable(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


@dataclass(frozen=True)
class Record:
    """All entries of one port call, in the order they were made, each carrying the mark of the one before."""

    entries: tuple[Entry, ...] = ()

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        before = BEGIN
        for place, entry in enumerate(self.entries, start=1):
            if entry.number != place:
                yield f"entry {place}", f"is numbered {entry.number}; one was taken out or put in"
            if entry.previous != before:
                yield f"entry {place}", f"carries the mark {entry.previous} of an entry before it that is now {before}"
            before = entry.mark

    @property
    def mark(self) -> str:
        """Of the last entry: it stands for all of them."""
        return self.entries[-1].mark if self.entries else BEGIN

    def latest(self) -> dict[str, Entry]:
        """The last entry about each item that has not been withdrawn."""
        found: dict[str, Entry] = {}
        for entry in self.entries:
            if entry.item:
                found.pop(entry.item, None)
                if entry.state is not State.WITHDRAWN:
                    found[entry.item] = entry
        return found

    def since(self, number: int, item: str) -> tuple[Entry, ...]:
        """Entries about an item made after the entry of this number: what somebody else said meanwhile."""
        return tuple(entry for entry in self.entries[number:] if entry.item == item)
