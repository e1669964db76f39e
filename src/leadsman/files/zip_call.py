"""A whole port call in one file, to be e-mailed: the same folder, zipped, equal to the byte for equal files."""

import io
import zipfile
from pathlib import Path

from leadsman.files.folder import CallFolder, open_folder

STAMP = (2000, 1, 1, 0, 0, 0)  # the time a zip must give each file; what the files say is their own
HIDDEN = "."


def zip_call(path: Path) -> bytes:
    """The files of a call's folder (or zip), hidden ones apart, as a zip that reads back as the same call."""
    folder = open_folder(path)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in _kept(folder):
            entry = zipfile.ZipInfo(name, STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, folder.read(name))
    return packed.getvalue()


def _kept(folder: CallFolder) -> list[str]:
    return [name for name in folder.names() if not any(part.startswith(HIDDEN) for part in name.split("/"))]
