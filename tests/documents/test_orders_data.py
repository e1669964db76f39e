"""The order sheet's own words: what a rehearsed run asks of the machinery."""

from typing import Any

from tests.documents import sailed

from leadsman.documents.orders_data import order_sheet

Data = dict[str, Any]


def machinery(data: Data, **changes: Any) -> str:
    found = sailed.rehearsal(data)
    found["planned"]["machinery"] |= changes
    return str(order_sheet(found, data)["machinery"])


def test_what_is_asked_of_the_machinery_stands_in_one_line(data: Data) -> None:
    assert machinery(data) == (
        "ahead 80 % of full; astern 75 % of full; astern 4 min 05 s at one go, 6 min 40 s in all; bow thruster "
        "10 min 00 s at one go; 6 starts on air, 9 of 12 left at the least"
    )
    without = machinery(data, thruster="", astern_longest=0.0, air=None)
    assert without == "ahead 80 % of full; astern 75 % of full"


def test_a_start_refused_cannot_be_overlooked(data: Data) -> None:
    air = sailed.rehearsal(data)["planned"]["machinery"]["air"] | {"left": 0, "refused": 2}
    assert machinery(data, air=air).endswith("0 of 12 left at the least, 2 REFUSED FOR WANT OF AIR")
    found = sailed.rehearsal(data)
    found["ensemble"]["without_air"] = 3
    said = order_sheet(found, data)["machinery"]
    assert said.endswith("in 3 of 200 drawn runs an order found NO AIR")


def test_an_answer_from_before_says_nothing_of_it(data: Data) -> None:
    found = sailed.rehearsal(data)
    del found["planned"]["machinery"]
    assert order_sheet(found, data)["machinery"] == ""
