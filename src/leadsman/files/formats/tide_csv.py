"""Water levels as tables: high and low waters, and series from a gauge or a prediction.

Columns `time` (ISO 8601 with zone; or `time_utc`) and one of `height_m`, `level_m`, `height_ft`, `level_ft` above a
datum; a table of high and low waters may have `kind` (HW/LW, high/low, H/L). Remarks before the header: `# station:`,
`# datum:`, `# zone:` (UTC or a fixed difference such as +01:00), `# latitude:`, `# longitude:`, and for a series
`# kind:` (observed, predicted, forecast). Without zone or datum nothing is read.
"""

import math
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

from leadsman.errors import Impossible
from leadsman.files.formats.door import write_bytes
from leadsman.files.formats.records import array, elapsed_since
from leadsman.files.formats.series import HighLowTable, LevelKind, LevelSeries, TurningPoint
from leadsman.files.formats.tables import NUMBER, Row, Table
from leadsman.files.formats.times import NotATime, fixed_zone, instant, shortened, written
from leadsman.geometry import Position
from leadsman.units import FOOT

HEIGHT = {"height_m": 1.0, "level_m": 1.0, "height_ft": FOOT, "level_ft": FOOT}
COLUMNS = frozenset(("time", "time_utc", *HEIGHT, "kind"))
GREATEST = 25.0  # m; the greatest tides range over 16 m, so more is a slip of unit
HIGH, LOW = frozenset(("hw", "high", "h", "hhw", "lhw")), frozenset(("lw", "low", "l", "llw", "hlw"))


class _Levels:
    """What both kinds of table have in common: times, heights, and what the remarks say."""

    def __init__(self, path: Path, datum: str | None, zone: str | None, station: str | None) -> None:
        self.table = Table(path, COLUMNS)
        table = self.table
        self.time = table.needed("time", "time_utc")
        self.height = table.needed(*HEIGHT)
        self.zone = self._zone(zone)
        named = table.said("datum", datum)
        if named is None:
            raise table.faults.stop("is not named; write '# datum: LAT' (or another) before the header", field="datum")
        self.datum = named
        self.station = station or table.remarks.get("station") or path.stem
        self.position = self._position()

    def _zone(self, given: str | None) -> timezone | None:
        said = self.table.said("zone", given)
        try:
            zone = None if said is None else fixed_zone(said)
        except NotATime as problem:
            raise self.table.faults.stop(str(problem), field="zone") from None
        if self.time == "time_utc":
            if zone not in (None, UTC):
                raise self.table.faults.stop("differs from the column's name, time_utc", field="zone")
            return UTC
        return zone

    def _position(self) -> Position | None:
        texts = [self.table.remarks.get(name) for name in ("latitude", "longitude")]
        if texts == [None, None]:
            return None
        if any(text is None or not NUMBER.fullmatch(text) for text in texts):
            raise self.table.faults.stop("expected both latitude and longitude, in degrees", field="position")
        try:
            return Position(float(texts[0] or ""), float(texts[1] or ""))
        except Impossible as impossible:
            raise self.table.faults.stop(str(impossible), field="position") from None

    def rows(self) -> Iterable[tuple[Row, datetime, float | None]]:
        """(row, time, level) in order of time; an empty level is None, a faulty row is left out and told."""
        before: datetime | None = None
        unit = HEIGHT[self.height]
        for row in self.table.rows():
            try:
                time = instant(row.cells[self.time], self.zone)
            except NotATime as problem:
                self.table.faults.add(str(problem), line=row.line, field=self.time)
                continue
            if before is not None and time <= before:
                self.table.faults.add(
                    f"{written(time)} does not come after the line before it, {written(before)}",
                    line=row.line,
                    field=self.time,
                )
                continue
            before = time
            yield row, time, self.table.number(row, self.height, -GREATEST / unit, GREATEST / unit, unit=unit)


def read_high_low(
    path: Path, *, datum: str | None = None, zone: str | None = None, station: str | None = None
) -> HighLowTable:
    """A table of high and low waters; where it has no column `kind`, each is told by its neighbours."""
    levels = _Levels(path, datum, zone, station)
    table = levels.table
    found: list[tuple[int, datetime, float, bool | None]] = []
    for row, time, level in levels.rows():
        if level is None and not row.cells[levels.height]:
            table.faults.add("is empty; a missing height is never assumed", line=row.line, field=levels.height)
        if level is not None:
            found.append((row.line, time, level, _kind(table, row)))
    table.faults.check()
    points = _told_by_neighbours(table, found)
    table.faults.check()
    try:
        return HighLowTable(
            station=levels.station,
            datum=levels.datum,
            points=points,
            position=levels.position,
            notes=tuple(table.notes),
        )
    except Impossible as impossible:
        for field, problem in impossible.problems:
            table.faults.add(problem, field=field)
        raise table.faults.errors() from None


def _kind(table: Table, row: Row) -> bool | None:
    """Whether a row is a high water; None where the table has no such column."""
    text = row.cells.get("kind")
    if text is None:
        return None
    word = text.lower()
    if word not in HIGH | LOW:
        table.faults.add(f"'{shortened(text)}' is no kind; expected HW or LW", line=row.line, field="kind")
    return word in HIGH


def _told_by_neighbours(
    table: Table, found: list[tuple[int, datetime, float, bool | None]]
) -> tuple[TurningPoint, ...]:
    """Turning points whose kind, where not given, follows from the heights before and after."""
    points = []
    for index, (line, time, level, high) in enumerate(found):
        beside = [found[other][2] for other in (index - 1, index + 1) if 0 <= other < len(found)]
        if high is None:
            above, below = all(level > other for other in beside), all(level < other for other in beside)
            if above == below:
                table.faults.add(
                    "lies neither above nor below both its neighbours: no high and no low water; "
                    "if it is a series, read it as one", line=line, field="height",
                )  # fmt: skip
            high = above
        points.append(TurningPoint(time=time, level=level, high=high))
    return tuple(points)


def read_series(
    path: Path, *, datum: str | None = None, zone: str | None = None, station: str | None = None
) -> LevelSeries:
    """A series of levels; an empty level is a gap and stays one (NaN)."""
    levels = _Levels(path, datum, zone, station)
    times: list[datetime] = []
    heights: list[float] = []
    for _, time, level in levels.rows():
        times.append(time)
        heights.append(math.nan if level is None else level)
    said = levels.table.remarks.get("kind", "unknown").lower()
    if said not in list(LevelKind):
        levels.table.faults.add(f"'{shortened(said)}'; expected {', '.join(LevelKind)}", field="kind")
    levels.table.faults.check()
    if not times:
        raise levels.table.faults.stop("holds no level")
    return LevelSeries(
        station=levels.station,
        datum=levels.datum,
        start=times[0],
        elapsed=elapsed_since(times[0], times),
        level=array(heights),
        kind=LevelKind(said),
        position=levels.position,
        notes=tuple(levels.table.notes),
    )


def _remarks(station: str, datum: str, position: Position | None) -> list[str]:
    lines = [f"# station: {' '.join(station.split())}", f"# datum: {datum}"]
    if position is not None:
        lines += [f"# latitude: {position.latitude!r}", f"# longitude: {position.longitude!r}"]
    return lines


def write_high_low(table: HighLowTable, path: Path) -> None:
    """Write a table of high and low waters that `read_high_low` takes back."""
    lines = [*_remarks(table.station, table.datum, table.position), "time,height_m,kind"]
    lines += [f"{written(point.time)},{point.level!r},{'HW' if point.high else 'LW'}" for point in table.points]
    write_bytes(path, ("\n".join(lines) + "\n").encode())


def write_series(series: LevelSeries, path: Path) -> None:
    """Write a series that `read_series` takes back; a gap is an empty cell."""
    lines = [*_remarks(series.station, series.datum, series.position), f"# kind: {series.kind}", "time,level_m"]
    for seconds, level in zip(series.elapsed.tolist(), series.level.tolist(), strict=True):
        lines.append(f"{written(series.start + timedelta(seconds=seconds))},{level!r}" if math.isfinite(level) else
                     f"{written(series.start + timedelta(seconds=seconds))},")  # fmt: skip
    write_bytes(path, ("\n".join(lines) + "\n").encode())
