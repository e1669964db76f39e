"""Chart cells of S-57: read with their updates, in a separate process, into a `ChartCell`.

The frame of cell and updates is walked first (`iso8211`), then GDAL reads them under limits of time and memory
(`isolated`). What could make water look deeper or higher than it is refuses the cell: a cut file, a missing update,
another horizontal datum, depths in feet, a danger without a place. What only makes it poorer is left out, with a note.

Source: [S57Edition31], [S57Attributes].
"""

import csv
import functools
import math
import struct
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from leadsman.files.formats.datums import datum_name
from leadsman.files.formats.door import Faults, read_bytes
from leadsman.files.formats.iso8211 import UNIT_END, records
from leadsman.files.formats.isolated import Limits, read_layers
from leadsman.files.formats.records import Array, ChartCell, ChartFeature, Soundings, array

WGS84 = 2  # horizontal datum code HDAT, from memory
METRES = 1  # unit codes DUNI and HUNI, from memory
DEGREES = 1  # coordinate unit code COUN: latitude and longitude; from memory
MOST_UPDATES = 999

MUST_HAVE_PLACE = frozenset(
    """DEPARE DRGARE SWPARE UNSARE SOUNDG OBSTRN WRECKS UWTROC LNDARE PYLONS PILPNT OFSPLF CAUSWY DAMCON
    MARCUL FSHFAC PONTON HULKES FLODOC BRIDGE CBLOHD PIPOHD CONVYR GATCON
    """.split()  # noqa: SIM905 # a list of names reads better than a column of quotes
)
"""Classes that make water less; losing one would make the chart look safer than it is."""

MEASURES = frozenset(
    """DRVAL1 DRVAL2 VALDCO VALSOU SOUACC POSACC HEIGHT ORIENT CURVEL VALMAG VALACM
    VERCLR VERCCL VERCOP VERCSA VERACC HORCLR HORACC HORLEN HORWID VERLEN
    """.split()  # noqa: SIM905
)
"""Attributes that are real numbers; all other numbers are codes."""

POSSIBLE = {  # least and greatest value of an attribute, so wide that only damage or a wrong unit goes beyond
    "DRVAL1": (-50.0, 12_000.0),
    "DRVAL2": (-50.0, 12_000.0),
    "VALDCO": (-50.0, 12_000.0),
    "VALSOU": (-50.0, 12_000.0),
    "SOUNDG": (-50.0, 12_000.0),
    "VERCLR": (0.0, 500.0),
    "VERCCL": (0.0, 500.0),
    "VERCOP": (0.0, 1_000.0),
    "VERCSA": (0.0, 500.0),
    "HORCLR": (0.0, 10_000.0),
    "ORIENT": (0.0, 360.0),
}


@functools.cache
def _class_rows() -> tuple[dict[str, str], ...]:
    text = files("leadsman.files.formats").joinpath("s57_classes.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@functools.cache
def classes() -> Mapping[str, tuple[str, ...]]:
    """Attributes read of each class of object, by acronym."""
    return {row["class"]: tuple(row["attributes"].split()) for row in _class_rows()}


@functools.cache
def names() -> Mapping[str, str]:
    """What each class of object is, in a word or two, by acronym."""
    return {row["class"]: row["what"] for row in _class_rows()}


@dataclass(frozen=True, kw_only=True)
class Identity:
    """What a cell or update file says of itself."""

    edition: str
    update: int
    shortage: str
    """Which records the file lacks by its own count; empty: none."""


def read(path: Path, *, limits: Limits | None = None) -> ChartCell:
    """The cell in `path` (`NAME.000`) with the updates that lie beside it; `InputErrors` says why it cannot be used."""
    limits = limits or Limits()
    faults = Faults(path)
    if path.suffix != ".000":
        raise faults.stop("is not the base of a cell; expected a name ending in .000, with its updates beside it")
    base = identity(path, limits.file)
    if base.update != 0:
        raise faults.stop(f"says it is update {base.update}; expected the base cell, update 0")
    if base.shortage:
        raise faults.stop(base.shortage)
    notes: list[str] = []
    last = _last_update(path, base, limits.file, faults, notes)
    answer = read_layers(path, layers=["DSID", *classes()], limits=limits)
    head = _head(answer, faults)
    applied = int(head["DSID_UPDN"] or 0)
    if applied != last:
        raise faults.stop(f"updates up to {last} lie beside it, but only those up to {applied} could be applied")
    notes += [f"the reader remarks: {remark}" for remark in answer["remarks"]]
    features = tuple(_features(answer["layers"], faults, notes))
    faults.check()
    datum = str(datum_name(head["DSPM_SDAT"]))
    soundings = _soundings(features, datum, notes, faults)
    untaken = sorted(set(answer["present"]) - {"DSID", *classes()})
    if untaken:
        notes.append(f"classes not taken: {', '.join(untaken)}")
    return ChartCell(
        name=path.stem,
        edition=int(base.edition),
        update=applied,
        issued=_date(head["DSID_ISDT"]),
        scale=int(head["DSPM_CSCL"] or 0),
        vertical_datum=datum_name(head["DSPM_VDAT"]),
        sounding_datum=datum,
        features=tuple(feature for feature in features if feature.kind != "SOUNDG"),
        soundings=soundings,
        notes=tuple(notes),
    )


def identity(path: Path, limit: int) -> Identity:
    """Edition and update number of a cell or update file, whose whole frame is walked on the way."""
    faults = Faults(path)
    frame = list(records(read_bytes(path, limit), faults))
    head = next((fields["DSID"] for fields in frame[1:] if "DSID" in fields), None)
    if head is None:
        raise faults.stop("has no record that says which cell it is (DSID); expected an S-57 cell")
    # RCNM 1 byte, RCID 4, EXPP 1, INTU 1; then DSNM, EDTN, UPDN, each ended by a unit terminator [memory]
    texts = head[7:].split(bytes([UNIT_END]))
    try:
        edition, update = texts[1].decode("ascii").strip(), int(texts[2])
        int(edition)
    except (IndexError, ValueError):
        raise faults.stop("has no readable edition and update number") from None
    return Identity(edition=edition, update=update, shortage=_shortage(frame[1:]))


def _shortage(frame: list[dict[str, bytes]]) -> str:
    """Which kinds of record are fewer than the file itself counts: a cell cut between two records looks whole."""
    structure = next((fields["DSSI"] for fields in frame if "DSSI" in fields and len(fields["DSSI"]) >= 35), None)
    if structure is None:
        return ""
    # after three bytes: meta, cartographic, geographic, collection features; isolated, connected nodes, edges, faces
    counts = struct.unpack("<8I", structure[3:35])
    kinds = Counter(fields["VRID"][0] for fields in frame if "VRID" in fields)
    said = {"features": sum(counts[:4]), "isolated nodes": counts[4], "connected nodes": counts[5], "edges": counts[6]}
    held = {
        "features": sum("FRID" in fields for fields in frame),
        "isolated nodes": kinds[110],  # RCNM: kind of record, from memory
        "connected nodes": kinds[120],
        "edges": kinds[130],
    }
    return "; ".join(
        f"holds {held[name]} {name}, but says it has {said[name]}: part of it is lost, get it again"
        for name in said
        if held[name] < said[name]
    )


def _last_update(path: Path, base: Identity, limit: int, faults: Faults, notes: list[str]) -> int:
    """Number of the last update beside the cell; a gap, another edition, or a cancelled cell is refused."""
    beside = sorted(
        int(other.suffix[1:])
        for other in path.parent.glob(f"{_literal(path.stem)}.[0-9][0-9][0-9]")
        if other.suffix != ".000"
    )
    for expected, number in enumerate(beside, start=1):
        if number != expected:
            raise faults.stop(f"update {expected:03d} is missing, though update {number:03d} lies beside it")
        update = path.with_suffix(f".{number:03d}")
        found = identity(update, limit)
        if found.edition == "0":
            raise faults.stop(f"is cancelled by update {number:03d}; get the cell that replaces it")
        if found.shortage:  # whether an update counts itself or the whole cell was not verified: told, not refused
            notes.append(f"update {number:03d} {found.shortage}")
        if (found.edition, found.update) != (base.edition, number):
            raise faults.stop(
                f"update {number:03d} says it is update {found.update} of edition {found.edition}; "
                f"expected update {number} of edition {base.edition}"
            )
    return len(beside)


def _literal(name: str) -> str:
    """A file name in which a glob sees no wildcard."""
    return "".join(f"[{letter}]" if letter in "*?[" else letter for letter in name)


def _head(answer: Mapping[str, Any], faults: Faults) -> dict[str, Any]:
    """The cell's own record, checked for datum and units."""
    layer = answer["layers"].get("DSID")
    if layer is None or layer["count"] != 1:
        raise faults.stop("is not an S-57 cell, or has lost its first record")
    head = {name: values[0] for name, values in layer["columns"].items()}
    for name in ("DSID_UPDN", "DSID_ISDT", "DSPM_HDAT", "DSPM_VDAT", "DSPM_SDAT", "DSPM_CSCL", "DSPM_DUNI"):
        head.setdefault(name, None)
    if head["DSPM_HDAT"] != WGS84:
        faults.add(f"is {head['DSPM_HDAT']}; expected 2, WGS 84", field="horizontal datum (HDAT)")
    if head.get("DSPM_COUN") != DEGREES:
        faults.add(f"is {head.get('DSPM_COUN')}; expected 1, latitude and longitude", field="coordinate unit (COUN)")
    for name, field in (("DSPM_DUNI", "depth unit (DUNI)"), ("DSPM_HUNI", "height unit (HUNI)")):
        if head.get(name) != METRES:
            faults.add(f"is {head.get(name)}; expected 1, metres", field=field)
    if datum_name(head["DSPM_SDAT"]) is None:
        faults.add(
            f"is {head['DSPM_SDAT']}, which is no datum; depths without one say nothing", field="sounding datum (SDAT)"
        )
    for name in ("DSPM_COMF", "DSPM_SOMF"):
        if not head.get(name):
            faults.add("is zero or missing; positions or depths cannot be told", field=f"multiplier ({name[-4:]})")
    faults.check()
    return head


def _features(layers: Mapping[str, Any], faults: Faults, notes: list[str]) -> Iterator[ChartFeature]:
    """The objects of all layers, each with the attributes of its class that the cell gives."""
    for kind, attributes in classes().items():
        layer = layers.get(kind)
        if layer is None:
            continue
        columns = layer["columns"]
        for index in range(layer["count"]):
            identifier = str(columns["LNAM"][index]) if "LNAM" in columns else f"{index + 1}"
            given = {
                name: value
                for name in attributes
                if name in columns
                and (value := _value(columns[name][index], f"{kind} {identifier}", name, notes)) is not None
            }
            _possible(kind, identifier, given, faults)
            geometry = _geometry(layer["geometry"], index)
            problem = _place_problem(geometry)
            if problem and kind in MUST_HAVE_PLACE:
                faults.add(f"{problem}; the cell is damaged, get it again", field=f"{kind} {identifier}")
            elif problem:
                notes.append(f"{kind} {identifier} {problem}; it was left out")
            else:
                yield ChartFeature(kind=kind, identifier=identifier, attributes=given, geometry=geometry)


def _value(raw: Any, owner: str, name: str, notes: list[str]) -> float | int | str | tuple[int, ...] | None:
    """One attribute value in our types; None: the cell does not say."""
    if raw is None or raw == "" or raw == []:
        return None
    if isinstance(raw, list):
        codes = [int(item) for item in raw if str(item).strip().isdigit()]
        if len(codes) < len(raw):
            notes.append(f"{owner} has an attribute {name} with a part that is no code: {raw}")
        return tuple(codes) or None
    if isinstance(raw, float) and name not in MEASURES:
        return int(raw)  # GDAL's wrapper gives a column of codes as real numbers where one of them is missing
    if isinstance(raw, str | int | float):
        return float(raw) if name in MEASURES else raw
    return None


def _possible(kind: str, identifier: str, given: Mapping[str, Any], faults: Faults) -> None:
    """Numbers beyond all possibility, and a deep end shallower than the shallow end, are faults of the cell."""
    for name, (low, high) in POSSIBLE.items():
        value = given.get(name)
        if isinstance(value, int | float) and not low <= value <= high:
            faults.add(f"{name} is {value:g}; expected {low:g} to {high:g}", field=f"{kind} {identifier}")
    shallow, deep = given.get("DRVAL1"), given.get("DRVAL2")
    if shallow is not None and deep is not None and shallow > deep:
        faults.add(f"its shallow end {shallow:g} lies below its deep end {deep:g}", field=f"{kind} {identifier}")


def _geometry(column: list[str | None] | None, index: int) -> Any:
    """The shape at this place of a column of WKB, or None."""
    text = column[index] if column is not None else None
    if text is None:
        return None
    try:
        return shapely.from_wkb(text)
    except shapely.errors.GEOSException:
        return None


def _place_problem(geometry: Any) -> str:
    """What is wrong with the place of an object; empty: nothing."""
    if geometry is None or geometry.is_empty:
        return "has no place"
    west, south, east, north = geometry.bounds
    if not (all(map(math.isfinite, geometry.bounds)) and -90 <= south <= north <= 90 and -180 <= west <= east <= 180):
        return "lies outside the earth's latitudes and longitudes"
    if not geometry.is_valid:
        return "has an outline that crosses itself"
    return ""


def _soundings(features: tuple[ChartFeature, ...], datum: str, notes: list[str], faults: Faults) -> Soundings | None:
    """All soundings of the cell as one record, or None; those that name another datum are left out with a note."""
    points: list[Array] = []
    quality: list[str] = []
    for feature in features:
        if feature.kind != "SOUNDG":
            continue
        own = datum_name(feature.attributes["VERDAT"]) if "VERDAT" in feature.attributes else datum
        if own != datum:
            notes.append(f"SOUNDG {feature.identifier} was left out: its datum is {own or 'not known'}, not {datum}")
            continue
        here = shapely.get_coordinates(feature.geometry, include_z=True)
        points.append(here)
        codes = feature.attributes.get("QUASOU", ())
        quality += [" ".join(map(str, codes)) if isinstance(codes, tuple) else ""] * len(here)
    if not points:
        return None
    x, y, depth = np.concatenate(points).T
    low, high = POSSIBLE["SOUNDG"]
    if not np.all((depth >= low) & (depth <= high)):
        raise faults.stop(f"holds soundings that are missing or beyond {low:g} to {high:g} m", field="SOUNDG")
    return Soundings(latitude=array(y), longitude=array(x), depth=array(depth), datum=datum, quality=tuple(quality))


def _date(text: Any) -> date | None:
    """A date written YYYYMMDD, or None."""
    try:
        return date.fromisoformat(str(text))
    except ValueError:
        return None
