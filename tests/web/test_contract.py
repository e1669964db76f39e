"""The described API, the page's types, and that nothing thrown at it makes it fall."""

from pathlib import Path
from typing import Any

import schemathesis
from hypothesis import HealthCheck, settings

from leadsman.web.app import API, create_app
from leadsman.web.typescript import contract

ROOT = Path(__file__).parents[2]
CONTRACT = ROOT / "page" / "src" / "contract.ts"

config = schemathesis.Config.from_dict({"generation": {"mode": "all", "max-examples": 15}})
schema = schemathesis.openapi.from_dict(create_app(ROOT / "examples").openapi(), config=config)


def test_the_page_s_types_are_those_of_the_server() -> None:
    assert CONTRACT.read_text() == contract(), (
        "run: python -m leadsman.web.typescript > page/src/contract.ts"
    )


def test_the_api_describes_itself(client: Any) -> None:
    described = client.get("/api/v1/openapi.json").json()
    assert sorted(described["paths"]) == [
        "/api/v1/calls",
        "/api/v1/calls/{call}/assessment",
        "/api/v1/calls/{call}/card",
        "/api/v1/calls/{call}/files",
        "/api/v1/calls/{call}/files/check",
        "/api/v1/calls/{call}/files/restore",
        "/api/v1/calls/{call}/holding",
        "/api/v1/calls/{call}/long-work/{kind}",
        "/api/v1/calls/{call}/long-work/{kind}/answer",
        "/api/v1/calls/{call}/papers/{paper}",
        "/api/v1/calls/{call}/record",
        "/api/v1/calls/{call}/revision",
        "/api/v1/calls/{call}/sailed",
        "/api/v1/calls/{call}/texts",
        "/api/v1/calls/{call}/texts/check",
        "/api/v1/calls/{call}/underlay",
        "/api/v1/calls/{call}/underlay/{name}",
        "/api/v1/card",
        "/api/v1/card/beside",
        "/api/v1/card/form",
        "/api/v1/files/form",
        "/api/v1/gatherings",
        "/api/v1/gatherings/{key}",
        "/api/v1/gatherings/{key}/answers",
        "/api/v1/gatherings/{key}/call",
        "/api/v1/gatherings/{key}/card",
        "/api/v1/gatherings/{key}/sources/{name}",
        "/api/v1/sources",
    ]
    answers = described["paths"]["/api/v1/calls/{call}/assessment"]["get"]["responses"]
    assert answers["200"]["content"]["application/json"]["schema"]["$ref"].endswith("/Assessment")
    for refusal in ("403", "404", "422"):
        assert answers[refusal]["content"]["application/json"]["schema"]["$ref"].endswith("/Faults")


def test_every_refusal_has_the_one_shape_and_every_address_the_version(client: Any) -> None:
    described = client.get("/api/v1/openapi.json").json()
    for path, methods in described["paths"].items():
        assert path.startswith(f"{API}/")
        for method, route in methods.items():
            refusals = {code: one for code, one in route["responses"].items() if not code.startswith("2")}
            assert {"403", "422"} <= set(refusals), (method, path)
            for code, one in refusals.items():
                assert one["content"]["application/json"]["schema"]["$ref"].endswith("/Faults"), (method, path, code)


def test_the_client_of_the_page_has_every_address_that_answers_in_json(client: Any) -> None:
    described = client.get("/api/v1/openapi.json").json()
    text = contract()
    for path, methods in described["paths"].items():
        for method in methods:
            named = f"'{method.upper()} {path.removeprefix(API)}': {{" in text
            assert named is not path.endswith("/papers/{paper}"), (method, path)


@schema.parametrize()
@settings(deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
def test_nothing_makes_it_fall(case: schemathesis.Case, scratch: Any) -> None:
    reply = case.call(base_url=scratch.address)
    assert reply.status_code < 500, reply.text
    if reply.status_code >= 400:
        assert all(fault["problem"] for fault in reply.json()["errors"])
