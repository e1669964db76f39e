"""Ships moored on the way of a rehearsal: where they lie, the room left to them, and what it is to touch one."""

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.rehearse_moored import EAST, HEADING, NORTH, PLACE, lying, nearest
from leadsman.assessment.rehearse_waters import depth_grid
from leadsman.conning.outcome import COLUMNS
from leadsman.conning.outline import outline
from leadsman.geometry import Position
from leadsman.rule import MooredShip


def moored(prepared: Prepared, to_starboard: float) -> MooredShip:
    """In the middle of Mill Reach, off the track."""
    passage = prepared.passage
    at = 0.5 * float(passage.track.waypoint_distances[3] + passage.track.waypoint_distances[4])
    x, y, course = (float(value[0]) for value in passage.track.at(at))
    latitude, longitude = prepared.call.waterway.plane.to_earth(
        x - to_starboard * math.sin(course), y + to_starboard * math.cos(course)
    )
    return MooredShip(
        name="Teal Drift", position=Position(float(latitude), float(longitude)), length=80.0, beam=13.0, draught=5.0
    )


def with_ship(prepared: Prepared, to_starboard: float) -> Prepared:
    return replace(prepared, call=replace(prepared.call, moored=(moored(prepared, to_starboard),)))


def test_a_ship_lies_along_the_track_where_no_quay_is_near(first_prepared: Prepared) -> None:
    prepared = with_ship(first_prepared, 60.0)
    ((name, corners),) = lying(prepared)
    assert name == "Teal Drift"
    sides = np.hypot(*np.diff(np.vstack([corners, corners[:1]]), axis=0).T)
    assert sides == pytest.approx([13.0, 80.0, 13.0, 80.0]), "her length and beam"
    off = [abs(float(prepared.passage.track.nearest(*corner)[1])) for corner in corners]
    assert sorted(off) == pytest.approx([53.5, 53.5, 66.5, 66.5], abs=0.5), "by hand: 60 less and more half her beam"


def test_no_ship_is_too_narrow_to_be_kept_clear_of(first_prepared: Prepared) -> None:
    narrow = replace(moored(first_prepared, 60.0), beam=2.0, length=10.0)
    prepared = replace(first_prepared, call=replace(first_prepared.call, moored=(narrow,)))
    for cell in (4.0, 8.0):
        without, with_her = (depth_grid(one, cell)[0] for one in (first_prepared, prepared))
        assert np.isneginf(with_her[np.isfinite(without)]).any(), "the narrowest the file takes"


def test_a_ship_at_a_quay_lies_along_it(first_prepared: Prepared) -> None:
    berth = first_prepared.call.waterway.berths[0]
    middle = Position(
        0.5 * (berth.begin.latitude + berth.end.latitude), 0.5 * (berth.begin.longitude + berth.end.longitude)
    )
    ship = MooredShip(name="Teal Drift", position=middle, length=80.0, beam=13.0, draught=5.0)
    prepared = replace(first_prepared, call=replace(first_prepared.call, moored=(ship,)))
    ends = np.array(
        [prepared.call.waterway.plane.to_plane(one.latitude, one.longitude) for one in (berth.begin, berth.end)]
    )
    face = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    ((_, corners),) = lying(prepared)
    assert abs(float((corners[1] - corners[2]) @ face)) == pytest.approx(80.0, rel=1e-6)


def test_room_is_from_side_to_side(first_prepared: Prepared) -> None:
    prepared = with_ship(first_prepared, 60.0)
    at = 0.5 * float(sum(first_prepared.passage.track.waypoint_distances[3:5]))
    line = np.zeros((2, len(COLUMNS)))
    for row, distance in zip(line, (at - 1000.0, at), strict=True):
        row[NORTH], row[EAST], row[HEADING] = (float(v[0]) for v in first_prepared.passage.track.at(distance))
        row[PLACE] = distance
    (least,) = nearest(prepared, outline(95.0, 14.0), line)
    assert least.value == pytest.approx(60.0 - 6.5 - 7.0, abs=0.3), "by hand: separation less half the beams"
    assert least.distance == at
    assert nearest(first_prepared, outline(95.0, 14.0), line) == ()


def test_a_run_tells_the_room_to_a_ship_she_passes_and_what_it_relies_on(first_prepared: Prepared) -> None:
    found = rehearse_call(with_ship(first_prepared, 60.0).call)
    assert found.planned.success, found.planned.why
    room = {one.quantity: one.value for one in found.planned.least}["room to Teal Drift, moored"]
    assert room is not None
    assert 15.0 < room < 60.0
    assert any("Teal Drift" in one for one in found.estimated)


def test_a_ship_in_the_way_is_touched_and_named(first_prepared: Prepared) -> None:
    found = rehearse_call(with_ship(first_prepared, 0.0).call).planned
    assert not found.success
    assert found.why.startswith("Touched Teal Drift, moored, in Mill Reach")
