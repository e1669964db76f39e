"""A chart cell as lines and areas to draw upon: no part of the call, and nothing is computed from it."""

import json
from typing import Any

import shapely

from leadsman.files.formats.draft_areas import label
from leadsman.files.formats.records import ChartCell, ChartFeature

AREAS = ("DEPARE", "DRGARE", "UNSARE", "LNDARE", "FAIRWY")
LINES = ("COALNE", "SLCONS", "DEPCNT", "BRIDGE", "CBLOHD", "RECTRC", "NAVLNE", "BERTHS", "PONTON", "FLODOC", "HULKES")
DANGERS = ("WRECKS", "OBSTRN", "UWTROC")
MARKS = ("BOY", "BCN", "LIGHTS", "PILPNT", "MORFAC", "GATCON", "LOKBSN")
MOST = 20_000  # objects; more is no help to the eye
FINEST = 1e-6  # degrees, 0.1 m: corners closer than that to the line between their neighbours are left out


def underlay(cell: ChartCell) -> bytes:
    """GeoJSON with `kind` (area, line, danger, mark), `label` and `depth_m` of each object of use for drawing."""
    features = [found for feature in cell.features if (found := _feature(feature)) is not None][:MOST]
    whole = {"type": "FeatureCollection", "source": f"{cell.name} edition {cell.edition} update {cell.update}"}
    return json.dumps({**whole, "features": features}, ensure_ascii=False, separators=(",", ":")).encode()


def _feature(feature: ChartFeature) -> dict[str, Any] | None:
    kind = _kind(feature.kind)
    if kind is None:
        return None
    shape = shapely.simplify(feature.geometry, FINEST)
    depth = feature.number("DRVAL1") if kind == "area" else feature.number("VALSOU" if kind == "danger" else "VALDCO")
    return {
        "type": "Feature",
        "properties": {"kind": kind, "class": feature.kind, "label": feature.name or label(feature), "depth_m": depth},
        "geometry": json.loads(shapely.to_geojson(shape)),
    }


def _kind(name: str) -> str | None:
    for kind, names in (("area", AREAS), ("line", LINES), ("danger", DANGERS)):
        if name in names:
            return kind
    return "mark" if name.startswith(MARKS) else None
