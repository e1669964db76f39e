"""Two hundred random calls: the windows found against a look at every second; writes docs/validation/windows.md."""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.builders.random_calls import compare, needs_hold, random_call

from leadsman.assessment.prepare import prepare  # after the path is set

CALLS = 200
HOURS = 16.0


def main(calls: int = CALLS) -> None:
    """Compares and writes the page."""
    agreements, needs = [], 0
    for seed in range(calls):
        prepared = prepare(random_call(seed, HOURS))
        needs += needs_hold(prepared)
        agreements.append(compare(prepared))
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
