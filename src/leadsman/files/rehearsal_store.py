"""Runs of a rehearsal kept beside the call they belong to, so that a stopped one goes on where it was."""

import os
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

FOLDER = ".rehearsals"
MOST_FILES = 20  # kept; the oldest go first


class RehearsalStore:
    """A hidden folder in the call's; arrays by a key that changes with call, program, seed and spreads."""

    def __init__(self, call: Path) -> None:
        self.folder = call / FOLDER

    def load(self, key: str) -> dict[str, NDArray[Any]]:
        """The arrays kept under a key; empty where there are none, or a file that cannot be read."""
        try:
            with np.load(self._file(key), allow_pickle=False) as found:
                return {name: found[name] for name in found.files}
        except (OSError, ValueError, zipfile.BadZipFile):
            return {}

    def save(self, key: str, arrays: Mapping[str, NDArray[Any]]) -> None:
        """Keep arrays under a key, written beside and renamed, so that no half-written file is ever read."""
        self.folder.mkdir(exist_ok=True)
        beside = self.folder / f"{key}.part"
        with beside.open("wb") as file:
            np.savez(file, allow_pickle=False, **arrays)
        os.replace(beside, self._file(key))
        for old in sorted(self.folder.glob("*.npz"), key=lambda path: path.stat().st_mtime)[:-MOST_FILES]:
            old.unlink()

    def _file(self, key: str) -> Path:
        return self.folder / f"{key}.npz"
