"""The record by itself: the sheets say what the entries say, and so do the data."""

import io
import json
import re
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from tests.builders.records import recorded

from leadsman.assessment.result import Assessment
from leadsman.documents.data import assessment_data
from leadsman.documents.record_sheet import record_json, record_pdf, write_record
from leadsman.record import Record, State

Build = Callable[..., Assessment]


def said(*items: tuple[str, State, str]) -> Record:
    return recorded(items)


def pages(content: bytes) -> list[str]:
    return [re.sub(r"\s+", " ", page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(content)).pages]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_every_entry_stands_there_with_its_mark(build: Build, paper: str) -> None:
    record = said(("agreed.limits", State.CHANGED, "wind below 18 kn"), ("", State.NOTED, "fog in the bends"))
    exchange, tests, entries = pages(record_pdf(assessment_data(build()), record, paper))
    assert "wind below 18 kn; Ann Example, pilot, 04:10; of an earlier plan" in exchange
    assert "Tests and checks before arrival" in tests
    for entry in record.entries:
        assert f"{entry.state} " in entries
        assert entry.words in entries
        assert entry.mark in entries
    assert all("Alder Tern · Town Quay inward" in page for page in (exchange, tests, entries))


def test_a_call_of_which_nothing_was_said_has_sheets_to_write_on(build: Build) -> None:
    assert "Nothing has been said yet." in pages(record_pdf(assessment_data(build()), Record()))[-1]


def test_the_data_hold_the_chain(build: Build) -> None:
    record = said(("agreed.limits", State.AGREED, ""), ("agreed.limits", State.WITHDRAWN, "the wind has risen"))
    data = json.loads(record_json(assessment_data(build()), record))
    assert [entry["mark"] for entry in data["entries"]] == [entry.mark for entry in record.entries]
    assert (data["number"], data["mark"]) == (2, record.mark)
    assert data["call"]["ship"] == "Alder Tern"


def test_both_files_are_written_and_equal_for_equal_records(build: Build, tmp_path: Path) -> None:
    data = assessment_data(build())
    once, twice = (write_record(data, said(), tmp_path / folder) for folder in ("one", "two"))
    assert [path.name for path in once] == ["record.pdf", "record.json"]
    assert [path.read_bytes() for path in once] == [path.read_bytes() for path in twice]


def test_unknown_paper_is_refused(build: Build) -> None:
    with pytest.raises(ValueError, match="'foolscap' is no paper known here; expected one of a4, us-letter"):
        record_pdf(assessment_data(build()), Record(), "foolscap")
