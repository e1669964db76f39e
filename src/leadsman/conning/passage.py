"""One passage in time: the conn drives, the ship answers, and what is left on all sides is watched every second.

A run ends by a reason, and only by one: alongside, clear on her way, aground, out of the fairway, struck too hard, out
of time. Compiled; `conning/run.py` calls it from Python.
"""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula, kernel
from leadsman.conning import anchor_work, bridge, failures, harbour, outcome, outline, transit, waters
from leadsman.conning.bridge import ENDED, HARBOUR, TRANSIT
from leadsman.conning.choice import expect, give, thought_over, wind_reckoned
from leadsman.conning.contact import at_quay, fendered
from leadsman.conning.outcome import AGROUND, BROKEN, BROUGHT_UP, CLEAR, OUT_OF_FAIRWAY, OUT_OF_TIME, UNDER_WAY
from leadsman.conning.task import Aboard, Task
from leadsman.simulation.kernel import step
from leadsman.simulation.state import Motion, finite

SECOND = 1.0  # s: the step of a run
WATCH = 2  # steps between two looks at edges and water
TELEGRAPH_LOOK = 10  # steps between two thoughts about the telegraph
STEERS = 1.0  # m/s ahead, from which what thrusters and tugs still do from the slow work is stopped. Ours
FEELING = 60.0  # s over which the wind is felt. Ours


@formula
def look_round(task: Task, aboard: Aboard, motion: Motion, time: float) -> Real:
    """Where on the track she is, what surrounds her, how the wind feels; and the water level there. [m]"""
    water, memory, around, draw = task.waters, aboard.memory, aboard.around, aboard.draw
    memory.point = waters.progress(water, int(memory.point), motion.north, motion.east)
    index = int(memory.point)
    memory.along, memory.across = waters.along_across(water, index, motion.north, motion.east)
    waters.look_round(
        water, draw, aboard.ship.hull.length, index, memory.along, memory.across, motion.heading, motion.north,
        motion.east, time, SECOND, around,
    )  # fmt: skip
    if time == 0.0:
        memory.felt = draw.wind * water.wind_speed
    memory.felt += (around.wind_speed - memory.felt) * SECOND / FEELING
    return waters.level_here(water, draw, memory.along, time)


@formula
def under_way(task: Task, aboard: Aboard, motion: Motion, count: int) -> None:
    """The conn of a second under way: compass, and now and then the telegraph."""
    if count % int(transit.CONSIDER) == 0:
        transit.steer(task, aboard, motion, count * SECOND)
    if count % TELEGRAPH_LOOK == 0:
        transit.ring(task, aboard, motion, count * SECOND)
    if motion.surge > STEERS:
        bridge.helpers_stop(aboard.ship, aboard.log, aboard.memory, count * SECOND)


@kernel
def slow_work(task: Task, aboard: Aboard, motion: Motion, out: Any, time: float) -> None:
    """The conn of a second of slow work: whether a phase is done, and now and then new orders."""
    memory, around, phases = aboard.memory, aboard.around, task.phases
    if memory.phase < 0.0:
        memory.phase = 0.0
        memory.goal = harbour.begin(phases[0], memory, motion.heading, time)
    while (
        memory.phase < phases.shape[0]
        and harbour.done(phases[int(memory.phase)], motion, around, memory.goal)
        and anchor_work.hove_up(task, aboard, phases[int(memory.phase)])
    ):
        memory.phase += 1.0
        if memory.phase < phases.shape[0]:
            memory.goal = harbour.begin(phases[int(memory.phase)], memory, motion.heading, time)
        memory.last_look = -np.inf
    if memory.phase >= phases.shape[0]:
        memory.mode = TRANSIT
        out.handover_time = time
        return
    if time - memory.last_look >= task.habits.look:
        memory.last_look = time
        phase = phases[int(memory.phase)]
        blowing = around.wind_speed
        around.wind_speed = wind_reckoned(task, aboard, phase)
        thought_over(task, aboard, phase, motion, time)
        give(task, aboard, time)
        around.wind_speed = memory.felt
        expect(task, aboard, motion, time)
        around.wind_speed = blowing


@kernel
def conned(task: Task, aboard: Aboard, failure: Any, motion: Motion, out: Any, count: int) -> int:
    """Whoever has the conn, for a second: what fails and the answer to it, the way in, the slow work; and whether that
    ends the run."""
    memory = aboard.memory
    time = count * SECOND
    if failed(failure, time):
        failures.strike(aboard.ship, aboard.gear, failure)
        ended = failures.ending(aboard, failure, motion, time)
        if ended != UNDER_WAY or failures.answer(task, aboard, failure, motion, count, time):
            return ended
    if memory.mode == TRANSIT and memory.along >= task.voyage.handover:
        if task.voyage.harbour_first:
            return CLEAR
        memory.mode = HARBOUR
        out.handover_time = time
        memory.last_look = -np.inf
    if memory.mode == TRANSIT:
        under_way(task, aboard, motion, count)
    else:
        slow_work(task, aboard, motion, out, time)
        if anchor_work.tended(task, aboard, motion, out, time):
            return BROUGHT_UP
    return UNDER_WAY


@formula
def failed(failure: Any, time: float) -> bool:
    """Whether something has failed by now."""
    return bool(failure.kind > 0.0 and time >= failure.time)


@kernel
def passage(
    task: Task,
    aboard: Aboard,
    failure: Any,
    motion: Motion,
    out: Any,
    track: Any,
    swept: Any,
    stage: outline.Stage,
    points: Any,
    covered: Any,
    begin: int,
    pause: float,
) -> Motion:
    """Sail the passage from the second `begin` until a reason ends it, or the time `pause` [s] has come.

    What she covers in slow work is noted in `covered`, if it has cells.
    """
    memory = aboard.memory
    if begin == 0:
        memory.phase = -1.0
        outcome.begin(out)
    sight = np.empty(3)
    reason = UNDER_WAY
    count = begin
    while count * SECOND < pause:
        time = count * SECOND
        level = look_round(task, aboard, motion, time)
        if count % WATCH == 0:
            reason = outcome.watch(task, aboard, motion, level, out, sight, swept)
            if memory.mode == HARBOUR and covered.shape[0] > 0:
                outline.cover(stage, points, motion, covered)
            if reason == OUT_OF_FAIRWAY and failed(failure, time):
                reason = AGROUND if out.keel <= 0.0 else UNDER_WAY
        touched = at_quay(task, aboard, motion, out)
        reason = touched if touched != UNDER_WAY else reason
        outcome.note(track, count, time, motion, aboard, level, sight)
        if reason == UNDER_WAY and time >= task.voyage.most_time:
            reason = OUT_OF_TIME
        if reason == UNDER_WAY:
            reason = conned(task, aboard, failure, motion, out, count)
        if reason != UNDER_WAY:
            break
        bridge.pass_on(aboard.ship, task.known, aboard.gear, memory, time)
        outside = fendered(task, aboard, motion)
        motion = step(aboard.ship, task.tables, aboard.gear, motion, aboard.around, outside, time, SECOND)
        count += 1
        outcome.reckon(task, aboard, motion, count * SECOND, out)
        if not finite(motion):
            reason = BROKEN
            break
    outcome.close(memory, reason, count * SECOND, out)
    if reason != UNDER_WAY:
        memory.mode = ENDED
    return motion
