"""The ship card on paper: the card itself, what was found about it, her poster, and what had to be estimated."""

import json
import os
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import typst

from leadsman.documents.card_data import Data, card_data
from leadsman.documents.drawings.profile import profile
from leadsman.documents.fonts import families, sheet_fonts
from leadsman.documents.letters import spelt_out, unprintable, without_font
from leadsman.figure import Figure, Finding
from leadsman.ship import Loading, Ship

TEMPLATES = Path(__file__).parent / "templates"
STANDARDS: "list[typst.PDFStandard]" = ["ua-1", "a-2a"]
"""PDF/UA-1 for screen readers, PDF/A-2a for keeping."""
SHEETS = ("card", "poster")
PAPERS = ("a4", "a3", "us-letter")
WIDTH, HEIGHT = 184.0, 46.0  # mm of the profile sketch
STAMP = datetime(2000, 1, 1, tzinfo=UTC)  # equal cards give equal files; the card's own date is written by hand


def write_card(
    ship: Ship,
    loading: Loading,
    findings: Sequence[Finding],
    figures: Mapping[str, Figure],
    meanings: Mapping[str, str],
    folder: Path,
    paper: str = "a4",
) -> list[Path]:
    """Write card and poster into a folder, made if missing, and return the files written.

    Each file is written beside its name and then renamed: a broken run leaves no half sheet behind.
    """
    folder.mkdir(parents=True, exist_ok=True)
    data = card_data(ship, loading, findings, figures, meanings)
    written = []
    for sheet in SHEETS:
        target, beside = folder / f"{sheet}.pdf", folder / f"{sheet}.pdf.part"
        try:
            beside.write_bytes(card_pdf(data, sheet, paper))
            os.replace(beside, target)
        finally:
            beside.unlink(missing_ok=True)
        written.append(target)
    return written


def card_pdf(data: Data, sheet: str = "card", paper: str = "a4") -> bytes:
    """Card or poster as one tagged PDF; letters that no font has stand as code points, and the sheet says so."""
    if sheet not in SHEETS:
        raise ValueError(f"'{sheet}' is no sheet of a card; expected one of {', '.join(SHEETS)}")
    if paper not in PAPERS:
        raise ValueError(f"'{paper}' is no paper known here; expected one of {', '.join(PAPERS)}")
    missing = unprintable(data)
    while True:
        try:
            return _pdf(spelt_out(data, missing), sheet, paper)
        except typst.TypstError as error:
            more = without_font(error.diagnostic) - missing
            if not more:
                raise
            missing |= more


def _pdf(data: Data, sheet: str, paper: str) -> bytes:
    letters = families()
    inputs: dict[str, Any] = {
        "data": json.dumps(data),
        "families": "|".join(letters),
        "paper": paper,
        "profile": profile(data["profile"], letters, WIDTH, HEIGHT),
    }
    compiler = typst.Compiler(
        TEMPLATES / f"{sheet}.typ",
        root=TEMPLATES,
        font_paths=sheet_fonts(),
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )
    written = compiler.compile(format="pdf", pdf_standards=STANDARDS, timestamp=STAMP)
    assert isinstance(written, bytes), "one PDF is one piece"
    return written
