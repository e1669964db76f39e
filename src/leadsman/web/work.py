"""Long work for the page: each piece runs in a process of its own, says how far it is, can be stopped, and keeps its
answer beside the call, so that neither a reload nor a new server loses it.

    CALL/.work/KIND/   asked.json      what was asked, and of which plan
                       progress.json   how far it is, in words
                       answer.json     what came of it, or
                       faults.json     why nothing came of it
                       lock            held by the process as long as it lives: its state needs no other witness
"""

import fcntl
import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock, Thread
from typing import Any

from leadsman.errors import CannotCompute

FOLDER = ".work"
WORKER = (sys.executable, "-m", "leadsman.web.worker")
MOST_AT_ONCE = 1  # each piece uses every core

_starting = Lock()


@dataclass(frozen=True)
class Standing:
    """How a piece of work stands."""

    state: str
    """`none`, `running`, `done`, `failed` or `stopped`."""
    share: float = 0.0
    words: str = ""
    options: Mapping[str, Any] | None = None
    plan: str = ""
    """Fingerprint of the call it was asked for."""
    begun: str = ""


def begin(root: Path, call: Path, kind: str, options: Mapping[str, Any], plan: str) -> None:
    """Start a piece of work for a call; what an earlier one of the kind left is cleared away.

    Raises
    ------
    CannotCompute
        If work is going on already.
    """
    with _starting:
        busy = [place.parent.name for place in _places(root) if _held(place)]
        if len(busy) >= MOST_AT_ONCE:
            raise CannotCompute(f"{busy[0]} is still being worked out; stop that first, or wait for it")
        place = call / FOLDER / kind
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir(parents=True)
        begun = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        asked = {"kind": kind, "options": dict(options), "plan": plan, "begun": begun}
        write(place / "asked.json", asked)
        lock = (place / "lock").open("w")
        fcntl.flock(lock, fcntl.LOCK_EX)
        process = subprocess.Popen(
            [*WORKER, str(call), kind],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            pass_fds=(lock.fileno(),),  # the lock goes over to the process and ends with it
            env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
        )
        lock.write(str(process.pid))
        lock.close()
        Thread(target=process.wait, daemon=True).start()  # so that no ended process lingers


def standing(call: Path, kind: str) -> Standing:
    """How the last piece of work of this kind stands."""
    place = call / FOLDER / kind
    asked = read(place / "asked.json")
    if asked is None:
        return Standing("none")
    running = _held(place / "lock")  # asked first: an answer written meanwhile then still counts
    progress = read(place / "progress.json") or {}
    state, share, words = "stopped", float(progress.get("share", 0.0)), str(progress.get("words", ""))
    if (place / "answer.json").is_file():
        state, share = "done", 1.0
    elif (faults := read(place / "faults.json")) is not None:
        state, words = "failed", "; ".join(fault["problem"] for fault in faults["errors"])
    elif running:
        state = "running"
    return Standing(state, share, words, asked["options"], asked["plan"], asked["begun"])


def answer(call: Path, kind: str) -> bytes | None:
    """What came of it, as written; None while nothing has."""
    try:
        return (call / FOLDER / kind / "answer.json").read_bytes()
    except FileNotFoundError:
        return None


def stop(call: Path, kind: str) -> None:
    """End it, with everything it started; nothing half-written stays."""
    lock = call / FOLDER / kind / "lock"
    if not _held(lock):
        return
    group = int(lock.read_text() or "0")
    if group > 1:
        try:
            os.killpg(group, signal.SIGKILL)
        except ProcessLookupError:
            return
    with lock.open() as handle:
        fcntl.flock(handle, fcntl.LOCK_EX)  # until it is gone


def write(target: Path, data: Mapping[str, Any]) -> None:
    """JSON, beside and then renamed."""
    beside = target.with_name(target.name + ".part")
    beside.write_text(json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":")), "utf-8")
    os.replace(beside, target)


def read(file: Path) -> dict[str, Any] | None:
    """JSON, or None where there is none yet."""
    try:
        found: dict[str, Any] = json.loads(file.read_text("utf-8"))
    except FileNotFoundError:
        return None
    return found


def _places(root: Path) -> list[Path]:
    return [*root.glob(f"{FOLDER}/*/lock"), *root.glob(f"*/{FOLDER}/*/lock")]


def _held(lock: Path) -> bool:
    """Whether the process that was given the lock still lives."""
    try:
        with lock.open() as handle:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except FileNotFoundError:
        return False
    except BlockingIOError:
        return True
    return False
