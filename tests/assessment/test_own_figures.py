"""What the handler knows better: it goes first, reaches every computation, and is questioned like the card."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.estimates import ESTIMATES, FROM_MARKS, particulars
from leadsman.assessment.floating import floating
from leadsman.assessment.holding.assess import known as holding_known
from leadsman.assessment.manoeuvres import manoeuvres
from leadsman.assessment.own_figures import PLACED, at_other_draught, own_figure_questions, with_own_figures
from leadsman.assessment.prepare import prepare
from leadsman.errors import CannotCompute, Impossible
from leadsman.figure import Grade, Origin
from leadsman.files.call_files import read_call, read_ship
from leadsman.portcall import PortCall
from leadsman.ship import Loading, OwnFigure, Ship

ROOT = Path(__file__).parents[2]
BULKER = read_ship(ROOT / "examples/2-bar-bulk-carrier")


def knowing(figures: Mapping[str, float], card: tuple[Ship, Loading] = BULKER) -> tuple[Ship, Loading]:
    """The card, and these figures known better."""
    own = {name: OwnFigure(value=value, source="by hand") for name, value in figures.items()}
    return card[0], replace(card[1], own_figures=own)


def silent(*names: str) -> tuple[Ship, Loading]:
    """The card without these figures of the loading."""
    return BULKER[0], replace(BULKER[1], **dict.fromkeys(names))


def sailing(call: PortCall, card: tuple[Ship, Loading]) -> PortCall:
    return replace(call, ship=card[0], loading=card[1])


@pytest.fixture(scope="module")
def call() -> PortCall:
    return read_call(ROOT / "examples/2-bar-bulk-carrier")


def test_an_own_figure_goes_before_card_and_estimate_and_keeps_its_words() -> None:
    figure = particulars(*knowing({"displacement": 44.0e6}))["displacement"]
    assert figure.value == 44.0e6
    assert figure.origin is Origin.GIVEN
    assert figure.source == "own figure: by hand"


def test_what_is_tried_goes_before_what_is_kept() -> None:
    assert particulars(*knowing({"displacement": 44.0e6}), {"displacement": 43.0e6})["displacement"].value == 43.0e6


def test_a_block_coefficient_known_better_goes_before_the_displacement_of_the_card() -> None:
    """By hand: volume is block x length x beam x mean draught."""
    ship, loading = knowing({"block_coefficient": 0.80})
    assert ship.length_between_perpendiculars is not None
    volume = 0.80 * ship.length_between_perpendiculars * ship.beam * loading.mean_draught
    found = particulars(ship, loading)
    assert found["displacement"].value == pytest.approx(volume * found["water_density"].value)
    _, moved = with_own_figures(ship, loading)
    assert moved.displacement == pytest.approx(found["displacement"].value)


@pytest.mark.parametrize("name", sorted(PLACED - {"windage_forward", "block_coefficient"}))
def test_each_reaches_the_fields_that_computations_read(name: str) -> None:
    """Read back from the moved card without own figures, each is what was said."""
    before = particulars(*BULKER).get(name)
    value = 0.95 * before.value if before is not None else 200.0e3
    ship, loading = knowing({name: value})
    if name in ("bow_thrust", "stern_thrust") and before is None:
        assert with_own_figures(ship, loading)[0].thrusters == ()
        return
    if name == "air_draught":
        ship = replace(ship, keel_to_highest_point=None)
    moved_ship, moved = with_own_figures(ship, loading)
    again = particulars(moved_ship, replace(moved, own_figures={}))
    assert again[name].value == pytest.approx(value)


def test_without_own_figures_the_card_stays_itself() -> None:
    ship, loading = with_own_figures(*BULKER)
    assert ship is BULKER[0]
    assert loading is BULKER[1]


def test_clearance_takes_the_own_displacement(call: PortCall) -> None:
    """Block coefficient goes with the displacement: by hand, 2 % more of one is 2 % more of the other."""
    before = floating(call)
    displacement = BULKER[1].displacement
    assert displacement is not None
    heavier = floating(sailing(call, knowing({"displacement": 1.02 * displacement})))
    assert heavier.hull.block_coefficient == pytest.approx(1.02 * before.hull.block_coefficient)


def test_clearance_takes_the_own_block_coefficient_and_says_whose_it_is(call: PortCall) -> None:
    found = floating(sailing(call, knowing({"block_coefficient": 0.83})))
    assert found.hull.block_coefficient == 0.83
    assert found.figures["block_coefficient"].source == "own figure: by hand"


def test_an_own_air_draught_is_used_and_a_lower_one_is_told(call: PortCall) -> None:
    higher = floating(sailing(call, knowing({"air_draught": 60.0})))
    assert higher.air_draught == pytest.approx(60.0, abs=0.5)  # and what she rises in denser water
    assert not any("less than the card's" in one.sentence for one in higher.findings)
    lower = floating(sailing(call, knowing({"air_draught": 20.0})))
    (told,) = [one for one in lower.findings if "less than the card's" in one.sentence]
    assert told.grade is Grade.CAUTION


def test_where_the_card_is_silent_the_full_and_short_ends_are_taken(call: PortCall) -> None:
    """Squat grows with fullness and falls with length: what is taken is never less careful than the middle."""
    ship, loading = silent("displacement")
    ship = replace(ship, length_between_perpendiculars=None)
    middle = particulars(ship, loading)
    taken = floating(sailing(call, (ship, loading)))
    assert taken.hull.block_coefficient > middle["block_coefficient"].value
    assert taken.hull.length_between_perpendiculars < middle["length_between_perpendiculars"].value
    told = {one.grade for one in taken.findings if "displacement" in one.sentence}
    assert told == {Grade.CAUTION}
    net = assess(sailing(call, (ship, loading))).account.net
    assert (net < assess(call).account.net).all(), "a silent card leaves less water than a full one"


def test_a_ship_of_unknown_type_is_taken_as_the_fullest(call: PortCall) -> None:
    from leadsman.ship import ShipType

    ship, loading = silent("displacement")
    ship = replace(ship, kind=ShipType.OTHER, summer_displacement=None, lightship=None, summer_block_coefficient=None)
    taken = floating(sailing(call, (ship, loading)))
    assert taken.hull.block_coefficient == 0.88
    assert taken.figures["block_coefficient"].origin is Origin.ASSUMED


QUESTIONS = [  # card, own figures, grade, words of the sentence
    (BULKER, {"displacement": 46.0e6}, Grade.NOTE, "by your own figure and 44 650 t on the card; yours is taken"),
    (BULKER, {"block_coefficient": 0.70}, Grade.CAUTION, "by the other figures of the card"),
    (silent("metacentric_height"), {"metacentric_height": 12.0}, Grade.CAUTION, "in this unit?"),
    (BULKER, {"bow_thrust": 90.0e3}, Grade.CAUTION, "the card lists no such thruster"),
    (BULKER, {"wake_fraction": 0.33}, Grade.NOTE, "clearances and trials work out their own"),
]


@pytest.mark.parametrize(("card", "own", "grade", "words"), QUESTIONS)
def test_own_figures_are_questioned(
    card: tuple[Ship, Loading], own: Mapping[str, float], grade: Grade, words: str
) -> None:
    found = own_figure_questions(*knowing(own, card))
    assert [one.grade for one in found if words in one.sentence.replace("\u202f", " ")] == [grade]
    assert all(one.place in own for one in found)


def test_two_own_figures_that_contradict_each_other_are_told() -> None:
    found = own_figure_questions(*knowing({"displacement": 44.0e6, "block_coefficient": 0.60}))
    assert any(one.grade is Grade.CAUTION and "One of them is wrong" in one.sentence for one in found)


def test_an_own_figure_near_what_is_known_is_not_questioned() -> None:
    assert own_figure_questions(*knowing({"displacement": 44.7e6})) == ()


def test_a_checked_card_tells_what_the_own_figures_change() -> None:
    card = checked_card(*knowing({"metacentric_height": 3.0}, silent("centre_of_gravity_height")))
    assert set(card.changed) == {"metacentric_height", "centre_of_gravity_height", "roll_period"}
    assert checked_card(*BULKER).changed == {}


def test_at_another_draught_the_own_figures_go_with_her() -> None:
    _, loading = knowing({"displacement": 44.0e6, "air_draught": 33.0, "metacentric_height": 3.0})
    lighter = at_other_draught(loading, -0.1 * loading.mean_draught)
    assert lighter.own_figures["displacement"].value == pytest.approx(0.9 * 44.0e6)
    assert lighter.own_figures["air_draught"].value == pytest.approx(33.0 + 0.1 * loading.mean_draught)
    assert lighter.own_figures["metacentric_height"].value == 3.0


def test_nonsense_is_refused() -> None:
    with pytest.raises(Impossible, match="not a number"):
        OwnFigure(value=float("nan"))
    with pytest.raises(CannotCompute, match="no particular"):
        checked_card(*knowing({"metacentre": 9.0}))


def test_what_is_read_off_her_marks_is_no_estimate() -> None:
    assert set(ESTIMATES) >= FROM_MARKS
    assert not FROM_MARKS & PLACED


def test_holding_takes_the_own_windage_and_thruster() -> None:
    """Areas are taken a deviation larger, thrust as it is known: an own figure has no band, so it stands alone."""
    call = read_call(ROOT / "examples/3-container-basin")
    card = knowing({"lateral_windage": 8_000.0, "bow_thrust": 150.0e3}, (call.ship, call.loading))
    ready = prepare(sailing(call, card))
    assert holding_known(ready).particulars.lateral_area == 8_000.0
    power = sum(unit.power for unit in ready.aboard[0].thrusters if unit.position == "bow")
    assert power == pytest.approx(150.0e3 / 0.12)  # forces sheet 3.1: 0.12 kN for each kW, common practice
    assert ready.call.ship == call.ship, "the card stays as handed over"


def test_trials_take_the_own_displacement_as_if_it_stood_on_the_card() -> None:
    ship, loading = BULKER
    own = manoeuvres(*knowing({"displacement": 46.0e6}))
    assert own == manoeuvres(ship, replace(loading, displacement=46.0e6))
    assert own != manoeuvres(ship, loading)
