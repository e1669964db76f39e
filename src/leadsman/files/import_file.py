"""What a file of others holds, and the same as files of ours: pieces for a port call's folder, to be looked through.

With a call, what is read is brought to its waterway: only what lies along its track, heights above its chart datum, and
grids of levels and streams at its waypoints. Without one, grids are only told, since nobody said where they are wanted.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

import numpy as np

from leadsman.errors import Impossible
from leadsman.files.answers import Answers
from leadsman.files.export_call import route_of
from leadsman.files.formats import (
    ais,
    geojson,
    geopackage,
    gpx,
    map_features,
    s57,
    s102,
    s104,
    s111,
    soundings_csv,
    tide_csv,
)
from leadsman.files.formats.draft_files import areas_bytes, files_of
from leadsman.files.formats.draft_track import track_lines
from leadsman.files.formats.recognise import Format, recognise
from leadsman.files.formats.records import MapFeature, Route, Soundings, printable
from leadsman.files.formats.route_files import corridor, distance_between, read_routes
from leadsman.files.formats.series import (
    DepthGrid,
    HighLowTable,
    LevelGrid,
    LevelKind,
    LevelSeries,
    StreamGrid,
    StreamSeries,
)
from leadsman.files.formats.survey_areas import areas_of_grid, grid_of
from leadsman.files.formats.times import written
from leadsman.files.formats.toml_words import place_lines, quoted, remark
from leadsman.files.formats.waterway_draft import draft
from leadsman.geometry import Position
from leadsman.portcall import PortCall
from leadsman.sailed import SailedTrack
from leadsman.units import DEGREE, KNOT, NAUTICAL_MILE
from leadsman.waterway import DepthArea

BESIDE = 500.0  # m beside the track that depths are taken from. Ours, no source


@dataclass(frozen=True, kw_only=True)
class Imported:
    """What a file holds, in sentences, and as files of ours."""

    format: Format
    holds: tuple[str, ...]
    notes: tuple[str, ...]
    """What was left out, or must still be given."""
    files: Mapping[str, bytes]
    """By name; `*.toml` are tables to be put into `waterway.toml`, beside which the others belong."""


class _Gathered:
    """Gathers the parts of one answer."""

    def __init__(self, kind: Format, call: PortCall | None) -> None:
        self.kind = kind
        self.call = call
        self.holds: list[str] = []
        self.notes: list[str] = []
        self.files: dict[str, bytes] = {}

    def done(self) -> Imported:
        holds, notes = (tuple(map(printable, lines)) for lines in (self.holds, self.notes))
        return Imported(format=self.kind, holds=holds, notes=notes, files=self.files)

    def rise(self, datum: str) -> float | None:
        """Height of a datum above the call's chart datum; None, with a note, where it is not known. [m]"""
        if self.call is None:
            if datum != "CD":
                self.notes.append(f"heights and depths stand at {datum}: bring them to chart datum, or name the call")
            return 0.0
        waterway = self.call.waterway
        if datum in ("CD", waterway.chart_datum):
            return 0.0
        if datum in waterway.datums:
            return waterway.datums[datum]
        raise Impossible(
            [("datum", f"is {datum}, whose height above chart datum waterway '{waterway.name}' does not give")]
        )

    def wanted_at(self) -> tuple[tuple[str, Position], ...]:
        """Where a grid is sampled: at the waypoints of the call."""
        if self.call is None:
            self.notes.append("a grid is sampled at the waypoints of a call: name the call")
            return ()
        return tuple((point.name, point.position) for point in self.call.waterway.waypoints)


def import_file(path: Path, call: PortCall | None = None) -> Imported:
    """What a file of others holds; `InputErrors` for its faults, `Impossible` where it does not fit the call."""
    kind = recognise(path)
    gathered = _Gathered(kind, call)
    READERS[kind](path, gathered)
    return gathered.done()


def _cell(path: Path, out: _Gathered) -> None:
    cell = s57.read(path)
    route = None if out.call is None else route_of(out.call)
    found = draft(cell, along=route)
    out.holds += [
        f"chart cell {found.cell}, depths below {found.chart_datum}",
        f"{len(found.areas)} depth areas, {len(found.gates) + len(found.unknown_gates)} gates, "
        f"{len(found.berths)} berths, {len(found.marks)} marks, {len(found.fairways)} fairways",
    ]
    out.notes += [f"{question.subject}: {question.sentence}" for question in found.questions]
    out.notes += found.notes
    out.files |= files_of(found, name=cell.name, route=route)


def _routes(path: Path, out: _Gathered) -> None:
    for name, route in read_routes(path).items():
        _route(name, route, out)


def _route(name: str, route: Route, out: _Gathered) -> None:
    places = [point.position for point in route.waypoints]
    miles = sum(distance_between(a, b) for a, b in pairwise(places)) / NAUTICAL_MILE
    out.holds.append(f"route '{name}': {len(places)} waypoints, {miles:.1f} nm")
    out.notes += route.notes
    answers = Answers()
    lines = [remark("Waypoints and reaches for waterway.toml, inward bound; what is asked for stands as a remark.")]
    lines += track_lines((), route, answers)
    out.files[_free("track.toml", out.files)] = ("\n".join(lines) + "\n").encode()


def _tracks(tracks: Sequence[SailedTrack], out: _Gathered) -> None:
    features: list[MapFeature] = []
    for track in tracks:
        span = f"{written(track.time(0))} to {written(track.time(len(track.elapsed) - 1))}"
        out.holds.append(f"sailed track '{track.name or track.identifier}': {len(track.elapsed)} positions, {span}")
        out.notes += track.notes
        features += map_features.of_track(track)
    if features:
        out.files["sailed_tracks.geojson"] = geojson.to_bytes(features)


def _gpx(path: Path, out: _Gathered) -> None:
    content = gpx.read(path)
    for route in content.routes:
        _route(route.name, route, out)
    _tracks(content.tracks, out)
    if content.points:
        out.holds.append(f"{len(content.points)} points")
    out.notes += content.notes


def _map(read: Callable[[Path], tuple[MapFeature, ...]]) -> Callable[[Path, _Gathered], None]:
    def held(path: Path, out: _Gathered) -> None:
        features = read(path)
        for route in map_features.routes(features):
            _route(route.name, route, out)
        _tracks(map_features.tracks(features), out)
        soundings = map_features.soundings(features)
        if soundings is not None:
            _soundings(soundings, path.stem, out)
        out.holds.append(f"{len(features)} features in all")

    return held


def _log(path: Path, out: _Gathered) -> None:
    log = ais.read(path)
    _tracks(log.tracks, out)
    out.notes += log.notes


def _depth_table(path: Path, out: _Gathered) -> None:
    _soundings(soundings_csv.read(path), path.stem, out)


def _soundings(soundings: Soundings, name: str, out: _Gathered) -> None:
    lattice = grid_of(soundings, name)
    if lattice is not None:
        _grids([lattice], out)
        return
    least, most = float(soundings.depth.min()), float(soundings.depth.max())
    out.holds.append(f"{len(soundings.depth)} soundings of {least:.1f} to {most:.1f} m below {soundings.datum}")
    out.notes.append("soundings that stand on no grid cover no water: give them with the chart when a call is made")
    out.notes += soundings.notes


def _depth_grids(path: Path, out: _Gathered) -> None:
    _grids(s102.read(path), out)


def _grids(grids: Sequence[DepthGrid], out: _Gathered) -> None:
    near = None if out.call is None else corridor(route_of(out.call), BESIDE)
    areas: list[DepthArea] = []
    for grid in grids:
        known = grid.depth[np.isfinite(grid.depth)]
        spread = f"{known.min():.1f} to {known.max():.1f} m below {grid.datum}" if len(known) else "nothing known"
        out.holds.append(f"depths '{grid.name}': {grid.depth.shape[0]} x {grid.depth.shape[1]} nodes, {spread}")
        out.notes += grid.notes
        areas += areas_of_grid(grid, near=near, rise=out.rise(grid.datum) or 0.0)
    if areas:
        out.notes.append(
            "the areas of the survey stand alone: where the chart's areas overlap them the shallowest still counts"
        )
        out.files["areas.geojson"] = areas_bytes(areas)


def _high_low(path: Path, out: _Gathered) -> None:
    table = tide_csv.read_high_low(path)
    first, last = table.points[0].time, table.points[-1].time
    out.holds.append(
        f"{len(table.points)} high and low waters at {table.station} above {table.datum}, "
        f"{written(first)} to {written(last)}"
    )
    out.notes += table.notes
    rise = out.rise(table.datum) or 0.0
    rows = [f"{written(point.time)},{round(point.level + rise, 4):.12g}" for point in table.points]
    _station(table, "high_low_table", "tide.csv", ["time,height_m", *rows], out)


def _station(table: HighLowTable | LevelSeries, key: str, file: str, rows: list[str], out: _Gathered) -> None:
    """One CSV file and the table that names it."""
    name = _free(file, out.files)
    out.files[name] = ("\n".join(rows) + "\n").encode()
    _named("tide_station", table.station, table.position, f"{key} = {quoted(name)}", out)


def _named(kind: str, station: str, position: Position | None, line: str, out: _Gathered) -> None:
    lines = [f"[[{kind}]]", f"name = {quoted(station)}"]
    if position is None:
        lines.append(remark("latitude and longitude = ?"))
        out.notes.append(f"{station}: its position is not in the file; give it")
    else:
        lines += place_lines(position)
    before = out.files.get("stations.toml", b"")
    out.files["stations.toml"] = before + ("\n".join([*lines, line]) + "\n\n").encode()


def _levels_table(path: Path, out: _Gathered) -> None:
    _level_series(tide_csv.read_series(path), out)


def _level_series(series: LevelSeries, out: _Gathered) -> None:
    known = np.isfinite(series.level)
    out.holds.append(
        f"{int(known.sum())} {series.kind} levels at {series.station} above {series.datum}, {_span(series)}"
    )
    out.notes += series.notes
    rise = out.rise(series.datum) or 0.0
    rows = [
        f"{written(series.start + timedelta(seconds=seconds))},{round(level + rise, 4):.12g}"
        for seconds, level in zip(series.elapsed[known].tolist(), series.level[known].tolist(), strict=True)
    ]
    observed = series.kind is LevelKind.OBSERVED
    key, file = ("gauge_series", "gauge.csv") if observed else ("level_series", "levels.csv")
    _station(series, key, file, ["time,level_m", *rows], out)
    if observed:
        out.notes.append(f"{series.station}: a gauge stands beside a prediction; put the key into its tide station")


def _span(series: LevelSeries | StreamSeries | LevelGrid | StreamGrid) -> str:
    begin, end = (series.start + timedelta(seconds=float(series.elapsed[k])) for k in (0, -1))
    return f"{written(begin)} to {written(end)}"


def _levels(path: Path, out: _Gathered) -> None:
    found = s104.read(path)
    for series in found.series:
        _level_series(series, out)
    for grid in found.grids:
        out.holds.append(f"levels '{grid.name}' on {len(grid.latitude)} x {len(grid.longitude)} nodes, {_span(grid)}")
        for name, place in out.wanted_at():
            _sampled(grid.series, _level_series, f"Level at {name}", place, out)


def _streams(path: Path, out: _Gathered) -> None:
    found = s111.read(path)
    for series in found.series:
        _stream_series(series, out)
    for grid in found.grids:
        out.holds.append(f"streams '{grid.name}' on {len(grid.latitude)} x {len(grid.longitude)} nodes, {_span(grid)}")
        for name, place in out.wanted_at():
            _sampled(grid.series, _stream_series, f"Stream at {name}", place, out)


Series = TypeVar("Series", LevelSeries, StreamSeries)


def _sampled(
    at: Callable[[Position], Series],
    put: Callable[[Series, _Gathered], None],
    name: str,
    place: Position,
    out: _Gathered,
) -> None:
    """The series of the grid's node nearest to a place, put there; one outside the grid, or dry, is a note."""
    try:
        series = at(place)
    except Impossible as impossible:
        out.notes.append(f"{name}: {'; '.join(why for _, why in impossible.problems)}")
        return
    put(replace(series, station=name, position=place, notes=()), out)


def _stream_series(series: StreamSeries, out: _Gathered) -> None:
    known = np.isfinite(series.rate) & np.isfinite(series.towards)
    fastest = float(np.max(series.rate[known], initial=0.0)) / KNOT
    out.holds.append(f"{int(known.sum())} streams at {series.station}, up to {fastest:.1f} kn, {_span(series)}")
    out.notes += series.notes
    rows = [
        f"{written(series.start + timedelta(seconds=seconds))},{rate / KNOT:.4g},{towards / DEGREE % 360.0:.5g}"
        for seconds, rate, towards in zip(
            series.elapsed[known].tolist(), series.rate[known].tolist(), series.towards[known].tolist(), strict=True
        )
    ]
    name = _free("stream.csv", out.files)
    out.files[name] = ("\n".join(["time,rate_kn,towards_deg", *rows]) + "\n").encode()
    _named("stream_station", series.station, series.position, f"stream_series = {quoted(name)}", out)


def _free(name: str, taken: Mapping[str, bytes]) -> str:
    """The name, with a number where it is taken already."""
    stem, _, ending = name.rpartition(".")
    wanted, number = name, 1
    while wanted in taken:
        number += 1
        wanted = f"{stem}_{number}.{ending}"
    return wanted


READERS: Mapping[Format, Callable[[Path, _Gathered], None]] = {
    Format.S57: _cell,
    Format.RTZ: _routes,
    Format.GPX: _gpx,
    Format.GEOJSON: _map(geojson.read),
    Format.GEOPACKAGE: _map(geopackage.read),
    Format.SOUNDINGS: _depth_table,
    Format.S102: _depth_grids,
    Format.HIGH_LOW: _high_low,
    Format.LEVELS: _levels_table,
    Format.S104: _levels,
    Format.S111: _streams,
    Format.LOG: _log,
}
