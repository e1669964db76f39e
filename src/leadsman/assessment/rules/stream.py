"""Greatest stream at a berth, lock or narrows, or anywhere she meets it in a reach."""

from dataclasses import dataclass

import numpy as np

from leadsman import format as text
from leadsman.assessment.rules.limit import Told
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.environment.stream import stream_at
from leadsman.geometry import Array
from leadsman.rule import GreatestStream, Rule


@dataclass(frozen=True, kw_only=True, eq=False)
class StreamLimit:
    """A rule whose margin is a rate: the limit less the greatest stream while she is there. [m/s]

    At a place the whole time she is there counts; in reaches, what she meets at each station as she passes it.
    """

    rule: Rule
    stretch: Stretch
    water: Water
    greatest: float

    unit = "m/s"

    @property
    def rate(self) -> float:
        """The stream changes no faster than this. [m/s²]"""
        return self.water.stream.greatest_change

    def margins(self, passing: Passing) -> Array:
        """[m/s]"""
        strongest = passing.strongest if self.rule.at is None else self._strongest(passing)[0]
        return np.asarray(self.greatest - strongest)

    def told(self, passing: Passing) -> Told:
        """What a person must know about the only start of `passing`."""
        strongest, time = float(self.greatest - self.margins(passing)[0]), float(passing.enters[0])
        if self.rule.at is not None:
            time = float(self._strongest(passing)[1][0])
        shown = text.knots_above(strongest) if strongest > self.greatest else text.knots(strongest)
        at = f" at {text.clock(self.water.time(time))}" if self.rule.at is not None else " where she meets it"
        return Told(
            value=strongest,
            required=self.greatest,
            time=time,
            words=f"the stream runs up to {shown}{at}, the limit is {text.knots(self.greatest)}",
        )

    def _strongest(self, passing: Passing) -> tuple[Array, Array]:
        """(greatest rate at the place from her coming to her going, when) for each start. [m/s], [s]

        The components lie on straight lines between the samples of the stream, so the rate is greatest at a sample or
        at an end of the time.
        """
        enters, leaves = np.asarray(passing.enters), np.asarray(passing.leaves)
        step = self.water.stream.grid.step
        stay = np.nan_to_num(leaves - enters)
        samples = np.arange(int(np.max(stay, initial=0.0) / step) + 2)
        inside = (np.floor(enters / step)[:, np.newaxis] + 1.0 + samples) * step
        times = np.column_stack([enters, np.minimum(inside, leaves[:, np.newaxis]), leaves])
        north, east = stream_at(self.water.stream.grid, np.full(times.shape, self.stretch.middle), times)
        rates = np.hypot(north, east)
        most = np.argmax(rates, axis=1)
        rows = np.arange(len(times))
        return np.asarray(rates[rows, most]), np.asarray(times[rows, most])


def greatest_stream(water: Water, rule: Rule, asked: GreatestStream, stretch: Stretch) -> StreamLimit:
    """The limit: the stream is nowhere stronger while she is there."""
    return StreamLimit(rule=rule, stretch=stretch, water=water, greatest=asked.rate)
