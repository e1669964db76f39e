"""Two cards side by side: what differs beyond the bands, and what it means, by plain arithmetic."""

from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.beside import Beside, beside
from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.conditions import other_condition
from leadsman.equipment import Propeller
from leadsman.errors import CannotCompute
from leadsman.files.call_files import read_ship
from leadsman.ship import Loading, Ship, ShipType

ROOT = Path(__file__).parents[2]
BULKER = read_ship(ROOT / "examples/2-bar-bulk-carrier")
CONTAINER = read_ship(ROOT / "examples/3-container-basin")
FERRY = read_ship(ROOT / "examples/4-ferry-corner-berth")


def set_beside(one: tuple[Ship, Loading], other: tuple[Ship, Loading]) -> Beside:
    return beside(checked_card(*one), checked_card(*other))


def said(two: Beside, name: str) -> str:
    return " ".join(remark.sentence for remark in two.remarks if remark.name == name)


def test_a_card_beside_itself_differs_in_nothing() -> None:
    two = set_beside(BULKER, BULKER)
    assert two.remarks == ()
    assert not any(pair.differs for pair in two.pairs)
    assert two.called == ("The first", "The second")


def test_two_ships_are_told_apart_by_name_and_one_ship_by_condition_or_draught() -> None:
    assert set_beside(BULKER, CONTAINER).called == (BULKER[0].name, CONTAINER[0].name)
    assert set_beside(BULKER, (BULKER[0], other_condition(*BULKER))).called == ("Loaded", "Ballast")
    deeper = replace(BULKER[1], draught_aft=BULKER[1].draught_aft + 0.1)
    assert set_beside(BULKER, (BULKER[0], deeper)).called == ("At 10.30 m", "At 10.40 m")


SAYINGS = [  # figure, words; by hand from the two cards
    ("deepest_draught", "Stormlapwing needs 2.60 m more water"),  # 12.90 - 10.30
    ("displacement", "2.2 times the way"),  # 99 500 / 44 650 = 2.23
    ("length_between_perpendiculars", "Stormlapwing is 1.65 times as long"),  # 286 / 173 = 1.653
    ("block_coefficient", "Marlgoose is fuller"),  # 0.82 and 0.62
    ("metacentric_height", "Stormlapwing is the more tender"),  # 1.6 m and 2.4 m
    ("lateral_windage", "for her mass the wind has 4.1 times the hold on Stormlapwing"),  # (9600/99500)/(1050/44650)
    ("bow_thrust", "Marlgoose has no bow thruster that can be counted on; Stormlapwing has 31 t"),  # 2500 x 0.12 kN
    ("orders", "Dead slow ahead drives Stormlapwing at 6.8 kn, the other at 5.0 kn"),
]


@pytest.mark.parametrize(("name", "words"), SAYINGS)
def test_what_the_differences_mean(name: str, words: str) -> None:
    assert words in said(set_beside(BULKER, CONTAINER), name)


@pytest.mark.parametrize(("name", "words"), SAYINGS)
def test_the_order_of_the_two_changes_no_meaning(name: str, words: str) -> None:
    assert words in said(set_beside(CONTAINER, BULKER), name)


def test_the_hand_of_the_screw_decides_where_her_stern_goes_astern() -> None:
    """A right-handed fixed screw throws her stern to port when it turns astern: common practice, no source."""
    ship, loading = BULKER
    left = replace(ship, propellers=(replace(ship.propellers[0], right_handed=False),))
    assert said(set_beside(BULKER, (replace(left, name="Left"), loading)), "propellers") == (
        "Kicked astern, Marlgoose's stern goes to port and Left's stern goes to starboard."
    )
    turned = replace(ship, name="Blades", propellers=(Propeller(right_handed=True, controllable_pitch=True),))
    assert "Blades's stern goes to starboard" in said(set_beside(BULKER, (turned, loading)), "propellers")


def test_a_difference_within_the_bands_has_no_meaning() -> None:
    """The displacement of a card is good to 1 %: half a percent more means nothing."""
    ship, loading = BULKER
    assert loading.displacement is not None
    two = set_beside(BULKER, (ship, replace(loading, displacement=1.008 * loading.displacement)))
    (pair,) = [one for one in two.pairs if one.name == "displacement"]
    assert pair.differs
    assert not pair.certain
    assert said(two, "displacement") == ""


def test_a_figure_that_one_of_them_lacks_differs() -> None:
    ship, loading = BULKER
    two = set_beside(BULKER, (replace(ship, rudders=()), loading))
    (pair,) = [one for one in two.pairs if one.name == "rudder_area"]
    assert pair.certain
    assert pair.other is None


def test_a_laden_tanker_or_bulker_goes_to_the_least_ballast_draught() -> None:
    """2.0 m + 0.02 L of MARPOL Annex I, regulation 18.5 (memory): 2 + 0.02 x 173 = 5.46 m; trim within 0.015 L."""
    ballast = other_condition(*BULKER)
    assert ballast.condition == "ballast"
    assert ballast.mean_draught == pytest.approx(5.46)
    assert 0.0 < ballast.trim <= 0.015 * 173.0
    assert BULKER[0].propellers[0].diameter is not None
    assert ballast.draught_aft > BULKER[0].propellers[0].diameter


def test_a_ferry_is_never_empty() -> None:
    ballast = other_condition(FERRY[0], replace(FERRY[1], condition="loaded"))
    assert FERRY[0].summer_draught is not None
    assert ballast.mean_draught == pytest.approx(0.8 * FERRY[0].summer_draught)


def test_a_ship_in_ballast_is_laden_to_her_marks() -> None:
    loaded = other_condition(BULKER[0], other_condition(*BULKER))
    assert (loaded.condition, loaded.draught_forward, loaded.draught_aft) == ("loaded", 10.5, 10.5)


def test_where_nothing_is_known_of_her_marks_nothing_is_guessed() -> None:
    ship = replace(BULKER[0], kind=ShipType.OTHER, summer_draught=None)
    with pytest.raises(CannotCompute, match="her summer draught is not known"):
        other_condition(ship, BULKER[1])
