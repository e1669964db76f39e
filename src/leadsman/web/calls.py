"""The port calls in a folder, read and prepared once and kept while their files stay as they are."""

from collections import OrderedDict
from dataclasses import dataclass, field
from datetime import datetime
from itertools import islice, takewhile
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Annotated, Any

from fastapi import Path as InPath
from fastapi import Request

from leadsman.errors import CannotCompute, LeadsmanError
from leadsman.manner import Manner, in_force
from leadsman.portcall import PortCall

if TYPE_CHECKING:
    from leadsman.assessment.prepare import Prepared

KEPT = 8  # prepared calls; one of example 1's size holds a few megabytes

CallName = Annotated[str, InPath(description="the name of the call's folder, as listed", max_length=200)]

Stamp = tuple[tuple[str, int, int], ...]


class NoSuchCall(LeadsmanError):
    """There is no port call or ship card of this name in the folder served."""


@dataclass
class _Entry:
    """One call as read; the lock lets one request prepare it while the others wait for that."""

    stamp: Stamp
    lock: Lock = field(default_factory=Lock)
    call: PortCall | None = None
    prepared: "Prepared | None" = None


class Calls:
    """Port calls by the name of their folder: the folders of `root` that hold a `call.toml`, or `root` itself."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self._entries: OrderedDict[tuple[str, Manner | None], _Entry] = OrderedDict()
        self._lock = Lock()

    def names(self) -> list[str]:
        """All port calls, in alphabetical order."""
        return sorted(self._folders())

    def about(self) -> dict[str, str]:
        """One sentence on each call: the first of the remarks at the head of its `call.toml`, else its name there."""
        return {name: _sentence(folder / "call.toml") for name, folder in self._folders().items()}

    def _folders(self, holding: str = "call.toml") -> dict[str, Path]:
        """What can be opened: a name from outside is looked up here, never joined to a path."""
        if (self.root / holding).is_file():
            return {self.root.name: self.root}
        if not self.root.is_dir():
            return {}
        return {
            folder.name: folder
            for folder in self.root.iterdir()
            if folder.resolve().is_relative_to(self.root) and (folder / holding).is_file()
        }

    def assess(self, name: str, start: datetime | None) -> dict[str, Any]:
        """The assessment of a call as plain data, for its own start or another one."""
        from leadsman.assessment.assess import assess
        from leadsman.documents.data import assessment_data

        call, prepared = self.at(name, start)
        return assessment_data(assess(call, prepared))

    def at(self, name: str, start: datetime | None) -> tuple[PortCall, "Prepared"]:
        """A call for its own start or another one, and what is prepared of it."""
        call, prepared = self._prepared(name)
        if start is not None and start != call.start:
            if not call.search_begin <= start <= call.search_end:
                raise CannotCompute(
                    f"a start at {start:%Y-%m-%dT%H:%M:%SZ} lies outside the search of this call; expected a time from "
                    f"{call.search_begin:%Y-%m-%dT%H:%M:%SZ} to {call.search_end:%Y-%m-%dT%H:%M:%SZ}"
                )
            call = call.starting(start)
        return call, prepared

    def card(self, name: str) -> dict[str, Any]:
        """The ship card in a folder, in the shape of `ship.toml`, and the revision of the files beside it.

        `InputErrors` where the file has faults.
        """
        from leadsman.files.call_files import read_ship
        from leadsman.files.folder import open_folder
        from leadsman.files.revisions import revision
        from leadsman.files.toml_file import read_toml

        folder = self.folder(name, holding="ship.toml")
        read_ship(folder)
        return {"card": dict(read_toml(open_folder(folder), "ship.toml").data), "revision": revision(folder)}

    def read(self, name: str) -> PortCall:
        """The port call as its files say."""
        return self._prepared(name)[0]

    def folder(self, name: str, holding: str = "call.toml") -> Path:
        """Where a call, or a ship card, lies."""
        folders = self._folders(holding)
        if name not in folders:
            what = "port call" if holding == "call.toml" else "ship card"
            known = ", ".join(sorted(folders)) or "none is here"
            raise NoSuchCall(f"there is no {what} '{name}' here; expected one of {known}")
        return folders[name]

    def _prepared(self, name: str) -> tuple[PortCall, "Prepared"]:
        from leadsman.assessment.prepare import prepare
        from leadsman.files.call_files import read_call

        folder = self.folder(name)
        entry = self._entry(name, _stamp(folder))
        with entry.lock:
            if entry.prepared is None or entry.call is None:
                entry.call = read_call(folder)
                entry.prepared = prepare(entry.call)
            return entry.call, entry.prepared

    def _entry(self, name: str, stamp: Stamp) -> _Entry:
        with self._lock:
            key = (name, in_force())  # what is prepared holds sentences too
            entry = self._entries.get(key)
            if entry is None or entry.stamp != stamp:
                entry = self._entries[key] = _Entry(stamp)
            self._entries.move_to_end(key)
            while len(self._entries) > KEPT:
                self._entries.popitem(last=False)
            return entry


def _sentence(file: Path) -> str:
    """What a call is, as far as the first lines of its file tell; they need not be TOML that can be read."""
    try:
        with file.open(encoding="utf-8", errors="replace") as lines:
            head = [line.strip() for line in islice(lines, 40)]
    except OSError:
        return ""
    remarks = " ".join(line.lstrip("# ") for line in takewhile(lambda line: line.startswith("#"), head))
    if remarks:
        return remarks.split(". ")[0].rstrip(".") + "."
    named = next((line for line in head if line.startswith("name = ")), "")
    return named.removeprefix("name = ").strip("\"'")


def calls_of(request: Request) -> Calls:
    """The calls this server serves."""
    found: Calls = request.app.state.calls
    return found


def _stamp(folder: Path) -> Stamp:
    """Changes whenever a file of the call changes; what is said about the call, or kept beside it, is none of them."""
    found = []
    for path in sorted(folder.rglob("*")):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if hidden or path.name.startswith("record.jsonl"):
            continue
        status = path.lstat()
        found.append((path.relative_to(folder).as_posix(), status.st_mtime_ns, status.st_size))
    return tuple(found)
