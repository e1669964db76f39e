"""What the HDF5 products of S-100 have in common: product, edition, coordinate system, datum, grid, times.

Each is checked before a value is used, and what is not supported is refused by its name. Most names of attributes are
from memory; where a file lacks one that could change a height or turn a grid round, it is refused.

Source: [S100Part10c], from memory; names and units as far as [S104Schema] and [S111Units] show them.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from leadsman.errors import Impossible
from leadsman.files.formats.datums import datum_name
from leadsman.files.formats.door import Faults
from leadsman.files.formats.isolated import Limits, Tree, read_tree
from leadsman.files.formats.records import Array, array
from leadsman.files.formats.series import LevelKind
from leadsman.files.formats.times import NotATime, instant, shortened
from leadsman.geometry import Position

SPECIFICATION = re.compile(r"INT\.IHO\.S-(\d{3})\.(\d+)\.(\d+)(?:\.(\d+))?", re.ASCII)
CODING_FORMATS = {  # 1, 2, 3, 4, 8 [read: reference sheet]; the others [memory]
    1: "fixed stations", 2: "regular grid", 3: "irregular grid", 4: "moving platform", 5: "irregular grid of cells",
    6: "cells of variable size", 7: "triangles", 8: "fixed stations one by one", 9: "regular grid with features",
}  # fmt: skip
KINDS = {1: LevelKind.OBSERVED, 2: LevelKind.PREDICTED, 5: LevelKind.FORECAST}  # [read]; 3, analysis, is neither
ROWS_FIRST = "longitude,latitude"  # along a row eastward first, rows from the south [memory]
LONGEST_SIDE = 100_000


@dataclass(frozen=True, eq=False)
class Product:
    """An opened file that says it is the wanted product."""

    tree: Tree
    faults: Faults
    edition: tuple[int, int]
    root: Mapping[str, Any]

    def instances(self, feature: str) -> tuple[str, ...]:
        """Paths of the instances of a feature: `/WaterLevel/WaterLevel.01`, ..."""
        found = tuple(
            p for p in self.tree.below(f"/{feature}") if re.fullmatch(rf"{feature}\.\d+", p.rsplit("/", 1)[1])
        )
        if not found:
            raise self.faults.stop(f"holds no {feature}.01", field=feature)
        return found

    def attribute(self, name: str, *places: str) -> Any:
        """An attribute from the first of these groups that has it, or from the root; None if none has."""
        for place in (*places, "/"):
            if name in self.tree.groups.get(place, {}):
                return self.tree.groups[place][name]
        return None

    def number(self, name: str, *places: str) -> float:
        """A finite number that must be there."""
        value = self.attribute(name, *places)
        if isinstance(value, list) and len(value) == 1:
            value = value[0]
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise self.faults.stop(f"is {shortened(str(value))}; expected a number", field=name)
        return float(value)

    def count(self, name: str, *places: str) -> int:
        """A whole number from 1 to the longest side of a grid."""
        value = self.number(name, *places)
        if not (value == int(value) and 1 <= value <= LONGEST_SIDE):
            raise self.faults.stop(f"is {value:g}; expected 1 to {LONGEST_SIDE}", field=name)
        return int(value)

    def datum(self, *places: str) -> str:
        """Short name of the vertical datum; one that is missing, of another list or unknown is refused."""
        if (reference := self.attribute("verticalDatumReference", *places)) not in (None, 1):
            raise self.faults.stop(f"is {reference}; expected 1, the datums of S-100", field="verticalDatumReference")
        code = self.attribute("verticalDatum", *places)
        name = datum_name(code)
        if name is None:
            raise self.faults.stop(
                f"is {shortened(str(code))}, which is no datum known here; a height without datum says nothing",
                field="verticalDatum",
            )
        return name

    def groups(self, instance: str) -> tuple[str, ...]:
        """Paths of the groups of values of an instance, in order of their numbers."""
        found = [p for p in self.tree.below(instance) if re.fullmatch(r"Group_\d{1,6}", p.rsplit("/", 1)[1])]
        found = [p for p in found if f"{p}/values" in self.tree.arrays]
        if not found:
            raise self.faults.stop("holds no Group_001 with values", field=instance)
        return tuple(sorted(found, key=lambda p: int(p.rsplit("_", 1)[1])))

    def column(self, group: str, name: str, fill: float) -> Array:
        """One field of the values of a group, with NaN where the file has its fill value."""
        values: NDArray[Any] = self.tree.arrays[f"{group}/values"]
        if values.dtype.names is None or name not in values.dtype.names:
            raise self.faults.stop(f"holds no field {name}", field=f"{group}/values")
        with np.errstate(invalid="ignore"):  # a damaged number may be a signalling NaN, which is a NaN all the same
            numbers = values[name].astype(np.float64)
        return np.where(np.isclose(numbers, fill, rtol=1e-6, atol=0.0), np.nan, numbers)

    def has_column(self, group: str, name: str) -> bool:
        """Whether the values of a group have this field."""
        return name in (self.tree.arrays[f"{group}/values"].dtype.names or ())

    def field_row(self, feature: str, name: str) -> Mapping[str, str]:
        """What `Group_F` says of a field of a feature; empty where it says nothing."""
        rows = self.tree.texts.get(f"/Group_F/{feature}", [])
        return next((row for row in rows if row.get("code") == name), {})

    def fill(self, feature: str, name: str, usual: float) -> float:
        """The value that means: nothing here."""
        try:
            return float(self.field_row(feature, name).get("fillValue", usual))
        except ValueError:
            return usual

    def check_unit(self, feature: str, name: str, allowed: tuple[str, ...]) -> None:
        """A unit that `Group_F` names must be one of these."""
        unit = self.field_row(feature, name).get("uom.name", "")
        if unit and unit.strip().lower() not in allowed:
            raise self.faults.stop(f"is in '{shortened(unit)}'; expected {allowed[0]}", field=name)


def open_product(path: Path, number: int, editions: range, *, limits: Limits | None = None) -> Product:
    """The file, once it says that it is S-`number` of one of these editions (first figures)."""
    tree, faults = read_tree(path, limits=limits), Faults(path)
    root = tree.groups.get("/", {})
    text = str(root.get("productSpecification", ""))
    match = SPECIFICATION.match(text)
    if match is None:
        what = f"is '{shortened(text)}'" if text else "is missing"
        raise faults.stop(f"{what}; expected INT.IHO.S-{number}.x.y", field="productSpecification")
    if int(match[1]) != number:
        raise faults.stop(f"says S-{match[1]}; expected S-{number}", field="productSpecification")
    edition = int(match[2]), int(match[3])
    if edition[0] not in editions:
        known = " and ".join(f"{each}.x" for each in editions)
        raise faults.stop(
            f"says edition {edition[0]}.{edition[1]} of S-{number}, which is not supported; expected {known}",
            field="productSpecification",
        )
    return Product(tree, faults, edition, root)


def coding_format(product: Product, feature: str, supported: tuple[int, ...]) -> int:
    """The data coding format of a feature; one that is not supported is refused by name."""
    value = product.attribute("dataCodingFormat", f"/{feature}")
    if value not in supported:
        name = CODING_FORMATS.get(value, "unknown") if isinstance(value, int) else "unknown"
        expected = " or ".join(f"{each} ({CODING_FORMATS[each]})" for each in supported)
        raise product.faults.stop(
            f"is {shortened(str(value))} ({name}), which is not supported; expected {expected}",
            field="dataCodingFormat",
        )
    return int(value)


def horizontal_crs(product: Product, allowed: tuple[int, ...]) -> int:
    """EPSG code of the horizontal coordinate system, one of those allowed."""
    code = product.root.get("horizontalCRS", product.root.get("horizontalDatumValue"))
    if code not in allowed:
        some = ", ".join(map(str, allowed[:3])) + ("..." if allowed[3:] else "")
        raise product.faults.stop(f"is {shortened(str(code))}; expected EPSG {some}", field="horizontalCRS")
    return int(code)


@dataclass(frozen=True, kw_only=True)
class Grid:
    """A regular grid: south-western node, steps, numbers of rows and columns; in the units of its coordinate system."""

    south: float
    west: float
    north_step: float
    east_step: float
    rows: int
    columns: int


def regular_grid(product: Product, instance: str, feature: str) -> Grid:
    """The grid of an instance; a scan that does not begin in the south-west with rows eastward is refused."""
    places = (instance, f"/{feature}")
    direction = product.attribute("sequencingRule.scanDirection", *places)
    if direction is not None and re.sub(r"\s", "", str(direction)).lower() != ROWS_FIRST:
        raise product.faults.stop(
            f"is '{shortened(str(direction))}', which is not supported; expected '{ROWS_FIRST}'",
            field="sequencingRule.scanDirection",
        )
    start = product.attribute("startSequence", *places)
    if start is not None and re.sub(r"\s", "", str(start)) not in ("0,0", ""):
        raise product.faults.stop(f"is '{shortened(str(start))}'; expected '0,0'", field="startSequence")
    steps = {}
    for name in ("gridSpacingLatitudinal", "gridSpacingLongitudinal"):
        steps[name] = product.number(name, *places)
        if steps[name] <= 0.0:
            raise product.faults.stop(f"is {steps[name]:g}; expected a step above zero", field=name)
    return Grid(
        south=product.number("gridOriginLatitude", *places),
        west=product.number("gridOriginLongitude", *places),
        north_step=steps["gridSpacingLatitudinal"],
        east_step=steps["gridSpacingLongitudinal"],
        rows=product.count("numPointsLatitudinal", *places),
        columns=product.count("numPointsLongitudinal", *places),
    )


def grid_lines(product: Product, grid: Grid) -> tuple[Array, Array]:
    """(latitudes of the rows, longitudes of the columns) of a grid in degrees; longitudes are brought below 180."""
    latitude = grid.south + grid.north_step * np.arange(grid.rows)
    longitude = (grid.west + grid.east_step * np.arange(grid.columns) + 180.0) % 360.0 - 180.0
    if not (np.all(np.abs(latitude) <= 90.0) and abs(grid.west) <= 180.0 and grid.east_step * grid.columns <= 361.0):
        raise product.faults.stop("goes beyond the earth's latitudes and longitudes", field="grid")
    return array(latitude), array(longitude)


def check_shape(product: Product, group: str, grid: Grid) -> None:
    """Values must have the rows and columns that the grid has."""
    shape = product.tree.arrays[f"{group}/values"].shape
    if shape != (grid.rows, grid.columns):
        raise product.faults.stop(f"has the shape {shape}; expected ({grid.rows}, {grid.columns})", field=group)


def group_times(product: Product, instance: str, groups: tuple[str, ...]) -> tuple[datetime, Array]:
    """(start, elapsed seconds) of groups that each hold one time, which must follow in order."""
    times: list[datetime] = []
    for group in groups:
        text = product.tree.groups[group].get("timePoint")
        if text is None:
            return _regular_times(product, instance, len(groups))
        times.append(time_of(product, text, f"{group}/timePoint"))
    elapsed = array([(time - times[0]).total_seconds() for time in times])
    if np.any(np.diff(elapsed) <= 0.0):
        raise product.faults.stop("is not later than that of the group before", field="timePoint")
    return times[0], elapsed


def _regular_times(product: Product, instance: str, count: int) -> tuple[datetime, Array]:
    """Times from the first record and the interval, where groups do not carry their own."""
    start = time_of(product, product.attribute("dateTimeOfFirstRecord", instance), "dateTimeOfFirstRecord")
    interval = interval_of(product, instance) if count > 1 else 0.0
    return start, array(interval * np.arange(count))


def interval_of(product: Product, *places: str) -> float:
    """The record interval, a second to a year. [s]"""
    interval = product.number("timeRecordInterval", *places)
    if not 1.0 <= interval <= timedelta(days=366).total_seconds():
        raise product.faults.stop(f"is {interval:g}; expected seconds", field="timeRecordInterval")
    return interval


def time_of(product: Product, text: Any, field: str) -> datetime:
    """A time of the file, which must have its zone."""
    try:
        return instant(str(text))
    except NotATime as problem:
        raise product.faults.stop(str(problem), field=field) from None


def level_kind(product: Product, *places: str) -> LevelKind:
    """Whether the values were observed, predicted or forecast."""
    for name in ("dataDynamicity", "typeOfWaterLevelData"):
        value = product.attribute(name, *places)
        if isinstance(value, int):
            return KINDS.get(value, LevelKind.UNKNOWN)
    return LevelKind.UNKNOWN


@dataclass(frozen=True, kw_only=True, eq=False)
class Station:
    """One station of coding format 8: who, where, when, and the path of its values."""

    name: str
    position: Position
    start: datetime
    elapsed: Array
    group: str


STATION_NOTE = "coding format 8 was read by a layout from memory; check a value against the issuing office's own"


def stations(product: Product, feature: str, instance: str) -> list[Station]:
    """The stations of coding format 8, laid out as remembered; each group is one station's series."""
    places = product.tree.arrays.get(f"{instance}/Positioning/geometryValues")
    groups = product.groups(instance)
    names = () if places is None else (places.dtype.names or ())
    if places is None or not {"latitude", "longitude"} <= set(names) or places.shape != (len(groups),):
        raise product.faults.stop("holds no position for each of its stations", field=f"{instance}/Positioning")
    found = []
    for index, group in enumerate(groups):
        values = product.tree.arrays[f"{group}/values"]
        if values.ndim != 1 or values.size == 0:
            raise product.faults.stop(f"has the shape {values.shape}; expected one row of times", field=group)
        if product.attribute("timeIntervalIndex", group) not in (None, 1):
            raise product.faults.stop("has times at uneven intervals, which are not supported", field=group)
        start = time_of(product, product.attribute("startDateTime", group), f"{group}/startDateTime")
        interval = interval_of(product, group, instance) if values.size > 1 else 0.0
        try:
            position = Position(float(places["latitude"][index]), float(places["longitude"][index]))
        except Impossible as impossible:
            raise product.faults.stop(str(impossible), field=f"{instance}/Positioning") from None
        name = product.attribute("stationName", group) or product.attribute("stationIdentification", group) or group
        found.append(
            Station(
                name=str(name),
                position=position,
                start=start,
                elapsed=array(interval * np.arange(values.size)),
                group=group,
            )
        )
    return found
