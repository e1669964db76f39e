"""The passage leg by leg, gate by gate, and the berth after arrival."""

import math
from datetime import datetime, timedelta

import numpy as np

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account, Alongside, GatePassage, Leg
from leadsman.assessment.swept import edges
from leadsman.assessment.water import HOURS_AFTER
from leadsman.environment.level import level_at
from leadsman.figure import Figure, Origin
from leadsman.portcall import Direction
from leadsman.units import HOUR, MINUTE


def legs(prepared: Prepared, found: Account, start: datetime) -> tuple[Leg, ...]:
    """One leg for each reach, in the order sailed."""
    passage = prepared.passage
    places = passage.track.waypoint_distances
    names = [point.name for point in prepared.call.waterway.waypoints]
    if prepared.call.direction is Direction.OUTWARD:
        names.reverse()
    passed = np.interp(places, found.distance, found.elapsed)
    made = []
    for index, reach in enumerate(passage.reaches):
        inside = passage.reach == index
        worst = int(np.flatnonzero(inside)[np.argmin(found.margin[inside])])
        bend = passage.track.bends[index] if index < len(passage.track.bends) else None
        distance = float(places[index + 1] - places[index])
        seconds = float(passed[index + 1] - passed[index])
        speed_at_bend = None if bend is None else float(np.interp(bend.begin, found.distance, found.speed_over_ground))
        made.append(
            Leg(
                number=index + 1,
                reach=reach.name,
                begins_at=names[index],
                ends_at=names[index + 1],
                course=float(passage.track.courses[index]),
                distance=distance,
                order=passage.plans[index].order or "",
                speed=float(passage.speed[inside][0]),
                time_begin=start + timedelta(seconds=float(passed[index])),
                time_end=start + timedelta(seconds=float(passed[index + 1])),
                mean_speed_over_ground=distance / seconds,
                bend_radius=None if bend is None else bend.radius,
                alteration=None if bend is None else bend.deflection,
                rate_of_turn=None
                if bend is None or speed_at_bend is None
                else math.copysign(speed_at_bend / bend.radius, bend.deflection),
                wheel_over_before=None if bend is None else bend.radius * math.tan(abs(bend.deflection) / 2.0),
                least_net=float(found.net[worst]),
                least_margin=float(found.margin[worst]),
                least_at=float(found.distance[worst]),
                room_port=float(np.min(found.room_port[inside])),
                room_starboard=float(np.min(found.room_starboard[inside])),
            )
        )
    return tuple(made)


def gates(prepared: Prepared, found: Account, start: datetime) -> tuple[GatePassage, ...]:
    """Every bridge and cable at her time; every narrows with the room between its sides."""
    made = []
    for overhead in prepared.overheads:
        clearance = overhead.clearance(found.water_level[overhead.stations])
        worst = overhead.stations[int(np.argmin(clearance))]
        made.append(
            GatePassage(
                name=overhead.gate.name,
                kind=overhead.gate.kind.value,
                distance=overhead.distance,
                time=start + timedelta(seconds=float(found.elapsed[worst])),
                value=float(np.min(clearance)),
                required=overhead.required,
                figures=overhead.figures(float(found.water_level[worst])),
            )
        )
    for gate, distance in prepared.passage.gate_distances:
        if gate.width is not None:
            made.append(_narrows(prepared, found, start, gate.name, gate.width, distance))
    return tuple(sorted(made, key=lambda gate: gate.distance))


def _narrows(
    prepared: Prepared, found: Account, start: datetime, name: str, width: float, distance: float
) -> GatePassage:
    here = int(np.argmin(np.abs(found.distance - distance)))
    port, starboard = edges(prepared.passage)
    swept = float(port[here] + starboard[here] - found.room_port[here] - found.room_starboard[here])
    each_side = 0.5 * (width - swept)
    elapsed = float(np.interp(distance, found.distance, found.elapsed))
    return GatePassage(
        name=name,
        kind="narrows",
        distance=distance,
        time=start + timedelta(seconds=elapsed),
        value=each_side,
        required=prepared.call.margins.width or 0.0,
        figures={
            "width": Figure(name="width", value=width, unit="m", origin=Origin.GIVEN, source="waterway.toml"),
            "swept_width": Figure(
                name="swept_width",
                value=swept,
                unit="m",
                origin=Origin.COMPUTED,
                method="beam cos + length sin of the angle between track and heading",
                source="water.md 4.3, derived",
                inputs={"beam": prepared.call.ship.beam, "length_overall": prepared.call.ship.length_overall},
            ),
        },
    )


def alongside(prepared: Prepared, found: Account, start: datetime) -> Alongside | None:
    """The lowest water at the berth in the lunar day after she arrives; None outward bound."""
    call = prepared.call
    if call.direction is Direction.OUTWARD:
        return None
    berth = next(berth for berth in call.waterway.berths if berth.name == call.berth)
    arrived = prepared.water.elapsed(start) + float(found.elapsed[-1])
    times = np.arange(arrived, arrived + HOURS_AFTER * HOUR, 5.0 * MINUTE)
    levels = level_at(prepared.water.level.grid, np.full_like(times, found.distance[-1]), times)
    lowest = int(np.argmin(levels))
    level = float(levels[lowest]) - prepared.underkeel.level_shortfall
    return Alongside(
        berth=berth.name,
        time=prepared.water.time(float(times[lowest])),
        water_level=level,
        static=berth.depth + level - prepared.floating.draught,
        required=call.margins.alongside or 0.0,
        aground_allowed=berth.aground_allowed,
        hours=HOURS_AFTER,
    )
