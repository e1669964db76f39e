"""Earlier versions of a call's files, kept in its folder under `.revisions/`, and writing that never loses one.

A revision is named by the content of the files that are drawn and filled in (`call.toml`, `forecast.toml`, `ship.toml`
and what lies in `waterway/`), so that a change by any hand, also by an editor, makes it another one. Who writes names
the revision begun with; if the files are of another by now, nothing is written and `Overtaken` says what changed.
"""

import fcntl
import hashlib
import io
import json
import os
import re
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.files.call_parts import parts_of
from leadsman.files.folder import MAXIMUM_FILE, open_folder
from leadsman.files.overlay import Overlay
from leadsman.files.what_changed import what_changed

FOLDER = ".revisions"
CARD = "ship.toml"
PLAIN = ("call.toml", "forecast.toml", CARD)
UNDERLAY = "waterway/underlay.geojson"  # the chart drawn upon: no part of the call
MOST = 60  # versions kept
LARGEST = 60_000_000  # bytes, of all versions together; the two newest are kept whatever their size
ABOUT = "about.json"

_NAMED = re.compile(r"(\d{6})-([0-9a-f]{16})\.zip")


@dataclass(frozen=True)
class Earlier:
    """One version kept."""

    number: int
    revision: str
    time: str
    words: str
    """What was done to come to it, as the page says it."""


class Overtaken(Impossible):
    """The files are no longer those the writer began with."""


def revision(folder: Path) -> str:
    """The name of the files as they are."""
    return _digest(_contents(folder))


def earlier(folder: Path) -> list[Earlier]:
    """The versions kept, the newest first."""
    found = []
    for path, number, digest in _kept(folder):
        try:
            with zipfile.ZipFile(path) as archive:
                about = json.loads(archive.read(ABOUT))
            found.append(Earlier(number, digest, str(about["time"]), str(about["words"])))
        except (OSError, zipfile.BadZipFile, ValueError, KeyError, TypeError):
            continue  # one that was spoilt cannot be gone back to
    return found[::-1]


def write(folder: Path, files: Mapping[str, bytes], *, began_with: str, words: str) -> str:
    """Write files of a call and give back the new revision; all on disk before this returns.

    Raises
    ------
    Overtaken
        If the folder is no longer at the revision `began_with`: what was changed since, thing by thing.
    """
    with _alone(folder):
        current = _contents(folder)
        _compare(folder, current, began_with)
        return _exchange(folder, current, {**current, **files}, words)


def restore(folder: Path, wanted: str, *, began_with: str) -> str:
    """Make a version kept the one in force; the one in force now is kept too."""
    with _alone(folder):
        current = _contents(folder)
        _compare(folder, current, began_with)
        found = _version(folder, wanted)
        if found is None:
            raise InputErrors([InputError("", None, "revision", f"'{wanted}' is not kept here any more")])
        about = next((one for one in earlier(folder) if one.revision == wanted), None)
        found = {**{name: current[name] for name in (CARD,) if name in current}, **found}  # not in versions of old
        words = f"back to {about.number}: {about.words}" if about else "gone back"
        return _exchange(folder, current, found, words)


def _exchange(folder: Path, current: Mapping[str, bytes], new: Mapping[str, bytes], words: str) -> str:
    """Both versions are kept before a file is touched, so that a stop halfway leaves both whole."""
    if new == current:
        return _digest(current)
    _keep(folder, current, "as found")
    _keep(folder, new, words)
    for name in sorted(set(current) - set(new)):
        (folder / name).unlink()
    for name, content in new.items():
        if current.get(name) != content:
            put_whole(folder / name, content)
    _prune(folder)
    return _digest(new)


def _compare(folder: Path, current: Mapping[str, bytes], began_with: str) -> None:
    if began_with == _digest(current):
        return
    base = _version(folder, began_with)
    told: list[tuple[str, str]] = []
    if base is not None:
        under = open_folder(folder)
        try:
            told = what_changed(parts_of(Overlay(under, base)), parts_of(under))
        except InputErrors:
            told = []
    unseen = "the files of this call were changed since they were read here; nothing was written"
    raise Overtaken(told or [("", unseen)])


def _contents(folder: Path) -> dict[str, bytes]:
    """The files a revision is made of, links and hidden ones left out."""
    paths = [*(folder / name for name in PLAIN), *sorted((folder / "waterway").glob("*"))]
    found = {}
    for path in paths:
        name = path.relative_to(folder).as_posix()
        plain = path.is_file() and not path.is_symlink() and not path.name.startswith(".")
        if plain and name != UNDERLAY and path.stat().st_size <= MAXIMUM_FILE:
            found[name] = path.read_bytes()
    return found


def _digest(contents: Mapping[str, bytes]) -> str:
    whole = hashlib.sha256()
    for name in sorted(contents):
        whole.update(f"{name}\0{len(contents[name])}\0".encode())
        whole.update(contents[name])
    return whole.hexdigest()[:16]


def _kept(folder: Path) -> list[tuple[Path, int, str]]:
    """Path, number and revision of the versions kept, the oldest first."""
    matches = [(path, _NAMED.fullmatch(path.name)) for path in sorted((folder / FOLDER).glob("*.zip"))]
    return [(path, int(match[1]), match[2]) for path, match in matches if match]


def _version(folder: Path, wanted: str) -> dict[str, bytes] | None:
    """The files of a version kept; names come from the archive, so only those a revision may hold are taken."""
    for path, _, digest in reversed(_kept(folder)):
        if digest != wanted:
            continue
        try:
            with zipfile.ZipFile(path) as archive:
                names = [name for name in archive.namelist() if _may_hold(name)]
                contents = {name: archive.read(name) for name in names}
        except (OSError, zipfile.BadZipFile):
            return None
        return contents if _digest(contents) == wanted else None
    return None


def _may_hold(name: str) -> bool:
    return name in PLAIN or bool(re.fullmatch(r"waterway/[^/\\.][^/\\]*", name))


def _keep(folder: Path, contents: Mapping[str, bytes], words: str) -> None:
    """Add a version, unless it is the newest already."""
    kept = _kept(folder)
    digest = _digest(contents)
    if kept and kept[-1][2] == digest:
        return
    place = folder / FOLDER
    place.mkdir(exist_ok=True)
    about = {"time": datetime.now(UTC).replace(microsecond=0).isoformat().replace("+00:00", "Z"), "words": words}
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(ABOUT, json.dumps(about))
        for name, content in contents.items():
            archive.writestr(name, content)
    put_whole(place / f"{(kept[-1][1] if kept else 0) + 1:06d}-{digest}.zip", packed.getvalue())


def _prune(folder: Path) -> None:
    kept = _kept(folder)
    sizes = [path.stat().st_size for path, _, _ in kept]
    while len(kept) > 2 and (len(kept) > MOST or sum(sizes) > LARGEST):
        kept.pop(0)[0].unlink()
        sizes.pop(0)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """One writer at a time, over all processes on this machine."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def put_whole(target: Path, content: bytes) -> None:
    """A file whole or not at all."""
    beside = target.with_name(f".{target.name}.part")
    try:
        target.parent.mkdir(exist_ok=True)
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    except OSError as error:
        raise InputErrors([InputError(str(target), None, "", f"cannot be written: {error.strerror}")]) from None
    finally:
        beside.unlink(missing_ok=True)
