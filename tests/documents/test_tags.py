"""The tags of the sheets, for those who hear a document: what ISO 14289-1 (PDF/UA-1) asks and a program can see.

Clause numbers from memory. Checked on a whole pack: brief to grounds, order and contingency sheets, her own papers;
and on the record by itself.
"""

import io
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from types import ModuleType
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream
from tests.builders.records import recorded

from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.posted_result import Shipboard
from leadsman.assessment.result import Assessment
from leadsman.documents.carried import Rehearsed
from leadsman.documents.data import assessment_data
from leadsman.documents.pack import pack_pdf
from leadsman.documents.record_sheet import record_pdf
from leadsman.documents.ship_sheets import ship_sheets
from leadsman.files.call_files import read_ship
from leadsman.record import Record, State

Build = Callable[..., Assessment]
EXAMPLES = Path(__file__).parents[2] / "examples"
STANDARD = {
    *(
        "Document",
        "Part",
        "Art",
        "Sect",
        "Div",
        "BlockQuote",
        "Caption",
        "TOC",
        "TOCI",
        "Index",
        "NonStruct",
        "Private",
    ),
    *("P", "H", "H1", "H2", "H3", "H4", "H5", "H6", "L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "THead"),
    *("TBody", "TFoot", "Span", "Quote", "Note", "Reference", "BibEntry", "Code", "Link", "Annot", "Figure", "Formula"),
    *("Form", "Strong", "Em", "Title"),
}
"""Structure types of PDF 1.7 (ISO 32000-1, 14.8.4, from memory)."""


SIZES = {"pack": (500, 15, 5), "record": (150, 5, 0)}
"""At least so many elements, tables and drawings, so that nothing is held to be well for want of it."""


@pytest.fixture(scope="module", params=SIZES)
def paper(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def reader(paper: str, build: Build, sailed: ModuleType) -> pypdf.PdfReader:
    data = assessment_data(build())
    if paper == "record":
        return pypdf.PdfReader(io.BytesIO(record_pdf(data, said())))
    aboard = ship_sheets(Shipboard(card=checked_card(*read_ship(EXAMPLES / "1-river-coaster")), untried="of a test."))
    whole = pack_pdf(data, rehearsed=Rehearsed(sailed.rehearsal(data), sailed.failures(data)), ship=aboard)
    return pypdf.PdfReader(io.BytesIO(whole))


def said() -> Record:
    """A word on the exchange, a defect among the tests, and a note."""
    return recorded(
        [
            ("agreed.limits", State.CHANGED, "wind below 18 kn"),
            ("arrival.anchors", State.DEFECT, "port brake slips"),
            ("", State.NOTED, "fog in the bends"),
        ]
    )


def elements(node: Any) -> Iterator[Any]:
    """Every structure element below one, in reading order."""
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        thing = kid.get_object()
        if isinstance(thing, dict) and "/S" in thing:
            yield thing
            yield from elements(thing)


@pytest.fixture(scope="module")
def tree(reader: pypdf.PdfReader) -> list[Any]:
    return list(elements(reader.trailer["/Root"]["/StructTreeRoot"]))


def kind(element: Any, reader: pypdf.PdfReader) -> str:
    """Its type, as the role map has it."""
    roles = reader.trailer["/Root"]["/StructTreeRoot"].get("/RoleMap", {})
    name = str(element["/S"])
    while name in roles:
        name = str(roles[name])
    return name.removeprefix("/")


def parts(element: Any) -> list[Any]:
    kids = element.get("/K", [])
    return [kid.get_object() for kid in (kids if isinstance(kids, list) else [kids])]


def test_the_document_says_what_it_is(paper: str, reader: pypdf.PdfReader) -> None:
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712 (a PDF boolean, not Python's)
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712 (7.1)
    assert reader.metadata is not None
    titles = {"pack": "Passage plan Town Quay inward", "record": "Record of what was said, Town Quay inward"}
    assert reader.metadata.title == titles[paper]
    assert all(page["/Tabs"] == "/S" for page in reader.pages if "/Annots" in page), "7.18.3"


def test_every_type_is_standard_or_mapped_to_one(paper: str, tree: list[Any], reader: pypdf.PdfReader) -> None:
    assert len(tree) > SIZES[paper][0]
    assert {kind(element, reader) for element in tree} <= STANDARD


def test_headings_begin_at_the_first_level_and_skip_none(tree: list[Any], reader: pypdf.PdfReader) -> None:
    levels = [
        int(name[1]) for name in (kind(element, reader) for element in tree) if name[:1] == "H" and name[1:].isdigit()
    ]
    assert levels[0] == 1
    assert max(levels) == 2
    assert all(after - before <= 1 for before, after in pairwise(levels)), "7.4.2"


def test_every_drawing_says_in_words_what_it_shows(paper: str, tree: list[Any], reader: pypdf.PdfReader) -> None:
    drawings = [element for element in tree if kind(element, reader) == "Figure"]
    assert len(drawings) >= SIZES[paper][2]
    assert all(len(str(drawing["/Alt"])) > 20 for drawing in drawings), "7.3"


def test_tables_are_rows_of_cells_with_heads_that_say_what_they_head(
    paper: str, tree: list[Any], reader: pypdf.PdfReader
) -> None:
    tables = [element for element in tree if kind(element, reader) == "Table"]
    assert len(tables) > SIZES[paper][1]
    for table in tables:
        assert {kind(part, reader) for part in parts(table)} <= {"TR", "THead", "TBody", "TFoot", "Caption"}, "7.5"
        rows = [element for element in elements(table) if kind(element, reader) == "TR"]
        assert rows
        for row in rows:
            assert {kind(cell, reader) for cell in parts(row)} <= {"TH", "TD"}
    heads = [element for element in tree if kind(element, reader) == "TH"]
    assert heads
    for head in heads:
        told = head.get("/A", [])
        told = told if isinstance(told, list) else [told]
        assert any("/Scope" in one.get_object() for one in told)


def test_lists_are_items_with_bodies(paper: str, tree: list[Any], reader: pypdf.PdfReader) -> None:
    lists = [element for element in tree if kind(element, reader) == "L"]
    assert lists or paper == "record", "the cautions"
    for one in lists:
        assert {kind(item, reader) for item in parts(one)} == {"LI"}
        assert all(kind(part, reader) in ("Lbl", "LBody") for item in parts(one) for part in parts(item))


def test_all_that_is_written_is_tagged_or_told_to_be_furniture(reader: pypdf.PdfReader) -> None:
    shown = {b"Tj", b"TJ", b"'", b'"'}
    for page in reader.pages:
        depth = 0
        for _, operator in ContentStream(page.get_contents(), reader).operations:
            depth += (operator in (b"BDC", b"BMC")) - (operator == b"EMC")
            assert depth > 0 or operator not in shown, "7.1: text outside of tag and artifact"
        assert depth == 0


def test_each_piece_of_marked_content_belongs_to_one_tag(reader: pypdf.PdfReader, tree: list[Any]) -> None:
    pages = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages)}  # type: ignore[union-attr]
    owned: Counter[tuple[int, int]] = Counter()
    for element in tree:
        kids = element.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            thing = kid.get_object()
            if isinstance(thing, int):
                owned[pages[element.raw_get("/Pg").idnum], int(thing)] += 1
            elif isinstance(thing, dict) and "/MCID" in thing:
                where = thing if "/Pg" in thing else element
                owned[pages[where.raw_get("/Pg").idnum], int(thing["/MCID"])] += 1
    marked = set()
    for number, page in enumerate(reader.pages):
        for operands, operator in ContentStream(page.get_contents(), reader).operations:
            if operator == b"BDC" and isinstance(operands[1], dict) and "/MCID" in operands[1]:
                marked.add((number, int(operands[1]["/MCID"])))
    assert set(owned) == marked
    assert set(owned.values()) == {1}


def test_every_font_goes_along_with_what_its_letters_mean(reader: pypdf.PdfReader) -> None:
    fonts = {}
    for page in reader.pages:
        for name, font in page["/Resources"].get("/Font", {}).items():
            fonts[name, font.get_object()["/BaseFont"]] = font.get_object()
    assert fonts
    for font in fonts.values():
        assert "/ToUnicode" in font, "7.21.7"
        for inner in font.get("/DescendantFonts", [font]):
            descriptor = inner.get_object()["/FontDescriptor"]
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor), "7.21.4.1: embedded"


def test_no_tag_is_empty_of_content(tree: list[Any]) -> None:
    assert all("/K" in element for element in tree if str(element["/S"]) in ("/P", "/H1", "/H2", "/Figure"))
