"""`leadsman new`: a small port call with every key explained, complete enough to be assessed as it stands."""

import os
import shutil
import tempfile
from pathlib import Path

from leadsman.errors import InputError, InputErrors

TEMPLATE = Path(__file__).parent / "new"


def write_new_call(folder: Path) -> list[Path]:
    """Write the files into a folder that does not exist yet; written beside it first, so never half there."""
    if folder.exists():
        raise InputErrors([InputError(str(folder), None, "", "exists already; expected a folder that does not")])
    if not folder.absolute().parent.is_dir():
        raise InputErrors([InputError(str(folder), None, "", "lies in a folder that does not exist; make that first")])
    beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.absolute().parent))
    try:
        shutil.copytree(TEMPLATE, beside, dirs_exist_ok=True)
        beside.chmod(0o755)
        os.rename(beside, folder)
    except OSError as error:
        shutil.rmtree(beside, ignore_errors=True)
        raise InputErrors([InputError(str(folder), None, "", f"cannot be written: {error.strerror}")]) from None
    return sorted(path for path in folder.rglob("*") if path.is_file())
