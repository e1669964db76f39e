"""The bibliography of the package, as the page shows it beside a figure."""

import functools
import tomllib
from importlib import resources
from typing import Any


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
