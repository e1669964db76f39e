"""The files of a call that are drawn and filled in on the page, as plain data, and that data as files again.

Four parts: `call`, `forecast` and `waterway` have the tables and keys of their TOML files, with times as text; `areas`
is the GeoJSON of the depth areas. The ship has its own form (`card_form.py`).
"""

import json
import math
import re
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from pydantic import AwareDatetime, BaseModel

from leadsman.errors import InputError, InputErrors
from leadsman.files.ask_card import kinds_of
from leadsman.files.call_files import CallShape, ForecastShape, call_in
from leadsman.files.folder import CallFolder
from leadsman.files.toml_file import Path, read_toml
from leadsman.files.toml_merge import merged
from leadsman.files.waterway_file import WaterwayShape

TOML_PARTS = {"call": "call.toml", "forecast": "forecast.toml", "waterway": "waterway/waterway.toml"}
PARTS = (*TOML_PARTS, "areas")
AREAS = "areas.geojson"
DEEPEST = 16  # tables within tables; ours need five, GeoJSON eight
GREATEST = 2**53  # whole numbers beyond it are not exact in a browser

_PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,60}\.geojson")
_FEATURE = re.compile(r'"type"\s*:\s*"Feature"')

Part = dict[str, Any]


def parts_of(folder: CallFolder) -> dict[str, Part]:
    """Each part as plain data; a file that is not there gives an empty part.

    Raises
    ------
    InputErrors
        Where a file is no TOML or no GeoJSON at all; other faults do not matter here.
    """
    found: dict[str, Part] = {}
    faults: list[InputError] = []
    for part, name in TOML_PARTS.items():
        try:
            found[part] = _plain(read_toml(folder, name).data) if folder.exists(name) else {}
        except InputErrors as told:
            faults += told.errors
    name = f"waterway/{areas_name(found.get('waterway', {}))}"
    try:
        found["areas"] = json.loads(folder.read(name)) if folder.exists(name) else _no_areas()
    except (ValueError, RecursionError) as error:
        faults.append(InputError(folder.label(name), getattr(error, "lineno", None), "", f"is not GeoJSON: {error}"))
    if faults:
        raise InputErrors(faults)
    if not isinstance(found["areas"], dict) or not isinstance(found["areas"].get("features"), list):
        raise InputErrors([InputError(folder.label(name), 1, "features", "is missing; expected a FeatureCollection")])
    return found


def files_of(folder: CallFolder, parts: Mapping[str, Any]) -> dict[str, bytes]:
    """The files that hold these parts, by name in the folder; comments of the old files stay where they can."""
    _check(parts)
    found = {}
    for part, name in TOML_PARTS.items():
        if part in parts:
            old = folder.read(name).decode("utf-8", "replace") if folder.exists(name) else ""
            found[name] = merged(old, _timed(parts[part], (part,))).encode()
    if "areas" in parts:
        waterway = parts.get("waterway") or parts_of(folder)["waterway"]
        found[f"waterway/{areas_name(waterway)}"] = _areas(parts["areas"])
    return {name: content for name, content in found.items() if not _reads(folder, name, content)}


def areas_name(waterway: Mapping[str, Any]) -> str:
    """The file of the depth areas beside `waterway.toml`; a name that leads elsewhere is not followed."""
    name = waterway.get("areas")
    return name if isinstance(name, str) and _PLAIN_NAME.fullmatch(name) else AREAS


def faults_in(folder: CallFolder) -> list[tuple[InputError, list[str | int]]]:
    """Every fault of the call's files, each with its place: the part, then keys and positions within it."""
    try:
        call_in(folder)
    except InputErrors as told:
        return [(fault, _place(folder, fault)) for fault in told.errors]
    return []


def _reads(folder: CallFolder, name: str, content: bytes) -> bool:
    return folder.exists(name) and folder.read(name) == content


def _no_areas() -> Part:
    return {"type": "FeatureCollection", "features": []}


def _plain(value: Any) -> Any:
    """What TOML holds as JSON holds it: times as text in UTC."""
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    if isinstance(value, datetime) and value.tzinfo is not None:
        return value.astimezone(UTC).isoformat().replace("+00:00", "Z")
    return value if isinstance(value, str | int | float | bool) else str(value)


def _times_in(shape: type[BaseModel], path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Where a file has times, positions within lists left out."""
    for key, field in shape.model_fields.items():
        for kind in kinds_of(field.annotation):
            if kind is AwareDatetime:
                yield (*path, key)
            elif isinstance(kind, type) and issubclass(kind, BaseModel):
                yield from _times_in(kind, (*path, key))


SHAPES: dict[str, type[BaseModel]] = {"call": CallShape, "forecast": ForecastShape, "waterway": WaterwayShape}
TIMES = frozenset(path for part, shape in SHAPES.items() for path in _times_in(shape, (part,)))


def _timed(value: Any, path: tuple[str, ...]) -> Any:
    """The same with text as times where the file has times; text that is no time stays, for the reader to refuse."""
    if isinstance(value, Mapping):
        return {key: _timed(inner, (*path, str(key))) for key, inner in value.items()}
    if isinstance(value, list):
        return [_timed(inner, path) for inner in value]
    if path in TIMES and isinstance(value, str):
        try:
            time = datetime.fromisoformat(value)
            return time.astimezone(UTC) if time.tzinfo is not None else value
        except (ValueError, OverflowError):
            return value
    return value


def _check(parts: Mapping[str, Any]) -> None:
    """Refuse what no file of ours can hold, before anything is made of it."""
    faults = []
    for part, value in parts.items():
        if part not in PARTS or not isinstance(value, Mapping):
            faults.append(InputError("", None, part, f"is no part of a call; expected one of {', '.join(PARTS)}"))
        else:
            faults += [InputError("", None, part, problem) for problem in _unfit(value, 0)]
    areas = parts.get("areas")
    if isinstance(areas, Mapping) and not isinstance(areas.get("features"), list):
        faults.append(InputError("", None, "areas", "has no features; expected a FeatureCollection of polygons"))
    if faults:
        raise InputErrors(faults[:20])


def _unfit(value: Any, depth: int) -> Iterator[str]:
    if depth > DEEPEST:
        yield "is nested too deeply"
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _unfit(key, depth + 1)
            yield from _unfit(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            yield from _unfit(inner, depth + 1)
    elif isinstance(value, str):
        if any(not letter.isprintable() and letter not in "\n\t" for letter in value):
            yield f"holds text with letters that cannot be printed: {value[:40]!a}"
    elif isinstance(value, float) and not math.isfinite(value):
        yield f"holds {value}, which is no number"
    elif isinstance(value, int) and abs(value) > GREATEST:
        yield "holds a whole number too great to be exact"


def _areas(collection: Mapping[str, Any]) -> bytes:
    """One feature a line, as people compare files by lines."""
    rest = {key: value for key, value in collection.items() if key not in ("type", "features")}
    head = json.dumps({"type": "FeatureCollection", **rest}, ensure_ascii=False)[:-1]
    lines = ",\n".join(json.dumps(feature, ensure_ascii=False) for feature in collection["features"])
    return f'{head}, "features": [\n{lines}\n]}}\n'.encode()


def _place(folder: CallFolder, fault: InputError) -> list[str | int]:
    """Where in the parts a fault stands; empty if in none of them."""
    for part, name in TOML_PARTS.items():
        if fault.file == folder.label(name):
            return [part, *_keys(folder, name, fault)] if folder.exists(name) else [part]
    waterway = read_toml(folder, TOML_PARTS["waterway"]).data if folder.exists(TOML_PARTS["waterway"]) else {}
    name = f"waterway/{areas_name(waterway)}"
    if fault.file != folder.label(name) or fault.line is None:
        return []
    text = folder.read(name).decode("utf-8", "replace")
    before = len(_FEATURE.findall("\n".join(text.split("\n")[: fault.line])))
    return ["areas", "features", before - 1] if before else ["areas"]


def _keys(folder: CallFolder, name: str, fault: InputError) -> Path:
    """The key a fault of a TOML file stands at: the one of its field on its line, else the table around it."""
    try:
        lines = read_toml(folder, name).lines
    except InputErrors:
        return ()
    on_line = [path for path, line in lines.items() if line == fault.line]
    named = [path for path in on_line if path[-1] == fault.field]
    if named:
        return named[0]
    around: Path = min(on_line, key=len, default=())
    return (*around, fault.field) if re.fullmatch(r"[a-z][a-zA-Z0-9_]*", fault.field) else around
