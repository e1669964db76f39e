"""Tables from the literature stand in TOML files beside the modules that use them, each with its source and mark."""

import functools
import tomllib
from importlib.resources import files
from typing import Any


@functools.cache
def published(subject: str) -> dict[str, Any]:
    """The tables of one subject, as its file has them.

    Read once; the answer is shared, so nobody changes it.
    """
    found: dict[str, Any] = tomllib.loads((files(__package__) / f"{subject}.toml").read_text(encoding="utf-8"))
    return found
