"""The record over the API: read, added to, overtaken, refused; the same file and words as the library's."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman.assessment.assess import fingerprint
from leadsman.files.call_files import read_call
from leadsman.files.folder import open_folder
from leadsman.files.record_file import NAME, read_record
from leadsman.web.schema import CallRecord

EXAMPLE = Path(__file__).parents[2] / "examples/1-river-coaster"
PATH = "/api/v1/calls/call/record"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the first example."""
    import shutil

    shutil.copytree(EXAMPLE, tmp_path / "call")
    return tmp_path / "call"


def said(client: Any, **change: Any) -> Any:
    entry = {"by": "A. Name", "role": "pilot", "item": "agreed.window", "state": "agreed", "plan": "p", "seen": 0}
    body = json.dumps(entry | change).encode()
    headers = {"Content-Type": "application/json", "Content-Length": str(len(body))}
    return client.ask("POST", PATH, headers, body)


def test_a_call_without_a_record_has_every_item_open(folder: Path, serve: Callable[[Path], Any]) -> None:
    answer = serve(folder.parent).get(PATH).json()
    CallRecord.model_validate(answer)
    assert answer["number"] == 0
    assert [part["key"] for part in answer["parts"]] == ["ship_tells", "pilot_tells", "agreed", "arrival"]
    assert answer["open"] == sum(len(part["items"]) for part in answer["parts"])
    assert not (folder / NAME).exists()


def test_what_is_said_is_on_disk_before_the_reply(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    plan = client.get(PATH).json()["plan"]
    answer = said(client, plan=plan).json()
    CallRecord.model_validate(answer)
    record = read_record(open_folder(folder))
    assert answer["mark"] == record.mark
    items = {item["key"]: item for part in answer["parts"] for item in part["items"]}
    assert items["agreed.window"]["said"]["by"] == "A. Name"
    assert items["agreed.window"]["earlier_plan"] is False
    assert plan == fingerprint(read_call(folder))


def test_an_agreement_on_another_plan_is_told_apart(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    plan = client.get(PATH).json()["plan"]
    said(client, plan=plan)
    file = folder / "call.toml"
    changed = file.read_text().replace("underkeel_m = ", "underkeel_m = 1")
    assert changed != file.read_text()
    file.write_text(changed)
    answer = client.get(PATH).json()
    assert answer["plan"] != plan
    items = {item["key"]: item for part in answer["parts"] for item in part["items"]}
    assert items["agreed.window"]["earlier_plan"] is True


def test_two_at_once_are_told_of_each_other(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    assert said(client).status == 200
    late = said(client, by="B. Name", role="master", state="refused", words="too late")
    assert late.status == 409
    assert late.problems == ["A. Name (pilot) has since said 'agreed' of it in entry 1; read that first"]
    assert said(client, by="B. Name", role="master", state="refused", words="too late", seen=1).status == 200


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        ({"item": "agreed.moon"}, "'agreed.moon' is no item of this call's exchange or tests"),
        ({"by": ""}, "is missing; expected the name of who says so"),
        ({"state": "changed"}, "are missing; 'changed' needs to say what or why"),
        ({"words": "\ud800"}, "Input should be a valid string"),
    ],
)
def test_what_cannot_stand_is_refused(
    folder: Path, serve: Callable[[Path], Any], change: dict[str, Any], problem: str
) -> None:
    reply = said(serve(folder.parent), **change)
    assert reply.status == 422
    assert problem in " ".join(reply.problems)
    assert not (folder / NAME).exists()


def test_an_altered_record_is_told_and_left_alone(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    said(client)
    said(client, item="agreed.tracks", seen=1)
    file = folder / NAME
    file.write_text(file.read_text().replace("A. Name", "C. Name", 1))
    before = file.read_text()
    for reply in (client.get(PATH), said(client, item="agreed.roles")):
        assert reply.status == 422
        assert "the record has been altered" in " ".join(reply.problems)
    assert file.read_text() == before
