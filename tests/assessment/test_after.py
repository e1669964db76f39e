"""A passage sailed against its plan: what was put into the log of `builders/river_log.py` is what is found.

The log is made by plain sums along the track (speed over the ground, offset, heading); expected values here are those
sums, never the code's own output.
"""

import math
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
import river_log

from leadsman.assessment.account import account
from leadsman.assessment.after import after
from leadsman.assessment.after_result import After
from leadsman.assessment.prepare import prepare
from leadsman.assessment.sailed_path import nearest_places
from leadsman.environment.prediction import turning_points
from leadsman.environment.stream import stream_at
from leadsman.errors import CannotCompute
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.files.sailed_file import read_sailed
from leadsman.portcall import PortCall
from leadsman.sailed import SailedTrack
from leadsman.units import KNOT, NAUTICAL_MILE


@pytest.fixture(scope="module")
def call() -> PortCall:
    return read_call(river_log.CALL)


@pytest.fixture(scope="module")
def log() -> SailedTrack:
    return read_sailed(river_log.LOG)[0]


@pytest.fixture(scope="module")
def still(call: PortCall) -> PortCall:
    """The same call where no stream is known: over the ground is through the water."""
    return replace(call, waterway=replace(call.waterway, stream_stations=()))


@pytest.fixture(scope="module")
def found(call: PortCall, log: SailedTrack) -> After:
    return after(call, log)


def test_the_log_of_the_example_is_the_builders() -> None:
    assert river_log.LOG.read_bytes() == river_log.sentences().encode()


def test_places_are_passed_when_the_sums_say(call: PortCall, found: After) -> None:
    start, moments, distance = river_log.sailed()
    assert [one.place for one in found.passings] == [
        *("Ambry Roads", "Bar Buoy", "Heron Point", "Lych Bridge", "Mill Elbow", "Osier Beacon", "Tannery Quay"),
    ]
    for one in found.passings[:-1]:  # the last is come to at a crawl
        expected = start + timedelta(seconds=float(np.interp(one.distance, distance, moments)))
        assert abs((one.sailed - expected).total_seconds()) < 2.0, one.place
        assert one.off_track == pytest.approx(float(river_log.along(river_log.OFF_TRACK, one.distance)), abs=1.5)
        assert one.late == pytest.approx((one.sailed - one.planned).total_seconds())
        assert one.sailed_speed == pytest.approx(
            float(river_log.along(river_log.GROUND_SPEED, one.distance)) * KNOT, abs=0.15
        )
    assert found.passings[0].planned == call.start
    assert found.passings[0].late == pytest.approx(river_log.LATE.total_seconds(), abs=2.0)


def test_offset_and_heading_at_every_station(call: PortCall, found: After) -> None:
    _, _, course = call.waterway.track.at(found.distance)
    assert found.off_track == pytest.approx(river_log.along(river_log.OFF_TRACK, found.distance), abs=2.0)
    leeway = np.degrees((found.heading - course + math.pi) % (2.0 * math.pi) - math.pi)
    assert leeway == pytest.approx(river_log.along(river_log.LEEWAY, found.distance), abs=1.0)


def test_without_a_stream_the_speed_through_the_water_is_that_over_the_ground(
    still: PortCall, log: SailedTrack
) -> None:
    found = after(still, log)
    assert found.speed == pytest.approx(found.speed_over_ground)
    middle = (found.distance > 2000.0) & (found.distance < 8000.0)
    expected = river_log.along(river_log.GROUND_SPEED, found.distance) * KNOT
    assert found.speed[middle] == pytest.approx(expected[middle], abs=0.25)


def test_a_steady_speed_is_told_beside_the_cards(call: PortCall, found: After) -> None:
    taught = {one.reach: one for one in found.steady}
    assert taught["Lych Reach"].order == "slow_ahead"
    assert taught["Lych Reach"].card == pytest.approx(6.4 * KNOT)  # of the example's card
    # 7.9 to 8.0 kn over the ground in the log; the example's own stream there, mean of the stations of that reach
    ready = prepare(call)
    inside = (found.distance > 3.2 * NAUTICAL_MILE) & (found.distance < 4.4 * NAUTICAL_MILE)
    elapsed = np.array([ready.water.elapsed(time) for time in found.time])[inside]
    north, east = stream_at(ready.water.stream.grid, found.distance[inside], elapsed)
    with_her = float(np.mean(north * np.cos(math.radians(82.0)) + east * np.sin(math.radians(82.0))))
    assert taught["Lych Reach"].speed == pytest.approx(7.95 * KNOT - with_her, abs=0.2)


def test_without_a_stream_nothing_is_taught_of_her_speeds_and_it_is_said(still: PortCall, log: SailedTrack) -> None:
    found = after(still, log)
    assert found.steady == ()
    assert any(one.grade is Grade.CAUTION and one.subject == "stream" for one in found.findings)


def sailed_to_plan(call: PortCall) -> SailedTrack:
    """She exactly where the plan has her, heading along the track."""
    ready = prepare(call)
    plan = account(ready, call.start)
    moments = np.append(np.arange(0.0, float(plan.elapsed[-1]), 5.0), float(plan.elapsed[-1]))
    x, y, course = ready.passage.track.at(np.interp(moments, plan.elapsed, plan.distance))
    latitude, longitude = call.waterway.plane.to_earth(x, y)
    return SailedTrack(
        name="plan", start=call.start, elapsed=moments, latitude=latitude, longitude=longitude, heading=course
    )


def test_a_plan_kept_to_has_what_was_planned(still: PortCall) -> None:
    found = after(still, sailed_to_plan(still))
    plan = account(prepare(still), still.start)
    assert max(abs(one.late) for one in found.passings) < 2.0
    assert np.max(np.abs(found.off_track)) < 0.1
    away = np.min(
        np.abs(found.distance[:, None] - plan.distance[np.diff(plan.speed, prepend=plan.speed[0]) != 0]), axis=1
    )
    even = away > 150.0  # speeds are evened out over half a minute either side
    assert found.net[even] == pytest.approx(np.interp(found.distance, plan.distance, plan.net)[even], abs=0.03)
    worst = int(np.argmin(plan.net))
    assert np.nanmin(found.net) == pytest.approx(float(plan.net[worst]), abs=0.03)


def test_what_the_gauge_showed_is_more_water_and_less_overhead(call: PortCall, log: SailedTrack, found: After) -> None:
    measured = after(call, log, residual=0.30)
    forecast = call.forecast
    assert measured.measured
    assert not found.measured
    more = 0.30 - forecast.residual
    assert measured.water_level - found.water_level == pytest.approx(np.full_like(found.net, more), abs=1e-6)
    # under the keel also what the level might have lacked comes back, and squat is a little less in deeper water
    gained = measured.net - found.net
    assert np.all(gained >= more + forecast.residual - forecast.residual_low - 1e-6)
    assert measured.gates[0].clearance - found.gates[0].clearance == pytest.approx(
        -more + forecast.residual_high - forecast.residual, abs=1e-6
    )


def test_an_antenna_at_the_bow_is_brought_to_midships(call: PortCall, log: SailedTrack, found: After) -> None:
    half = 0.5 * call.ship.length_overall
    x, y = call.waterway.plane.to_plane(log.latitude, log.longitude)
    assert log.heading is not None
    ahead = (x + half * np.cos(log.heading), y + half * np.sin(log.heading))
    latitude, longitude = call.waterway.plane.to_earth(*ahead)
    moved = after(call, replace(log, latitude=latitude, longitude=longitude), antenna_to_bow=0.0)
    assert moved.off_track[5:-5] == pytest.approx(found.off_track[5:-5], abs=0.2)
    assert not any("antenna" in one.sentence for one in moved.findings)
    said = replace(log, latitude=latitude, longitude=longitude, particulars={"antenna_to_bow": 0.0})
    assert after(call, said).off_track == pytest.approx(moved.off_track)


def test_room_to_the_sides_is_by_hand(call: PortCall, found: After) -> None:
    """Edge less offset less half of what a box sweeps at her angle: geometry."""
    ship = call.ship
    at = int(np.argmin(np.abs(found.distance - 3.3 * NAUTICAL_MILE)))
    reach = next(one for one in call.waterway.reaches if one.name == "Lych Reach")
    off = float(river_log.along(river_log.OFF_TRACK, found.distance[at]))
    angle = math.radians(float(river_log.along(river_log.LEEWAY, found.distance[at])))
    half = 0.5 * (ship.beam * math.cos(angle) + ship.length_overall * abs(math.sin(angle)))
    assert found.room_port[at] == pytest.approx(reach.width_port + off - half, abs=2.0)
    assert found.room_starboard[at] == pytest.approx(reach.width_starboard - off - half, abs=2.0)


def shifted(call: PortCall, log: SailedTrack, metres: float) -> SailedTrack:
    """All of it to starboard of the track by so much."""
    x, y = call.waterway.plane.to_plane(log.latitude, log.longitude)
    along, _ = nearest_places(call.waterway.track, x, y)
    _, _, course = call.waterway.track.at(along)
    latitude, longitude = call.waterway.plane.to_earth(x - metres * np.sin(course), y + metres * np.cos(course))
    return replace(log, latitude=latitude, longitude=longitude)


def test_beyond_the_edge_and_over_unknown_water_is_told_and_the_rest_stands(call: PortCall, log: SailedTrack) -> None:
    told = [one.sentence for one in after(call, shifted(call, log, 75.0)).findings]
    assert any(one.startswith("Lych Reach: to starboard she came") for one in told), told
    found = after(call, shifted(call, log, 400.0))
    assert np.any(np.isnan(found.net))
    assert any("without a known depth" in one.sentence for one in found.findings)


def test_nearest_places_agree_with_the_search_for_one(call: PortCall) -> None:
    track = call.waterway.track
    x, y, course = track.at(np.linspace(50.0, track.length - 50.0, 40))
    off = np.linspace(-80.0, 80.0, 40)
    points = x - off * np.sin(course), y + off * np.cos(course)
    along, aside = nearest_places(track, *points)
    one_by_one = [track.nearest(float(px), float(py)) for px, py in zip(*points, strict=True)]
    assert along == pytest.approx([place for place, _ in one_by_one], abs=0.03)
    assert aside == pytest.approx(off, abs=0.01)


def cut(log: SailedTrack, kept: "np.ndarray[tuple[int], np.dtype[np.bool_]]", **more: object) -> SailedTrack:
    assert log.heading is not None
    columns = {name: getattr(log, name)[kept] for name in ("elapsed", "latitude", "longitude", "heading")}
    return SailedTrack(**{"name": log.name, "start": log.start, **columns, **more})  # type: ignore[arg-type]


def test_how_far_the_log_can_be_trusted(call: PortCall, log: SailedTrack) -> None:
    whole = np.ones(len(log.elapsed), dtype=bool)
    gap = whole.copy()
    gap[200:230] = False
    cases = [
        (cut(log, gap), "2.6 min the log has no position"),  # 31 spaces of 5 s
        (cut(log, np.arange(len(whole)) < 400), "The log covers"),
        (cut(log, whole, heading=None), "has no headings"),
        (cut(log, whole, particulars={"length_overall": 140.0}), "length overall is 140 m"),
    ]
    for sailed, words in cases:
        told = [one.sentence for one in after(call, sailed).findings]
        assert any(words in one for one in told), (words, told)


def test_a_log_of_another_passage_is_refused(call: PortCall, log: SailedTrack) -> None:
    flipped = cut(log, np.ones(len(log.elapsed), dtype=bool))
    backwards = replace(
        flipped, latitude=flipped.latitude[::-1], longitude=flipped.longitude[::-1], heading=flipped.heading
    )
    cases = [
        (backwards, "runs against the track"),
        (replace(log, start=log.start - timedelta(days=30)), "expected it after"),
        (replace(log, start=log.start + timedelta(days=30)), "the water is reckoned for"),
        (replace(log, latitude=log.latitude + 0.5), "0 positions of the log lie along the track"),
    ]
    for sailed, words in cases:
        with pytest.raises(CannotCompute, match=words):
            after(call, sailed)


def test_a_passage_at_low_water_is_a_stop_at_the_sill(call: PortCall, log: SailedTrack) -> None:
    """Low water of the gate's tide station by its own turning points: she would have touched."""
    station = call.waterway.tide_stations[0]
    turns = turning_points(station, log.start - timedelta(hours=9), log.start)
    low = datetime.fromtimestamp(float(turns.time[~turns.high][-1]), UTC)
    told = after(call, replace(log, start=low - timedelta(minutes=45))).findings
    assert told[0].grade.value == "stop"
    assert any(one.subject == "underkeel" for one in told)
