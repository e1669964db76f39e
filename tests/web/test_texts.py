"""The files of a call as texts over the API, and its card: tried, written, refused when stale, gone back to."""

import json
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman.web.schema import CallTexts, ShipCard

EXAMPLES = Path(__file__).parents[2] / "examples"
NAME = "1-river-coaster"
TEXTS = f"/api/v1/calls/{NAME}/texts"
CARD = f"/api/v1/calls/{NAME}/card"
RULE = """
[[rule]]
name = "Least visibility in the river"
source = "invented"
reaches = ["Mill Reach"]
visibility = { least_nm = 20.0 }
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "calls").mkdir()
    shutil.copytree(EXAMPLES / NAME, tmp_path / "calls" / NAME)
    return tmp_path / "calls"


@pytest.fixture
def server(root: Path, serve: Callable[[Path], Any]) -> Any:
    return serve(root)


def said(server: Any, method: str, path: str, body: Any, revision: str | None = None) -> Any:
    content = json.dumps(body).encode()
    headers = {"Content-Type": "application/json", "Content-Length": str(len(content))}
    if revision is not None:
        headers["If-Match"] = f'"{revision}"'
    return server.ask(method, path, headers, content)


def test_every_text_is_given_and_written_back_the_same(server: Any, root: Path) -> None:
    read = server.get(TEXTS).json()
    CallTexts.model_validate(read)
    assert set(read["texts"]) == {"call.toml", "forecast.toml", "ship.toml", "waterway/bands.toml", "waterway/waterway.toml"}
    before = {name: (root / NAME / name).read_bytes() for name in read["texts"]}
    reply = said(server, "PUT", TEXTS, {"texts": read["texts"]}, read["revision"])
    assert reply.json() == read
    assert before == {name: (root / NAME / name).read_bytes() for name in read["texts"]}


def test_a_rule_typed_into_the_text_is_tried_written_and_reaches_the_verdict(server: Any, root: Path) -> None:
    read = server.get(TEXTS).json()
    name = "waterway/waterway.toml"
    longer = {name: read["texts"][name] + RULE}
    tried = said(server, "POST", f"{TEXTS}/check", {"texts": longer}).json()
    assert tried["faults"] == []
    assert tried["word"]
    assert (root / NAME / name).read_text() == read["texts"][name], "nothing is written by a try"
    assert said(server, "PUT", TEXTS, {"texts": longer, "words": "rule added"}, read["revision"]).status == 200
    rules = server.get(f"/api/v1/calls/{NAME}/assessment").json()["rules"]
    assert "Least visibility in the river" in {rule["name"] for rule in rules}
    earlier = server.get(f"/api/v1/calls/{NAME}/files").json()["earlier"]
    assert earlier[0]["words"] == "rule added"


def test_faults_of_a_text_are_told_with_file_and_line_and_nothing_is_written(server: Any, root: Path) -> None:
    read = server.get(TEXTS).json()
    lines = read["texts"]["ship.toml"].splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("draught_aft_m"))
    lines[at] = "draught_aft_m = 39.0"
    wrong = {"ship.toml": "\n".join(lines), "call.toml": "name = ["}
    tried = said(server, "POST", f"{TEXTS}/check", {"texts": wrong}).json()
    assert (f"{NAME}/ship.toml", at + 1) in {(fault["file"], fault["line"]) for fault in tried["faults"]}
    assert f"{NAME}/call.toml" in {fault["file"] for fault in tried["faults"]}
    assert tried["word"] == ""
    refused = said(server, "PUT", TEXTS, {"texts": wrong}, read["revision"])
    assert refused.status == 422
    assert server.get(TEXTS).json() == read
    kept = said(server, "PUT", f"{TEXTS}?unfinished=true", {"texts": wrong}, read["revision"])
    assert kept.json()["texts"]["call.toml"] == "name = ["


def test_a_stale_text_is_refused_and_one_without_revision_too(server: Any, root: Path) -> None:
    read = server.get(TEXTS).json()
    call = root / NAME / "call.toml"
    call.write_text(call.read_text().replace("underkeel_m = ", "underkeel_m = 1"))
    mine = {"call.toml": f"{read['texts']['call.toml']}\n# mine\n"}
    stale = said(server, "PUT", TEXTS, {"texts": mine}, read["revision"])
    assert stale.status == 409
    assert "nothing was written" in stale.json()["errors"][0]["problem"]
    assert "# mine" not in call.read_text()
    assert said(server, "PUT", TEXTS, {"texts": {}}).status == 428


@pytest.mark.parametrize(
    "name", ["../call.toml", "/etc/passwd", "record.jsonl", "waterway/../x.toml", "waterway/areas.geojson", ".work/x.toml", ""]
)
def test_no_name_leads_elsewhere(server: Any, name: str) -> None:
    revision = server.get(TEXTS).json()["revision"]
    for method, path in (("POST", f"{TEXTS}/check"), ("PUT", TEXTS)):
        refused = said(server, method, path, {"texts": {name: "x"}}, revision)
        assert refused.status == 422
        assert "is no text of a call" in refused.text


def test_the_card_of_a_call_is_written_its_remarks_stay_and_it_can_be_gone_back_to(server: Any, root: Path) -> None:
    read = server.get(CARD).json()
    ShipCard.model_validate(read)
    card = read["card"]
    card["loading"]["draught_aft_m"] = 6.4
    assert said(server, "PUT", CARD, card).status == 428
    reply = said(server, "PUT", CARD, card, read["revision"])
    assert reply.json()["card"]["loading"]["draught_aft_m"] == 6.4
    text = (root / NAME / "ship.toml").read_text()
    assert text.startswith((EXAMPLES / NAME / "ship.toml").read_text().splitlines()[0]), "the remark at its head"
    assert tomllib.loads(text)["loading"]["draught_aft_m"] == 6.4
    assert said(server, "PUT", CARD, card, read["revision"]).status == 409, "the revision before"
    card["loading"]["draught_aft_m"] = 39.0
    refused = said(server, "PUT", CARD, card, reply.json()["revision"])
    assert refused.json()["errors"][0]["field"] == "loading.draught_aft_m"
    now = server.get(f"/api/v1/calls/{NAME}/files").json()
    said(server, "POST", f"/api/v1/calls/{NAME}/files/restore", {"revision": read["revision"]}, now["revision"])
    assert (root / NAME / "ship.toml").read_bytes() == (EXAMPLES / NAME / "ship.toml").read_bytes()


def test_going_back_to_a_version_of_old_keeps_the_card(server: Any, root: Path) -> None:
    """A version kept before cards were among them has none: the card in force stays."""
    from leadsman.files import revisions

    folder = root / NAME
    old = {name: content for name, content in revisions._contents(folder).items() if name != "ship.toml"}
    revisions._keep(folder, old, "of old")
    now = revisions.revision(folder)
    revisions.restore(folder, revisions._digest(old), began_with=now)
    assert (folder / "ship.toml").is_file()
