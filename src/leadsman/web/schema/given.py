"""What the call itself gives: card, loading, forecast, margins, tugs."""

from leadsman.web.schema.basics import Given, Quantity, Shape, Stamp


class OrderShape(Shape):
    """One engine order that makes way ahead, with its speed in today's condition."""

    order: str
    speed: Given


class ShipCardShape(Shape):
    """The ship as handed over."""

    name: str
    call_sign: str
    kind: str
    length_overall: Given
    beam: Given
    keel_to_highest_point: Given
    engine: str
    thrusters: str
    rudders: str
    orders: list[OrderShape]
    defects: list[str]


class LoadingShape(Shape):
    """How she floats today."""

    condition: str
    draught_forward: Given
    draught_aft: Given
    draught: Given
    trim: Given
    displacement: Given
    air_draught: Given
    water_density: Given


class ForecastShape(Shape):
    """What weather and gauge are expected to do."""

    issued: Stamp
    source: str
    residual: Given
    residual_low: Given
    residual_high: Given
    wind: str
    waves: str
    visibility: Given


class UnderkeelMarginShape(Shape):
    """Metres, or a share of draught."""

    value: float
    share: float
    text: str


class MarginsShape(Shape):
    """What this port or company requires."""

    underkeel: UnderkeelMarginShape
    overhead: Quantity
    alongside: Given
    width: Given
    source: str


class TugShape(Shape):
    """A tug as ordered."""

    name: str
    kind: str
    bollard_pull: Quantity
