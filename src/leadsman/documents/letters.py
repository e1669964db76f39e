"""Letters that cannot be printed: found, replaced by their code points, and told to the reader. Never an empty box."""

import re
import unicodedata
from collections.abc import Iterator
from typing import Any

_NO_FONT = re.compile(r'the text `"(.+?)"` could not be displayed')
_ESCAPED = re.compile(r"\\(?:u\{([0-9a-f]+)\}|(.))")
BREAK = "\u200b"
"""What the templates put between letters of long names, so that they may break: never missing itself."""
_ORDER_CHANGING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the order of what follows: in a name they could turn the figures after it."""


def unprintable(data: Any) -> set[str]:
    """Control characters, lone surrogates and marks that change the order of letters, anywhere in the data."""
    return {
        letter
        for words in _strings(data)
        for letter in words
        if unicodedata.category(letter) in ("Cc", "Cs") or letter in _ORDER_CHANGING
    }


def without_font(diagnostic: str) -> set[str]:
    """The letters of which the typesetter says that no font has them; it writes some of them as escapes."""
    told = (_ESCAPED.sub(_unescaped, words) for words in _NO_FONT.findall(diagnostic))
    return {letter for words in told for letter in words} - {BREAK}


def _unescaped(found: re.Match[str]) -> str:
    return chr(int(found[1], 16)) if found[1] else found[2]


def spelt_out(data: Any, missing: set[str]) -> Any:
    """The data with each missing letter as its code point, and a note of them under `letters_missing`."""
    marks = {ord(letter): f"[{_code(letter)}]" for letter in missing}
    written = _translated(data, marks) if marks else dict(data)
    written["letters_missing"] = sorted(_code(letter) for letter in missing)
    return written


def _code(letter: str) -> str:
    return f"U+{ord(letter):04X}"


def _translated(data: Any, marks: dict[int, str]) -> Any:
    if isinstance(data, str):
        return data.translate(marks)
    if isinstance(data, dict):
        return {key: _translated(value, marks) for key, value in data.items()}
    if isinstance(data, list):
        return [_translated(value, marks) for value in data]
    return data


def _strings(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from _strings(value)
    elif isinstance(data, list):
        for value in data:
            yield from _strings(value)
