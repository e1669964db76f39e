"""Poster and booklet on paper: every figure stands there, marked as estimated; drawings are to scale."""

import io
import re
import xml.etree.ElementTree as xml
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.posted import posted_manoeuvres
from leadsman.assessment.result import Assessment
from leadsman.assessment.shipboard import shipboard
from leadsman.documents.card_data import card_data
from leadsman.documents.card_sheet import card_pdf, write_card
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings.manoeuvres import Plan, stopping, turning_circles
from leadsman.documents.pack import pack_pdf
from leadsman.documents.posted_data import posted_data
from leadsman.files.call_files import read_ship

EXAMPLES = Path(__file__).parents[2] / "examples"
Data = dict[str, Any]
Build = Callable[..., Assessment]


@pytest.fixture(scope="module")
def data() -> Data:
    card = checked_card(*read_ship(EXAMPLES / "4-ferry-corner-berth"))
    laid = card_data(card.ship, card.loading, card.findings, card.figures, card.meanings)
    return laid | {"posted": posted_data(posted_manoeuvres(card.ship, card.loading))}


def pages(data: Data, sheet: str, paper: str) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(card_pdf(data, sheet, paper)))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


@pytest.mark.parametrize(("sheet", "paper"), [("booklet", "a4"), ("booklet", "us-letter"), ("poster", "a3")])
def test_every_circle_and_speed_stands_there_and_is_marked(data: Data, sheet: str, paper: str) -> None:
    found = pages(data, sheet, paper)
    words = " ".join(found)
    for water in data["posted"]["waters"]:
        assert water["title"] in words
        for circle in water["circles"]:
            for name, figure in circle["rows"]:
                assert f"{name} {figure}" in words
            for moment in circle["moments"]:
                assert f"{moment['label']} {moment['time']} {moment['speed']}" in words
    for row in data["posted"]["squats"]:
        assert f"{row['order']}, {row['speed']} {' '.join(row['squats'])}" in words
    assert all("ESTIMATED" in page for page in found)
    assert "nine in ten draws" in words


def test_the_booklet_has_a_page_for_each_water_and_every_stop(data: Data) -> None:
    found = pages(data, "booklet", "a4")
    waters = data["posted"]["waters"]
    assert len(found) == 1 + len(waters)
    for page, water in zip(found[1:], waters, strict=True):
        assert water["title"] in page
        for stop in water["stops"]:
            assert f"{stop['order']}, {stop['speed']} {stop['by']} {stop['track_reach']} {stop['time']}" in page


def test_what_grounds_her_is_told(data: Data) -> None:
    assert any("Touches the bottom by squat at: full sea speed." in page for page in pages(data, "booklet", "a4"))
    row = next(row for row in data["posted"]["squats"] if row["order"] == "full sea speed")
    assert row["squats"][0] == "touches"


def test_a_ship_steered_by_pods_is_said_to_turn_by_pods(data: Data) -> None:
    ship, loading = read_ship(EXAMPLES / "4-ferry-corner-berth")
    sailed = posted_manoeuvres(ship, loading)
    for podded, word, other in ((True, "pods", "rudder"), (False, "rudder", "pods")):
        told = posted_data(replace(sailed, podded=podded))
        about = [circle["about"] for water in told["waters"] for circle in water["circles"]]
        assert about
        assert all(f", {word} " in one and other not in one for one in about)
    assert posted_manoeuvres(*read_ship(EXAMPLES / "5-podded-cruise")).podded


def test_a_plan_has_one_scale_both_ways() -> None:
    place = Plan([(0.0, 0.0), (400.0, 100.0)], (10.0, 10.0, 100.0, 100.0))
    assert place.scale == pytest.approx(0.25)  # 400 m on 100 mm
    (x0, y0), (x1, y1) = place(0.0, 0.0), place(400.0, 100.0)
    assert (x1 - x0, y0 - y1) == (pytest.approx(25.0), pytest.approx(100.0))
    assert min(y0, y1) == pytest.approx(10.0)


def test_drawings_are_drawings_with_a_lane_for_each_stop(data: Data) -> None:
    water = data["posted"]["waters"][0]
    drawn = xml.fromstring(stopping(water, ["serif"], "stops", 184.0))
    words = [text.text for text in drawn.iter("{http://www.w3.org/2000/svg}text")]
    for stop in water["stops"]:
        assert f"{stop['order']}, {stop['speed']}" in words
    circles = xml.fromstring(turning_circles(water, data["posted"]["length"], ["serif"], "circles", 184.0, 90.0))
    words = [text.text or "" for text in circles.iter("{http://www.w3.org/2000/svg}text")]
    assert sum(word.startswith(("90°", "180°", "270°", "360°")) for word in words) == 8


def test_where_she_does_not_stay_afloat_the_drawing_says_so(data: Data) -> None:
    water = data["posted"]["waters"][0] | {"circles": [], "stops": []}
    assert "does not stay afloat" in turning_circles(water, 130.0, ["serif"], "none", 184.0, 90.0)
    assert "stays afloat" in stopping(water, ["serif"], "none", 184.0)


def test_equal_data_give_equal_files(data: Data) -> None:
    assert card_pdf(data, "booklet") == card_pdf(data, "booklet")


def test_the_three_files_are_written(tmp_path: Path) -> None:
    written = write_card(shipboard(*read_ship(EXAMPLES / "4-ferry-corner-berth")), tmp_path)
    assert [path.name for path in written] == ["card.pdf", "poster.pdf", "booklet.pdf"]
    size = pypdf.PdfReader(written[1]).pages[0].mediabox
    assert (round(float(size.width)), round(float(size.height))) == (842, 1191)  # A3 in points, ISO 216: 297 x 420 mm


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_the_pack_carries_card_and_poster_of_this_loading(data: Data, build: Build, paper: str) -> None:
    whole = pack_pdf(assessment_data(build()), paper, ship=data)
    printed = [re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(whole)).pages]
    words = " ".join(printed)
    for row in [*data["particulars"], *data["steering"], *data["engine"]]:
        assert " ".join(f"{row['label']} {row['text']}".split()) in words
    for one in data["findings"]:
        assert " ".join(f"{one['number']} {one['grade'].upper()} {one['sentence']}".split()) in words
    shown = [water for water in data["posted"]["waters"] if water["condition"] == data["condition"]]
    assert len(shown) == sum("Her manoeuvres ESTIMATED" in page for page in printed) == 2, "deep and shallow"
    for water in shown:
        for stop in water["stops"]:
            assert f"{stop['order']}, {stop['speed']} {stop['by']} {stop['track_reach']} {stop['time']}" in words
    assert "ship card and poster (not handed over)" not in words
    for number, page in enumerate(printed, start=1):
        assert f"Page {number} of {len(printed)}" in page


def test_without_the_ships_papers_the_brief_says_they_are_missing(build: Build) -> None:
    printed = pypdf.PdfReader(io.BytesIO(pack_pdf(assessment_data(build())))).pages[0].extract_text()
    assert "ship card and poster (not handed over)" in re.sub(r"\s+", " ", printed)
