"""Compares the program with the outside world and writes docs/validation.md; run by `make validate`.

Each section states what was compared with which document, how far they agree, and what the comparison does not show.
Other subjects have studies of their own, `studies/validation_*.py` with a `main()`, whose pages lie in docs/validation/.
"""

import csv
import importlib.util
import sys
import tomllib
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from leadsman.assessment.prepare import prepare
from leadsman.files.call_files import read_call
from leadsman.physics import tide
from leadsman.units import DEGREE, KNOT

ROOT = Path(__file__).parents[1]
HEAD = """# How far the results agree with the outside world

Made by `make validate`. A comparison with a document marked *seen* is a check of the method; one with a formula
transcribed from memory checks the transcription only, and says so.
"""


def main() -> None:
    parts = [HEAD, tides(), squats(), windows(), elsewhere()]
    (ROOT / "docs/validation.md").write_text("\n".join(parts))
    print((ROOT / "docs/validation.md").read_text())


def tides() -> str:
    folder = ROOT / "authorities/noaa_boston"
    station = tomllib.loads((folder / "station.toml").read_text())
    constants = {name: (height, lag * DEGREE) for name, (height, lag) in station["constituents"].items()}
    errors = []
    for row in csv.DictReader((folder / "hourly.csv").open()):
        time = _utc(row["time"])
        found = tide.level(tide.harmonics(constants, station["mean_level_m"], time, time), time)
        errors.append(float(found) - float(row["level_m"]))
    rows = list(csv.DictReader((folder / "turning_points.csv").open()))
    first, last = _utc(rows[0]["time"]) - 3600.0, _utc(rows[-1]["time"]) + 3600.0
    points = tide.turning_points(tide.harmonics(constants, station["mean_level_m"], first, last), first, last)
    late = [found - _utc(row["time"]) for found, row in zip(points.time, rows, strict=True)]
    high = [found - float(row["level_m"]) for found, row in zip(points.level, rows, strict=True)]
    return f"""
## Tide

Boston, NOAA station 8443970, published predictions of 2026, 2031 and 2036 (NOAA CO-OPS, seen), by the 37 constituents
and the yearly scheme.

| compared | number | rms | greatest |
|---|---|---|---|
| hourly heights | {len(errors)} | {_rms(errors) * 1000:.1f} mm | {max(map(abs, errors)) * 1000:.1f} mm |
| heights of high and low water | {len(high)} | {_rms(high) * 1000:.1f} mm | {max(map(abs, high)) * 1000:.1f} mm |
| times of high and low water | {len(late)} | {_rms(late):.0f} s | {max(map(abs, late)):.0f} s |

NOAA prints heights to 1 mm and times to the minute, so the times cannot agree better than about half a minute. An
independent library (UTide) agrees within 1 cm on the eight main constituents in both nodal schemes (in the tests). Not
shown: other stations, places with strong shallow-water tides, weather.
"""


def squats() -> str:
    from leadsman.physics.squat import barrass_1979

    rows = [  # blockage, speed kn, published squat m: a shipping company's squat worksheet citing Barrass 1979, seen
        (0.137105, 5.0, 0.22), (0.137105, 9.0, 0.74), (0.137105, 12.0, 1.34), (0.137105, 15.0, 2.13),
        (0.104933, 9.0, 0.60), (0.104933, 12.0, 1.09), (0.104933, 15.0, 1.74),
    ]  # fmt: skip
    errors = [barrass_1979(speed * KNOT, 0.78, blockage) - squat for blockage, speed, squat in rows]
    return f"""
## Squat

Barrass 1979 against a published squat worksheet (seen; block coefficient 0.78, {len(rows)} speeds and channels): greatest
difference {max(map(abs, errors)) * 1000:.0f} mm, within the printed digits. Most other methods are transcribed from
memory of their documents (docs/sources.md has the marks): their worked values only show that the code equals the formula as
printed in our sheets, not the original. At one speed the methods scatter by a factor of about two; the greatest that
applies governs.
"""


def windows() -> str:
    """The solver's edges against a bisection on the account itself, over the example."""
    prepared = prepare(read_call(ROOT / "examples/1-river-coaster"))
    search = prepared.search
    starts = np.arange(prepared.water.elapsed(prepared.call.search_begin), prepared.water.elapsed(prepared.call.search_end), 1.0)
    rows = prepared.margins(starts)
    good = np.minimum(rows[:, 0], rows[:, 2]) >= 0.0
    turns = starts[1:][good[1:] != good[:-1]]
    edges = [edge for span in search.spans for edge, real in ((span.opens, span.opens_at_edge), (span.closes, span.closes_at_edge)) if real]
    worst = max(abs(edge - turn) for edge, turn in zip(edges, turns, strict=True)) if len(edges) == len(turns) else np.nan
    return f"""
## Windows

Example 1, a week: the solver finds {len(search.spans)} windows with {len(edges)} edges from {search.evaluations} starts looked
at; a scan of every second ({len(starts)} starts) finds {len(turns)} edges, the greatest difference is {worst:.2f} s. A march
and account in plain Python, without needed levels and kernels, agrees on every edge to a second and on every second
minute of two and a half days (in the tests).
"""


def elsewhere() -> str:
    """Subjects with a study of their own."""
    lines = ["\n## Other subjects\n"]
    for study in sorted((ROOT / "studies").glob("validation_*.py")):
        spec = importlib.util.spec_from_file_location(study.stem, study)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[study.stem] = module  # so that processes it starts find its functions by name
        spec.loader.exec_module(module)
        module.main()
        name = study.stem.removeprefix("validation_")
        lines.append(f"- [{name.replace('_', ' ')}](validation/{name}.md)")
    return "\n".join(lines if len(lines) > 1 else []) + "\n"


def _utc(text: str) -> float:
    return datetime.fromisoformat(text.replace("Z", "")).replace(tzinfo=UTC).timestamp()


def _rms(values: list[float]) -> float:
    return float(np.sqrt(np.mean(np.square(values))))


if __name__ == "__main__":
    main()
