"""Runs sailed one after another in the thread that asks: whoever asks in several threads, and stops as soon as enough
is known, keeps every core at work without a run too many."""

from typing import Any

import numpy as np

from leadsman.compiled import kernel
from leadsman.conning.outline import NO_STAGE, STRETCH
from leadsman.conning.passage import passage
from leadsman.conning.run import Case, at_the_start, no_failures
from leadsman.conning.task import Aboard, Task
from leadsman.simulation import state
from leadsman.simulation.parameters import Fleet, Records
from leadsman.simulation.state import Motion


@kernel
def sail_in_turn(
    task: Task, fleet: Any, states: Any, spares: Any, draws: Any, failing: Any, nothing: Any, logs: Any, swept: Any
) -> None:
    """Every run to its end; `states` are memories, gears, surroundings, motions and outcomes.

    Of tracks and cells covered `nothing` is kept.
    """
    tracks, points, covered = nothing
    memories, gears, arounds, motions, outcomes = states
    for run in range(outcomes.shape[0]):
        first = motions[run]
        motion = Motion(first[0], first[1], first[2], first[3], first[4], first[5])
        aboard = Aboard(fleet.ships[run], gears[run], spares[run], memories[run], arounds[run], draws[run], logs[run])
        passage(
            task, aboard, failing[run], motion, outcomes[run], tracks, swept[run], NO_STAGE, points, covered, 0, np.inf
        )  # fmt: skip


def in_turn(case: Case, fleet: Fleet, draws: Records) -> Records:
    """The outcomes of the draws, each with its own ship of the fleet: the same as `run.rehearse` gives. [runs]"""
    runs = draws.shape[0]
    now = at_the_start(case, draws)
    mind = case.mind
    task = Task(
        mind.ships[0], mind.tables[0], case.waters, case.known, case.habits, case.weights, case.moves, case.phases,
        case.thought, case.quay, case.hull, case.voyage,
    )  # fmt: skip
    sail_in_turn(
        task,
        fleet,
        (now.memories, now.gears, now.arounds, now.motions, now.outcomes),
        np.zeros((runs, 1), state.gear_type()),
        draws,
        no_failures(runs),
        (np.zeros((0, 1)), np.zeros((0, 2)), np.zeros((0, 0), np.uint8)),
        np.zeros((runs, 0, 6)),
        np.full((runs, case.waters.track.shape[0] // STRETCH + 1, 2), -np.inf),
    )
    return now.outcomes
