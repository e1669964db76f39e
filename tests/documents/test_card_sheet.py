"""Card and poster on paper: what was handed over stands there, what is missing says so, findings are numbered."""

import io
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from leadsman.assessment.card import check_card
from leadsman.assessment.checked_card import checked_card
from leadsman.assessment.estimates import meaning, particulars
from leadsman.assessment.posted_result import Shipboard
from leadsman.documents.card_data import NOT_GIVEN, card_data
from leadsman.documents.card_sheet import card_pdf, write_card
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.equipment import Engine, EngineKind, State
from leadsman.figure import Grade
from leadsman.portcall import PortCall
from leadsman.poster import Poster, SquatEstimate, Stop, TurningCircle, ZigZag
from leadsman.ship import Loading, Ship, ShipType
from leadsman.units import DEGREE, FOOT, INCH, KNOT

Data = dict[str, Any]


def laid_out(ship: Ship, loading: Loading) -> Data:
    figures = particulars(ship, loading)
    meanings = {name: meaning(name, figures) for name in figures}
    return card_data(ship, loading, check_card(ship, loading), figures, meanings)


def pages(data: Mapping[str, Any], sheet: str = "card", paper: str = "a4") -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(card_pdf(dict(data), sheet, paper)))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def plain(words: str) -> str:
    """As the page's text comes back: every kind of blank is one."""
    return re.sub(r"\s+", " ", words)


@pytest.fixture(scope="module")
def card(first_call: PortCall) -> tuple[Ship, Loading]:
    return first_call.ship, first_call.loading


def test_every_field_with_words_is_printed(card: tuple[Ship, Loading]) -> None:
    data = laid_out(*card)
    first = pages(data)[0]
    for group in ("head", "particulars", "engine", "steering"):
        for row in data[group]:
            assert row["label"] in first, row
            assert plain(row["text"]) in first, row
    for line in data["orders"]:
        assert plain(f"{line['order']} {line['setting']} {line['loaded']} {line['ballast']}") in first


def test_what_is_missing_says_so_and_is_never_a_number(card: tuple[Ship, Loading]) -> None:
    ship, loading = card
    data = laid_out(replace(ship, bridge_to_bow=None, keel_to_highest_point=None), replace(loading, air_draught=None))
    rows = {row["label"]: row for row in data["particulars"]}
    for label in ("Bridge front to bow", "Keel to highest point", "Air draught"):
        assert rows[label]["text"] == NOT_GIVEN
        assert not rows[label]["given"]
    assert "not given" in pages(data)[0]


def test_a_finding_is_numbered_at_its_field(card: tuple[Ship, Loading]) -> None:
    ship, loading = card
    data = laid_out(replace(ship, bridge_to_bow=50.8), loading)
    number = next(one["number"] for one in data["findings"] if one["grade"] == Grade.STOP.value)
    rows = {row["label"]: row for row in data["particulars"]}
    assert rows["Bridge front to bow"]["flags"] == [number]
    assert rows["Length overall"]["flags"] == [number]
    assert rows["Breadth"]["flags"] == []
    second = " ".join(pages(data)[1:])
    assert plain(data["findings"][0]["sentence"]) in second


def test_feet_defects_and_states_are_told(card: tuple[Ship, Loading]) -> None:
    ship, loading = card
    thruster = replace(ship.thrusters[0], state=State.DEFECTIVE)
    changed = replace(
        ship,
        thrusters=(thruster,),
        defects=("Port windlass brake slips",),
        equipment_details={"speed_log": "doppler", "position_fixing": "GNSS"},
        gyro_error=-0.5 * DEGREE,
    )
    data = laid_out(changed, replace(loading, draught_aft_imperial=20.0 * FOOT + 10.0 * INCH))
    first = pages(data)[0]
    assert "6.35 m / 20 ft 10 in" in first
    assert "300 kW (408 HP) (defective)" in first
    assert "Defect: Port windlass brake slips" in first
    assert "ready, doppler" in first
    assert "0.5° low" in first


def test_every_figure_stands_with_band_and_meaning(card: tuple[Ship, Loading]) -> None:
    data = laid_out(*card)
    words = " ".join(pages(data)[1:])
    for figure in data["figures"]:
        assert figure["label"] in words
        assert plain(figure["meaning"]) in words
        assert plain(figure["text"]) in words
        assert "± 0 " not in figure["band"]
    texts = {figure["label"]: figure["text"] for figure in data["figures"]}
    assert texts["Mass per immersion"] == "11.9 t/cm"
    assert texts["Block coefficient"] == "0.840"


POSTER = Poster(
    turning_circles=(
        TurningCircle(side="port", condition="loaded", rudder=35.0 * DEGREE, advance=300.0, tactical_diameter=280.0),
        TurningCircle(side="port", condition="loaded", rudder=35.0 * DEGREE, advance=420.0, depth_to_draught=1.2),
    ),
    stops=(Stop(order="full_ahead", condition="loaded", track_reach=480.0, engine_astern=False),),
    zig_zags=(ZigZag(angle=10.0 * DEGREE, condition="loaded", first_overshoot=8.0 * DEGREE),),
    squats=(SquatEstimate(clearance=1.5, speed=9.0 * KNOT, squat=0.55),),
    blind_zone_loaded=140.0,
)


@pytest.mark.parametrize("paper", ["a4", "a3", "us-letter"])
def test_the_poster_shows_the_manoeuvres(card: tuple[Ship, Loading], paper: str) -> None:
    ship, loading = card
    thruster = replace(
        ship.thrusters[0],
        time_to_full_thrust=8.0,
        time_to_reverse=14.0,
        turning_rate=0.5 * DEGREE,
        time_limit=1800.0,
    )
    data = laid_out(replace(ship, poster=POSTER, thrusters=(thruster,)), loading)
    words = " ".join(pages(data, "poster", paper))
    for part in (
        "port, loaded 35° 300 m not given 280 m unknown",
        "port, loaded, shallow",
        "full ahead, loaded engine stopped 480 m",
        "10/10, loaded 8.0°",
        "1.50 m 9.0 kn 0.55 m",
        "Blind zone ahead, loaded: 140 m",
        "full thrust in 8 s, reversed in 14 s, turns her 30 °/min",
        "30 min at one go",
        "Performance may differ",
    ):
        assert part in words, part


def test_every_page_carries_name_and_caution(card: tuple[Ship, Loading]) -> None:
    data = laid_out(*card)
    for sheet in ("card", "poster"):
        for words in pages(data, sheet):
            assert data["ship"] in words
            assert SHORT_CAUTION in words


def test_an_empty_card_is_laid_out_too() -> None:
    engine = Engine(kind=EngineKind.GEARED_DIESEL)
    bare = Ship(name="Bare", kind=ShipType.OTHER, length_overall=60.0, beam=11.0, engine=engine)
    data = laid_out(bare, Loading(condition="ballast", draught_forward=2.0, draught_aft=3.0))
    assert pages(data)
    assert pages(data, "poster")


def test_names_in_any_script_are_carried_or_spelt(card: tuple[Ship, Loading]) -> None:
    ship, loading = card
    data = laid_out(replace(ship, name="Ørnen \U0001f6a2"), loading)
    assert "U+1F6A2" in pages(data)[0]


def test_equal_cards_give_equal_files(card: tuple[Ship, Loading]) -> None:
    data = laid_out(*card)
    assert card_pdf(data) == card_pdf(data)


def test_the_files_are_written_whole(card: tuple[Ship, Loading], tmp_path: Path) -> None:
    written = write_card(Shipboard(card=checked_card(*card), untried="she has no rudder."), tmp_path / "out")
    assert [path.name for path in written] == ["card.pdf", "poster.pdf"]
    assert all(path.read_bytes().startswith(b"%PDF") for path in written)
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == ["card.pdf", "poster.pdf"]
    poster = pypdf.PdfReader(tmp_path / "out" / "poster.pdf").pages
    assert "could not be estimated: she has no rudder." in re.sub(r"\s+", " ", poster[0].extract_text())


def test_unknown_paper_and_sheet_are_refused(card: tuple[Ship, Loading]) -> None:
    data = laid_out(*card)
    with pytest.raises(ValueError, match="'a5' is no paper known here; expected one of a4, a3, us-letter"):
        card_pdf(data, paper="a5")
    with pytest.raises(ValueError, match="'log' is no sheet of a card; expected one of card, poster"):
        card_pdf(data, "log")
