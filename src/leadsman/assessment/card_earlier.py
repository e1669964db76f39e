"""A card against an earlier card of the same ship: what is built does not change between voyages."""

from collections.abc import Iterator

from leadsman.assessment.card_reading import spoken
from leadsman.figure import Figure, Finding, Grade, Origin
from leadsman.format import figure as written
from leadsman.ship import Ship

BUILT = {  # field, its unit, and how much two cards may differ by rounding, as a share
    "length_overall": ("m", 0.002),
    "length_between_perpendiculars": ("m", 0.002),
    "beam": ("m", 0.005),
    "moulded_depth": ("m", 0.005),
    "summer_draught": ("m", 0.005),
    "keel_to_highest_point": ("m", 0.005),
    "bridge_to_bow": ("m", 0.005),
    "bridge_to_stern": ("m", 0.01),
    "deadweight": ("kg", 0.005),
    "lightship": ("kg", 0.01),
    "summer_displacement": ("kg", 0.005),
}


def compare_with_earlier(ship: Ship, earlier: Ship) -> tuple[Finding, ...]:
    """A caution for each built particular that differs from the earlier card; nothing for what either leaves out."""
    return tuple(_differences(ship, earlier))


def _differences(ship: Ship, earlier: Ship) -> Iterator[Finding]:
    pairs = [(name, getattr(ship, name), getattr(earlier, name), *BUILT[name]) for name in BUILT]
    pairs.append(("power", ship.engine.power, earlier.engine.power, "W", 0.005))
    for name, now, then, unit, share in pairs:
        if now is None or then is None or abs(now - then) <= share * then:
            continue
        yield Finding(
            grade=Grade.CAUTION,
            subject="earlier_card",
            sentence=f"{spoken(name).capitalize()} is {_written(unit, now)} on this card and {_written(unit, then)} "
            "on the earlier one. Was she rebuilt, or is one of them miswritten?",
            value=now,
            limit=then,
            unit=unit,
            place=name,
            source="CardIdentities",
        )


def _written(unit: str, value: float) -> str:
    return written(Figure(name="", value=value, unit=unit, origin=Origin.GIVEN))
