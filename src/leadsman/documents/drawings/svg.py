"""A small writer of SVG in millimetres of paper, with the patterns all drawings share."""

import unicodedata
from collections.abc import Iterable, Sequence
from html import escape

Point = tuple[float, float]

POINT = 25.4 / 72.0  # mm, exact: the desktop publishing point
INK = "#10182b"  # blue-black: stays dark under a red torch, where red ink would vanish
PAPER = "#ffffff"

SMALL = 8.0
"""Smallest letters of a drawing. [pt]"""
NORMAL = 8.5
LARGE = 10.0

_PATTERNS = {
    "dense": '<path d="M-1 1L1 -1M0 1.3L1.3 0M0.3 2.3L2.3 0.3" stroke-width="0.34"/>|1.3',
    "sparse": '<path d="M-1 1L1 -1M0 2.6L2.6 0M1.6 3.6L3.6 1.6" stroke-width="0.16"/>|2.6',
    "cross": '<path d="M0 2L2 0M0 0L2 2" stroke-width="0.18"/>|2',
    "level": '<path d="M0 0.6H1.2" stroke-width="0.3"/>|1.2',
    "upright": '<path d="M0.6 0V1.2" stroke-width="0.3"/>|1.2',
    "grid": '<path d="M0 0.6H1.2M0.6 0V1.2" stroke-width="0.3"/>|1.2',
    "sand": '<path d="M0.5 0.5h0.22M1.5 1.5h0.22" stroke-width="0.22"/>|2',
}


class Svg:
    """A drawing under construction; coordinates are millimetres from its top left corner."""

    def __init__(self, name: str, width: float, height: float) -> None:
        self.name, self.width, self.height = name, width, height
        self._body: list[str] = []
        self._patterns: set[str] = set()
        self._clips: list[str] = []

    def fill(self, pattern: str) -> str:
        """What to write as fill for one of the shared patterns."""
        self._patterns.add(pattern)
        return f"url(#{self.name}-{pattern})"

    def clip(self, x: float, y: float, width: float, height: float) -> None:
        """What follows is drawn inside this rectangle only, until `unclip`."""
        label = f"{self.name}-clip{len(self._clips)}"
        area = f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" height="{_n(height)}"/>'
        self._clips.append(f'<clipPath id="{label}">{area}</clipPath>')
        self._body.append(f'<g clip-path="url(#{label})">')

    def unclip(self) -> None:
        """End of the clipped part."""
        self._body.append("</g>")

    def rectangle(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: str = "none",
        stroke: float = 0.0,
        rounded: float = 0.0,
    ) -> None:
        """An upright rectangle."""
        corner = f' rx="{_n(rounded)}"' if rounded else ""
        self._body.append(
            f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(max(width, 0.0))}" height="{_n(max(height, 0.0))}"{corner} '
            f'fill="{fill}"{_stroke(stroke)}/>'
        )

    def line(self, points: Sequence[Point], stroke: float = 0.2, dash: str = "", colour: str = INK) -> None:
        """An open line."""
        if len(points) > 1:
            self._body.append(f'<path d="{_path([points], False)}" fill="none"{_stroke(stroke, dash, colour)}/>')

    def shape(self, rings: Iterable[Sequence[Point]], fill: str, stroke: float = 0.0, dash: str = "") -> None:
        """A closed shape; further rings are holes."""
        self._body.append(f'<path d="{_path(rings, True)}" fill="{fill}" fill-rule="evenodd"{_stroke(stroke, dash)}/>')

    def dot(self, x: float, y: float, radius: float, fill: str = INK, stroke: float = 0.0) -> None:
        """A filled circle."""
        self._body.append(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="{fill}"{_stroke(stroke)}/>')

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = NORMAL,
        bold: bool = False,
        anchor: str = "start",
        colour: str = INK,
        halo: bool = False,
        turned: float = 0.0,
    ) -> None:
        """One line of text, size in points; `anchor` is start, middle or end; a halo keeps it clear of hatching."""
        style = ' font-weight="700"' if bold else ""
        style += "" if anchor == "start" else f' text-anchor="{anchor}"'
        style += f' transform="rotate({_n(turned)} {_n(x)} {_n(y)})"' if turned else ""
        if halo:
            self._halo(x, y, words, size * (1.05 if bold else 1.0), anchor)
        self._body.append(
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size * POINT)}" fill="{colour}"{style}>'
            f"{escape(words)}</text>"
        )

    def _halo(self, x: float, y: float, words: str, size: float, anchor: str) -> None:
        width, high = text_width(words, size) + 0.9, 0.78 * size * POINT
        left = x - {"start": 0.4, "middle": width / 2.0, "end": width - 0.4}[anchor]
        self.rectangle(left, y - high - 0.2, width, high + 0.8, fill=PAPER, rounded=0.4)

    def written(self, families: Sequence[str]) -> str:
        """The whole drawing."""
        patterns = "".join(
            f'<pattern id="{self.name}-{name}" width="{side}" height="{side}" patternUnits="userSpaceOnUse">'
            f'<g stroke="{INK}" fill="none">{marks}</g></pattern>'
            for name in sorted(self._patterns)
            for marks, side in [_PATTERNS[name].split("|")]
        )
        fonts = escape(", ".join(f"'{family}'" for family in families), quote=True)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(self.width)}mm" height="{_n(self.height)}mm" '
            f'viewBox="0 0 {_n(self.width)} {_n(self.height)}" font-family="{fonts}">'
            f"<defs>{patterns}{''.join(self._clips)}</defs>{''.join(self._body)}</svg>"
        )


def text_width(words: str, size: float) -> float:
    """About how wide a line of text is: near enough to keep labels apart. [mm]"""
    return sum(_advance(character) for character in words) * size * POINT


def shortened(words: str, longest: int) -> str:
    """Words cut at a number of characters, with an ellipsis; the tables carry the name in full."""
    return words if len(words) <= longest else words[: longest - 1].rstrip() + "…"


def _advance(character: str) -> float:
    """Width in ems; wide scripts take the whole em."""
    if unicodedata.east_asian_width(character) in "WF":
        return 1.0
    if character in " .,:;'|ijlft":
        return 0.28
    if character in "mwMW…":
        return 0.84
    return 0.6 if character.isupper() else 0.51


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _stroke(width: float, dash: str = "", colour: str = INK) -> str:
    if not width:
        return ""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f' stroke="{colour}" stroke-width="{_n(width)}" stroke-linejoin="round"{dashes}'


def _path(rings: Iterable[Sequence[Point]], closed: bool) -> str:
    end = "Z" if closed else ""
    return "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in ring) + end for ring in rings)
