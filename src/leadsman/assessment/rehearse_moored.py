"""Ships alongside that a rehearsed run passes: where they lie, how near she came to them, which of them she touched."""

import math
from typing import Any

import numpy as np

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_result import Least
from leadsman.conning.outcome import COLUMNS
from leadsman.conning.outline import off_quay, place
from leadsman.conning.plan import quay
from leadsman.geometry import Array
from leadsman.simulation.state import Motion

AT_THE_QUAY = 1.0  # of a moored ship's beam from the face of a quay: she lies along it. Ours
TOUCHING = 1.5  # cells of the grid of depths: a run that ended so near a moored ship ended on her. Ours
NORTH, EAST, HEADING, PLACE = (COLUMNS.index(name) for name in ("north", "east", "heading", "along"))


def lying(prepared: Prepared, grown: float = 0.0) -> tuple[tuple[str, Array], ...]:
    """Name and corners [4, 2] of every moored ship of the call, north and east on the plane: a box of her length and
    beam along the quay she lies at, or along the track where none is near, `grown` on every side. [m]"""
    found = []
    for ship in prepared.call.moored:
        north, east = (
            float(part)
            for part in prepared.call.waterway.plane.to_plane(ship.position.latitude, ship.position.longitude)
        )
        heading = _heading(prepared, north, east, ship.beam)
        box = (
            0.5
            * np.array([[1.0, 1.0], [1.0, -1.0], [-1.0, -1.0], [-1.0, 1.0]])
            * (np.array([ship.length, ship.beam]) + 2.0 * grown)
        )
        found.append((ship.name, _placed(box, north, east, heading)))
    return tuple(found)


def _heading(prepared: Prepared, north: float, east: float, beam: float) -> float:
    faces = []
    for berth in prepared.call.waterway.berths:
        ends = [
            prepared.call.waterway.plane.to_plane(place.latitude, place.longitude) for place in (berth.begin, berth.end)
        ]
        norths, easts = np.array(ends, dtype=float).T
        face = quay(norths, easts, (north, east))
        off, along = off_quay(face, north, east)
        if 0.0 <= along <= face.length and off <= (0.5 + AT_THE_QUAY) * beam:
            faces.append((float(off), math.atan2(face.along_east, face.along_north)))
    if faces:
        return min(faces)[1]
    at = prepared.passage.track.nearest(north, east)[0]
    return float(prepared.passage.track.at(np.array([float(at)]))[2][0])


def _placed(points: Any, north: float, east: float, heading: float) -> Array:
    return np.column_stack(place(Motion(north, east, heading, 0.0, 0.0, 0.0), points[:, 0], points[:, 1]))


def nearest(prepared: Prepared, hull: Array, track: Array) -> tuple[Least, ...]:
    """The least room from her outline `hull` [points, 2] to each moored ship along the lines of a track."""
    ships = lying(prepared)
    if not ships:
        return ()
    import shapely

    placed = np.array([_placed(hull, line[NORTH], line[EAST], line[HEADING]) for line in track])
    outlines = shapely.convex_hull(shapely.multipoints(placed))
    found = []
    for name, corners in ships:
        apart = shapely.distance(outlines, shapely.Polygon(corners))
        at = int(np.argmin(apart))
        found.append(
            Least(
                quantity=f"room to {name}, moored",
                value=float(apart[at]),
                distance=float(track[at, PLACE]),
                place=prepared.passage.place(float(track[at, PLACE])),
            )
        )
    return tuple(found)


def touched(prepared: Prepared, hull: Array, track: Array, cell: float) -> str:
    """The moored ship a run that found no water ended on; empty where it was the bed."""
    for (name, _), least in zip(lying(prepared), nearest(prepared, hull, track[-1:]), strict=True):
        if least.value is not None and least.value <= TOUCHING * cell:
            return name
    return ""
