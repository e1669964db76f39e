"""The wind that breaks each call of the examples, why and where, and that success falls with the wind; writes
docs/validation/limits.md."""

import math
import time
from pathlib import Path

import numpy as np

from leadsman.assessment.limits import (
    GREATEST,
    LEVEL,
    case_in,
    rehearsed_limits,
    sailed,
    without_the_undisturbed,
)
from leadsman.assessment.limits_search import Tried, in_threads
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse_draws import Spread, draw
from leadsman.assessment.rehearse_many import wilson
from leadsman.assessment.rehearse_prepare import ready
from leadsman.assessment.rehearse_run import GOOD
from leadsman.files.call_files import read_call
from leadsman.units import KNOT

ROOT = Path(__file__).parents[1]
CALLS = sorted(path.name for path in (ROOT / "examples").glob("[1-9]-*"))
DIRECTIONS = 4
RUNS = 20
FALLING_RUNS = 40
WINDS = (0.0, 10.0, 20.0, 30.0, 40.0)  # kn


def main() -> None:
    """Searches, and writes the page."""
    begun = time.perf_counter()
    broken = [line for name in CALLS for line in breaking(name)]
    falling, against = success_by_wind()
    seconds = time.perf_counter() - begun
    text = f"""# Limits of wind, rehearsed

Made by `make validate`, the last time in {seconds:.0f} s on a machine at other work as well. Each call of the examples with
all its tugs, its own tide and forecast gusts in proportion; at each wind up to {RUNS} drawn runs, seed 1, {100 * LEVEL:.0f} % of which must
succeed; winds in steps of {GREATEST / KNOT / 16:.1f} kn up to {GREATEST / KNOT:.0f} kn. The virtual conn is a cautious beginner: these winds tell what the
program says of its own invented ports, and can be compared with nobody's.

## The wind that breaks each call

| call | wind from | goes up to | too much | the limit most often broken | where | runs sailed to know |
|---|---|---|---|---|---|---|
{chr(10).join(broken)}

## Success falls with the wind

The same {FALLING_RUNS} draws in every wind, the wind from the direction forecast; intervals of 95 % (Wilson).

| call | {" | ".join(f"{wind:.0f} kn" for wind in WINDS)} |
|---|{"---|" * len(WINDS)}
{chr(10).join(falling)}

Pairs of winds in which the stronger succeeds more often by more than the sampling error (both intervals apart): {against}.
The search takes success to fall with the wind and asks for calm only on its way down: where a call is near 90 % in calm by
itself, one direction may be called *not even in calm* and another go far, each by its own twenty runs.
What this does not show: that a person would do better or worse; the limits of the ports are invented.
"""
    (ROOT / "docs/validation/limits.md").write_text(text)


def breaking(name: str) -> list[str]:
    """A line of the table for each direction."""
    found = rehearsed_limits(read_call(ROOT / "examples" / name), RUNS, directions=DIRECTIONS, fewest_tugs=9)
    lines = []
    for one in found.winds[-1]:
        goes = "not even in calm" if one.wind_speed is None else f"{one.wind_speed / KNOT:.1f} kn"
        ways = ", ".join(f"{number} {word}" for word, number in one.reasons.items())
        much = "" if one.too_much is None else f"{one.too_much / KNOT:.1f} kn"
        lines.append(
            f"| {name} | {math.degrees(one.wind_from):03.0f} | {goes} | {much} | {one.broken} | {one.place} | {ways} |"
        )
    return lines


def success_by_wind() -> tuple[list[str], int]:
    """A line of the table for each call, and how many pairs of winds speak against it."""
    lines, against = [], 0
    for name in CALLS:
        call = read_call(ROOT / "examples" / name)
        made = ready(prepare(call), call.start)
        drawn = without_the_undisturbed(draw(made, FALLING_RUNS + 1, 1, Spread()))
        cases = [case_in(made, wind * KNOT, call.forecast.wind_from or 0.0) for wind in WINDS]
        tried = Tried.of(None, "", 1, 1, 1)

        def share(number: int, cases: list = cases, drawn=drawn) -> int:
            reasons = [int(sailed(cases[number], drawn, run)["reason"]) for run in range(FALLING_RUNS)]
            return int(np.isin(reasons, GOOD).sum())

        counts = in_threads(share, len(WINDS), tried)
        spans = [wilson(count, FALLING_RUNS) for count in counts]
        against += sum(
            spans[weak][1] < spans[strong][0] for weak in range(len(WINDS)) for strong in range(weak + 1, len(WINDS))
        )
        cells = [
            f"{100.0 * count / FALLING_RUNS:.0f} % ({100.0 * low:.0f} to {100.0 * high:.0f})"
            for count, (low, high) in zip(counts, spans, strict=True)
        ]
        lines.append(f"| {name} | {' | '.join(cells)} |")
    return lines, against


if __name__ == "__main__":
    main()
