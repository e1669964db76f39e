"""The ship card on paper: the card itself, what was found about it, her poster, and her manoeuvring booklet."""

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import typst

from leadsman.assessment.posted_result import Shipboard
from leadsman.documents.drawings.manoeuvres import stopping, turn_back, turning_circles
from leadsman.documents.drawings.profile import profile
from leadsman.documents.fonts import families
from leadsman.documents.ship_sheets import Data, ship_sheets
from leadsman.documents.typeset import compiler, printed, write_whole

SHEETS = {"card": "card_sheet.typ", "poster": "poster_sheet.typ", "booklet": "booklet.typ"}
PAPERS = ("a4", "a3", "us-letter")
WIDTH, HEIGHT = 184.0, 46.0  # mm of the profile sketch
SPACE = {"card": (WIDTH, 88.0), "booklet": (WIDTH, 88.0), "poster": (133.0, 92.0)}
"""For one drawing of her manoeuvres; on the poster half the width of an A3 sheet between its margins. [mm]"""
STAMP = datetime(2000, 1, 1, tzinfo=UTC)  # equal cards give equal files; the card's own date is written by hand


def write_card(found: Shipboard, folder: Path, paper: str = "a4") -> list[Path]:
    """Write card, poster and booklet into a folder, made if missing, and return the files written.

    Without manoeuvres there is no booklet, and the poster says why. On A4 the poster is A3.
    Each file is written beside its name and then renamed: a broken run leaves no half sheet behind.
    """
    folder.mkdir(parents=True, exist_ok=True)
    data = ship_sheets(found)
    written = []
    for sheet in SHEETS:
        if sheet == "booklet" and found.posted is None:
            continue
        content = card_pdf(data, sheet, "a3" if (sheet, paper) == ("poster", "a4") else paper)
        written.append(write_whole(folder / f"{sheet}.pdf", content))
    return written


def card_pdf(data: Data, sheet: str = "card", paper: str = "a4") -> bytes:
    """Card or poster as one tagged PDF; letters that no font has stand as code points, and the sheet says so."""
    if sheet not in SHEETS:
        raise ValueError(f"'{sheet}' is no sheet of a card; expected one of {', '.join(SHEETS)}")
    if paper not in PAPERS:
        raise ValueError(f"'{paper}' is no paper known here; expected one of {', '.join(PAPERS)}")
    return printed([data], lambda spelt: _typesetter(spelt[0], sheet, paper), STAMP)


def _typesetter(data: Data, sheet: str, paper: str) -> typst.Compiler:
    letters = families()
    inputs = {
        "ship": json.dumps(data),
        "families": "|".join(letters),
        "paper": paper,
        **drawn(data, letters, *SPACE[sheet]),
    }
    return compiler(SHEETS[sheet], inputs)


def drawn(data: Data, letters: Sequence[str], width: float, height: float) -> dict[str, str]:
    """Her profile, and her manoeuvres drawn for the space a sheet has for them, as its templates take them. [mm]"""
    return {
        "profile": profile(data["profile"], letters, WIDTH, HEIGHT),
        "drawings": json.dumps(_manoeuvres(data.get("posted"), letters, width, height)),
    }


def _manoeuvres(posted: Data | None, letters: Sequence[str], width: float, height: float) -> Data:
    if posted is None:
        return {}
    length, waters, turn = posted["length"], posted["waters"], posted["recovery"]
    return {
        "circles": [
            turning_circles(water, length, letters, f"circles{number}", width, height)
            for number, water in enumerate(waters)
        ],
        "stops": [stopping(water, letters, f"stops{number}", width) for number, water in enumerate(waters)],
        "recovery": "" if turn is None else turn_back(turn, length, letters, "back", 74.0, 84.0),
    }
