"""Windows of example 2 with all squat methods: a fortnight and a year, warm, and many ships through a year of it."""

import statistics
import time
from dataclasses import replace
from pathlib import Path

from leadsman.assessment.prepare import prepare
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall

EXAMPLE = Path(__file__).parents[1] / "examples/2-bar-bulk-carrier"
SHIPS = 2  # of a thousand, each with a draught of her own; the row below is scaled from them


def seconds(call: PortCall, times: int) -> float:
    """Median seconds of processor time of preparing a call and finding all its windows."""
    taken = []
    for _ in range(times):
        begin = time.process_time()
        _ = prepare(call).search
        taken.append(time.process_time() - begin)
    return statistics.median(taken)


def main() -> None:
    """Prints one row for each horizon."""
    call = read_call(EXAMPLE).searching(14.0)
    seconds(call, 1)
    print(f"windows of a fortnight     {seconds(call, 5):6.3f} s   from the call to its edges")
    print(f"windows of a year          {seconds(call.searching(365.0), 2):6.3f} s   the same")
    total = 0.0
    for ship in range(SHIPS):
        change = -0.1 * ship
        loading = call.loading
        lighter = replace(
            loading, draught_forward=loading.draught_forward + change, draught_aft=loading.draught_aft + change
        )
        total += seconds(replace(call, loading=lighter).searching(365.0), 1)
    print(f"1 000 ships through a year {1000.0 * total / SHIPS:6.0f} s   scaled from {SHIPS}, one core")


if __name__ == "__main__":
    main()
