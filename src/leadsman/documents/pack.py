"""The pack of one port call, on paper and as one page: typeset from the plain data, reproducible to the byte.

The time in the file is that of the planned start; fonts come with packages; so equal assessments give equal files.
"""

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import typst

from leadsman.assessment.result import Assessment
from leadsman.documents.bibliography import cited
from leadsman.documents.card_sheet import drawn
from leadsman.documents.carried import NOTHING_REHEARSED, NOTHING_SAID, Data, Rehearsed, said_of
from leadsman.documents.caution import CAUTIONS
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings import balance, plan, rose, section, shown_places, strips, windows_by_day
from leadsman.documents.fonts import families
from leadsman.documents.offline import offline_page
from leadsman.documents.typeset import compiler, printed, write_whole
from leadsman.record import Record

PAPERS = {"a4": 297.0, "us-letter": 279.4}
"""Heights. [mm]"""
WIDTH = 184.0  # mm of a line: fits A4 and Letter alike
BALANCE_WIDTH, ROSE_SIZE = 68.0, 46.0  # mm: the drawings of a place where she is held
SECTION_HEIGHT = 80.0  # mm
CIRCLES_HEIGHT = 66.0  # mm
DRAWN_ONLY = ("account", "series", "plan")
"""Parts of the data that only the drawings read."""
LEAST_PLAN = 48.0  # mm: with less left on the page the plan gets the next one to itself
HEAD, FOOT, HEADING = 20.0, 17.0, 10.0  # mm: margins of the templates, and a heading with its space


def write_pack(
    assessment: Assessment,
    folder: Path,
    paper: str = "a4",
    record: Record = NOTHING_SAID,
    rehearsed: Rehearsed = NOTHING_REHEARSED,
    beside: Mapping[str, bytes] | None = None,
    ship: Data | None = None,
) -> list[Path]:
    """Write the sheets and the offline page into a folder, made if missing, and return the files written.

    What the record says of the exchange and the tests stands on their sheets, and the record itself behind them; what
    was rehearsed of this very plan has sheets of its own; `ship` are her own papers, as `ship_sheets` gives them;
    `beside` are files by name to go along, such as the call zipped. All is made before anything is written; each file
    is written beside its name and then renamed: a broken run leaves no half file behind.
    """
    data = assessment_data(assessment)
    made = {
        "pack.pdf": pack_pdf(data, paper, record, rehearsed, ship),
        "pack.html": offline_page(data, record, rehearsed, ship).encode(),
    }
    made |= beside or {}
    folder.mkdir(parents=True, exist_ok=True)
    return [write_whole(folder / name, content) for name, content in made.items()]


def pack_pdf(
    data: Data,
    paper: str = "a4",
    record: Record = NOTHING_SAID,
    rehearsed: Rehearsed = NOTHING_REHEARSED,
    ship: Data | None = None,
) -> bytes:
    """The sheets as one tagged PDF.

    Letters that no font at hand has are replaced by their code points, and the sheet says so.
    """
    if paper not in PAPERS:
        raise ValueError(f"'{paper}' is no paper known here; expected one of {', '.join(PAPERS)}")
    parts = [data, said_of(data, record, rehearsed), ship or {}]
    return printed(
        parts, lambda spelt: typesetter(*spelt, paper=paper), datetime.fromisoformat(data["call"]["start"]["value"])
    )


def typesetter(data: Data, record: Data, ship: Data, *, paper: str) -> typst.Compiler:
    """The typesetter with templates, data and drawings in it; all data have been through `spelt_out`."""
    letters = families()
    inputs = {
        "data": json.dumps({key: value for key, value in data.items() if key not in DRAWN_ONLY}),
        "lines": json.dumps([_without_values(line) for line in data["account"]["lines"]]),
        "record": json.dumps(record),
        "ship": json.dumps(ship),
        **(drawn(ship, letters, WIDTH, CIRCLES_HEIGHT) if "profile" in ship else {"drawings": "{}"}),
        "cautions": json.dumps(CAUTIONS),
        "sources": json.dumps(cited(data, ship)),
        "families": "|".join(letters),
        "paper": paper,
        "days": windows_by_day(data, letters, WIDTH),
        "section": section(data, letters, WIDTH, SECTION_HEIGHT),
    }
    for place in shown_places(data):
        found = data["holding"]
        inputs[f"balance {place['key']}"] = balance(place, found, letters, BALANCE_WIDTH, ROSE_SIZE)
        inputs[f"rose {place['key']}"] = rose(place, found["roses"][place["key"]], letters, ROSE_SIZE)
    inputs["strips"] = strips(data, letters, WIDTH, PAPERS[paper] - HEAD - FOOT - 1.4 * HEADING)
    draft = compiler("pack.typ", inputs | {"draft": "as far as the plan"})
    begins = json.loads(draft.query("<plan-begins>", field="value", one=True))
    return compiler("pack.typ", inputs | {"plan": plan(data, letters, WIDTH, _plan_height(begins, paper))})


def _without_values(line: Data) -> Data:
    return {key: line[key] for key in ("label", "effect", "origin", "method", "source")}


def _plan_height(begins: Data, paper: str) -> float:
    """What is left of the page for the plan, or a page of its own. [mm]"""
    left = PAPERS[paper] - FOOT - HEADING - float(begins["y"])
    return left if left >= LEAST_PLAN else PAPERS[paper] - HEAD - FOOT - HEADING
