"""Writes the documents that are made from the code: docs/files.md, docs/cli.md, docs/sources.md. Run after a change."""

import io
import os
import re
import tomllib
from pathlib import Path
from typing import Any

os.environ["COLUMNS"] = "100"  # before the command line is loaded: the help is as wide on every machine

import typer
from pydantic import BaseModel
from rich.console import Console

from leadsman.assessment.assess import assess
from leadsman.cli import app
from leadsman.documents.terminal import WIDTH, assessment_screen
from leadsman.files.call_files import CallShape, ForecastShape, read_call
from leadsman.files.ship_file import ShipShape
from leadsman.files.waterway_file import WaterwayShape

ROOT = Path(__file__).parents[1]
SHAPES: list[tuple[str, type[BaseModel]]] = [
    ("call.toml", CallShape),
    ("ship.toml", ShipShape),
    ("forecast.toml", ForecastShape),
    ("waterway/waterway.toml", WaterwayShape),
]
FILES_HEAD = """# Files of a port call

A port call is a folder, or the same folder zipped. TOML files are edited by hand; units stand in the key; times carry a
zone; a key that is left out means unknown, never zero. `leadsman new FOLDER` writes a set to begin with. Faults are told
as `file:line: field: what is wrong; what was expected`, all at once.

`waterway/areas.geojson` holds the depth areas (RFC 7946, longitude first): polygons with the properties `name`,
`depth_m` (metres below chart datum, negative dries, or "unsurveyed"), `survey_uncertainty_m` (95 %), `siltation_m`,
`surveyed`, `bottom`. Where areas overlap the shallowest counts; water without an area is never assumed deep.

Tables beside `waterway.toml` are CSV: high and low waters `time,height_m`, levels `time,level_m` (heights above chart datum),
streams `time,rate_kn,towards_deg`; times with zone, in order, nothing missing; lines that begin with `#` are remarks.

`record.jsonl` is what was told, agreed, changed, refused and done: written by the page, one entry a line, only ever
added to. Each entry carries the mark of the one before it, so an altered record is told with its line and nothing more
is added to it. `leadsman record CALL` prints it; the pack carries it with the mark of the last entry.

This page is made from the code by `studies/write_docs.py`.
"""
CLI_HEAD = """# Command line

Each command exits 0 when fine, 1 when a finding of grade stop stands against the plan, 2 on faults of the input, 130
when stopped by the user. `--json` prints data with a stable, versioned schema.

This page is made from the code by `studies/write_docs.py`.
"""
SOURCES_HEAD = """# Sources

The bibliography by subject. The mark says how far the text was seen by the writer: **seen** (read in the document or a
public copy), **memory** (known, not re-read), **derived**, **computed**, **common practice, no source**.

This page is made from `src/leadsman/sources/` by `studies/write_docs.py`.
"""


def files_page() -> str:
    """docs/files.md."""
    parts = [FILES_HEAD]
    for name, shape in SHAPES:
        parts.append(f"\n## {name}\n")
        parts += tables_of(shape, "")
    return "\n".join(parts) + "\n"


def tables_of(shape: type[BaseModel], table: str) -> list[str]:
    """The keys of one table, then the tables inside it."""
    rows, inner = [], []
    for key, field in shape.model_fields.items():
        below = model_of(field.annotation)
        if below is not None:
            many = "list[" in str(field.annotation)
            inner.append((f"{table}.{key}".lstrip("."), many, below))
        else:
            need = "required" if field.is_required() else ""
            choices = re.findall(r"'([a-z_A-Z]+)'", str(field.annotation)) if "Literal" in str(field.annotation) else []
            text = field.description or ""
            rows.append(f"| `{key}` | {text}{': ' + ', '.join(choices) if choices else ''} | {need} |")
    lines = ["| key | expected | |", "|---|---|---|", *rows] if rows else []
    for name, many, below in inner:
        lines += ["", f"### {'[[' if many else '['}{name}{']]' if many else ']'}", "", (below.__doc__ or "").strip(), ""]
        lines += tables_of(below, name)
    return lines


def model_of(annotation: Any) -> type[BaseModel] | None:
    """The table behind an annotation, if there is one."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in getattr(annotation, "__args__", ()) if (found := model_of(part))), None)


def cli_page() -> str:
    """docs/cli.md."""
    command = typer.main.get_command(app)
    parts = [CLI_HEAD]
    with typer.Context(command, info_name="leadsman") as context:
        parts += ["```", plain(command.get_help(context)), "```"]
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            with typer.Context(below, info_name=name, parent=context) as inner:
                parts += [f"\n## leadsman {name}\n", "```", plain(below.get_help(inner)), "```"]
    return "\n".join(parts) + "\n"


def plain(text: str) -> str:
    """Without trailing blanks and colours."""
    return "\n".join(line.rstrip() for line in re.sub(r"\x1b\[[0-9;]*m", "", text).strip().splitlines())


def sources_page() -> str:
    """docs/sources.md."""
    parts = [SOURCES_HEAD]
    for file in sorted((ROOT / "src/leadsman/sources").glob("*.toml")):
        parts += [f"\n## {file.stem.replace('_', ' ').capitalize()}\n", "| key | document | mark |", "|---|---|---|"]
        for key, row in tomllib.loads(file.read_text()).items():
            who = ", ".join(str(row[name]) for name in ("authors", "year") if row.get(name))
            rest = ", ".join(str(row[name]) for name in ("edition", "where") if row.get(name))
            parts.append(f"| {key} | {who}: *{row['title']}*{', ' + rest if rest else ''} | {row['mark']} |")
    return "\n".join(parts) + "\n"


def readme() -> str:
    """README.md with the screen of the first example as it comes out today."""
    text = (ROOT / "README.md").read_text()
    console = Console(width=WIDTH, highlight=False, no_color=True, record=True, file=io.StringIO())
    console.print(assessment_screen(assess(read_call(ROOT / "examples/1-river-coaster"))))
    screen = "\n".join(line.rstrip() for line in console.export_text(styles=False).rstrip().splitlines())
    screen = re.sub(r"Fingerprint [0-9a-f]+", "Fingerprint ............", screen)
    before, _, rest = text.partition("```text\n")
    _, _, after = rest.partition("```")
    return f"{before}```text\n{screen}\n```{after}"


PAGES = {"docs/files.md": files_page, "docs/cli.md": cli_page, "docs/sources.md": sources_page, "README.md": readme}


def main() -> None:
    for name, make in PAGES.items():
        (ROOT / name).write_text(make())


if __name__ == "__main__":
    main()
