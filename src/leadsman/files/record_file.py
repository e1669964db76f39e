"""`record.jsonl` in a port call's folder: one entry a line, only ever added to; read whole, checked against itself."""

import fcntl
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.files.folder import CallFolder, open_folder
from leadsman.record import Entry, Record, Role, State

Kind = TypeVar("Kind", State, Role)

NAME = "record.jsonl"
FIELDS = ("number", "time", "by", "role", "item", "state", "words", "plan", "previous")


def read_record(folder: CallFolder) -> Record:
    """The record of a call, empty if there is none yet.

    Raises
    ------
    InputErrors
        With the line of every entry that is none, or that does not follow from the one before it.
    """
    if not folder.exists(NAME):
        return Record()
    label = folder.label(NAME)
    try:
        lines = folder.read(NAME).decode("utf-8").split("\n")  # not splitlines: words may hold other line breaks
    except UnicodeDecodeError:
        raise InputErrors([InputError(label, None, "", "is not UTF-8 text; expected one entry a line")]) from None
    entries, faults = [], []
    for number, line in enumerate(lines if lines[-1] else lines[:-1], start=1):
        try:
            entries.append(_entry(line))
        except Impossible as impossible:
            faults += [InputError(label, number, field, problem) for field, problem in impossible.problems]
    if faults:
        raise InputErrors(faults)
    try:
        return Record(tuple(entries))
    except Impossible as impossible:
        raise InputErrors(
            [
                InputError(label, int(place.removeprefix("entry ")), "", f"{problem}; the record has been altered")
                for place, problem in impossible.problems
            ]
        ) from None


def add_entry(
    folder: Path,
    *,
    by: str,
    role: Role,
    item: str,
    state: State,
    words: str,
    plan: str,
    seen: int | None = None,
    time: datetime | None = None,
) -> Record:
    """Add one entry and give back the whole record; on disk before this returns.

    `seen` is the number of the last entry its author knew: if somebody has spoken about the same item since, nothing is
    added and `Overtaken` says what. The whole is written beside and renamed, under a lock on the folder, so that two
    authors never lose each other's line and a crash leaves no half line.
    """
    with _alone(folder):
        record = read_record(open_folder(folder))
        meanwhile = () if seen is None else record.since(seen, item)
        if meanwhile:
            raise Overtaken(record, meanwhile[-1])
        entry = Entry(
            number=len(record.entries) + 1,
            time=(time or datetime.now(UTC)).astimezone(UTC).replace(microsecond=0),
            by=by.strip(),
            role=role,
            item=item,
            state=state,
            words=words.strip(),
            plan=plan,
            previous=record.mark,
        )
        longer = Record((*record.entries, entry))
        _write(folder / NAME, "".join(one.line() + "\n" for one in longer.entries))
        return longer


class Overtaken(Impossible):
    """Somebody else has spoken about the same item since its author looked."""

    def __init__(self, record: Record, by: Entry) -> None:
        self.record = record
        super().__init__(
            [("item", f"{by.by} ({by.role}) has since said '{by.state}' of it in entry {by.number}; read that first")]
        )


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """One author at a time, over all processes on this machine."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _write(target: Path, text: str) -> None:
    beside = target.with_name(target.name + ".part")
    try:
        with beside.open("w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)


def _entry(line: str) -> Entry:
    try:
        said = json.loads(line)
    except (json.JSONDecodeError, RecursionError):
        raise Impossible([("", "is no entry; expected one line of JSON")]) from None
    if not isinstance(said, dict) or tuple(said) != FIELDS:
        raise Impossible([("", f"is no entry; expected the fields {', '.join(FIELDS)}, in this order")])
    return entry_of(said)


def entry_of(said: dict[str, Any]) -> Entry:
    """An entry from its fields as JSON has them; `Impossible` names the field that cannot be."""
    return Entry(
        number=_whole(said["number"]),
        time=_time(said["time"]),
        by=_text(said, "by"),
        role=_one_of(Role, said, "role"),
        item=_text(said, "item"),
        state=_one_of(State, said, "state"),
        words=_text(said, "words"),
        plan=_text(said, "plan"),
        previous=_text(said, "previous"),
    )


def _whole(value: Any) -> int:
    if isinstance(value, int) and not isinstance(value, bool) and value > 0:
        return value
    raise Impossible([("number", f"{value!r} is no number of an entry; expected 1, 2, 3 ...")])


def _time(value: Any) -> datetime:
    try:
        return datetime.fromisoformat(str(value))
    except ValueError:
        raise Impossible([("time", f"{value!r} is no time; expected such as 2031-05-04T06:00:00Z")]) from None


def _text(said: dict[str, Any], field: str) -> str:
    value = said[field]
    if isinstance(value, str):
        return value
    raise Impossible([(field, f"{value!r} is no text")])


def _one_of(kind: type[Kind], said: dict[str, Any], field: str) -> Kind:
    try:
        return kind(said[field])
    except ValueError:
        known = ", ".join(one.value for one in kind)
        raise Impossible([(field, f"{said[field]!r} is not known; expected one of {known}")]) from None
