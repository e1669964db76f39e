"""GeoJSON (RFC 7946): map features read and written, longitude first, WGS 84, every position checked.

Source: [RFC7946].
"""

import json
import math
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import shapely

from leadsman.files.formats.door import MEGABYTE, Faults, read_text, write_bytes
from leadsman.files.formats.records import MapFeature
from leadsman.files.formats.times import shortened

LARGEST = 30 * MEGABYTE
DEPTH = {"Point": 0, "MultiPoint": 1, "LineString": 1, "MultiLineString": 2, "Polygon": 2, "MultiPolygon": 3}
OLD_CRS = ("urn:ogc:def:crs:OGC:1.3:CRS84", "urn:ogc:def:crs:OGC::CRS84", "EPSG:4326", "urn:ogc:def:crs:EPSG::4326")


def read(path: Path) -> tuple[MapFeature, ...]:
    """The features of a GeoJSON file; all its faults at once as `InputErrors`."""
    faults = Faults(path)
    text = read_text(path, LARGEST)
    try:
        content = json.loads(text, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        raise faults.stop(f"is not whole JSON: {error.msg}", line=error.lineno) from None
    except RecursionError:
        raise faults.stop("is nested deeper than any map") from None
    except ValueError as error:
        raise faults.stop(f"is not JSON: {error}") from None
    if not isinstance(content, dict):
        raise faults.stop("is no GeoJSON; expected an object with a type")
    _check_reference(content, faults)
    features = tuple(_features(content, faults))
    faults.check()
    if not features:
        raise faults.stop("holds no feature")
    return features


def _no_constant(name: str) -> float:
    raise ValueError(f"'{name}' is no number of JSON")


def _check_reference(content: Mapping[str, Any], faults: Faults) -> None:
    """Another coordinate system than WGS 84 (an old member, `crs`) is refused by name."""
    reference = content.get("crs")
    if reference is None:
        return
    properties = reference.get("properties") if isinstance(reference, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    if name not in OLD_CRS:
        faults.add(f"'{shortened(str(name))}' is not WGS 84; expected longitude and latitude in WGS 84", field="crs")


def _features(content: Mapping[str, Any], faults: Faults) -> Iterable[MapFeature]:
    """The features of a collection, a single feature, or a bare geometry."""
    kind = content.get("type")
    if kind == "FeatureCollection":
        members = content.get("features")
        if not isinstance(members, list):
            faults.add("is missing; a FeatureCollection needs a list", field="features")
            return
        for index, member in enumerate(members):
            yield from _feature(member, f"features[{index}]", faults)
    elif kind == "Feature":
        yield from _feature(content, "", faults)
    elif isinstance(kind, str) and kind in DEPTH:
        yield from _feature({"type": "Feature", "geometry": content, "properties": {}}, "", faults)
    else:
        faults.add(f"is {shortened(repr(kind))}; expected FeatureCollection, Feature or a geometry", field="type")


def _feature(member: Any, place: str, faults: Faults) -> Iterable[MapFeature]:
    """One feature, or none where it has no geometry or a fault."""
    if not isinstance(member, dict) or member.get("type") != "Feature":
        faults.add("is no Feature", field=place)
        return
    geometry, properties = member.get("geometry"), member.get("properties")
    if properties is not None and not isinstance(properties, dict):
        faults.add("is no object", field=f"{place}.properties".lstrip("."))
        return
    if geometry is None:
        return
    where = f"{place}.geometry".lstrip(".")
    problem = _geometry_problem(geometry)
    if problem:
        faults.add(problem, field=where)
        return
    try:
        flat = _flat(geometry["coordinates"], DEPTH[geometry["type"]])
        shape = shapely.geometry.shape({"type": geometry["type"], "coordinates": flat})
    except (ValueError, TypeError, shapely.errors.ShapelyError) as error:
        faults.add(f"is no {geometry['type']}: {error}", field=where)
        return
    yield MapFeature(geometry=shape, properties=dict(properties or {}))


def _geometry_problem(geometry: Any) -> str:
    """What is wrong with a geometry; empty: nothing."""
    if not isinstance(geometry, dict) or geometry.get("type") not in DEPTH:
        kind = geometry.get("type") if isinstance(geometry, dict) else geometry
        return f"type {shortened(repr(kind))} is not taken; expected one of {', '.join(DEPTH)}"
    coordinates: Any = geometry.get("coordinates")
    problem = _nested_problem(coordinates, DEPTH[geometry["type"]])
    if problem:
        return problem
    if geometry["type"] == "LineString" and len(coordinates) < 2:
        return f"a line has {len(coordinates)} positions; expected at least two"
    polygons: Any = {"Polygon": [coordinates], "MultiPolygon": coordinates}.get(geometry["type"], [])
    for rings in polygons:
        for ring in rings:
            if len(ring) < 4 or ring[0][:2] != ring[-1][:2]:
                return "a ring is not closed; expected at least four positions, the last equal to the first"
    return ""


def _nested_problem(value: Any, depth: int) -> str:
    """What is wrong with positions nested this deep."""
    if depth > 0:
        if not isinstance(value, list) or not value:
            return "coordinates are missing or not nested as its type demands"
        return next((problem for item in value if (problem := _nested_problem(item, depth - 1))), "")
    if not isinstance(value, list) or not 2 <= len(value) <= 4:
        return f"{shortened(repr(value))} is no position; expected [longitude, latitude]"
    if not all(isinstance(n, int | float) and not isinstance(n, bool) and abs(n) < 1e9 for n in value):
        return f"{shortened(repr(value))} is no position; expected numbers"
    longitude, latitude = value[:2]
    if not (-180.0 <= longitude <= 180.0 and -90.0 <= latitude <= 90.0):
        swapped = " (latitude and longitude swapped?)" if abs(longitude) <= 90.0 < abs(latitude) <= 180.0 else ""
        return f"{shortened(repr(value))} is no place on earth; expected [longitude, latitude] in degrees{swapped}"
    return ""


def _flat(coordinates: Any, depth: int) -> Any:
    """The coordinates without heights, which say nothing here and may stand at some positions only."""
    return coordinates[:2] if depth == 0 else [_flat(item, depth - 1) for item in coordinates]


def write(features: Iterable[MapFeature], path: Path) -> None:
    """Write the features as a FeatureCollection, whole or not at all."""
    write_bytes(path, to_bytes(features))


def to_bytes(features: Iterable[MapFeature]) -> bytes:
    """The features as GeoJSON; rings turn as the right-hand rule wants (RFC 7946, section 3.1.6)."""
    members = [
        {
            "type": "Feature",
            "geometry": shapely.geometry.mapping(_right_handed(feature.geometry)),
            "properties": {name: _plain(value) for name, value in feature.properties.items()},
        }
        for feature in features
    ]
    content = {"type": "FeatureCollection", "features": members}
    return json.dumps(content, allow_nan=False, ensure_ascii=False, indent=1).encode()


def _right_handed(geometry: Any) -> Any:
    """The geometry with outer rings counter-clockwise and holes clockwise."""
    return shapely.orient_polygons(geometry)


def _plain(value: Any) -> Any:
    """A property value as JSON can carry it; a missing number becomes null."""
    if isinstance(value, float) and not math.isfinite(value):
        return None
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return value if isinstance(value, str | int | float | bool) or value is None else str(value)
