"""Every figure with a unit on any sheet is one the data say, digit for digit, and the figures that matter are all there.

The first example, really assessed, with a synthetic rehearsal over its track and its own ship card.
"""

import io
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pypdf
import pytest

from leadsman import format as text
from leadsman.assessment.assess import assess
from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.posted_result import Shipboard
from leadsman.documents.carried import Rehearsed, said_of
from leadsman.documents.caution import CAUTIONS
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings.furniture import required
from leadsman.documents.pack import NOTHING_SAID, pack_pdf
from leadsman.documents.ship_sheets import ship_sheets
from leadsman.files.call_files import read_ship
from leadsman.portcall import PortCall

Data = dict[str, Any]
EXAMPLES = Path(__file__).parents[2] / "examples"
FIGURE = re.compile(r"(?<![\d.,])[−+]?\d[\d.]*(?: to [−+]?\d[\d.]*)? (?:m|nm|kn|kNm|MNm|t|min|s|°/min|%|m/s)(?![\w/])")
SCALE_BARS = {f"{count * unit} m" for unit in (100, 200, 500, 1000) for count in (1, 2, 4, 5, 10, 20)}
"""What stands at a scale bar: round numbers of the drawing itself."""


@pytest.fixture(scope="module")
def data(first_call: PortCall) -> Data:
    return assessment_data(assess(first_call))


@pytest.fixture(scope="module")
def carried(data: Data, sailed: ModuleType) -> Data:
    aboard = ship_sheets(Shipboard(card=checked_card(*read_ship(EXAMPLES / "1-river-coaster")), untried="of a test."))
    return {"rehearsed": Rehearsed(sailed.rehearsal(data), sailed.failures(data)), "ship": aboard}


@pytest.fixture(scope="module")
def printed(data: Data, carried: Data) -> str:
    reader = pypdf.PdfReader(io.BytesIO(pack_pdf(data, **carried)))
    words = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))
    return re.sub(r"Section along the track at her times.*? Plan ", " ", words)  # its axes are numbers of their own


def words_of(thing: Any) -> Iterator[str]:
    if isinstance(thing, str):
        yield re.sub(r"\s+", " ", thing)
    elif isinstance(thing, dict):
        for value in thing.values():
            yield from words_of(value)
    elif isinstance(thing, list | tuple):
        for value in thing:
            yield from words_of(value)


def test_no_figure_is_printed_that_the_data_do_not_say(data: Data, carried: Data, printed: str) -> None:
    said = said_of(data, NOTHING_SAID, carried["rehearsed"])
    everything = " | ".join(words_of([data, said, carried["ship"], CAUTIONS]))
    known = set(FIGURE.findall(everything)) | SCALE_BARS
    needed = required(data)
    known |= {text.requirement(needed), text.requirement(2.0 * needed)}  # the scale of ink
    known |= {"60 s", "30 s", "20 minutes", "95 %"}  # how failures were tried, and the confidence told
    shown = FIGURE.findall(printed)
    assert len(shown) > 300
    assert sorted({figure for figure in shown if figure not in known}) == []


HELD = ("wind", "stream", "reserve", "wind_limit", "heading", "wind_from", "stream_towards")


def test_holding_and_tugs_repeat_the_data_to_the_digit(data: Data, printed: str) -> None:
    for place in data["holding"]["places"]:
        wind = f"{place['wind']['text']} {place['wind_from']['text']}, {place['stream']['text']}"
        row = f"{wind} {place['stream_towards']['text']} {place['word']} {place['reserve']['text']}"
        assert (
            f"{place['time']['clock']} {place['heading']['text']} {row.replace(place['word'], held(place))}" in printed
        )
        assert f"{place['reserve']['text']} {place['wind_limit']['text']}" in printed


def held(place: Data) -> str:
    """Where she is not held the sheet shouts."""
    return str(place["word"] if place["balance"]["held"] else place["word"].upper())


def test_the_brief_tells_the_least_wind_and_the_tugs(data: Data, printed: str) -> None:
    least = min(data["holding"]["places"], key=lambda place: place["wind_limit"]["value"])
    where = f"from {least['wind_from']['text']}, {least['place']}, {least['situation_text']}"
    assert f"{least['wind_limit']['text']} {where}; forecast {least['wind']['text']}: {least['word']}" in printed
    assert "TUGS none ordered" in printed


def test_windows_gates_and_margins_repeat_the_data(data: Data, printed: str) -> None:
    for one in data["windows"]:
        best = f"{one['best']['margin']['text']} at {one['best_start']['clock']}"
        assert f"{one['opens']['text']} {one['closes']['text']} {one['length']['text']}" in printed
        assert best in printed
    for gate in data["gates"]:
        assert f"{gate['name']} {gate['time']['clock']} {gate['value']['text']} {gate['required']['text']}" in printed
