"""Papers over the API: the same bytes the library makes, for the start asked."""

import io
import json
import zipfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pypdf
import pytest
from PIL import Image

from leadsman.assessment.assess import assess
from leadsman.documents.data import assessment_data
from leadsman.documents.drawing_file import DRAWINGS, drawing_file
from leadsman.files.call_files import read_call

EXAMPLE = Path(__file__).parents[2] / "examples/1-river-coaster"
PAPERS = "/api/v1/calls/1-river-coaster/papers"
START = "2031-05-06T14:20:00Z"


def test_the_pack_is_of_the_start_asked(client: Any) -> None:
    reply = client.get(f"{PAPERS}/pack.pdf?start={START}")
    assert reply.status == 200
    assert reply.headers["Content-Type"] == "application/pdf"
    assert "attachment" in reply.headers["Content-Disposition"]
    assert "Start Tue 6 May 2031 14:20 UTC" in pypdf.PdfReader(io.BytesIO(reply.body)).pages[0].extract_text()


def test_the_call_comes_zipped(client: Any) -> None:
    names = zipfile.ZipFile(io.BytesIO(client.get(f"{PAPERS}/call.zip").body)).namelist()
    assert {"call.toml", "ship.toml", "forecast.toml", "waterway/waterway.toml"} <= set(names)


def test_the_page_for_a_tablet_comes_whole(client: Any) -> None:
    assert client.get(f"{PAPERS}/pack.html").text.startswith("<!doctype html>")


def test_the_record_comes_as_sheets_and_as_data(client: Any) -> None:
    sheets = pypdf.PdfReader(io.BytesIO(client.get(f"{PAPERS}/record.pdf").body)).pages
    assert "Nothing has been said yet." in sheets[-1].extract_text()
    assert json.loads(client.get(f"{PAPERS}/record.json").body)["schema"] == "leadsman.record/1"


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_is_the_library_s_own_with_caution_and_title(client: Any, name: str) -> None:
    picture = client.get(f"{PAPERS}/{name}.svg")
    assert picture.headers["Content-Type"] == "image/svg+xml"
    assert picture.body == drawing_file(assessment_data(assess(read_call(EXAMPLE))), name, "svg")
    root = ElementTree.fromstring(picture.body)
    assert float(root.attrib["width"].removesuffix("pt")) == pytest.approx(192 * 72 / 25.4, abs=0.1)
    image = Image.open(io.BytesIO(client.get(f"{PAPERS}/{name}.png").body))
    assert image.width == pytest.approx(192 / 25.4 * 200, abs=2)


def test_what_is_no_paper_is_told_with_what_there_is(client: Any) -> None:
    reply = client.get(f"{PAPERS}/secret.txt")
    assert reply.status == 404
    assert reply.problems[0].startswith("there is no paper 'secret.txt'; expected one of call.zip, pack.html, pack.pdf")
