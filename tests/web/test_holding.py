"""The API of holding: one place under changes; the sliders' answer is the library's, every refusal a sentence."""

from typing import Any

import pytest

AT = "/api/v1/calls/3-container-basin/holding?place=berth"


def test_as_it_is_the_place_is_that_of_the_assessment(client: Any) -> None:
    found = client.get(AT).json()
    whole = client.get("/api/v1/calls/3-container-basin/assessment").json()
    assert found["schema"] == "leadsman.what-if/1"
    assert found["place"] == next(one for one in whole["holding"]["places"] if one["key"] == "berth")
    assert found["rose"] == whole["holding"]["roses"]["berth"]
    assert found["means"] == ["bow thruster", "engine"]


def test_more_wind_is_not_held_and_less_is(client: Any) -> None:
    calm = client.get(f"{AT}&wind_speed_kn=5").json()["place"]
    gale = client.get(f"{AT}&wind_speed_kn=45").json()["place"]
    assert calm["word"] == "held"
    assert gale["word"] == "not held"
    assert gale["changes"], "what would help is told"
    assert calm["reserve"]["value"] > 0.0 > gale["reserve"]["value"]


def test_a_thruster_out_of_order_and_fewer_tugs_shrink_the_rose(client: Any) -> None:
    whole = client.get(AT).json()
    without = client.get(f"{AT}&out_of_order=bow+thruster").json()
    fewer = client.get(f"{AT}&tugs=1").json()
    assert [one["name"] for one in fewer["rose"]["sets"]] == ["no tug", "1 tug"]
    assert len(fewer["place"]["tugs"]) == 1
    assert without["place"]["wind_limit"]["value"] < whole["place"]["wind_limit"]["value"]
    for before, after in zip(whole["rose"]["sets"], without["rose"]["sets"], strict=True):
        assert all(a <= b + 1e-3 for a, b in zip(after["limits"], before["limits"], strict=True))


def test_turned_wind_and_stream(client: Any) -> None:
    heading = client.get(AT).json()["place"]["heading"]["value"] * 57.29578
    ahead = client.get(f"{AT}&wind_from_deg={heading:.3f}").json()["place"]
    assert abs(ahead["wind_off_bow"]) < 1e-3
    assert ahead["reserve"]["value"] > 2.0, "a wind from right ahead is little to hold"
    across = client.get(f"{AT}&stream_rate_kn=1&stream_towards_deg={(heading + 90.0) % 360.0:.3f}").json()["place"]
    assert across["stream"]["text"] == "1.0 kn"
    assert across["balance"]["stream"]["sway"] > 100e3, "a knot athwart in little water is a great load"


@pytest.mark.parametrize(
    ("query", "status", "said"),
    [
        ("place=nowhere", 422, "is no place of this passage; expected one of reach 1"),
        ("place=berth&out_of_order=paddle", 422, "'paddle' is none of her means; expected one of bow thruster, engine"),
        ("place=berth&wind_speed_kn=-1", 422, "greater than or equal to 0"),
        ("place=berth&wind_speed_kn=nan", 422, ""),
        ("place=berth&tugs=many", 422, "valid integer"),
        ("wind_speed_kn=5", 422, "Field required"),
        ("place=berth&start=2031-01-01T00:00:00Z", 422, "lies outside the search of this call"),
    ],
)
def test_refusals(client: Any, query: str, status: int, said: str) -> None:
    reply = client.get(f"/api/v1/calls/3-container-basin/holding?{query}")
    assert reply.status == status
    assert said in " ".join(reply.problems)
