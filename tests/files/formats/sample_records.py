"""Invented routes, tracks and soundings shared by the tests of several formats."""

import math
from datetime import UTC, datetime

from leadsman.files.formats.records import Route, RouteLeg, RouteWaypoint, Soundings, array
from leadsman.geometry import Position
from leadsman.sailed import SailedTrack

ROUTE = Route(
    name="Inward",
    waypoints=(
        RouteWaypoint(identifier=4, position=Position(-30.5, -120.25), name="Fairway buoy"),
        RouteWaypoint(
            identifier=2,
            position=Position(-30.45, -120.2),
            turn_radius=926.0,
            leg=RouteLeg(geometry="Loxodrome", cross_track_limit_port=74.08, speed_max=5.0),
        ),
        RouteWaypoint(identifier=9, position=Position(-30.4, -120.19), name="Berth <1> & more"),
    ),
)
TRACK = SailedTrack(
    name="Invented",
    identifier="999000001",
    start=datetime(2026, 8, 15, 5, 28, tzinfo=UTC),
    elapsed=array([0.0, 10.0, 20.5]),
    latitude=array([-30.5, -30.4995, -30.499]),
    longitude=array([-120.25, -120.2499, -120.2495]),
    speed_over_ground=array([4.0, math.nan, 4.2]),
    course=array([0.1, 0.2, 6.2]),
)
SOUNDINGS = Soundings(
    latitude=array([-30.5, -30.4]),
    longitude=array([-120.2, -120.1]),
    depth=array([12.3, -1.4]),
    datum="LAT",
    uncertainty=array([0.5, math.nan]),
    quality=("6", ""),
)
EASTWARD = Route(
    name="over the antimeridian",
    waypoints=(
        RouteWaypoint(identifier=1, position=Position(10.0, 179.0)),
        RouteWaypoint(identifier=2, position=Position(12.0, -179.0)),
    ),
)
