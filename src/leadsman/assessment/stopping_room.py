"""Where to begin to slow: what her way takes to come off, reach by reach, against the room ahead.

The model runs on a straight way through the water of the shallowest place of the reach; stream along the track is added
for the time it takes. A plan changes speed at a waypoint as if at once: this says how long before she must begin.
"""

import math

import numpy as np

from leadsman import format as text
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.assessment.room_result import WayOff
from leadsman.assessment.swept import SweptPath
from leadsman.figure import Finding, Grade
from leadsman.portcall import Direction
from leadsman.poster import Stop
from leadsman.units import KNOT

SLOWER = 0.2 * KNOT  # a change of plan below is no slowing
LANDED = 0.3 * KNOT  # m/s: the speed a stop is followed down to
STOPS_BY = "slow_astern"  # the order a planned stop is reckoned with: much is left in hand. Common practice, no source


def ways_off(prepared: Prepared, path: SweptPath, found: Account) -> tuple[WayOff, ...]:
    """One for each reach after which she goes slower, and the last one inward; empty without a model."""
    reaches = range(len(prepared.passage.reaches))
    made = [_way_off(prepared, path, found, index) for index in reaches if path.made is not None]
    return tuple(one for one in made if one is not None)


def _way_off(prepared: Prepared, path: SweptPath, found: Account, index: int) -> WayOff | None:
    passage, last = prepared.passage, index + 1 == len(prepared.passage.reaches)
    places = passage.track.waypoint_distances
    speed = float(passage.speed[passage.reach == index][0])
    wanted = 0.0 if last else float(passage.speed[passage.reach == index + 1][0])
    if (last and prepared.call.direction is Direction.OUTWARD) or speed - wanted < SLOWER:
        return None
    inside = passage.reach == index
    she = path.handling(float(np.min((found.depth + found.water_level)[inside])))
    if she is None:
        return None
    stream = float(np.max(found.stream_along[inside]))
    by = STOPS_BY if last else "stop"
    water, time = she.way_lost(speed, by, max(wanted, LANDED))
    distance = water + stream * time if math.isfinite(water) else math.inf
    crash, crash_time = she.way_lost(speed, "full_astern", LANDED)
    poster = _own_stop(prepared, index)
    source = "poster" if poster is not None and poster > crash else "model, estimated"
    crash = max(crash, poster or 0.0) + stream * crash_time
    end = float(places[index + 1])
    return WayOff(
        reach=passage.reaches[index].name,
        speed=speed,
        wanted=wanted,
        by=by,
        distance=distance,
        begin=end - distance,
        room=end - float(places[index]),
        crash_stop=crash,
        source=source,
        last_stop=float(passage.track.length) - crash,
    )


def _own_stop(prepared: Prepared, index: int) -> float | None:
    """Track reach of her poster, full astern from this reach's order in this condition. [m]"""
    plan, loading = prepared.passage.plans[index], prepared.call.loading

    def fits(stop: Stop) -> bool:
        return stop.order == plan.order and stop.condition == loading.condition and stop.engine_astern

    return next((stop.track_reach for stop in prepared.call.ship.poster.stops if fits(stop)), None)


def stopping_findings(ways: tuple[WayOff, ...]) -> list[Finding]:
    """Where the way does not come off within the reach it is planned for."""
    return [
        Finding(
            grade=Grade.CAUTION,
            subject="stopping",
            sentence=f"{one.reach}: from {text.knots(one.speed)} her way takes {_distance(one.distance)} to come off "
            f"to {text.knots(one.wanted)} by {one.by.replace('_', ' ')}, by her estimated model; the reach has "
            f"{text.metres(one.room, 0)}. Begin before it, or plan it slower.",
            value=one.room,
            limit=one.distance if math.isfinite(one.distance) else None,
            unit="m",
            place=one.reach,
            source="docs/methods/stopping.md",
        )
        for one in ways
        if one.distance > one.room
    ]


def _distance(distance: float) -> str:
    return text.requirement(distance, 0) if math.isfinite(distance) else "without end"
