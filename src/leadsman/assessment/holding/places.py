"""Where along a passage it is asked whether she is held: every reach under way, the basin, the berth; and in what."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np

from leadsman.assessment.holding.case import Quay, Situation
from leadsman.assessment.holding.from_ship import Surroundings
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.equipment import AHEAD_ORDERS, EngineKind
from leadsman.physics import static_hull
from leadsman.portcall import Direction, ReachPlan, Tug
from leadsman.ship import Ship
from leadsman.simulation.deck import PARALLEL_BODY
from leadsman.units import SEA_WATER_DENSITY, wrapped
from leadsman.waterway import Basin, Berth

KICKED = (EngineKind.CONTROLLABLE_PITCH, EngineKind.DIESEL_ELECTRIC, EngineKind.GEARED_DIESEL)
"""Engines whose thrust is reversed in seconds and as often as wanted."""
KICK_ORDER = "half_ahead"  # the greatest order reckoned with for a stopped ship whose engine is started again, setting
FREE_KICK_ORDER = "full_ahead"  # likewise for one of `KICKED`, setting
DRIFT_ROOM = 0.5  # of the room on her narrower side that her swept path may take by drift, setting
SLOWEST_ORDER = "dead_slow_ahead"
OFF = 0.5  # of her beam: how far her side is from the quay while she lands or lifts off, setting
NEAR_BASIN = 1.0  # of its diameter from the track: farther, and it is not hers to swing in


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One place at her time there."""

    key: str
    place: str
    distance: float
    time: datetime
    surroundings: Surroundings
    orders: tuple[str, ...]
    """Engine orders reckoned with, rising: the one she runs with and, in kicks, those above; the first that holds."""
    tugs: tuple[Tug, ...]
    """That attend there."""
    drift_angle: float = 0.0
    """Greatest that the room allows under way. [rad]"""


@dataclass(frozen=True, kw_only=True)
class Weather:
    """The wind of the forecast."""

    speed: float
    wind_from: float
    gust: float | None
    """Over the mean; None: none is given. [-]"""


def places(prepared: Prepared, found: Account, start: datetime, weather: Weather) -> tuple[Asked, ...]:
    """All places, in the order sailed."""
    made = [
        *_reaches(prepared, found, start, weather),
        *_basins(prepared, found, start, weather),
        *_berth(prepared, found, start, weather),
    ]
    return tuple(sorted(made, key=lambda one: one.distance))


def parallel_body(ship: Ship, condition: str) -> float:
    """Length of her straight side in this condition; a careful share of her length where the card does not say. [m]"""
    given = ship.parallel_body_loaded if condition == "loaded" else ship.parallel_body_ballast
    return PARALLEL_BODY * ship.length_overall if given is None else given


def berth_of(prepared: Prepared) -> Berth:
    """The berth of the call."""
    return next(berth for berth in prepared.call.waterway.berths if berth.name == prepared.call.berth)


def _reaches(prepared: Prepared, found: Account, start: datetime, weather: Weather) -> Iterator[Asked]:
    """Each reach where the wind she feels is strongest athwart her."""
    heading = found.course - np.arcsin(np.clip(found.stream_across / found.speed, -0.7, 0.7))
    athwart = _athwart(found, heading, weather)
    for index, reach in enumerate(prepared.passage.reaches):
        inside = np.flatnonzero(prepared.passage.reach == index)
        station = int(inside[np.argmax(np.abs(athwart[inside]))])
        yield _asked(
            prepared,
            found,
            start,
            weather,
            station,
            key=f"reach {index + 1}",
            place=reach.name,
            situation=Situation.UNDER_WAY,
            heading=float(heading[station]),
            speed=float(found.speed[station]),
            orders=_running_orders(prepared, prepared.passage.plans[index]),
            tugs=tuple(tug for tug in prepared.call.tugs if _fast(prepared, tug, index)),
            drift_angle=_drift_angle(prepared, found, station),
        )


def _drift_angle(prepared: Prepared, found: Account, station: int) -> float:
    """Greatest drift angle that takes no more than its share of the room and is within the linear hull force. [rad]"""
    room = DRIFT_ROOM * max(min(float(found.room_port[station]), float(found.room_starboard[station])), 0.0)
    half = 0.5 * prepared.call.ship.length_overall
    return min(math.asin(min(room / half, 1.0)), static_hull.SMALL_DRIFT)


def _athwart(found: Account, heading: np.ndarray, weather: Weather) -> np.ndarray:
    """Wind felt from the side while she makes way, to starboard positive. [m/s]"""
    north = -weather.speed * math.cos(weather.wind_from) - found.speed_over_ground * np.cos(found.course)
    east = -weather.speed * math.sin(weather.wind_from) - found.speed_over_ground * np.sin(found.course)
    athwart: np.ndarray = east * np.cos(heading) - north * np.sin(heading)
    return athwart


def _running_orders(prepared: Prepared, plan: ReachPlan) -> tuple[str, ...]:
    """The order she runs with, and those above it up to the order of kicks."""
    rising = [order for order in reversed(AHEAD_ORDERS) if prepared.call.ship.engine.order(order) is not None]
    first, last = _running_order(prepared, plan), _kick(prepared.call.ship)
    if first not in rising or last not in rising:
        return (first,)
    return (first, *rising[rising.index(first) + 1 : rising.index(last) + 1])


def _running_order(prepared: Prepared, plan: ReachPlan) -> str:
    """The order she runs with: as planned, or the fastest of the card that is not above the speed planned."""
    if plan.order is not None:
        return plan.order
    call = prepared.call
    for order in ("full_sea_speed", *AHEAD_ORDERS):
        line = call.ship.engine.order(order)
        if line is None:
            continue
        speed = line.speed_loaded if call.loading.condition == "loaded" else line.speed_ballast
        if speed is not None and plan.speed is not None and speed <= plan.speed:
            return order
    return SLOWEST_ORDER  # she drifts or is kicked ahead between


def _fast(prepared: Prepared, tug: Tug, index: int) -> bool:
    """Whether a tug is fast in a reach, by its place in the order sailed."""
    if not tug.fast_from:
        return False
    names = [reach.name for reach in prepared.passage.reaches]
    begins = names.index(tug.fast_from)
    return index >= begins if prepared.call.direction is Direction.INWARD else index < begins + 1


def _basins(prepared: Prepared, found: Account, start: datetime, weather: Weather) -> Iterator[Asked]:
    for number, basin in enumerate(prepared.call.waterway.basins, start=1):
        station = _nearest(prepared, found, basin)
        if station is None:
            continue
        yield _asked(
            prepared,
            found,
            start,
            weather,
            station,
            key=f"basin {number}",
            place=basin.name,
            situation=Situation.SWINGING,
            heading=float(found.course[station]),
            orders=(_kick(prepared.call.ship),),
            tugs=prepared.call.tugs,
        )


def _nearest(prepared: Prepared, found: Account, basin: Basin) -> int | None:
    """The station nearest to a basin; None where it is not near the track."""
    x, y = prepared.call.waterway.plane.to_plane(basin.centre.latitude, basin.centre.longitude)
    away = np.hypot(found.x - float(x), found.y - float(y))
    station = int(np.argmin(away))
    return station if away[station] <= NEAR_BASIN * basin.diameter else None


def _berth(prepared: Prepared, found: Account, start: datetime, weather: Weather) -> Iterator[Asked]:
    call = prepared.call
    station = len(found.distance) - 1 if call.direction is Direction.INWARD else 0
    berth = berth_of(prepared)
    level = float(found.water_level[station])
    heading = _berth_heading(prepared, found, berth, station)
    one = _asked(
        prepared,
        found,
        start,
        weather,
        station,
        key="berth",
        place=berth.name,
        situation=Situation.OFF_THE_BERTH,
        heading=heading,
        water_depth=berth.depth + level,
        quay=_quay(prepared, berth),
        orders=(_kick(call.ship),),
        tugs=call.tugs,
    )
    yield _along_the_wall(one, heading) if berth.face == "closed" else one


def _along_the_wall(asked: Asked, heading: float) -> Asked:
    """No water runs through a wall: of the stream only the part along it is left."""
    around = asked.surroundings
    along = around.stream_rate * math.cos(around.stream_towards - heading)
    towards = heading if along >= 0.0 else heading + math.pi
    return replace(asked, surroundings=replace(around, stream_rate=abs(along), stream_towards=wrapped(towards)))


def _berth_heading(prepared: Prepared, found: Account, berth: Berth, station: int) -> float:
    """Along the face, with the quay on the side the berth names; the water is where the track ends."""
    plane = prepared.call.waterway.plane
    (x0, y0), (x1, y1) = (
        tuple(float(value) for value in plane.to_plane(end.latitude, end.longitude)) for end in (berth.begin, berth.end)
    )
    along = math.atan2(y1 - y0, x1 - x0)
    middle = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
    to_track = (float(found.x[station]) - middle[0], float(found.y[station]) - middle[1])
    track_to_starboard = -to_track[0] * math.sin(along) + to_track[1] * math.cos(along) > 0.0
    quay_to_port = berth.side_to == "port"
    return wrapped(along if track_to_starboard == quay_to_port else along + math.pi)


def _quay(prepared: Prepared, berth: Berth) -> Quay:
    call = prepared.call
    half = 0.5 * parallel_body(call.ship, call.loading.condition)
    return Quay(
        side=1 if berth.side_to == "starboard" else -1,
        distance=OFF * call.ship.beam,
        closed=berth.face != "open",  # a wall where nobody says: it takes from the thrusters
        fenders_from=-half,
        fenders_to=half,
        fender_force=berth.fender_reaction or 0.0,
    )


def _kick(ship: Ship) -> str:
    order = FREE_KICK_ORDER if ship.engine.kind in KICKED else KICK_ORDER
    return order if ship.engine.order(order) is not None else SLOWEST_ORDER


def _asked(
    prepared: Prepared,
    found: Account,
    start: datetime,
    weather: Weather,
    station: int,
    *,
    key: str,
    place: str,
    situation: Situation,
    heading: float,
    orders: tuple[str, ...],
    tugs: tuple[Tug, ...],
    speed: float = 0.0,
    drift_angle: float = 0.0,
    water_depth: float | None = None,
    quay: Quay | None = None,
) -> Asked:
    course, along, across = (
        float(values[station]) for values in (found.course, found.stream_along, found.stream_across)
    )
    call = prepared.call
    depth = float(found.depth[station] + found.water_level[station]) if water_depth is None else water_depth
    return Asked(
        key=key,
        place=place,
        distance=float(found.distance[station]),
        time=start + timedelta(seconds=float(found.elapsed[station])),
        orders=orders,
        tugs=tugs,
        drift_angle=drift_angle,
        surroundings=Surroundings(
            situation=situation,
            heading=wrapped(heading),
            wind_speed=weather.speed,
            wind_from=weather.wind_from,
            stream_rate=math.hypot(along, across),
            stream_towards=wrapped(course + math.atan2(across, along)),
            water_depth=depth,
            water_density=call.forecast.water_density or SEA_WATER_DENSITY,
            quay=quay,
            speed=speed,
        ),
    )
