"""The conn against plain statics and geometry, in open water: a ship held stopped in a wind, a ship steered across a
stream; and how it prices orders."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse_prepare import Ready, pushes, ready
from leadsman.conning import plan
from leadsman.conning.bridge import busy_now, count_said, memory_type
from leadsman.conning.harbour import GO
from leadsman.conning.outcome import COLUMNS
from leadsman.conning.plan import Pose
from leadsman.conning.run import Case, rehearse, undisturbed
from leadsman.conning.waters import COURSE, NORTH, PORT, SPEED, STARBOARD
from leadsman.files.call_files import read_call
from leadsman.simulation import state
from leadsman.simulation.kernel import pushed
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.state import Motion

EXAMPLES = Path(__file__).parents[2] / "examples"
DEPTH = 60.0  # m: deep for all of them
COLUMN = {name: place for place, name in enumerate(COLUMNS)}


def made(name: str) -> Ready:
    call = read_call(EXAMPLES / name)
    return ready(prepare(call), call.start)


@pytest.fixture(scope="module")
def bulk_carrier() -> Ready:
    return made("2-bar-bulk-carrier")


def open_water(case: Case, *, wind: float = 0.0, wind_from: float = 0.0, stream_east: float = 0.0) -> Case:
    """The same ship and conn on a straight track to the north in wide, deep, even water, far from any quay."""
    points = case.waters.track[:1].repeat(1201, axis=0)
    points[:, :10] = 0.0
    points[:, NORTH] = 10.0 * np.arange(1201)
    points[:, COURSE] = 0.0
    points[:, PORT : STARBOARD + 1] = 500.0
    points[:, STARBOARD + 1 : SPEED] = np.inf
    points[:, SPEED] = float(case.known.steady[case.known.stop + 2])
    points[:, SPEED + 1] = case.known.stop + 2
    water = case.waters._replace(
        track=points,
        level=np.zeros((2, 2)),
        stream_north=np.zeros((2, 2)),
        stream_east=np.full((2, 2), stream_east),
        depth=np.full((700, 100), DEPTH),
        clear=np.full((700, 100), 500.0, np.float32),
        cell=20.0,
        north=-1000.0,
        east=-1000.0,
        wind_speed=wind,
        wind_from=wind_from,
        gust_deviation=0.0,
    )
    quay = case.quay._replace(north=-5e5, east=-5e5)
    return replace(case, waters=water, quay=quay, start=Motion(500.0, 0.0, 0.0, 0.0, 0.0, 0.0))


def held(made: Ready, wind: float) -> float:
    """How far from her place she is at last when she is to lie stopped with a wind [m/s] abeam for 40 minutes. [m]"""
    case = open_water(made.case, wind=wind, wind_from=0.5 * math.pi)
    place = Pose(north=500.0, east=0.0, heading=0.0)
    stay = plan.phase(GO, place, made.case.known.length, near=-1.0)
    case = replace(
        case,
        gear=made.setting.steady("stop").gear,
        telegraph=case.known.stop,
        phases=stay[np.newaxis],
        voyage=case.voyage._replace(harbour_first=True, most_time=2400.0),
    )
    last = rehearse(case, case.mind, undisturbed(), kept=True).track(0)[-1]
    return float(np.hypot(last[COLUMN["north"]] - 500.0, last[COLUMN["east"]]))


def static_limit(made: Ready) -> float:
    """Wind abeam [m/s] whose side force on the stopped ship equals what both tugs are credited with. By statics."""

    def side_force(wind: float) -> float:
        around = made.setting.around._replace(wind_speed=wind, wind_from=0.5 * math.pi)
        gear = state.gear(made.setting.fleet, 0, 0.0)
        at_rest = Motion(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
        return abs(float(pushed(made.setting.fleet, 0, gear, at_rest, state.record_of(around), NO_FORCE).sway))

    pull = sum(min(tug.line_pull, tug.push_pull) for tug in made.parameters.tugs)
    return 10.0 * math.sqrt(pull / side_force(10.0))  # the force goes with the square of the wind


def test_she_is_held_in_a_wind_as_far_as_statics_say_and_no_farther(bulk_carrier: Ready) -> None:
    limit = static_limit(bulk_carrier)
    length = bulk_carrier.case.known.length
    assert held(bulk_carrier, 0.7 * limit) < 0.3 * length, "statics: half of what the tugs give is asked"
    assert held(bulk_carrier, 1.25 * limit) > length, "statics: half as much again as the tugs give is asked"


@pytest.mark.parametrize("across", [-1.0, 0.6])
def test_in_a_cross_stream_she_steers_the_triangle_of_velocities(bulk_carrier: Ready, across: float) -> None:
    case = open_water(bulk_carrier.case, stream_east=across)
    speed = float(case.known.steady[case.known.stop + 2])
    case = replace(
        case,
        start=Motion(500.0, 0.0, 0.0, speed, -across, 0.0),
        telegraph=case.known.stop + 2,
        voyage=case.voyage._replace(harbour_first=False, handover=1e9, most_time=1800.0),
    )
    track = rehearse(case, case.mind, undisturbed(), kept=True).track(0)
    settled = track[-300:]
    heading = settled[:, COLUMN["heading"]].mean()
    through = np.hypot(settled[:, COLUMN["surge"]], settled[:, COLUMN["sway"]]).mean()
    assert math.degrees(heading) == pytest.approx(math.degrees(-math.asin(across / through)), abs=1.0)
    assert abs(settled[:, COLUMN["east"]]).max() < 0.25 * case.known.length


def test_orders_of_ten_minutes_are_counted() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    for time in (0.0, 100.0, 200.0, 650.0, 900.0):
        count_said(memory, time)
    assert memory["busiest"] == 3.0  # by hand: of 0, 100, 200 s; later never more than three
    assert memory["busiest_at"] == 200.0
    assert busy_now(memory, 900.0) > busy_now(memory, 1500.0) > 0.0


def test_every_move_of_two_screws_has_a_mirror() -> None:
    ferry = made("4-ferry-corner-berth")
    moves = plan.moves(ferry.parameters, ferry.case.known, pushes(ferry.setting, ferry.case.names))
    rows = {tuple(np.round(row, 6)) for row in moves}
    assert all((row[1], row[0], -row[2] + 0.0) in rows for row in rows)
