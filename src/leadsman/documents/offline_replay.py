"""The replay on the offline page: the rehearsed passage over its plan, moment by moment, with what she does in words.

All words and figures are written here, by the same functions as everywhere; the script (`templates/replay.js`) only
shows those of the moment, lays her outline on the plan, and moves the time.
"""

import base64
import json
import math
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime, timedelta
from hashlib import sha256
from html import escape
from pathlib import Path
from typing import Any

from leadsman import format as text
from leadsman.documents.drawings.stage import stage
from leadsman.documents.offline_parts import FAMILIES, WIDTH, heading, paragraph
from leadsman.manner import clock

Data = Mapping[str, Any]
Row = Mapping[str, float | None]

SCRIPT = Path(__file__).parent / "templates" / "replay.js"
HEIGHT = 120.0  # mm of the stage's own paper
RATES = (5, 20, 60)
STILL = 1e-6
NONE = "–"


def script() -> str:
    """The script as it stands in the page."""
    return SCRIPT.read_text("utf-8")


def script_mark() -> str:
    """What the page's policy allows to run: this script and no other."""
    return f"sha256-{base64.b64encode(sha256(script().encode()).digest()).decode('ascii')}"


def replay_part(data: Data, rehearsal: Data) -> str:
    """Stage, clock, figures of the moment, strips and orders; for the run as planned and the worst drawn one."""
    ensemble = rehearsal["ensemble"]
    svg, places = stage(data, ensemble, FAMILIES, WIDTH, HEIGHT)
    runs = {"planned": rehearsal["planned"]}
    if ensemble is not None and ensemble["worst"] is not None and ensemble["worst"]["track"]:
        runs["worst"] = ensemble["worst"]
    start = datetime.fromisoformat(rehearsal["start"])
    told = {"clock": clock(), "places": places, "runs": {name: _run(run, start) for name, run in runs.items()}}
    return (
        heading("Replay of the rehearsal", 1)
        + '<noscript><p class="boxed">The replay needs scripts; all else on this page does without.</p></noscript>'
        + '<section id="replay" aria-label="Replay" hidden>'
        + _run_choice(runs)
        + f'<div class="stage" id="stage" role="img" aria-label="{escape(_stage_words(ensemble))}">{svg}</div>'
        + paragraph(_stage_words(ensemble))
        + _clock()
        + '<dl class="now" id="now"></dl><div id="strips"></div>'
        + '<h2>Orders</h2><ol class="orders" id="orders" tabindex="0" aria-label="Orders of this run"></ol></section>'
        + f'<script type="application/json" id="replay-data">{_inert(told)}</script>'
    )


def _stage_words(ensemble: Data | None) -> str:
    swath = (
        ""
        if ensemble is None
        else f" Lines beside the track: where half, 95 and 99 in 100 of {ensemble['runs']} drawn runs kept all of her."
    )
    return f"Plan of the passage with her outline at the moment shown.{swath}"


def _run_choice(runs: Mapping[str, Data]) -> str:
    words = {name: f"{run['ended']}, {run['time'] / 60.0:.0f} min" for name, run in runs.items()}
    labels = {"planned": "As planned", "worst": f"Run {runs['worst']['number']}" if "worst" in runs else ""}
    choices = "".join(
        f'<label><input type="radio" name="run" value="{name}"{" checked" if name == "planned" else ""}> '
        f"{escape(labels[name])}: {escape(words[name])}</label>"
        for name in runs
    )
    return f'<div class="choices" role="radiogroup" aria-label="Which run">{choices}</div>{paragraph("", "why")}'


def _clock() -> str:
    rates = "".join(
        f'<label><input type="radio" name="rate" value="{rate}"{" checked" if rate == 20 else ""}> ×{rate}</label>'
        for rate in RATES
    )
    return (
        '<div class="clock"><button type="button" id="play">Play</button>'
        f'<span class="choices" role="radiogroup" aria-label="How fast">{rates}</span>'
        '<input type="range" id="moment" min="0" value="0" step="1" aria-label="Moment">'
        '<strong id="time"></strong>'
        '<button type="button" id="near" aria-pressed="false">At the ship</button></div>'
    )


def _inert(told: Any) -> str:
    """JSON that no name in it can end or begin a script with."""
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")


def _run(run: Data, start: datetime) -> dict[str, Any]:
    columns = run["columns"]
    rows = [dict(zip(columns, row, strict=True)) for row in run["track"]]
    return {
        "why": run["why"],
        "time": [row["time"] for row in rows],
        "clock": [text.clock_seconds(start + timedelta(seconds=row["time"])) for row in rows],
        **{name: [_short(row[name], 1) for row in rows] for name in ("north", "east")},
        "heading": [_short(row["heading"], 3) for row in rows],
        "now": [[name, [write(row) for row in rows]] for name, write in NOW.items() if _known(columns, name)],
        "strips": [_strip(name, column, rows) for name, column in STRIPS.items() if column in columns],
        "orders": [
            {
                "time": order["time"],
                "clock": text.clock_seconds(start + timedelta(seconds=order["time"])),
                "words": order["words"],
            }
            for order in run["orders"]
        ],
    }


def _known(columns: Sequence[str], name: str) -> bool:
    return NEEDED[name] in columns


def _short(value: float | None, decimals: int) -> float | None:
    return None if value is None else round(value, decimals)


def _strip(name: str, column: str, rows: Sequence[Row]) -> dict[str, Any]:
    """What is drawn along the time: to four times the least, since what is ample needs no detail."""
    values = [row[column] for row in rows]
    known = [value for value in values if value is not None]
    least = min(known, default=0.0)
    return {
        "name": name,
        "values": [_short(value, 2) for value in values],
        "least": text.clearance(least, 1) if known else NONE,
        "at": next((index for index, value in enumerate(values) if value == least), 0),
        "most": max(4.0 * max(least, 1.0), 4.0),
    }


def _sided(value: float | None, write: Callable[[float], str]) -> str:
    if value is None:
        return NONE
    return write(abs(value)) if abs(value) < STILL else f"{write(abs(value))} {text.side(value)}"


def _angle(value: float) -> str:
    return f"{text.number(math.degrees(value), 0)}°"


def _depth(row: Row, column: str, decimals: int) -> str:
    value = row[column]
    return NONE if value is None else text.clearance(value, decimals)


def _value(row: Row, column: str, write: Callable[[float], str]) -> str:
    value = row[column]
    return NONE if value is None else write(value)


NOW: Mapping[str, Callable[[Row], str]] = {
    "Along": lambda row: _value(row, "along", text.miles),
    "Heading": lambda row: _value(row, "heading", lambda angle: f"{text.course(angle)}°"),
    "Through the water": lambda row: _value(row, "surge", text.knots),
    "Rate of turn": lambda row: _sided(row["yaw_rate"], text.rate),
    "Wheel": lambda row: _sided(row["wheel"], _angle),
    "Rudder": lambda row: _sided(row["rudder"], _angle),
    "Thruster": lambda row: _sided(row["thruster"], text.percent),
    "Under keel": lambda row: _depth(row, "keel", 1),
    "Room to port": lambda row: _depth(row, "room_port", 0),
    "Room to starboard": lambda row: _depth(row, "room_starboard", 0),
    "Wind": lambda row: _value(row, "wind_speed", text.knots_whole),
    "Water level": lambda row: _value(row, "level", text.metres),
}
"""What is told of a moment."""
NEEDED = dict(
    zip(
        NOW,
        (
            *("along", "heading", "surge", "yaw_rate", "wheel", "rudder", "thruster", "keel", "room_port"),
            *("room_starboard", "wind_speed", "level"),
        ),
        strict=True,
    )
)
STRIPS = {"Under keel": "keel", "Room to port": "room_port", "Room to starboard": "room_starboard"}
