"""The drawing: areas, gates, marks, reaches, basins, berths, her outline."""

from leadsman.web.schema.answer import OriginShape
from leadsman.web.schema.basics import Point, Quantity, Shape


class AreaShape(Shape):
    """Water of one least depth; null: unsurveyed."""

    name: str
    depth: float | None
    ring: list[Point]
    holes: list[list[Point]]
    bottom: str
    surveyed: str
    net: Quantity | None


class PlaceShape(Shape):
    """A named point."""

    name: str
    at: Point


class GatePlaceShape(PlaceShape):
    """Where a gate stands."""

    kind: str


class MarkShape(PlaceShape):
    """Something to steer or look by."""

    kind: str
    description: str


class ReachShape(Shape):
    """Widths either side of the track, inward bound. [m]"""

    name: str
    width_port: float
    width_starboard: float


class BasinShape(PlaceShape):
    """A circle to swing in."""

    diameter: float


class BerthShape(Shape):
    """A quay face."""

    name: str
    begin: Point
    end: Point


class OutlineShape(Shape):
    """The ship's extent. [m]"""

    length_overall: float
    beam: float


class PlanShape(Shape):
    """What the plan drawing needs, on the local plane."""

    origin: OriginShape
    areas: list[AreaShape]
    waypoints: list[PlaceShape]
    reaches: list[ReachShape]
    gates: list[GatePlaceShape]
    marks: list[MarkShape]
    basins: list[BasinShape]
    berths: list[BerthShape]
    ship: OutlineShape
