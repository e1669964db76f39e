"""The drawings of holding: forces to one scale, words apart, and told the same on paper as in the data."""

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.holding.result import Balance, HeldAt, Load, Order
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Assessment
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings import balance, rose, shown_places
from leadsman.documents.holding_data import order_words
from leadsman.documents.holding_layout import apart, balance_layout
from leadsman.portcall import PortCall
from leadsman.units import TONNE_FORCE


def order(name: str, kind: str, surge: float, sway: float, forward: float = 0.0, side: float = 0.0) -> Order:
    force = Load(surge=surge * TONNE_FORCE, sway=sway * TONNE_FORCE, yaw=forward * sway * TONNE_FORCE)
    return Order(name=name, kind=kind, force=force, forward=forward, to_starboard=side, used=0.5)


WORDS = [  # order, words
    (order("bow thruster", "thruster", 0.0, 20.0), "to starboard"),
    (order("bow thruster", "thruster", 0.0, -20.0), "to port"),
    (order("bow thruster", "thruster", 0.0, 0.1), "stop"),
    (order("Alder", "tug", 0.0, 0.0), "stand by"),
    (order("Alder", "tug", 0.0, -40.0, side=15.0), "push to port"),
    (order("Alder", "tug", 0.0, 40.0, side=15.0), "pull to starboard"),
    (order("Alder", "tug", 40.0, 0.0), "pull ahead"),
    (order("Alder", "tug", -40.0, 0.0), "pull astern"),
    (order("Alder", "tug", 0.0, 40.0), "pull to starboard, 90° from the bow"),
    (order("Alder", "tug", -20.0, -34.64), "pull to port, 120° from the bow"),
    (order("engine", "screw", 30.0, 10.0), "ahead, wheel to port"),  # the stern goes to starboard, the bow to port
    (order("engine", "screw", 30.0, -10.0), "ahead, wheel to starboard"),
    (order("engine", "screw", -30.0, 3.0), "astern"),
    (order("engine", "screw", -0.3, 30.0), "wheel to port"),
    (order("port pod", "screw", 0.0, 30.0), "thrust 090° from the bow"),
]


@pytest.mark.parametrize(("given", "words"), WORDS, ids=[words for _, words in WORDS])
def test_orders_in_words(given: Order, words: str) -> None:
    assert order_words(given) == words


@pytest.fixture(scope="module")
def assessed(first_call: PortCall, first_prepared: Prepared) -> Assessment:
    return assess(first_call, first_prepared)


@pytest.fixture(scope="module")
def data(assessed: Assessment) -> dict[str, Any]:
    return assessment_data(assessed)


def place_with(orders: tuple[Order, ...], place: HeldAt) -> HeldAt:
    wind = Load(surge=0.0, sway=-100.0 * TONNE_FORCE, yaw=0.0)
    still = Load(surge=0.0, sway=0.0, yaw=0.0)
    found = replace(place.balance, wind=wind, stream=still, orders=orders, held=True)
    assert isinstance(found, Balance)
    return replace(place, balance=found)


def test_arrows_are_to_one_scale_and_on_the_right_side(assessed: Assessment) -> None:
    assert assessed.holding is not None
    place = assessed.holding.at("berth")
    tugs = (order("Alder", "tug", 0.0, 60.0, 90.0), order("Rowan", "tug", 0.0, 40.0, -90.0, -15.0))
    drawing = balance_layout(place_with(tugs, place), 200.0, 30.0)
    by_words = {one["words"]: one for one in drawing["arrows"]}
    assert set(by_words) == {"wind 100 t", "Alder pulls 60 t", "Rowan pushes 40 t"}
    per_tonne = drawing["bar"]["length"] / float(drawing["bar"]["text"].removesuffix(" t"))
    for words, tonnes in (("wind 100 t", 100.0), ("Alder pulls 60 t", 60.0), ("Rowan pushes 40 t", 40.0)):
        long = math.dist(by_words[words]["tail"], by_words[words]["head"])
        assert long == pytest.approx(tonnes * per_tonne, abs=0.05)
    wind = by_words["wind 100 t"]
    assert wind["tail"][0] > wind["head"][0] > 15.0, "to port: from the starboard side, the tip outside the hull"
    pushing = by_words["Rowan pushes 40 t"]
    assert pushing["tail"][0] < pushing["head"][0] < -15.0, "she pushes on the port side, from outside"


def test_words_are_kept_apart_and_within() -> None:
    found = apart([0.0, 0.1, 0.2, 9.9, 10.0, 10.0], 1.0, 10.0)
    assert all(b - a >= 1.0 - 1e-9 for a, b in pairwise(found))
    assert max(found) <= 10.0
    assert apart([], 1.0, 10.0) == []


def test_paper_tells_what_the_data_say(data: dict[str, Any]) -> None:
    places = shown_places(data)
    assert [place["key"] for place in places] == ["basin 1", "berth"]
    for place in places:
        drawn = balance(place, data["holding"], ["Source Sans 3"], 78.0, 54.0)
        for arrow in place["drawing"]["arrows"]:
            assert arrow["words"] in drawn
        assert place["drawing"]["bar"]["text"] in drawn
        limits = data["holding"]["roses"][place["key"]]
        shown = rose(place, limits, ["Source Sans 3"], 54.0)
        for degrees in (0, 30, 90, 180):
            assert f"{degrees}°" in shown
        assert shown.count("stroke-dasharray") >= len(limits["sets"]) - 1
