"""A port call from a chart cell, a table of tides and a ship card, for `leadsman new --chart` and for the page.

What the sources do not say is asked for (`answers`), never assumed: while a question is open no call is written. What
is taken as it stands and a person should look at is a finding.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from leadsman.figure import Finding
from leadsman.files.answers import OpenQuestion


@dataclass(frozen=True, kw_only=True)
class Sources:
    """Files of others, by what each is for."""

    chart: Path
    """An S-57 base cell `NAME.000`, with its updates beside it."""
    tide: Path
    """A table of high and low waters as CSV."""
    ship: Path
    """A ship card, `ship.toml`."""
    route: Path | None = None
    """RTZ, GPX, GeoJSON or GeoPackage; None: the recommended tracks of the cell, if they join up."""


@dataclass(frozen=True, kw_only=True)
class CallDraft:
    """What came of the sources and the answers."""

    files: Mapping[str, bytes]
    """By name within the port call's folder; empty while a question is open."""
    open: tuple[OpenQuestion, ...]
    """What must be answered before there is a call, in the order a person would."""
    findings: tuple[Finding, ...]
    """What a person should look at: gaps of the chart, what was left out, what was taken for what."""


def call_from_sources(sources: Sources, answers: Mapping[str, str] | None = None) -> CallDraft:
    """The files of a port call, or the questions that stand in their way.

    `answers`: by the keys of `OpenQuestion`; an answer under `key@place` holds for that place alone.

    Raises
    ------
    InputErrors
        Faults of a source with its file and line, or of an answer: its file is `answers`, its field the key.
    Impossible
        Where the sources contradict each other.
    """
    raise NotImplementedError
