"""Streams of a draft, as a person reads them off an atlas or a table on the chart: by hours from high water.

A table is said in one line, hour by hour: hours from high water (before is negative), degrees true it sets towards,
knots at springs, knots at neaps: `-1 025 1.2 0.6; 0 030 0.8 0.4; 1 190 0.5 0.2`.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from leadsman.files.answers import NUMBER, Answers
from leadsman.files.formats.draft_track import reach_names
from leadsman.files.formats.records import Route
from leadsman.files.formats.series import HighLowTable
from leadsman.files.formats.times import shortened
from leadsman.files.formats.toml_words import number_line, place_lines, quoted
from leadsman.geometry import Position

Row = tuple[float, float, float, float]

WORDS = (
    "stream by hours from high water of the tide table, each with hour, degrees it sets towards, knots at springs, "
    "knots at neaps, such as: -1 025 1.2 0.6; 0 030 0.8 0.4"
)
COLUMNS = (  # what is said of an hour, least, greatest; as `[[stream_station.row]]` takes it
    ("hour", -12.5, 12.5),
    ("towards_deg", 0.0, 360.0),
    ("spring_kn", 0.0, 15.0),
    ("neap_kn", 0.0, 15.0),
)
RANGES = {
    "spring_range_m": "range of the tide at mean springs where its table holds, metres",
    "neap_range_m": "range of the tide at mean neaps where its table holds, metres",
}


def stream_lines(route: Route | None, tide: HighLowTable | None, answers: Answers) -> Iterator[str]:
    """Tables of streams, one in the middle of each reach that a person knows the stream of; left out: unknown."""
    if route is None or tide is None:
        return
    for name, (before, after) in zip(reach_names(route), pairwise(route.waypoints), strict=True):
        said = answers.text("stream", WORDS, place=name, needed=False, offer=True)
        if said is None:
            continue
        try:
            rows = rows_of(said)
        except ValueError as wrong:
            answers.refuse("stream", str(wrong), place=name)
            continue
        yield f"\n[[stream_station]]\nname = {quoted(f'{name}, stream')}\nreference = {quoted(tide.station)}"
        yield from place_lines(_middle(before.position, after.position))
        for key, words in RANGES.items():
            yield number_line(key, answers.number(key, words, 0.05, 20.0), words)
        source = answers.text("stream_source", "where the streams are taken from", needed=False, offer=True)
        yield f"source = {quoted(source or 'as answered when the call was made')}"
        for row in rows:
            lines = [f"{key} = {value:g}" for (key, _, _), value in zip(COLUMNS, row, strict=True)]
            yield "\n".join(["[[stream_station.row]]", *lines])


def rows_of(said: str) -> list[Row]:
    """The hours of a table as said.

    Raises
    ------
    ValueError
        For what is no such table: which hour, and what was expected.
    """
    rows = [_row(part.strip()) for part in said.replace("\n", ";").split(";") if part.strip()]
    hours = [row[0] for row in rows]
    if len(rows) < 2 or hours != sorted(set(hours)):
        raise ValueError("expected at least two hours, in order, each once")
    return rows


def _row(part: str) -> Row:
    words = part.replace("\u2212", "-").split()
    figures = [float(word) if NUMBER.fullmatch(word) and len(word) < 20 else math.nan for word in words]
    if len(figures) != len(COLUMNS):
        raise ValueError(f"'{shortened(part)}'; expected four figures: hour, degrees, knots at springs, at neaps")
    for (key, low, high), value in zip(COLUMNS, figures, strict=True):
        if not low <= value <= high:
            raise ValueError(f"'{shortened(part)}': {key}: expected a number, {low:g} to {high:g}")
    hour, towards, spring, neap = figures
    return hour, towards, spring, neap


def _middle(one: Position, other: Position) -> Position:
    return Position(0.5 * (one.latitude + other.latitude), 0.5 * (one.longitude + other.longitude))
