"""A ship and its conn in open water, far from any quay: held stopped in a wind, steered across a stream."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np

from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.conning import plan
from leadsman.conning.harbour import EAST as PHASE_EAST
from leadsman.conning.harbour import GO
from leadsman.conning.harbour import NORTH as PHASE_NORTH
from leadsman.conning.outcome import COLUMNS
from leadsman.conning.plan import Pose
from leadsman.conning.run import Case, Runs, rehearse, undisturbed
from leadsman.conning.waters import COURSE, NORTH, PORT, SPEED, STARBOARD
from leadsman.files.call_files import read_call
from leadsman.geometry import Array
from leadsman.simulation.state import Motion

EXAMPLES = Path(__file__).parents[2] / "examples"
DEPTH = 60.0  # m: deep for all of them
COLUMN = {name: place for place, name in enumerate(COLUMNS)}


def made(name: str) -> Ready:
    call = read_call(EXAMPLES / name)
    return ready(prepare(call), call.start)


def open_water(
    case: Case,
    *,
    wind: float = 0.0,
    wind_from: float = 0.0,
    stream_east: float = 0.0,
    stream_north: float = 0.0,
    depth: float = DEPTH,
) -> Case:
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
        stream_north=np.full((2, 2), stream_north),
        stream_east=np.full((2, 2), stream_east),
        depth=np.full((700, 100), depth),
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


def crossing(made: Ready, across: float) -> Array:
    """The last five minutes of half an hour on a northerly track with a stream across it, to the east. [m/s]"""
    case = open_water(made.case, stream_east=across)
    speed = float(case.known.steady[case.known.stop + 2])
    case = replace(
        case,
        start=Motion(500.0, 0.0, 0.0, speed, -across, 0.0),
        telegraph=case.known.stop + 2,
        voyage=case.voyage._replace(harbour_first=False, handover=1e9, most_time=1800.0),
    )
    return rehearse(case, case.mind, undisturbed(), kept=True).track(0)[-300:]


def drift(settled: Array) -> tuple[float, float]:
    """Mean heading of a settled stretch of track, and speed through the water. [rad, m/s]"""
    through = np.hypot(settled[:, COLUMN["surge"]], settled[:, COLUMN["sway"]])
    return float(settled[:, COLUMN["heading"]].mean()), float(through.mean())


def swing(made: Ready, stream: float, cable: float | None, depth: float = 10.0) -> Runs:
    """Turned right round to port from heading north, stopped over the ground, in a stream from astern [m/s], with the
    port anchor on so much cable [m] or without one; in shallow water [m] wide as the sea."""
    case = open_water(made.case, stream_north=stream, depth=depth)
    length = 2.0 * float(case.hull[:, 0].max())
    bower = made.parameters.anchors[0]
    hawse = None if cable is None else bower.position
    phases = plan.swung(Pose(north=500.0, east=0.0, heading=0.0), 0.0, math.pi, length, -1.0, hawse)
    first = phases[0]
    case = replace(
        case,
        start=Motion(float(first[PHASE_NORTH]), float(first[PHASE_EAST]), 0.0, -stream, 0.0, 0.0),
        gear=made.setting.steady("stop").gear,
        telegraph=case.known.stop,
        phases=np.array(phases[1:]),
        voyage=case.voyage._replace(
            harbour_first=True,
            handover=0.0,
            most_time=3600.0,
            anchor=-1.0 if cable is None else 0.0,
            cable=0.0 if cable is None else cable,
        ),
    )
    return rehearse(case, case.mind, undisturbed(), kept=True)


def space(made: Ready, track: Array) -> tuple[float, float]:
    """What her outline covers along a track, north to south and east to west. [m]"""
    cosine, sine = np.cos(track[:, COLUMN["heading"]]), np.sin(track[:, COLUMN["heading"]])
    ahead, right = made.case.hull[:, 0], made.case.hull[:, 1]
    north = track[:, COLUMN["north"]][:, None] + np.outer(cosine, ahead) - np.outer(sine, right)
    east = track[:, COLUMN["east"]][:, None] + np.outer(sine, ahead) + np.outer(cosine, right)
    return float(np.ptp(north)), float(np.ptp(east))
