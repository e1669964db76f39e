"""Bad input through every sheet: names of any script and length, missing parts, many legs, Letter paper.

Each pack carries all there can be: what was said, orders, failures, her own papers. Looked at in two ways: the picture of
each page has no ink in its margins and leaves head and foot alone, and the text read back is whole, page by page.
"""

import io
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pypdf
import pytest
from PIL import Image

from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.posted_result import Shipboard
from leadsman.assessment.result import Assessment
from leadsman.documents import pack
from leadsman.documents.carried import Rehearsed, said_of
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.data import assessment_data
from leadsman.documents.holding_data import holding_data
from leadsman.documents.letters import spelt_out, unprintable
from leadsman.documents.offline import offline_page
from leadsman.documents.ship_sheets import ship_sheets
from leadsman.files.call_files import read_ship
from leadsman.manner import Manner, written_in
from leadsman.record import Entry, Record, Role, State

Build = Callable[..., Assessment]
Data = dict[str, Any]
EXAMPLES = Path(__file__).parents[2] / "examples"
PPI = 45.0
PAPERS = ("a4", "us-letter")

NAMES = {
    "Arabic": "سفينة",
    "Chinese": "永安",
    "Devanagari": "नाव",
    "emoji": "Tern \U0001f6a2\U0001f30a",
    "Hebrew and Latin": "בית Tern",
    "200 letters": "W" * 200,
    "200 wide letters": "安" * 200,
    "50 words": "Long " * 50,
    "Greek and Cyrillic": "Ωκεανός Чайка",
    "marks": "#strong[x] $y$ </text><script>&amp; \\ ' \"",
}


def aboard(name: str) -> Data:
    ship, loading = read_ship(EXAMPLES / "1-river-coaster")
    ship = replace(ship, name=name, call_sign=name[:200], remarks=name, defects=(name,))
    return ship_sheets(Shipboard(card=checked_card(ship, loading), untried="the test does not sail her."))


def said_by(name: str) -> Record:
    entry = Entry(
        number=1,
        time=datetime(2031, 5, 4, 4, 10, tzinfo=UTC),
        by=name[:200].strip(),
        role=Role.PILOT,
        item="agreed.limits",
        state=State.CHANGED,
        words=name,
        plan="an older one",
        previous=Record().mark,
    )
    return Record((entry,))


def made(data: Data, name: str, sailed: ModuleType) -> dict[str, Any]:
    """Everything a pack can carry, with the name wherever one may stand."""
    failures = sailed.failures(data)
    failures["failures"][0]["no_return"][0]["place"] = name
    rehearsed = Rehearsed(sailed.rehearsal(data, name), failures)
    return {"record": said_by(name), "rehearsed": rehearsed, "ship": aboard(name)}


def looked_at(data: Data, carried: dict[str, Any], paper: str, clock: str = "UTC") -> list[str]:
    """The text of each page, after its picture was found within the margins."""
    printed = texts(pack.pack_pdf(data, paper, **carried))
    parts = [data, said_of(data, carried["record"], carried["rehearsed"]), carried["ship"]]
    spelt_codes = re.findall(r"\[U\+([0-9A-F]+)\]", " ".join(printed))
    missing = unprintable(parts) | {chr(int(code, 16)) for code in spelt_codes}
    spelt = [spelt_out(part, missing) for part in parts]
    for number, image in enumerate(pack.typesetter(*spelt, paper=paper).compile(format="png", ppi=PPI), start=1):
        _within_margins(Image.open(io.BytesIO(image)).convert("L"), paper, number)
    for number, words in enumerate(printed, start=1):
        assert f"Page {number} of {len(printed)}" in words
        foot = f"{SHORT_CAUTION} {data['manner']['words']}".strip()
        assert words.endswith(foot), "the foot is read last"
        assert words.index(f"all times {clock}") < 700, "the head is read first"
    return printed


def texts(content: bytes) -> list[str]:
    return [re.sub(r"\s+", " ", page.extract_text()).strip() for page in pypdf.PdfReader(io.BytesIO(content)).pages]


def _within_margins(page: Image.Image, paper: str, number: int) -> None:
    """No ink beside the text, and a free band between body and foot."""
    ink = np.asarray(page) < 200
    width = ink.shape[1]
    side = int((width / PPI * 25.4 - pack.WIDTH) / 2.0 / 25.4 * PPI) - 1
    assert not ink[:, :side].any(), f"ink to the left on page {number}"
    assert not ink[:, width - side :].any(), f"ink to the right on page {number}"
    foot = int((pack.PAPERS[paper] - pack.FOOT + 1.4) / 25.4 * PPI)  # descenders of a last line reach 1 mm below it
    assert not ink[foot : foot + 2].any(), f"the body runs into the foot on page {number}"
    assert not ink[-int(4.0 / 25.4 * PPI) :].any(), f"ink below the foot on page {number}"


def letters_of(name: str) -> set[str]:
    return {letter for letter in name if letter.isalnum()}


def full(assessment: Assessment, held: ModuleType, name: str = "Withy Pool") -> Data:
    """The data with holding, its place and its tug called by the name."""
    return assessment_data(assessment) | {"holding": holding_data(held.answer(name, name))}


@pytest.mark.parametrize(
    ("name", "paper"), [(name, PAPERS[number % 2]) for number, name in enumerate(NAMES.values())], ids=NAMES.keys()
)
def test_a_name_of_any_kind_on_every_sheet(
    name: str, paper: str, build: Build, sailed: ModuleType, held: ModuleType
) -> None:
    data = full(build(name=name, ship_name=name), held, name)
    printed = looked_at(data, made(data, name, sailed), paper)
    whole = " ".join(printed)
    for letter in letters_of(name):
        assert letter in whole or f"[U+{ord(letter):04X}]" in whole, "printed, or spelt out: never an empty box"
    if name.isascii():
        assert name.replace(" ", "") in printed[0].replace("\u200b", "").replace(" ", "")


def missing(what: str, data: Data) -> Data:
    """The data without a part that a call need not have."""
    if what == "holding":
        return data | {"holding": None}
    if what == "bridge":
        return data | {"gates": [], "tightest": [one for one in data["tightest"] if one["limit"] != "gate"]}
    if what == "berth":
        plan = data["plan"] | {"berths": [], "basins": []}
        return data | {"alongside": None, "plan": plan, "call": data["call"] | {"berth": ""}}
    if what == "tide":
        around = [one | {"overhead": None} for one in data["around"]]
        return data | {"around": around, "figures": {}, "touching": None}
    if what == "tugs, marks and rules":
        return data | {"tugs": [], "rules": [], "plan": data["plan"] | {"marks": []}}
    return data | {
        "around": [],
        "turn_backs": [],
        "windows": [],
        "nearest_window": None,
        "remedies": [],
        "findings": [],
    }


PARTS = ("holding", "bridge", "berth", "tide", "tugs, marks and rules", "windows and findings")


@pytest.mark.parametrize("what", PARTS)
def test_a_missing_part_is_said_and_the_rest_stands(
    what: str, build: Build, sailed: ModuleType, held: ModuleType
) -> None:
    data = missing(what, full(build(), held))
    carried = made(data, "Slow ahead", sailed)
    printed = looked_at(data, carried, "a4")
    assert offline_page(data, **carried).count("<h1") >= 8
    whole = " ".join(printed)
    if what == "holding":
        assert "holding and tugs (not answered for this call)" in printed[0]
        assert "not known holding was not answered" in printed[0]
    if what == "tugs, marks and rules":
        assert "none ordered" in printed[0]
    if what == "windows and findings":
        assert "none in the time looked at" in printed[0]
        assert "No other start about the planned one was looked at." in whole
        assert "No stops and no cautions." in printed[0]


def test_with_nothing_beside_the_assessment_every_absence_is_named(build: Build) -> None:
    printed = texts(pack.pack_pdf(assessment_data(build())))
    assert "Not in it: orders and failures rehearsed (this plan was not rehearsed)" in printed[0]
    assert "ship card and poster (not handed over)" in printed[0]
    assert "NOT TRIED: this plan was not rehearsed." in " ".join(printed)
    page = offline_page(assessment_data(build()))
    assert "NOT TRIED: this plan was not rehearsed." in page
    assert "Not handed over with this pack." in page


@pytest.mark.parametrize("paper", PAPERS)
def test_in_feet_and_kilonewtons_by_another_clock(
    paper: str, build: Build, sailed: ModuleType, held: ModuleType
) -> None:
    with written_in(Manner(lengths="feet", forces="kilonewtons", zone=timedelta(hours=-3, minutes=-30))):
        data = full(build(), held)
        printed = looked_at(data, made(data, "Slow ahead", sailed), paper, clock="UTC−03:30")
    assert all("in feet and tenths, forces in kilonewtons" in words for words in printed), "on the foot of each"


def test_a_hundred_legs_on_every_sheet(build: Build, sailed: ModuleType, held: ModuleType) -> None:
    data = full(build(legs=100), held)
    whole = " ".join(looked_at(data, made(data, "Slow ahead", sailed), "us-letter"))
    for leg in data["legs"]:
        assert f"{leg['number']} {leg['reach']} {leg['begins_at']} to {leg['ends_at']}" in whole
        assert f"Leg {leg['number']}: {leg['reach']}" in whole


def test_the_list_of_sheets_tells_where_each_begins(build: Build, sailed: ModuleType) -> None:
    data = assessment_data(build())
    printed = texts(pack.pack_pdf(data, **made(data, "Slow ahead", sailed)))
    listed = re.search(r"In this pack, by page: (.*?)\.", printed[0])
    assert listed is not None
    sheets = re.findall(r"([A-Z][A-Za-z'’, ]*?) (\d+)(?:, |$)", listed[1])
    assert len(sheets) == 11
    heads = {"Ship card and poster": "Ship card", "What the card’s figures mean": "What the ship card’s figures mean"}
    for name, page in sheets:
        head = heads.get(name.replace("'", "’"), name)
        body = re.split(r"Revision \S+ ", printed[int(page) - 1], maxsplit=1)[1]
        assert head in body if "figures" in head else body.startswith(head)


def test_equal_content_gives_equal_bytes_with_every_sheet(build: Build, sailed: ModuleType) -> None:
    once, twice = (assessment_data(build()) for _ in range(2))
    first = pack.pack_pdf(once, **made(once, "Slow ahead", sailed))
    assert pack.pack_pdf(twice, **made(twice, "Slow ahead", sailed)) == first
    assert pack.pack_pdf(once, **made(once, "Half ahead", sailed)) != first
