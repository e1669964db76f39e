"""Defaults for what is not known exactly, each with its mark; read from `uncertainty.toml` beside this module."""

from collections.abc import Mapping
from typing import NamedTuple

from leadsman.physics.published import published


class Default(NamedTuple):
    """A working figure: the value used and the range it was quoted in."""

    value: float
    low: float
    high: float
    unit: str
    mark: str
    note: str


DEFAULTS: Mapping[str, Default] = {name: Default(**row) for name, row in published("uncertainty").items()}


def default(name: str) -> Default:
    """A working figure by name; raises `KeyError` that lists the names."""
    if name not in DEFAULTS:
        raise KeyError(f"no default uncertainty is known for {name!r}; known are {', '.join(DEFAULTS)}")
    return DEFAULTS[name]
