"""The order sheet's own words: what a rehearsed run asks of the machinery."""

from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest

from leadsman.assessment.result import Assessment
from leadsman.documents.data import assessment_data
from leadsman.documents.orders_data import order_sheet

Data = dict[str, Any]


@pytest.fixture(scope="module")
def data(build: Callable[..., Assessment]) -> Data:
    return assessment_data(build())


@pytest.fixture
def found(data: Data, sailed: ModuleType) -> Data:
    fresh: Data = sailed.rehearsal(data)
    return fresh


def test_what_is_asked_of_the_machinery_stands_in_one_line(data: Data, found: Data) -> None:
    use = found["planned"]["machinery"]
    assert order_sheet(found, data)["machinery"] == (
        "ahead 80 % of full; astern 75 % of full; astern 4 min 05 s at one go, 6 min 40 s in all; bow thruster "
        "10 min 00 s at one go; 6 starts on air, 9 of 12 left at the least"
    )
    use |= {"thruster": "", "astern_longest": 0.0, "air": None}
    assert order_sheet(found, data)["machinery"] == "ahead 80 % of full; astern 75 % of full"


def test_a_start_refused_cannot_be_overlooked(data: Data, found: Data) -> None:
    found["planned"]["machinery"]["air"] |= {"left": 0, "refused": 2}
    assert order_sheet(found, data)["machinery"].endswith("0 of 12 left at the least, 2 REFUSED FOR WANT OF AIR")


def test_in_how_many_drawn_runs_an_order_found_no_air_is_said(data: Data, found: Data) -> None:
    found["ensemble"]["without_air"] = 3
    assert order_sheet(found, data)["machinery"].endswith("; in 3 of 200 drawn runs an order found NO AIR")


def test_an_answer_from_before_says_nothing_of_it(data: Data, found: Data) -> None:
    del found["planned"]["machinery"]
    assert order_sheet(found, data)["machinery"] == ""
