"""From templates and plain data to a tagged PDF; what no font at hand has is spelt out; files are written whole."""

import os
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import typst

from leadsman.documents.fonts import sheet_fonts
from leadsman.documents.letters import spelt_out, unprintable, without_font

TEMPLATES = Path(__file__).parent / "templates"
STANDARDS: "list[typst.PDFStandard]" = ["ua-1", "a-2a"]
"""PDF/UA-1 for screen readers, PDF/A-2a for keeping."""

Data = dict[str, Any]


def compiler(template: str, inputs: Mapping[str, str]) -> typst.Compiler:
    """The typesetter with a template and what it reads in it."""
    return typst.Compiler(
        TEMPLATES / template,
        root=TEMPLATES,
        font_paths=sheet_fonts(),
        ignore_system_fonts=True,
        sys_inputs=dict(inputs),
    )


def printed(parts: Sequence[Mapping[str, Any]], make: Callable[[list[Data]], typst.Compiler], stamp: datetime) -> bytes:
    """One PDF of the parts, stamped with a time of theirs so that equal parts give equal bytes.

    Letters that no font at hand has are replaced by their code points, and every part says which they are.
    """
    missing = unprintable(list(parts))
    while True:
        try:
            ready = make([spelt_out(part, missing) for part in parts])
            written = ready.compile(format="pdf", pdf_standards=STANDARDS, timestamp=stamp)
        except typst.TypstError as error:
            more = without_font(error.diagnostic) - missing
            if not more:
                raise
            missing |= more
            continue
        assert isinstance(written, bytes), "one PDF is one piece"
        return written


def write_whole(target: Path, content: bytes) -> Path:
    """Written beside its name and then renamed: a broken run leaves no half file behind."""
    beside = target.with_name(target.name + ".part")
    try:
        beside.write_bytes(content)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)
    return target
