"""One drawing of a port call as a file of its own: SVG with its letters as outlines, or PNG."""

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Literal

import typst

from leadsman.documents.drawings import plan, section, strips, windows_by_day
from leadsman.documents.fonts import families, sheet_fonts
from leadsman.documents.letters import spelt_out, unprintable, without_font
from leadsman.manner import clock

Data = dict[str, Any]
Kind = Literal["svg", "png"]

TEMPLATES = Path(__file__).parent / "templates"
WIDTH = 184.0  # mm
SHARPNESS = 200.0  # dots to the inch of a PNG
FORMATS: "tuple[Kind, ...]" = ("svg", "png")


def _plan(data: Data, letters: Sequence[str]) -> str:
    return plan(data, letters, WIDTH, 150.0)


def _strips(data: Data, letters: Sequence[str]) -> str:
    return strips(data, letters, WIDTH, 240.0)


def _section(data: Data, letters: Sequence[str]) -> str:
    return section(data, letters, WIDTH, 90.0)


def _windows(data: Data, letters: Sequence[str]) -> str:
    return windows_by_day(data, letters, WIDTH)


DRAWINGS: dict[str, tuple[str, Callable[[Data, Sequence[str]], str]]] = {
    "plan": ("Plan", _plan),
    "strips": ("Plan in strips", _strips),
    "profile": ("Profile and room", _section),
    "windows": ("Start times by day", _windows),
}
"""By name: title, and what draws it."""


def drawing_file(data: Data, name: str, kind: Kind) -> bytes:
    """A drawing of an assessment (as `data.assessment_data` gives it), with title, call, revision and caution.

    Raises
    ------
    ValueError
        If there is no such drawing or kind of file.
    """
    if name not in DRAWINGS or kind not in FORMATS:
        known = ", ".join(f"{one}.{end}" for one in DRAWINGS for end in FORMATS)
        raise ValueError(f"there is no drawing '{name}.{kind}'; expected one of {known}")
    missing = unprintable(data)
    while True:
        try:
            return _drawn(spelt_out(data, missing), name, kind)
        except typst.TypstError as error:
            more = without_font(error.diagnostic) - missing
            if not more:
                raise
            missing |= more


def _drawn(data: Data, name: str, kind: Kind) -> bytes:
    title, draw = DRAWINGS[name]
    call, letters = data["call"], families()
    when = f"start {call['start']['date']} {call['start']['clock']} {clock()}"
    said = {
        "title": title,
        "call": f"{call['ship']}, {call['name']}, {when}, revision {data['fingerprint']}",
        "caution": data["caution"],
    }
    inputs = {"said": json.dumps(said), "drawing": draw(data, letters), "families": "|".join(letters)}
    compiler = typst.Compiler(
        TEMPLATES / "drawing.typ",
        root=TEMPLATES,
        font_paths=sheet_fonts(),
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )
    written = compiler.compile(format=kind, ppi=SHARPNESS)
    assert isinstance(written, bytes), "one drawing is one piece"
    return written
