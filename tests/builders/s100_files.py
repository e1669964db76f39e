"""Makes small HDF5 files of S-104, S-111 and S-102 for tests, of invented water.

The layout is the one described in the reference sheet ecosystem.md, section 1, partly from memory there; builder and
readers have one author, so a round trip shows that they agree, not that the layout is the standard's.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import h5py
import numpy as np

LEVEL = np.dtype([("waterLevelHeight", "<f4"), ("waterLevelTrend", "u1"), ("uncertainty", "<f4")])
STREAM = np.dtype([("surfaceCurrentSpeed", "<f4"), ("surfaceCurrentDirection", "<f4")])
DEPTH = np.dtype([("depth", "<f4"), ("uncertainty", "<f4")])
FIELDS = {
    "WaterLevel": [
        ("waterLevelHeight", "metre", "-9999"), ("waterLevelTrend", "", "0"), ("uncertainty", "metre", "-1"),
    ],
    "SurfaceCurrent": [("surfaceCurrentSpeed", "knot", "-9999"), ("surfaceCurrentDirection", "degree", "-9999")],
    "BathymetryCoverage": [("depth", "metre", "1000000"), ("uncertainty", "metre", "1000000")],
}
GRID = {
    "gridOriginLatitude": -30.5, "gridOriginLongitude": -120.25, "gridSpacingLatitudinal": 0.01,
    "gridSpacingLongitudinal": 0.02, "numPointsLatitudinal": 2, "numPointsLongitudinal": 3,
    "startSequence": "0,0", "sequencingRule.scanDirection": "longitude, latitude",
}  # fmt: skip


def begin(path: Path, product: int, edition: str, feature: str, root: dict[str, Any] | None, coding: int) -> h5py.File:
    """The file with its root attributes, field descriptions and feature group."""
    file = h5py.File(path, "w")
    attributes: dict[str, Any] = {
        "productSpecification": f"INT.IHO.S-{product}.{edition}", "issueDate": "20260815", "horizontalCRS": 4326,
        "verticalDatum": 23, "verticalDatumReference": 1, **(root or {}),
    }  # fmt: skip
    for name, value in attributes.items():
        if value is not None:
            file.attrs[name] = value
    text = h5py.string_dtype()
    rows = np.array(FIELDS[feature], dtype=[("code", text), ("uom.name", text), ("fillValue", text)])
    file.create_group("Group_F").create_dataset(feature, data=rows)
    file.create_group(feature).attrs["dataCodingFormat"] = coding
    return file


def grids(
    path: Path,
    product: int,
    feature: str,
    kind: np.dtype[Any],
    layers: Sequence[Sequence[Any]],
    *,
    edition: str = "2.0",
    times: Sequence[str | None] = (),
    root: dict[str, Any] | None = None,
    instance: dict[str, Any] | None = None,
    coding: int = 2,
) -> Path:
    """A file of one regular grid; `layers` has for each group its fields as arrays (rows from the south)."""
    with begin(path, product, edition, feature, root, coding) as file:
        place = file.create_group(f"{feature}/{feature}.01")
        for name, value in {**GRID, **(instance or {})}.items():
            if value is not None:
                place.attrs[name] = value
        for index, fields in enumerate(layers):
            group = place.create_group(f"Group_{index + 1:03d}")
            if index < len(times) and times[index] is not None:
                group.attrs["timePoint"] = times[index]
            values = np.empty(np.shape(fields[0]), dtype=kind)
            for name, field in zip(kind.names or (), fields, strict=True):
                values[name] = field
            group.create_dataset("values", data=values, compression="gzip" if values.size > 10 else None)
    return path


def stations(
    path: Path,
    product: int,
    feature: str,
    kind: np.dtype[Any],
    rows: Sequence[tuple[str, float, float, Sequence[Any]]],
    *,
    edition: str = "1.1",
    interval: float = 600.0,
    attributes: dict[str, Any] | None = None,
) -> Path:
    """A file of coding format 8: rows of (name, latitude, longitude, fields as arrays over time)."""
    with begin(path, product, edition, feature, None, 8) as file:
        place = file.create_group(f"{feature}/{feature}.01")
        places = np.array([(lon, lat) for _, lat, lon, _ in rows], dtype=[("longitude", "<f8"), ("latitude", "<f8")])
        place.create_group("Positioning").create_dataset("geometryValues", data=places)
        for index, (name, _, _, fields) in enumerate(rows):
            group = place.create_group(f"Group_{index + 1:03d}")
            said = {"stationName": name, "startDateTime": "20260815T052800Z", "timeRecordInterval": interval}
            for key, value in {**said, **(attributes or {})}.items():
                group.attrs[key] = value
            values = np.empty(len(fields[0]), dtype=kind)
            for key, field in zip(kind.names or (), fields, strict=True):
                values[key] = field
            group.create_dataset("values", data=values)
    return path
