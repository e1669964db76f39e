"""Reads a vector file in a separate process, with limits of time and memory, so that a bad file breaks nothing else."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leadsman.files.formats.door import MEGABYTE, Faults, checked_size

WORKER = Path(__file__).with_name("isolated_worker.py")


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What reading one file may take; the defaults are far above what a chart cell of 5 MB takes."""

    file: int = 100 * MEGABYTE
    memory: int = 2_000 * MEGABYTE
    seconds: int = 60
    answer: int = 500 * MEGABYTE
    features: int = 1_000_000


def read_layers(
    path: Path,
    *,
    layers: Sequence[str] | None = None,
    options: Mapping[str, str] | None = None,
    limits: Limits | None = None,
) -> dict[str, Any]:
    """Layers of a vector file as `isolated_worker.read` gives them; every failure becomes a sentence about the file."""
    limits = limits or Limits()
    faults = Faults(path)
    checked_size(path, limits.file)
    with tempfile.TemporaryDirectory(prefix="leadsman-") as folder:
        place = Path(folder) / "answer.json"
        request = {
            "path": str(path.resolve()),
            "layers": None if layers is None else list(layers),
            "options": dict(options or {}),
            "memory": limits.memory,
            "seconds": limits.seconds,
            "output": limits.answer,
            "features": limits.features,
            "answer": str(place),
        }
        outcome = _run(json.dumps(request), limits.seconds, faults)
        if outcome != 0:
            raise faults.stop(_death(outcome, limits))
        answer = _answer(place, limits, faults)
    if "error" in answer:
        raise faults.stop(str(answer["error"]))
    return answer


def _answer(place: Path, limits: Limits, faults: Faults) -> dict[str, Any]:
    """What the worker wrote; it has read a file of unknown hands, so nothing about the answer is taken for granted."""
    try:
        if place.stat().st_size > limits.answer:
            raise faults.stop(f"unpacks to more than {limits.answer / MEGABYTE:.0f} MB")
        answer = json.loads(place.read_bytes())
    except (OSError, ValueError, RecursionError):
        raise faults.stop("broke its reader; nothing of it was taken") from None
    if not isinstance(answer, dict):
        raise faults.stop("broke its reader; nothing of it was taken")
    return answer


def _run(request: str, seconds: int, faults: Faults) -> int:
    """Exit status of the worker; negative: the number of the signal that ended it."""
    surroundings = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}  # each thread reserves memory
    command = [sys.executable, "-P", str(WORKER)]  # -P: modules beside the worker must not hide others of that name
    try:
        done = subprocess.run(
            command,
            input=request.encode(),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=seconds,
            env=surroundings,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise faults.stop(f"took longer than {seconds} s to read; it was given up") from None
    return done.returncode


def _death(outcome: int, limits: Limits) -> str:
    """Why there is no answer, as far as the exit status tells."""
    return (
        f"broke its reader (exit status {outcome}) within {limits.seconds} s and {limits.memory / MEGABYTE:.0f} MB; "
        "nothing of it was taken"
    )
