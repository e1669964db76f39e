"""Failures at every minute, and a rose of rehearsed winds, of the first example; with the share of time in the kernel.

The first use of a kernel compiles it, which is done beforehand and not counted.
"""

import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from leadsman.assessment import failures_sail, limits
from leadsman.assessment.failures import failures_of
from leadsman.assessment.limits import rehearsed_limits
from leadsman.assessment.rehearse import rehearse_call
from leadsman.files.call_files import read_call

EXAMPLE = Path(__file__).parents[1] / "examples/1-river-coaster"
SHORT = 1800.0  # s


class Timed:
    """A function that adds up the time spent in it, of whichever thread."""

    def __init__(self, function: Callable[..., Any]) -> None:
        self.function = function
        self.seconds = 0.0

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        begin = time.perf_counter()
        found = self.function(*arguments, **named)
        self.seconds += time.perf_counter() - begin
        return found


def main() -> None:
    call = read_call(EXAMPLE)
    rehearse_call(call)
    failures_of(call, SHORT)
    rehearsed_limits(call, runs=1, directions=1)
    cores = int(os.environ.get("NUMBA_NUM_THREADS") or len(os.sched_getaffinity(0)))

    swept = Timed(failures_sail.rehearse)
    failures_sail.rehearse = swept  # type: ignore[assignment] # for this measurement
    taken = _timed(lambda: failures_of(call))
    failures_sail.rehearse = swept.function
    print(f"failures, every minute     {taken:6.1f} s   promised 60 s   {swept.seconds / taken:4.0%} in the kernel")

    turned = Timed(limits.in_turn)
    limits.in_turn = turned  # type: ignore[assignment] # for this measurement
    taken = _timed(lambda: rehearsed_limits(call))
    limits.in_turn = turned.function
    share = turned.seconds / cores / taken
    print(f"limits, 8 directions       {taken:6.1f} s   promised 300 s  {share:4.0%} in the kernel, of {cores} cores")


def _timed(action: Callable[[], object]) -> float:
    begin = time.perf_counter()
    action()
    return time.perf_counter() - begin


if __name__ == "__main__":
    main()
