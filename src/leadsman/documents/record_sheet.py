"""The record of a call by itself: exchange, tests and every entry, as sheets to sign and keep and as plain data."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import typst

from leadsman.documents.fonts import families
from leadsman.documents.pack import PAPERS
from leadsman.documents.record_data import record_data
from leadsman.documents.typeset import compiler, printed, write_whole
from leadsman.record import Record

Data = dict[str, Any]

READ = (
    *("call", "caution", "manner", "fingerprint", "verdict", "ship", "loading", "forecast", "margins", "tugs"),
    "figures",
)
"""What of an assessment its sheets read."""


def record_pdf(data: Data, record: Record, paper: str = "a4") -> bytes:
    """What was said, on the sheets of the pack it stands on; `data` is the assessment of the plan as it is now."""
    if paper not in PAPERS:
        raise ValueError(f"'{paper}' is no paper known here; expected one of {', '.join(PAPERS)}")
    parts = [{key: data[key] for key in READ}, record_data(record, data["call"]["direction"], data["fingerprint"])]
    stamp = datetime.fromisoformat(data["call"]["start"]["value"])
    return printed(parts, lambda spelt: _typesetter(spelt[0], spelt[1], paper), stamp)


def _typesetter(data: Data, record: Data, paper: str) -> typst.Compiler:
    inputs = {"data": json.dumps(data), "record": json.dumps(record), "families": "|".join(families()), "paper": paper}
    return compiler("record.typ", inputs)


def record_json(data: Data, record: Record) -> bytes:
    """The same as `leadsman.record/1`, readable by people and programs."""
    said = record_data(record, data["call"]["direction"], data["fingerprint"])
    about = {key: data["call"][key] for key in ("name", "ship", "direction")} | {
        "start": data["call"]["start"]["value"]
    }
    return (json.dumps(said | {"call": about}, ensure_ascii=False, indent=1) + "\n").encode()


def write_record(data: Data, record: Record, folder: Path) -> list[Path]:
    """Write record.pdf and record.json into a folder, made if missing, and return the files written."""
    made = {"record.pdf": record_pdf(data, record), "record.json": record_json(data, record)}
    folder.mkdir(parents=True, exist_ok=True)
    return [write_whole(folder / name, content) for name, content in made.items()]
