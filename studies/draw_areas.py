"""Draws the depth areas of the examples: bands along the track with banks beside them, as `waterway/bands.toml` lists.

Run after changing a track or its bands: `python studies/draw_areas.py [EXAMPLE ...]`; without names, all of them.
"""

import json
import sys
from pathlib import Path

import numpy as np

from leadsman.files.folder import open_folder
from leadsman.files.toml_file import read_toml
from leadsman.geometry import LocalPlane, Position, Track

EXAMPLES = Path(__file__).parents[1] / "examples"
SIDES = {"port": -1.0, "starboard": 1.0}


def main(names: list[str]) -> None:
    for folder in sorted(EXAMPLES.iterdir()):
        if (folder / "waterway/bands.toml").exists() and (not names or folder.name in names):
            (folder / "waterway/areas.geojson").write_text(drawn(folder), encoding="utf-8")


def drawn(folder: Path) -> str:
    """The text of areas.geojson, one feature a line."""
    files = open_folder(folder)
    waterway = read_toml(files, "waterway/waterway.toml").data
    bands = read_toml(files, "waterway/bands.toml").data
    plane = LocalPlane(Position(**waterway["origin"]))
    points = waterway["waypoint"]
    x, y = plane.to_plane([p["latitude"] for p in points], [p["longitude"] for p in points])
    track = Track(np.column_stack([x, y]), tuple(p["bend_radius_m"] for p in points[1:-1]))
    features = [
        strip(plane, track, bands["spacing_m"], band, *piece)
        for band in bands["band"]
        for piece in pieces(band | {"surveyed": bands["surveyed"]}, bands["bank"])
    ]
    lines = ",\n".join(json.dumps(item) for item in features)
    return f'{{"type": "FeatureCollection", "features": [\n{lines}\n]}}\n'


def pieces(band: dict, banks: list[dict]) -> list[tuple[float, float, dict]]:
    """The band itself and the banks outward of it, as (low, high) offsets to starboard and the area's properties."""
    low, high = band.get("between_m") or (-band["half_width_m"], band["half_width_m"])
    keys = ("name", "depth_m", "survey_uncertainty_m", "siltation_m", "surveyed", "bottom")
    properties = {key: band[key] for key in keys}
    found = [(low, high, properties)]
    edges = {"port": low, "starboard": high}
    for side in band.get("banks", list(SIDES)):
        begin = edges[side]
        for bank in banks:
            end = begin + SIDES[side] * bank["width_m"]
            name = f"{band['name']}, {side} {bank['name']}"
            depth = round(band["depth_m"] - bank["rise_m"], 1)
            found.append((*sorted((begin, end)), properties | {"name": name, "depth_m": depth}))
            begin = end
    return found


def strip(
    plane: LocalPlane, track: Track, spacing: float, band: dict, low: float, high: float, properties: dict
) -> dict:
    """A strip along the track between two offsets from it, starboard positive."""
    begin, end = band["from_m"], band.get("to_m", track.length + band.get("beyond_end_m", 0.0))
    x, y, course = track.at(np.linspace(begin, end, max(2, round((end - begin) / spacing) + 1)))

    def edge(offset: float) -> np.ndarray:
        latitude, longitude = plane.to_earth(x - offset * np.sin(course), y + offset * np.cos(course))
        return np.round(np.column_stack([longitude, latitude]), 6)

    ring = [*edge(low).tolist(), *edge(high)[::-1].tolist()]
    return {
        "type": "Feature",
        "properties": properties,
        "geometry": {"type": "Polygon", "coordinates": [[*ring, ring[0]]]},
    }


if __name__ == "__main__":
    main(sys.argv[1:])
