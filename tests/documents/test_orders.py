"""The order sheet: legs under way and slow work by turns, a column for each means, the way to where she anchors."""

import io
import re
from collections.abc import Callable
from dataclasses import replace
from types import ModuleType
from typing import Any

import pypdf
import pytest

from leadsman.assessment.result import Assessment
from leadsman.documents.carried import Rehearsed
from leadsman.documents.data import assessment_data
from leadsman.documents.orders_data import order_sheet
from leadsman.documents.pack import pack_pdf
from leadsman.figure import Finding, Grade

Build = Callable[..., Assessment]
Data = dict[str, Any]
TWIN = ("port engine", "starboard engine")


def order(minute: float, leg: int, kind: str, means: tuple[str, ...], words: str) -> Data:
    return {"time": 60.0 * minute, "distance": 3000.0 * leg + 10.0, "kind": kind, "means": list(means), "words": words}


@pytest.fixture(scope="module")
def data(build: Build) -> Data:
    return assessment_data(build())


def sheet(data: Data, sailed: ModuleType, orders: list[Data]) -> Data:
    found = sailed.rehearsal(data)
    return order_sheet(found | {"planned": found["planned"] | {"orders": orders}}, data)


def legs_of(data: Data) -> list[float]:
    begins = [0.0]
    for leg in data["legs"]:
        begins.append(begins[-1] + leg["distance"]["value"])
    return begins


def placed(data: Data, orders: list[Data], legs: list[int]) -> list[Data]:
    """The orders just within these legs."""
    begins = legs_of(data)
    return [one | {"distance": begins[leg] + 10.0} for one, leg in zip(orders, legs, strict=True)]


def test_slow_work_has_columns_of_its_own_and_legs_under_way_none_for_it(data: Data, sailed: ModuleType) -> None:
    given = [
        order(1, 0, "engine", TWIN, "Both engines half ahead"),
        order(2, 1, "wheel", ("helm",), "Port ten"),
        order(3, 2, "engine", ("port engine",), "Port engine dead slow astern"),
        order(3, 2, "thruster", ("bow thruster 1",), "Bow thruster 1 one quarter to starboard"),
        order(4, 2, "thruster", ("bow thruster 2",), "Bow thruster 2 stop"),
        order(5, 3, "wheel", ("helm",), "Midships"),
    ]
    parts = sheet(data, sailed, placed(data, given, [0, 1, 2, 2, 2, 3]))["parts"]
    assert [[leg["number"] for leg in part["legs"]] for part in parts] == [[1, 2], [3], [4]]
    assert [part["columns"] for part in parts] == [
        ["Helm", "Both engines"],
        ["Port engine", "Bow thruster 1", "Bow thruster 2"],
        ["Helm"],
    ]
    assert parts[0]["legs"][0]["rows"][0]["cells"][1][0]["words"] == "half ahead"
    assert parts[1]["legs"][0]["rows"][0]["cells"][0][0]["words"] == "dead slow astern"


def test_what_stands_is_told_at_the_head_of_a_leg_and_what_was_stopped_is_not(data: Data, sailed: ModuleType) -> None:
    given = [
        order(1, 0, "engine", ("engine",), "Slow ahead"),
        order(1, 0, "thruster", ("bow thruster",), "Bow thrust half to port"),
        order(2, 0, "tug", ("Alder",), "Alder: stop"),
        order(3, 1, "wheel", ("helm",), "Port ten"),
    ]
    parts = sheet(data, sailed, placed(data, given, [0, 0, 0, 1]))["parts"]
    assert parts[1]["legs"][0]["standing"] == "Slow ahead, Bow thrust half to port"
    later = [*given, order(4, 2, "wheel", ("helm",), "Midships")]
    parts = sheet(data, sailed, placed(data, later, [0, 0, 0, 1, 2]))["parts"]
    assert parts[1]["legs"][1]["standing"] == "Port ten", "the rest stands at the part's first leg"


def test_many_columns_are_written_short_and_the_helm_never(data: Data, sailed: ModuleType) -> None:
    tugs = [order(3, 0, "tug", (name,), f"{name}: three quarters to starboard") for name in ("Alder", "Rowan", "Hazel")]
    given = [
        order(1, 0, "engine", ("engine",), "Slow ahead"),
        order(2, 0, "wheel", ("helm",), "Starboard twenty"),
        order(2, 0, "thruster", ("bow thruster",), "Bow thrust one quarter to port"),
        *tugs,
    ]
    (part,) = sheet(data, sailed, placed(data, given, [0] * len(given)))["parts"]
    words = {cell["words"] for row in part["legs"][0]["rows"] for some in row["cells"] for cell in some}
    assert words == {"Slow ahead", "Starboard twenty", "1/4 to port", "3/4 to stbd"}
    (few,) = sheet(data, sailed, placed(data, tugs[:1], [0]))["parts"]
    assert few["legs"][0]["rows"][0]["cells"][0][0]["words"] == "three quarters to starboard"


def test_the_time_on_the_first_page_is_that_of_the_run(data: Data, sailed: ModuleType) -> None:
    found = sailed.rehearsal(data)
    told = order_sheet(found, data)
    assert told["outcome"].startswith(f"Rehearsed as planned: alongside at {told['at']}; ")
    assert re.fullmatch(r"\d\d:\d\d", told["at"])


def test_the_way_to_the_anchorage_has_a_sheet_or_is_told_to_be_missing(build: Build, sailed: ModuleType) -> None:
    note = Finding(grade=Grade.NOTE, subject="anchoring", sentence="Brought up on 5 shackles.")
    found = build()
    data = assessment_data(replace(found, findings=(*found.findings, note)))
    run = sailed.rehearsal(data)
    anchored = run | {"berth": "Gannet Roads", "planned": run["planned"] | {"ended": "brought up"}}

    def printed(rehearsed: Rehearsed) -> str:
        reader = pypdf.PdfReader(io.BytesIO(pack_pdf(data, rehearsed=rehearsed)))
        return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))

    with_it = printed(Rehearsed(run, anchoring=anchored))
    assert "Orders to Gannet Roads, rehearsed BROUGHT UP at " in with_it
    assert "orders to the anchorage (" not in with_it
    without = printed(Rehearsed(run))
    assert "orders to the anchorage (the way to where she anchors was not rehearsed)" in without
