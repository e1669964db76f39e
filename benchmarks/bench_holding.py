"""Holding as a handler feels it: a rose of 36 directions and four sets of tugs, one move of a slider, another start."""

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from leadsman.assessment.account import account
from leadsman.assessment.assess import assess
from leadsman.assessment.holding.assess import plans
from leadsman.assessment.holding.rose import wind_rose
from leadsman.assessment.holding.what_if import Changes, what_if
from leadsman.assessment.prepare import prepare
from leadsman.files.call_files import read_call
from leadsman.units import KNOT

EXAMPLE = Path(__file__).parents[1] / "examples/3-container-basin"


def main() -> None:
    call = read_call(EXAMPLE)
    ready = prepare(call)
    berth = next(one for one in plans(ready, account(ready, call.start), call.start) if one.asked.key == "berth")
    moved = iter(range(1, 10_000))

    def rose() -> object:
        """Another water depth each time, so that nothing is kept from before."""
        return wind_rose(replace(berth.case, water_depth=16.0 + 1e-6 * next(moved)), berth.tug_sets)

    def slider() -> object:
        return what_if(ready, call.start, "berth", Changes(wind_speed=(5.0 + 0.01 * next(moved)) * KNOT))

    def again() -> object:
        return assess(call.starting(call.start + timedelta(seconds=next(moved))), ready)

    print(f"rose, 36 x {len(berth.tug_sets)} sets       {_median(rose, 20):6.3f} s   promised 0.3 s")
    print(f"one move of a slider       {_median(slider, 20):6.3f} s   promised 0.1 s")
    print(f"assess, another start      {_median(again, 10):6.3f} s   promised 0.2 s")


def _median(action: Callable[[], object], times: int) -> float:
    action()
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        action()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


if __name__ == "__main__":
    main()
