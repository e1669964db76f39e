"""Which integrator, which step: halving the step on the real model until nothing changes that a ship handler could see.

Run: PYTHONPATH=src python studies/step_halving_manoeuvring.py. Prints the error of the position after ten minutes
against a run at a fiftieth of a second, and the work, for three manoeuvres of an invented bulk carrier.
"""

import importlib.util
import time
from pathlib import Path
from typing import Any

import numpy as np

from leadsman.compiled import kernel
from leadsman.physics.hull_force import Force
from leadsman.simulation import forces, machinery, setting, state
from leadsman.simulation.estimate import estimate
from leadsman.simulation.kernel import moved, rates, step
from leadsman.simulation.state import Motion

spec = importlib.util.spec_from_file_location("bench_kernel", Path(__file__).parents[1] / "benchmarks/bench_kernel.py")
assert spec is not None
assert spec.loader is not None
bench_kernel = importlib.util.module_from_spec(spec)
spec.loader.exec_module(bench_kernel)

METHODS = ("Euler, speeds first", "Heun", "Runge-Kutta 4")
STEPS = (4.0, 2.0, 1.0, 0.5, 0.25)
REFERENCE = 0.02  # s
TIME = 600.0  # s


@kernel
def go(method: int, fleet: Any, gears: Any, motion: Motion, arounds: Any, interval: float, count: int) -> Motion:
    """`count` steps with one of the methods, engine and rudder alike in all."""
    ship = fleet.ships[0]
    tables = fleet.tables[0]
    gear = gears[0]
    around = arounds[0]
    calm = Force(0.0, 0.0, 0.0)
    for index in range(count):
        if method == 2:
            motion = step(ship, tables, gear, motion, around, calm, index * interval, interval)
            continue
        forces.look_at_water(ship, tables, gear, motion.surge, around)
        for unit in range(ship.rudder_count):
            machinery.steer(ship.rudders[unit], gear.helms[unit], interval)
        for unit in range(ship.screw_count):
            shaft = gear.shafts[unit]
            machinery.drive(
                ship.engines[unit], ship.screws[unit], shaft, tables, around.density, index * interval, interval
            )
        first = rates(ship, tables, gear, motion, 0.0, around, calm)
        end = moved(motion, first, interval)
        if method == 0:
            late = rates(ship, tables, gear, end, 1.0, around, calm)
            motion = Motion(
                motion.north + interval * late.north,
                motion.east + interval * late.east,
                motion.heading + interval * late.heading,
                end.surge,
                end.sway,
                end.yaw_rate,
            )
        else:
            second = rates(ship, tables, gear, end, 1.0, around, calm)
            motion = moved(moved(motion, first, 0.5 * interval), second, 0.5 * interval)
    return motion


def main() -> None:
    found = estimate(bench_kernel.bulk_carrier())
    ready = found.setting()
    steady = ready.steady("full_ahead")
    arounds = state.record_of(state.even_depth(25.0))
    manoeuvres = {
        "hard over at full ahead": ("full_ahead", 0.6),
        "ten degrees at half ahead": ("half_ahead", 0.17),
        "full astern": ("full_astern", 0.0),
    }
    for name, (order, rudder) in manoeuvres.items():

        def end(method: int, interval: float, order: str = order, rudder: float = rudder) -> tuple[Motion, float]:
            gears = steady.gear.copy()
            gears[0]["helms"][0]["order"] = rudder
            gears[0]["shafts"][0]["order_speed"] = found.orders[order].shaft_speed
            begin = time.perf_counter()
            motion = go(
                method, ready.fleet, gears, setting.straight(steady.speed), arounds, interval, round(TIME / interval)
            )
            return motion, time.perf_counter() - begin

        exact, _ = end(2, REFERENCE)
        print(f"\n{name}: error in position after {TIME:.0f} s [m], work [us]")
        for method, word in enumerate(METHODS):
            end(method, 10.0)
            cells = []
            for interval in STEPS:
                motion, work = end(method, interval)
                error = float(np.hypot(motion.north - exact.north, motion.east - exact.east))
                cells.append(f"{interval:4.2f} s: {error:8.4f} m {1e6 * work:6.0f}")
            print(f"  {word:20s}" + "   ".join(cells))


if __name__ == "__main__":
    main()
