"""The record on its own: entries follow from each other, and any change in one shows."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from leadsman.errors import Impossible
from leadsman.record import BEGIN, Entry, Record, Role, State

NOON = datetime(2031, 5, 4, 12, 0, tzinfo=UTC)


def entry(number: int, previous: str, **changes: object) -> Entry:
    said = {
        "number": number,
        "time": NOON,
        "by": "A. Name",
        "role": Role.PILOT,
        "item": "agreed.window",
        "state": State.AGREED,
        "words": "",
        "plan": "0123456789ab",
        "previous": previous,
    }
    return Entry(**(said | changes))  # type: ignore[arg-type]


def chain(*changes: dict[str, object]) -> Record:
    record = Record()
    for number, change in enumerate(changes, start=1):
        record = Record((*record.entries, entry(number, record.mark, **change)))
    return record


def test_an_empty_record_begins_the_chain() -> None:
    assert Record().mark == BEGIN
    assert Record().latest() == {}


@pytest.mark.parametrize(
    "change",
    [
        {"by": "B. Name"},
        {"words": "later"},
        {"state": State.TOLD},
        {"item": "agreed.tracks"},
        {"role": Role.MASTER},
        {"plan": "x"},
        {"time": NOON.replace(minute=1)},
    ],
)
def test_a_changed_entry_breaks_the_chain_behind_it(change: dict[str, object]) -> None:
    first, second = chain({}, {"item": "agreed.tracks"}).entries
    with pytest.raises(Impossible, match=r"entry 2: carries the mark \w{16} of an entry before it that is now \w{16}"):
        Record((replace(first, **change), second))  # type: ignore[arg-type]


def test_an_entry_taken_out_shows() -> None:
    first, _, third = chain({}, {}, {}).entries
    with pytest.raises(Impossible, match="entry 2: is numbered 3; one was taken out or put in"):
        Record((first, third))


def test_the_last_word_on_an_item_counts_until_it_is_withdrawn() -> None:
    record = chain({}, {"state": State.CHANGED, "words": "no later than 0600"}, {"item": "agreed.tracks"})
    assert record.latest()["agreed.window"].words == "no later than 0600"
    longer = Record((*record.entries, entry(4, record.mark, state=State.WITHDRAWN)))
    assert set(longer.latest()) == {"agreed.tracks"}
    assert [one.number for one in longer.since(2, "agreed.window")] == [4]


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"by": "  "}, "by: is missing; expected the name of who says so"),
        ({"by": "x" * 201}, "by: is 201 letters long; expected a name of at most 200"),
        ({"words": "x" * 2001}, "words: are 2001 letters; expected at most 2000"),
        ({"state": State.REFUSED}, "words: are missing; 'refused' needs to say what or why"),
        ({"words": "\ud800"}, "words: holds half a letter"),
        ({"time": datetime(2031, 5, 4)}, "time: has no zone"),
    ],
)
def test_an_entry_that_says_too_little_or_too_much_is_refused(change: dict[str, object], problem: str) -> None:
    with pytest.raises(Impossible, match=problem):
        entry(1, BEGIN, **change)
