"""Rules about time: she may be in a stretch only within certain spans."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from leadsman.assessment.rules.limit import Told
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.stretch import Stretch
from leadsman.geometry import Array
from leadsman.rule import Rule


def joined(spans: Iterable[tuple[float, float]]) -> Array:
    """Spans in order, those that meet or overlap made one; shape (n, 2)."""
    made: list[list[float]] = []
    for begin, end in sorted(spans):
        if made and begin <= made[-1][1]:
            made[-1][1] = max(made[-1][1], end)
        else:
            made.append([begin, end])
    return np.array(made, dtype=np.float64).reshape(-1, 2)


def outside(spans: Iterable[tuple[float, float]]) -> Array:
    """What these spans leave of all time, its two ends infinite; shape (n, 2)."""
    shut = joined(spans)
    edges = np.concatenate([[-np.inf], shut.ravel(), [np.inf]]).reshape(-1, 2)
    return np.asarray(edges[edges[:, 0] < edges[:, 1]])


def spare(spans: Array, enters: Array, leaves: Array) -> Array:
    """Least of the times to spare at both ends of the span that suits best; negative: by so much outside. [s]"""
    if not len(spans):
        return np.full(np.shape(enters), -np.inf)
    early = np.asarray(enters)[..., np.newaxis] - spans[:, 0]
    late = spans[:, 1] - np.asarray(leaves)[..., np.newaxis]
    return np.asarray(np.max(np.minimum(early, late), axis=-1))


@dataclass(frozen=True, kw_only=True, eq=False)
class TimeLimit:
    """A rule whose margin is time: how far inside the best of its spans she comes and goes. [s]"""

    rule: Rule
    stretch: Stretch
    spans: Array
    """When she may be there, on the clock of the water, shape (n, 2). [s]"""
    words: Callable[[Passing, float], str]
    """What to say of one start: how she passes, and the margin."""

    unit = "s"
    rate = 1.0
    """Times she passes change as fast as themselves. [s/s]"""

    def margins(self, passing: Passing) -> Array:
        """[s]"""
        return spare(self.spans, passing.enters, passing.leaves)

    def told(self, passing: Passing) -> Told:
        """What a person must know about the only start of `passing`."""
        margin = float(self.margins(passing)[0])
        return Told(value=margin, required=0.0, time=float(passing.enters[0]), words=self.words(passing, margin))
