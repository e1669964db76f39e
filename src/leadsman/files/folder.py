"""A port call's files, from a folder or the same folder zipped: bounded, and nothing outside it is ever read."""

import os
import stat
import zipfile
from pathlib import Path, PurePosixPath
from typing import Protocol

from leadsman.errors import InputError, InputErrors

MAXIMUM_FILE = 20_000_000  # bytes; a waterway with 50 000 soundings is under 5 MB
MAXIMUM_TOTAL = 100_000_000  # bytes, unpacked, of one zip
MAXIMUM_ENTRIES = 1_000


class CallFolder(Protocol):
    """Where files are read from; names are relative, with forward slashes."""

    def label(self, name: str) -> str:
        """How a file is named in messages."""
        ...

    def exists(self, name: str) -> bool:
        """Whether there is such a file."""
        ...

    def read(self, name: str) -> bytes:
        """The whole file; `InputErrors` if it is missing, too large, or outside the folder."""
        ...

    def names(self) -> tuple[str, ...]:
        """All files, in order."""
        ...


def open_folder(path: Path) -> CallFolder:
    """The folder, or the zip, at a path."""
    if path.is_dir():
        return _Directory(path)
    if path.is_file() and zipfile.is_zipfile(path):
        return _Zip(path)
    if path.exists():
        raise InputErrors(
            [InputError(str(path), None, "", "is neither a folder nor a zip; expected a port call's folder")]
        )
    raise InputErrors([InputError(str(path), None, "", "does not exist; expected a port call's folder or zip")])


def _fault(file: str, problem: str) -> InputErrors:
    return InputErrors([InputError(file, None, "", problem)])


def _megabytes(size: int) -> str:
    return f"{size / 1e6:.0f} MB"


class _Directory:
    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self.shown = root

    def label(self, name: str) -> str:
        return str(self.shown / name)

    def exists(self, name: str) -> bool:
        return (self.root / name).exists()

    def read(self, name: str) -> bytes:
        path = self.root / name
        try:
            resolved = path.resolve(strict=True)
        except OSError:
            raise _fault(self.label(name), "is missing; expected this file in the port call's folder") from None
        if not resolved.is_relative_to(self.root):
            raise _fault(self.label(name), "leads out of the port call's folder; expected a file inside it")
        try:
            with open(os.open(resolved, os.O_RDONLY | os.O_NONBLOCK), "rb") as file:  # a pipe would block for ever
                status = os.fstat(file.fileno())
                if not stat.S_ISREG(status.st_mode):
                    raise _fault(self.label(name), "is no plain file")
                if status.st_size > MAXIMUM_FILE:
                    raise _fault(
                        self.label(name),
                        f"is {_megabytes(status.st_size)}; expected at most {_megabytes(MAXIMUM_FILE)}",
                    )
                return file.read(MAXIMUM_FILE + 1)
        except OSError as error:
            raise _fault(self.label(name), f"cannot be read: {error.strerror}") from None

    def names(self) -> tuple[str, ...]:
        found = sorted(path for path in self.root.rglob("*") if path.is_file() and not path.is_symlink())
        return tuple(path.relative_to(self.root).as_posix() for path in found[:MAXIMUM_ENTRIES])


class _Zip:
    """The same folder zipped, with or without one outer folder. Sizes are checked before anything is unpacked."""

    def __init__(self, path: Path) -> None:
        self.shown = path
        try:
            self.archive = zipfile.ZipFile(path)
        except (zipfile.BadZipFile, OSError) as error:
            raise _fault(str(path), f"cannot be read as a zip: {error}") from None
        entries = [entry for entry in self.archive.infolist() if not entry.is_dir()]
        if len(entries) > MAXIMUM_ENTRIES:
            raise _fault(str(path), f"holds {len(entries)} files; expected at most {MAXIMUM_ENTRIES}")
        total = sum(entry.file_size for entry in entries)
        if total > MAXIMUM_TOTAL:
            raise _fault(str(path), f"unpacks to {_megabytes(total)}; expected at most {_megabytes(MAXIMUM_TOTAL)}")
        for entry in entries:
            parts = PurePosixPath(entry.filename).parts
            if entry.filename.startswith("/") or ".." in parts or "\\" in entry.filename:
                raise _fault(
                    str(path), f"holds '{entry.filename}', which leads out of the folder; expected names inside it"
                )
        outer = {PurePosixPath(entry.filename).parts[0] for entry in entries if "/" in entry.filename}
        lone = len(outer) == 1 and all("/" in entry.filename for entry in entries)
        prefix = f"{outer.pop()}/" if lone and f"{min(outer)}/call.toml" in self.archive.namelist() else ""
        self.entries = {entry.filename[len(prefix) :]: entry for entry in entries}

    def label(self, name: str) -> str:
        return f"{self.shown}/{name}"

    def exists(self, name: str) -> bool:
        return name in self.entries

    def read(self, name: str) -> bytes:
        if name not in self.entries:
            raise _fault(self.label(name), "is missing; expected this file in the port call's folder")
        entry = self.entries[name]
        if entry.file_size > MAXIMUM_FILE:
            raise _fault(
                self.label(name), f"is {_megabytes(entry.file_size)}; expected at most {_megabytes(MAXIMUM_FILE)}"
            )
        try:
            with self.archive.open(entry) as file:
                data = file.read(MAXIMUM_FILE + 1)  # the stated size may lie: what is read is bounded too
        except (zipfile.BadZipFile, OSError, RuntimeError, NotImplementedError) as error:
            raise _fault(self.label(name), f"cannot be unpacked: {error}") from None
        if len(data) > MAXIMUM_FILE:
            raise _fault(self.label(name), f"unpacks to more than {_megabytes(MAXIMUM_FILE)}")
        return data

    def names(self) -> tuple[str, ...]:
        return tuple(sorted(self.entries))
