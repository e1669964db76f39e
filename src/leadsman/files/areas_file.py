"""`areas.geojson`: depth areas as polygons (RFC 7946: longitude first), with the depth in the properties."""

import difflib
import json
import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

from leadsman.errors import Impossible, InputError
from leadsman.files.folder import CallFolder
from leadsman.geometry import Position
from leadsman.waterway import DepthArea

PROPERTIES = ("name", "depth_m", "survey_uncertainty_m", "siltation_m", "surveyed", "bottom")
MAXIMUM_CORNERS = 500_000


def read_areas(folder: CallFolder, name: str, errors: list[InputError]) -> tuple[DepthArea, ...]:
    """All depth areas; faults are added to `errors` with the line their feature begins on."""
    label = folder.label(name)
    raw = folder.read(name)
    try:
        text = raw.decode("utf-8")
        data = json.loads(text, parse_constant=_no_constant)
    except (UnicodeDecodeError, ValueError, RecursionError) as error:
        line = getattr(error, "lineno", None)
        errors.append(InputError(label, line, "", f"is not GeoJSON: {error}; expected a FeatureCollection of polygons"))
        return ()
    features = data.get("features") if isinstance(data, dict) else None
    if not isinstance(features, list):
        errors.append(InputError(label, 1, "features", "is missing; expected a FeatureCollection of polygons"))
        return ()
    lines = [text.count("\n", 0, found.start()) + 1 for found in re.finditer(r'"type"\s*:\s*"Feature"', text)]
    areas: list[DepthArea] = []
    for index, feature in enumerate(features):
        line = lines[index] if index < len(lines) else None
        try:
            areas.extend(_areas_of(feature, f"area {index + 1}"))
        except Impossible as impossible:
            errors.extend(InputError(label, line, field, why) for field, why in impossible.problems)
    return tuple(areas)


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is not a number")


def _areas_of(feature: Any, unnamed: str) -> Iterator[DepthArea]:
    if not isinstance(feature, dict) or not isinstance(feature.get("properties"), dict):
        raise Impossible([("properties", "is missing; expected a Feature with name and depth_m in its properties")])
    properties = feature["properties"]
    name = str(properties.get("name") or unnamed)
    _check_names(properties, name)
    for polygon in _polygons(feature.get("geometry"), name):
        rings = [_ring(ring, name) for ring in polygon]
        yield DepthArea(
            name=name,
            ring=rings[0],
            holes=tuple(rings[1:]),
            depth=_depth(properties, name),
            uncertainty=_number(properties, "survey_uncertainty_m", name),
            siltation=_number(properties, "siltation_m", name) or 0.0,
            surveyed=str(properties.get("surveyed") or ""),
            bottom=str(properties.get("bottom") or ""),
        )


def _polygons(geometry: Any, name: str) -> list[list[Any]]:
    """The polygons of a geometry, each a list of rings."""
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    if kind not in ("Polygon", "MultiPolygon"):
        raise Impossible([("geometry", f"area '{name}' is a {kind}; expected a Polygon or MultiPolygon")])
    polygons = [geometry.get("coordinates")] if kind == "Polygon" else geometry.get("coordinates")
    if not isinstance(polygons, list) or not all(isinstance(rings, list) and rings for rings in polygons):
        raise Impossible([("coordinates", f"area '{name}' has no boundary; expected a list of rings")])
    return polygons


def _check_names(properties: Mapping[str, Any], name: str) -> None:
    unknown = [key for key in properties if key not in PROPERTIES]
    problems = []
    for key in unknown:
        close = difflib.get_close_matches(key, PROPERTIES, n=1, cutoff=0.6)
        hint = f"did you mean '{close[0]}'?" if close else f"expected one of {', '.join(PROPERTIES)}"
        problems.append((key, f"in area '{name}' is not known here; {hint}"))
    if problems:
        raise Impossible(problems)


def _depth(properties: Mapping[str, Any], name: str) -> float | None:
    if properties.get("depth_m") == "unsurveyed":
        return None
    depth = _number(properties, "depth_m", name)
    if depth is None:
        raise Impossible(
            [
                (
                    "depth_m",
                    f"area '{name}' has none; a missing depth is never assumed (write \"unsurveyed\" to exclude it)",
                )
            ]
        )
    return depth


def _number(properties: Mapping[str, Any], key: str, name: str) -> float | None:
    value = properties.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise Impossible([(key, f"got '{value}' in area '{name}'; expected metres")])
    return float(value)


def _ring(ring: Any, name: str) -> tuple[Position, ...]:
    if not isinstance(ring, list) or len(ring) > MAXIMUM_CORNERS:
        raise Impossible([("coordinates", f"area '{name}' has no ring of at most {MAXIMUM_CORNERS} corners")])
    places = []
    for corner in ring:
        numbers = (
            isinstance(corner, list) and len(corner) >= 2 and all(isinstance(part, int | float) for part in corner[:2])
        )
        if not numbers:
            raise Impossible(
                [("coordinates", f"area '{name}' has a corner '{corner}'; expected [longitude, latitude]")]
            )
        places.append(Position(latitude=float(corner[1]), longitude=float(corner[0])))
    if len(places) > 1 and places[0] == places[-1]:
        places.pop()
    return tuple(places)
