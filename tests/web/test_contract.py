"""The described API, the page's types, and that nothing thrown at it makes it fall."""

from pathlib import Path
from typing import Any

import schemathesis
from hypothesis import HealthCheck, settings

from leadsman.web.app import create_app
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


@schema.parametrize()
@settings(deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
def test_nothing_makes_it_fall(case: schemathesis.Case, scratch: Any) -> None:
    reply = case.call(base_url=scratch.address)
    assert reply.status_code < 500, reply.text
    if reply.status_code >= 400:
        assert all(fault["problem"] for fault in reply.json()["errors"])
