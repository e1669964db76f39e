"""Windows by day: one row a day, from midnight by the clock in force, with what shuts her out between the windows."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from leadsman import format as text
from leadsman.documents.drawings.svg import INK, NORMAL, PAPER, SMALL, Svg, text_width
from leadsman.manner import clock

DAY = timedelta(days=1)
LEFT, RIGHT = 19.0, 3.0  # mm for the name of the day, and beyond midnight
TOP, ROW, FOOT = 5.6, 5.6, 5.6
BASE = 4.05  # mm from the top of a row to the foot of its letters
CLOCK = 8.9  # mm that a time such as 05:28 takes
MOST_ROWS = 8

Span = tuple[datetime, datetime, str]


def windows_by_day(data: Mapping[str, Any], families: Sequence[str], width: float) -> str:
    """One row a day about the planned start; at most eight days, the rest is counted in words."""
    start = _at(data["call"]["start"]["value"])
    first, rows, days = _rows(data, start)
    svg = Svg("days", width, TOP + rows * ROW + FOOT)
    scale = (width - LEFT - RIGHT) / DAY.total_seconds()

    def x(moment: datetime, midnight: datetime) -> float:
        return LEFT + (moment - midnight).total_seconds() * scale

    _hours(svg, scale, rows)
    windows = [(_at(one["opens"]["value"]), _at(one["closes"]["value"]), one) for one in data["windows"]]
    closed = list(_closed(data["series"], windows))
    for row in range(rows):
        midnight, top = first + row * DAY, TOP + row * ROW
        svg.text(
            LEFT - 2.0, top + BASE, text.day(midnight), NORMAL, bold=midnight <= start < midnight + DAY, anchor="end"
        )
        for begin, end, why in closed:
            for a, b in _within(begin, end, midnight):
                svg.rectangle(x(a, midnight), top + 0.9, x(b, midnight) - x(a, midnight), ROW - 1.8, fill=svg.fill(why))
        bars = [
            (x(a, midnight), x(b, midnight), a == begin, b == end, window)
            for begin, end, window in windows
            for a, b in _within(begin, end, midnight)
        ]
        marked = x(start, midnight) if midnight <= start < midnight + DAY else None
        _bars(svg, bars, top, marked)
        if marked is not None:
            _marker(svg, marked, top)
    hidden = days - rows
    _legend(svg, TOP + rows * ROW + 4.4, f"{hidden} more not drawn" if hidden else "")
    return svg.written(families)


def _rows(data: Mapping[str, Any], start: datetime) -> tuple[datetime, int, int]:
    """(first midnight drawn, rows drawn, days there are)."""
    begin, end = _midnight(_at(data["call"]["search_begin"]["value"])), _at(data["call"]["search_end"]["value"])
    begin, end = min(begin, _midnight(start)), max(end, start + timedelta(seconds=1))
    days = -((begin - end) // DAY)
    if days <= MOST_ROWS:
        return begin, days, days
    last_first = begin + (days - MOST_ROWS) * DAY
    return max(begin, min(_midnight(start) - 2 * DAY, last_first)), MOST_ROWS, days


def _hours(svg: Svg, scale: float, rows: int) -> None:
    for hour in range(25):
        x = LEFT + hour * 3600.0 * scale
        main = hour % 3 == 0
        svg.line([(x, TOP - (1.2 if main else 0.0)), (x, TOP + rows * ROW)], 0.22 if main else 0.08)
        if main:
            svg.text(x, TOP - 1.8, f"{hour:02d}", SMALL, anchor="middle")
    svg.text(LEFT - 2.0, TOP - 1.8, clock(), SMALL, bold=True, anchor="end")


def _closed(series: Mapping[str, Any], windows: Sequence[tuple[datetime, datetime, Any]]) -> Iterator[Span]:
    """Runs of start times with the same reason to stay out, from sample to sample; windows are drawn over them."""
    times = [_at(moment) for moment in series["start"]]
    reasons = [_reason(*pair) for pair in zip(series["underkeel"], series["overhead"], strict=True)]
    shown = [
        reason or _reason_beside(reasons, index) or ("" if _open(time, windows) else "cross")
        for index, (time, reason) in enumerate(zip(times, reasons, strict=True))
    ]
    begin = 0
    for index in range(1, len(times)):
        if shown[index] != shown[begin] or index == len(times) - 1:
            if shown[begin]:
                yield times[begin], times[index], shown[begin]
            begin = index


def _reason_beside(reasons: Sequence[str], index: int) -> str:
    """What shuts her out one sample before or after: the edge itself falls between two samples."""
    return next(
        (reason for reason in (*reasons[max(index - 1, 0) : index], *reasons[index + 1 : index + 2]) if reason), ""
    )


def _open(time: datetime, windows: Sequence[tuple[datetime, datetime, Any]]) -> bool:
    return any(opens <= time <= closes for opens, closes, _ in windows)


def _reason(underkeel: float | None, overhead: float | None) -> str:
    water, bridge = underkeel is not None and underkeel < 0.0, overhead is not None and overhead < 0.0
    return {(False, False): "", (True, False): "level", (False, True): "upright", (True, True): "grid"}[water, bridge]


def _bars(
    svg: Svg, bars: Sequence[tuple[float, float, bool, bool, Any]], top: float, marked: float | None = None
) -> None:
    """Windows of one row as (left, right, opens here, closes here, window), with their times where there is room.

    `marked` is where the planned start will be drawn: words in a bar keep to the larger side of it.
    """
    taken = [(left, right) for left, right, *_ in bars]
    for left, right, *_ in bars:
        svg.rectangle(left, top + 0.5, right - left, ROW - 1.0, fill=PAPER, stroke=0.5)
    for left, right, opens, closes, window in bars:
        if right - left >= 2.0 * CLOCK + 4.0 and opens and closes:
            words = f"{window['opens']['clock']} to {window['closes']['clock']}"
            svg.text(_beside(left, right, marked), top + BASE, words, NORMAL, bold=True, anchor="middle")
            continue
        inside = right - left >= CLOCK
        if opens:
            _clock(svg, window["opens"]["clock"], (left - CLOCK, left if inside else None), top, taken)
        if closes:
            _clock(svg, window["closes"]["clock"], (right, right - CLOCK if inside else None), top, taken)


def _beside(left: float, right: float, marked: float | None) -> float:
    """The middle of a bar, or of the larger part of it beside the mark where the words would run into that."""
    middle = 0.5 * (left + right)
    if marked is None or not left < marked < right or abs(marked - middle) > CLOCK + 4.0:
        return middle
    return 0.5 * (left + marked) if marked > middle else 0.5 * (marked + right)


def _clock(
    svg: Svg, words: str, places: tuple[float, float | None], top: float, taken: list[tuple[float, float]]
) -> None:
    """A time beside its edge where that is free, else within the bar, else left to the table."""
    outside, inside = places
    free = LEFT <= outside <= svg.width - RIGHT - CLOCK and not any(
        outside < right - 0.1 and left + 0.1 < outside + CLOCK for left, right in taken
    )
    x = outside if free else inside
    if x is not None:
        taken.append((x, x + CLOCK))
        svg.text(x + 0.5 * CLOCK, top + BASE, words, NORMAL, bold=True, anchor="middle", halo=free)


def _marker(svg: Svg, x: float, top: float) -> None:
    svg.line([(x, top + 0.2), (x, top + ROW - 0.2)], 0.9)
    svg.shape([[(x - 1.7, top + 0.2), (x + 1.7, top + 0.2), (x, top + 2.6)]], INK)


def _legend(svg: Svg, y: float, more: str) -> None:
    x = LEFT
    for pattern, words in (
        ("", "open"),
        ("level", "too little water"),
        ("upright", "too little height"),
        ("grid", "both"),
        ("cross", "another limit"),
    ):
        svg.rectangle(
            x, y - 2.6, 5.5, 3.2, fill=svg.fill(pattern) if pattern else PAPER, stroke=0.5 if not pattern else 0.15
        )
        svg.text(x + 7.0, y, words, SMALL)
        x += 9.5 + text_width(words, SMALL)
    svg.shape([[(x, y - 2.6), (x + 3.0, y - 2.6), (x + 1.5, y)]], INK)
    svg.text(x + 4.4, y, "planned start", SMALL)
    if more:
        svg.text(svg.width - RIGHT, y, more, SMALL, bold=True, anchor="end")


def _within(begin: datetime, end: datetime, midnight: datetime) -> Iterator[tuple[datetime, datetime]]:
    a, b = max(begin, midnight), min(end, midnight + DAY)
    if a < b:
        yield a, b


def _midnight(moment: datetime) -> datetime:
    return text.local(moment).replace(hour=0, minute=0, second=0, microsecond=0)


def _at(moment: str) -> datetime:
    return datetime.fromisoformat(moment)
