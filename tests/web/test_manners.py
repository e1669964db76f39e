"""The manner an answer is asked for in: of that answer alone, validated, and of kept answers whenever they are read."""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman import format as text
from leadsman.web import work
from leadsman.web.worker import KINDS, Kind, TrialsOptions, main

EXAMPLE = Path(__file__).parents[2] / "examples/1-river-coaster"
CALL = "1-river-coaster"
ASKED = "lengths=feet&forces=kilonewtons&zone=%2B01:00"


def test_an_answer_is_in_the_manner_asked_for_and_the_next_is_not(client: Any) -> None:
    path = f"/api/v1/calls/{CALL}/assessment"
    feet, usual = client.get(f"{path}?{ASKED}").json(), client.get(path).json()
    assert feet["manner"] == {
        "lengths": "feet", "length": "ft", "forces": "kilonewtons", "force": "kN", "zone": 60, "clock": "UTC+01:00",
        "words": "Written with lengths, depths and heights in feet and tenths, forces in kilonewtons, times UTC+01:00.",
    }  # fmt: skip
    assert usual["manner"]["words"] == ""
    assert (usual["call"]["draught"]["text"], feet["call"]["draught"]["text"]) == ("6.35 m", "20.8 ft")
    assert usual["call"]["start"]["clock"] != feet["call"]["start"]["clock"]
    assert feet["fingerprint"] == usual["fingerprint"]
    assert feet["series"] == usual["series"], "numbers stay SI"
    assert feet["account"]["net"] == usual["account"]["net"]
    assert feet["call"]["start"]["value"] == usual["call"]["start"]["value"]


@pytest.mark.parametrize(
    ("query", "problem"),
    [
        ("lengths=fathoms", "Input should be 'metres' or 'feet'"),
        ("zone=noon", "'noon' is no zone; expected UTC, or a difference from it such as +01:00"),
        ("zone=%2B01:07", "+01:07 is no zone; expected UTC"),
    ],
)
def test_what_is_no_manner_is_refused(client: Any, query: str, problem: str) -> None:
    reply = client.get(f"/api/v1/calls/{CALL}/assessment?{query}")
    assert reply.status == 422
    assert problem in reply.problems[0]


def test_papers_follow(client: Any) -> None:
    page = client.get(f"/api/v1/calls/{CALL}/papers/pack.html?{ASKED}").text
    assert "all times UTC+01:00" in page
    assert "all times UTC." in client.get(f"/api/v1/calls/{CALL}/papers/pack.html").text


def test_a_kept_answer_is_read_in_any_manner(
    tmp_path: Path, serve: Callable[[Path], Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(EXAMPLE, tmp_path / "call")
    place = tmp_path / "call" / work.FOLDER / "trials"
    place.mkdir(parents=True)
    work.write(place / "asked.json", {"options": {}})
    told = Kind(TrialsOptions, lambda call, options, progress: {"why": f"“{text.clearance(1.357)}” there"})
    monkeypatch.setitem(KINDS, "trials", told)
    main(tmp_path / "call", "trials")
    path = "/api/v1/calls/call/long-work/trials/answer"
    client = serve(tmp_path)
    assert client.get(path).json() == {"why": "“1.35 m” there"}
    assert client.get(f"{path}?lengths=feet").json() == {"why": "“4.4 ft” there"}
