"""The ship card on paper: the card itself, what was found about it, her poster, and her manoeuvring booklet."""

import json
import os
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import typst

from leadsman.assessment.card_result import CheckedCard
from leadsman.assessment.posted_result import Posted
from leadsman.documents.card_data import Data, card_data
from leadsman.documents.drawings.manoeuvres import stopping, turn_back, turning_circles
from leadsman.documents.drawings.profile import profile
from leadsman.documents.fonts import families, sheet_fonts
from leadsman.documents.letters import spelt_out, unprintable, without_font
from leadsman.documents.posted_data import posted_data

TEMPLATES = Path(__file__).parent / "templates"
STANDARDS: "list[typst.PDFStandard]" = ["ua-1", "a-2a"]
"""PDF/UA-1 for screen readers, PDF/A-2a for keeping."""
SHEETS = ("card", "poster", "booklet")
PAPERS = ("a4", "a3", "us-letter")
WIDTH, HEIGHT = 184.0, 46.0  # mm of the profile sketch
POSTER_WIDTH = 133.0  # mm: half the width of an A3 sheet between its margins
STAMP = datetime(2000, 1, 1, tzinfo=UTC)  # equal cards give equal files; the card's own date is written by hand


def write_card(card: CheckedCard, posted: Posted | None, untried: str, folder: Path, paper: str = "a4") -> list[Path]:
    """Write card, poster and booklet into a folder, made if missing, and return the files written.

    Without manoeuvres there is no booklet, and the poster says in the words of `untried` why. On A4 the poster is A3.
    Each file is written beside its name and then renamed: a broken run leaves no half sheet behind.
    """
    folder.mkdir(parents=True, exist_ok=True)
    data = card_data(card.ship, card.loading, card.findings, card.figures, card.meanings)
    data |= {"posted": None if posted is None else posted_data(posted), "untried": untried}
    written = []
    for sheet in SHEETS:
        if sheet == "booklet" and posted is None:
            continue
        target, beside = folder / f"{sheet}.pdf", folder / f"{sheet}.pdf.part"
        try:
            beside.write_bytes(card_pdf(data, sheet, "a3" if (sheet, paper) == ("poster", "a4") else paper))
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
        "drawings": json.dumps(_drawings(data.get("posted"), sheet, letters)),
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


def _drawings(posted: Data | None, sheet: str, letters: Sequence[str]) -> Data:
    """Her manoeuvres drawn for the space this sheet has for them."""
    if posted is None:
        return {}
    width, height = (WIDTH, 88.0) if sheet == "booklet" else (POSTER_WIDTH, 92.0)
    length, waters, turn = posted["length"], posted["waters"], posted["recovery"]
    return {
        "circles": [
            turning_circles(water, length, letters, f"circles{number}", width, height)
            for number, water in enumerate(waters)
        ],
        "stops": [stopping(water, letters, f"stops{number}", width) for number, water in enumerate(waters)],
        "recovery": "" if turn is None else turn_back(turn, length, letters, "back", 74.0, 84.0),
    }
