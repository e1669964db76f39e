"""The error tree. A fault of a file is an `InputError`; a fact about the voyage is a `Finding`; never one for another.

LeadsmanError
├── Impossible      a thing that cannot be: all reasons at once, each with the name of the field
├── InputErrors     faults of files: all at once, each with file, line, field, what is wrong, what was expected
├── CannotCompute   the question has no answer with what is known; the sentence says what is missing
└── Stopped         the user stopped long work; nothing half-written remains
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any


class LeadsmanError(Exception):
    """Any failure that is told in a sentence; no traceback of it reaches a user."""


class Impossible(LeadsmanError):
    """A state that cannot exist, with every reason as (field, sentence)."""

    def __init__(self, problems: Iterable[tuple[str, str]]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(f"{field}: {sentence}" for field, sentence in self.problems))


@dataclass(frozen=True)
class InputError:
    """One fault of one file."""

    file: str
    line: int | None
    field: str
    problem: str
    """What is wrong; what was expected."""

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        return f"{place}: {self.field}: {self.problem}" if self.field else f"{place}: {self.problem}"


class InputErrors(LeadsmanError):
    """All faults found in the files of one reading."""

    def __init__(self, errors: Iterable[InputError]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(str(error) for error in self.errors))


class CannotCompute(LeadsmanError):
    """What was asked cannot be computed from what is known."""


class Stopped(LeadsmanError):
    """Long work stopped by the user."""


def refuse(problems: Iterable[tuple[str, str]]) -> None:
    """Raise `Impossible` if there is any problem; things call this at the end of their own check."""
    found = tuple(problems)
    if found:
        raise Impossible(found)


def number_problems(thing: Any, positive: Iterable[str] = (), other: Iterable[str] = ()) -> Iterator[tuple[str, str]]:
    """Numbers that are not finite, or not above zero though they must be; `None` is allowed."""
    for name in positive:
        value = getattr(thing, name)
        if value is not None and not (math.isfinite(value) and value > 0.0):
            yield name, f"{value} is impossible; expected a number above zero"
    for name in other:
        value = getattr(thing, name)
        if value is not None and not math.isfinite(value):
            yield name, f"{value} is not a number"
