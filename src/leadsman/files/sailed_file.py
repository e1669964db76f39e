"""The log of a passage: AIS or NMEA, GPX, GeoJSON or GeoPackage, and of several vessels in it the one that is meant."""

from collections.abc import Sequence
from pathlib import Path

from leadsman.files.formats import ais, geojson, geopackage, gpx, map_features
from leadsman.files.formats.door import Faults
from leadsman.files.formats.recognise import Format, recognise
from leadsman.files.formats.records import printable
from leadsman.sailed import SailedTrack

NAMED = 10  # vessels named where none was chosen


def read_sailed(path: Path, vessel: str | None = None) -> tuple[SailedTrack, tuple[str, ...]]:
    """(the track, what was left out of the log); `vessel` is its name or MMSI, needed where the log has several.

    Raises `InputErrors` where the file is no log, or it cannot be told whose track is meant.
    """
    faults = Faults(path)
    kind = recognise(path)
    tracks: Sequence[SailedTrack]
    notes: tuple[str, ...] = ()
    if kind is Format.LOG:
        log = ais.read(path)
        tracks, notes = log.tracks, log.notes
    elif kind is Format.GPX:
        content = gpx.read(path)
        tracks, notes = content.tracks, content.notes
    elif kind in (Format.GEOJSON, Format.GEOPACKAGE):
        read = geojson.read if kind is Format.GEOJSON else geopackage.read
        tracks = map_features.tracks(read(path))
    else:
        raise faults.stop(f"is a {kind}; expected the log of a passage: AIS or NMEA, GPX with times, GeoJSON")
    if not tracks:
        raise faults.stop("holds no track with times")
    found = _chosen(tracks, vessel, faults)
    return found, (*notes, *found.notes)


def _chosen(tracks: Sequence[SailedTrack], vessel: str | None, faults: Faults) -> SailedTrack:
    if vessel is None:
        if len(tracks) == 1:
            return tracks[0]
        raise faults.stop(f"holds {len(tracks)} tracks; expected --vessel with one of: {_names(tracks)}")
    wanted = vessel.casefold()
    found = [track for track in tracks if wanted in (track.identifier.casefold(), track.name.casefold())]
    if len(found) != 1:
        raise faults.stop(f"holds {len(found)} tracks of '{vessel}'; it has: {_names(tracks)}")
    return found[0]


def _names(tracks: Sequence[SailedTrack]) -> str:
    names = [printable(track.name or track.identifier) for track in tracks[:NAMED]]
    return ", ".join(names) + (f" and {len(tracks) - NAMED} more" if len(tracks) > NAMED else "")
