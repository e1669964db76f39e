"""What a new call is made of, gathered bit by bit: files of others and a person's answers, until nothing is open.

A gathering is a hidden folder beside the calls. Files lie in it as they came, under `sources/`; answers in
`answers.json`. Every look at it says what each file is, what is missing, what is asked, and what to look at.
"""

import json
import re
import secrets
import shutil
import tomllib
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.figure import Finding
from leadsman.files.answers import OpenQuestion
from leadsman.files.ask_card import card_toml
from leadsman.files.card_form import ship_of_form
from leadsman.files.formats import s57
from leadsman.files.formats.recognise import Format, recognise
from leadsman.files.from_sources import CallDraft, Sources, call_from_sources
from leadsman.files.new_call import write_folder
from leadsman.files.revisions import UNDERLAY
from leadsman.files.underlay import underlay

PLACE = ".gatherings"
CARD = "ship.toml"
MOST = 12  # gatherings kept; the oldest goes first
MOST_FILES = 24
LARGEST = 300_000_000  # bytes, of all files of one gathering

USES = {
    Format.S57: "chart",
    Format.HIGH_LOW: "tide",
    Format.RTZ: "route",
    Format.GPX: "route",
    Format.GEOJSON: "route",
    Format.GEOPACKAGE: "route",
}
NEEDED = {
    "chart": "a chart: an S-57 cell, its name ending in .000, with its updates",
    "tide": "a table of high and low waters as CSV",
    "ship": "a ship card: its file ship.toml, or typed in",
}

OF_THE_TIDE = {
    "tide_datum": "the datum that the heights of the tide table stand above, such as LAT",
    "tide_zone": "the zone of the tide table's times: UTC, or a fixed difference such as +01:00",
}

_NAME = re.compile(r"[^/\\.\x00-\x1f\x7f][^/\\\x00-\x1f\x7f]{0,99}")
_CALL_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,59}")
_KEY = re.compile(r"[0-9a-f]{16}")


@dataclass(frozen=True, kw_only=True)
class Source:
    """One file as gathered."""

    name: str
    size: int
    kind: str
    """What it was recognised as, in words; empty: nothing that is read."""
    use: str
    """`chart`, `update`, `tide`, `ship` or `route`; empty: none here."""
    problem: str


@dataclass(frozen=True, kw_only=True)
class Gathered:
    """What there is, and what is not."""

    sources: tuple[Source, ...]
    missing: tuple[str, ...]
    questions: tuple[dict[str, Any], ...]
    """Everything asked, also what is answered by now."""
    answers: dict[str, str]
    faults: tuple[InputError, ...]
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes]
    """The call, once nothing is open."""


def begin(root: Path) -> str:
    """The key of a new gathering beside the calls of this folder; the oldest of too many is dropped."""
    if (root / "call.toml").is_file():
        raise Impossible([("", "this server serves one call alone; serve the folder around it to make others")])
    place = root / PLACE
    place.mkdir(exist_ok=True)
    keys = (path for path in place.iterdir() if _KEY.fullmatch(path.name))
    kept = sorted(keys, key=lambda path: path.stat().st_mtime)
    for old in kept[: max(0, len(kept) - MOST + 1)]:
        shutil.rmtree(old, ignore_errors=True)
    key = secrets.token_hex(8)
    (place / key / "sources").mkdir(parents=True)
    return key


def folder_of(root: Path, key: str) -> Path | None:
    """Where a gathering lies; a key from outside is never joined to a path before it is known to be one."""
    folder = root / PLACE / key if _KEY.fullmatch(key) else None
    return folder if folder is not None and folder.is_dir() else None


def put(folder: Path, name: str, content: bytes) -> None:
    """Add a file, or put another in its place."""
    if not _NAME.fullmatch(name):
        raise Impossible([("name", f"{name[:60]!a} is no file name; expected one without folders")])
    others = [path for path in _sources(folder) if path.name != name]
    if len(others) >= MOST_FILES or sum(path.stat().st_size for path in others) + len(content) > LARGEST:
        raise Impossible([("name", f"there are {MOST_FILES} files or {LARGEST / 1e6:.0f} MB here already")])
    beside = folder / f".{secrets.token_hex(4)}.part"
    beside.write_bytes(content)
    beside.replace(folder / "sources" / name)


def put_card(folder: Path, card: Mapping[str, Any]) -> None:
    """Add a ship card as a form has it, in the shape of `ship.toml`, in place of any other; it must be readable."""
    ship_of_form(card)
    for source in map(_recognised, _sources(folder)):
        if source.use == "ship":
            take_out(folder, source.name)
    put(folder, CARD, card_toml(dict(card)).encode())


def take_out(folder: Path, name: str) -> None:
    """Take a file out again."""
    for path in _sources(folder):
        if path.name == name:
            path.unlink()


def answer(folder: Path, answers: Mapping[str, str]) -> None:
    """Set answers by the keys of the questions; an empty one takes an answer back."""
    said = {**_read(folder)["answers"], **answers}
    _write(folder, answers={key: words for key, words in said.items() if words.strip()})


def look(folder: Path) -> Gathered:
    """What there is by now."""
    sources = tuple(_recognised(path) for path in _sources(folder))
    twice = _twice(sources)
    by_use = {source.use: folder / "sources" / source.name for source in sources}
    missing = tuple(what for use, what in NEEDED.items() if use not in by_use)
    kept = _read(folder)
    if missing or twice:
        return _gathered(sources, missing, kept, twice)
    paths = Sources(chart=by_use["chart"], tide=by_use["tide"], ship=by_use["ship"], route=by_use.get("route"))
    drafted, faults = _drafted(paths, kept["answers"])
    if drafted is None:
        kept["asked"] += _of_the_tide(faults, by_use["tide"].name, kept)
        _write(folder, asked=kept["asked"])
        return _gathered(sources, missing, kept, faults)
    asked = {one["key"]: one for one in kept["asked"]}
    asked |= {one.key: asdict(one) for one in (*drafted.open, *drafted.offered)}
    open_now = {one.key for one in drafted.open}
    questions = [one | {"open": key in open_now} for key, one in asked.items()]
    _write(folder, asked=[{key: value for key, value in one.items() if key != "open"} for one in questions])
    return Gathered(
        sources=sources,
        missing=missing,
        questions=tuple(questions),
        answers=kept["answers"],
        faults=tuple(faults),
        findings=drafted.findings,
        files={} if faults else drafted.files,
    )


def make(root: Path, folder: Path, name: str) -> None:
    """Write the call beside the others, with its chart to draw upon; the gathering is done with."""
    if not _CALL_NAME.fullmatch(name) or name.endswith((".", " ")):
        raise Impossible([("name", f"{name[:60]!a} is no name for a folder; expected letters, digits, - and _")])
    gathered = look(folder)
    if not gathered.files:
        open_ = [one["key"] for one in gathered.questions if one["open"]]
        wrong = [one.problem for one in gathered.faults]
        lacks = [*gathered.missing, *(f"an answer to {key}" for key in open_), *wrong]
        raise Impossible([("", f"still lacks {what}") for what in lacks])
    chart = next(folder / "sources" / source.name for source in gathered.sources if source.use == "chart")
    write_folder(root / name, {**gathered.files, UNDERLAY: underlay(s57.read(chart))})
    shutil.rmtree(folder, ignore_errors=True)


def _drafted(paths: Sources, answers: Mapping[str, str]) -> tuple[CallDraft | None, list[InputError]]:
    """The draft without those answers that are none, and what is wrong with them; an answer to nothing is let lie."""
    used = dict(answers)
    faults: list[InputError] = []
    while True:
        try:
            return call_from_sources(paths, used), faults
        except InputErrors as told:
            wrong = [one for one in told.errors if one.file == "answers" and one.field in used]
            if not wrong:
                return None, [*faults, *told.errors]
            for one in wrong:
                del used[one.field]
            faults += [one for one in wrong if not one.problem.startswith("answers nothing")]
        except Impossible as impossible:
            return None, [*faults, *(InputError("", None, field, why) for field, why in impossible.problems)]


def _of_the_tide(faults: list[InputError], name: str, kept: dict[str, Any]) -> list[dict[str, Any]]:
    """What a table of tides leaves out of its head, as questions."""
    known = {one["key"] for one in kept["asked"]}
    keys = {f"tide_{one.field}" for one in faults if one.file == name and one.field in ("datum", "zone")}
    return [asdict(OpenQuestion(key=key, sentence=OF_THE_TIDE[key])) for key in sorted(keys - known)]


def _gathered(
    sources: tuple[Source, ...], missing: tuple[str, ...], kept: dict[str, Any], faults: list[InputError]
) -> Gathered:
    """While there can be no draft: what was asked before stays asked."""
    questions = tuple(one | {"open": one["key"] not in kept["answers"]} for one in kept["asked"])
    return Gathered(
        sources=sources,
        missing=missing,
        questions=questions,
        answers=kept["answers"],
        faults=tuple(faults),
        findings=(),
        files={},
    )


def _recognised(path: Path) -> Source:
    size = path.stat().st_size
    if _is_card(path):
        return Source(name=path.name, size=size, kind="ship card", use="ship", problem="")
    try:
        found = recognise(path)
    except InputErrors as told:
        return Source(name=path.name, size=size, kind="", use="", problem=told.errors[0].problem)
    use = USES.get(found, "")
    if use == "chart" and path.suffix != ".000":
        use = "update"
    problem = "" if use else "is not used in making a call"
    return Source(name=path.name, size=size, kind=str(found), use=use, problem=problem)


def _is_card(path: Path) -> bool:
    """Whether a file is TOML with what every card has."""
    if path.stat().st_size > 1_000_000:
        return False
    try:
        data = tomllib.loads(path.read_bytes().decode("utf-8"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError):
        return False
    return "loading" in data or "length_overall_m" in data


def _twice(sources: tuple[Source, ...]) -> list[InputError]:
    """Of two files for one use neither is preferred: a person takes one out."""
    faults = []
    for use in ("chart", "tide", "ship", "route"):
        names = [source.name for source in sources if source.use == use]
        if len(names) > 1:
            problem = f"there are {len(names)} ({', '.join(names)}); take out all but one"
            faults.append(InputError("", None, use, problem))
    return faults


def _sources(folder: Path) -> list[Path]:
    return sorted(path for path in (folder / "sources").iterdir() if path.is_file() and not path.is_symlink())


def _read(folder: Path) -> dict[str, Any]:
    try:
        kept = json.loads((folder / "answers.json").read_bytes())
        asked = [{"optional": False, **one} for one in kept["asked"]]
        return {"answers": dict(kept["answers"]), "asked": asked}
    except (OSError, ValueError, KeyError, TypeError):
        return {"answers": {}, "asked": []}


def _write(folder: Path, **values: Any) -> None:
    beside = folder / f".{secrets.token_hex(4)}.part"
    beside.write_text(json.dumps({**_read(folder), **values}), encoding="utf-8")
    beside.replace(folder / "answers.json")
