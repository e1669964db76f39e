"""Long work over the API: it runs beside the server, can be stopped, and its answer outlives the server."""

import json
import shutil
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman.assessment.manoeuvres import manoeuvres
from leadsman.documents.manoeuvres_data import manoeuvres_data
from leadsman.files.call_files import read_ship
from leadsman.web import work, worker
from leadsman.web.schema import WorkStanding

EXAMPLE = Path(__file__).parents[2] / "examples/1-river-coaster"
PATH = "/api/v1/calls/call/long-work/trials"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the first example."""
    shutil.copytree(EXAMPLE, tmp_path / "call", ignore=shutil.ignore_patterns(".*"))
    return tmp_path / "call"


def asked(client: Any, method: str = "POST", **options: Any) -> Any:
    body = json.dumps(options).encode()
    headers = {"Content-Type": "application/json", "Content-Length": str(len(body))}
    return client.ask(method, PATH, headers, body)


def finished(client: Any) -> Any:
    while (found := client.get(PATH).json())["state"] == "running":
        time.sleep(0.1)
    WorkStanding.model_validate(found)
    return found


def test_the_answer_is_the_library_s_own_and_outlives_the_server(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    assert client.get(PATH).json()["state"] == "none"
    assert client.get(f"{PATH}/answer").status == 404
    assert asked(client, depth_ratio=1.5).json()["state"] == "running"
    assert finished(client)["state"] == "done"
    after = serve(folder.parent)
    assert after.get(PATH).json() | {"words": ""} == {
        "kind": "trials",
        "state": "done",
        "share": 1.0,
        "words": "",
        "options": {"depth_ratio": 1.5},
        "begun": client.get(PATH).json()["begun"],
        "earlier_plan": False,
    }
    assert after.get(f"{PATH}/answer").json() == json.loads(json.dumps(manoeuvres_data(manoeuvres(*read_ship(EXAMPLE), 1.5))))


def test_it_can_be_stopped_and_leaves_nothing_half(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    asked(client)
    busy = asked(client)
    assert busy.status == 422
    assert busy.problems == ["trials is still being worked out; stop that first, or wait for it"]
    assert asked(client, "DELETE").json()["state"] == "stopped"
    assert client.get(f"{PATH}/answer").status == 404
    assert not list((folder / work.FOLDER / "trials").glob("*.part"))
    assert asked(client, "DELETE").json()["state"] == "stopped"


def test_a_changed_call_marks_the_answer_as_of_an_earlier_plan(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    asked(client)
    asked(client, "DELETE")
    file = folder / "call.toml"
    file.write_text(file.read_text().replace("underkeel_m = ", "underkeel_m = 1"))
    assert client.get(PATH).json()["earlier_plan"] is True


def test_why_nothing_came_of_it_is_told(folder: Path, serve: Callable[[Path], Any]) -> None:
    client = serve(folder.parent)
    asked(client, depth_ratio=1.01)
    found = finished(client)
    assert found["state"] == "failed"
    assert "1.01 is too shallow for the model" in found["words"]


@pytest.mark.parametrize("options", [{"depth_ratio": "deep"}, {"depth_ratio": 0.5}, {"colour": 1}])
def test_what_it_does_not_take_is_refused_before_it_begins(
    folder: Path, serve: Callable[[Path], Any], options: dict[str, Any]
) -> None:
    reply = asked(serve(folder.parent), **options)
    assert reply.status == 422
    assert not (folder / work.FOLDER).exists()


def test_what_a_sweep_of_failures_sails_is_kept_with_the_call(folder: Path) -> None:
    """So that work that was stopped goes on where it was, from the page as from the command line."""
    told: list[float] = []
    first = worker.failures(folder, {"every": 3_600.0}, lambda share, words: told.append(share))
    assert len(list((folder / ".rehearsals").glob("*.npz"))) == 1
    assert len(told) > 2
    told.clear()
    assert worker.failures(folder, {"every": 3_600.0}, lambda share, words: told.append(share)) == first
    assert told == [0.0, 1.0], "nothing was left to sail"


def test_limits_are_asked_for_as_on_the_command_line(folder: Path) -> None:
    """So many directions; kept run by run unless one says otherwise."""
    told: list[float] = []

    def progress(share: float, words: str) -> None:
        told.append(share)

    asked = {"runs": 1, "directions": 2, "keep": False}
    first = worker.limits(folder, asked, progress)
    assert [len(one["winds"]) for one in first["sets"]] == [2]
    assert not (folder / ".rehearsals").exists()
    assert worker.limits(folder, asked | {"keep": True}, progress) == first
    assert len(list((folder / ".rehearsals").glob("*.npz"))) == 1


def test_the_greatest_streams_are_long_work_too(folder: Path) -> None:
    found = worker.stream_limits(folder, {"runs": 1}, lambda share, words: None)
    assert found["schema"] == "leadsman.stream-limits/1"
    assert {one["state"] for one in found["states"]} > {"slack"}
    assert len(list((folder / ".rehearsals").glob("*.npz"))) == 1
    assert worker.KINDS["stream-limits"].options.model_validate({}).model_dump() == {
        "keep": True,
        "runs": 20,
        "seed": 1,
        "start": None,
    }
