"""Two hundred random calls: the windows found against a look at every second; writes docs/validation/windows.md."""

import os
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.builders.random_calls import Agreement, compare, needs_hold, random_call

from leadsman.assessment.prepare import prepare  # after the path is set

CALLS = 200
HOURS = 8.0


def judged(seed: int) -> tuple[Agreement, bool]:
    """One call's windows against the scan, and whether its needed levels hold."""
    prepared = prepare(random_call(seed, HOURS))
    return compare(prepared), needs_hold(prepared)


def main(calls: int = CALLS, workers: int = os.cpu_count() or 1) -> None:
    """Compares and writes the page."""
    with ProcessPoolExecutor(workers) as pool:
        found = list(pool.map(judged, range(calls)))
    agreements, needs = [one for one, _ in found], sum(holds for _, holds in found)
    edges = [one.worst for one in agreements if one.edges]
    text = f"""# Windows against brute force

Made by `make validate`. {calls} calls drawn from the examples (draught, trim, depths, tide, stream, speeds, bridge, low
residual, inward or outward; seeds 0 to {calls - 1}), {HOURS:g} hours of starts each. Every second of it is looked at with a march
written for this comparison, without the solver.

| what | found |
|---|---|
| calls with at least one edge | {len(edges)} of {calls} |
| windows | {sum(one.windows for one in agreements)} |
| edges compared | {sum(one.edges for one in agreements)} |
| spans of two seconds or more missed or made up | {sum(one.missed for one in agreements)} |
| greatest difference of an edge | {max(edges, default=0.0):.2f} s |
| median of the greatest difference of a call | {float(np.median(edges)) if edges else 0.0:.2f} s |
| calls whose needed levels the account confirms to a millimetre on both sides | {needs} of {calls} |

A look at whole seconds cannot place an edge better than to a second. What this does not show: the water, the squat and
the allowances themselves; both sides take them from the same account.
"""
    (ROOT / "docs/validation/windows.md").write_text(text)


if __name__ == "__main__":
    main()
