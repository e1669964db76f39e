"""Drawing over the API: files read, tried, written, gone back to; a stale write is refused; comments stay."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman.files.areas_file import PROPERTIES
from leadsman.files.call_form import AreaShape
from leadsman.files.call_parts import TIMES, files_of, parts_of
from leadsman.files.folder import open_folder
from leadsman.files.revisions import FOLDER, MOST, earlier, revision, write
from leadsman.files.rule_file import ASKS
from leadsman.web.schema import CallFields, CallFiles, SaidOfParts

EXAMPLES = Path(__file__).parents[2] / "examples"
FIRST = "1-river-coaster"
FILES = f"/api/v1/calls/{FIRST}/files"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    shutil.copytree(EXAMPLES / FIRST, tmp_path / FIRST)
    return tmp_path


@pytest.fixture
def server(root: Path, serve: Callable[[Path], Any]) -> Any:
    return serve(root)


def sent(server: Any, method: str, path: str, said: Any, began_with: str | None = None) -> Any:
    body = json.dumps(said).encode()
    headers = {"Content-Type": "application/json", "Content-Length": str(len(body))}
    if began_with is not None:
        headers["If-Match"] = f'"{began_with}"'
    return server.ask(method, path, headers, body)


def read(server: Any) -> Any:
    reply = server.get(FILES)
    assert reply.status == 200, reply.text
    answer = reply.json()
    assert reply.headers["ETag"] == f'"{answer["revision"]}"'
    CallFiles.model_validate(answer)
    return answer


def moved(answer: Any, by: float = 0.0005) -> dict[str, Any]:
    """The second waypoint a little farther north."""
    waterway = answer["parts"]["waterway"]
    waterway["waypoint"][1]["latitude"] += by
    return {"parts": {"waterway": waterway}, "words": "Bar Buoy moved"}


def test_what_is_read_and_written_back_changes_no_byte(server: Any, root: Path) -> None:
    before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
    answer = read(server)
    assert answer["faults"] == []
    reply = sent(server, "PUT", FILES, {"parts": answer["parts"]}, answer["revision"])
    assert reply.status == 200
    assert {path: path.read_bytes() for path in root.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("example", sorted(path.parent.name for path in EXAMPLES.glob("*/call.toml")))
def test_every_example_is_read_without_a_fault_and_written_back_the_same(client: Any, example: str) -> None:
    folder = open_folder(EXAMPLES / example)
    assert files_of(folder, parts_of(folder)) == {}
    answer = client.get(f"/api/v1/calls/{example}/files").json()
    assert answer["faults"] == []
    assert len(answer["parts"]["areas"]["features"]) > 3


def test_times_stay_times_also_in_lists_of_tables(server: Any, root: Path) -> None:
    path = root / FIRST / "call.toml"
    tug = '\n[[tug]]\nname = "Alder"\nbollard_pull_t = 30\navailable_from = 2031-05-06T12:00:00Z   # by her owner\n'
    path.write_text(path.read_text() + tug)
    answer = read(server)
    assert answer["faults"] == []
    answer["parts"]["call"]["tug"][0]["bollard_pull_t"] = 35
    assert sent(server, "PUT", FILES, {"parts": answer["parts"]}, answer["revision"]).status == 200
    assert path.read_text().endswith(tug.replace("= 30", "= 35"))
    assert {("call", "start"), ("call", "tug", "available_from"), ("forecast", "issued")} <= TIMES


def test_a_change_is_written_where_it_belongs_and_nowhere_else(server: Any, root: Path) -> None:
    waterway = root / FIRST / "waterway" / "waterway.toml"
    old = waterway.read_text()
    answer = read(server)
    reply = sent(server, "PUT", FILES, moved(answer), answer["revision"])
    assert reply.status == 200
    new = waterway.read_text()
    changed = [(a, b) for a, b in zip(old.splitlines(), new.splitlines(), strict=True) if a != b]
    assert len(changed) == 1
    assert changed[0][0] == "latitude = -31.535753"
    assert float(changed[0][1].removeprefix("latitude = ")) == pytest.approx(-31.535253)
    after = reply.json()
    assert after["revision"] != answer["revision"]
    assert [one["words"] for one in after["earlier"]] == ["Bar Buoy moved", "as found"]
    distance = server.get(f"/api/v1/calls/{FIRST}/assessment").json()["legs"][0]["distance"]["value"]
    assert distance != pytest.approx(2400.0, abs=1.0), "the assessment follows"


def test_a_waypoint_between_others_keeps_the_comments_of_the_file(server: Any, root: Path) -> None:
    call, waterway = root / FIRST / "call.toml", root / FIRST / "waterway" / "waterway.toml"
    comments = [line.split("#")[1] for path in (call, waterway) for line in path.read_text().splitlines() if "#" in line]
    assert len(comments) > 3
    answer = read(server)
    parts = answer["parts"]
    point = {"name": "Half Way", "latitude": -31.5254, "longitude": -17.5228, "bend_radius_m": 900}
    parts["waterway"]["waypoint"].insert(2, point)
    parts["waterway"]["reach"].insert(2, parts["waterway"]["reach"][1] | {"name": "Bar, upper"})
    parts["call"]["plan"].insert(2, {"reach": "Bar, upper", "order": "slow_ahead"})
    reply = sent(server, "PUT", FILES, {"parts": parts}, answer["revision"])
    assert reply.status == 200, reply.text
    assert reply.json()["parts"] == parts
    kept = [line.split("#")[1] for path in (call, waterway) for line in path.read_text().splitlines() if "#" in line]
    assert kept == comments


def test_a_stale_write_is_refused_with_what_changed(server: Any, root: Path) -> None:
    first, second = read(server), read(server)
    assert sent(server, "PUT", FILES, moved(first), first["revision"]).status == 200
    second["parts"]["waterway"]["gate"][0]["clearance_m"] = 26.0
    written = (root / FIRST / "waterway" / "waterway.toml").read_bytes()
    reply = sent(server, "PUT", FILES, {"parts": second["parts"]}, second["revision"])
    assert reply.status == 409
    (change,) = reply.json()["errors"]
    assert change["field"] == "waterway, waypoint Bar Buoy, latitude"
    assert change["problem"].startswith("-31.535753 is -31.535253")
    assert (root / FIRST / "waterway" / "waterway.toml").read_bytes() == written


def test_an_editor_s_change_counts_too(server: Any, root: Path) -> None:
    answer = read(server)
    path = root / FIRST / "forecast.toml"
    path.write_text(path.read_text().replace("residual_low_m = -0.15", "residual_low_m = -0.35"))
    reply = sent(server, "PUT", FILES, moved(answer), answer["revision"])
    assert reply.status == 409
    assert reply.problems == ["the files of this call were changed since they were read here; nothing was written"]


def test_a_write_without_a_revision_is_refused(server: Any) -> None:
    answer = read(server)
    for method, path, said in (("PUT", FILES, moved(answer)), ("POST", f"{FILES}/restore", {"revision": "0" * 16})):
        reply = sent(server, method, path, said)
        assert reply.status == 428
        assert "If-Match" in reply.problems[0]


def test_all_faults_are_told_at_once_with_their_place_and_nothing_is_written(server: Any, root: Path) -> None:
    answer = read(server)
    before = revision(root / FIRST)
    parts = answer["parts"]
    parts["waterway"]["reach"][2]["bottom_width_m"] = "wide"
    parts["waterway"]["waypoint"][1]["bend_radius_m"] = 5.0
    parts["forecast"]["residual_m"] = None
    parts["call"]["start"] = "tomorrow"
    reply = sent(server, "PUT", FILES, {"parts": parts}, answer["revision"])
    assert reply.status == 422
    assert revision(root / FIRST) == before
    tried = sent(server, "POST", f"{FILES}/check", {"parts": parts})
    assert tried.status == 200
    SaidOfParts.model_validate(tried.json())
    told = {tuple(fault["place"]): fault["problem"] for fault in tried.json()["faults"]}
    assert set(told) == {
        ("waterway", "reach", 2, "bottom_width_m"),
        ("waterway", "waypoint", 1, "bend_radius_m"),
        ("forecast", "residual_m"),
        ("call", "start"),
    }
    assert [fault["problem"] for fault in reply.json()["errors"]] == list(told.values())
    assert {fault["file"] for fault in reply.json()["errors"]} == {
        f"{FIRST}/waterway/waterway.toml",
        f"{FIRST}/forecast.toml",
        f"{FIRST}/call.toml",
    }


def test_a_bend_that_does_not_fit_is_told_at_its_waypoint(server: Any) -> None:
    parts = read(server)["parts"]
    parts["waterway"]["waypoint"][2]["bend_radius_m"] = 9000
    told = sent(server, "POST", f"{FILES}/check", {"parts": parts}).json()
    assert told["faults"]
    assert all(fault["place"][:2] == ["waterway", "waypoint"] for fault in told["faults"])
    assert "smaller bend radii" in told["faults"][0]["problem"]
    assert told["word"] == ""


def test_an_area_without_depth_is_told_at_that_area(server: Any) -> None:
    parts = read(server)["parts"]
    parts["areas"]["features"][3]["properties"].pop("depth_m")
    (fault,) = sent(server, "POST", f"{FILES}/check", {"parts": parts}).json()["faults"]
    assert fault["place"] == ["areas", "features", 3]
    assert "never assumed" in fault["problem"]


def test_what_is_tried_gets_the_verdict_it_would_have(server: Any) -> None:
    answer = read(server)
    as_it_is = sent(server, "POST", f"{FILES}/check", {"parts": answer["parts"]}).json()
    assessment = server.get(f"/api/v1/calls/{FIRST}/assessment").json()
    assert as_it_is["faults"] == []
    assert as_it_is["sentence"] == assessment["verdict"]["sentence"]
    for area in answer["parts"]["areas"]["features"]:
        area["properties"]["depth_m"] = -1.0
    dry = sent(server, "POST", f"{FILES}/check", {"parts": {"areas": answer["parts"]["areas"]}}).json()
    assert dry["grade"] == "stop"
    assert read(server)["earlier"] == [], "nothing was written"


def test_what_is_unfinished_is_kept_when_asked_and_stops_the_assessment(server: Any) -> None:
    answer = read(server)
    answer["parts"]["waterway"]["gate"][0].pop("clearance_m")
    said = {"parts": answer["parts"]}
    assert sent(server, "PUT", FILES, said, answer["revision"]).status == 422
    reply = sent(server, "PUT", f"{FILES}?unfinished=true", said, answer["revision"])
    assert reply.status == 200
    assert "a bridge needs its height" in reply.json()["faults"][0]["problem"]
    assert server.get(f"/api/v1/calls/{FIRST}/assessment").status == 422


def test_going_back_and_forth_over_reloads(server: Any, root: Path) -> None:
    answer = read(server)
    original = {path: path.read_bytes() for path in (root / FIRST).rglob("*") if path.is_file()}
    after = sent(server, "PUT", FILES, moved(answer), answer["revision"]).json()
    back = sent(server, "POST", f"{FILES}/restore", {"revision": answer["revision"]}, after["revision"])
    assert back.status == 200
    assert back.json()["revision"] == answer["revision"]
    now = {path: path.read_bytes() for path in (root / FIRST).rglob("*") if path.is_file() and FOLDER not in path.parts}
    assert now == original
    forth = sent(server, "POST", f"{FILES}/restore", {"revision": after["revision"]}, answer["revision"]).json()
    assert forth["parts"] == after["parts"]
    unknown = sent(server, "POST", f"{FILES}/restore", {"revision": "0" * 16}, after["revision"])
    assert unknown.status == 422
    assert "is not kept here" in unknown.problems[0]


def test_versions_kept_are_bounded(root: Path) -> None:
    folder = root / FIRST
    text = (folder / "forecast.toml").read_bytes()
    for number in range(MOST + 5):
        files = {"forecast.toml": text + f"# {number}\n".encode()}
        write(folder, files, began_with=revision(folder), words=f"note {number}")
    kept = earlier(folder)
    assert len(kept) == MOST
    assert kept[0].words == f"note {MOST + 4}"
    assert kept[0].number == MOST + 6, "numbers only rise"


def test_a_spoilt_version_is_left_out_and_does_no_harm(server: Any, root: Path) -> None:
    answer = read(server)
    after = sent(server, "PUT", FILES, moved(answer), answer["revision"]).json()
    for path in (root / FIRST / FOLDER).glob("*.zip"):
        path.write_bytes(b"PK nonsense")
    assert read(server)["earlier"] == []
    reply = sent(server, "POST", f"{FILES}/restore", {"revision": answer["revision"]}, after["revision"])
    assert reply.status == 422


@pytest.mark.parametrize("name", ["../../outside.geojson", "/etc/outside.geojson", "..\\x.geojson", ".hidden.geojson"])
def test_no_name_leads_out_of_the_folder(server: Any, root: Path, name: str) -> None:
    answer = read(server)
    parts = answer["parts"]
    parts["waterway"]["areas"] = name
    parts["areas"]["features"].pop()
    sent(server, "PUT", f"{FILES}?unfinished=true", {"parts": parts}, answer["revision"])
    found = {path.relative_to(root).as_posix() for path in root.parent.rglob("*.geojson") if path.is_relative_to(root)}
    assert found == {f"{FIRST}/waterway/areas.geojson"}
    assert not [path for path in root.parent.iterdir() if path.name.startswith("outside")]


@pytest.mark.parametrize(
    ("parts", "problem"),
    [
        ({"ship": {}}, "is no part of a call"),
        ({"call": []}, "is no part of a call"),
        ({"areas": {}}, "has no features"),
        ({"call": {"name": "a\u0007b"}}, "cannot be printed"),
        ({"call": {"name": "\ud800"}}, "cannot be printed"),
        ({"call": {"x": 2**60}}, "too great"),
        ({"call": {"x": [[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]}}, "nested too deeply"),
    ],
)
def test_what_no_file_can_hold_is_told(server: Any, parts: Any, problem: str) -> None:
    reply = sent(server, "POST", f"{FILES}/check", {"parts": parts})
    assert reply.status == 422
    assert problem in reply.problems[0]


def test_no_number_is_told(server: Any) -> None:
    body = b'{"parts": {"call": {"x": NaN}}}'
    headers = {"Content-Type": "application/json", "Content-Length": str(len(body))}
    reply = server.ask("POST", f"{FILES}/check", headers, body)
    assert reply.status == 422
    assert "no number" in reply.problems[0]


def test_a_call_whose_file_is_no_toml_cannot_be_drawn_and_says_where(server: Any, root: Path) -> None:
    (root / FIRST / "waterway" / "waterway.toml").write_text("name = \n")
    reply = server.get(FILES)
    assert reply.status == 422
    assert reply.json()["errors"][0]["line"] == 1
    (root / FIRST / "waterway" / "waterway.toml").write_text('name = "x"\n')
    (root / FIRST / "waterway" / "areas.geojson").write_text("[")
    assert "is not GeoJSON" in server.get(FILES).problems[0]


def test_the_form_of_an_area_is_that_of_its_file() -> None:
    assert tuple(AreaShape.model_fields) == PROPERTIES


def test_the_form_has_every_plain_key_of_the_files(client: Any) -> None:
    answer = client.get("/api/v1/files/form").json()
    CallFields.model_validate(answer)
    fields = {field["path"][0]: field for field in answer["tables"]["gate"]}
    assert fields["clearance_m"] == {
        "path": ["clearance_m"],
        "name": "clearance",
        "label": "Clearance",
        "unit": "m",
        "kind": "number",
        "choices": [],
        "needed": False,
        "usual": None,
        "expected": "metres above clearance_datum, 0.1 to 250",
    }
    assert fields["kind"]["choices"] == ["bridge", "cable", "sill", "narrows"]
    assert {field["unit"] for field in answer["tables"]["berth"]} >= {"m", "m/s"}


def test_the_form_leads_into_every_table_of_the_files(client: Any) -> None:
    """From the three files down: each table within a table has a form, and no form is without a way to it."""
    answer = client.get("/api/v1/files/form").json()
    inner = answer["inner"]
    reached, ahead = set(), ["waterway", "call", "forecast"]
    while ahead:
        name = ahead.pop()
        reached.add(name)
        ahead += [one["table"] for one in inner.get(name, []) if one["table"] not in reached]
    assert reached | {"place", "area"} == set(answer["tables"])
    asked = {one["key"] for one in inner["rule"] if one["instead"]}
    assert asked == set(ASKS)
    assert {one["key"]: one["many"] for one in inner["tide_station"]} == {
        "constituent": True,
        "curve": False,
        "secondary": False,
        "offsets": False,
    }
    kinds = {field["path"][0]: field["kind"] for field in answer["tables"]["tide_station.secondary.high"]}
    assert kinds == {"clock_h": "pair", "time_min": "pair", "level_m": "pair", "height_m": "pair"}
