"""Reads a file with GDAL or HDF5 in a separate process with limits, so that a bad file breaks nothing else."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

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
    request = {"kind": "vector", "layers": None if layers is None else list(layers), "options": dict(options or {})}
    with tempfile.TemporaryDirectory(prefix="leadsman-") as folder:
        return _asked(path, request, Path(folder), limits or Limits())


@dataclass(frozen=True, eq=False)
class Tree:
    """An HDF5 file: attributes by group, arrays and small tables of text by their path."""

    groups: Mapping[str, Mapping[str, Any]]
    arrays: Mapping[str, NDArray[Any]]
    texts: Mapping[str, list[dict[str, str]]]

    def below(self, place: str) -> tuple[str, ...]:
        """Paths of the groups right under this one, in order of their names."""
        head = place.rstrip("/") + "/"
        return tuple(sorted(g for g in self.groups if g != "/" and g.startswith(head) and "/" not in g[len(head) :]))


def read_tree(path: Path, *, limits: Limits | None = None) -> Tree:
    """The groups, attributes and numbers of an HDF5 file; every failure becomes a sentence about the file."""
    limits = limits or Limits(file=300 * MEGABYTE, features=20_000, seconds=30)
    faults = Faults(path)
    with tempfile.TemporaryDirectory(prefix="leadsman-") as folder:
        numbers = Path(folder) / "numbers"
        request = {"kind": "hdf5", "numbers": str(numbers), "values": limits.answer}
        answer = _asked(path, request, Path(folder), limits)
        content = numbers.read_bytes()
    try:
        arrays = {place: _array(content, entry) for place, entry in answer["datasets"].items()}
        return Tree(groups=answer["groups"], arrays=arrays, texts=answer["texts"])
    except (KeyError, TypeError, ValueError, AttributeError):
        raise faults.stop("broke its reader; nothing of it was taken") from None


def _array(content: bytes, entry: Mapping[str, Any]) -> NDArray[Any]:
    """One array out of the numbers that the worker wrote."""
    kind = entry["type"]
    plain = np.dtype(kind if isinstance(kind, str) else [(str(name), str(each)) for name, each in kind])
    part = content[entry["offset"] : entry["offset"] + entry["size"]]
    return np.frombuffer(part, dtype=plain).reshape(entry["shape"])


def _asked(path: Path, request: dict[str, Any], folder: Path, limits: Limits) -> dict[str, Any]:
    """The worker's answer to a request about a file."""
    faults = Faults(path)
    checked_size(path, limits.file)
    place = folder / "answer.json"
    request |= {
        "path": str(path.resolve()),
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
    alone = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "HDF5_USE_FILE_LOCKING": "FALSE"}
    surroundings = {**os.environ, **alone}  # one thread, since each reserves memory
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
