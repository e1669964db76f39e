"""Times in foreign files: always with a zone, always brought to UTC; a time whose zone is not written is refused."""

import re
from datetime import UTC, datetime, timedelta, timezone

EARLIEST, LATEST = 1900, 2200  # years; beyond them a slip is likelier than a time
WRITTEN = re.compile(r"\d{4}-?\d{2}-?\d{2}[T ]\d{2}(:?\d{2}(:?\d{2}([.,]\d+)?)?)?\s*(Z|[+-]\d{2}(:?\d{2})?)?", re.ASCII)
ZONE = re.compile(r"(?:UTC|GMT)?\s*([+-])(\d{1,2}):?(\d{2})?", re.ASCII)
DURATION = re.compile(r"(-)?P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:\.\d+)?)S)?)?", re.ASCII)


class NotATime(ValueError):
    """A text that is no time we take; the message says why and what was expected."""


def instant(text: str, zone: timezone | None = None) -> datetime:
    """The time written in ISO 8601, as aware UTC; `zone` holds where the text gives none; without either: refused."""
    written = text.strip()
    if not WRITTEN.fullmatch(written):
        raise NotATime(f"'{shortened(text)}' is no time; expected one such as 2026-08-15T05:28Z")
    try:
        found = datetime.fromisoformat(written.replace(" Z", "Z"))
    except ValueError:
        raise NotATime(f"'{shortened(text)}' is no time of the calendar") from None
    if found.tzinfo is None:
        if zone is None:
            raise NotATime(f"'{shortened(text)}' has no zone; write it as 2026-08-15T05:28Z or 2026-08-15T06:28+01:00")
        found = found.replace(tzinfo=zone)
    if not EARLIEST <= found.year <= LATEST:
        raise NotATime(f"'{shortened(text)}' lies outside the years {EARLIEST} to {LATEST}")
    return found.astimezone(UTC)


def fixed_zone(text: str) -> timezone:
    """A zone written as UTC or as a fixed difference from it, such as +01:00; east of Greenwich is plus."""
    written = text.strip()
    if written.upper() in ("UTC", "GMT", "Z"):
        return UTC
    match = ZONE.fullmatch(written)
    if match is None:
        raise NotATime(
            f"'{shortened(text)}' is no zone; expected UTC or a fixed difference such as +01:00 "
            "(a place's name is not taken, because its clocks change)"
        )
    sign, hours, minutes = match[1], int(match[2]), int(match[3] or 0)
    if hours > 14 or minutes > 59:
        raise NotATime(f"'{shortened(text)}' is no zone; expected -12:00 to +14:00")
    return timezone((1 if sign == "+" else -1) * timedelta(hours=hours, minutes=minutes))


def duration(text: str) -> timedelta:
    """A duration of days, hours, minutes and seconds written as in ISO 8601: PT1H30M."""
    match = DURATION.fullmatch(text.strip())
    if match is None or not any(match.groups()[1:]) or len(text) > 40:
        raise NotATime(f"'{shortened(text)}' is no duration; expected one such as PT1H30M")
    days, hours, minutes = (int(part or 0) for part in match.groups()[1:4])
    try:
        span = timedelta(days=days, hours=hours, minutes=minutes, seconds=float(match[5] or 0.0))
    except OverflowError:
        raise NotATime(f"'{shortened(text)}' is longer than any voyage") from None
    return -span if match[1] else span


def written(time: datetime) -> str:
    """The time in UTC as written in our exports: 2026-08-15T05:28:00Z, with parts of a second where there are any."""
    return time.astimezone(UTC).isoformat().replace("+00:00", "Z")


def written_duration(span: timedelta) -> str:
    """The duration as ISO 8601."""
    seconds = span.total_seconds()
    sign, seconds = ("-", -seconds) if seconds < 0 else ("", seconds)
    hours, rest = divmod(seconds, 3600.0)
    minutes, rest = divmod(rest, 60.0)
    return f"{sign}PT{int(hours)}H{int(minutes)}M{rest:g}S"


def shortened(text: str) -> str:
    """A piece of a foreign file as it may be shown in a sentence: one line, printable, not long."""
    shown = "".join(letter if letter.isprintable() else "?" for letter in text.strip())
    return shown if len(shown) <= 40 else shown[:37] + "..."
