"""A new call over the API: files recognised, questions asked and answered, the call made and assessed."""

import json
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))

import small_port
from small_port import ANSWERS

from leadsman.files.gathering import MOST, PLACE
from leadsman.web.schema import Gathering

EXAMPLES = Path(__file__).parents[2] / "examples"
KINDS = {"chart": "S-57 cell", "tide": "table of high and low waters", "ship": "ship card", "route": "RTZ route"}


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "calls").mkdir()
    return tmp_path / "calls"


@pytest.fixture
def server(root: Path, serve: Callable[[Path], Any]) -> Any:
    return serve(root)


@pytest.fixture
def paths(tmp_path: Path) -> dict[str, Path]:
    (tmp_path / "sources").mkdir()
    return small_port.write_sources(tmp_path / "sources")


def said(server: Any, method: str, path: str, body: Any = None) -> Any:
    content = body if isinstance(body, bytes) else json.dumps(body).encode()
    kind = "application/octet-stream" if isinstance(body, bytes) else "application/json"
    headers = {"Content-Type": kind, "Content-Length": str(len(content))}
    return server.ask(method, f"/api/v1/{path}", headers, content)


def begun(server: Any) -> str:
    reply = said(server, "POST", "gatherings")
    assert reply.status == 200, reply.text
    return str(reply.json()["gathering"])


def given(server: Any, key: str, path: Path, name: str = "") -> Any:
    reply = said(server, "PUT", f"gatherings/{key}/sources/{quote(name or path.name)}", path.read_bytes())
    assert reply.status == 200, reply.text
    Gathering.model_validate(reply.json())
    return reply.json()


def all_given(server: Any, paths: dict[str, Path]) -> tuple[str, Any]:
    key = begun(server)
    return key, [given(server, key, path) for path in paths.values()][-1]


def answered(server: Any, key: str, answers: dict[str, str]) -> Any:
    return said(server, "PUT", f"gatherings/{key}/answers", {"answers": answers}).json()


def test_files_are_recognised_and_what_is_missing_is_told(server: Any, paths: dict[str, Path]) -> None:
    key = begun(server)
    assert len(given(server, key, paths["chart"])["missing"]) == 2
    found = given(server, key, paths["ship"])
    assert {source["use"]: source["kind"] for source in found["sources"]} == {
        "chart": KINDS["chart"],
        "ship": KINDS["ship"],
    }
    assert found["missing"] == ["a table of high and low waters as CSV"]
    assert not found["ready"]
    assert given(server, key, paths["tide"])["missing"] == []


def test_from_files_and_answers_to_an_assessed_call(server: Any, root: Path, paths: dict[str, Path]) -> None:
    key, found = all_given(server, paths)
    assert {question["key"] for question in found["questions"] if question["open"]} == {*ANSWERS}
    assert "Grain Quay" in next(one for one in found["questions"] if one["key"] == "berth")["choices"]
    found = answered(server, key, ANSWERS)
    assert found["ready"]
    assert found["faults"] == []
    assert any("mooring buoys" in one["sentence"] for one in found["findings"])
    assert said(server, "GET", f"gatherings/{key}").json() == found, "it is there after a reload"
    assert said(server, "POST", f"gatherings/{key}/call", {"name": "grain-quay"}).json() == {"call": "grain-quay"}
    assert server.get("/api/v1/calls").json()["calls"] == ["grain-quay"]
    assert server.get("/api/v1/calls/grain-quay/assessment").json()["verdict"]["go"]
    files = server.get("/api/v1/calls/grain-quay/files").json()
    assert files["underlay"]
    chart = server.get("/api/v1/calls/grain-quay/underlay").json()
    assert {"Harbour Bridge", "No 1", "Grain Quay"} <= {one["properties"]["label"] for one in chart["features"]}
    assert said(server, "GET", f"gatherings/{key}").status == 404
    assert not list((root / PLACE).iterdir())


def test_answers_that_are_none_are_told_at_their_question_and_the_others_count(
    server: Any, paths: dict[str, Path]
) -> None:
    key, _ = all_given(server, paths)
    found = answered(server, key, ANSWERS | {"underkeel_m": "plenty", "side_to": "left"})
    told = {fault["field"]: fault["problem"] for fault in found["faults"]}
    assert told == {
        "underkeel_m": "'plenty'; expected a number, 0 to 20",
        "side_to": "'left'; expected one of port, starboard",
    }
    assert {question["key"] for question in found["questions"] if question["open"]} == set(told)
    assert not found["ready"]
    made = said(server, "POST", f"gatherings/{key}/call", {"name": "x"})
    assert made.status == 422
    assert any("still lacks an answer to side_to" in problem for problem in made.problems)
    assert answered(server, key, {"underkeel_m": "0.6", "side_to": "starboard"})["ready"]


def test_an_answer_can_be_taken_back_and_one_to_nothing_does_no_harm(server: Any, paths: dict[str, Path]) -> None:
    key, _ = all_given(server, paths)
    assert answered(server, key, ANSWERS | {"berth_begin": "1, 2"})["ready"]
    found = answered(server, key, {"channel": ""})
    assert not found["ready"]
    assert [one["key"] for one in found["questions"] if one["open"]] == ["channel"]


def test_a_card_typed_takes_the_place_of_any_other(server: Any, paths: dict[str, Path]) -> None:
    key = begun(server)
    given(server, key, paths["ship"], "another.toml")
    card = tomllib.loads(paths["ship"].read_text())
    reply = said(server, "PUT", f"gatherings/{key}/card", card | {"name": "Typed"})
    assert [(one["name"], one["use"]) for one in reply.json()["sources"]] == [("ship.toml", "ship")]
    card["loading"]["draught_aft_m"] = 39.0
    refused = said(server, "PUT", f"gatherings/{key}/card", card)
    assert refused.status == 422
    assert refused.json()["errors"][0]["field"] == "loading.draught_aft_m"
    for name in ("chart", "tide", "route"):
        given(server, key, paths[name])
    ready = said(server, "PUT", f"gatherings/{key}/answers", {"answers": ANSWERS | {"tugs": "Hazel 50"}}).json()
    assert ready["ready"]
    assert [one["key"] for one in ready["questions"] if one["open"]] == []
    assert "wind_speed_kn" in {one["key"] for one in ready["questions"] if one["optional"]}
    said(server, "POST", f"gatherings/{key}/call", {"name": "typed"})
    assert server.get("/api/v1/calls/typed/card").json()["card"]["name"] == "Typed"


def test_two_files_for_one_use_are_not_chosen_between(server: Any, paths: dict[str, Path]) -> None:
    key, _ = all_given(server, paths)
    answered(server, key, ANSWERS)
    found = given(server, key, paths["tide"], "other tides.csv")
    assert not found["ready"]
    assert found["faults"][0]["problem"] == "there are 2 (other tides.csv, tides.csv); take out all but one"
    found = said(server, "DELETE", f"gatherings/{key}/sources/other%20tides.csv").json()
    assert found["ready"]


def test_a_table_without_datum_asks_for_it(server: Any, paths: dict[str, Path]) -> None:
    text = paths["tide"].read_text()
    paths["tide"].write_text(text.replace("# datum: LAT\n", ""))
    key, found = all_given(server, paths)
    assert [one["key"] for one in found["questions"]] == ["tide_datum"]
    assert not found["ready"]
    found = answered(server, key, ANSWERS | {"tide_datum": "LAT"})
    assert found["ready"], found


def test_what_is_nothing_is_said_to_be_nothing(server: Any, tmp_path: Path) -> None:
    key = begun(server)
    path = tmp_path / "holiday.jpg"
    path.write_bytes(b"\xff\xd8\xff\xe0" + bytes(300))
    (source,) = given(server, key, path)["sources"]
    assert (source["kind"], source["use"]) == ("", "")
    assert "is in no format that is read" in source["problem"]


@pytest.mark.parametrize("name", [".hidden", "%2e%2e", "a%00b", "%2e%2e%2fx", "a%5cb"])
def test_no_name_of_a_file_leads_elsewhere(server: Any, root: Path, name: str) -> None:
    key = begun(server)
    reply = said(server, "PUT", f"gatherings/{key}/sources/{name}", b"x")
    assert reply.status in (404, 405, 422)
    assert [path for path in root.parent.rglob("*") if path.is_file()] == []


@pytest.mark.parametrize("name", ["../x", "a/b", ".hidden", "", "x.", "a\u0000b", "C:\\x"])
def test_no_name_of_a_call_leads_elsewhere(server: Any, root: Path, paths: dict[str, Path], name: str) -> None:
    key, _ = all_given(server, paths)
    answered(server, key, ANSWERS)
    assert said(server, "POST", f"gatherings/{key}/call", {"name": name}).status == 422
    assert [path.name for path in root.iterdir()] == [PLACE]


def test_a_name_taken_is_refused(server: Any, root: Path, paths: dict[str, Path]) -> None:
    (root / "there").mkdir()
    key, _ = all_given(server, paths)
    answered(server, key, ANSWERS)
    reply = said(server, "POST", f"gatherings/{key}/call", {"name": "there"})
    assert reply.status == 422
    assert "exists already" in reply.problems[0]
    assert list((root / "there").iterdir()) == []


@pytest.mark.parametrize("key", ["..", "%2e%2e", "0" * 16, "x"])
def test_a_key_from_outside_is_no_path(server: Any, key: str) -> None:
    assert said(server, "GET", f"gatherings/{key}").status == 404


def test_gatherings_are_bounded(server: Any, root: Path) -> None:
    keys = [begun(server) for _ in range(MOST + 3)]
    left = {path.name for path in (root / PLACE).iterdir()}
    assert len(left) == MOST
    assert keys[-1] in left


def test_a_server_of_one_call_begins_no_other(serve: Callable[[Path], Any]) -> None:
    reply = said(serve(EXAMPLES / "1-river-coaster"), "POST", "gatherings")
    assert reply.status == 422
    assert "serve the folder around it" in reply.problems[0]
    assert not (EXAMPLES / "1-river-coaster" / PLACE).exists()


def test_a_chart_is_laid_under_a_call_and_changes_nothing_of_it(
    server: Any, root: Path, paths: dict[str, Path]
) -> None:
    import shutil

    shutil.copytree(EXAMPLES / "1-river-coaster", root / "river")
    assert server.get("/api/v1/calls/river/underlay").status == 404
    before = server.get("/api/v1/calls/river/files").json()
    assert said(server, "PUT", "calls/river/underlay/XX.000", paths["chart"].read_bytes()).status == 204
    assert server.get("/api/v1/calls/river/underlay").status == 200
    after = server.get("/api/v1/calls/river/files").json()
    assert after == before | {"underlay": True}
    bad = said(server, "PUT", "calls/river/underlay/XX.000", b"nonsense")
    assert bad.status == 422
