"""The building stones of file shapes: numbers with their range and what is expected of them, in seafarers' units."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field


class FileShape(BaseModel):
    """A table of one of our files: unknown keys, text for numbers, and NaN are refused."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)


def required(expected: str, low: float | None = None, high: float | None = None) -> Any:
    """A number or text that must be given; `expected` says what, with the unit."""
    return Field(description=_range(expected, low, high), ge=low, le=high)


def optional(expected: str, low: float | None = None, high: float | None = None) -> Any:
    """A number or text that may be left out; left out means unknown."""
    return Field(default=None, description=_range(expected, low, high), ge=low, le=high)


def _range(expected: str, low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return expected
    if high is None:
        return f"{expected}, at least {low:g}"
    if low is None:
        return f"{expected}, at most {high:g}"
    return f"{expected}, {low:g} to {high:g}"
