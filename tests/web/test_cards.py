"""Ship cards over the API: what the form sends is checked, completed, or told what cannot be so."""

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from leadsman.assessment.checked_card import checked_card
from leadsman.documents.card_report import card_report
from leadsman.files.call_files import read_ship
from leadsman.files.card_form import card_form
from leadsman.files.ship_file import ShipShape
from leadsman.web.schema import CardForm, CardsBeside, CheckedCard
from leadsman.web.security import LARGEST_BODY

EXAMPLES = Path(__file__).parents[2] / "examples"
FIRST = EXAMPLES / "1-river-coaster"
SLIPS = EXAMPLES / "card-with-slips"
JSON = {"Content-Type": "application/json"}


def sent(client: Any, card: Any) -> Any:
    body = card if isinstance(card, bytes) else json.dumps(card).encode()
    return client.ask("POST", "/api/v1/card", JSON | {"Content-Length": str(len(body))}, body)


def card_in(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "ship.toml").read_text())


@pytest.mark.parametrize("folder", [FIRST, SLIPS], ids=["clean", "with slips"])
def test_the_answer_is_the_library_s_own(client: Any, folder: Path) -> None:
    reply = sent(client, card_in(folder))
    card = checked_card(*read_ship(folder))
    assert reply.status == 200
    assert reply.json() == card_report(card.ship.name, card.findings, card.figures, card.meanings, card.changed) | {
        "faults": []
    }
    CheckedCard.model_validate(reply.json())
    assert any(one["grade"] == "stop" for one in reply.json()["findings"]) is (folder == SLIPS)


def test_own_figures_come_first_and_what_they_change_is_told(client: Any) -> None:
    card = card_in(FIRST) | {"own_figures": {"metacentric_height_m": 0.9}}
    answer = sent(client, card).json()
    CheckedCard.model_validate(answer)
    (figure,) = [one for one in answer["figures"] if one["name"] == "metacentric_height"]
    assert (figure["text"], figure["source"]) == ("0.90 m", "own figure")
    changed = {one["name"]: one["own"] for one in answer["changes"]}
    assert changed["metacentric_height"]
    assert not changed["roll_period"]
    assert sent(client, card_in(FIRST)).json()["changes"] == []


def test_a_fault_of_an_own_figure_names_its_key(client: Any) -> None:
    card = card_in(FIRST) | {"own_figures": {"metacentric_height_m": "much"}}
    (fault,) = sent(client, card).json()["faults"]
    assert fault["field"] == "own_figures.metacentric_height_m"


def together(client: Any, body: Any) -> Any:
    raw = json.dumps(body).encode()
    return client.ask("POST", "/api/v1/card/beside", JSON | {"Content-Length": str(len(raw))}, raw)


def test_two_cards_are_set_side_by_side(client: Any) -> None:
    reply = together(client, {"one": card_in(FIRST), "other": card_in(EXAMPLES / "3-container-basin")})
    answer = reply.json()
    assert reply.status == 200
    CardsBeside.model_validate(answer)
    assert answer["called"] == ["Sedgewren", "Stormlapwing"]
    assert answer["remarks"]


def test_a_card_alone_is_set_beside_her_other_condition(client: Any) -> None:
    answer = together(client, {"one": card_in(FIRST)}).json()
    CardsBeside.model_validate(answer)
    assert answer["called"] == ["Loaded", "Ballast"]
    assert "draughts estimated" in answer["about"][1]


def test_faults_of_either_card_say_which(client: Any) -> None:
    wrong = card_in(FIRST) | {"beam_m": "wide"}
    reply = together(client, {"one": wrong, "other": wrong})
    assert reply.status == 422
    assert [one["field"] for one in reply.json()["errors"]] == ["one.beam_m", "other.beam_m"]
    assert together(client, {"other": wrong}).status == 422


def test_faults_name_the_field_by_its_whole_path_and_nothing_else_is_said(client: Any) -> None:
    card = card_in(EXAMPLES / "4-ferry-corner-berth")
    card["propeller"][1]["diameter_m"] = "four"
    card["engine"]["order"][2]["speed_loaded_kn"] = 99
    card["loading"].pop("condition")
    answer = sent(client, card).json()
    CheckedCard.model_validate(answer)
    assert {one["field"]: one["problem"] for one in answer["faults"]} == {
        "propeller.1.diameter_m": "got 'four'; expected metres, 0.3 to 14",
        "engine.order.2.speed_loaded_kn": "99 is outside what is possible; expected knots, loaded, 0 to 45",
        "loading.condition": "is missing; expected loaded or ballast: which column of the order table holds",
    }
    assert answer["findings"] == answer["figures"] == []


def test_a_contradiction_stands_at_the_field_with_its_unit(client: Any) -> None:
    card = card_in(FIRST)
    card["loading"]["draught_aft_m"] = 9.0
    (fault,) = sent(client, card).json()["faults"]
    assert fault["field"] == "loading.draught_aft_m"
    assert "deeper than moulded_depth_m" in fault["problem"]


def test_an_empty_card_is_told_what_it_needs(client: Any) -> None:
    answer = sent(client, {"loading": {}, "engine": {"order": []}}).json()
    assert {one["field"] for one in answer["faults"]} >= {"name", "beam_m", "loading.draught_aft_m", "engine.kind"}


@pytest.mark.parametrize(
    "body",
    [b"", b"{", b"[]", b"3", b'"card"', b"null", b"\xff\xfe", b"[" * 50_000, b'{"year_built": ' + b"9" * 9_000 + b"}"],
    ids=["empty", "half", "list", "number", "text", "null", "no text", "deep", "long number"],
)
def test_nonsense_is_refused_in_the_one_shape(client: Any, body: bytes) -> None:
    reply = sent(client, body)
    assert reply.status in (400, 422)
    assert all(fault["problem"] for fault in reply.json()["errors"])


@pytest.mark.parametrize(
    "spoilt",
    [
        {"name": ["\ud800"]},
        {"length_overall_m": float("nan")},
        {"length_overall_m": 1e308},
        {"year_built": -1},
        {"engine": {"order": [{"order": "\udfff"}] * 500}},
        {"propeller": [[]]},
        {"equipment": {"": "ready", "a.b": 3}},
        {"nonsense": {"a": [{}]}},
    ],
)
def test_spoilt_values_are_faults_and_never_a_fall(client: Any, spoilt: dict[str, Any]) -> None:
    reply = sent(client, card_in(FIRST) | spoilt)
    assert reply.status == 200
    assert reply.json()["faults"]


def test_a_card_without_end_is_refused(client: Any) -> None:
    reply = client.ask("POST", "/api/v1/card", JSON | {"Content-Length": str(LARGEST_BODY + 1)})
    assert reply.status == 413


def test_another_site_may_not_ask(client: Any) -> None:
    body = b"{}"
    headers = JSON | {"Content-Length": "2", "Origin": "http://harbour.example"}
    assert client.ask("POST", "/api/v1/card", headers, body).status == 403


def test_the_card_of_a_call_is_its_file(client: Any) -> None:
    assert client.get("/api/v1/calls/1-river-coaster/card").json()["card"] == card_in(FIRST)
    assert client.get("/api/v1/calls/nowhere/card").status == 404


def test_a_card_file_with_faults_is_told_with_its_line(serve: Any, folder: Path) -> None:
    file = folder / "ship.toml"
    file.write_text(file.read_text().replace("draught_aft_m = 6.35", "draught_aft_m = nan"))
    reply = serve(folder.parent).get("/api/v1/calls/call/card")
    assert reply.status == 422
    (fault,) = reply.json()["errors"]
    assert (fault["file"], fault["field"]) == ("call/ship.toml", "draught_aft_m")
    assert "draught_aft_m" in file.read_text().splitlines()[fault["line"] - 1]


def test_the_form_has_every_key_of_the_file(client: Any) -> None:
    form = client.get("/api/v1/card/form").json()
    CardForm.model_validate(form)
    assert form["groups"] == card_form()
    shown = {".".join((*group["table"], *one["path"])) for group in form["groups"] for one in group["fields"]}
    wanted = set(keys_of(ShipShape))
    own = {f"own_figures.{one['key']}" for one in form["own"]}
    assert wanted - shown - own == {"engine.order.order"}  # the names of the rows
    assert {name.split(".")[0] for name in shown - wanted} == {"equipment", "equipment_details"}  # their keys are free


def keys_of(shape: type[BaseModel], before: str = "") -> list[str]:
    """Every key as a dotted path, rows of tables without their number."""
    found = []
    for key, field in shape.model_fields.items():
        inner = model_of(field.annotation)
        if inner is not None:
            found += keys_of(inner, f"{before}{key}.")
        elif "dict[" not in str(field.annotation):
            found.append(f"{before}{key}")
    return found


def model_of(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in getattr(annotation, "__args__", ()) if (found := model_of(part))), None)


def test_half_a_letter_in_a_name_comes_back_as_sent(client: Any) -> None:
    assert sent(client, card_in(FIRST) | {"name": "\ud800"}).json()["ship"] == "\ud800"


def test_a_folder_with_a_card_alone_has_a_card_and_no_call(client: Any) -> None:
    assert client.get("/api/v1/calls/card-with-slips/card").json()["card"] == card_in(SLIPS)
    assert client.get("/api/v1/calls/card-with-slips/assessment").status == 404
    reply = client.get("/api/v1/calls/..%2f/card")
    assert reply.status == 404


def test_a_ship_whose_rudders_are_all_out_of_order_is_still_checked(client: Any) -> None:
    """Nothing is said of how such a rudder pulls; that it is out of order is."""
    card = card_in(FIRST)
    for rudder in card["rudder"]:
        rudder["state"] = "defective"
    answer = sent(client, card).json()
    assert "out_of_order" in {one["subject"] for one in answer["findings"]}
    assert "rudder_slope" not in {one["name"] for one in answer["figures"]}
