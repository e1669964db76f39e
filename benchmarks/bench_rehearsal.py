"""Rehearsals of example 1: one, a thousand drawn runs, and how much of it is spent in the kernel; warm."""

import time
from pathlib import Path

from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.rehearse_draws import Spread, draw
from leadsman.assessment.rehearse_prepare import ready
from leadsman.conning.run import rehearse
from leadsman.files.call_files import read_call

EXAMPLE = Path(__file__).parents[1] / "examples/1-river-coaster"
RUNS = 1000


def main() -> None:
    """Prints a row for one rehearsal and one for the ensemble, each with the kernel's share."""
    call = read_call(EXAMPLE)
    rehearse_call(call, runs=2)
    begin = time.perf_counter(), time.process_time()
    rehearse_call(call)
    whole = time.perf_counter() - begin[0]
    print(f"one rehearsal              {whole:6.2f} s   {time.process_time() - begin[1]:.2f} s of processor time")
    made = ready(prepare(call), call.start)
    begin = time.perf_counter(), time.process_time()
    drawn = draw(made, RUNS, 1, Spread())
    drawing = time.process_time() - begin[1]
    rehearse(made.case, drawn.fleet, drawn.draws, kept=False)
    whole, worked = time.perf_counter() - begin[0], time.process_time() - begin[1]
    print(
        f"{RUNS} runs                  {whole:6.1f} s   {worked:.1f} s of processor time, "
        f"{(worked - drawing) / worked:.0%} of it in the kernel"
    )
