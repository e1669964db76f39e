"""How deep it is under the whole ship: the least of all depth areas her outline touches, never an assumption."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from threading import Lock
from typing import Any

import numpy as np
from numpy.typing import NDArray

from leadsman.geometry import Array, LocalPlane
from leadsman.waterway import DepthArea

ONE_AT_A_TIME = Lock()
"""A prepared geometry is finished by its first question: two threads asking at once would end the process."""

SLIVER = 0.05  # m; gaps between neighbouring areas narrower than twice this come from rounding of positions


@dataclass(frozen=True, kw_only=True, eq=False)
class Bed:
    """What lies under outlines; one entry for each outline."""

    area: NDArray[np.int64]
    """Index of the area that counts: least depth less siltation and survey uncertainty; -1 where there is none."""
    covered: NDArray[np.bool_]
    """Whether areas of known depth cover the whole outline."""
    unsurveyed: NDArray[np.bool_]
    """Whether the outline touches an area said to be unsurveyed."""


@dataclass(frozen=True, eq=False)
class Depths:
    """The depth areas of a waterway on its local plane."""

    areas: tuple[DepthArea, ...]
    plane: LocalPlane

    @cached_property
    def careful(self) -> Array:
        """Depth below chart datum less siltation and survey uncertainty; minus infinity where unsurveyed. [m]"""
        return np.array(
            [
                -np.inf if area.depth is None else area.depth - area.siltation - (area.uncertainty or 0.0)
                for area in self.areas
            ]
        )

    @cached_property
    def _polygons(self) -> NDArray[Any]:
        from shapely import Polygon

        return np.array(
            [Polygon(self._ring(area.ring), [self._ring(hole) for hole in area.holes]) for area in self.areas]
        )

    def _ring(self, ring: Sequence[Any]) -> Array:
        x, y = self.plane.to_plane([place.latitude for place in ring], [place.longitude for place in ring])
        return np.column_stack([x, y])

    @cached_property
    def _tree(self) -> Any:
        from shapely import STRtree

        return STRtree(self._polygons)

    @cached_property
    def _surveyed(self) -> Any:
        """All water of known depth, with slivers between neighbours closed."""
        import shapely

        known = self._polygons[np.isfinite(self.careful)]
        whole = shapely.union_all(shapely.buffer(known, SLIVER, join_style="mitre"))
        shapely.prepare(whole)
        return whole

    def under(self, outlines: Array) -> Bed:
        """What lies under outlines of shape (n, corners, 2) on the plane: the convex hulls of their corners."""
        import shapely

        hulls = shapely.convex_hull(shapely.linestrings(outlines))
        which, area = self._tree.query(hulls, predicate="intersects")
        worst = np.full(len(outlines), np.inf)
        chosen = np.full(len(outlines), -1, dtype=np.int64)
        for outline, index in zip(which, area, strict=True):
            depth = self.careful[index]
            if depth < worst[outline] or chosen[outline] < 0:
                worst[outline], chosen[outline] = depth, index
        with ONE_AT_A_TIME:
            covered = np.asarray(shapely.covers(self._surveyed, hulls))
        return Bed(
            area=chosen,
            covered=covered,
            unsurveyed=np.isneginf(worst),
        )
