"""The bibliography of the package: every document by its key, and those that figures and findings name."""

import functools
import re
import tomllib
from collections.abc import Iterator
from importlib import resources
from typing import Any

NAMES_ONE = ("source", "method", "sentence")
"""Keys of the plain data under which a document may be named."""


@functools.cache
def documents() -> dict[str, dict[str, Any]]:
    """Every document by its key."""
    found = {}
    for file in (resources.files("leadsman") / "sources").iterdir():
        if file.name.endswith(".toml"):
            for key, entry in tomllib.loads(file.read_text(encoding="utf-8")).items():
                found[key] = {
                    "title": entry["title"],
                    "authors": entry.get("authors", ""),
                    "year": entry.get("year"),
                    "edition": str(entry.get("edition", "")),
                    "mark": entry["mark"],
                    "note": entry.get("note", ""),
                }
    return found


def cited(*parts: Any) -> list[dict[str, str]]:
    """The documents that plain data name as source or method, by key: what each is, and how far it was seen."""
    words = set(re.findall(r"[\w-]+", " ".join(told for part in parts for told in _named(part))))
    return [
        {"key": key, "words": _in_words(entry), "mark": entry["mark"]}
        for key, entry in sorted(documents().items(), key=lambda item: item[0].lower())
        if key in words
    ]


def _named(thing: Any, key: str = "") -> Iterator[str]:
    if isinstance(thing, str) and key in NAMES_ONE:
        yield thing
    elif isinstance(thing, dict):
        for name, value in thing.items():
            yield from _named(value, name)
    elif isinstance(thing, list | tuple):
        for value in thing:
            yield from _named(value, key)


def _in_words(entry: dict[str, Any]) -> str:
    year = str(entry["year"] or "")
    return ", ".join(words for words in (entry["authors"], entry["title"], entry["edition"], year) if words)
