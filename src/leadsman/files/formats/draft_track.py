"""The track of a draft, inward bound: waypoints with bend radii, reaches with widths and the shape of the channel.

A width is that of the charted fairway or the limit of the route's leg, whichever is less; what neither gives is asked.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from leadsman.files.answers import Answers
from leadsman.files.formats.records import Route, RouteLeg
from leadsman.files.formats.toml_words import asked, number_line, place_lines, quoted
from leadsman.files.formats.waterway_draft import Fairway
from leadsman.geometry import LocalPlane, Position
from leadsman.units import KNOT

STEP = 50.0  # m between places of a reach where the fairway is measured
SIGHT = 5_000.0  # m; a fairway wider than this to one side has no edge that matters
CROSS_SECTION = {
    "open": (),
    "trench": ("bottom_width_m", "side_slope", "trench_height_m"),
    "canal": ("bottom_width_m", "side_slope"),
}
CROSS_SECTION_WORDS = {  # key: (what is asked, least, greatest)
    "bottom_width_m": ("width of the channel's bottom, metres", 5.0, 20_000.0),
    "side_slope": ("slope of the channel's sides, metres along for each metre down", 0.0, 50.0),
    "trench_height_m": ("metres from the bed to the top of the dredged slope", 0.1, 50.0),
}


def track_lines(fairways: Sequence[Fairway], route: Route | None, answers: Answers) -> Iterator[str]:
    """Tables of waypoints and reaches; without a route only what to do."""
    if route is None:
        yield "\n# [[waypoint]] and [[reach]]: draw the track inward bound, or import a route with the cell"
        return
    names = waypoint_names(route)
    for index, (name, waypoint) in enumerate(zip(names, route.waypoints, strict=True)):
        yield f"\n[[waypoint]]\nname = {quoted(name)}"
        yield from place_lines(waypoint.position)
        if 0 < index < len(names) - 1:
            words = "radius of the bend, of the track and not of the channel, metres"
            given = waypoint.turn_radius or route.default_waypoint[0]
            said = answers.number("bend_radius_m", words, 20.0, 20_000.0, place=name, needed=not given)
            yield number_line("bend_radius_m", said or given, words)
    widths = reach_widths(route, fairways)
    for name, width, after in zip(reach_names(route), widths, route.waypoints[1:], strict=True):
        yield f"\n[[reach]]\nname = {quoted(name)}"
        leg = after.leg or route.default_waypoint[1]
        yield from _width_lines(name, width, leg, answers)
        yield from _channel_lines(name, answers)
        yield from _local_lines(name, leg, answers)


def _width_lines(
    reach: str, charted: tuple[float | None, float | None], leg: RouteLeg | None, answers: Answers
) -> Iterator[str]:
    limits = (None, None) if leg is None else (leg.cross_track_limit_port, leg.cross_track_limit_starboard)
    for side, fairway, limit in zip(("port", "starboard"), charted, limits, strict=True):
        key, words = f"width_{side}_m", f"metres from the track to the edge of the water, {side} side inward bound"
        known = [math.floor(10.0 * width) / 10.0 for width in (fairway, limit) if width]
        said = answers.number(key, words, 5.0, 20_000.0, place=reach, needed=not known)
        yield number_line(key, said or min(known, default=None), f"{words}; no fairway is charted all along")


def _channel_lines(reach: str, answers: Answers) -> Iterator[str]:
    """How the sides shape the flow: no chart says it, and to take it for open water would make her squat too little."""
    words = "how the sides shape the flow: open water, a trench dredged in shallows, or a canal with banks"
    kind = answers.text("channel", words, place=reach, choices=tuple(CROSS_SECTION))
    if kind is None:
        yield asked("channel", '"open", "trench" or "canal"')
        return
    yield f"channel = {quoted(kind)}"
    for key in CROSS_SECTION[kind]:
        words, low, high = CROSS_SECTION_WORDS[key]
        yield number_line(key, answers.number(key, words, low, high, place=reach), words)


def _local_lines(reach: str, leg: RouteLeg | None, answers: Answers) -> Iterator[str]:
    """The speed limit that the route gives for the leg, and how much of the waves comes in; left out: all of them."""
    words = "greatest speed over the ground by local rule, knots"
    given = None if leg is None or leg.speed_max is None else leg.speed_max / KNOT
    said = answers.number("maximum_speed_kn", words, 0.5, 40.0, place=reach, needed=False, offer=True)
    if said or given:
        yield number_line("maximum_speed_kn", said or given, words)
    words = "percent of the forecast wave height that comes in; left out, all of it"
    share = answers.number("wave_percent", words, 0.0, 150.0, place=reach, needed=False, offer=True)
    if share is not None:
        yield number_line("wave_percent", share, words)


def waypoint_names(route: Route) -> list[str]:
    """Names that tell the waypoints apart: their own, with the id where one is missing or stands twice."""
    plain = Counter(waypoint.name for waypoint in route.waypoints)
    return [
        waypoint.name
        if waypoint.name and plain[waypoint.name] == 1
        else f"{waypoint.name or 'waypoint'} {waypoint.identifier}"
        for waypoint in route.waypoints
    ]


def reach_names(route: Route) -> list[str]:
    """Each reach by the waypoints at its ends."""
    return [f"{before} to {after}" for before, after in pairwise(waypoint_names(route))]


def reach_widths(route: Route, fairways: Sequence[Fairway]) -> list[tuple[float | None, float | None]]:
    """(port, starboard) least distance from each reach to the edge of the fairway; None where it leaves it. [m]"""
    places = [waypoint.position for waypoint in route.waypoints]
    plane = LocalPlane(places[len(places) // 2])
    channel = (
        shapely.union_all([_on_plane(fairway.ring, plane) for fairway in fairways]) if fairways else shapely.Polygon()
    )
    x, y = plane.to_plane([p.latitude for p in places], [p.longitude for p in places])
    return [_reach_width(channel, a, b) for a, b in pairwise(np.column_stack([x, y]).tolist())]


def _on_plane(ring: Sequence[Position], plane: LocalPlane) -> Any:
    x, y = plane.to_plane([place.latitude for place in ring], [place.longitude for place in ring])
    return shapely.make_valid(shapely.Polygon(np.column_stack([x, y])))


def _reach_width(channel: Any, begin: list[float], end: list[float]) -> tuple[float | None, float | None]:
    """Least distance to the edge on either side, measured square to the reach at every step."""
    length = math.dist(begin, end)
    if length == 0.0 or not shapely.covers(channel, shapely.LineString([begin, end])):
        return None, None
    ahead = (np.array(end) - begin) / length
    starboard = np.array([-ahead[1], ahead[0]])  # x north, y east: starboard of north is east
    least = []
    for side in (-1.0, 1.0):
        distances = []
        for along in np.linspace(0.0, length, max(2, math.ceil(length / STEP) + 1)):
            place = np.array(begin) + along * ahead
            sight = shapely.LineString([place, place + side * SIGHT * starboard])
            inside = [part for part in shapely.get_parts(shapely.intersection(sight, channel)) if part.length > 0.0]
            here = [part for part in inside if shapely.distance(part, shapely.Point(place)) < 0.01]
            distances.append(max((part.length for part in here), default=0.0))
        width = min(distances)
        least.append(width if 0.0 < width < SIGHT - 1.0 else None)
    return least[0], least[1]
