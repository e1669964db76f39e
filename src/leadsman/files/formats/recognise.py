"""Which format a foreign file is in, told from its content, never from its name."""

import re
from enum import StrEnum
from pathlib import Path

from leadsman.files.formats import ais, gpx, rtz, soundings_csv, tide_csv
from leadsman.files.formats.door import MEGABYTE, Faults, checked_size
from leadsman.files.formats.isolated import read_tree
from leadsman.files.formats.s100 import SPECIFICATION

HEAD = 65_536  # bytes looked at
LARGEST = 300 * MEGABYTE


class Format(StrEnum):
    """The foreign formats that are read."""

    S57 = "S-57 cell"
    S102 = "S-102 depths"
    S104 = "S-104 water levels"
    S111 = "S-111 streams"
    RTZ = "RTZ route"
    GPX = "GPX"
    GEOJSON = "GeoJSON"
    GEOPACKAGE = "GeoPackage"
    SOUNDINGS = "table of soundings"
    HIGH_LOW = "table of high and low waters"
    LEVELS = "series of water levels"
    LOG = "AIS or NMEA log"


PRODUCTS = {102: Format.S102, 104: Format.S104, 111: Format.S111}


def recognise(path: Path) -> Format:
    """The format of a file; `InputErrors` if it is none that is read."""
    faults = Faults(path)
    checked_size(path, LARGEST)
    try:
        with path.open("rb") as stream:
            head = stream.read(HEAD)
    except OSError as error:
        raise faults.stop(f"cannot be read: {error.strerror}") from None
    if head.startswith(b"\x89HDF\r\n\x1a\n"):
        return _product(path, faults)
    found = _binary(head) or _text(head.decode("utf-8-sig", "replace"))
    if found is None:
        raise faults.stop(f"is in no format that is read; expected one of: {', '.join(Format)}")
    return found


def _product(path: Path, faults: Faults) -> Format:
    """Which product of S-100 an HDF5 file says it is."""
    text = str(read_tree(path).groups.get("/", {}).get("productSpecification", ""))
    match = SPECIFICATION.match(text)
    if match is None or int(match[1]) not in PRODUCTS:
        raise faults.stop("is an HDF5 file, but not S-102, S-104 or S-111", field="productSpecification")
    return PRODUCTS[int(match[1])]


def _binary(head: bytes) -> Format | None:
    if head.startswith(b"SQLite format 3\x00"):
        return Format.GEOPACKAGE
    if re.match(rb"\d{5}[123 ]L", head):  # leader of the description of an ISO 8211 file
        return Format.S57
    return None


def _text(text: str) -> Format | None:
    """XML by its namespace, JSON by its brace, a log by its first sentence, a table by its columns."""
    start = text.lstrip()
    if start.startswith("<"):
        if any(namespace in start for namespace in rtz.NAMESPACES):
            return Format.RTZ
        return Format.GPX if any(namespace in start for namespace in gpx.NAMESPACES) else None
    if start.startswith(("{", "[")):
        return Format.GEOJSON
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    if any(ais.looks_like_log(line.encode()) for line in lines[:20]):
        return Format.LOG
    header = next((line for line in lines if not line.startswith("#")), "")
    names = {cell.strip().strip('"').lower() for cell in re.split(r"[,;\t]", header)}
    if names & set(soundings_csv.LATITUDE) and names & {*soundings_csv.DEPTH, "z"}:
        return Format.SOUNDINGS
    if names & {"time", "time_utc"} and names & set(tide_csv.HEIGHT):
        high_low = "kind" in names or names & {"height_m", "height_ft"}  # a series of ours is headed level_m
        return Format.HIGH_LOW if high_low else Format.LEVELS
    return None
