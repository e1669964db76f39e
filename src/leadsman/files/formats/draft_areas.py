"""Depth areas and dangers of a chart cell as the depth areas of a waterway; nothing that is missing becomes deep.

A depth area keeps its shallow end. Land, pontoons, piers, unsurveyed water and areas without a shallow end have no
depth: they block. A danger becomes a small area about its place, as wide as the chart's positions are uncertain there.

Source: [S57Edition31], [S57Catzoc].
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from leadsman.files.formats.datums import datum_name
from leadsman.files.formats.quality import ZONES, Zone
from leadsman.files.formats.records import ChartCell, ChartFeature
from leadsman.files.formats.s57 import names
from leadsman.geometry import LocalPlane, Position
from leadsman.waterway import DepthArea

SURVEYED = ("DEPARE", "DRGARE", "SWPARE")
BLOCKED = (
    *("UNSARE", "LNDARE", "PONTON", "HULKES", "FLODOC", "PYLONS", "PILPNT"),
    *("OFSPLF", "CAUSWY", "DAMCON", "FSHFAC", "MARCUL"),
)
SHORE = ("SLCONS", "MORFAC")
DANGERS = ("OBSTRN", "WRECKS", "UWTROC")
QUALITY_NOT_KNOWN = 50.0  # m, about a danger where the chart promises no position: that of zone B; our choice
CORNERS = 12  # of the polygon drawn about a point
DEPTH_UNKNOWN = 2  # QUASOU code: depth unknown


@dataclass(frozen=True, kw_only=True)
class Question:
    """What a cell does not say, or not plainly, and a person must answer before the draft is used."""

    subject: str
    sentence: str
    position: Position | None = None
    answered_by: str = ""
    """Key of the answer that settles it where the draft is written (`draft_files`); empty: only a look does."""


class AreaDraft:
    """Turns the areas and dangers of one cell into depth areas, gathering questions on the way."""

    def __init__(self, cell: ChartCell, plane: LocalPlane, near: Any | None, survey: Sequence[DepthArea] = ()) -> None:
        """`near` is a shape (longitude, latitude) outside which nothing is taken; None takes all.

        `survey`: areas of a newer survey, in place of the cell's own depths where they lie; dangers and soundings stay.
        """
        self.survey = tuple(survey)
        self._resurveyed = shapely.union_all([polygon_of(area) for area in survey]) if survey else None
        self.cell = cell
        self.plane = plane
        self.near = near
        self.questions: list[Question] = []
        self.notes: list[str] = []
        self._zones = [
            (feature.geometry, ZONES[code])
            for feature in cell.of("M_QUAL")
            if (code := int(feature.number("CATZOC") or 0)) in ZONES
        ]
        self._other_datum = [
            feature.geometry
            for feature in cell.of("M_SDAT")
            if datum_name(feature.attributes.get("VERDAT")) != cell.sounding_datum
        ]
        self._unpromised: set[str] = set()

    def areas(self) -> tuple[DepthArea, ...]:
        """All depth areas, dangers and shallow soundings within reach."""
        found = [*self.survey, *(area for feature in self.cell.of(*SURVEYED) for area in self._surveyed(feature))]
        found += [area for feature in self.cell.of(*BLOCKED) for area in self._blocked(feature)]
        charted = list(found)
        found += [area for feature in self.cell.of(*DANGERS) for area in self._danger(feature)]
        found += self._soundings(charted)
        shore = sum(self._wanted(feature.geometry) for feature in self.cell.of(*SHORE))
        if shore:
            self.questions.append(
                Question(
                    subject="shore and moorings",
                    sentence=f"quays, breakwaters, dolphins or mooring buoys are charted here ({shore} in all); "
                    "the draft does not block them: look at each that stands in the water",
                )
            )
        if self._unpromised:
            self.questions.append(
                Question(
                    subject="quality of the chart",
                    sentence=f"{len(self._unpromised)} objects lie where the chart promises no accuracy of depth "
                    "(zone D, U or none); give survey_uncertainty_m, or it counts as none",
                )
            )
        return tuple(found)

    def _wanted(self, geometry: Any) -> bool:
        return self.near is None or bool(shapely.intersects(self.near, geometry))

    def zone(self, geometry: Any) -> Zone | None:
        """The worst zone of confidence that the shape touches; None where there is none."""
        touched = [zone for area, zone in self._zones if shapely.intersects(area, geometry)]
        return max(touched, key=lambda zone: zone.code, default=None)

    def _uncertainty(self, feature: ChartFeature, depth: float | None) -> float | None:
        """How far the depth may be off, at 95 %: the object's own accuracy, or that of its zone. [m]"""
        own = feature.number("SOUACC")
        zone = self.zone(feature.geometry)
        promised = None if zone is None or depth is None else zone.depth_uncertainty(depth)
        known = [value for value in (own, promised) if value is not None and 0.0 <= value <= 50.0]
        if not known and depth is not None:
            self._unpromised.add(feature.identifier)
        return max(known, default=None)

    def _depth(self, feature: ChartFeature, acronym: str) -> float | None:
        """The depth an object gives, in the datum of the cell; None, with a question, where it cannot be used."""
        depth = feature.number(acronym)
        own = feature.attributes.get("VERDAT")
        other = own is not None and datum_name(own) != self.cell.sounding_datum
        if other or any(shapely.intersects(area, feature.geometry) for area in self._other_datum):
            self._ask(
                feature,
                f"its depths stand below another datum than {self.cell.sounding_datum}; it blocks until converted",
            )
            return None
        if DEPTH_UNKNOWN in self._codes(feature, "QUASOU"):
            return None
        if depth is not None and not -20.0 <= depth <= 11_000.0:
            self._ask(feature, f"its depth {depth:g} m is no depth of a waterway; it blocks")
            return None
        return depth

    def _codes(self, feature: ChartFeature, acronym: str) -> tuple[int, ...]:
        codes = feature.attributes.get(acronym, ())
        return codes if isinstance(codes, tuple) else ()

    def _ask(self, feature: ChartFeature, sentence: str) -> None:
        self.questions.append(
            Question(subject=label(feature), sentence=sentence, position=representative(feature.geometry))
        )

    def _surveyed(self, feature: ChartFeature) -> Iterator[DepthArea]:
        if not self._wanted(feature.geometry):
            return
        depth = self._depth(feature, "DRVAL1")
        if feature.number("DRVAL1") is None:
            self._ask(feature, "has no shallow end of its depth (DRVAL1); it blocks")
        left = feature.geometry
        if self._resurveyed is not None:
            left = shapely.difference(left, self._resurveyed)
            if left.is_empty:
                return
        yield from self._as_areas(feature, left, depth, self._uncertainty(feature, depth))

    def _blocked(self, feature: ChartFeature) -> Iterator[DepthArea]:
        if self._wanted(feature.geometry):
            yield from self._as_areas(feature, self._as_surface(feature.geometry), None, None)

    def _as_surface(self, geometry: Any) -> Any:
        """An area as it is; points and lines widened by the doubt of their place."""
        return (
            geometry if shapely.get_dimensions(geometry) == 2 else self.widened(geometry, self._place_doubt(geometry))
        )

    def _danger(self, feature: ChartFeature) -> Iterator[DepthArea]:
        """A danger with its depth; without one it blocks. Points and lines are widened by the doubt of their place."""
        if not self._wanted(feature.geometry):
            return
        depth = self._depth(feature, "VALSOU")
        if feature.number("VALSOU") is None:
            self._ask(feature, "has no depth (VALSOU); it blocks")
        yield from self._as_areas(feature, self._as_surface(feature.geometry), depth, self._uncertainty(feature, depth))

    def _place_doubt(self, geometry: Any) -> float:
        """How far a charted position may be off here. [m]"""
        zone = self.zone(geometry)
        return QUALITY_NOT_KNOWN if zone is None or zone.position is None else zone.position

    def widened(self, geometry: Any, distance: float) -> Any:
        """The shape with everything within a distance of it, as a polygon that lies outside the true curve."""
        flat = shapely.transform(geometry, lambda p: np.column_stack(self.plane.to_plane(p[:, 1], p[:, 0])))
        outside = distance / math.cos(math.pi / CORNERS)
        wide = shapely.buffer(flat, outside, quad_segs=CORNERS // 4)

        def back(points: Any) -> Any:
            latitude, longitude = self.plane.to_earth(points[:, 0], points[:, 1])
            return np.column_stack([longitude, latitude])

        return shapely.transform(wide, back)

    def _soundings(self, charted: Sequence[DepthArea]) -> Iterator[DepthArea]:
        """Soundings shallower than the area they lie in: each becomes a small area of its own."""
        soundings = self.cell.soundings
        if soundings is None or not charted:
            return
        points = shapely.points(soundings.longitude, soundings.latitude)
        shapes = [polygon_of(area) for area in charted]
        inside, which = shapely.STRtree(shapes).query(points, predicate="intersects")
        shallower: dict[int, float] = {}
        for point, area in zip(inside.tolist(), which.tolist(), strict=True):
            depth, around = float(soundings.depth[point]), charted[area].depth
            if around is not None and depth < around - 1e-6:
                shallower[point] = depth
        for point, depth in shallower.items():
            if not self._wanted(points[point]):
                continue
            zone = self.zone(points[point])
            shape = self.widened(points[point], self._place_doubt(points[point]))
            yield DepthArea(
                name=f"sounding {depth:g} m",
                ring=ring_of(shape.exterior),
                depth=max(depth, -20.0),
                uncertainty=None if zone is None else zone.depth_uncertainty(depth),
            )
        if shallower:
            self.notes.append(
                f"{len(shallower)} soundings are shallower than the area they lie in; each has its own area"
            )

    def _as_areas(
        self, feature: ChartFeature, geometry: Any, depth: float | None, uncertainty: float | None
    ) -> Iterator[DepthArea]:
        """One depth area for each polygon of a shape."""
        polygons = [part for part in shapely.get_parts(geometry) if part.geom_type == "Polygon"]
        if not polygons:
            self.notes.append(f"{label(feature)} is no area; it was left out")
        for polygon in polygons:
            yield DepthArea(
                name=feature.name or _by_depth(feature, depth),
                ring=ring_of(polygon.exterior),
                holes=tuple(ring_of(hole) for hole in polygon.interiors),
                depth=depth,
                uncertainty=uncertainty,
            )


def _by_depth(feature: ChartFeature, depth: float | None) -> str:
    """What an area without a name of its own is called: what it is, and how deep."""
    what = names().get(feature.kind, feature.kind)
    return what if depth is None else f"{what} of {depth:g} m"


def label(feature: ChartFeature) -> str:
    """How an object is named to a person: its own name, or what it is and the cell's name for it."""
    return feature.name or f"{names().get(feature.kind, feature.kind)} {feature.identifier}"


def representative(geometry: Any) -> Position:
    """A place on a shape."""
    point = shapely.point_on_surface(geometry)
    return Position(float(point.y), float(point.x))


def ring_of(ring: Any) -> tuple[Position, ...]:
    """A closed ring as positions, the first not repeated."""
    return tuple(Position(y, x) for x, y in shapely.get_coordinates(ring)[:-1].tolist())


def polygon_of(area: DepthArea) -> Any:
    """A depth area as a shape (longitude, latitude)."""
    rings = [[(place.longitude, place.latitude) for place in ring] for ring in (area.ring, *area.holes)]
    return shapely.Polygon(rings[0], rings[1:])
