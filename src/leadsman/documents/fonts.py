"""The letters of the sheets: from the `weblate-fonts` package, else from inside the typesetter; never the system's.

System fonts differ from machine to machine, and the same call must give the same bytes.
"""

import functools
from importlib.util import find_spec
from pathlib import Path

import typst

SANS = (
    "Source Sans 3",
    "Kurinto Sans",
    "Kurinto Sans SC",
    "Kurinto Sans TC",
    "Kurinto Sans JP",
    "Kurinto Sans KR",
    "Libertinus Serif",
    "DejaVu Sans Mono",
)
"""In the order tried for each letter."""


@functools.cache
def sheet_fonts() -> typst.Fonts:
    """The fonts as the typesetter takes them, scanned once."""
    return typst.Fonts(include_system_fonts=False, font_paths=[str(folder) for folder in _folders()])


@functools.cache
def families() -> tuple[str, ...]:
    """Families at hand, in the order tried."""
    known = set(sheet_fonts().families())
    return tuple(family for family in SANS if family in known)


def _folders() -> list[Path]:
    spec = find_spec("weblate_fonts")
    if spec is None or spec.origin is None:
        return []
    return [Path(spec.origin).parent / "static" / "weblate_fonts"]


def web_letters() -> dict[int, Path]:
    """Weight to file of the letters a page may carry within itself; empty without the package."""
    files = {
        weight: folder / "source-sans" / "woff2" / f"SourceSans3-{name}.ttf.woff2"
        for folder in _folders()
        for weight, name in ((400, "Regular"), (700, "Bold"))
    }
    return {weight: file for weight, file in files.items() if file.is_file()}
