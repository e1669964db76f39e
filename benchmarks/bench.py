"""The timings a user feels, as ratios within one run, since machines differ and are noisy; run by `make bench`.

Other subjects have benchmarks of their own, `benchmarks/bench_*.py` with a `main()`.
"""

import importlib.util
import math
import os
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from leadsman.assessment.assess import assess
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.files.call_files import read_call

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "examples/1-river-coaster"


def median(action: Callable[[], object], times: int) -> float:
    """Median seconds of an action, after one run that does not count."""
    action()
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        action()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def scan(prepared: Prepared) -> int:
    """A plain numpy scan of every minute of the week: all starts march together, level compared at each station."""
    passage, water = prepared.passage, prepared.water
    begin, end = water.elapsed(prepared.call.search_begin), water.elapsed(prepared.call.search_end)
    elapsed = np.arange(begin, end, 60.0)
    good = np.ones(len(elapsed), dtype=bool)
    for i in range(len(passage.distance)):
        level = level_at(water.level.grid, passage.distance[i], elapsed)
        good &= (level >= prepared.stations.need[i]) & (level <= prepared.stations.ceiling[i])
        if i + 1 < len(passage.distance):
            north, east = stream_at(water.stream.grid, passage.distance[i], elapsed)
            course, speed = passage.course[i], passage.speed[i]
            across = east * math.cos(course) - north * math.sin(course)
            along = north * math.cos(course) + east * math.sin(course)
            ground = np.maximum(np.sqrt(np.maximum(speed**2 - across**2, 0.0)) + along, 0.1)
            elapsed = elapsed + (passage.distance[i + 1] - passage.distance[i]) / ground
    return int(np.sum(good))


def main() -> None:
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    command = [sys.executable, "-c", "from leadsman.cli import main; main()", "--help"]
    help_time = median(lambda: subprocess.run(command, capture_output=True, check=True), 5)
    bare = median(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True), 5)
    print(f"leadsman --help            {help_time:6.3f} s   {help_time / bare:5.1f} x an empty Python")
    call = read_call(EXAMPLE)
    ready = prepare(call)
    whole = median(lambda: assess(call), 5)
    again = median(lambda: assess(call, ready), 5)
    plain = median(lambda: scan(ready), 3)
    print(f"assess, a week, all anew   {whole:6.3f} s   {whole / plain:5.2f} x the plain one-minute scan")
    print(f"assess, another start      {again:6.3f} s   {again / plain:5.2f} x the plain one-minute scan")
    print(f"plain one-minute scan      {plain:6.3f} s   edges to a minute only")
    for study in sorted((ROOT / "benchmarks").glob("bench_*.py")):
        spec = importlib.util.spec_from_file_location(study.stem, study)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[study.stem] = module  # a kernel kept on disk is loaded again by the name of its module
        spec.loader.exec_module(module)
        print(f"\n{study.stem.removeprefix('bench_').replace('_', ' ')}")
        module.main()


if __name__ == "__main__":
    main()
