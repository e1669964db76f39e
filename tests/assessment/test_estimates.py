"""What the card leaves out: benchmark ships inside the bands, overrules followed, nothing claimed that is not known."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import leadsman
from leadsman.assessment.card import CHECKS, check_card
from leadsman.assessment.estimates import ESTIMATES, SIGNED, changes, meaning, particulars
from leadsman.equipment import Anchors, Engine, EngineKind, EngineOrder, Propeller, Rudder, State, Thruster
from leadsman.errors import CannotCompute, Impossible
from leadsman.figure import Figure, Origin
from leadsman.ship import Loading, Ship, ShipType
from leadsman.units import DEGREE, KNOT, RPM, SEA_WATER_DENSITY, TONNE


def bare(
    kind: ShipType, length: float, overall: float, beam: float, draught: float, speed_kn: float, rpm: float
) -> tuple[Ship, Loading]:
    """A laden ship of whom only the main dimensions and one line of the order table are known."""
    line = EngineOrder(order="full_sea_speed", revolutions=rpm * RPM, speed_loaded=speed_kn * KNOT)
    ship = Ship(
        name="Benchmark",
        kind=kind,
        length_overall=overall,
        length_between_perpendiculars=length,
        beam=beam,
        summer_draught=draught,
        engine=Engine(kind=EngineKind.REVERSING_DIESEL, orders=(line,)),
        rudders=(Rudder(),),
    )
    loading = Loading(condition="loaded", draught_forward=draught, draught_aft=draught, water_density=1025.0)
    return ship, loading


# Particulars: manoeuvring sheet 12 and 1 (KVLCC2 seen as transcription, the rest memory); lengths overall memory.
KVLCC2 = bare(ShipType.TANKER, 320.0, 333.0, 58.0, 20.8, 15.5, 73.0)
KCS = bare(ShipType.CONTAINER, 230.0, 243.0, 32.2, 10.8, 24.0, 100.0)
ESSO_OSAKA = bare(ShipType.TANKER, 325.0, 343.0, 53.0, 21.73, 15.8, 81.0)
S175 = bare(ShipType.CONTAINER, 175.0, 186.0, 25.4, 8.5, 22.0, 110.0)

WITHIN_BAND = [  # ship, particular, value, origin; estimated from the dimensions alone, held to three deviations
    (KVLCC2, "block_coefficient", 0.810, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "displacement", 312_600.0 * SEA_WATER_DENSITY, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "propeller_diameter", 9.86, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "rudder_area", 112.5, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "rudder_height", 15.8, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "wake_fraction", 0.35, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "thrust_deduction", 0.220, "SIMMAN tables, seen as transcription"),
    (KVLCC2, "midship_coefficient", 0.998, "SIMMAN hull data, memory"),
    (KVLCC2, "wetted_surface", 27_194.0, "SIMMAN hull data, memory"),
    (KVLCC2, "propeller_pitch_ratio", 0.721, "SIMMAN propeller data, memory"),
    (KCS, "block_coefficient", 0.651, "manoeuvring sheet 12, memory"),
    (KCS, "propeller_diameter", 7.9, "manoeuvring sheet 12, memory"),
    (KCS, "rudder_area", 54.45, "manoeuvring sheet 12, memory; movable part alone"),
    (KCS, "wetted_surface", 9_424.0, "SIMMAN hull data, memory"),
    (KCS, "midship_coefficient", 0.985, "SIMMAN hull data, memory"),
    (ESSO_OSAKA, "block_coefficient", 0.83, "Crane 1979, memory"),
    (ESSO_OSAKA, "propeller_diameter", 9.1, "Crane 1979, memory"),
    (ESSO_OSAKA, "rudder_area", 119.8, "Crane 1979, memory"),
    (ESSO_OSAKA, "propeller_pitch_ratio", 0.715, "Crane 1979, memory"),
    (S175, "block_coefficient", 0.57, "Son and Nomoto 1982, memory"),
    (S175, "propeller_diameter", 6.53, "Son and Nomoto 1982, memory"),
    (S175, "rudder_area", 33.0, "Son and Nomoto 1982, memory"),
]


@pytest.mark.parametrize(("card", "name", "expected", "origin"), WITHIN_BAND)
def test_benchmark_ships_lie_within_three_deviations(
    card: tuple[Ship, Loading], name: str, expected: float, origin: str
) -> None:
    figure = particulars(*card)[name]
    assert figure.band is not None
    assert figure.band.deviation is not None
    assert abs(figure.value - expected) <= 3.0 * figure.band.deviation, origin
    assert figure.band.deviation < 0.25 * abs(figure.value), "a band that says something"


def test_added_masses_of_the_tanker_of_the_benchmark() -> None:
    # Yasukawa and Yoshimura 2015, tables seen as transcription: mx' 0.022, my' 0.223, Jz' 0.011
    ship, loading = KVLCC2
    found = particulars(ship, replace(loading, displacement=312_600.0 * SEA_WATER_DENSITY))
    length, draught = 320.0, 20.8
    mass = 0.5 * SEA_WATER_DENSITY * length**2 * draught
    # The regression by hand gives 0.0231 for these dimensions (the sheet says 0.0227), 5 % above the paper.
    assert found["surge_added_mass"].value / mass == pytest.approx(0.022, rel=0.06)
    assert found["sway_added_mass"].value / mass == pytest.approx(0.223, abs=0.003)
    inertia = 0.5 * SEA_WATER_DENSITY * length**4 * draught
    assert found["yaw_added_inertia"].value / inertia == pytest.approx(0.011, abs=0.0005)


def test_hydrostatics_of_the_textbook_exercises() -> None:
    ship, loading = KVLCC2
    # Standards sheet 9 row 17, exam text seen: W 18 000 t, TPC 25: FWA 180 mm
    found = particulars(ship, replace(loading, displacement=18_000.0 * TONNE), {"mass_per_immersion": 25.0e5})
    assert found["fresh_water_allowance"].value == pytest.approx(0.180, abs=0.0005)


def test_a_given_figure_is_taken_as_given() -> None:
    ship, loading = KVLCC2
    found = particulars(replace(ship, moulded_depth=30.0), replace(loading, metacentric_height=5.71))
    assert found["metacentric_height"].origin is Origin.GIVEN
    assert found["metacentric_height"].value == 5.71
    assert found["moulded_depth"].source == "ship card: moulded_depth"
    assert found["length_between_perpendiculars"].band is None


def test_every_estimate_says_how_and_how_far() -> None:
    for figure in particulars(*KVLCC2).values():
        if figure.origin is Origin.ESTIMATED:
            assert figure.method
            assert figure.source
            assert figure.band is not None, figure.name
        if figure.origin is Origin.ASSUMED:
            assert figure.method, figure.name


FULL = (
    Ship(
        name="Fourwinds",
        kind=ShipType.FERRY,
        length_overall=180.0,
        beam=27.0,
        moulded_depth=15.5,
        keel_to_highest_point=45.0,
        mast_from_stern=120.0,
        bulbous_bow=True,
        engine=Engine(
            kind=EngineKind.CONTROLLABLE_PITCH,
            orders=(EngineOrder(order="full_ahead", revolutions=140.0 * RPM, pitch=0.8, speed_loaded=17.0 * KNOT),),
            astern_power_share=0.6,
        ),
        propellers=(
            Propeller(controllable_pitch=True, lateral_position=-5.0),
            Propeller(controllable_pitch=True, lateral_position=5.0),
        ),
        rudders=(Rudder(kind="flap", maximum_angle=45.0 * DEGREE), Rudder(kind="flap", maximum_angle=45.0 * DEGREE)),
        thrusters=(Thruster(position="bow", power=1.5e6), Thruster(position="bow", power=1.5e6)),
        anchors=Anchors(port_shackles=11, starboard_shackles=11),
    ),
    Loading(
        condition="loaded",
        draught_forward=6.2,
        draught_aft=6.4,
        draught_midships_port=6.30,
        draught_midships_starboard=6.45,
    ),
)


UNHEARD = (
    Ship(
        name="Unheard",
        kind=ShipType.OTHER,
        length_overall=120.0,
        beam=18.0,
        engine=Engine(kind=EngineKind.GEARED_DIESEL),
    ),
    Loading(condition="loaded", draught_forward=5.0, draught_aft=5.0),
)


def test_every_source_is_in_the_bibliography() -> None:
    folder = Path(leadsman.__file__).parent / "sources"
    known = {key for file in folder.glob("*.toml") for key in tomllib.loads(file.read_text(encoding="utf-8"))}
    for card in (KVLCC2, FULL):
        for figure in particulars(*card).values():
            if figure.origin is not Origin.GIVEN:
                assert figure.source in known, f"{figure.name}: {figure.source}"
    assert {check.source for check in CHECKS} <= known


def test_marks_amidships_give_list_and_sag() -> None:
    found = particulars(*FULL)
    assert found["sag"].value == pytest.approx(0.075)
    assert found["list_angle"].value == pytest.approx(math.atan(0.15 / 27.0))
    assert found["deepest_draught"].value == pytest.approx(6.4 + 0.5 * 27.0 * math.atan(0.15 / 27.0))


def test_astern_thrust_and_speed_of_sixty_per_cent_power() -> None:
    # Manoeuvring sheet 5: x = 0.6 gives thrust 0.55, computed there, and speed 0.63 to 0.72
    ship, loading = KVLCC2
    found = particulars(replace(ship, engine=replace(ship.engine, astern_power_share=0.6)), loading)
    assert found["astern_thrust_share"].value == pytest.approx(0.55, abs=0.01)
    assert 0.63 <= found["astern_speed_share"].value <= 0.72
    assert "66 % of the speed" in meaning("astern_power_share", found)


def test_a_defect_changes_what_is_counted_on() -> None:
    ship, loading = FULL
    whole = particulars(ship, loading)
    first, second = ship.thrusters
    lost = particulars(replace(ship, thrusters=(replace(first, state=State.DEFECTIVE), second)), loading)
    assert lost["bow_thrust"].value == pytest.approx(0.5 * whole["bow_thrust"].value)
    port, starboard = ship.propellers
    limping = particulars(replace(ship, propellers=(replace(port, state=State.DEFECTIVE), starboard)), loading)
    assert limping["bollard_thrust_full_ahead"].value == pytest.approx(0.5 * whole["bollard_thrust_full_ahead"].value)
    none = particulars(replace(ship, thrusters=(replace(first, state=State.DEFECTIVE),)), loading)
    assert meaning("bow_thrust", none) == "Recorded out of order: count on none."
    left, right = ship.rudders
    one = particulars(replace(ship, rudders=(replace(left, state=State.DEFECTIVE), right)), loading)
    assert one["rudder_area"].value == pytest.approx(0.5 * whole["rudder_area"].value)


def test_thruster_thrust_is_the_planning_figure() -> None:
    # Forces sheet 3.1: 0.12 kN for each kW, common practice
    assert particulars(*FULL)["bow_thrust"].value == pytest.approx(360.0e3)


def test_an_overrule_changes_what_follows_and_nothing_else() -> None:
    before = particulars(*FULL)
    after = particulars(*FULL, {"metacentric_height": 2.2})
    changed = changes(before, after)
    assert set(changed) == {"metacentric_height", "centre_of_gravity_height", "roll_period"}
    old, new = changed["metacentric_height"]
    assert old is not None
    assert new is not None
    assert new.origin is Origin.GIVEN
    assert new.source == "own figure"
    slower, quicker = changed["roll_period"]
    assert slower is not None
    assert quicker is not None
    assert (quicker.value < slower.value) == (new.value > old.value)


def test_a_block_coefficient_overruled_makes_the_displacement() -> None:
    found = particulars(*KVLCC2, {"block_coefficient": 0.80})
    expected = 0.80 * 320.0 * 58.0 * 20.8 * SEA_WATER_DENSITY
    assert found["displacement"].value == pytest.approx(expected)
    assert found["displacement"].origin is Origin.COMPUTED


WRONG = [
    ({"metacentre": 9.0}, "'metacentre' is no particular; known are air_draught"),
    ({"metacentric_height": 0.0}, "metacentric_height: 0 m cannot be; expected a number above zero"),
    ({"wetted_surface": math.nan}, "wetted_surface: nan m² cannot be"),
]


@pytest.mark.parametrize(("overrides", "sentence"), WRONG)
def test_an_overrule_that_cannot_be_is_refused(overrides: Mapping[str, float], sentence: str) -> None:
    with pytest.raises(CannotCompute) as refusal:
        particulars(*FULL, overrides)
    assert sentence in str(refusal.value)


def test_signed_particulars_may_be_nought() -> None:
    for name in SIGNED:
        assert particulars(*FULL, {name: -0.1})[name].value == -0.1


def test_what_cannot_be_known_is_left_out() -> None:
    found = particulars(*UNHEARD)
    assert "mean_draught" in found
    assert "length_between_perpendiculars" in found
    for name in ("displacement", "block_coefficient", "air_draught", "rudder_area", "bow_thrust", "lateral_windage"):
        assert name not in found


def test_every_figure_has_its_meaning_in_one_sentence_or_two() -> None:
    for card in (KVLCC2, FULL, UNHEARD):
        found = particulars(*card)
        for name in found:
            sentence = meaning(name, found)
            assert sentence.endswith("."), name
            assert sentence[0].isupper() or sentence[0].isdigit(), name
    assert len(particulars(*FULL)) > 0.8 * len(ESTIMATES)


MEANINGS = [  # overrules, particular, part of the sentence
    ({"trim": 1.0}, "trim", "by the stern she holds course better"),
    ({"trim": -0.6}, "trim", "by the head she is hard to hold"),
    ({"trim": 0.0}, "trim", "On even keel"),
    ({"sag": -0.2}, "sag", "She hogs: her ends are the deepest of her keel, by 0.20 m."),
    ({"sag": 0.2}, "sag", "She sags"),
    ({"sag": 0.0}, "sag", "Her keel is straight"),
    ({"list_angle": -2.0 * DEGREE}, "list_angle", "Listed 2.0° to port"),
    ({"list_angle": 0.0}, "list_angle", "Upright"),
    ({"block_coefficient": 0.82}, "block_coefficient", "Full"),
    ({"block_coefficient": 0.72}, "block_coefficient", "Of middle fullness"),
    ({"block_coefficient": 0.58}, "block_coefficient", "Fine"),
    ({"windage_forward": 12.0}, "windage_forward", "12 m forward of midships: stopped, her bow falls off"),
    ({"windage_forward": -12.0}, "windage_forward", "her stern falls off and her bow comes up"),
    ({"windage_forward": 0.2}, "windage_forward", "she lies across it"),
    ({"brackish_sinkage": -0.1}, "brackish_sinkage", "0.10 m higher"),
]


@pytest.mark.parametrize(("overrides", "name", "sentence"), MEANINGS)
def test_meanings_follow_the_figure(overrides: Mapping[str, float], name: str, sentence: str) -> None:
    assert sentence in meaning(name, particulars(*FULL, overrides))


def test_meanings_do_without_what_is_missing() -> None:
    found = dict(particulars(*FULL))
    lean: dict[str, Figure] = {
        name: found[name]
        for name in (
            "metacentric_height",
            "astern_power_share",
            "rudder_area",
            "bow_thrust",
            "bollard_thrust_full_ahead",
        )
    }
    assert "farther she heels" in meaning("metacentric_height", lean)
    assert "power goes with the cube of speed" in meaning("astern_power_share", lean)
    assert meaning("propeller_pitch_ratio", lean) == "A flat pitch stops her better than a steep one."
    assert meaning("rudder_area", lean) == "What she is turned with."
    assert "beam wind" not in meaning("bow_thrust", lean)
    assert "gained" not in meaning("bollard_thrust_full_ahead", lean)


@pytest.mark.parametrize("factor", [1e-3, 0.1, 0.3048, 3.281, 10.0, 1e3])
def test_absurd_cards_give_figures_or_none_but_no_crash(factor: float) -> None:
    ship, loading = FULL
    loading = replace(loading, displacement=17_000.0 * TONNE, metacentric_height=1.8, air_draught=38.8)
    for thing, make in (
        (ship, lambda **c: (replace(ship, **c), loading)),
        (loading, lambda **c: (ship, replace(loading, **c))),
    ):
        for name, value in vars(thing).items():
            if isinstance(value, float):
                _figures_or_refusal(make, {name: value * factor})


def _figures_or_refusal(make: Any, change: Mapping[str, float]) -> None:
    try:
        card = make(**change)
    except Impossible:
        return
    check_card(*card)
    for figure in particulars(*card).values():
        assert math.isfinite(figure.value)
