"""Other speeds reach by reach: fast where it is deep, slow where it is shallow, to be where and when the water allows.

Found by steps: the reach that binds is slowed, those before it are run faster or slower, whichever leaves most; then
again for what binds next. It stops at the first plan that holds, at the bounds of her speed, or when no step helps.
"""

from datetime import datetime

import numpy as np

from leadsman import format as text
from leadsman.assessment.changed import holds, left, with_speeds
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Remedy
from leadsman.equipment import AHEAD_ORDERS
from leadsman.units import KNOT

STEP = 1.0 * KNOT
ROUNDS = 6
HELPS = 0.01  # m: a step that leaves less more than this is none
LEAST_SPEED = 2.0 * KNOT  # slower through the water than this few ships steer. Common practice, no source


def speed_plan(prepared: Prepared, start: datetime) -> Remedy:
    """A plan of speeds at which the whole passage holds, or that none was found."""
    call, passage = prepared.call, prepared.passage
    speeds = {
        reach.name: float(passage.speed[passage.reach == index][0]) for index, reach in enumerate(passage.reaches)
    }
    planned, bounds = dict(speeds), _bounds(prepared)
    now = left(prepared, call, start)
    for _ in range(ROUNDS):
        if now.margin >= 0.0:
            break
        binding = int(passage.reach[now.station])
        tried = []
        for index, reach in enumerate(passage.reaches[: binding + 1]):
            for step in (-STEP,) if index == binding else (-STEP, STEP):
                low, high = bounds[reach.name]
                speed = float(np.clip(speeds[reach.name] + step, low, high))
                if speed != speeds[reach.name]:
                    other = speeds | {reach.name: speed}
                    tried.append((left(prepared, with_speeds(call, other), start), other))
        best = max(tried, key=lambda one: one[0].margin, default=None)
        if best is None or best[0].margin < now.margin + HELPS:
            break
        now, speeds = best
    changed = {name: speed for name, speed in speeds.items() if speed != planned[name]}
    if not changed or not holds(prepared, with_speeds(call, changed), start):
        return Remedy(kind="speeds", works=False, sentence="No other plan of speeds that was tried would do.")
    words = ", ".join(f"{name} at {text.knots(speed)}" for name, speed in changed.items())
    rest = ", the rest as planned" if len(changed) < len(speeds) else ""
    return Remedy(kind="speeds", works=True, sentence=f"Run {words}{rest}.")


def _bounds(prepared: Prepared) -> dict[str, tuple[float, float]]:
    """Least and greatest speed through the water of each reach: she must steer, and keep the local limit. [m/s]"""
    ship, loading, passage = prepared.call.ship, prepared.call.loading, prepared.passage
    lines = [ship.engine.order(name) for name in AHEAD_ORDERS]
    most = max(
        (
            speed
            for line in lines
            if line and (speed := line.speed_loaded if loading.condition == "loaded" else line.speed_ballast)
        ),
        default=0.0,
    )
    least = max(LEAST_SPEED, ship.steering.minimum_steering_speed or 0.0)
    found = {}
    for index, reach in enumerate(passage.reaches):
        inside = passage.reach == index
        planned = float(passage.speed[inside][0])
        with_her = max(float(np.max(prepared.drift.along_most[inside])), 0.0)
        allowed = most if reach.maximum_speed is None else min(most, reach.maximum_speed - with_her)
        found[reach.name] = (min(least, planned), max(allowed, planned))
    return found
