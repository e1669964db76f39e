"""A port call made ready to be rehearsed: the ship that moves, the water about her, the plan of the conn."""

import math
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from leadsman.assessment import rehearse_waters
from leadsman.assessment.estimates import particulars as estimated_figures
from leadsman.assessment.prepare import Prepared
from leadsman.conning import outline, plan
from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known, known
from leadsman.conning.passage import Voyage
from leadsman.conning.plan import Pose
from leadsman.conning.run import Case
from leadsman.conning.transit import telegraph_line
from leadsman.conning.waters import Waters, clear_at
from leadsman.environment.level import level_at
from leadsman.errors import CannotCompute
from leadsman.geometry import Array
from leadsman.portcall import Direction
from leadsman.simulation import state
from leadsman.simulation.deck import Attendance, equipped
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.from_ship import particulars
from leadsman.simulation.kernel import pushed
from leadsman.simulation.parameters import Parameters, Records, packed
from leadsman.simulation.sail import NO_FORCE
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Motion, even_depth

USUAL_LANDING = 0.15  # m/s, where the berth gives no limit (common practice, no source)
LANDING_ANGLE = math.radians(6.0)  # rad off parallel at the touch (common practice, no source)
LEAST_DEPTH_TO_DRAUGHT = 1.3  # in which she is tried beforehand: shallower the model is no surer
BEFORE = 2.5  # lengths before the first place of slow work at least, it begins
LONGER = 1.25  # times the time planned, and
SPARE_TIME = 4200.0  # s more, after which a run is out of time


@dataclass(frozen=True, kw_only=True, eq=False)
class Ready:
    """A call ready to be rehearsed."""

    prepared: Prepared
    start: datetime
    case: Case
    parameters: Parameters
    estimate: Estimate
    tugs: tuple[str, ...]
    thrusters: tuple[str, ...]
    assumed: tuple[str, ...]


def ready(prepared: Prepared, start: datetime) -> Ready:
    """Everything a rehearsal of this start needs.

    Raises
    ------
    CannotCompute
        Where the card leaves out what the model cannot do without.
    """
    ship, loading = prepared.aboard
    known_figures = estimated_figures(ship, loading)

    def value(name: str) -> float | None:
        return known_figures[name].value if name in known_figures else None

    try:
        reading = particulars(
            ship,
            loading,
            length=value("length_between_perpendiculars"),
            displacement=value("displacement"),
            lateral_windage=value("lateral_windage"),
            frontal_windage=value("frontal_windage"),
            windage_centroid=value("windage_forward") or 0.0,
        )
        model = estimate(reading.particulars)
        helped = equipped(model.parameters, ship, loading, attendance(prepared))
    except ValueError as error:
        raise CannotCompute(f"{ship.name} cannot be rehearsed: {error}") from error
    mind = packed(helped.parameters)
    setting = Setting(fleet=mind, orders=model.orders, around=even_depth(usual_depth(prepared, start)))
    fastest = float(np.max(prepared.passage.speed))
    conn, names = known(setting, fastest)
    orders, speeds = planned(prepared, conn, names)
    case = _case(prepared, start, setting, conn, names, helped.parameters, orders, speeds)
    return Ready(
        prepared=prepared,
        start=start,
        case=case,
        parameters=helped.parameters,
        estimate=model,
        tugs=helped.tugs,
        thrusters=helped.thrusters,
        assumed=(*reading.assumed, *helped.assumed),
    )


def attendance(prepared: Prepared) -> list[Attendance]:
    """Where the tugs of the call are made fast: the first aft, the second forward, further ones on the side off the
    quay, bow before quarter (common practice, no source)."""
    side = rehearse_waters.the_berth(prepared).side_to
    off = "starboard" if side == "port" else "port"
    places = ["aft", "forward", f"{off}_bow", f"{off}_quarter", f"{side}_bow", f"{side}_quarter"]
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
    end = -1 if inward else 0
    turn_point = (float(water.track[end, 0]), float(water.track[end, 1]))
    ends = rehearse_waters.berth_line(prepared)
    face = plan.quay(ends[0], ends[1], turn_point)
    landing = berth.maximum_landing_speed or USUAL_LANDING
    basin = swing_place(prepared, turn_point, water)
    side = swing_side(parameters)
    course = float(water.track[end, 2])
    off = plan.standoff(face, berth.side_to, ship.length_overall, ship.beam, set_on(face, water), water)
    if inward:
        phases = plan.inward(face, berth.side_to, ship.length_overall, ship.beam, course, basin, side, landing, off)
        handover = begin_slowly(prepared, conn, phases[0], float(speeds[-1]))
    else:
        out = Pose(north=turn_point[0], east=turn_point[1], heading=course)
        phases = plan.outward(face, berth.side_to, ship.length_overall, ship.beam, out, basin, side, off)
        handover = prepared.passage.track.length - 2.0 * rehearse_waters.TRACK_STEP
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
        habits=Habits(horizon=min(max(60.0 + 0.3 * ship.length_overall, 80.0), 150.0)),
        moves=plan.moves(parameters, conn, pushes(setting, names)),
        phases=phases,
        thought=plan.thought(parameters, conn, wind_on(face, berth.side_to, setting, water)),
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


def swing_place(prepared: Prepared, near: tuple[float, float], water: Waters) -> Pose | None:
    """Where she is swung: in the basin nearest to the end of the track, as far as can be from water too shallow for
    her; None without a basin wide enough."""
    plane, long = prepared.call.waterway.plane, prepared.call.ship.length_overall
    wide = [basin for basin in prepared.call.waterway.basins if basin.diameter >= long]
    if not wide:
        return None
    centres = [plane.to_plane(basin.centre.latitude, basin.centre.longitude) for basin in wide]
    apart = [math.hypot(float(x) - near[0], float(y) - near[1]) for x, y in centres]
    chosen = int(np.argmin(apart))
    north, east = float(centres[chosen][0]), float(centres[chosen][1])
    spare = 0.5 * (wide[chosen].diameter - long)
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


def swing_side(parameters: Parameters) -> float:
    """The way a single screw helps her round when it goes astern; nil where it does not matter."""
    if len(parameters.propellers) != 1:
        return 0.0
    return float(parameters.propellers[0].hand)


def begin_slowly(prepared: Prepared, conn: Known, first: Array, speed: float) -> float:
    """Where on the track the slow work begins, so that she can still stop at its first place. [m]"""
    place = prepared.passage.track.nearest(float(first[1]), float(first[2]))[0]
    astern = max(conn.stop - 3, 0)
    line = min(int(speed / 0.1), conn.slowing.shape[1] - 1)
    to_stop = float(conn.slowing[astern, 1] - conn.slowing[astern, line])
    if not math.isfinite(to_stop):
        to_stop = 0.0
    return max(place - max(BEFORE * prepared.call.ship.length_overall, 1.5 * to_stop), 0.0)


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
