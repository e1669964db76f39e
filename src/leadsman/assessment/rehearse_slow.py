"""The slow work of a call planned for a wind: where she is swung, how far off she is brought up, where it begins."""

import math
from dataclasses import replace

import numpy as np

from leadsman.assessment import rehearse_waters
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.swing import swing_basin, unit_of
from leadsman.conning import outline, plan
from leadsman.conning.known import SPEED_STEP, Known
from leadsman.conning.plan import Pose
from leadsman.conning.run import Case
from leadsman.conning.task import Thought
from leadsman.conning.waters import SPEED, Waters, clear_at
from leadsman.geometry import Array
from leadsman.portcall import Direction
from leadsman.simulation import state
from leadsman.simulation.kernel import pushed
from leadsman.simulation.parameters import Parameters
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Motion

BEFORE = 2.5  # lengths before the first place of slow work at least, it begins


def face_of(prepared: Prepared, water: Waters) -> outline.Quay:
    """The face of the call's berth, with the end of the track on its water side: to lie with the bridge at the berth's
    mark, or at the middle where there is none or the card does not tell where her bridge is."""
    north, east = last_point(prepared, water)[:2]
    ends = rehearse_waters.berth_line(prepared)
    face = plan.quay(ends[0], ends[1], (north, east))
    ship, berth = prepared.call.ship, rehearse_waters.the_berth(prepared)
    if berth.bridge_mark is None or ship.bridge_to_bow is None:
        return face
    forward = 0.5 * ship.length_overall - ship.bridge_to_bow
    return face._replace(place=berth.bridge_mark - plan.heads_along(face, berth.side_to) * forward)


def last_point(prepared: Prepared, water: Waters) -> tuple[float, float, float]:
    """Place and course of the track at the harbour's end."""
    row = water.track[-1 if prepared.call.direction is Direction.INWARD else 0]
    return float(row[0]), float(row[1]), float(row[2])


def slowly(
    prepared: Prepared,
    setting: Setting,
    conn: Known,
    parameters: Parameters,
    water: Waters,
    landing: float,
    speed: float,
) -> tuple[Array, float, Thought]:
    """Phases, the place of the track where transit and slow work meet, and what the conn reckons with.

    `landing` speed the berth bears, `speed` planned on the last reach. [m/s]
    """
    ship, berth = prepared.call.ship, rehearse_waters.the_berth(prepared)
    north, east, course = last_point(prepared, water)
    face = face_of(prepared, water)
    basin = swing_place(prepared, water)
    swing = prepared.call.swing
    hawse = None if swing is None else parameters.anchors[unit_of(swing.anchor)].position
    side = swing_side(parameters) if swing is None else SIDES[swing.anchor]
    off = plan.standoff(face, berth.side_to, ship.length_overall, ship.beam, set_on(face, water), water)
    if prepared.call.direction is Direction.INWARD:
        phases = plan.inward(
            face, berth.side_to, ship.length_overall, ship.beam, course, basin, side, landing, off, hawse
        )
        meeting = begin_slowly(prepared, conn, phases[0], speed)
    else:
        out = Pose(north=north, east=east, heading=course)
        phases = plan.outward(face, berth.side_to, ship.length_overall, ship.beam, out, basin, side, off, hawse)
        meeting = prepared.passage.track.length - 2.0 * rehearse_waters.TRACK_STEP
    return phases, meeting, plan.thought(parameters, conn, wind_on(face, berth.side_to, setting, water))


def in_wind(
    case: Case,
    prepared: Prepared,
    setting: Setting,
    parameters: Parameters,
    wind_speed: float,
    wind_from: float,
    gust: float | None = None,
) -> Case:
    """The same case planned and sailed in another wind; its gusts the usual ones unless told. [m/s, rad]"""
    water = case.waters._replace(
        wind_speed=wind_speed,
        wind_from=wind_from,
        gust_deviation=rehearse_waters.gust_deviation(wind_speed, gust),
    )
    last = float(water.track[-1, SPEED])
    phases, meeting, thought = slowly(prepared, setting, case.known, parameters, water, case.voyage.landing_speed, last)
    return replace(case, waters=water, phases=phases, thought=thought, voyage=case.voyage._replace(handover=meeting))


LEEWAY = 0.03  # of the wind: drift of a ship stopped abeam of it (common practice, no source)


def set_on(face: outline.Quay, water: Waters) -> float:
    """Speed at which the wind would set a stopped ship on to the quay; negative off it. [m/s]"""
    north = -water.wind_speed * math.cos(water.wind_from)
    east = -water.wind_speed * math.sin(water.wind_from)
    return -LEEWAY * (north * face.off_north + east * face.off_east)


def wind_on(face: outline.Quay, side_to: str, setting: Setting, water: Waters) -> float:
    """Force of the mean wind towards the quay on the ship as she is landed. [N]"""
    pose = plan.alongside(face, side_to, 0.0)
    around = setting.around._replace(wind_speed=water.wind_speed, wind_from=water.wind_from)
    gear = state.gear(setting.fleet, 0, 0.0)
    at = Motion(0.0, 0.0, pose.heading, 0.0, 0.0, 0.0)
    side = float(pushed(setting.fleet, 0, gear, at, state.record_of(around), NO_FORCE).sway)
    still = float(pushed(setting.fleet, 0, gear, at, state.record_of(setting.around), NO_FORCE).sway)
    return (side - still) if side_to == "starboard" else (still - side)


def swing_place(prepared: Prepared, water: Waters) -> Pose | None:
    """Where she is swung: in the basin nearest to the end of the track, as far as can be from water too shallow for
    her; None without a basin wide enough."""
    plane, long = prepared.call.waterway.plane, prepared.call.ship.length_overall
    basin = swing_basin(prepared)
    if basin is None:
        return None
    north, east = (float(part) for part in plane.to_plane(basin.centre.latitude, basin.centre.longitude))
    spare = 0.5 * (basin.diameter - long)
    best, most = (north, east), -math.inf
    for off_north in np.arange(-spare, spare + 1.0, water.cell):
        for off_east in np.arange(-spare, spare + 1.0, water.cell):
            off = math.hypot(off_north, off_east)
            if off > spare:
                continue
            clear = float(clear_at(water, north + off_north, east + off_east)) - NEARER * off
            if clear > most:
                best, most = (north + float(off_north), east + float(off_east)), clear
    return Pose(north=best[0], east=best[1], heading=0.0)


NEARER = 0.2  # m of clear water for which she is swung a metre nearer to the middle of the basin. Ours


SIDES = {"port": -1.0, "starboard": 1.0}


def swing_side(parameters: Parameters) -> float:
    """The way a single screw helps her round when it goes astern; nil where it does not matter."""
    if len(parameters.propellers) != 1:
        return 0.0
    return float(parameters.propellers[0].hand)


def begin_slowly(prepared: Prepared, conn: Known, first: Array, speed: float) -> float:
    """Where on the track the slow work begins, so that she can still stop at its first place. [m]"""
    place = prepared.passage.track.nearest(float(first[1]), float(first[2]))[0]
    astern = max(conn.stop - 3, 0)
    line = min(int(speed / SPEED_STEP), conn.slowing.shape[1] - 1)
    to_stop = float(conn.slowing[astern, 1] - conn.slowing[astern, line])
    if not math.isfinite(to_stop):
        to_stop = 0.0
    return max(place - max(BEFORE * prepared.call.ship.length_overall, 1.5 * to_stop), 0.0)
