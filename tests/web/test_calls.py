"""The API: which calls there are, and that its answer is the library's own answer."""

import os
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import Prepared
from leadsman.documents.data import assessment_data
from leadsman.portcall import PortCall
from leadsman.web.routes import moment
from leadsman.web.schema import Assessment

EXAMPLES = Path(__file__).parents[2] / "examples"
FIRST = "1-river-coaster"
ANSWER = f"/api/v1/calls/{FIRST}/assessment"


def starting(start: str) -> str:
    return f"{ANSWER}?start={quote(start, safe='')}"


def test_every_example_is_listed(client: Any) -> None:
    folders = sorted(folder.name for folder in EXAMPLES.iterdir() if (folder / "call.toml").exists())
    found = client.get("/api/v1/calls").json()
    assert found["calls"] == folders
    assert found["about"]["1-river-coaster"] == (
        "Example 1, invented: a laden coaster goes up a tidal river on the flood."
    )
    assert all(len(sentence) > 20 for sentence in found["about"].values())
    assert FIRST in folders


def test_a_folder_that_is_itself_a_call_is_the_only_one(serve: Any) -> None:
    assert serve(EXAMPLES / FIRST).get("/api/v1/calls").json()["calls"] == [FIRST]


def test_an_empty_folder_has_no_calls(serve: Any, tmp_path: Path) -> None:
    assert serve(tmp_path).get("/api/v1/calls").json() == {"calls": [], "about": {}}


def test_the_answer_is_the_library_s_own(client: Any, first_call: PortCall, first_prepared: Prepared) -> None:
    reply = client.get(ANSWER)
    assert reply.status == 200
    assert reply.json() == assessment_data(assess(first_call, first_prepared))


def test_another_start_is_answered_for_that_start(
    client: Any, first_call: PortCall, first_prepared: Prepared
) -> None:
    start = moment("2031-05-06T14:05:00Z")
    reply = client.get(starting("2031-05-06T16:05:00+02:00"))
    assert reply.json() == assessment_data(assess(first_call.starting(start), first_prepared))
    assert reply.json()["call"]["start"]["value"] == "2031-05-06T14:05:00Z"


def test_the_described_shape_is_the_real_one(client: Any) -> None:
    for start in (None, "2031-05-06T10:00:00Z"):
        Assessment.model_validate(client.get(starting(start) if start else ANSWER).json())


@pytest.mark.parametrize(
    ("start", "expected"),
    [
        ("2031-05-06T14:05:00", "has no zone; expected a time such as"),
        ("half past two", "is no time; expected one such as"),
        ("2031-05-06T14:05:00ZZ", "is no time; expected one such as"),
        ("", "is no time; expected one such as"),
        ("0001-01-01T00:00:00+23:00", "is no time of this world"),
        ("2030-01-01T00:00:00Z", "lies outside the search of this call; expected a time from 2031-05-05T00:00:00Z"),
        ("9" * 50, "at most 40 characters"),
    ],
)
def test_a_start_that_cannot_be_is_refused_in_words(client: Any, start: str, expected: str) -> None:
    reply = client.get(starting(start))
    assert reply.status == 422
    assert expected in reply.problems[0]


def test_every_fault_of_the_files_is_told_with_file_and_line(serve: Any, folder: Path) -> None:
    ship = folder / "ship.toml"
    ship.write_text(ship.read_text().replace("draught_aft_m = 6.35", "draught_aft_m = 39.0"))
    call = folder / "call.toml"
    call.write_text(call.read_text().replace('direction = "inward"', 'direction = "sideways"'))
    reply = serve(folder.parent).get("/api/v1/calls/call/assessment")
    assert reply.status == 422
    faults = {(fault["file"], fault["field"]): fault for fault in reply.json()["errors"]}
    assert set(faults) == {("call/ship.toml", "draught_aft_m"), ("call/call.toml", "direction")}
    for (file, field), fault in faults.items():
        assert field in (folder.parent / file).read_text().splitlines()[fault["line"] - 1]
    assert str(folder.parent) not in reply.text


def test_a_changed_file_is_read_again(serve: Any, folder: Path) -> None:
    client = serve(folder.parent)
    before = client.get("/api/v1/calls/call/assessment").json()
    call = folder / "call.toml"
    call.write_text(call.read_text().replace("overhead_m = 1.50", "overhead_m = 1.75"))
    os.utime(call, ns=(1, 1))
    after = client.get("/api/v1/calls/call/assessment").json()
    assert before["gates"][0]["required"]["value"] == 1.5
    assert after["gates"][0]["required"]["value"] == 1.75


def test_a_call_that_is_not_there_is_named_and_the_others_told(client: Any) -> None:
    reply = client.get("/api/v1/calls/nowhere/assessment")
    assert reply.status == 404
    assert reply.problems == [
        f"there is no port call 'nowhere' here; expected one of {', '.join(client.get('/api/v1/calls').json()['calls'])}"
    ]


def test_sources_are_given_by_key(client: Any) -> None:
    sources = client.get("/api/v1/sources").json()["sources"]
    assert sources["Schureman1940"]["title"].startswith("Manual of Harmonic Analysis")  # title page, from memory
    answer = client.get(ANSWER).json()
    assert "Schureman1940" in [line["source"] for line in answer["account"]["lines"]]
