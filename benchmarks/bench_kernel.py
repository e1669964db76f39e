"""How fast the moving ship is computed: against the same equations hand-written in C, and two cores against one.

Run: python benchmarks/bench_kernel.py. Needs a C compiler (cc). Both sides start from the same motions, carry the same
ships through the same orders, and must end at the same place; the ratio is of the best of several interleaved runs, in
processor time of the one thread, so that a busy machine does not enter it.
"""

import ctypes
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
import numpy as np

from leadsman.compiled import kernel
from leadsman.physics import tug_work
from leadsman.physics.cable import Anchor
from leadsman.physics.hull_force import Force
from leadsman.physics.tug_work import TugAtWork
from leadsman.physics.tunnel import Tunnel
from leadsman.simulation import ensemble, factors, sail, setting, state
from leadsman.simulation.estimate import estimate
from leadsman.simulation.kernel import step
from leadsman.simulation.kernel import steps as steps_of
from leadsman.simulation.parameters import Parameters, packed
from leadsman.simulation.particulars import Blade, OrderLine, Particulars, Screw
from leadsman.simulation.state import Motion
from leadsman.units import KNOT, RPM

RUNS, STEPS, PERIOD, ANGLE, INTERVAL = 40, 1800, 60, 0.26, 1.0
REPEATS = 25
HERE = Path(__file__).parent


def bulk_carrier() -> Particulars:
    """An invented 180 m bulk carrier: one screw, one rudder, reversing diesel."""
    lines = [
        ("full_sea_speed", 110, 14.0),
        ("full_ahead", 85, 11.0),
        ("half_ahead", 70, 9.0),
        ("slow_ahead", 52, 6.7),
        ("dead_slow_ahead", 40, 5.1),
    ]
    return Particulars(
        length=176.0,
        beam=30.0,
        draught_forward=10.2,
        draught_aft=10.3,
        displacement=45.5e6,
        engine_kind="direct_reversing_diesel",
        power=7.2e6,
        full_shaft_speed=115.0 * RPM,
        orders=tuple(OrderLine(order=name, shaft_speed=n * RPM, speed=v * KNOT) for name, n, v in lines),
        screws=(Screw(diameter=5.8),),
        rudders=(Blade(),),
        hard_over_to_hard_over=26.0,
    )


@kernel
def weave(
    fleet: Any,
    motions: Any,
    gears: Any,
    arounds: Any,
    angle: float,
    period: int,
    interval: float,
    count: int,
) -> None:
    """Every ship, one after another, with the rudder to the other side every `period` steps."""
    calm = Force(0.0, 0.0, 0.0)
    tables = fleet.tables[0]
    around = arounds[0]
    for run in range(motions.shape[0]):
        start = motions[run]
        ship = fleet.ships[run]
        gear = gears[run]
        motion = Motion(start[0], start[1], start[2], start[3], start[4], start[5])
        for index in range(count):
            for unit in range(ship.rudder_count):
                gear.helms[unit].order = -angle if (index // period) % 2 else angle
            motion = step(ship, tables, gear, motion, around, calm, index * interval, interval)
        start[0] = motion.north
        start[1] = motion.east
        start[2] = motion.heading
        start[3] = motion.surge
        start[4] = motion.sway
        start[5] = motion.yaw_rate


def c_library(folder: Path) -> Any:
    """The C yardstick, compiled -O3."""
    compiler = shutil.which("cc")
    if compiler is None:
        sys.exit("bench_kernel: no C compiler (cc) found; the comparison needs one")
    built = folder / "sail.so"
    subprocess.run([compiler, "-O3", "-shared", "-fPIC", "-o", built, HERE / "kernel/sail.c", "-lm"], check=True)
    return ctypes.CDLL(str(built))


def best(repeats: int, clock: Callable[[], float], *jobs: Callable[[], None]) -> list[float]:
    """Shortest time of each job by a clock, the jobs taking turns. [s]"""
    times = [np.inf] * len(jobs)
    for _ in range(repeats):
        for place, job in enumerate(jobs):
            begin = clock()
            job()
            times[place] = min(times[place], clock() - begin)
    return times


def against_c() -> tuple[float, float, float]:
    """(kernel time, C time, greatest difference in position): seconds for all steps, metres at the end."""
    found = estimate(bulk_carrier())
    fleet = ensemble.ships(
        found.parameters, factors.drawn(factors.Factors(), found.spread, RUNS, np.random.default_rng(7))
    )
    steady = found.setting().steady("full_ahead")
    around = state.even_depth(25.0)
    arounds = state.record_of(around)
    begin = np.tile(np.array(setting.straight(steady.speed)), (RUNS, 1))
    turning = np.repeat(steady.gear, RUNS)
    turning["shafts"]["order_speed"] = found.orders["half_ahead"].shaft_speed
    ends: dict[str, Any] = {}

    def ours() -> None:
        motions, gears = begin.copy(), turning.copy()
        weave(fleet, motions, gears, arounds, ANGLE, PERIOD, INTERVAL, STEPS)
        ends["kernel"] = motions

    with tempfile.TemporaryDirectory() as folder:
        library = c_library(Path(folder))
        for name, array in (("ship", fleet.ships), ("tables", fleet.tables), ("gear", turning)):
            if library.__getattr__(f"size_of_{name}")() != array.dtype.itemsize:
                sys.exit(f"bench_kernel: the record of {name} in kernel/sail.c no longer matches the kernel's")

        def theirs() -> None:
            motions, gears = begin.copy(), turning.copy()
            library.sail(
                *(array.ctypes.data_as(ctypes.c_void_p) for array in (fleet.ships, fleet.tables, gears, motions)),
                RUNS,
                ctypes.c_double(around.density),
                ctypes.c_double(around.depth_midships),
                ctypes.c_double(ANGLE),
                PERIOD,
                ctypes.c_double(INTERVAL),
                STEPS,
            )
            ends["c"] = motions

        ours()
        kernel_time, c_time = best(REPEATS, time.thread_time, ours, theirs)
    apart = np.hypot(*(ends["kernel"][:, :2] - ends["c"][:, :2]).T).max()
    return kernel_time, c_time, float(apart)


def two_cores(runs: int = 1000, minutes: float = 30.0) -> tuple[float, float, float]:
    """Time of the same ensemble on one and on two threads [s], and the processor time two spend over that of one [-].

    On a machine that is busy otherwise the times say little; the ratio of processor times still does.
    """
    found = estimate(bulk_carrier())
    ready = found.setting()
    steady = ready.steady("full_ahead")
    drawn = factors.drawn(factors.Factors(), found.spread, runs, np.random.default_rng(7))
    plan = ready.plan("full_ahead", 0.05)
    ending = sail.Ending(60.0 * minutes, 0.0, -np.inf, 0.0)

    def job(threads: int) -> Callable[[], None]:
        def go() -> None:
            numba.set_num_threads(threads)
            ensemble.run(found.parameters, drawn, (setting.straight(steady.speed), steady.gear), plan, ending, seed=1)

        return go

    job(1)()
    one, two = best(3, time.perf_counter, job(1), job(2))
    spent_one, spent_two = best(3, time.process_time, job(1), job(2))
    return one, two, spent_two / spent_one


def with_all_help(steps: int = 20000) -> float:
    """Time of a step with two thrusters, two tugs and an anchor on the bed, over that of the ship alone. [-]"""
    found = estimate(bulk_carrier())
    tunnels = tuple(Tunnel(place, 120e3, 0.1, 1.0, np.inf) for place in (74.0, -70.0))
    work = TugAtWork(-80.0, 0.0, np.pi, 1.5, 3e5, 0.0, 2.0, tug_work.NOT_WORKED, 0.1, 15.0, 0.05, 0.05)
    anchor = Anchor(79.0, 3.0, 5.0, 6450.0, 900.0, 2e5, 1.0, 3e6, 300.0, 3.0, 0.15)
    helped = found.parameters._replace(thrusters=tunnels, tugs=(work, work._replace(position=80.0)), anchors=(anchor,))
    around = state.record_of(state.even_depth(25.0))

    def job(ship: Parameters) -> Callable[[], None]:
        fleet = packed(ship)

        def go() -> None:
            gear = state.gear(fleet, 0, 0.8)
            gear[0]["thrusters"]["order"] = 0.5
            gear[0]["tugs"]["order_power"] = 0.5
            gear[0]["cables"]["order"] = 60.0
            steps_of(fleet, 0, gear, setting.straight(2.0), around, Force(0.0, 0.0, 0.0), 0.0, 1.0, steps)

        return go

    bare, all_help = job(found.parameters), job(helped)
    bare(), all_help()
    alone, together = best(5, time.thread_time, bare, all_help)
    return together / alone


def main() -> None:
    begin = time.perf_counter()
    kernel_time, c_time, apart = against_c()
    print(f"kernel against C -O3: {kernel_time / c_time:.2f} times its time (limit 1.3)")
    print(f"  {RUNS * STEPS / kernel_time / 1e6:.2f} million steps/s one core, C {RUNS * STEPS / c_time / 1e6:.2f}")
    print(f"  ends of the runs at most {apart:.2g} m apart")
    print(f"  two thrusters, two tugs and a dredged anchor: {with_all_help():.2f} times the time of the ship alone")
    if numba.config.NUMBA_NUM_THREADS >= 2:
        one, two, spent = two_cores()
        print(f"ensemble, 1 000 runs of 30 minutes: {one:.2f} s on one core, {two:.2f} s on two: {one / two:.2f} times")
        print(f"  two threads spend {spent:.2f} times the processor time of one (at most 1.11 for 1.8 times the speed)")
    else:
        print("ensemble: only one thread here, two cores not compared")
    print(f"whole benchmark {time.perf_counter() - begin:.0f} s, compilation included when the cache was cold")


if __name__ == "__main__":
    main()
