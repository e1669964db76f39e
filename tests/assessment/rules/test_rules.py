"""Every kind of rule against a march in plain Python: edges to a second, none missed; what is told; what mends it."""

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.rules.rulebook import Rulebook
from leadsman.assessment.rules.spans import joined, outside, spare
from leadsman.assessment.rules.stretch import place_distance, stretches
from leadsman.environment.level import turning_points
from leadsman.environment.stream import stream_at
from leadsman.figure import Grade
from leadsman.physics import sun
from leadsman.portcall import PortCall, Tug
from leadsman.rule import (
    Asked,
    Closed,
    Daylight,
    GreatestSpeed,
    GreatestStream,
    GreatestWaves,
    GreatestWind,
    LeastVisibility,
    Light,
    Movement,
    Opening,
    Rule,
    Ships,
    TimeBetweenShips,
    TugsFast,
)
from leadsman.units import HOUR, KNOT, MINUTE

one_second = 1.0
BRIDGE = "Lych Bridge"


def rule(asks: Asked, name: str = "the rule", **more: object) -> Rule:
    return Rule(name=name, asks=asks, source="made up for this test", **more)


def with_rules(call: PortCall, *rules: Rule, **changes: object) -> PortCall:
    return replace(call, rules=rules, **changes)


def track_of(prepared: Prepared, start: float) -> tuple[np.ndarray, np.ndarray]:
    """(times she passes the stations, speed over ground from each), by the triangle of velocities in plain Python."""
    passage, water = prepared.passage, prepared.water
    elapsed, times, speeds = start, [], []
    for i, distance in enumerate(passage.distance):
        north, east = (float(value) for value in stream_at(water.stream.grid, distance, elapsed))
        course, speed = passage.course[i], passage.speed[i]
        across = east * math.cos(course) - north * math.sin(course)
        along = north * math.cos(course) + east * math.sin(course)
        ground = max(0.1, math.sqrt(max(speed**2 - across**2, 0.0)) + along)
        times.append(elapsed)
        speeds.append(ground)
        if i + 1 < len(passage.distance):
            elapsed += (passage.distance[i + 1] - distance) / ground
    return np.array(times), np.array(speeds)


def while_there(prepared: Prepared, start: float, at: float, lasting: float = 0.0) -> tuple[float, float]:
    times, _ = track_of(prepared, start)
    half = 0.5 * prepared.call.ship.length_overall
    length = prepared.passage.distance[-1]
    enters = np.interp(max(at - half, 0.0), prepared.passage.distance, times)
    leaves = np.interp(min(at + half, length), prepared.passage.distance, times)
    return float(enters), float(leaves) + lasting


def bridge(prepared: Prepared) -> float:
    return next(at for gate, at in prepared.passage.gate_distances if gate.name == BRIDGE)


def lit(prepared: Prepared, start: float) -> bool:
    """Sun up at the bridge the whole time she is there, second by second through the altitude formula."""
    enters, leaves = while_there(prepared, start, bridge(prepared))
    gate = next(gate for gate in prepared.call.waterway.gates if gate.name == BRIDGE)
    seconds = prepared.water.begin.timestamp() + np.linspace(enters, leaves, 200)
    height = sun.altitude(seconds, math.radians(gate.position.latitude), math.radians(gate.position.longitude))
    return bool(np.all(height >= sun.RISE_AND_SET))


def slow_stream(prepared: Prepared, start: float) -> bool:
    """Every second of her stay at the quay's end of the track."""
    enters, leaves = while_there(prepared, start, float(prepared.passage.distance[-1]), lasting=HOUR)
    times = np.arange(enters, leaves + 0.5, 1.0)
    at = np.full_like(times, place_distance(prepared.passage, "Tannery Quay"))
    north, east = stream_at(prepared.water.stream.grid, at, times)
    return bool(np.max(np.hypot(north, east)) <= 1.2 * KNOT)


def slow_enough(prepared: Prepared, start: float) -> bool:
    _, speeds = track_of(prepared, start)
    reach = [index for index, item in enumerate(prepared.passage.reaches) if item.name == "Lych Reach"]
    return bool(np.max(speeds[np.isin(prepared.passage.reach, reach)]) <= 7.0 * KNOT)


def open_about_high_water(prepared: Prepared, start: float) -> bool:
    enters, leaves = while_there(prepared, start, bridge(prepared))
    station = prepared.call.waterway.tide_stations[0]
    found = turning_points(station, prepared.water.begin - timedelta(days=1), prepared.water.level.end)
    highs = found.time[found.high] - prepared.water.begin.timestamp()
    return bool(np.any((highs - HOUR <= enters) & (leaves <= highs + 0.5 * HOUR)))


def open_daily(prepared: Prepared, start: float) -> bool:
    enters, leaves = (prepared.water.time(moment) for moment in while_there(prepared, start, bridge(prepared)))
    hours = [moment.hour + moment.minute / 60.0 + (moment.second + moment.microsecond / 1e6) / 3600.0 for moment in (enters, leaves)]
    if leaves - enters > timedelta(hours=3):
        return False
    morning = all(6.0 <= hour <= 8.5 for hour in hours)
    night = all(hour >= 22.0 or hour <= 1.0 for hour in hours)
    return morning or night


def clear_of_others(prepared: Prepared, start: float) -> bool:
    enters, leaves = while_there(prepared, start, bridge(prepared))
    other = prepared.water.elapsed(datetime(2031, 5, 6, 15, 30, tzinfo=UTC))
    return not (enters < other + 40.0 * MINUTE and leaves > other - 40.0 * MINUTE)


def tugs_there(prepared: Prepared, start: float) -> bool:
    enters, leaves = while_there(prepared, start, float(prepared.passage.distance[-1]))
    begin = prepared.water.elapsed(datetime(2031, 5, 6, 4, tzinfo=UTC))
    end = prepared.water.elapsed(datetime(2031, 5, 6, 15, 45, tzinfo=UTC))
    return begin <= enters and leaves <= end


TUGS = (
    Tug(name="one", bollard_pull=3.0e5),
    Tug(
        name="other",
        bollard_pull=3.0e5,
        available_from=datetime(2031, 5, 6, 4, tzinfo=UTC),
        available_until=datetime(2031, 5, 6, 15, 45, tzinfo=UTC),
    ),
)
OTHER = Movement(name="Teal Drift", at=BRIDGE, time=datetime(2031, 5, 6, 15, 30, tzinfo=UTC))
HIGH = Opening(reference="Ambry Bar", before_high_water=HOUR, after_high_water=0.5 * HOUR)
DAILY = Opening(daily=((6.0 * HOUR, 8.5 * HOUR), (22.0 * HOUR, 1.0 * HOUR)))
WHEN = (datetime(2031, 5, 6, 14, 50, tzinfo=UTC), datetime(2031, 5, 6, 16, 10, tzinfo=UTC))

Judge = Callable[[Prepared, float], bool]
KINDS: list[tuple[str, Rule, Judge, dict[str, object]]] = [
    ("daylight", rule(Daylight(light=Light.SUN), at=BRIDGE), lit, {}),
    ("stream", rule(GreatestStream(rate=1.2 * KNOT), at="Tannery Quay", lasting=HOUR), slow_stream, {}),
    ("speed", rule(GreatestSpeed(speed=7.0 * KNOT), reaches=("Lych Reach",)), slow_enough, {}),
    ("opening", rule(HIGH, at=BRIDGE), open_about_high_water, {}),
    ("opening", rule(DAILY, at=BRIDGE), open_daily, {}),
    ("traffic", rule(TimeBetweenShips(least=40.0 * MINUTE), at=BRIDGE), clear_of_others, {"movements": (OTHER,)}),
    ("tugs", rule(TugsFast(number=2), at="Tannery Quay"), tugs_there, {"tugs": TUGS}),
]


@pytest.fixture(scope="module")
def ready(first_call: PortCall) -> dict[int, Prepared]:
    """Two days of starts for each kind of rule."""
    return {
        index: prepare(
            with_rules(
                first_call,
                one,
                search_begin=datetime(2031, 5, 5, 18, tzinfo=UTC),
                search_end=datetime(2031, 5, 7, 18, tzinfo=UTC),
                **changes,
            )
        )
        for index, (_, one, _, changes) in enumerate(KINDS)
    }


@pytest.mark.parametrize("index", range(len(KINDS)), ids=[f"{kind}-{i}" for i, (kind, *_) in enumerate(KINDS)])
def test_every_edge_of_a_rule_is_true_to_a_second_and_none_is_missed(index: int, ready: dict[int, Prepared]) -> None:
    _, _, kept, _ = KINDS[index]
    prepared = ready[index]
    begin, end = (prepared.water.elapsed(time) for time in (prepared.call.search_begin, prepared.call.search_end))
    spans = prepared.rules.open(begin, end)
    edges = [span.opens for span in spans if span.opens_at_edge] + [span.closes for span in spans if span.closes_at_edge]
    assert edges
    for span in spans:
        if span.opens_at_edge:
            assert not kept(prepared, span.opens - one_second)
            assert kept(prepared, span.opens + one_second)
        if span.closes_at_edge:
            assert kept(prepared, span.closes - one_second)
            assert not kept(prepared, span.closes + one_second)
    for start in np.arange(begin, end, 300.0):
        inside = any(span.opens <= start <= span.closes for span in spans)
        assert kept(prepared, start) == inside or min(abs(start - edge) for edge in edges) < one_second


@pytest.mark.parametrize("index", range(len(KINDS)), ids=[f"{kind}-{i}" for i, (kind, *_) in enumerate(KINDS)])
def test_no_margin_changes_faster_than_its_bound(index: int, ready: dict[int, Prepared]) -> None:
    prepared = ready[index]
    begin = prepared.water.elapsed(prepared.call.search_begin)
    starts = begin + np.arange(0.0, 86_400.0, 20.0)
    margins = prepared.rules.margins(starts)[0]
    known = np.isfinite(margins)
    assert np.max(np.abs(np.diff(margins[known]))) <= 20.0 * prepared.rules.limits[0].rate * prepared.drift.stretch


def test_windows_are_those_of_the_water_and_the_rules_together(ready: dict[int, Prepared]) -> None:
    for prepared in ready.values():
        begin = prepared.water.elapsed(prepared.call.search_begin)
        for start in begin + np.arange(0.0, 2.0 * 86_400.0, 450.0):
            row = prepared.margins(np.array([start]))[0]
            goes = min(row[0], row[2]) >= 0.0 and prepared.rules.broken(np.array([start]))[0] < 0
            inside = any(span.opens <= start <= span.closes for span in prepared.search.spans)
            beside = any(min(abs(start - span.opens), abs(start - span.closes)) < 1.0 for span in prepared.search.spans)
            assert goes == inside or beside


def test_a_start_in_the_dark_says_so_and_the_later_start_it_offers_is_light(first_call: PortCall) -> None:
    dark = with_rules(first_call, rule(Daylight(light=Light.SUN), name="Bridge by daylight", at=BRIDGE))
    ready = prepare(dark)
    night = next(
        start
        for window in assess(first_call).windows
        if (start := window.best_start) and ready.rules.broken(np.array([ready.water.elapsed(start)]))[0] >= 0
    )
    answer = assess(dark.starting(night), ready)
    assert not answer.verdict.go
    assert answer.verdict.binding.limit == "daylight"
    assert answer.verdict.binding.place == BRIDGE
    assert answer.verdict.binding.margin < 0.0
    assert "Bridge by daylight" in answer.verdict.sentence
    (stop,) = [finding for finding in answer.findings if finding.grade is Grade.STOP]
    assert stop.subject == "daylight"
    later = next(remedy for remedy in answer.remedies if remedy.kind == "later")
    assert later.start is not None
    assert assess(dark.starting(later.start), ready).verdict.go
    assert len(answer.windows) < len(assess(first_call).windows)


def test_an_edge_made_by_a_rule_names_it(first_call: PortCall) -> None:
    answer = assess(with_rules(first_call, rule(Closed(begin=WHEN[0], end=WHEN[1]), name="Rowing day", at=BRIDGE)))
    named = [edge for window in answer.windows for edge in (window.opens_by, window.closes_by) if edge and edge.rule]
    assert named
    assert {edge.rule for edge in named} == {"Rowing day"}
    assert {edge.limit for edge in named} == {"traffic"}
    shut = [name for name in answer.series.rule if name]
    assert set(shut) == {"Rowing day"}


WEATHER = [
    # what is asked, forecast changes, kept (None: cannot be judged), some words
    (LeastVisibility(visibility=1852.0), {"visibility": 1800.0}, False, "visibility 0.97 nm forecast, 1.00 nm required"),
    (LeastVisibility(visibility=1852.0), {"visibility": 1852.0}, True, "1.00 nm required"),
    (LeastVisibility(visibility=1852.0), {"visibility": None}, None, "the forecast gives no visibility"),
    (GreatestWind(mean=10.0), {"wind_speed": 10.01, "gust_speed": None}, False, "mean wind 19.5 kn forecast"),
    (GreatestWind(mean=10.0), {"wind_speed": 10.0, "gust_speed": 16.0}, True, "the limit is 19.4 kn"),
    (GreatestWind(mean=10.0, gust=12.0), {"wind_speed": 9.0, "gust_speed": 16.0}, False, "gusts 31.2 kn forecast"),
    (GreatestWind(mean=10.0, gust=12.0), {"wind_speed": 9.0, "gust_speed": None}, None, "the forecast gives no gusts"),
    (GreatestWind(mean=10.0, gust=12.0), {"wind_speed": 11.0, "gust_speed": None}, False, "mean wind"),
    (GreatestWaves(height=1.0), {"wave_height": 1.2, "wave_period": 8.0}, False, "waves 1.20 m forecast"),
    (GreatestWaves(height=1.0), {"wave_height": None}, None, "the forecast gives no waves"),
]


@pytest.mark.parametrize(("asks", "changes", "kept", "words"), WEATHER)
def test_weather_is_judged_by_the_forecast(
    first_call: PortCall, asks: Asked, changes: dict[str, float], kept: bool | None, words: str
) -> None:
    forecast = replace(first_call.forecast, **changes)
    answer = assess(with_rules(first_call, rule(asks), forecast=forecast))
    (check,) = answer.rules
    assert check.kept is kept
    assert words in check.words
    about = [finding for finding in answer.findings if finding.sentence.startswith("the rule, ")]
    if kept:
        assert about == []
    else:
        assert [finding.grade for finding in about] == [Grade.CAUTION if kept is None else Grade.STOP]
    if kept is False:
        assert answer.windows == ()
        assert not answer.verdict.go
        assert any(remedy.kind in ("visibility", "wind", "waves") for remedy in answer.remedies)


def test_what_cannot_be_judged_does_not_shut_her_out_but_is_said(first_call: PortCall) -> None:
    call = with_rules(first_call, rule(TimeBetweenShips(least=600.0), at=BRIDGE))
    answer = assess(call)
    assert answer.windows == assess(first_call).windows
    said = [finding for finding in answer.findings if finding.subject == "traffic"]
    assert [finding.grade for finding in said] == [Grade.CAUTION]
    assert "windows are told without it" in said[0].sentence


def test_a_stream_rule_without_streams_cannot_be_judged(first_call: PortCall) -> None:
    still = replace(first_call.waterway, stream_stations=())
    answer = assess(with_rules(first_call, rule(GreatestStream(rate=0.5), at=BRIDGE), waterway=still))
    assert [check.kept for check in answer.rules] == [None]


def test_a_rule_is_for_the_ships_and_the_way_it_says(first_call: PortCall) -> None:
    never = Closed(begin=first_call.search_begin, end=first_call.search_end + timedelta(days=2))
    longer = rule(never, name="a", ships=Ships(length_over=first_call.ship.length_overall))
    outward = rule(never, name="b", direction="outward")
    hers = rule(never, name="c", ships=Ships(length_over=94.9, draught_over=6.0), direction="inward")
    answer = assess(with_rules(first_call, longer, outward, hers))
    assert [check.name for check in answer.rules] == ["c"]
    assert answer.windows == ()


def test_tugs_that_fall_short_are_told_with_what_is_lacking(first_call: PortCall) -> None:
    call = with_rules(first_call, rule(TugsFast(number=2, pull=5.0e5), at="Tannery Quay"), tugs=TUGS[:1])
    answer = assess(call)
    assert answer.windows == ()
    (remedy,) = [remedy for remedy in answer.remedies if remedy.kind == "tugs"]
    assert "1 more tug and 21 t more pull" in remedy.sentence  # (500 - 300) kN / 9.80665 = 20.4 t, rounded up
    assert "available" in answer.rules[0].words


def test_slower_mends_a_broken_speed_rule(first_call: PortCall) -> None:
    planned = assess(first_call)
    fastest = max(leg.mean_speed_over_ground for leg in planned.legs if leg.reach == "Lych Reach")
    call = with_rules(first_call, rule(GreatestSpeed(speed=fastest - 0.3), name="Lych speed", reaches=("Lych Reach",)))
    answer = assess(call)
    assert answer.verdict.binding.limit == "speed"
    slower = next(remedy for remedy in answer.remedies if remedy.kind == "slower")
    assert slower.works
    assert "Lych Reach" in slower.sentence


def test_spans_of_time() -> None:
    assert joined([(3.0, 5.0), (0.0, 1.0), (1.0, 2.0), (4.0, 4.5)]).tolist() == [[0.0, 2.0], [3.0, 5.0]]
    assert outside([(0.0, 1.0), (2.0, 3.0)]).tolist() == [[-math.inf, 0.0], [1.0, 2.0], [3.0, math.inf]]
    assert outside([]).tolist() == [[-math.inf, math.inf]]
    spans = np.array([[0.0, 10.0], [20.0, 40.0]])
    enters, leaves = np.array([2.0, 12.0, 25.0, 9.0]), np.array([5.0, 13.0, 30.0, 21.0])
    assert spare(spans, enters, leaves).tolist() == [2.0, -3.0, 5.0, -11.0]
    assert spare(np.empty((0, 2)), enters, leaves).tolist() == [-math.inf] * 4


def test_neighbouring_reaches_are_one_stretch_and_others_are_not(first_prepared: Prepared) -> None:
    passage = first_prepared.passage
    names = [reach.name for reach in passage.reaches]
    (both,) = stretches(passage, None, (names[1], names[2]))
    assert both.place == f"{names[1]} and {names[2]}"
    apart = stretches(passage, None, (names[0], names[2]))
    assert [stretch.place for stretch in apart] == [names[0], names[2]]
    (whole,) = stretches(passage, None, ())
    assert (whole.begin, whole.end) == (0.0, passage.track.length)


def test_where_the_water_is_not_known_no_rule_is_kept(ready: dict[int, Prepared]) -> None:
    book: Rulebook = ready[0].rules
    after_all = np.array([ready[0].water.elapsed(ready[0].water.level.end) - 60.0])
    assert book.margins(after_all)[0, 0] == -np.inf
    assert book.broken(after_all)[0] == 0
