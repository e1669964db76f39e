"""The plan of the slow work: where to swing, how to come to the berth or leave it, and which orders to try on the way.

Plain numbers in, the arrays of `conning.harbour` out. Places on the local plane. [m, rad]
"""

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from leadsman.conning.harbour import (
    ACROSS,
    AHEAD,
    EAST,
    GO,
    HEADING,
    HEAVE,
    KIND,
    LAND,
    NEAR,
    NORTH,
    RATE,
    SIDE,
    SNUB,
    SQUARE,
    STILL,
    SWING,
)
from leadsman.conning.known import Known
from leadsman.conning.outline import Quay
from leadsman.conning.task import Thought
from leadsman.conning.transit import angle
from leadsman.conning.waters import Waters, clear_at
from leadsman.conning.weights import Weights
from leadsman.simulation.parameters import Array, Parameters

WIDTH = 11  # columns of the phases
STANDOFF_BEAMS = 1.0  # between quay and her side where she is brought up before landing. Ours
STANDOFF = 22.0  # m, at least
SET_TIME = 150.0  # s of drift on to the quay that is kept in hand before landing. Ours
ROOM_OFF = 14.0  # m kept from shoal water on the other side. Ours
TURNED = 0.5 * math.pi  # rad: more than this between the way in and the heading at the berth is a swing
END_SPEED = 0.4  # m/s: of her ends when she swings at the full rate. Ours
APPROACH = 1.2  # m/s: greatest speed of an approach. Ours
BODILY = 0.30  # m/s: greatest speed across before the last of it. Ours
LANDING_SHARE = 0.45  # of the berth's limit is what she is landed at. Ours
IN_HAND = 0.4  # of what thrusters and tugs can do is reckoned with. Ours
AHEAD_TIME, AHEAD_LENGTH = 28.0, 0.085  # s, and s for each metre of length, the conn thinks ahead. Ours
TUGS_LONGER = 2.1  # times that with tugs, which take long to hear, shift and pull. Ours
STOPPING_SHARE = 0.25  # of what the engine takes off under half astern is reckoned with. Ours


@dataclass(frozen=True, kw_only=True)
class Pose:
    """A place and a heading."""

    north: float
    east: float
    heading: float


def quay(north: Any, east: Any, water: tuple[float, float]) -> Quay:
    """The face between two ends, to lie at its middle; `water` is any place on the water side."""
    along = np.array([north[1] - north[0], east[1] - east[0]])
    length = float(np.hypot(*along))
    along = along / length
    off = np.array([-along[1], along[0]])
    if float(np.dot(off, [water[0] - north[0], water[1] - east[0]])) < 0.0:
        off = -off
    return Quay(
        north=float(north[0]),
        east=float(east[0]),
        along_north=float(along[0]),
        along_east=float(along[1]),
        length=length,
        off_north=float(off[0]),
        off_east=float(off[1]),
        place=0.5 * length,
    )


def heads_along(face: Quay, side_to: str) -> float:
    """+1 where with that side to it she heads the way the face runs, -1 where she heads against it."""
    water_to_left = face.along_north * face.off_east - face.along_east * face.off_north < 0.0
    return 1.0 if (side_to == "starboard") == water_to_left else -1.0


def alongside(face: Quay, side_to: str, off: float) -> Pose:
    """Where she lies, or lies off, at her place along a face with a side to it; `off` from the face to midships. [m]"""
    towards_quay = math.atan2(-face.off_east, -face.off_north)
    heading = towards_quay + 0.5 * math.pi if side_to == "port" else towards_quay - 0.5 * math.pi
    return Pose(
        north=face.north + face.place * face.along_north + off * face.off_north,
        east=face.east + face.place * face.along_east + off * face.off_east,
        heading=heading % (2.0 * math.pi),
    )


def phase(kind: int, pose: Pose, length: float, **limits: float) -> Array:
    """One line of the phases; limits by name take the place of the usual ones."""
    row = np.zeros(WIDTH)
    row[KIND], row[NORTH], row[EAST], row[HEADING] = kind, pose.north, pose.east, pose.heading
    row[SIDE] = limits.get("side", 0.0)
    row[AHEAD] = limits.get("ahead", APPROACH)
    row[ACROSS] = limits.get("across", BODILY)
    row[RATE] = END_SPEED / (0.5 * length)
    row[NEAR] = limits.get("near", 0.12 * length)
    row[SQUARE] = limits.get("square", math.radians(4.0))
    row[STILL] = limits.get("still", 0.25)
    return row


def standoff(face: Quay, side_to: str, length: float, beam: float, set_on: float, waters: Waters) -> float:
    """How far off the face midships is brought before she is landed: farther where wind sets her on, as far as there is
    water. `set_on` speed at which she drifts on to the quay. [m]"""
    least = 0.5 * beam + max(STANDOFF_BEAMS * beam, STANDOFF)
    off = least + max(set_on, 0.0) * SET_TIME
    while off > least:
        pose = alongside(face, side_to, off)
        ends = (-0.5 * length, 0.0, 0.5 * length)
        room = min(
            float(clear_at(waters, pose.north + at * math.cos(pose.heading), pose.east + at * math.sin(pose.heading)))
            for at in ends
        )
        if room >= 0.5 * beam + ROOM_OFF:
            break
        off -= 2.0
    return max(off, least)


def inward(
    face: Quay,
    side_to: str,
    length: float,
    beam: float,
    way_in: float,
    swing_at: Pose | None,
    side: float,
    landing: float,
    off: float,
    hawse: float | None = None,
) -> Array:
    """Phases from the end of the transit to the berth; `way_in` the course she comes on, `landing` the berth's limit
    [m/s], `side` the way she swings, `off` of `standoff`, `hawse` of `swung`."""
    before = alongside(face, side_to, off)
    at = alongside(face, side_to, 0.5 * beam)
    rows = []
    if abs(angle(before.heading - way_in)) > TURNED:
        rows += swung(swing_at or before, way_in, before.heading, length, side, hawse)
    if rows and (lined := lined_up(face, before, rows[-1], length)) is not None:
        rows.append(phase(GO, lined, length, ahead=0.6, near=0.2 * length, square=0.12, still=0.6))
    rows.append(phase(GO, before, length, ahead=0.9, near=0.12 * length + 10.0, square=math.radians(8.0), still=0.35))
    rows.append(phase(LAND, at, length, ahead=0.3, across=0.2, near=0.0, still=LANDING_SHARE * landing))
    return np.array(rows)


def swung(here: Pose, before: float, after: float, length: float, side: float, hawse: float | None) -> list[Array]:
    """Phases that bring her to a place and turn her there from one heading to another, to a `side`.

    With a `hawse`, its distance before midships [m], she is swung on the anchor that is let go from it: on the side she
    turns to, so that the cable does not lead under her; and so far to that side that midships is nearly at the place
    when she lies athwart and takes most of the width.
    """
    if hawse is None:
        come, turn = replace(here, heading=before), replace(here, heading=after)
        return [
            phase(GO, come, length, near=0.35 * length, square=math.radians(25.0), still=0.6),
            phase(SWING, turn, length, side=side, ahead=0.4, across=0.25, near=2.0 * length, square=0.12, still=1.0),
        ]
    towards = before + 0.5 * side * math.pi
    north = here.north + ASIDE * hawse * math.cos(towards)
    east = here.east + ASIDE * hawse * math.sin(towards)

    def lying(heading: float) -> Pose:
        return Pose(north=north - hawse * math.cos(heading), east=east - hawse * math.sin(heading), heading=heading)

    return [
        phase(GO, lying(before), length, near=0.12 * length, square=math.radians(25.0), still=0.6),
        phase(SNUB, lying(after), length, side=side, near=2.0 * length, square=0.12, still=1.0),
        phase(
            HEAVE,
            replace(here, heading=after),
            length,
            ahead=0.3,
            across=0.25,
            near=math.inf,
            square=math.inf,
            still=math.inf,
        ),
    ]


ASIDE = 0.75  # of the way from midships to the hawse the anchor is let go beside the place she is swung at. Ours


def lined_up(face: Quay, before: Pose, swung: Array, length: float) -> Pose | None:
    """Where she is brought into line with her place after a swing, short of it, if she has far to go sideways."""
    north, east = float(swung[NORTH]) - before.north, float(swung[EAST]) - before.east
    along = north * face.along_north + east * face.along_east
    off = north * face.off_north + east * face.off_east
    if abs(off) < FAR_SIDEWAYS * length or abs(along) < SHORT_OF * length:
        return None
    back = math.copysign(SHORT_OF * length, along)
    return Pose(
        north=before.north + back * face.along_north, east=before.east + back * face.along_east, heading=before.heading
    )


FAR_SIDEWAYS = 0.5  # lengths: more than this to go sideways after a swing and she is lined up first. Ours
SHORT_OF = 1.25  # lengths short of her place she is lined up. Ours


def outward(
    face: Quay,
    side_to: str,
    length: float,
    beam: float,
    out: Pose,
    swing_at: Pose | None,
    side: float,
    off: float,
    hawse: float | None = None,
) -> Array:
    """Phases from the berth to the first point of the track, where the transit begins; `hawse` of `swung`."""
    clear = alongside(face, side_to, off)
    rows = [phase(GO, clear, length, ahead=0.3, near=0.10 * length + 3.0, still=0.5, square=math.radians(8.0))]
    if abs(angle(out.heading - clear.heading)) > TURNED:
        rows += swung(swing_at or clear, clear.heading, out.heading, length, side, hawse)
    rows.append(phase(GO, out, length, near=0.2 * length, square=math.radians(10.0), still=3.0, ahead=2.0))
    return np.array(rows)


def thought(parameters: Parameters, known: Known, wind_across: float) -> Thought:
    """What she can be slowed and moved across with, some of it kept in hand; `wind_across` the force of the wind on her
    side as she lands, towards the quay. [N]"""
    hull = parameters.hull
    astern = max(known.stop - 3, 0)
    top, low = 15, 3  # multiples of the table's speed step: 1.5 and 0.3 m/s
    distance = float(known.slowing[astern, low] - known.slowing[astern, top])
    engine = 0.5 * (1.5**2 - 0.3**2) / distance if distance > 0.0 and math.isfinite(distance) else 0.003
    tugs = sum(tug.line_pull for tug in parameters.tugs)
    helpers = tugs + sum(unit.thrust * unit.immersion for unit in parameters.thrusters)
    left = max(helpers - max(wind_across, 0.0), 0.2 * helpers)
    across = left / (hull.mass + 2.0 * hull.sway_added_mass)
    return Thought(
        stopping=STOPPING_SHARE * min(max(engine, 0.002), 0.03),
        bodily=min(max(IN_HAND * across, 0.0006), 0.006),
        ahead=(TUGS_LONGER if parameters.tugs else 1.0) * (AHEAD_TIME + AHEAD_LENGTH * hull.length),
    )


def weights(length: float) -> Weights:
    """How motion is weighed in a ship of a length [m]: the longer she is, the longer she takes to lose her way again,
    and the less of it she is to have too much; the shorter, the nearer to her place she is brought."""
    usual = Weights()
    slow = usual.slow * min(math.sqrt(EASILY_STOPPED / length), 1.0)
    return usual._replace(slow=slow, berthing=min(usual.berthing, slow), placed=min(usual.placed, PLACED * length))


PLACED = 0.03  # of her length: nearer than this to her place along the quay is near enough. Ours
EASILY_STOPPED = 100.0  # m: up to this length way too much is soon lost. Ours


def moves(parameters: Parameters, known: Known, pushes: Array) -> Array:
    """Orders of engine and wheel that are weighed: [moves, shafts + 1], telegraph lines and wheel [rad].

    Two shafts also against each other, without headway, and one alone; pods across and aslant. `pushes` the force
    ahead of each line of the telegraph with the ship stopped. [N]
    """
    stop, most = known.stop, len(known.speeds) - 1
    hard, twenty, ten = known.hard_over, math.radians(20.0), math.radians(10.0)
    shafts = len(parameters.propellers)
    rows = [[stop - far] * shafts + [0.0] for far in (3, 2, 1) if stop - far >= 0]
    rows += [[stop] * shafts + [wheel] for wheel in (-hard, 0.0, hard)]
    for far in (1, 2, 3):
        steered = (-hard, -twenty, -ten, 0.0, ten, twenty, hard)
        rows += [[min(stop + far, most)] * shafts + [wheel] for wheel in steered]
    across = 0.5 * math.pi
    if _podded(parameters):
        rows += [
            [stop + far] * shafts + [wheel]
            for far in (-4, -3, -2, -1, 1, 2, 3, 4)
            if 0 <= stop + far <= most
            for wheel in (-across, -0.5 * across, 0.5 * across, across)
        ]
    if shafts == 2:
        for wheel in [-across, -hard, 0.0, hard, across] if _podded(parameters) else [-hard, 0.0, hard]:
            for far in (1, 2, 3):
                ahead = min(stop + far, most)
                astern = int(np.argmin(np.abs(pushes[:stop] + pushes[ahead])))
                rows += [[ahead, astern, wheel], [astern, ahead, wheel]]
            rows += [[stop + 1, stop, wheel], [stop, stop + 1, wheel], [stop - 1, stop, wheel], [stop, stop - 1, wheel]]
    return np.array(rows, dtype=np.float64)


def _podded(parameters: Parameters) -> bool:
    return any(screw.azimuthing > 0.0 for screw in parameters.propellers)
