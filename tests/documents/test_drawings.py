"""Drawings measured: where a thing stands on paper is where its numbers say, and a name cannot break a drawing."""

import itertools
import math
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.assessment.result import Assessment
from leadsman.documents.data import assessment_data
from leadsman.documents.drawings import plan, section, strips, windows_by_day
from leadsman.documents.drawings.days import LEFT, RIGHT
from leadsman.documents.drawings.labels import Labels
from leadsman.documents.drawings.scale import Scale, round_step, ticks
from leadsman.documents.drawings.sheet_view import GAIN, fitted, turned
from leadsman.documents.drawings.svg import Svg, shortened, text_width

Build = Callable[..., Assessment]

WIDTH = 184.0
FAMILIES = ("Libertinus Serif",)
SVG = "{http://www.w3.org/2000/svg}"
one_hundredth_millimetre = 0.011

Data = dict[str, Any]


@pytest.fixture(scope="module")
def data(build: Build) -> Data:
    return assessment_data(build())


def texts(drawing: str) -> list[str]:
    return [element.text or "" for element in ElementTree.fromstring(drawing).iter(f"{SVG}text")]


def rectangles(drawing: str, **wanted: str) -> list[dict[str, float]]:
    found = []
    for element in ElementTree.fromstring(drawing).iter(f"{SVG}rect"):
        if all(element.get(key.replace("_", "-")) == value for key, value in wanted.items()):
            found.append({key: float(element.get(key, "nan")) for key in ("x", "y", "width", "height")})
    return found


# Windows by day


def day_data(**more: object) -> Data:
    def time(value: str) -> dict[str, str]:
        return {"value": value, "clock": value[11:16]}

    window = {"opens": time("2031-05-04T06:00:00Z"), "closes": time("2031-05-04T12:00:00Z")}
    return {
        "call": {
            "start": time("2031-05-04T09:00:00Z"),
            "search_begin": time("2031-05-04T00:00:00Z"),
            "search_end": time("2031-05-05T00:00:00Z"),
        },
        "windows": [window],
        "series": {
            "start": [f"2031-05-04T{hour:02d}:00:00Z" for hour in range(24)],
            "underkeel": [-1.0] * 6 + [1.0] * 6 + [1.0] * 6 + [-1.0] * 6,
            "overhead": [1.0] * 12 + [-1.0] * 12,
        },
    } | more


def test_a_window_stands_at_its_hours() -> None:
    (window,) = rectangles(windows_by_day(day_data(), FAMILIES, WIDTH), stroke_width="0.5", height="4.6")
    line = WIDTH - LEFT - RIGHT  # 24 h
    assert window["x"] == pytest.approx(LEFT + line * 6.0 / 24.0, abs=one_hundredth_millimetre), "by hand: 06:00"
    assert window["width"] == pytest.approx(line * 6.0 / 24.0, abs=one_hundredth_millimetre), "by hand: six hours"


@pytest.mark.parametrize(
    ("pattern", "begin", "hours"),
    [("level", 0.0, 6.0 + 1.0), ("upright", 12.0 - 1.0, 6.0 + 1.0), ("grid", 18.0, 5.0)],
)
def test_what_shuts_her_out_is_hatched_by_its_reason(pattern: str, begin: float, hours: float) -> None:
    """Beside a window the hatch reaches one sample, here an hour, under it: the edge lies between two samples."""
    drawn = rectangles(windows_by_day(day_data(), FAMILIES, WIDTH), fill=f"url(#days-{pattern})", height="3.8")
    line = WIDTH - LEFT - RIGHT
    assert len(drawn) == 1
    assert drawn[0]["x"] == pytest.approx(LEFT + line * begin / 24.0, abs=one_hundredth_millimetre)
    assert drawn[0]["width"] == pytest.approx(line * hours / 24.0, abs=one_hundredth_millimetre)


def test_a_time_no_limit_explains_is_never_left_white() -> None:
    closed = day_data(windows=[])
    drawn = rectangles(windows_by_day(closed, FAMILIES, WIDTH), fill="url(#days-cross)", height="3.8")
    assert drawn, "06:00 to 12:00 is shut though neither water nor height is short"


def test_a_window_over_midnight_stands_in_both_rows() -> None:
    two_days = day_data()
    two_days["call"]["search_end"]["value"] = "2031-05-06T00:00:00Z"
    two_days["windows"][0]["opens"] = {"value": "2031-05-04T22:00:00Z", "clock": "22:00"}
    two_days["windows"][0]["closes"] = {"value": "2031-05-05T01:00:00Z", "clock": "01:00"}
    bars = rectangles(windows_by_day(two_days, FAMILIES, WIDTH), stroke_width="0.5", height="4.6")
    line = WIDTH - LEFT - RIGHT
    assert [round(bar["width"] / line * 24.0, 2) for bar in bars] == [2.0, 1.0]
    assert bars[1]["x"] == pytest.approx(LEFT, abs=one_hundredth_millimetre)


def test_a_long_search_shows_the_days_about_the_start_and_counts_the_rest() -> None:
    month = day_data()
    month["call"]["search_begin"]["value"] = "2031-04-20T00:00:00Z"
    month["call"]["search_end"]["value"] = "2031-05-20T00:00:00Z"
    words = texts(windows_by_day(month, FAMILIES, WIDTH))
    assert "22 more not drawn" in words
    assert "Sun 4 May" in words


def test_times_of_neighbouring_windows_never_overlap() -> None:
    crowded = day_data()
    crowded["windows"] = [
        {
            "opens": {"value": f"2031-05-04T{hour:02d}:00:00Z", "clock": f"{hour:02d}:00"},
            "closes": {"value": f"2031-05-04T{hour:02d}:{minute:02d}:00Z", "clock": f"{hour:02d}:{minute:02d}"},
        }
        for hour, minute in ((6, 10), (7, 40), (8, 20), (9, 50), (11, 5))
    ]
    drawing = ElementTree.fromstring(windows_by_day(crowded, FAMILIES, WIDTH))
    clocks = sorted(
        float(element.get("x", "nan"))
        for element in drawing.iter(f"{SVG}text")
        if element.get("font-weight") == "700"
        and element.get("text-anchor") == "middle"
        and ":" in (element.text or "")
    )
    assert clocks
    assert all(b - a >= 8.8 for a, b in itertools.pairwise(clocks))


# Section


def test_the_section_carries_every_leg_and_the_worst_net(data: Data) -> None:
    words = texts(section(data, FAMILIES, WIDTH, 80.0))
    for leg in data["legs"]:
        assert f"{leg['number']}  {leg['reach']}" in words
    worst = min(data["legs"], key=lambda leg: leg["least_margin"]["value"])
    assert f"A {worst['least_net']['text']}" in words


def test_a_broken_limit_is_marked_where_it_is_broken(data: Data, build: Build) -> None:
    def marks(assessed: Data) -> int:
        return len(rectangles(section(assessed, FAMILIES, WIDTH, 80.0), fill="#10182b", height="1.4"))

    assert min(data["account"]["margin"]) > 0.0
    assert marks(data) == 0
    hundred = assessment_data(build(legs=100))
    assert marks(hundred) == sum(margin < 0.0 for margin in hundred["account"]["margin"]) > 0


def test_without_gates_the_section_has_no_overhead(data: Data, build: Build) -> None:
    bare = assessment_data(build(gates=False))
    assert not any(
        "Bridge at" in words or "1.60 m at" in words for words in texts(section(bare, FAMILIES, WIDTH, 80.0))
    )


# Plan


def test_the_plan_is_to_the_scale_it_states(data: Data) -> None:
    drawing = plan(data, FAMILIES, WIDTH, 70.0)
    stated = next(words for words in texts(drawing) if words.startswith("1 : "))
    denominator = int(stated.removeprefix("1 : ").replace("\u202f", ""))
    cables = next(words for words in texts(drawing) if words.endswith(" cables"))
    metres = next(words for words in texts(drawing) if words.endswith("00 m") and words[:-2].isdigit())
    halves = [bar["width"] for bar in rectangles(drawing, height="1.1")]
    by_hand = [int(cables.split()[0]) * 185.2 * 1000.0 / denominator, int(metres[:-2]) * 1000.0 / denominator]
    assert 2.0 * halves[0] == pytest.approx(by_hand[0], abs=0.03), "a cable is 185.2 m"
    assert 2.0 * halves[2] == pytest.approx(by_hand[1], abs=0.03)


def test_the_shallowest_area_is_drawn_over_the_deeper(data: Data) -> None:
    drawing = plan(data, FAMILIES, WIDTH, 70.0)
    assert 0 < drawing.index('fill="#596173"') < drawing.index("url(#plan-cross)"), "unsurveyed lies on top of all"


def test_every_tightest_place_stands_on_the_plan(data: Data) -> None:
    words = texts(plan(data, FAMILIES, WIDTH, 70.0))
    for place in data["tightest"]:
        assert f"{place['letter']} {place['value']['text']}" in words


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.floats(-2e4, 2e4), st.floats(-2e4, 2e4)), min_size=2, max_size=12),
    st.floats(10.0, 500.0),
)
def test_a_fitted_view_shows_everything_at_a_round_scale(points: list[tuple[float, float]], spare: float) -> None:
    frame = (5.0, 10.0, 170.0, 60.0)
    view = fitted(points, spare, frame)
    for x, y in points:
        right, down = view(x, y)
        assert frame[0] + spare / view.scale - 1e-6 <= right <= frame[0] + frame[2] - spare / view.scale + 1e-6
        assert frame[1] + spare / view.scale - 1e-6 <= down <= frame[1] + frame[3] - spare / view.scale + 1e-6
    digits = f"{view.denominator:d}".rstrip("0")
    assert len(digits) <= 3
    (ax, ay), (bx, by) = view(0.0, 0.0), view(300.0, 400.0)
    assert math.hypot(bx - ax, by - ay) == pytest.approx(500.0 / view.scale), "3, 4, 5"


def test_north_is_up_unless_turning_gains_much() -> None:
    square = fitted([(0.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0)], 50.0, (0.0, 0.0, 100.0, 100.0))
    assert square.north_up
    assert square.bearing(0.0) == pytest.approx((0.0, -1.0), abs=1e-12), "north is up, and down the page is positive"
    northward = fitted([(0.0, 0.0), (9000.0, 0.0)], 50.0, (0.0, 0.0, 184.0, 60.0))
    assert not northward.north_up
    assert turned(9000.0, 0.0, northward.to_right)[0] > 0.0, "she goes from left to right"
    assert GAIN > 1.0


# Parts


@settings(deadline=None)
@given(st.floats(1e-4, 1e6))
def test_steps_are_round_and_not_too_fine(least: float) -> None:
    step = round_step(least)
    assert step >= least * (1.0 - 1e-9)
    assert step <= 2.5 * least * (1.0 + 1e-9)
    assert f"{step:.6e}"[0] in "125"


def test_ticks_are_written_with_the_decimals_of_their_step() -> None:
    assert list(ticks(-1.0, 1.0, 0.5)) == [(-1.0, "−1.0"), (-0.5, "−0.5"), (0.0, "0.0"), (0.5, "0.5"), (1.0, "1.0")]
    assert [words for _, words in ticks(0.0, 40.0, 20.0)] == ["0", "20", "40"]


def test_a_scale_bends_at_its_knots_and_goes_on_beyond() -> None:
    scale = Scale((0.0, 100.0), (10.0, 50.0), (20.0, 40.0))
    assert [scale(value) for value in (-2.0, 5.0, 10.0, 15.0, 30.0)] == [110.0, 75.0, 50.0, 45.0, 30.0]


def test_labels_keep_apart_and_inside() -> None:
    svg = Svg("labels", 60.0, 40.0)
    labels = Labels(svg, (0.0, 0.0, 60.0, 40.0))
    written = [labels.put(30.0, 20.0, f"label {index}", 8.0) for index in range(40)]
    assert written[0]
    assert not all(written), "there is room for some only"
    boxes = labels._taken
    for index, box in enumerate(boxes):
        assert box[0] >= 0.0
        assert box[1] >= 0.0
        assert box[2] <= 60.0
        assert box[3] <= 40.0
        for other in boxes[index + 1 :]:
            assert box[2] <= other[0] or other[2] <= box[0] or box[3] <= other[1] or other[3] <= box[1]


def test_a_hostile_name_cannot_break_a_drawing(build: Build) -> None:
    name = "\"><script>&amp;'</text>"
    found = assessment_data(build(name=name))
    for leg, place in zip(found["legs"], found["plan"]["waypoints"], strict=False):
        leg["reach"] = place["name"] = name
    for drawing in (section(found, FAMILIES, WIDTH, 80.0), plan(found, FAMILIES, WIDTH, 70.0)):
        assert ElementTree.fromstring(drawing).find(".//script") is None


def test_names_are_cut_with_an_ellipsis() -> None:
    assert shortened("Gannet Bend", 26) == "Gannet Bend"
    assert shortened("N" * 200, 26) == "N" * 25 + "…"


def test_wide_letters_count_as_wide() -> None:
    assert text_width("永安", 10.0) > 1.8 * text_width("ab", 10.0)


def test_strips_show_the_whole_track_at_one_larger_scale_and_the_berth_at_one_larger_still(data: Data) -> None:
    def scales(drawing: str) -> set[int]:
        return {
            int(words.removeprefix("1 : ").replace("\u202f", ""))
            for words in texts(drawing)
            if words.startswith("1 : ")
        }

    whole, cut = scales(plan(data, FAMILIES, WIDTH, 70.0)), scales(strips(data, FAMILIES, WIDTH, 240.0))
    berth, along = sorted(cut)
    assert berth < along / 1.3 < along < 0.6 * whole.pop()
    words = texts(strips(data, FAMILIES, WIDTH, 240.0))
    for place in data["tightest"]:
        assert f"{place['letter']} {place['value']['text']}" in words
    for leg in data["legs"]:
        assert f"{leg['number']}: {leg['course']['text']}°" in words


def test_without_a_berth_all_strips_have_one_scale(data: Data) -> None:
    nowhere = {**data, "plan": {**data["plan"], "berths": []}}
    found = {words for words in texts(strips(nowhere, FAMILIES, WIDTH, 240.0)) if words.startswith("1 : ")}
    assert len(found) == 1


def test_a_bridge_too_low_says_what_is_required(data: Data) -> None:
    (gate,) = data["gates"]
    low = {**gate, "margin": {"value": -0.15, "text": "−0.15 m"}}
    words = texts(section({**data, "gates": [low]}, FAMILIES, WIDTH, 80.0))
    assert "1.60 m at 05:49, 1.00 m required" in words
    assert "1.60 m at 05:49" in texts(section(data, FAMILIES, WIDTH, 80.0))
