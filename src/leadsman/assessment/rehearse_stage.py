"""What she covers in slow work, swinging, coming and landing: noted on cells, told as outlines."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from leadsman.assessment.rehearse_prepare import Ready
from leadsman.conning.harbour import EAST, NORTH
from leadsman.conning.outline import Stage
from leadsman.geometry import Array

ROUND = 1.5  # lengths about the places of the slow work that are looked at
MOST_CELLS = 500  # a side: a larger stage has larger cells

Rings = tuple[Array, ...]
"""Outlines [corners, 2], north and east on the plane [m]; a place is inside where it lies in an odd number of them."""


def stage_of(made: Ready) -> tuple[Stage, tuple[int, int]]:
    """The cells the slow work is looked at on, about all its places; and how many to the north and east."""
    places = made.case.phases[:, [NORTH, EAST]]
    reach = ROUND * made.prepared.call.ship.length_overall
    low, high = places.min(axis=0) - reach, places.max(axis=0) + reach
    cell = max(made.case.waters.cell, float(np.max(high - low)) / MOST_CELLS)
    rows, columns = (int(count) + 1 for count in np.ceil((high - low) / cell))
    return Stage(north=float(low[0]), east=float(low[1]), cell=cell), (rows, columns)


def packed(covered: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Cells of runs [runs, north, east], eight to a byte [runs, bytes]."""
    return np.packbits(covered.reshape(covered.shape[0], -1), axis=1)


def unpacked(rows: NDArray[np.uint8], cells: tuple[int, int]) -> NDArray[np.uint8]:
    """The reverse of `packed`."""
    flat = np.unpackbits(rows, axis=1, count=cells[0] * cells[1])
    return flat.reshape(rows.shape[0], *cells)


def outlines(stage: Stage, covered: NDArray[np.uint8], shares: Mapping[str, float]) -> dict[str, Rings]:
    """By name of a share: what is covered by more of the runs than the rest of it.

    Under 0.95 stands all that one run in twenty or more covered: outside it no more than that share came.
    """
    often = covered.mean(axis=0) if covered.shape[0] else np.zeros(covered.shape[1:])
    return {name: rings(stage, often > 1.0 - share) for name, share in shares.items()}


def rings(stage: Stage, inside: NDArray[np.bool_]) -> Rings:
    """The outlines of a set of cells, holes among them; smoothed, never inward."""
    import shapely  # late: only who sails many runs needs it

    strips = []
    for row in np.flatnonzero(inside.any(axis=1)):
        edges = np.diff(np.concatenate([[0], inside[row].astype(np.int8), [0]]))
        north = stage.north + (row + np.array([-0.5, 0.5])) * stage.cell
        for first, last in zip(np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True):
            east = stage.east + (np.array([first, last]) - 0.5) * stage.cell
            strips.append(shapely.box(north[0], east[0], north[1], east[1]))
    if not strips:
        return ()
    spare = 0.5 * stage.cell
    whole = shapely.simplify(shapely.buffer(shapely.union_all(strips), spare, join_style="mitre"), spare)
    found = []
    for part in shapely.get_parts(whole):
        found += [shapely.get_coordinates(ring) for ring in (part.exterior, *part.interiors)]
    return tuple(found)
