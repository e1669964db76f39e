"""Every example folder reads, assesses and tells the story its README tells: what binds, when, and what it says of it.

No number here is the program's own answer written down. Counts and lengths are rough on purpose, as a pilot would say
them; high and low waters come from the tide tables or constants alone, without ship or track.
"""

import importlib.util
import json
import math
import re
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.result import Assessment, Window
from leadsman.documents.data import assessment_data
from leadsman.environment.level import turning_points
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.geometry import Position
from leadsman.physics import sun
from leadsman.portcall import PortCall, ReachPlan
from leadsman.units import KNOT
from leadsman.waterway import Waterway

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)

spec = importlib.util.spec_from_file_location("draw_areas", ROOT / "studies/draw_areas.py")
assert spec is not None
assert spec.loader is not None
draw_areas = importlib.util.module_from_spec(spec)
spec.loader.exec_module(draw_areas)


@dataclass(frozen=True, kw_only=True)
class Story:
    """What the README of an example tells, in the words of the assessment."""

    windows: tuple[int, int]
    """Roughly how many in the time searched."""
    held_before: frozenset[tuple[str, str]]
    """(limit, place) that holds her before a window opens."""
    held_after: frozenset[tuple[str, str]]
    cautions: frozenset[tuple[str, str]] = field(default=frozenset())
    """(subject, place) of the findings of grade caution at the planned start."""


SILL, BRIDGE = ("underkeel", "Osier Sill"), ("overhead", "Lych Bridge")
BAR, FLAT = ("underkeel", "Pellisand Bar"), ("underkeel", "Cockle Flat")
HIGH_BRIDGE = ("overhead", "Varrow High Bridge")
MOUTH = ("underkeel", "Harbour Mouth")
LEDGE = ("underkeel", "Tooth Ledge")
DAYLIGHT = ("daylight", "Ledge Channel")

STORIES = {
    "1-river-coaster": Story(
        windows=(12, 20),
        held_before=frozenset({SILL, BRIDGE}),
        held_after=frozenset({SILL, BRIDGE}),
        cautions=frozenset({("alongside", "Tannery Quay")}),  # she takes the ground there, as the berth allows
    ),
    "2-bar-bulk-carrier": Story(
        windows=(16, 24), held_before=frozenset({BAR}), held_after=frozenset({BAR, FLAT})
    ),
    "3-container-basin": Story(
        windows=(5, 9),
        held_before=frozenset({HIGH_BRIDGE}),
        held_after=frozenset({HIGH_BRIDGE}),
        # slower than she steers: the tugs have her; swinging across wind and stream they are just too few for the gusts
        cautions=frozenset({("speed", "Terminal Reach"), ("holding", "Varrow Basin")}),
    ),
    "4-ferry-corner-berth": Story(windows=(8, 12), held_before=frozenset({MOUTH}), held_after=frozenset({MOUTH})),
    "4-ferry-outward": Story(
        windows=(8, 12),
        held_before=frozenset({MOUTH}),
        held_after=frozenset({MOUTH}),
        cautions=frozenset({("speed", "Hawse Narrows")}),  # the ebb under her: over the local limit
    ),
    "5-podded-cruise": Story(
        windows=(12, 16),  # two a day of the week: light to low water, low water to dusk
        held_before=frozenset({LEDGE, DAYLIGHT}),
        held_after=frozenset({LEDGE, DAYLIGHT}),
    ),
}
NAMES = tuple(STORIES)


@pytest.fixture(scope="module")
def prepared() -> dict[str, Prepared]:
    return {name: prepare(read_call(EXAMPLES / name)) for name in NAMES}


@pytest.fixture(scope="module")
def answers(prepared: dict[str, Prepared]) -> dict[str, Assessment]:
    return {name: assess(found.call, found) for name, found in prepared.items()}


def gaps(windows: tuple[Window, ...]) -> list[tuple[datetime, datetime]]:
    """The spans of starts between windows."""
    return [(one.closes, other.opens) for one, other in pairwise(windows)]


def waters(call: PortCall, station: str, high: bool) -> list[tuple[datetime, float]]:
    """(time, level) of the high or low waters predicted at a tide station in the time searched."""
    found = turning_points(
        next(item for item in call.waterway.tide_stations if item.name == station), call.search_begin, call.search_end
    )
    chosen = found.high if high else ~found.high
    return [
        (datetime.fromtimestamp(time, UTC), float(level))
        for time, level in zip(found.time[chosen], found.level[chosen], strict=True)
    ]


def test_every_folder_has_its_story() -> None:
    assert sorted(file.parent.name for file in EXAMPLES.glob("*/call.toml")) == sorted(NAMES)


def test_the_card_with_slips_belongs_to_no_port_call() -> None:
    assert sorted(file.name for file in (EXAMPLES / "card-with-slips").iterdir()) == ["ship.toml"]


@pytest.mark.parametrize("name", NAMES)
def test_the_planned_start_goes(name: str, answers: dict[str, Assessment]) -> None:
    answer = answers[name]
    assert answer.verdict.go
    assert not answer.stops
    assert any(window.opens <= answer.call.start <= window.closes for window in answer.windows)


@pytest.mark.parametrize("name", NAMES)
def test_the_cautions_are_those_of_the_story(name: str, answers: dict[str, Assessment]) -> None:
    told = {(finding.subject, finding.place) for finding in answers[name].findings if finding.grade is Grade.CAUTION}
    assert told == STORIES[name].cautions


@pytest.mark.parametrize("name", NAMES)
def test_what_holds_her_is_what_the_story_says(name: str, answers: dict[str, Assessment]) -> None:
    story, windows = STORIES[name], answers[name].windows
    least, most = story.windows
    assert least <= len(windows) <= most
    assert {(edge.limit, edge.place) for window in windows if (edge := window.opens_by)} == story.held_before
    assert {(edge.limit, edge.place) for window in windows if (edge := window.closes_by)} == story.held_after


@pytest.mark.parametrize("name", [name for name in NAMES if (EXAMPLES / name / "README.md").exists()])
def test_the_readme_names_what_binds(name: str) -> None:
    words = " ".join((EXAMPLES / name / "README.md").read_text().split())
    for _, place in STORIES[name].held_before | STORIES[name].held_after:
        assert place in words, place
    assert f"leadsman assess examples/{name}" in words


TRIES = [
    (name, start, said)
    for name in NAMES
    if (EXAMPLES / name / "README.md").exists()
    for start, said in re.findall(
        rf"leadsman assess examples/{name} --start (\S+) +# (.+)", (EXAMPLES / name / "README.md").read_text()
    )
]


@pytest.mark.parametrize(("name", "start", "said"), TRIES)
def test_what_the_readme_says_to_try_comes_out_so(
    name: str, start: str, said: str, prepared: dict[str, Prepared]
) -> None:
    """A start said to be only too fast goes with a caution; every other one is no go."""
    found = prepared[name]
    answer = assess(found.call.starting(datetime.fromisoformat(start)), found)
    assert answer.verdict.word == ("go with cautions" if "too fast" in said else "no go")
    if not answer.verdict.go:
        binding = answer.verdict.binding
        assert (binding.limit, binding.place) in STORIES[name].held_before | STORIES[name].held_after


@pytest.mark.parametrize("name", NAMES)
def test_the_answer_is_data(name: str, answers: dict[str, Assessment]) -> None:
    data = json.loads(json.dumps(assessment_data(answers[name]), allow_nan=False))
    assert len(data["windows"]) == len(answers[name].windows)
    assert len(data["account"]["distance"]) == len(answers[name].account.distance)


@pytest.mark.parametrize("name", NAMES)
def test_the_areas_are_those_drawn_from_the_bands(name: str) -> None:
    text = (EXAMPLES / name / "waterway/areas.geojson").read_text()
    assert text == draw_areas.drawn(EXAMPLES / name), "run studies/draw_areas.py"


@pytest.mark.parametrize("name", NAMES)
def test_she_has_room_and_known_water_to_swing_and_to_lie(name: str, answers: dict[str, Assessment]) -> None:
    """Basins of 1.5 lengths with tugs or thrusters: EM 1110-2-1613, water.md 4.5 [memory]. Berths as long as she is."""
    call = answers[name].call
    plane = call.waterway.plane

    def flat(places: tuple[Position, ...]) -> np.ndarray:
        return np.column_stack(plane.to_plane([p.latitude for p in places], [p.longitude for p in places]))

    water = shapely.union_all(
        [shapely.Polygon(flat(area.ring)).buffer(0.05) for area in call.waterway.areas if area.depth is not None]
    )
    for basin in call.waterway.basins:
        assert basin.diameter >= 1.5 * call.ship.length_overall
        assert water.covers(shapely.Point(*flat((basin.centre,))[0]).buffer(0.5 * basin.diameter))
    berth = next(item for item in call.waterway.berths if item.name == call.berth)
    face = shapely.LineString(flat((berth.begin, berth.end)))
    assert face.length >= call.ship.length_overall
    assert water.distance(face) < 1.0


def mirrored(call: PortCall) -> PortCall:
    """The same call in a looking-glass: east and west of the origin change places, and so do port and starboard."""

    def place(position: Position) -> Position:
        return Position(position.latitude, 2.0 * call.waterway.origin.longitude - position.longitude)

    def moved(things):
        return tuple(replace(thing, position=place(thing.position)) for thing in things)

    def turned(angle: float | None) -> float | None:
        return None if angle is None else -angle % (2.0 * math.pi)

    water: Waterway = call.waterway
    other = {"port": "starboard", "starboard": "port"}
    glass = replace(
        water,
        waypoints=moved(water.waypoints),
        gates=moved(water.gates),
        marks=moved(water.marks),
        tide_stations=moved(water.tide_stations),
        reaches=tuple(
            replace(reach, width_port=reach.width_starboard, width_starboard=reach.width_port)
            for reach in water.reaches
        ),
        areas=tuple(replace(area, ring=tuple(place(corner) for corner in area.ring)) for area in water.areas),
        basins=tuple(replace(basin, centre=place(basin.centre)) for basin in water.basins),
        berths=tuple(
            replace(berth, begin=place(berth.begin), end=place(berth.end), side_to=other[berth.side_to])
            for berth in water.berths
        ),
        stream_stations=tuple(
            replace(
                station,
                position=place(station.position),
                rows=tuple((hour, turned(towards), *rates) for hour, towards, *rates in station.rows),
            )
            for station in water.stream_stations
        ),
    )
    weather = call.forecast
    weather = replace(weather, wind_from=turned(weather.wind_from), wave_from=turned(weather.wave_from))
    return replace(call, waterway=glass, forecast=weather)


@pytest.mark.parametrize("name", NAMES)
def test_a_mirrored_call_has_the_mirrored_answer(name: str, answers: dict[str, Assessment]) -> None:
    answer, glass = answers[name], assess(mirrored(answers[name].call))
    for one, other in zip(answer.windows, glass.windows, strict=True):
        for edge, mirrored_edge, by in ((one.opens, other.opens, one.opens_by), (one.closes, other.closes, one.closes_by)):
            sun_stays = by is not None and by.limit == "daylight"  # four seconds for each minute of longitude
            assert abs(edge - mirrored_edge) < timedelta(seconds=30 if sun_stays else 1)
    np.testing.assert_allclose(glass.account.net, answer.account.net, atol=1e-3)
    # her single screw is not mirrored with her: its throw to one side changes the room by decimetres
    np.testing.assert_allclose(glass.account.room_port, answer.account.room_starboard, atol=0.5)
    np.testing.assert_allclose(glass.account.stream_across, -answer.account.stream_across, atol=1e-4)
    for one, other in zip(answer.legs, glass.legs, strict=True):
        assert other.course == pytest.approx(-one.course % (2.0 * math.pi), abs=1e-6)
        if one.alteration is not None:
            assert other.alteration == pytest.approx(-one.alteration, abs=1e-6)


class TestBulkCarrier:
    """Example 2: the top of the tide twice, on most tides, never on the lowest neaps."""

    NAME = "2-bar-bulk-carrier"

    def test_she_draws_more_than_the_bar_carries_at_chart_datum(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.NAME].call
        bar = next(area for area in call.waterway.areas if area.name == "Pellisand Bar")
        assert bar.depth < call.loading.draught

    def test_windows_lie_about_high_water_and_last_an_hour_or_a_few(self, answers: dict[str, Assessment]) -> None:
        answer = answers[self.NAME]
        highs = [time for time, _ in waters(answer.call, "Pellisand Bar", high=True)]
        whole = [window for window in answer.windows if window.opens_by and window.closes_by]
        assert len(whole) >= len(answer.windows) - 2  # the search itself may cut the first and the last
        for window in whole:
            assert window.length < 3.5 * HOUR
            assert min(abs(window.best.time - high) for high in highs) < HOUR
        assert float(np.median([window.length / HOUR for window in whole])) > 1.0

    def test_the_tides_without_a_window_are_the_lowest(self, answers: dict[str, Assessment]) -> None:
        answer = answers[self.NAME]
        shut, opened = [], []
        for time, level in waters(answer.call, "Pellisand Bar", high=True):
            near = any(window.opens - HOUR < time < window.closes + 2.0 * HOUR for window in answer.windows)
            (opened if near else shut).append(level)
        assert len(opened) > len(shut) > 2
        assert max(shut) < min(opened) + 0.05  # two neighbours may change places: the stream differs too

    def test_the_flat_closes_the_springs_and_the_bar_the_rest(self, answers: dict[str, Assessment]) -> None:
        closed = [window for window in answers[self.NAME].windows if window.closes_by]
        by_flat = [window.best.margin for window in closed if window.closes_by.place == "Cockle Flat"]
        by_bar = [window.best.margin for window in closed if window.closes_by.place == "Pellisand Bar"]
        assert max(by_flat) > max(by_bar)
        assert min(by_flat) > min(by_bar)
        assert float(np.median(by_flat)) > max(by_bar)

    def test_half_a_metre_of_silt_on_the_bar_stops_her(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.NAME].call
        areas = tuple(
            replace(area, siltation=area.siltation + 0.5) if area.name == "Pellisand Bar" else area
            for area in call.waterway.areas
        )
        silted = assess(replace(call, waterway=replace(call.waterway, areas=areas)))
        assert not silted.verdict.go
        assert silted.verdict.binding.place == "Pellisand Bar"
        assert len(silted.windows) < len(answers[self.NAME].windows)

    def test_slower_over_the_bar_opens_neap_tides(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.NAME].call
        plans = tuple(
            ReachPlan(reach=plan.reach, order="slow_ahead") if plan.reach == "Bar Channel" else plan
            for plan in call.plans
        )
        assert len(assess(replace(call, plans=plans)).windows) > len(answers[self.NAME].windows)


class TestContainerShip:
    """Example 3: water enough always; the bridge shuts about the higher high waters of springs."""

    NAME = "3-container-basin"

    def test_the_keel_never_shuts_her_out(self, answers: dict[str, Assessment]) -> None:
        assert float(np.min(answers[self.NAME].series.underkeel)) > 0.0

    def test_she_is_shut_out_about_the_highest_waters(self, answers: dict[str, Assessment]) -> None:
        answer = answers[self.NAME]
        table = waters(answer.call, "Varrow Terminal", high=True)
        to_the_bridge = answer.gates[0].time - answer.call.start
        shut = set()
        for closes, opens in gaps(answer.windows):
            assert opens - closes < 3.5 * HOUR
            middle = closes + (opens - closes) / 2 + to_the_bridge
            time, level = min(table, key=lambda high: abs(high[0] - middle))
            assert abs(time - middle) < HOUR
            shut.add((time, level))
        open_to = [level for time, level in table if (time, level) not in shut]
        assert len(shut) >= 4
        assert min(level for _, level in shut) > max(open_to)

    def test_the_bridge_lowered_one_metre_stops_her(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.NAME].call
        gates = tuple(replace(gate, clearance=gate.clearance - 1.0) for gate in call.waterway.gates)
        lowered = assess(replace(call, waterway=replace(call.waterway, gates=gates)))
        assert not lowered.verdict.go
        assert lowered.verdict.binding.limit == "overhead"

    def test_the_wrong_datum_takes_height_away(self, answers: dict[str, Assessment]) -> None:
        """Above MHWS instead of HAT: less by the height between the two."""
        call = answers[self.NAME].call
        gates = tuple(replace(gate, clearance_datum="MHWS") for gate in call.waterway.gates)
        wrong = assess(replace(call, waterway=replace(call.waterway, gates=gates)))
        between = call.waterway.datums["HAT"] - call.waterway.datums["MHWS"]
        assert wrong.gates[0].value == pytest.approx(answers[self.NAME].gates[0].value - between)
        assert sum((w.length for w in wrong.windows), 0 * HOUR) < sum(
            (w.length for w in answers[self.NAME].windows), 0 * HOUR
        )

    def test_a_surge_shuts_the_bridge_about_every_high_water(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.NAME].call
        surge = assess(replace(call, forecast=replace(call.forecast, residual_high=0.60)))
        highs = [
            time
            for time, _ in waters(call, "Varrow Terminal", high=True)
            if call.search_begin + 3 * HOUR < time < call.search_end - 3 * HOUR
        ]
        assert len(gaps(surge.windows)) >= len(highs) - 1


class TestFerry:
    """Example 4, both ways: nearly always; only low water springs shuts the harbour mouth."""

    INWARD, OUTWARD = "4-ferry-corner-berth", "4-ferry-outward"

    @pytest.mark.parametrize("name", [INWARD, OUTWARD])
    def test_she_is_shut_out_about_the_lowest_waters_only(self, name: str, answers: dict[str, Assessment]) -> None:
        answer = answers[name]
        table = waters(answer.call, "Quaymoss", high=False)
        shut = set()
        for one, other in pairwise(answer.windows):
            assert other.opens - one.closes < 2.75 * HOUR
            middle = one.closes_by.time + (other.opens_by.time - one.closes_by.time) / 2
            time, level = min(table, key=lambda low: abs(low[0] - middle))
            assert abs(time - middle) < 20 * MINUTE
            shut.add((time, level))
        open_to = [level for time, level in table if (time, level) not in shut]
        assert len(open_to) >= 3
        assert max(level for _, level in shut) < min(open_to)

    def test_ship_and_waterway_are_the_same_files(self) -> None:
        for name in ["ship.toml", *(f"waterway/{file.name}" for file in (EXAMPLES / self.INWARD / "waterway").iterdir())]:
            assert (EXAMPLES / self.INWARD / name).read_bytes() == (EXAMPLES / self.OUTWARD / name).read_bytes(), name

    def test_outward_is_the_way_in_reversed(self, answers: dict[str, Assessment]) -> None:
        inward, outward = answers[self.INWARD], answers[self.OUTWARD]
        for one, other in zip(inward.legs, outward.legs[::-1], strict=True):
            assert one.reach == other.reach
            assert (one.begins_at, one.ends_at) == (other.ends_at, other.begins_at)
            reach = next(item for item in inward.call.waterway.reaches if item.name == one.reach)
            half = 0.5 * inward.call.ship.beam  # drifting and turning she sweeps more than her beam
            assert one.room_port < reach.width_port - half > other.room_starboard
            assert one.room_starboard < reach.width_starboard - half > other.room_port
            assert math.cos(one.course - other.course) == pytest.approx(-1.0)
        assert outward.alongside is None

    def test_the_harbour_mouth_shuts_at_the_same_hour_both_ways(self, answers: dict[str, Assessment]) -> None:
        """It is the water there that counts: she passes it at the edges of windows at nearly the same moments."""
        for one, other in zip(answers[self.INWARD].windows[:-1], answers[self.OUTWARD].windows[:-1], strict=True):
            assert abs(one.closes_by.time - other.closes_by.time) < 10 * MINUTE

    def test_on_the_flood_she_is_too_fast_in_the_narrows(self, prepared: dict[str, Prepared]) -> None:
        found = prepared[self.INWARD]
        flood = assess(found.call.starting(datetime(2031, 9, 18, 8, 0, tzinfo=UTC)), found)
        assert flood.verdict.go
        assert [f.place for f in flood.findings if f.grade is Grade.CAUTION] == ["Hawse Narrows"]

    def test_slower_in_the_narrows_is_within_the_limit(self, answers: dict[str, Assessment]) -> None:
        call = answers[self.OUTWARD].call
        plans = tuple(
            ReachPlan(reach=plan.reach, speed=7.0 * KNOT) if plan.reach == "Hawse Narrows" else plan
            for plan in call.plans
        )
        slower = assess(replace(call, plans=plans))
        assert not [finding for finding in slower.findings if finding.grade is not Grade.NOTE]

    def test_narrows_and_power_line_are_passed_with_plenty(self, answers: dict[str, Assessment]) -> None:
        gates = {gate.name: gate for gate in answers[self.INWARD].gates}
        ship = answers[self.INWARD].call.ship
        swept = gates["The Hawse"].figures["swept_width"].value
        assert gates["The Hawse"].value == pytest.approx((130.0 - swept) / 2.0)
        assert ship.beam < swept < ship.beam + ship.length_overall * math.sin(math.radians(5.0))
        assert gates["Hawse power line"].value > gates["Hawse power line"].required + 3.0


class TestCruiseShip:
    """Example 5: a mixed tide; the lower low water of the day shuts the ledge."""

    NAME = "5-podded-cruise"

    def test_she_has_pods_and_no_rudder(self, answers: dict[str, Assessment]) -> None:
        ship = answers[self.NAME].call.ship
        assert all(propeller.podded for propeller in ship.propellers)
        assert ship.rudders == ()

    def test_the_ledge_is_shut_once_a_day_about_the_lower_low_water(self, answers: dict[str, Assessment]) -> None:
        answer = answers[self.NAME]
        lows = waters(answer.call, "Tooth Ledge", high=False)
        shut = set()
        for one, other in pairwise(answer.windows):
            if one.closes_by.limit == "daylight":
                continue
            assert other.opens - one.closes < 4 * HOUR
            middle = one.closes_by.time + (other.opens_by.time - one.closes_by.time) / 2
            time, level = min(lows, key=lambda low: abs(low[0] - middle))
            assert abs(time - middle) < HOUR
            neighbours = [other_level for other_time, other_level in lows if 0 * HOUR < abs(other_time - time) < 20 * HOUR]
            assert level < min(neighbours)
            shut.add(time)
        assert len(shut) >= 5

    def test_the_dark_shuts_the_ledge_channel(self, answers: dict[str, Assessment]) -> None:
        """Civil twilight: the sun 6 degrees under the horizon, common practice; altitude by [Meeus1998], memory."""
        answer = answers[self.NAME]
        gaps_of_night = [
            (one, other) for one, other in pairwise(answer.windows) if one.closes_by.limit == other.opens_by.limit == "daylight"
        ]
        assert len(gaps_of_night) >= 5
        for one, other in gaps_of_night:
            assert 7 * HOUR < other.opens - one.closes < 10 * HOUR  # midsummer, 36 degrees south
            middle = one.closes + (other.opens - one.closes) / 2
            height = sun.altitude(middle.timestamp(), math.radians(-36.4), math.radians(-112.8))
            assert height < sun.CIVIL_TWILIGHT

    def test_the_anchorage_lies_before_the_ledge(self, answers: dict[str, Assessment]) -> None:
        answer = answers[self.NAME]
        roads = next(basin for basin in answer.call.waterway.basins if basin.name == "Mirrow Roads Anchorage")
        x, y = answer.call.waterway.plane.to_plane(roads.centre.latitude, roads.centre.longitude)
        along, off = answer.call.waterway.track.nearest(float(x), float(y))
        assert abs(off) + 0.5 * answer.call.ship.length_overall < 0.5 * roads.diameter
        assert along + 0.5 * roads.diameter < answer.verdict.binding.distance
