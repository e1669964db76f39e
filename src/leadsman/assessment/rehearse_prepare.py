"""A port call made ready to be rehearsed: the ship that moves, the water about her, the plan of the conn."""

import math
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from leadsman.assessment import rehearse_waters
from leadsman.assessment.anchorage import Anchorage, anchorage
from leadsman.assessment.moving import reading_of
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_anchor import to_anchor
from leadsman.assessment.rehearse_ship import covariance, fitted_to
from leadsman.assessment.rehearse_slow import face_of, slowly
from leadsman.assessment.swing import SwingOnAnchor, forbidden, swing_on_anchor, unit_of
from leadsman.conning import outline, plan
from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known, known
from leadsman.conning.run import Case
from leadsman.conning.task import Voyage
from leadsman.conning.transit import telegraph_line
from leadsman.conning.waters import Waters
from leadsman.environment.level import level_at
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.portcall import Direction
from leadsman.simulation import state
from leadsman.simulation.calibrate import Calibration
from leadsman.simulation.deck import Attendance, equipped
from leadsman.simulation.estimate import estimate
from leadsman.simulation.kernel import pushed
from leadsman.simulation.parameters import Parameters, Records, packed
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Motion, even_depth

USUAL_LANDING = 0.15  # m/s, where the berth gives no limit (common practice, no source)
LANDING_ANGLE = math.radians(6.0)  # rad off parallel at the touch (common practice, no source)
LEAST_DEPTH_TO_DRAUGHT = 1.3  # in which she is tried beforehand: shallower the model is no surer
LONGER = 1.25  # times the time planned, and
SPARE_TIME = 3600.0  # s more, after which a run is out of time


@dataclass(frozen=True, kw_only=True, eq=False)
class Ready:
    """A call ready to be rehearsed."""

    prepared: Prepared
    start: datetime
    case: Case
    setting: Setting
    parameters: Parameters
    """As fitted to card and poster, with all that helps her."""
    fit: Calibration | None
    covariance: Array
    """Of the logarithms of her factors about these parameters [factors, factors]."""
    anchorage: Anchorage | None
    """Where she is to anchor, in a rehearsal to there."""
    swing: SwingOnAnchor | None
    """The anchor she is swung on."""
    tugs: tuple[str, ...]
    thrusters: tuple[str, ...]
    assumed: tuple[str, ...]


def ready(prepared: Prepared, start: datetime, *, anchoring: bool = False) -> Ready:
    """Everything a rehearsal of this start needs: to the end of the call, or to where she anchors on her way.

    Raises
    ------
    CannotCompute
        Where the card leaves out what the model cannot do without.
    """
    ship, loading = prepared.aboard
    try:
        reading = reading_of(ship, loading)
        model = estimate(reading.particulars)
        fit = fitted_to(ship, loading, model)
        moving = model.parameters if fit is None else fit.parameters
        # The bottom of the roads is that of nowhere else: on the way to the berth the least that holds is taken.
        bottom = prepared.call.anchoring.bottom if anchoring and prepared.call.anchoring else None
        helped = equipped(moving, ship, loading, attendance(prepared), bottom=bottom)
    except ValueError as error:
        raise CannotCompute(f"{ship.name} cannot be rehearsed: {error}") from error
    mind = packed(helped.parameters)
    setting = Setting(fleet=mind, orders=model.orders, around=even_depth(usual_depth(prepared, start)))
    fastest = float(np.max(prepared.passage.speed))
    conn, names = known(setting, fastest)
    orders, speeds = planned(prepared, conn, names)
    swing = swung_on(prepared, start, helped.parameters)
    case = _case(prepared, start, setting, conn, names, helped.parameters, orders, speeds)
    if swing is not None:
        voyage = case.voyage._replace(anchor=float(unit_of(swing.side)), cable=swing.cable)
        case = replace(case, voyage=voyage)
    place = anchorage(prepared, start, helped.parameters, model.orders) if anchoring else None
    if place is not None:
        case = to_anchor(case, prepared, conn, helped.parameters, place)
    return Ready(
        prepared=prepared,
        start=start,
        case=case,
        setting=setting,
        parameters=helped.parameters,
        fit=fit,
        covariance=covariance(ship, loading, model, fit),
        anchorage=place,
        swing=swing,
        tugs=helped.tugs,
        thrusters=helped.thrusters,
        assumed=(*reading.assumed, *helped.assumed),
    )


def swung_on(prepared: Prepared, start: datetime, parameters: Parameters) -> SwingOnAnchor | None:
    """The anchor she is swung on; None where the call asks for none or she is not turned.

    `CannotCompute` where it may not be let go, or would hold nothing.
    """
    if prepared.call.swing is None:
        return None
    found = swing_on_anchor(prepared, start, parameters)
    against = list(forbidden(found))
    if against:
        raise CannotCompute(f"{found.basin.name}: {against[0]}; she is not swung on an anchor there")
    return found if found.turned else None


def attendance(prepared: Prepared) -> list[Attendance]:
    """Where the tugs of the call work (common practice, no source).

    One alone on a line aft; two at bow and quarter of the side off the quay, where they push as well as pull; of more
    the first aft, then bow and quarter, then one forward.
    """
    side = rehearse_waters.the_berth(prepared).side_to
    off = "starboard" if side == "port" else "port"
    shoulders = [f"{off}_bow", f"{off}_quarter"]
    places = shoulders if len(prepared.call.tugs) == 2 else ["aft", *shoulders, "forward", f"{side}_bow"]
    return [Attendance(tug=tug, place=place) for tug, place in zip(prepared.call.tugs, places, strict=False)]


def usual_depth(prepared: Prepared, start: datetime) -> float:
    """Depth of water most of the way, in which the ship is tried beforehand. [m]"""
    passed = prepared.passed(start)
    level = np.asarray(level_at(prepared.water.level.grid, prepared.passage.distance, passed))
    depth = float(np.median(prepared.passage.depth + level))
    return max(depth, LEAST_DEPTH_TO_DRAUGHT * prepared.floating.draught)


def planned(prepared: Prepared, conn: Known, names: tuple[str, ...]) -> tuple[Array, Array]:
    """Line of the telegraph, -1 for a speed alone, and speed of each reach in the order sailed."""
    passage = prepared.passage
    orders, speeds = [], []
    for index, one in enumerate(passage.plans):
        speed = float(passage.speed[passage.reach == index][0])
        line = names.index(one.order) if one.order in names else -1
        orders.append(float(line))
        speeds.append(float(conn.steady[line]) if line >= 0 else speed)
    return np.array(orders), np.array(speeds)


def _case(
    prepared: Prepared,
    start: datetime,
    setting: Setting,
    conn: Known,
    names: tuple[str, ...],
    parameters: Parameters,
    orders: Array,
    speeds: Array,
) -> Case:
    ship, berth = prepared.call.ship, rehearse_waters.the_berth(prepared)
    inward = prepared.call.direction is Direction.INWARD
    water = rehearse_waters.waters(prepared, start, orders, speeds)
    face = face_of(prepared, water)
    landing = berth.maximum_landing_speed or USUAL_LANDING
    phases, handover, thought = slowly(prepared, setting, conn, parameters, water, landing, float(speeds[-1]))
    motion, gear, line = at_start(prepared, start, setting, conn, names, water, face, orders, speeds)
    long = float(np.max(prepared.passed(start))) - prepared.water.elapsed(start)
    return Case(
        mind=setting.fleet,
        gear=gear,
        start=motion,
        telegraph=line,
        names=names,
        waters=water,
        known=conn,
        habits=Habits(),
        weights=plan.weights(conn.length),
        moves=plan.moves(parameters, conn, pushes(setting, names)),
        phases=phases,
        thought=thought,
        quay=face,
        hull=outline.outline(ship.length_overall, ship.beam),
        voyage=Voyage(
            harbour_first=not inward,
            handover=handover,
            most_time=LONGER * long + SPARE_TIME,
            landing_speed=landing,
            landing_angle=LANDING_ANGLE,
        ),
    )


def pushes(setting: Setting, names: tuple[str, ...]) -> Array:
    """Force ahead of all shafts under each telegraph order, with the ship stopped. [N]"""
    around = state.record_of(setting.around)
    found = []
    for name in names:
        order = setting.orders[name]
        gear = state.gear(setting.fleet, 0, order.shaft_speed, order.pitch_ratio)
        found.append(pushed(setting.fleet, 0, gear, state.at_rest(), around, NO_FORCE).surge)
    return np.array(found)


def at_start(
    prepared: Prepared,
    start: datetime,
    setting: Setting,
    conn: Known,
    names: tuple[str, ...],
    water: Waters,
    face: outline.Quay,
    orders: Array,
    speeds: Array,
) -> tuple[Motion, Records, int]:
    """How she moves at the start, her gear, and the order standing: under way inward bound, at her berth outward."""
    if prepared.call.direction is Direction.INWARD:
        line = int(orders[0]) if orders[0] >= 0 else int(telegraph_line(conn, float(speeds[0])))
        steady = setting.steady(names[line])
        first = water.track[0]
        motion = Motion(float(first[0]), float(first[1]), float(first[2]), steady.speed, 0.0, 0.0)
        return motion, steady.gear, line
    ship = prepared.call.ship
    pose = plan.alongside(face, rehearse_waters.the_berth(prepared).side_to, 0.5 * ship.beam + AT_BERTH)
    north, east = float(water.stream_north[0, 0]), float(water.stream_east[0, 0])
    cosine, sine = math.cos(pose.heading), math.sin(pose.heading)
    motion = Motion(
        pose.north, pose.east, pose.heading, -(north * cosine + east * sine), -(east * cosine - north * sine), 0.0
    )
    return motion, setting.steady("stop").gear, conn.stop


AT_BERTH = 0.3  # m between her side and the face of the quay when the lines are let go
