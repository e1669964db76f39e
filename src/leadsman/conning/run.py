"""A rehearsal called from Python: one run, or as many as there are draws, each with its own ship, wind and water."""

from dataclasses import dataclass
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import kernel
from leadsman.conning import bridge
from leadsman.conning.bridge import MOST_ORDERS, Habits, memory_type
from leadsman.conning.failures import Failure
from leadsman.conning.known import Known
from leadsman.conning.outcome import COLUMNS, Outcome
from leadsman.conning.outline import NO_STAGE, STRETCH, Quay, Stage, filling
from leadsman.conning.passage import passage
from leadsman.conning.task import Aboard, Task, Thought, Voyage
from leadsman.conning.waters import Waters, draw_type
from leadsman.conning.weights import Weights
from leadsman.simulation import state
from leadsman.simulation.parameters import Array, Fleet, Records, record_type
from leadsman.simulation.state import Motion, Surroundings


@dataclass(frozen=True, kw_only=True, eq=False)
class Case:
    """All a run needs but the ship she turns out to be and what is drawn."""

    mind: Fleet
    """The ship as the conn believes her to be. [1]"""
    gear: Records
    """As it turns at the start. [1]"""
    start: Motion
    telegraph: int
    """Line of the order standing at the start."""
    names: tuple[str, ...]
    """Of the telegraph's lines."""
    waters: Waters
    known: Known
    habits: Habits
    weights: Weights
    moves: Array
    phases: Array
    thought: Thought
    quay: Quay
    hull: Array
    voyage: Voyage


def undisturbed(count: int = 1) -> Records:
    """Draws that change nothing. [runs]"""
    found = np.zeros(count, draw_type())
    found["wind"] = 1.0
    found["stream"] = 1.0
    return found


def no_failures(count: int) -> Records:
    """Nothing fails. [runs]"""
    return np.zeros(count, record_type(Failure))


def _sail_all(
    fleet: Any,
    mind: Any,
    water: Waters,
    known: Known,
    habits: Habits,
    weights: Weights,
    moves: Any,
    phases: Any,
    thought: Thought,
    quay: Quay,
    hull: Any,
    voyage: Voyage,
    gears: Any,
    spares: Any,
    memories: Any,
    arounds: Any,
    draws: Any,
    failing: Any,
    starts: Any,
    outcomes: Any,
    tracks: Any,
    logs: Any,
    swept: Any,
    stage: Stage,
    points: Any,
    covered: Any,
    begins: Any,
    pause: float,
) -> None:
    """Every run on its own; nothing is shared but what is only read. Motions are brought forward in `starts`.

    The parts of the task come one by one: a parallel kernel takes no tuple of tuples.
    """
    for run in numba.prange(outcomes.shape[0]):
        task = Task(
            mind.ships[0], mind.tables[0], water, known, habits, weights, moves, phases, thought, quay, hull, voyage
        )
        first = starts[run]
        motion = Motion(first[0], first[1], first[2], first[3], first[4], first[5])
        aboard = Aboard(fleet.ships[run], gears[run], spares[run], memories[run], arounds[run], draws[run], logs[run])
        last = passage(
            task, aboard, failing[run], motion, outcomes[run], tracks[run], swept[run], stage, points, covered[run],
            begins[run], pause,
        )  # fmt: skip
        first[0] = last.north
        first[1] = last.east
        first[2] = last.heading
        first[3] = last.surge
        first[4] = last.sway
        first[5] = last.yaw_rate


sail_all = kernel(_sail_all, parallel=True)


@dataclass(frozen=True, kw_only=True, eq=False)
class Runs:
    """What came of all runs: `outcomes` [runs] as `Outcome`; tracks [runs, moments, COLUMNS] and logs of the orders
    [runs, orders, columns] where kept."""

    outcomes: Records
    tracks: Array
    logs: Array
    swept: Array
    """Greatest reach of her outline to port and to starboard of the track, stretch by stretch [runs, stretches, 2];
    minus infinity where she never was. [m]"""
    covered: NDArray[np.uint8]
    """Whether she lay over each cell of the stage in slow work [runs, cells north, cells east]; none without a
    stage."""

    def track(self, run: int) -> Array:
        """The lines of one run that were written."""
        moments = int(self.outcomes["time"][run]) + 1
        return self.tracks[run, :moments]

    def log(self, run: int) -> Array:
        """The orders of one run."""
        return self.logs[run, : int(self.outcomes["orders"][run])]


@dataclass(frozen=True, kw_only=True, eq=False)
class States:
    """How runs stand at a moment: seconds since the start [runs], records of memories, gear, surroundings and outcomes
    so far [runs], motions [runs, 6]. A run brings them forward in place."""

    seconds: Any
    memories: Records
    gears: Records
    arounds: Records
    motions: Array
    outcomes: Records

    def taken(self, rows: Any) -> "States":
        """A copy of these rows, which may repeat."""
        return States(
            seconds=self.seconds[rows],
            memories=self.memories[rows],
            gears=self.gears[rows],
            arounds=self.arounds[rows],
            motions=self.motions[rows],
            outcomes=self.outcomes[rows],
        )


def at_the_start(case: Case, draws: Records) -> States:
    """As every draw begins."""
    runs = draws.shape[0]
    memories = np.zeros(runs, memory_type())
    for name in ("telegraph", "told_telegraph"):
        memories[name] = case.telegraph
    memories["last_engine"] = -np.inf
    memories["last_wheel"] = -np.inf
    memories["course"] = np.inf
    memories["mode"] = bridge.HARBOUR if case.voyage.harbour_first else bridge.TRANSIT
    starts = np.tile(np.array(case.start, dtype=np.float64), (runs, 1))
    starts[:, 0] -= draws["across"] * np.sin(case.start.heading)
    starts[:, 1] += draws["across"] * np.cos(case.start.heading)
    starts[:, 2] += draws["heading"]
    return States(
        seconds=np.zeros(runs, np.int64),
        memories=memories,
        gears=np.repeat(case.gear, runs),
        arounds=np.zeros(runs, record_type(Surroundings)),
        motions=starts,
        outcomes=np.zeros(runs, record_type(Outcome)),
    )


def rehearse(
    case: Case,
    fleet: Fleet,
    draws: Records,
    *,
    kept: bool,
    failing: Records | None = None,
    states: States | None = None,
    pause: float = np.inf,
    stage: tuple[Stage, tuple[int, int]] | None = None,
) -> Runs:
    """Sail every draw with its own ship of the fleet; tracks and orders only where they are to be kept, and what she
    covers in slow work only on a `stage`, given with its cells to the north and east.

    With `states` the runs go on from there, and until the time `pause` [s] only; the states are brought forward.
    """
    runs = draws.shape[0]
    now = at_the_start(case, draws) if states is None else states
    moments = int(case.voyage.most_time) + 2 if kept else 0
    tracks = np.zeros((runs, moments, len(COLUMNS)))
    logs = np.zeros((runs, MOST_ORDERS if kept else 0, 6))
    stretches = case.waters.track.shape[0] // STRETCH + 1
    swept = np.full((runs, stretches, 2), -np.inf)
    there, cells = stage or (NO_STAGE, (0, 0))
    points = filling(case.hull, there.cell) if stage else np.zeros((0, 2))
    covered = np.zeros((runs, *cells), np.uint8)
    sail_all(
        fleet,
        case.mind,
        case.waters,
        case.known,
        case.habits,
        case.weights,
        case.moves,
        case.phases,
        case.thought,
        case.quay,
        case.hull,
        case.voyage,
        now.gears,
        np.zeros((runs, 1), state.gear_type()),
        now.memories,
        now.arounds,
        draws,
        no_failures(runs) if failing is None else failing,
        now.motions,
        now.outcomes,
        tracks,
        logs,
        swept,
        there,
        points,
        covered,
        now.seconds,
        pause,
    )
    now.seconds[:] = now.outcomes["time"]
    return Runs(outcomes=now.outcomes, tracks=tracks, logs=logs, swept=swept, covered=covered)
