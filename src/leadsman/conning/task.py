"""What a run is given: the task, shared by all runs and only read, and what is aboard, a run's own. For kernels."""

from typing import Any, NamedTuple

from leadsman.conning.bridge import Habits
from leadsman.conning.known import Known
from leadsman.conning.outline import Quay
from leadsman.conning.waters import Waters
from leadsman.conning.weights import Weights


class Voyage(NamedTuple):
    """From where to where. `harbour_first` outward bound; `handover` the place of the track where slow work begins, or,
    outward, where the passage ends [m]; `most_time` [s]; `landing_speed` [m/s] and `landing_angle` [rad] borne; the
    number of the `anchor` she is to lie at or is swung on, below nil where there is none, and its `cable` [m]."""

    harbour_first: bool
    handover: float
    most_time: float
    landing_speed: float
    landing_angle: float
    anchor: float = -1.0
    cable: float = 0.0


class Thought(NamedTuple):
    """What the conn reckons with: how fast she can take her way off with engine or tugs, and be moved across [m/s²];
    how long she is thought `ahead`, the time she is given to settle included [s]."""

    stopping: float
    bodily: float
    ahead: float


class Task(NamedTuple):
    """What all runs of a case share.

    `mind` the ship the conn believes in, with her `tables` (records); `moves` [moves, orders] to be tried, `phases`
    [phases, columns] of the slow work, `hull` [points, 2] her outline.
    """

    mind: Any
    tables: Any
    waters: Waters
    known: Known
    habits: Habits
    weights: Weights
    moves: Any
    phases: Any
    thought: Thought
    quay: Quay
    hull: Any
    voyage: Voyage


class Aboard(NamedTuple):
    """What a run has for itself: records of the ship she is, her gear, the bridge's memory, what surrounds her and
    what is drawn; `spares` one record of gear to think with [1], and the log of orders [orders, columns]."""

    ship: Any
    gear: Any
    spares: Any
    memory: Any
    around: Any
    draw: Any
    log: Any
