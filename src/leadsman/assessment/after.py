"""The passage as it was, against the plan: when, how fast, how far off, how much was left, and what it teaches.

The stations of the plan are kept, but each holds where she really was when she passed it, how she headed and what she
made through the water; so the very account of the plan, with its allowances, is taken of the passage sailed.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.account import account
from leadsman.assessment.after_findings import after_findings
from leadsman.assessment.after_result import After, Passing, SailedGate, SailedLeg, Steady
from leadsman.assessment.drift import Drift, drift
from leadsman.assessment.legs import gates
from leadsman.assessment.parts import depths_known
from leadsman.assessment.passage import Passage
from leadsman.assessment.prepare import Prepared, prepare, underkeel
from leadsman.assessment.result import Account
from leadsman.assessment.sailed_path import LEAST_SPEED, SailedPath, sailed_path
from leadsman.assessment.swept import edges
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.physics import swept_path
from leadsman.portcall import Direction, PortCall
from leadsman.sailed import SailedTrack
from leadsman.units import KNOT

SPEED_STEP = 0.05  # m/s: speeds are rounded to it, so that stations of one speed are reckoned once
EVEN = 0.3 * KNOT  # about the middle of a stretch that counts as run at even speed. Ours, no source
LONG_ENOUGH = 5.0  # ship's lengths at even speed before a speed is told. Ours, no source


@dataclass(frozen=True, kw_only=True, eq=False)
class _Sailed:
    """The plan, and the passage sailed at its stations."""

    planned: Prepared
    plan: Account
    path: SailedPath
    passed: Array
    """On the water's clock. [s]"""
    level: Array
    speed: Array
    """Through the water. [m/s]"""
    along: Array
    """Speed over the ground along the track. [m/s]"""


def after(
    call: PortCall, log: SailedTrack, residual: float | None = None, antenna_to_bow: float | None = None
) -> After:
    """The passage of a log against the plan of a call; `CannotCompute` where the log is of another.

    `residual`: what a gauge showed over the prediction meanwhile [m]; `antenna_to_bow` [m], else as the log says.
    """
    known = call if residual is None else _with_residual(call, residual)
    log_start, log_end = log.time(0), log.time(len(log.elapsed) - 1)
    planned = prepare(known)
    if not planned.water.begin <= log_start <= planned.water.begin + timedelta(days=400) or log_end < log_start:
        raise CannotCompute(
            f"the log begins {log_start:%Y-%m-%d %H:%M} UTC; expected it after {planned.water.begin:%Y-%m-%d %H:%M}, "
            "the water reckoned for this call: is it this call's, of this date?"
        )
    found = _sail(planned, log, antenna_to_bow)
    net, squat = _under_keel(found)
    port, starboard = _room(found)
    here = found.path.stations
    latitude, longitude = call.waterway.plane.to_earth(found.path.x, found.path.y)
    made = After(
        ship=call.ship.name,
        vessel=log.name or log.identifier,
        positions=found.path.positions,
        residual=known.forecast.residual,
        measured=residual is not None,
        distance=planned.passage.distance[here],
        time=tuple(planned.water.time(float(seconds)) for seconds in found.passed),
        x=found.path.x,
        y=found.path.y,
        latitude=latitude,
        longitude=longitude,
        off_track=found.path.off_track,
        heading=found.path.heading,
        speed_over_ground=np.hypot(*found.path.velocity),
        speed=found.speed,
        water_level=found.level,
        squat=squat,
        net=net,
        required=planned.underkeel.required,
        room_port=port,
        room_starboard=starboard,
        rate_of_turn=found.path.rate_of_turn,
        passings=_passings(found),
        legs=_legs(found, net, port, starboard),
        gates=_gates(found),
        steady=_steady(found),
        findings=(),
    )
    return replace(made, findings=after_findings(call, log, found.path, made, planned.passage.track.length))


def _with_residual(call: PortCall, residual: float) -> PortCall:
    """The level as it was: nothing is allowed for what a forecast may lack."""
    forecast = replace(call.forecast, residual=residual, residual_low=residual, residual_high=residual)
    return replace(call, forecast=forecast)


def _sail(planned: Prepared, log: SailedTrack, antenna_to_bow: float | None) -> _Sailed:
    passage, water = planned.passage, planned.water
    length = planned.call.ship.length_overall
    plane = planned.call.waterway.plane
    path = sailed_path(log, passage.track, plane, passage.distance, length, antenna_to_bow)
    distance = passage.distance[path.stations]
    passed = np.asarray(water.elapsed(log.time(0)) + path.elapsed)
    level = np.asarray(level_at(water.level.grid, distance, passed))
    if not np.all(np.isfinite(level)):
        raise CannotCompute("the log ends after the time the water is reckoned for: is it this call's, of this date?")
    north, east = stream_at(water.stream.grid, distance, passed)
    course = passage.course[path.stations]
    return _Sailed(
        planned=planned,
        plan=account(planned, planned.call.start),
        path=path,
        passed=passed,
        level=level,
        speed=np.hypot(path.velocity[0] - north, path.velocity[1] - east),
        along=path.velocity[0] * np.cos(course) + path.velocity[1] * np.sin(course),
    )


def _under_keel(found: _Sailed) -> tuple[Array, Array]:
    """(net clearance, squat) where she was; NaN where no depth is known under her. [m]"""
    path, passage = found.path, found.planned.passage
    rounded = np.maximum(np.round(found.speed / SPEED_STEP) * SPEED_STEP, LEAST_SPEED)
    sailed = replace(
        passage,
        distance=passage.distance[path.stations],
        x=path.x,
        y=path.y,
        course=path.heading,
        reach=passage.reach[path.stations],
        speed=rounded,
    )
    known = depths_known(sailed, _heading_known(sailed, found))
    net, squat = np.full(len(known), np.nan), np.full(len(known), np.nan)
    if np.any(known):
        over = _only(sailed, known)
        keel = underkeel(over, found.planned.floating, _heading_known(over, found), found.planned.underkeel.stability)
        least = keel.least(found.level[known])
        net[known], squat[known] = least.net, least.squats.governing
    return net, squat


def _only(passage: Passage, kept: NDArray[np.bool_]) -> Passage:
    """Some of its stations."""
    names = ("distance", "x", "y", "course", "reach", "speed")
    return replace(passage, **{name: getattr(passage, name)[kept] for name in names})


def _heading_known(passage: Passage, found: _Sailed) -> Drift:
    """The bounds of the stream, with nothing to lay off: the heading is the one she had."""
    bounds = drift(passage, found.planned.water.stream)
    nought = np.zeros_like(bounds.speed)
    return replace(bounds, across_least=nought, across_most=nought)


def _room(found: _Sailed) -> tuple[Array, Array]:
    """From her side to the edges of the fairway, port and starboard. [m]"""
    path, passage = found.path, found.planned.passage
    ship = passage.call.ship
    off_course = path.heading - passage.course[path.stations]
    half = 0.5 * np.asarray(swept_path.width(ship.length_overall, ship.beam, off_course))
    port, starboard = (side[path.stations] for side in edges(passage))
    return port + path.off_track - half, starboard - path.off_track - half


def _passings(found: _Sailed) -> tuple[Passing, ...]:
    """Waypoints and gates she passed, in the order of the track."""
    passage, water = found.planned.passage, found.planned.water
    call = passage.call
    names = [point.name for point in call.waterway.waypoints]
    if call.direction is Direction.OUTWARD:
        names.reverse()
    places = [*zip(names, passage.track.waypoint_distances, strict=True)]
    places += [(gate.name, at) for gate, at in passage.gate_distances]
    reached = passage.distance[found.path.stations]
    begun = water.elapsed(call.start)

    def made(name: str, at: float) -> Passing:
        sailed = float(np.interp(at, reached, found.passed))
        planned = begun + float(np.interp(at, found.plan.distance, found.plan.elapsed))
        return Passing(
            place=name,
            distance=at,
            planned=water.time(planned),
            sailed=water.time(sailed),
            off_track=float(np.interp(at, reached, found.path.off_track)),
            planned_speed=float(np.interp(at, found.plan.distance, found.plan.speed_over_ground)),
            sailed_speed=float(np.interp(at, reached, found.along)),
        )

    inside = sorted(((name, float(at)) for name, at in places), key=lambda place: place[1])
    return tuple(made(name, at) for name, at in inside if reached[0] - 0.5 <= at <= reached[-1] + 0.5)


def _legs(found: _Sailed, net: Array, port: Array, starboard: Array) -> tuple[SailedLeg, ...]:
    passage, path = found.planned.passage, found.path
    reach = passage.reach[path.stations]
    made = []
    for index, one in enumerate(passage.reaches):
        inside = reach == index
        if np.sum(inside) < 2:
            continue
        whole = passage.reach == index
        spent = np.gradient(found.passed)[inside]
        speed, under, turning = found.speed[inside], net[inside], path.rate_of_turn[inside]
        off = path.off_track[inside]
        made.append(
            SailedLeg(
                reach=one.name,
                order=passage.plans[index].order or "",
                planned_speed=float(passage.speed[whole][0]),
                sailed_speed=float(np.average(speed, weights=spent)),
                slowest=float(np.min(speed)),
                fastest=float(np.max(speed)),
                off_port=float(-np.min(off)),
                off_starboard=float(np.max(off)),
                rate_of_turn=float(turning[int(np.argmax(np.abs(turning)))]),
                least_net=None if np.all(np.isnan(under)) else float(np.nanmin(under)),
                planned_net=float(np.min(found.plan.net[whole])),
                room_port=float(np.min(port[inside])),
                room_starboard=float(np.min(starboard[inside])),
            )
        )
    return tuple(made)


def _gates(found: _Sailed) -> tuple[SailedGate, ...]:
    planned = {gate.name: gate for gate in gates(found.planned, found.plan, found.planned.call.start)}
    made = []
    for overhead in found.planned.overheads:
        under = np.isin(found.path.stations, overhead.stations)
        if np.any(under):
            clearance = overhead.clearance(found.level[under])
            worst = int(np.argmin(clearance))
            made.append(
                SailedGate(
                    name=overhead.gate.name,
                    time=_time(found, np.flatnonzero(under)[worst]),
                    clearance=float(clearance[worst]),
                    planned=planned[overhead.gate.name].value,
                    required=overhead.required,
                )
            )
    return tuple(made)


def _time(found: _Sailed, index: int) -> datetime:
    return found.planned.water.time(float(found.passed[index]))


def _steady(found: _Sailed) -> tuple[Steady, ...]:
    """The longest stretch at even speed of each reach that was planned by an engine order, where it is long enough."""
    passage, path = found.planned.passage, found.path
    if not passage.call.waterway.stream_stations:
        return ()  # what the stream did to her would be told as a fault of the card
    reach, distance = passage.reach[path.stations], passage.distance[path.stations]
    deviation = np.asarray(found.planned.water.stream.deviation(distance)) * np.ones_like(distance)
    made = []
    for index, plan in enumerate(passage.plans):
        inside = np.flatnonzero(reach == index)
        if not plan.order or len(inside) < 2:
            continue
        first, last = _even(found.speed[inside])
        stretch = inside[first : last + 1]
        run = float(distance[stretch[-1]] - distance[stretch[0]])
        if run < LONG_ENOUGH * passage.call.ship.length_overall:
            continue
        water_depth = found.plan.depth[path.stations[stretch]] + found.level[stretch]
        made.append(
            Steady(
                reach=passage.reaches[index].name,
                order=plan.order,
                distance=run,
                speed=float(np.mean(found.speed[stretch])),
                deviation=float(np.mean(deviation[stretch])),
                card=float(passage.speed[path.stations[stretch[0]]]),
                depth_to_draught=float(np.mean(water_depth)) / found.planned.floating.draught,
            )
        )
    return tuple(made)


def _even(speed: Array) -> tuple[int, int]:
    """First and last of the longest run of values that all lie within `EVEN` of its middle."""
    best, begin = (0, 0), 0
    for end in range(len(speed)):
        while np.ptp(speed[begin : end + 1]) > 2.0 * EVEN:
            begin += 1
        if end - begin > best[1] - best[0]:
            best = (begin, end)
    return best
