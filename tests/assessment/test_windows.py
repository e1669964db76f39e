"""The solver against scans: on made-up margins, and on the whole of example 1 by another road than the solver takes."""

import math
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.builders.random_calls import compare, needs_hold, random_call

from leadsman.assessment.overhead import Overhead
from leadsman.assessment.parts import PARTS
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.windows import RESOLUTION, Search, solve
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.portcall import PortCall

one_second = 1.0


def waves(constant: float, parts: list[tuple[float, float, float]]):
    """A margin as a sum of cosines, the bound of its steepness, and a counter of nothing."""

    def evaluate(starts: np.ndarray) -> np.ndarray:
        total = constant + sum(a * np.cos(2.0 * math.pi * starts / period + phase) for a, period, phase in parts)
        rows = np.full((len(starts), 4), np.inf)
        rows[:, 0] = total
        return rows

    return evaluate, sum(abs(a) * 2.0 * math.pi / period for a, period, _ in parts)


def scanned(evaluate, begin: float, end: float) -> list[tuple[float, float]]:
    """Spans by looking at every tenth of a second."""
    times = np.arange(begin, end, 0.1)
    good = evaluate(times)[:, 0] >= 0.0
    turns = np.flatnonzero(good[1:] != good[:-1])
    edges = [begin] if good[0] else []
    edges += [float(times[turn + 1]) for turn in turns]
    if good[-1]:
        edges.append(end)
    return list(zip(edges[::2], edges[1::2], strict=True))


part = st.tuples(st.floats(0.1, 3.0), st.floats(150.0, 20_000.0), st.floats(0.0, 6.28))


@settings(max_examples=60, deadline=None)
@given(st.floats(-2.0, 2.0), st.lists(part, min_size=1, max_size=4))
def test_no_window_and_no_gap_is_missed(constant: float, parts: list[tuple[float, float, float]]) -> None:
    evaluate, steepness = waves(constant, parts)
    found = [(span.opens, span.closes) for span in solve(evaluate, 0.0, 7200.0, steepness).spans]
    expected = scanned(evaluate, 0.0, 7200.0)
    long_enough = [span for span in expected if span[1] - span[0] > 2.0 * one_second]
    gaps = [(a[1], b[0]) for a, b in pairwise(expected)]
    if all(b - a > 2.0 * one_second for a, b in gaps):  # shorter gaps may be told or not
        for opens, closes in long_enough:
            near = [span for span in found if abs(span[0] - opens) < one_second and abs(span[1] - closes) < one_second]
            assert near, (opens, closes, found)
    for opens, closes in found:
        inside = evaluate(np.array([opens, closes]))[:, 0]
        assert np.all(inside >= 0.0), "an edge is told from the side that is proved open"


def test_a_short_window_between_samples_is_found() -> None:
    """Two minutes wide, and ten minutes between the first samples."""

    def evaluate(starts: np.ndarray) -> np.ndarray:
        rows = np.full((len(starts), 4), np.inf)
        rows[:, 0] = 0.06 - 0.001 * np.abs(starts - 3925.0)
        return rows

    (span,) = solve(evaluate, 0.0, 7200.0, steepness=0.001).spans
    assert span.opens == pytest.approx(3865.0, abs=0.02)
    assert span.closes == pytest.approx(3985.0, abs=0.02)


def test_ends_of_the_search_are_no_edges() -> None:
    evaluate, steepness = waves(5.0, [(1.0, 5000.0, 0.0)])
    (span,) = solve(evaluate, 0.0, 3600.0, steepness).spans
    assert (span.opens, span.closes, span.opens_at_edge, span.closes_at_edge) == (0.0, 3600.0, False, False)
    assert solve(*(lambda e, s: (e, 0.0, 3600.0, s))(*waves(-5.0, [(1.0, 5000.0, 0.0)]))).spans == ()


def direct_margin(prepared: Prepared, start: datetime) -> float:
    """The least margin of a start by the account itself: no needed levels, no kernels, a march in plain Python."""
    passage, water, call = prepared.passage, prepared.water, prepared.call
    elapsed, times = water.elapsed(start), []
    for i, distance in enumerate(passage.distance):
        times.append(elapsed)
        if i + 1 < len(passage.distance):
            north, east = (float(value) for value in stream_at(water.stream.grid, distance, elapsed))
            course, speed = passage.course[i], passage.speed[i]
            across = east * math.cos(course) - north * math.sin(course)
            along = north * math.cos(course) + east * math.sin(course)
            ground = max(0.1, math.sqrt(max(speed**2 - across**2, 0.0)) + along)
            elapsed += (passage.distance[i + 1] - distance) / ground
    level = level_at(water.level.grid, passage.distance, np.array(times))
    underkeel, loading = prepared.underkeel, call.loading
    draughts = {"bow": loading.draught_forward, "stern": loading.draught_aft}
    bilge = max(loading.mean_draught + 0.3 * abs(loading.trim), underkeel.stability.draught_midships)
    deepest = max(loading.draught_forward, loading.draught_aft) + prepared.floating.density_sinkage
    required = max(call.margins.underkeel, call.margins.underkeel_share * deepest)
    reading = 1.96 * math.hypot(0.05, deepest * 2.0 / 1025.0)
    least, stations = math.inf, np.arange(len(level))
    for row, part in enumerate(PARTS):
        draught = draughts.get(part.name, bilge) + prepared.floating.density_sinkage
        depth, area = underkeel.depth.depth[row], [call.waterway.areas[index] for index in underkeel.depth.area[row]]
        lacking = np.array([(one.uncertainty or 0.0) + one.siltation for one in area])
        lacking += call.forecast.residual - call.forecast.residual_low
        squatted = underkeel.squats(level, np.full(len(level), row), stations).governing
        moved = underkeel.heel.sinkage[row] + underkeel.seaway.allowance[row] + reading
        net = depth + level - draught - lacking - squatted - moved
        least = min(least, float(np.min(net - required)))
    for over in prepared.overheads:
        hanging = over.gate.clearance + call.waterway.datum_height(over.gate.clearance_datum)
        rise = call.forecast.residual_high - call.forecast.residual
        clear = hanging - rise - level[over.stations] - prepared.floating.air_draught
        least = min(least, float(np.min(clear)) - call.margins.overhead)
    return least


@pytest.fixture(scope="module")
def search(first_prepared: Prepared) -> Search:
    return first_prepared.search


def test_every_edge_of_example_1_is_true_to_a_second(first_prepared: Prepared, search: Search) -> None:
    time = first_prepared.water.time
    assert len(search.spans) >= 10
    for span in search.spans:
        assert direct_margin(first_prepared, time(span.opens)) >= -1e-9
        assert direct_margin(first_prepared, time(span.closes)) >= -1e-9
        if span.opens_at_edge:
            assert direct_margin(first_prepared, time(span.opens - one_second)) < 0.0
        if span.closes_at_edge:
            assert direct_margin(first_prepared, time(span.closes + one_second)) < 0.0


def test_a_scan_of_example_1_finds_the_same_windows(first_prepared: Prepared, search: Search) -> None:
    """Every ten minutes of the week's first two and a half days, by the direct road."""
    begin = first_prepared.call.search_begin
    for minutes in range(0, 60 * 60, 10):
        start = begin + timedelta(minutes=minutes)
        elapsed = first_prepared.water.elapsed(start)
        margin = direct_margin(first_prepared, start)
        inside = any(span.opens <= elapsed <= span.closes for span in search.spans)
        beside = any(min(abs(elapsed - span.opens), abs(elapsed - span.closes)) <= RESOLUTION for span in search.spans)
        assert (margin >= 0.0) == inside or beside, (start, margin)


def test_the_steepness_bounds_what_is_seen(first_prepared: Prepared) -> None:
    begin = first_prepared.water.elapsed(first_prepared.call.search_begin)
    starts = begin + np.arange(0.0, 2.0 * 86400.0, 60.0)
    rows = first_prepared.margins(starts)
    least = np.minimum(rows[:, 0], rows[:, 2])
    assert np.max(np.abs(np.diff(least))) / 60.0 <= first_prepared.steepness


def test_overheads_know_their_ceiling(first_prepared: Prepared) -> None:
    """water.md section 5, derived: the greatest level is datum height + clearance - air draught - required."""
    (over,) = first_prepared.overheads
    assert isinstance(over, Overhead)
    expected = 9.4 + 27.1 - (33.0 - (6.35 - 0.15 * 14.0 / 95.0)) - 1.5 - (0.25 - 0.05)
    assert over.ceiling == pytest.approx(expected, abs=1e-9)
    assert over.clearance(np.array([over.ceiling])) == pytest.approx(1.5)


def test_where_the_water_is_not_known_nothing_holds(first_prepared: Prepared) -> None:
    after_all = np.array([first_prepared.water.elapsed(first_prepared.water.level.end) - 60.0])
    row = first_prepared.margins(after_all)[0]
    assert row[0] == -np.inf
    assert row[2] == -np.inf


def test_a_call_keeps_its_windows_for_every_start(first_call: PortCall, first_prepared: Prepared) -> None:
    from leadsman.assessment.assess import assess

    one = assess(first_call, first_prepared)
    other = assess(first_call.starting(first_call.start + timedelta(hours=3)), first_prepared)
    assert one.windows == other.windows
    assert one.verdict.go
    assert not other.verdict.go


SEEDS = (0, 1, 4, 6)  # all with edges


@pytest.mark.parametrize("seed", SEEDS)
def test_random_calls_have_the_windows_of_a_scan_of_every_second(seed: int) -> None:
    """A sample of the two hundred that `make validate` compares: edges within a second, none missed, none made up."""
    prepared = prepare(random_call(seed, hours=10.0))
    assert needs_hold(prepared)
    agreement = compare(prepared)
    assert agreement.edges
    assert agreement.missed == 0
    assert agreement.worst <= one_second


@pytest.mark.parametrize("seed", range(100, 110))
def test_no_two_passings_lie_farther_apart_than_the_stretch_allows(seed: int) -> None:
    """The bound is strict, not sampled: passing times of neighbouring starts, at starts all over the search."""
    prepared = prepare(random_call(seed, hours=20.0))
    begin = prepared.water.elapsed(prepared.call.search_begin)
    if prepared.drift.findings:
        return  # the stream can all but stop her: no bound is claimed, and a finding says so
    starts = begin + np.linspace(0.0, 20.0 * 3600.0, 40)
    rows = np.array([prepared.passed(prepared.water.time(float(start))) for start in starts])
    assert np.max(np.abs(np.diff(rows, axis=0))) <= np.diff(starts)[0] * prepared.drift.stretch * (1.0 + 1e-9)
