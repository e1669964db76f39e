"""Draws the depth areas of example 1: bands along the track with banks beside them. Run after changing its track."""

import json
from pathlib import Path

import numpy as np

from leadsman.files.folder import open_folder
from leadsman.files.toml_file import read_toml
from leadsman.geometry import LocalPlane, Position, Track

FOLDER = Path(__file__).parents[1] / "examples/1-river-coaster"
BANDS = [  # from, to [m along the track], half width [m], depth [m], name, survey uncertainty 95 %, siltation, bottom
    (-160, 1200, 260, 11.5, "Outer Roads", 0.50, 0.0, "sand"),
    (1200, 2400, 260, 8.2, "Inner Roads", 0.40, 0.0, "sand"),
    (2400, 3600, 125, 4.6, "Bar Approach", 0.25, 0.10, "sand"),
    (3600, 4100, 125, 1.9, "Ambry Bar", 0.20, 0.20, "sand"),
    (4100, 5300, 125, 3.4, "Bar Inner", 0.25, 0.10, "sand"),
    (5300, 7100, 95, 2.9, "Lych Reach West", 0.20, 0.10, "mud"),
    (7100, 9000, 95, 2.4, "Lych Reach East", 0.20, 0.10, "mud"),
    (9000, 10580, 75, 1.9, "Mill Reach", 0.20, 0.10, "mud"),
    (10580, 10860, 65, -0.1, "Osier Sill", 0.15, 0.10, "stones"),
    (10860, None, 65, 1.6, "Tannery Pool", 0.20, 0.15, "mud"),
]
BANK = 130.0  # m beyond the channel on either side
BANK_RISE = 4.0  # m: how much less deep the banks are than the channel beside them
SPACING = 40.0  # m between corners along a band


def main() -> None:
    data = read_toml(open_folder(FOLDER), "waterway/waterway.toml").data
    plane = LocalPlane(Position(**data["origin"]))
    points = data["waypoint"]
    x, y = plane.to_plane([p["latitude"] for p in points], [p["longitude"] for p in points])
    track = Track(np.column_stack([x, y]), tuple(p["bend_radius_m"] for p in points[1:-1]))
    features = []
    for begin, end, half, depth, name, uncertainty, siltation, bottom in BANDS:
        end = track.length + 170.0 if end is None else end
        along = np.linspace(begin, end, max(2, round((end - begin) / SPACING) + 1))
        properties = {
            "name": name, "depth_m": depth, "survey_uncertainty_m": uncertainty, "siltation_m": siltation,
            "surveyed": "2031-03", "bottom": bottom,
        }
        features.append(feature(plane, track, along, -half, half, properties))
        for side, word in ((-1.0, "port bank"), (1.0, "starboard bank")):
            bank = properties | {"name": f"{name}, {word}", "depth_m": round(depth - BANK_RISE, 1)}
            low, high = sorted((side * half, side * (half + BANK)))
            features.append(feature(plane, track, along, low, high, bank))
    lines = ",\n".join(json.dumps(item) for item in features)
    text = f'{{"type": "FeatureCollection", "features": [\n{lines}\n]}}\n'
    (FOLDER / "waterway/areas.geojson").write_text(text)


def feature(plane, track, along, low, high, properties) -> dict:
    """A strip between two offsets from the track, starboard positive."""
    x, y, course = track.at(along)

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
    main()
