"""One run told: how it ended and why, what was least, the orders in words, where the wheel was put over."""

import math
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from leadsman import format as text
from leadsman.assessment.berthed import Lies, lies, lying_findings, words
from leadsman.assessment.rehearse_anchor import brought_up, came_home, swing_told, swung_on
from leadsman.assessment.rehearse_machinery import fewer_starts, machinery_use, without_air
from leadsman.assessment.rehearse_machinery import findings as machinery_findings
from leadsman.assessment.rehearse_moored import nearest, touched
from leadsman.assessment.rehearse_prepare import Ready
from leadsman.assessment.rehearse_result import Landing, Least, Run, WheelOver
from leadsman.assessment.rehearse_slow import face_of
from leadsman.assessment.rehearse_waters import the_berth
from leadsman.conning import outcome as ending
from leadsman.conning.bridge import KIND, PLACE, TIME, VALUE, WHEEL_ORDER
from leadsman.conning.orders import Names, spoken
from leadsman.conning.outcome import COLUMNS
from leadsman.conning.run import Runs
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.physics.turn import tangent_distance
from leadsman.portcall import Direction
from leadsman.simulation.parameters import Records

WORDS = {
    ending.ALONGSIDE: "alongside",
    ending.CLEAR: "clear",
    ending.AGROUND: "aground",
    ending.OUT_OF_FAIRWAY: "out of the fairway",
    ending.STRUCK: "struck the quay too hard",
    ending.STRUCK_ASKEW: "struck the quay askew",
    ending.OUT_OF_TIME: "out of time",
    ending.HELD: "held",
    ending.BROUGHT_UP: "brought up",
    ending.BROKEN: "broken off: the motion is no number",
}
GOOD = (ending.ALONGSIDE, ending.CLEAR, ending.BROUGHT_UP)
HARD = 0.95  # of hard over: the rudder had nothing left


def told(made: Ready, runs: Runs, number: int, *, tracked: int = 0) -> Run:
    """A kept run; `tracked` its place among those whose track was kept."""
    outcome = runs.outcomes[tracked]
    log = runs.logs[tracked, : min(int(outcome["orders"]), runs.logs.shape[1])]
    reason = int(outcome["reason"])
    track = runs.tracks[tracked, : int(outcome["time"]) + 1]
    landed = reason in (ending.ALONGSIDE, ending.STRUCK, ending.STRUCK_ASKEW)
    return Run(
        number=number,
        ended=WORDS[reason],
        why=f"{why(made, outcome, on_ship(made, reason, track))}{'' if reason in GOOD else without_air(made, outcome)}",
        success=reason in GOOD,
        time=float(outcome["time"]),
        least=(*least(made, outcome), *nearest(made.prepared, made.case.hull, track)),
        rudder=float(outcome["rudder"]),
        rate=float(outcome["rate"]),
        thruster=float(outcome["thruster"]),
        tugs=float(outcome["tugs"]),
        machinery=machinery_use(made, outcome, log),
        landing=landing(made, outcome) if landed else None,
        brought_up=None if made.anchorage is None else brought_up(made.anchorage, outcome),
        swung=None if made.anchorage or made.swing is None else swung_on(made.swing, outcome),
        orders=spoken(log, names(made)),
        wheel_orders=int(outcome["wheel_orders"]),
        engine_orders=int(outcome["engine_orders"]),
        busiest=int(outcome["busiest"]),
        busiest_at=float(outcome["busiest_at"]),
        wheel_overs=wheel_overs(made, log[under_way(made, outcome, log)]),
        columns=COLUMNS,
        track=track,
        advice=advice(made, outcome),
    )


def names(made: Ready) -> Names:
    """What the ship's orders are called."""
    return Names(
        telegraph=made.case.names,
        shafts=len(made.parameters.propellers),
        podded=any(screw.azimuthing > 0.0 for screw in made.parameters.propellers),
        hard_over=made.case.known.hard_over,
        thrusters=made.thrusters,
        tugs=made.tugs,
    )


def least(made: Ready, outcome: Records) -> tuple[Least, ...]:
    """What came nearest."""
    found = []
    for quantity, key in (
        ("room port", "room_port"),
        ("room starboard", "room_starboard"),
        ("water room", "water_room"),
        ("underkeel", "keel"),
    ):
        value, at = float(outcome[key]), float(outcome[f"{key}_at"])
        found.append(
            Least(
                quantity=quantity,
                value=value if math.isfinite(value) else None,
                distance=at,
                place=made.prepared.passage.place(at),
            )
        )
    return tuple(found)


def landing(made: Ready, outcome: Records) -> Landing:
    """How she came to the quay."""
    return Landing(
        speed=float(outcome["landing_speed"]),
        angle=float(outcome["landing_angle"]),
        place=float(outcome["landing_place"]),
        limit=made.case.voyage.landing_speed,
    )


def on_ship(made: Ready, reason: int, track: Array) -> str:
    """The moored ship that a run ended on; empty for any other end."""
    if reason != ending.AGROUND:
        return ""
    return touched(made.prepared, made.case.hull, track, made.case.waters.cell)


def why(made: Ready, outcome: Records, ship: str = "") -> str:
    """The reason in a sentence; `ship` the moored one she ended on."""
    reason, at = int(outcome["reason"]), float(outcome["place"])
    place = f"in {made.prepared.passage.place(at)}, {at / 1852.0:.2f} nm along the track"
    speed, limit = float(outcome["landing_speed"]), made.case.voyage.landing_speed
    angle = math.degrees(float(outcome["landing_angle"]))
    if reason == ending.ALONGSIDE:
        lying = words(berthed(made, float(outcome["landing_place"])))
        borne = f"{text.slow_speed(limit)} borne"
        return f"Landed at {text.slow_speed(speed)}, {borne}, {angle:.1f} degrees off parallel, {lying}."
    if reason == ending.CLEAR:
        return "Clear of the berth and out on the track's last point."
    if reason == ending.BROUGHT_UP and made.anchorage is not None:
        return f"Brought up in {made.anchorage.name} on {made.anchorage.shackles:g} shackles in the water."
    if ship:
        return f"Touched {ship}, moored, {place}."
    if reason == ending.AGROUND:
        side = float(outcome["keel_starboard"])
        forward = float(outcome["keel_forward"])
        end = "bow" if forward > 0.0 else "stern"
        hand = "" if side == 0.0 else f" on the {'starboard' if side > 0.0 else 'port'} side"
        return f"No water under her {end}{hand}, {place}."
    if reason == ending.OUT_OF_FAIRWAY:
        side_word = "port" if float(outcome["room_port"]) < 0.0 else "starboard"
        return f"Over the {side_word} edge of the fairway, {place}."
    if reason == ending.STRUCK:
        return f"Came to the quay at {text.slow_speed(speed)} where {text.slow_speed(limit)} is borne."
    if reason == ending.STRUCK_ASKEW:
        return f"Touched the quay {angle:.1f} degrees off parallel, or before she was to land."
    if reason == ending.OUT_OF_TIME:
        return f"Not there after {float(outcome['time']) / 60.0:.0f} min; she was {place}."
    return f"The computed motion was no number any more, {place}."


def berthed(made: Ready, place: float) -> Lies:
    """How she lies along the quay, midships at a place of its face. [m]"""
    call, ends = made.prepared.call, face_of(made.prepared, made.case.waters)
    berth = the_berth(made.prepared)
    return lies(ends, berth.side_to, call.ship, call.loading, place, berth.bridge_mark)


def findings(made: Ready, run: Run) -> tuple[Finding, ...]:
    """What a run asks of machinery and bridge beyond what they give, where she lies at last, what it shows of an
    anchor."""
    lying: tuple[Finding, ...] = ()
    if run.landing is not None:
        call = made.prepared.call
        lying = tuple(lying_findings(berthed(made, run.landing.place), call.berth, call.ship.length_overall))
    return (
        *machinery_findings(made, run.machinery),
        *_too_many_orders(made, run),
        *lying,
        *came_home(run),
        *swing_told(run),
    )


def _too_many_orders(made: Ready, run: Run) -> tuple[Finding, ...]:
    if run.busiest <= MOST_ORDERS_SPOKEN:
        return ()
    until = made.start + timedelta(seconds=run.busiest_at)
    return (
        Finding(
            grade=Grade.CAUTION,
            subject="orders",
            sentence=f"The rehearsed run gives {run.busiest} orders in ten minutes, where {MOST_ORDERS_SPOKEN} are "
            "what a bridge can give and answer: another tug, less wind or more time would leave fewer.",
            value=float(run.busiest),
            limit=float(MOST_ORDERS_SPOKEN),
            time=until,
            source="common practice, no source",
        ),
    )


MOST_ORDERS_SPOKEN = 30  # in ten minutes: one every twenty seconds, spoken, repeated, carried out and reported
# (common practice, no source)


def advice(made: Ready, outcome: Records) -> tuple[str, ...]:
    """What would have made it go, as far as the run itself shows."""
    reason = int(outcome["reason"])
    if reason in GOOD:
        return ()
    found = list(fewer_starts(made, outcome))
    at = made.prepared.passage.place(float(outcome["place"]))
    if reason in (ending.OUT_OF_FAIRWAY, ending.AGROUND) and float(outcome["handover_time"]) == 0.0:
        if float(outcome["rudder"]) >= HARD:
            where = made.prepared.passage.place(float(outcome["rudder_at"]))
            found.append(
                f"The rudder was hard over in {where} and not enough: more speed there, or a tug made fast aft."
            )
        else:
            found.append(f"Slower before {at}, so that the wheel is put over earlier for the speed she has.")
    if reason in (ending.STRUCK, ending.STRUCK_ASKEW, ending.OUT_OF_TIME):
        if float(outcome["thruster"]) >= HARD or float(outcome["tugs"]) >= HARD:
            found.append("Thrusters or tugs were at their full power: another tug, or less wind on the quay.")
        else:
            found.append("Thrusters and tugs were not used up: land her more slowly, from farther off.")
    if reason == ending.AGROUND and float(outcome["handover_time"]) > 0.0:
        found.append("She took the ground in the slow work: a tug to hold her, or less wind or stream.")
    return tuple(found)


def under_way(made: Ready, outcome: Records, log: Array) -> NDArray[np.bool_]:
    """Which orders were given under way, and not in the slow work before or after it."""
    handover = float(outcome["handover_time"])
    if handover == 0.0:
        return np.full(len(log), made.prepared.call.direction is not Direction.OUTWARD)
    later = log[:, TIME] >= handover
    return later if made.prepared.call.direction is Direction.OUTWARD else ~later


def wheel_overs(made: Ready, log: Array) -> tuple[WheelOver, ...]:
    """The first wheel order for each bend to its side, and the geometry beside it."""
    track = made.prepared.passage.track
    points = [point.name for point in made.prepared.call.waterway.waypoints]
    if made.prepared.call.direction is Direction.OUTWARD:
        points.reverse()
    wheels = log[log[:, KIND] == WHEEL_ORDER]
    found = []
    for bend in track.bends:
        tangent = float(tangent_distance(bend.radius, bend.deflection))
        early = bend.begin - 5.0 * made.case.known.length
        to_side = np.sign(wheels[:, VALUE]) == np.sign(bend.deflection)
        mine = wheels[to_side & (wheels[:, PLACE] >= early) & (wheels[:, PLACE] <= bend.end)]
        if mine.shape[0] == 0:
            continue
        before = bend.begin + tangent - float(mine[0, PLACE])
        found.append(
            WheelOver(
                waypoint=points[bend.waypoint],
                before=before,
                wheel=float(mine[0, VALUE]),
                tangent=tangent,
                reach=before - tangent,
            )
        )
    return tuple(found)
