"""TOML with line numbers: parsed by the standard library, with a scan that says where each key stands."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from leadsman.errors import InputError, InputErrors
from leadsman.files.folder import CallFolder

Path = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""^\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+))*)\s*=""")
_LINE = re.compile(r"\(at line (\d+), column (\d+)\)")


@dataclass(frozen=True)
class TomlFile:
    """A parsed file, and the line each key stands on."""

    label: str
    data: Mapping[str, Any]
    lines: Mapping[Path, int]

    def line(self, path: Path) -> int | None:
        """The line of a key, or of the nearest table around it."""
        for size in range(len(path), 0, -1):
            if path[:size] in self.lines:
                return self.lines[path[:size]]
        return None

    def error(self, path: Path, problem: str) -> InputError:
        """A fault at a key of this file."""
        named = [part for part in path if isinstance(part, str)]
        return InputError(self.label, self.line(path), named[-1] if named else "", problem)


def read_toml(folder: CallFolder, name: str) -> TomlFile:
    """The file, or `InputErrors` that name its line."""
    label = folder.label(name)
    raw = folder.read(name)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise InputErrors([InputError(label, line, "", "is not UTF-8 text; expected a TOML file")]) from None
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = _LINE.search(str(error))
        why = _LINE.sub("", str(error)).strip().rstrip(".")
        line = int(found.group(1)) if found else text.count("\n") + 1
        shown = text.splitlines()[line - 1].strip()[:60] if 0 < line <= len(text.splitlines()) else ""
        problem = (
            f"is not TOML: {why}"
            + (f", in '{shown}'" if shown else "")
            + '; expected lines such as key = 1.5 or key = "text"'
        )
        raise InputErrors([InputError(label, line, "", problem)]) from None
    except RecursionError:
        raise InputErrors([InputError(label, None, "", "is nested too deeply; expected a plain TOML file")]) from None
    return TomlFile(label, data, _scan(text))


def _scan(text: str) -> dict[Path, int]:
    """Where headers and keys stand. Inline tables and arrays over several lines are found by their outer key."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    for number, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        if header:
            names = _split(header.group(2))
            table = ()
            for depth, name in enumerate(names):
                table = (*table, name)
                last = depth == len(names) - 1
                if last and header.group(1) == "[[":
                    counts[table] = counts.get(table, -1) + 1
                if table in counts:
                    table = (*table, counts[table])
            lines.setdefault(table, number)
            continue
        key = _KEY.match(line)
        if key:
            lines.setdefault((*table, *_split(key.group(1))), number)
    return lines


def _split(dotted: str) -> list[str]:
    return [part.strip().strip("\"'") for part in re.findall(r"\"[^\"]*\"|'[^']*'|[^.]+", dotted)]
