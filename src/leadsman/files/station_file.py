"""Tables `[[tide_station]]` and `[[stream_station]]` of `waterway.toml`, with the CSV tables they name."""

import math
from collections.abc import Mapping

from pydantic import Field

from leadsman.errors import Impossible, InputError
from leadsman.files.folder import CallFolder
from leadsman.files.shape import FileShape, optional, required
from leadsman.files.tide_table_file import HIGH_LOW, LEVELS, STREAMS, Column, read_table
from leadsman.geometry import Position
from leadsman.station import Differences, Moments, Offsets, PortCurve, Secondary, StreamStation, TideStation
from leadsman.units import DEGREE, HOUR, KNOT, MINUTE


class StationShape(FileShape):
    """Anything with a name and a position."""

    name: str = required("a name")
    latitude: float = required("degrees north", -90.0, 90.0)
    longitude: float = required("degrees east", -180.0, 180.0)

    def position(self) -> Position:
        """As a thing."""
        return Position(self.latitude, self.longitude)


class ConstituentShape(FileShape):
    """One harmonic constituent of the level."""

    name: str = required("a constituent such as M2")
    amplitude_m: float = required("metres", 0.0, 10.0)
    phase_lag_deg: float = required("degrees on Greenwich", -360.0, 720.0)


class CurveRowShape(FileShape):
    """The level at one hour from high water."""

    hour: float = required("hours from high water, before is negative", -14.0, 14.0)
    spring: float = required("share of the range above low water at springs", 0.0, 1.0)
    neap: float = required("share of the range above low water at neaps", 0.0, 1.0)


class CurveShape(FileShape):
    """The port's own curve between high and low water."""

    spring_range_m: float = required("metres", 0.05, 20.0)
    neap_range_m: float = required("metres", 0.02, 20.0)
    row: list[CurveRowShape] = Field(min_length=3, description="tables [[tide_station.curve.row]]")


class DifferencesShape(FileShape):
    """Differences of high waters, or of low waters, from a standard port."""

    clock_h: list[float] = Field(min_length=2, max_length=2, description="two clock times of the standard port, hours")
    time_min: list[float] = Field(min_length=2, max_length=2, description="minutes added then")
    level_m: list[float] = Field(min_length=2, max_length=2, description="its mean spring and neap level, metres")
    height_m: list[float] = Field(min_length=2, max_length=2, description="metres added then")


class SecondaryShape(FileShape):
    """A secondary port by differences that vary with the time and the height of the standard port."""

    reference: str = required("the tide station that is its standard port")
    zone_h: float = required("hours added to the time of the tables to give UTC, west positive", -14.0, 14.0)
    high: DifferencesShape = required("a table of differences of high water")
    low: DifferencesShape = required("a table of differences of low water")
    standard_season_m: float = Field(default=0.0, description="metres, seasonal change at the standard port")
    secondary_season_m: float = Field(default=0.0, description="metres, seasonal change here")


class OffsetsShape(FileShape):
    """A subordinate station by one time and one height correction each for high and low water."""

    reference: str = required("the tide station it is predicted from")
    high_time_min: float = required("minutes added to the time of high water", -720.0, 720.0)
    low_time_min: float = required("minutes added to the time of low water", -720.0, 720.0)
    high_ratio: float = Field(default=1.0, gt=0.0, le=10.0, description="multiplies the height of high water")
    low_ratio: float = Field(default=1.0, gt=0.0, le=10.0, description="multiplies the height of low water")
    high_added_m: float = Field(default=0.0, ge=-10.0, le=10.0, description="metres added to it then")
    low_added_m: float = Field(default=0.0, ge=-10.0, le=10.0, description="metres added to it then")


class TideStationShape(StationShape):
    """Where the water level is known: from constants, a table, a series, or another station."""

    mean_level_m: float | None = optional("metres above chart datum", -20.0, 20.0)
    constituent: list[ConstituentShape] = Field(default=[], description="tables [[tide_station.constituent]]")
    high_low_table: str | None = optional("a CSV file of high and low waters beside this file: time,height_m")
    curve: CurveShape | None = optional("a table [tide_station.curve]")
    level_series: str | None = optional("a CSV file of predicted levels beside this file: time,level_m")
    secondary: SecondaryShape | None = optional("a table [tide_station.secondary]")
    offsets: OffsetsShape | None = optional("a table [tide_station.offsets]")
    gauge_series: str | None = optional("a CSV file of levels observed here: time,level_m")
    reference_only: bool = Field(default=False, description="true where others take their tide from it, but not here")
    deviation_m: float | None = optional("metres, one standard deviation", 0.0, 2.0)
    source: str = Field(default="", description="text")


class StreamRowShape(FileShape):
    """The stream at one hour from high water."""

    hour: float = required("hours from high water, before is negative", -12.5, 12.5)
    towards_deg: float = required("degrees true it sets towards", 0.0, 360.0)
    spring_kn: float = required("knots at springs", 0.0, 15.0)
    neap_kn: float = required("knots at neaps", 0.0, 15.0)


class StreamConstituentShape(FileShape):
    """One harmonic constituent of the stream along its axis."""

    name: str = required("a constituent such as M2")
    amplitude_kn: float = required("knots", 0.0, 15.0)
    phase_lag_deg: float = required("degrees on Greenwich", -360.0, 720.0)


class StreamStationShape(StationShape):
    """Where the stream is known: by hours from high water, from constants along an axis, or from a series."""

    reference: str = Field(default="", description="the tide station whose high water counts")
    spring_range_m: float | None = optional("metres", 0.05, 20.0)
    neap_range_m: float | None = optional("metres", 0.02, 20.0)
    row: list[StreamRowShape] = Field(default=[], description="tables [[stream_station.row]]")
    axis_towards_deg: float | None = optional("degrees true where a stream from constants sets to", 0.0, 360.0)
    mean_kn: float = Field(default=0.0, ge=-15.0, le=15.0, description="knots, steady part along the axis")
    constituent: list[StreamConstituentShape] = Field(
        default=[], description="tables [[stream_station.constituent]] along the axis"
    )
    stream_series: str | None = optional("a CSV file beside this file: time,rate_kn,towards_deg")
    deviation_kn: float | None = optional("knots, one standard deviation of the rate", 0.0, 5.0)
    source: str = Field(default="", description="text")


def tide_station(folder: CallFolder, shape: TideStationShape, errors: list[InputError]) -> TideStation:
    """The station in SI; faults of its tables are added to `errors`; `Impossible` for what it cannot be."""
    names = [line.name for line in shape.constituent]
    _refuse_twice(names, shape.name)
    _refuse_two_secondaries(shape)
    return TideStation(
        name=shape.name,
        position=shape.position(),
        mean_level=shape.mean_level_m,
        constituents=tuple((line.name, line.amplitude_m, line.phase_lag_deg * DEGREE) for line in shape.constituent),
        table=_moments(folder, shape.high_low_table, HIGH_LOW, errors),
        curve=None if shape.curve is None else _curve(shape.curve),
        series=_moments(folder, shape.level_series, LEVELS, errors),
        secondary=_secondary(shape),
        gauge=_moments(folder, shape.gauge_series, LEVELS, errors),
        reference_only=shape.reference_only,
        deviation=shape.deviation_m,
        source=shape.source,
    )


def _refuse_twice(names: list[str], station: str) -> None:
    if len(set(names)) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise Impossible([("constituent", f"'{twice}' stands twice at station '{station}'")])


def _refuse_two_secondaries(shape: TideStationShape) -> None:
    if shape.secondary is not None and shape.offsets is not None:
        raise Impossible([("offsets", f"stands beside secondary at station '{shape.name}'; expected one of them")])


def _table(
    folder: CallFolder, name: str | None, columns: Mapping[str, Column], errors: list[InputError]
) -> tuple[tuple[float, ...], ...]:
    """The rows of a CSV file beside `waterway.toml`; where it has faults, which are told, one row of noughts."""
    if name is None:
        return ()
    faults = len(errors)
    rows = read_table(folder, f"waterway/{name}", columns, errors)
    return ((0.0,) * (len(columns) + 1),) if len(errors) > faults else rows


def _moments(folder: CallFolder, name: str | None, columns: Mapping[str, Column], errors: list[InputError]) -> Moments:
    return tuple((row[0], row[1]) for row in _table(folder, name, columns, errors))


def _curve(shape: CurveShape) -> PortCurve:
    return PortCurve(
        rows=tuple((row.hour * HOUR, row.spring, row.neap) for row in shape.row),
        spring_range=shape.spring_range_m,
        neap_range=shape.neap_range_m,
    )


def _secondary(shape: TideStationShape) -> Secondary | None:
    if shape.secondary is not None:
        given = shape.secondary
        return Secondary(
            reference=given.reference,
            high=_differences(given.high),
            low=_differences(given.low),
            zone=given.zone_h * HOUR,
            standard_season=given.standard_season_m,
            secondary_season=given.secondary_season_m,
        )
    if shape.offsets is not None:
        one = shape.offsets
        return Secondary(
            reference=one.reference,
            high=Offsets(time=one.high_time_min * MINUTE, ratio=one.high_ratio, added=one.high_added_m),
            low=Offsets(time=one.low_time_min * MINUTE, ratio=one.low_ratio, added=one.low_added_m),
        )
    return None


def _differences(shape: DifferencesShape) -> Differences:
    def pair(values: list[float], unit: float) -> tuple[float, float]:
        return values[0] * unit, values[1] * unit

    return Differences(
        clock=pair(shape.clock_h, HOUR),
        time=pair(shape.time_min, MINUTE),
        level=pair(shape.level_m, 1.0),
        height=pair(shape.height_m, 1.0),
    )


def stream_station(folder: CallFolder, shape: StreamStationShape, errors: list[InputError]) -> StreamStation:
    """The station in SI; faults of its table are added to `errors`; `Impossible` for what it cannot be."""
    _refuse_twice([line.name for line in shape.constituent], shape.name)
    return StreamStation(
        name=shape.name,
        position=shape.position(),
        reference=shape.reference,
        spring_range=shape.spring_range_m,
        neap_range=shape.neap_range_m,
        rows=tuple(
            (row.hour * HOUR, row.towards_deg * DEGREE, row.spring_kn * KNOT, row.neap_kn * KNOT) for row in shape.row
        ),
        axis=None if shape.axis_towards_deg is None else shape.axis_towards_deg * DEGREE,
        mean=shape.mean_kn * KNOT,
        constituents=tuple(
            (line.name, line.amplitude_kn * KNOT, math.radians(line.phase_lag_deg)) for line in shape.constituent
        ),
        series=tuple((row[0], row[1], row[2]) for row in _table(folder, shape.stream_series, STREAMS, errors)),
        deviation=None if shape.deviation_kn is None else shape.deviation_kn * KNOT,
        source=shape.source,
    )
