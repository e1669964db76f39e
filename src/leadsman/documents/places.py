"""Places as plain data: where it is tightest, the account there line by line, and what the plan drawing shows."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from leadsman import format as text
from leadsman.assessment.result import Account, Assessment, Leg, Line
from leadsman.waterway import DepthArea, Waterway

MOST_PLACES = 6
LETTERS = "ABCDEF"


def leg_tightest(assessment: Assessment, leg: Leg) -> dict[str, Any]:
    """The whole under-keel account where the leg has least margin."""
    account = assessment.account
    station = _station(account, leg.least_at)
    return {
        "station": station,
        "time": _moment(_time_at(assessment, station)),
        "lines": [
            {"key": line.key, "label": line.label, "effect": line.effect, "text": _careful(line, station)}
            for line in account.lines
        ],
        "depth": _down(account.depth[station]),
        "water_level": _down(account.water_level[station]),
        "squat": _up(account.squat[station]),
        "draught": _draught(account, station),
        "squat_method": account.squat_method[station],
        "part": account.part[station],
        "static": _down(account.static[station]),
        "gross": _down(account.gross[station]),
        "net": _down(account.net[station]),
        "required": _up(account.required[station]),
        "margin": _down(account.net[station] - account.required[station]),
    }


def _draught(account: Account, station: int) -> dict[str, Any]:
    """What the account takes off for draught, in the water of the passage."""
    return _up(float(next(line.values for line in account.lines if line.key == "draught")[station]))


def _careful(line: Line, station: int) -> str:
    """What is taken off is rounded up, all else down."""
    value = float(line.values[station])
    return text.requirement(value) if line.effect < 0 else text.clearance(value)


def tightest_places(assessment: Assessment) -> list[dict[str, Any]]:
    """The places with least left, worst first, lettered: the letters stand on brief, section and plan."""
    account = assessment.account
    found = []
    for leg in assessment.legs:
        station = _station(account, leg.least_at)
        area = _area_under(assessment, station)
        where = leg.reach if area in (None, leg.reach) else f"{area}, {leg.reach}"
        limit = ("underkeel", text.limit("underkeel"), where, leg.number, station)
        found.append(
            (*limit, leg.least_at, _time_at(assessment, station), leg.least_net, float(account.required[station]))
        )
    for gate in assessment.gates:
        station = _station(account, gate.distance)
        number = assessment.legs[int(account.reach[station])].number
        limit = ("gate", text.limit(gate.kind), gate.name, number, station)
        found.append((*limit, gate.distance, gate.time, gate.value, gate.required))
    found.sort(key=lambda place: (place[7] - place[8], place[5]))
    return [
        {
            "letter": letter,
            "limit": limit,
            "limit_text": words,
            "place": place,
            "leg": leg,
            "station": station,
            "distance": {"value": round(distance, 1), "text": text.miles(distance)},
            "time": _moment(time),
            "value": _down(value),
            "required": _up(required),
            "margin": _down(value - required),
        }
        for letter, (limit, words, place, leg, station, distance, time, value, required) in zip(
            LETTERS, found, strict=False
        )
    ]


def _area_under(assessment: Assessment, station: int) -> str | None:
    """The name of the depth area that gives the depth at a station: that depth, and nearest."""
    from shapely import Point, Polygon

    account, waterway = assessment.account, assessment.call.waterway
    here, depth = Point(account.x[station], account.y[station]), account.depth[station]
    giving = [area for area in waterway.areas if area.depth is not None and abs(area.depth - depth) < 1e-6]
    away = [Polygon(_points(waterway, area.ring)).distance(here) for area in giving]
    return giving[int(np.argmin(away))].name if giving else None


def plan_data(assessment: Assessment) -> dict[str, Any]:
    """What the plan drawing needs, on the local plane: [x north, y east] in metres."""
    waterway, ship = assessment.call.waterway, assessment.call.ship

    def named(items: Sequence[Any], **more: str) -> list[dict[str, Any]]:
        return [
            {"name": item.name, "at": _points(waterway, [item.position])[0]}
            | {key: getattr(item, more[key]) for key in more}
            for item in items
        ]

    return {
        "origin": {"latitude": waterway.origin.latitude, "longitude": waterway.origin.longitude},
        "areas": [_area(area, assessment) for area in waterway.areas],
        "waypoints": named(waterway.waypoints),
        "reaches": [
            {"name": reach.name, "width_port": reach.width_port, "width_starboard": reach.width_starboard}
            for reach in waterway.reaches
        ],
        "gates": named(waterway.gates, kind="kind"),
        "marks": named(waterway.marks, kind="kind", description="description"),
        "basins": [
            {"name": basin.name, "at": _points(waterway, [basin.centre])[0], "diameter": basin.diameter}
            for basin in waterway.basins
        ],
        "berths": [
            {
                "name": berth.name,
                "begin": _points(waterway, [berth.begin])[0],
                "end": _points(waterway, [berth.end])[0],
            }
            for berth in waterway.berths
        ],
        "ship": {"length_overall": ship.length_overall, "beam": ship.beam},
    }


def _area(area: DepthArea, assessment: Assessment) -> dict[str, Any]:
    ring = _points(assessment.call.waterway, area.ring)
    return {
        "name": area.name,
        "depth": area.depth,
        "ring": ring,
        "holes": [_points(assessment.call.waterway, hole) for hole in area.holes],
        "bottom": area.bottom,
        "surveyed": area.surveyed,
        "net": _net_over(area.depth, np.asarray(ring), assessment.account),
    }


def _net_over(depth: float | None, ring: Any, account: Account) -> dict[str, Any] | None:
    """Her net clearance over this area when she passes nearest: the account there, with this depth in its place.

    Over an area she passes for long, the least; the allowances stay those of her track.
    """
    if depth is None:
        return None
    from shapely import Polygon, points

    away = Polygon(ring).distance(points(account.x, account.y)) if len(ring) else np.zeros_like(account.x)
    near = away <= np.min(away) + 1.0
    return _down(float(np.min((account.net - account.depth)[near])) + depth)


def _points(waterway: Waterway, positions: Sequence[Any]) -> list[list[float]]:
    x, y = waterway.plane.to_plane([place.latitude for place in positions], [place.longitude for place in positions])
    return [[round(float(a), 2), round(float(b), 2)] for a, b in zip(x, y, strict=True)]


def _station(account: Account, distance: float) -> int:
    return int(np.argmin(np.abs(account.distance - distance)))


def _time_at(assessment: Assessment, station: int) -> datetime:
    return assessment.call.start + timedelta(seconds=float(assessment.account.elapsed[station]))


def _moment(time: datetime) -> Mapping[str, str]:
    return {"value": text.iso(time), "text": text.day_clock(time), "clock": text.clock(time)}


def _down(value: float) -> dict[str, Any]:
    return {"value": round(float(value), 4), "text": text.clearance(float(value))}


def _up(value: float) -> dict[str, Any]:
    return {"value": round(float(value), 4), "text": text.requirement(float(value))}
