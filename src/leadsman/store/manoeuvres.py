"""Manoeuvres of poster and booklet kept on disk: they take seconds to sail and change only with card and program."""

import json
import os
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from pydantic import TypeAdapter

from leadsman.assessment.posted_result import Posted
from leadsman.compiled import cache_root, sources_hash
from leadsman.ship import Loading, Ship

KEPT = TypeAdapter(Posted)
MOST_FILES = 50  # kept; the oldest go first

Sail = Callable[[Ship, Loading], Posted]


def kept(ship: Ship, loading: Loading, sail: Sail) -> Posted:
    """What was sailed for this very card by this very program, else `sail` asked and its answer kept."""
    folder = cache_root() / "manoeuvres"
    program = sources_hash("assessment")
    file = folder / f"{sha256(f'{program} {ship!r} {loading!r}'.encode()).hexdigest()[:24]}.json"
    try:
        return KEPT.validate_python(json.loads(file.read_bytes()))
    except (OSError, ValueError):
        found = sail(ship, loading)
    _keep(file, json.dumps(KEPT.dump_python(found)).encode())
    return found


def _keep(file: Path, content: bytes) -> None:
    """Written beside and renamed, so that nobody reads half a file; a full or closed disk keeps nothing."""
    beside = file.with_name(f"{file.name}.{os.getpid()}.part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        beside.write_bytes(content)
        os.replace(beside, file)
        for old in sorted(file.parent.glob("*.json"), key=lambda path: path.stat().st_mtime)[:-MOST_FILES]:
            old.unlink(missing_ok=True)
    except OSError:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
