"""GeoPackage (OGC): map features read in a separate process, written by GDAL; coordinates brought to WGS 84.

Source: [GeoPackage13].
"""

import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from leadsman.errors import refuse
from leadsman.files.formats.door import Faults
from leadsman.files.formats.isolated import Limits, read_layers
from leadsman.files.formats.map_features import plain_columns
from leadsman.files.formats.records import MapFeature
from leadsman.files.formats.times import shortened

MAGIC = b"SQLite format 3\x00"


def read(path: Path, *, limits: Limits | None = None) -> tuple[MapFeature, ...]:
    """Features of all layers, in WGS 84; a layer that does not name its coordinate system is refused."""
    faults = Faults(path)
    _check_kind(path, faults)
    answer = read_layers(path, limits=limits)
    features: list[MapFeature] = []
    for name, layer in answer["layers"].items():
        if layer["geometry"] is not None:
            features += _layer(name, layer, faults)
    faults.check()
    if not features:
        raise faults.stop("holds no feature")
    return tuple(features)


def _check_kind(path: Path, faults: Faults) -> None:
    """GDAL would open any of its formats under this name; only a GeoPackage is handed to it."""
    try:
        with path.open("rb") as stream:
            head = stream.read(len(MAGIC))
    except OSError as error:
        raise faults.stop(f"cannot be read: {error.strerror}") from None
    if head != MAGIC:
        raise faults.stop("is no GeoPackage")


def _layer(name: str, layer: dict[str, Any], faults: Faults) -> list[MapFeature]:
    """Features of one layer."""
    field = f"layer {shortened(name)}"
    if not layer["crs"]:
        faults.add("does not name its coordinate system; expected WGS 84 or another that is named", field=field)
        return []
    try:
        shapes = [None if text is None else shapely.from_wkb(text) for text in layer["geometry"]]
        moved = _to_wgs84(shapes, layer["crs"])
    except Exception as error:  # WKB or coordinate system of unknown hands: GEOS and PROJ each have their own errors
        faults.add(f"has geometry or coordinate system that cannot be used: {shortened(str(error))}", field=field)
        return []
    features = []
    for index, shape in enumerate(moved):
        if shape is None or shape.is_empty:
            continue
        west, south, east, north = shape.bounds
        if not (-180.0 <= west <= east <= 180.0 and -90.0 <= south <= north <= 90.0):
            faults.add(
                "lies outside the earth (latitude and longitude swapped?)", field=f"{field}, feature {index + 1}"
            )
            continue
        properties = {
            column: values[index] for column, values in layer["columns"].items() if values[index] not in (None, "")
        }
        features.append(MapFeature(geometry=shape, properties=properties, layer=name))
    return features


def _to_wgs84(shapes: list[Any], reference: str) -> list[Any]:
    """The shapes in longitude and latitude, WGS 84."""
    from pyproj import CRS, Transformer

    own = CRS.from_user_input(reference)
    if own.to_epsg() == 4326 or own.equals(CRS.from_user_input("OGC:CRS84"), ignore_axis_order=True):
        return shapes
    transformer = Transformer.from_crs(own, 4326, always_xy=True)

    def moved(points: Any) -> Any:
        x, y = transformer.transform(points[:, 0], points[:, 1], errcheck=True)
        return np.column_stack([x, y])

    return [None if shape is None else shapely.transform(shapely.force_2d(shape), moved) for shape in shapes]


def write(features: Iterable[MapFeature], path: Path) -> None:
    """Write the features, one layer for each of their `layer` names and kinds of geometry, whole or not at all."""
    import pyogrio

    groups: dict[str, list[MapFeature]] = {}
    for feature in features:
        groups.setdefault(feature.layer or "features", []).append(feature)
    refuse([] if groups else [("features", "there is none to write")])
    with tempfile.TemporaryDirectory(dir=path.parent, prefix=".leadsman-") as folder:
        beside = Path(folder) / "made.gpkg"
        for layer, members in groups.items():
            kinds = {member.geometry.geom_type for member in members}
            columns = plain_columns(members)
            pyogrio.raw.write(
                str(beside),
                geometry=np.array([shapely.to_wkb(member.geometry) for member in members], dtype=object),
                field_data=list(columns.values()),
                fields=np.array(list(columns), dtype=object),
                layer=layer,
                driver="GPKG",
                geometry_type=kinds.pop() if len(kinds) == 1 else "Unknown",
                crs="EPSG:4326",
                append=beside.exists(),
            )
        beside.replace(path)
