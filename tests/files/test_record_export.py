"""A record.json as it was written for others: it bears out its marks, and whatever is changed in it is told."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.builders.records import recorded

from leadsman.documents.record_sheet import record_json
from leadsman.errors import InputErrors
from leadsman.files.record_export import read_export
from leadsman.record import Record, State

ABOUT = {
    "fingerprint": "5f1c0e7a9d3b",
    "call": {
        "name": "Town Quay inward",
        "ship": "Alder Tern",
        "direction": "inward",
        "start": {"value": "2031-05-04T05:28:00Z"},
    },
}
SAID = (
    ("agreed.limits", State.CHANGED, "wind below 18 kn"),
    ("agreed.window", State.AGREED, ""),
    ("", State.NOTED, "fog \u2028 in the bends"),
)


def made() -> Record:
    return recorded(SAID, "5f1c0e7a9d3b")


@pytest.fixture
def exported(tmp_path: Path) -> Path:
    file = tmp_path / "record.json"
    file.write_bytes(record_json(ABOUT, made()))
    return file


def test_what_was_exported_is_read_back_and_bears_its_marks(exported: Path) -> None:
    found = read_export(exported)
    assert found.record == made()
    assert (found.direction, found.plan) == ("inward", "5f1c0e7a9d3b")


def test_an_empty_record_too(tmp_path: Path) -> None:
    file = tmp_path / "record.json"
    file.write_bytes(record_json(ABOUT, Record()))
    assert read_export(file).record == Record()


def item(data: dict[str, Any], key: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for part in data["parts"] for one in part["items"] if one["key"] == key)
    return found


def words(data: dict[str, Any]) -> None:
    data["entries"][0]["words"] = "wind below 28 kn"


def words_everywhere(data: dict[str, Any]) -> None:
    words(data)
    item(data, "agreed.limits")["said"]["words"] = "wind below 28 kn"


def somebody_else(data: dict[str, Any]) -> None:
    data["entries"][2]["by"] = "Bob Example"


def taken_out(data: dict[str, Any]) -> None:
    del data["entries"][1]


def cut_off(data: dict[str, Any]) -> None:
    del data["entries"][2]


def told_otherwise(data: dict[str, Any]) -> None:
    item(data, "agreed.limits")["said"]["words"] = "no limit"


def emptied(data: dict[str, Any]) -> None:
    item(data, "agreed.window")["said"] = None


def another_state(data: dict[str, Any]) -> None:
    data["entries"][1]["state"] = "sworn"


def no_schema(data: dict[str, Any]) -> None:
    data["schema"] = "another/1"


def no_plan(data: dict[str, Any]) -> None:
    del data["plan"]


ALTERED = [  # what is done to the file, what is said of it
    (words, r"entry 1: carries the mark \w{16}, but what it says gives \w{16}; it was altered"),
    (words_everywhere, r"entry 1: carries the mark"),
    (somebody_else, r"entry 3: carries the mark"),
    (taken_out, r"entry 2: carries the mark"),
    (taken_out, r"entry 2: is numbered 3; one was taken out or put in"),
    (cut_off, r"mark: 3 entries marked \w{16} are told, but there are 2"),
    (told_otherwise, "agreed.limits: tells other than the last entry about it; it was altered"),
    (emptied, "agreed.window: tells other than the last entry about it"),
    (another_state, "state: 'sworn' is not known"),
    (no_schema, "schema: is not leadsman.record/1; expected a record.json"),
    (no_plan, "lacks parts of a record.json"),
]


@pytest.mark.parametrize(("change", "says"), ALTERED)
def test_what_was_altered_is_told(exported: Path, change: Callable[[dict[str, Any]], None], says: str) -> None:
    data = json.loads(exported.read_text("utf-8"))
    change(data)
    exported.write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(InputErrors, match=says):
        read_export(exported)


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b"[" * 100_000])
def test_what_is_no_record_is_told(exported: Path, content: bytes) -> None:
    exported.write_bytes(content)
    with pytest.raises(InputErrors, match=r"record\.json: .*expected a record\.json"):
        read_export(exported)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match=r"cannot be read; expected a record\.json"):
        read_export(tmp_path / "record.json")
