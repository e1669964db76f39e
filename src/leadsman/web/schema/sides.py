"""Room to the sides and ahead: widths, bends, basins, and where her way must begin to come off."""

from leadsman.web.schema.basics import Given, Quantity, Shape


class WidthRowShape(Shape):
    """One addend of a concept width, in beams; null where the guideline forbids the passage."""

    name: str
    beams: float | None
    source: str
    mark: str
    beyond: bool


class ReachWidthShape(Shape):
    """The width of one reach read backwards."""

    reach: str
    available: Quantity
    needed: Given
    margin: Given
    two_way: bool
    ways_text: str
    rows: list[WidthRowShape]
    rows_text: str
    assumed: list[str]
    swept: Quantity
    heading_offset: Quantity
    rudder: Given
    held: bool | None
    cross_stream: Quantity
    cross_wind: Given


class BendTurnShape(Shape):
    """One bend against her."""

    waypoint: str
    distance: Quantity
    radius: Quantity
    lengths: Quantity
    deflection: Quantity
    speed: Quantity
    rate_of_turn: Quantity
    rudder: Given
    held: bool | None
    held_text: str
    wheel_over: Given
    meet: Given
    available: Quantity
    needed: Given
    margin: Given
    swept: Quantity


class BasinRuleShape(Shape):
    """A diameter by one rule."""

    rule: str
    asks: Quantity
    source: str
    mark: str


class SwingRoomShape(Shape):
    """One basin against her."""

    basin: str
    diameter: Quantity
    lengths: Quantity
    stream: Quantity
    drift: Quantity
    rules: list[BasinRuleShape]
    rules_text: str


class WayOffShape(Shape):
    """How one reach is left slower."""

    reach: str
    speed: Quantity
    wanted: Quantity
    by: str
    distance: Given
    begin: Given
    room: Quantity
    crash_stop: Given
    source: str
    last_stop: Given


class SideTableShape(Shape):
    """A table of words about widths, bends, basins or speed, as paper and page show it."""

    title: str
    heads: list[str]
    rows: list[list[str]]
