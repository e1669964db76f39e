"""A port call's folder begun: written whole or not at all, never over one that exists."""

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from leadsman.errors import InputError, InputErrors

TEMPLATE = Path(__file__).parent / "new"


def write_new_call(folder: Path) -> list[Path]:
    """A small port call with every key explained, complete enough to be assessed as it stands."""
    inside = sorted(path for path in TEMPLATE.rglob("*") if path.is_file())
    return write_folder(folder, {path.relative_to(TEMPLATE).as_posix(): path.read_bytes() for path in inside})


def write_folder(folder: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write files, by their names inside it, into a folder that does not exist yet.

    Written beside it first, so never half there. `InputErrors` where it exists already or cannot be written.
    """
    must_not_exist(folder)
    beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.absolute().parent))
    try:
        for name, content in files.items():
            (beside / name).parent.mkdir(parents=True, exist_ok=True)
            (beside / name).write_bytes(content)
        beside.chmod(0o755)
        os.rename(beside, folder)
    except OSError as error:
        shutil.rmtree(beside, ignore_errors=True)
        raise InputErrors([InputError(str(folder), None, "", f"cannot be written: {error.strerror}")]) from None
    return sorted(folder / name for name in files)


def must_not_exist(folder: Path) -> None:
    """Refuse a folder that exists already, or one in a folder that does not, with `InputErrors`."""
    if folder.exists():
        raise InputErrors([InputError(str(folder), None, "", "exists already; expected a folder that does not")])
    if not folder.absolute().parent.is_dir():
        raise InputErrors([InputError(str(folder), None, "", "lies in a folder that does not exist; make that first")])
