"""Width of channels: the concept width of the guidelines, row by row, read forwards and backwards.

Widths come as multiples of the greatest beam. Forwards: the conditions give the rows, their sum the width. Backwards:
the width there is gives what is left or lacking, and the rows with most weight say what it is spent on.
"""

import math
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, TypeAlias

from leadsman.physics.published import published
from leadsman.units import KNOT

Manoeuvrability: TypeAlias = Literal["good", "moderate", "poor"]
Aids: TypeAlias = Literal["excellent", "good", "moderate"]
Bottom: TypeAlias = Literal["soft", "hard"]
Bank: TypeAlias = Literal["gentle", "sloping", "steep"]
Place: TypeAlias = Literal["outer", "inner"]

_PIANC = published("width")["pianc"]


class Row(NamedTuple):
    """One addend of a width in beams; `beyond`: the table ends before the value at hand, its last figure is given."""

    name: str
    beams: float
    source: str
    mark: str
    beyond: bool = False


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """What the concept width depends on. SI: speeds and currents [m/s], wave height [m].

    Raises `ValueError` for a figure that is not a number: calm is not assumed.
    """

    place: Place
    manoeuvrability: Manoeuvrability
    speed: float
    cross_wind: float
    cross_current: float
    along_current: float
    wave_height: float
    """Significant, of beam and stern-quartering waves."""
    aids: Aids
    bottom: Bottom
    depth_to_draught: float
    bank_port: Bank
    bank_starboard: Bank

    def __post_init__(self) -> None:
        for name in ("speed", "cross_wind", "cross_current", "along_current", "wave_height", "depth_to_draught"):
            if not math.isfinite(getattr(self, name)):
                raise ValueError(f"{name} is missing; expected a number")


@dataclass(frozen=True, kw_only=True)
class Width:
    """A needed width as the sum of rows; infinite where a row forbids the passage."""

    rows: tuple[Row, ...]

    @property
    def beams(self) -> float:
        """The needed width in beams."""
        return sum(row.beams for row in self.rows)

    @property
    def beyond(self) -> tuple[Row, ...]:
        """Rows whose table ends before the value at hand."""
        return tuple(row for row in self.rows if row.beyond)

    def metres(self, beam: float) -> float:
        """The needed width of a ship of this beam. [m]"""
        return self.beams * beam

    def margin(self, available: float, beam: float) -> float:
        """What the available width [m] leaves above the needed one; negative: it falls short. [m]"""
        return available - self.metres(beam)

    def heaviest(self) -> tuple[Row, ...]:
        """The rows that ask for width, the one with most weight first."""
        return tuple(sorted((row for row in self.rows if row.beams > 0.0), key=lambda row: -row.beams))


def one_way(conditions: Conditions) -> Width:
    """Concept width of one lane: basic lane, additions and both banks. Source: [PIANC121]."""
    return Width(rows=(_basic_lane(conditions), *_additions(conditions), *_banks(conditions)))


def two_way(conditions: Conditions) -> Width:
    """Concept width for two equal ships meeting: both lanes, both banks, passing distance. Source: [PIANC121]."""
    lane = tuple(
        row._replace(beams=2.0 * row.beams, name=f"{row.name}, both lanes")
        for row in (_basic_lane(conditions), *_additions(conditions))
    )
    passing = _PIANC["passing"]
    column = _column(conditions.speed)
    between = _row("passing distance", passing[conditions.place][column], passing, _too_slow(conditions.speed))
    return Width(rows=(*lane, *_banks(conditions), between))


def additions_of_1997(
    place: Place, traffic: Literal["light", "moderate", "heavy"], cargo: Literal["low", "medium", "high"]
) -> tuple[Row, Row]:
    """Traffic density (two-way only) and hazard of cargo, asked for in 1997 and dropped since. Source: [PIANC1997]."""
    table = published("width")["pianc_1997"]
    return (
        Row("traffic density", table["traffic"][place][traffic], "PIANC1997", table["mark"]),
        Row("hazard of cargo", table["cargo"][place][cargo], "PIANC1997", table["mark"]),
    )


def corps(
    cross_section: Literal["shallow", "canal", "trench"],
    aids: Literal["best", "average"],
    current: float,
    ways: Literal["one_way", "two_way"],
) -> Width:
    """Whole width by the greatest current [m/s]; `best` aids go with a constant cross-section, `average` with varying.

    Raises `ValueError` for two ways with average aids, which have no figures. Source: [EM1613], memory.
    """
    table = published("width")["corps"]
    if aids not in table[ways]:
        raise ValueError("two-way widths are given for a constant cross-section with best aids only")
    current_kn, limits = _knots(current), table["current_kn"]
    column = next((number for number, upto in enumerate(limits) if current_kn <= upto), len(limits) - 1)
    beams = table[ways][aids][cross_section][column]
    return Width(rows=(Row("whole width", beams, table["source"], table["mark"], current_kn > limits[-1]),))


def _knots(speed: float) -> float:
    """Knots of a speed of either sign, rounded so that a whole knot falls into the class it is printed in."""
    return round(abs(speed) / KNOT, 6)


def _column(speed: float) -> int:
    """0 fast, 1 moderate, 2 slow."""
    speed_kn = _knots(speed)
    return 0 if speed_kn >= _PIANC["fast_from_kn"] else 1 if speed_kn >= _PIANC["moderate_from_kn"] else 2


def _too_slow(speed: float) -> bool:
    """Whether the ship is slower than the slowest the table speaks of."""
    return bool(_knots(speed) < _PIANC["slow_from_kn"])


def _row(name: str, beams: float, table: dict[str, Any], beyond: bool = False) -> Row:
    return Row(name, beams, _PIANC["source"], table["mark"], beyond)


def _classed(name: str, value: float, conditions: Conditions) -> Row:
    """The row of a table whose classes are those of a value."""
    table = _PIANC[name]
    found = next(
        one
        for one in table["class"]
        if value <= one.get("upto", float("inf")) and value < one.get("below", float("inf"))
    )
    ends = min(found.get("ends", float("inf")), table.get(f"{conditions.place}_ends", float("inf")))
    return _row(name.replace("_", " "), found[conditions.place][_column(conditions.speed)], table, value > ends)


def _basic_lane(conditions: Conditions) -> Row:
    table = _PIANC["basic_lane"]
    return _row("basic lane", table[conditions.manoeuvrability], table)


def _additions(conditions: Conditions) -> tuple[Row, ...]:
    aids, bottom, depth = (_PIANC[name] for name in ("aids", "bottom", "depth"))
    ratio = conditions.depth_to_draught
    by_place = depth[conditions.place]
    shallow = by_place["middle"] if ratio >= by_place["middle_from"] else by_place["shallow"]
    return (
        _classed("speed", 0.0, conditions)._replace(beyond=_too_slow(conditions.speed)),
        _classed("cross_wind", _knots(conditions.cross_wind), conditions),
        _classed("cross_current", _knots(conditions.cross_current), conditions),
        _classed("along_current", _knots(conditions.along_current), conditions),
        _classed("waves", conditions.wave_height, conditions),
        _row("aids to navigation", aids[conditions.aids], aids),
        _row("bottom", 0.0 if ratio >= bottom["deep_from"] else bottom[conditions.bottom], bottom),
        _row("depth", 0.0 if ratio >= depth["deep_from"] else shallow, depth),
    )


def _banks(conditions: Conditions) -> tuple[Row, Row]:
    table, column = _PIANC["bank"], _column(conditions.speed)
    return (
        _row("bank to port", table[conditions.bank_port][column], table),
        _row("bank to starboard", table[conditions.bank_starboard][column], table),
    )
