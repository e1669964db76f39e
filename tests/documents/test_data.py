"""The plain data: careful rounding, places named, what is missing said in words."""

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from leadsman.assessment.result import Assessment
from leadsman.documents.data import assessment_data, figure_data
from leadsman.documents.particulars import particulars
from leadsman.figure import Band, Figure, Origin
from leadsman.units import KNOT

Build = Callable[..., Assessment]


@pytest.fixture(scope="module")
def found(build: Build) -> Assessment:
    built: Assessment = build()
    return built


def test_the_data_are_json_with_finite_numbers_only(found: Assessment) -> None:
    written = json.dumps(assessment_data(found), allow_nan=False)
    assert json.loads(written)["schema"] == "leadsman.assessment/1"


def test_tightest_places_come_worst_first_and_lettered(found: Assessment, build: Build) -> None:
    places = assessment_data(found)["tightest"]
    margins = [place["margin"]["value"] for place in places]
    assert margins == sorted(margins)
    assert "".join(place["letter"] for place in places) == "ABCDE", "four legs and a bridge"
    assert len(assessment_data(build(legs=100))["tightest"]) == 6


def test_an_area_has_her_account_with_its_own_depth(found: Assessment) -> None:
    """Over an area of the depth her track has, she has the net of her track; a metre less depth, a metre less net."""
    flat = replace(found.account, depth=found.account.depth * 0.0 + 4.6, net=found.account.net * 0.0 + 1.5)
    areas = {area["name"]: area for area in assessment_data(replace(found, account=flat))["plan"]["areas"]}
    assert areas["River"]["net"]["value"] == pytest.approx(1.5), "depth 4.6, as under her"
    assert areas["The Bar"]["net"]["value"] == pytest.approx(-0.5), "depth 2.6: two metres less"
    assert areas["North Mud"]["net"] is None, "unsurveyed: never a number"


def test_the_account_of_a_place_is_rounded_to_the_careful_side(found: Assessment) -> None:
    account = found.account
    for leg in assessment_data(found)["legs"]:
        here = leg["tightest"]
        for line, values in zip(here["lines"], account.lines, strict=True):
            exact, written = values.values[here["station"]], float(line["text"].replace("−", "-").removesuffix(" m"))
            if line["effect"] < 0:
                assert exact - 1e-6 <= written < exact + 0.01
            else:
                assert exact - 0.01 < written <= exact + 1e-6


def test_window_edges_are_written_inside_the_window(found: Assessment) -> None:
    window = replace(
        found.windows[0],
        opens=datetime(2031, 5, 2, 1, 41, 20, tzinfo=UTC),
        closes=datetime(2031, 5, 2, 3, 41, 50, tzinfo=UTC),
    )
    (written,) = assessment_data(replace(found, windows=(window,)))["windows"]
    assert (written["opens"]["clock"], written["closes"]["clock"]) == ("01:42", "03:41")
    assert written["opens"]["text"] == "Fri 2 May 01:42"
    assert written["opens"]["date"] == "Fri 2 May"
    brief = replace(window, closes=window.opens + timedelta(seconds=40))
    (written,) = assessment_data(replace(found, windows=(brief,)))["windows"]
    assert (written["opens"]["clock"], written["closes"]["clock"]) == ("01:41:20", "01:42:00")


def test_what_the_card_leaves_out_is_said(found: Assessment) -> None:
    call = found.call
    bare = replace(
        call,
        loading=replace(call.loading, air_draught=None, displacement=None, water_density=None),
        forecast=replace(call.forecast, wind_speed=None, wind_from=None, gust_speed=None),
    )
    written = particulars(bare)
    for figure in ("air_draught", "displacement", "water_density"):
        assert written["loading"][figure] == {"value": None, "text": "not given"}
    assert written["forecast"]["wind"] == "not given"
    assert written["ship"]["thrusters"] == "not given"


def test_particulars_are_written_in_seafarers_units(found: Assessment) -> None:
    written = particulars(found.call)
    assert written["loading"]["trim"]["text"] == "0.20 m by the stern", "3.9 forward, 4.1 aft"
    assert written["forecast"]["wind"] == "from 240° 14.0 kn, gusts 22.0 kn"
    assert written["forecast"]["residual_high"]["text"] == "+0.30 m"
    assert written["margins"]["underkeel"]["text"] == "0.50 m or 10 % of draught, the greater"
    assert written["tugs"][0]["bollard_pull"]["text"] == "25 t", "245 kN / 9.80665 m/s²"


@pytest.mark.parametrize(
    ("band", "words"),
    [(Band(deviation=KNOT), "± 1.0 kn"), (Band(low=2.0 * KNOT, high=4.0 * KNOT), "2.0 kn to 4.0 kn"), (None, None)],
)
def test_a_band_is_written_in_the_unit_of_its_figure(band: Band | None, words: str | None) -> None:
    figure = Figure(name="speed", value=3.0 * KNOT, unit="m/s", origin=Origin.GIVEN, band=band)
    written = figure_data(figure)["band"]
    assert (written and written["text"]) == words
