"""The stage of the replay: the plan without its words, and the swath the drawn runs stayed in.

A script lays the ship and the names on it, so that they keep their size when it is looked at closely.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from leadsman.documents.drawings.furniture import NO_WATER_TINT
from leadsman.documents.drawings.plan import (
    draw_areas,
    draw_edge,
    draw_fixtures,
    draw_gates,
    fairway_edges,
    room_about,
    track_points,
)
from leadsman.documents.drawings.sheet_view import SheetView, fitted
from leadsman.documents.drawings.svg import PAPER, Svg, shortened

Data = Mapping[str, Any]

SHARES = (("99", "0.5 1.1"), ("95", "2 1"), ("50", ""))
"""Of the drawn runs, each with the dashes of its line."""
NAME = 26
"""Longest name written, in letters."""


def stage(data: Data, ensemble: Data | None, families: Sequence[str], width: float, height: float) -> tuple[str, Data]:
    """The drawing, and how the script finds its places: where an (x, y) of the plane lies, ship and names on paper."""
    svg = Svg("stage", width, height)
    points = track_points(data)
    frame = (0.0, 0.0, width, height)
    view = fitted(points, room_about(data, range(len(points))), frame)
    svg.rectangle(*frame, fill=NO_WATER_TINT)
    draw_areas(svg, data, view, frame)
    for edge in fairway_edges(data, view):
        draw_edge(svg, edge)
    draw_fixtures(svg, data, view)
    svg.line(view.line(points), 1.3, colour=PAPER)
    svg.line(view.line(points), 0.3)
    draw_gates(svg, data, view)
    if ensemble is not None:
        _swaths(svg, data, view, ensemble["envelope"])
        _slow_work(svg, view, ensemble.get("slow_work", {}))
    return svg.written(families), _places(data, view)


def _swaths(svg: Svg, data: Data, view: SheetView, envelope: Data) -> None:
    """The two edges of where so many percent of the runs kept all of the ship."""
    account = data["account"]
    distance = np.asarray(account["distance"])
    at = np.asarray(envelope["distance"], dtype=np.float64)
    x, y = np.interp(at, distance, account["x"]), np.interp(at, distance, account["y"])
    course = np.interp(at, distance, np.unwrap(np.asarray(account["course"])))
    for share, dash in SHARES:
        for column, side in ((0, -1.0), (1, 1.0)):
            line: list[tuple[float, float]] = []
            for here, reach in enumerate(envelope[share]):
                if reach[column] is None:
                    svg.line(line, 0.35, dash)
                    line = []
                    continue
                across = side * reach[column]
                line.append(view(x[here] - across * math.sin(course[here]), y[here] + across * math.cos(course[here])))
            svg.line(line, 0.35, dash)


def _slow_work(svg: Svg, view: SheetView, outlines: Data) -> None:
    """Outside which no more than the rest of so many percent of the runs came, swinging, landing or leaving."""
    for share, dash in SHARES:
        for ring in outlines.get(share, ()):
            svg.line([view(*corner) for corner in ring], 0.35, dash)


def _places(data: Data, view: SheetView) -> dict[str, Any]:
    """Affine: millimetres right and down of the plane's origin, of one metre north and of one metre east."""
    origin, north, east = view(0.0, 0.0), view(1.0, 0.0), view(0.0, 1.0)
    shown = data["plan"]
    things = [(gate["name"], gate["at"]) for gate in shown["gates"]]
    things += [(berth["name"], berth["end"]) for berth in shown["berths"]]
    things += [(point["name"], point["at"]) for point in shown["waypoints"]]
    names = {shortened(name, NAME): [round(value, 2) for value in view(*at)] for name, at in reversed(things)}
    return {
        "origin": [round(value, 4) for value in origin],
        "north": [north[0] - origin[0], north[1] - origin[1]],
        "east": [east[0] - origin[0], east[1] - origin[1]],
        "metre": 1.0 / view.scale,
        "to_right": view.to_right,
        "length": shown["ship"]["length_overall"],
        "beam": shown["ship"]["beam"],
        "names": names,
    }
