"""The record's file: added to by many at once, never half written, and every tampering named with its line."""

import json
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from leadsman.errors import InputErrors
from leadsman.files.folder import open_folder
from leadsman.files.record_file import NAME, Overtaken, add_entry, read_record
from leadsman.record import Record, Role, State


def say(folder: Path, item: str = "agreed.window", **more: Any) -> Record:
    said: dict[str, Any] = {"by": "A. Name", "role": Role.PILOT, "state": State.AGREED, "words": "", "plan": "p"}
    return add_entry(folder, item=item, **(said | more))


def _say_ten(folder: Path, author: int) -> None:
    for number in range(10):
        say(folder, item=f"agreed.{author}.{number}", by=f"author {author}")


def test_what_is_added_is_read_back(tmp_path: Path) -> None:
    say(tmp_path, words="to 0600\nand no later \u2028 ⚓", state=State.CHANGED)
    record = say(tmp_path, item="", state=State.NOTED, words="fog")
    assert read_record(open_folder(tmp_path)) == record
    assert [one.words for one in record.entries] == ["to 0600\nand no later \u2028 ⚓", "fog"]
    assert [path.name for path in tmp_path.iterdir()] == [NAME]


def test_no_record_is_an_empty_one(tmp_path: Path) -> None:
    assert read_record(open_folder(tmp_path)) == Record()


def test_authors_at_the_same_time_lose_nothing(tmp_path: Path) -> None:
    with ProcessPoolExecutor(4) as pool:
        list(pool.map(_say_ten, [tmp_path] * 4, range(4)))
    assert len(read_record(open_folder(tmp_path)).latest()) == 40


def test_who_has_not_seen_the_last_word_on_an_item_is_told_it(tmp_path: Path) -> None:
    say(tmp_path)
    say(tmp_path, by="B. Name", role=Role.MASTER, state=State.REFUSED, words="too late")
    with pytest.raises(Overtaken, match=r"B. Name \(master\) has since said 'refused' of it in entry 2; read that first"):
        say(tmp_path, seen=1)
    assert len(read_record(open_folder(tmp_path)).entries) == 2
    assert len(say(tmp_path, item="agreed.tracks", seen=1).entries) == 3


def _tampered(lines: list[str], how: str) -> list[str]:
    first = json.loads(lines[0])
    return {
        "changed": [json.dumps(first | {"words": "other"}, separators=(",", ":")), *lines[1:]],
        "taken out": [lines[0], lines[2]],
        "no entry": [lines[0], "{", lines[2]],
        "fields": [json.dumps({"number": 1}), *lines[1:]],
        "state": [lines[0], lines[1].replace('"agreed"', '"sworn"'), lines[2]],
        "time": [lines[0], lines[1].replace('"time":"2', '"time":"x'), lines[2]],
        "number": [lines[0].replace('"number":1', '"number":true'), *lines[1:]],
        "text": [lines[0].replace('"plan":"p"', '"plan":4'), *lines[1:]],
    }[how]


@pytest.mark.parametrize(
    ("how", "says"),
    [
        ("changed", r"record.jsonl:2: carries the mark \w+ of an entry before it.*the record has been altered"),
        ("taken out", "record.jsonl:2: is numbered 3; one was taken out or put in; the record has been altered"),
        ("no entry", "record.jsonl:2: is no entry; expected one line of JSON"),
        ("fields", "record.jsonl:1: is no entry; expected the fields number, time"),
        ("state", "record.jsonl:2: state: 'sworn' is not known; expected one of told, agreed"),
        ("time", "record.jsonl:2: time: 'x.*' is no time"),
        ("number", "record.jsonl:1: number: True is no number of an entry"),
        ("text", "record.jsonl:1: plan: 4 is no text"),
    ],
)
def test_a_record_that_was_altered_names_the_line(tmp_path: Path, how: str, says: str) -> None:
    for item in ("one", "two", "three"):
        say(tmp_path, item=f"agreed.{item}")
    file = tmp_path / NAME
    file.write_text("\n".join(_tampered(file.read_text().splitlines(), how)) + "\n")
    before = file.read_bytes()
    with pytest.raises(InputErrors, match=says):
        read_record(open_folder(tmp_path))
    with pytest.raises(InputErrors):
        say(tmp_path)
    assert file.read_bytes() == before
