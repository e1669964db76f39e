"""Lines of a TOML file written by us: texts of unknown hands stay on their line; what is asked for is a remark."""

import json

from leadsman.files.formats.records import printable
from leadsman.geometry import Position


def quoted(text: str) -> str:
    """A text as a TOML string on one line."""
    return json.dumps(printable(text), ensure_ascii=False)


def remark(text: str) -> str:
    """A text as a TOML comment on one line."""
    return f"# {printable(text)}"


def asked(key: str, what: str) -> str:
    """A key that a person must fill in: as long as it is a remark, the reader refuses the file."""
    return f"# {key} = ?  # {what}"


def number_line(key: str, value: float | None, what: str) -> str:
    """A key with its number, or asked for."""
    return asked(key, what) if value is None else f"{key} = {round(value, 6):.12g}"


def place_lines(position: Position) -> list[str]:
    """Latitude and longitude, to a centimetre."""
    return [f"latitude = {position.latitude:.7f}", f"longitude = {position.longitude:.7f}"]


def inline_place(position: Position) -> str:
    """A position as an inline table."""
    return f"{{ latitude = {position.latitude:.7f}, longitude = {position.longitude:.7f} }}"
