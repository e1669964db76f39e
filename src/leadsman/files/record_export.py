"""`record.json` as it was written for others: read back and held against its own marks, so that a change shows."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.files.record_file import entry_of
from leadsman.record import BEGIN, Entry, Record

SCHEMA = "leadsman.record/1"
SAID = ("number", "time", "by", "role", "item", "state", "words", "plan")


@dataclass(frozen=True, kw_only=True)
class Exported:
    """A record as it was written for others, with the call and the plan it was written beside."""

    record: Record
    direction: str
    plan: str


def read_export(file: Path) -> Exported:
    """The record in a `record.json`, each entry's mark worked out anew from what the entry says.

    Raises
    ------
    InputErrors
        With every entry whose mark is not that of what it says, with a last mark or number that is not that of the
        entries, and with every item that tells other than the entries do.
    """
    try:
        found = json.loads(file.read_text("utf-8"))
    except OSError:
        raise InputErrors([InputError(file.name, None, "", "cannot be read; expected a record.json")]) from None
    except (ValueError, RecursionError):
        raise InputErrors([InputError(file.name, None, "", "is no JSON; expected a record.json")]) from None
    if not isinstance(found, dict) or found.get("schema") != SCHEMA:
        raise InputErrors([InputError(file.name, None, "schema", f"is not {SCHEMA}; expected a record.json")])
    try:
        entries = tuple(_chained(found["entries"]))
        faults = list(_faults(found, entries))
        record = Record() if faults else Record(entries)
        faults += [] if faults else _items(found, record.latest())
        exported = Exported(record=record, direction=str(found["call"]["direction"]), plan=str(found["plan"]))
    except Impossible as impossible:
        raise InputErrors([InputError(file.name, None, *problem) for problem in impossible.problems]) from None
    except (KeyError, TypeError, AttributeError):
        raise InputErrors([InputError(file.name, None, "", "lacks parts of a record.json")]) from None
    if faults:
        raise InputErrors([InputError(file.name, None, where, f"{why}; it was altered") for where, why in faults])
    return exported


def _chained(entries: list[Mapping[str, Any]]) -> Iterator[Entry]:
    """Each entry, on the mark that the one before it carries in the file."""
    before = BEGIN
    for said in entries:
        yield entry_of({name: said[name] for name in SAID} | {"previous": before})
        before = said["mark"]


def _faults(found: Mapping[str, Any], entries: tuple[Entry, ...]) -> Iterator[tuple[str, str]]:
    for place, (entry, said) in enumerate(zip(entries, found["entries"], strict=True), start=1):
        if entry.mark != said["mark"]:
            yield f"entry {place}", f"carries the mark {said['mark']}, but what it says gives {entry.mark}"
        if entry.number != place:
            yield f"entry {place}", f"is numbered {entry.number}; one was taken out or put in"
    last = entries[-1].mark if entries else BEGIN
    if (found["number"], found["mark"]) != (len(entries), last):
        yield "mark", f"{found['number']} entries marked {found['mark']} are told, but there are {len(entries)}, {last}"


def _items(found: Mapping[str, Any], latest: Mapping[str, Entry]) -> Iterator[tuple[str, str]]:
    """Items that tell other than the last entry about them: what is signed is read there first."""
    for part in found["parts"]:
        for item in part["items"]:
            entry, said = latest.get(item["key"]), item["said"]
            told = None if entry is None else found["entries"][entry.number - 1]
            if (None if said is None else _said(said)) != (None if told is None else _said(told)):
                yield str(item["key"]), "tells other than the last entry about it"


def _said(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {name: entry[name] for name in (*SAID, "mark")}
