"""Nothing an answer or a sheet tells is in another unit, or by another clock, than the reader asked for."""

import io
import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pypdf
import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.result import Assessment
from leadsman.documents.card_data import card_data
from leadsman.documents.card_report import card_report
from leadsman.documents.card_sheet import card_pdf
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings import plan, section, strips, windows_by_day
from leadsman.documents.offline import offline_page
from leadsman.documents.pack import pack_pdf
from leadsman.files.call_files import read_call, read_ship
from leadsman.manner import Manner, written_in

EXAMPLES = Path(__file__).parents[2] / "examples"
OTHER = Manner(lengths="feet", forces="kilonewtons", zone=timedelta(hours=1))
PEN = ["Source Sans 3"]

METRES = re.compile(r"\d\s?(m|m/s)(?![\w²³])|\bmetres?\b|^m$")
TONNES = re.compile(r"\d\s?t\b(?! m/cm|/cm)|\btonnes?\b")
UTC = re.compile(r"\bUTC(?!\+01:00)|\dZ\b")

EXCEPTED = (
    r"\d+ t moved one metre along her trim her one centimetre",  # how the moment to change trim is defined
    r"One centimetre of draught is [\d.]+ t",  # and the immersion
    r"\d\u202f\d{3} t( ± [\d\u202f]+ t)?|\d t ± \d+ t|^± [\d\u202f]+ t$",  # masses, in thousands or with a band, stay tonnes
    r"above 9 m|climbs from 1\.5 m",  # SOLAS V/23 in its own words
    r"below the 0\.15 m of the stability code",
    r"a fathom is 1\.8288 m|the usual 27\.4 to 27\.5 m",
    r"under 100 m",  # MSC.137(76) in its own words
    r"(Is it|Are the draughts|in) metres( and|,| but|\?)[^;]*",  # what the card, whose unit is metres, may have meant
)
"""What is told in its own unit on purpose, and why."""


@pytest.fixture(scope="module")
def found() -> Assessment:
    with written_in(OTHER):
        return assess(read_call(EXAMPLES / "1-river-coaster"))


def strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, one in value.items():
            if key not in {"value", "unit"} or not isinstance(one, str):
                yield from strings(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from strings(one)


def left(words: str) -> str:
    for exception in EXCEPTED:
        words = re.sub(exception, "", words)
    return words


def held(words: Iterator[str] | list[str]) -> list[str]:
    """Everything that speaks in another manner than asked."""
    return [one for one in words if any(unit.search(left(one)) for unit in (METRES, TONNES, UTC))]


def test_the_answer(found: Assessment) -> None:
    with written_in(OTHER):
        data = assessment_data(found)
    for moment in ("search_begin", "search_end", "start"):
        data["call"][moment] = data["call"][moment]["text"]
    data["series"] = data["account"]["time"] = None  # for machines
    assert data["manner"]["clock"] == "UTC+01:00"
    assert held(strings(data)) == []


def test_the_drawings(found: Assessment) -> None:
    with written_in(OTHER):
        data = assessment_data(found)
        drawn = [plan(data, PEN, 184.0, 200.0), section(data, PEN, 184.0, 80.0), strips(data, PEN, 184.0, 220.0)]
        drawn.append(windows_by_day(data, PEN, 184.0))
    words = [one for svg in drawn for one in re.findall(r">([^<>]+)</t", svg)]
    assert any(re.search(r"\d ft$", one) for one in words), "the drawings have figures of length at all"
    assert held(words) == []


def test_the_page_to_carry(found: Assessment) -> None:
    with written_in(OTHER):
        page = offline_page(assessment_data(found))
    words = re.findall(r">([^<>]+)<", re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL))
    assert held(words) == []
    assert (
        "Written with lengths, depths and heights in feet and tenths, forces in kilonewtons, times UTC+01:00." in page
    )


def test_the_sheets(found: Assessment) -> None:
    with written_in(OTHER):
        sheets = pypdf.PdfReader(io.BytesIO(pack_pdf(assessment_data(found))))
    for sheet in sheets.pages:
        words = sheet.extract_text()
        assert re.search(r"Written with lengths[\s\S]*UTC\+01:00", words), "each sheet says so on its foot"
        assert held(re.split(r"\n(?=[A-Z])", words.replace("\xa0", " "))) == []


def test_the_card() -> None:
    card_of = read_ship(EXAMPLES / "5-podded-cruise")
    with written_in(OTHER):
        card = checked_card(*card_of)
        data = card_data(card.ship, card.loading, card.findings, card.figures, card.meanings)
        report = card_report(card.ship.name, card.findings, card.figures, card.meanings)
        sheet = pypdf.PdfReader(io.BytesIO(card_pdf(data))).pages[0].extract_text()
    assert held(strings([data, report])) == []
    assert "Written with lengths" in sheet


def test_a_fingerprint_is_of_the_plan_and_not_of_its_reader(found: Assessment) -> None:
    assert assess(found.call).fingerprint == found.fingerprint
