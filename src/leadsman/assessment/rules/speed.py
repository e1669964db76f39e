"""Greatest speed over the ground."""

from dataclasses import dataclass

import numpy as np

from leadsman import format as text
from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.limit import Told
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.geometry import Array
from leadsman.rule import GreatestSpeed, Rule

GREATEST_SHARE = 0.95  # of her speed that the stream across is reckoned with: nearer to one she cannot be steered

ROUNDING = 1e-6  # m/s, of the arithmetic: a speed planned at the limit keeps it


@dataclass(frozen=True, kw_only=True, eq=False)
class SpeedLimit:
    """A rule whose margin is speed: the limit less her greatest speed over the ground in the stretch. [m/s]"""

    rule: Rule
    stretch: Stretch
    greatest: float
    rate: float

    unit = "m/s"

    def margins(self, passing: Passing) -> Array:
        """[m/s]"""
        return np.asarray(self.greatest + ROUNDING - passing.fastest)

    def told(self, passing: Passing) -> Told:
        """What a person must know about the only start of `passing`."""
        fastest = float(passing.fastest[0])
        shown = text.knots_above(fastest) if fastest > self.greatest else text.knots(fastest)
        return Told(
            value=fastest,
            required=self.greatest,
            time=float(passing.enters[0]),
            words=f"{shown} over the ground at most, the limit is {text.knots(self.greatest)}",
        )


def greatest_speed(passage: Passage, water: Water, rule: Rule, asked: GreatestSpeed, stretch: Stretch) -> SpeedLimit:
    """The limit: nowhere in the stretch faster over the ground.

    Her speed over the ground is sqrt(speed² - across²) + along; it changes no faster than the stream as a vector,
    times speed / sqrt(speed² - across²).
    """
    inside = (passage.distance >= stretch.begin) & (passage.distance <= stretch.end)
    slowest = float(np.min(passage.speed[inside])) if np.any(inside) else float(np.min(passage.speed))
    share = min(water.stream.greatest_rate / slowest, GREATEST_SHARE)
    return SpeedLimit(
        rule=rule,
        stretch=stretch,
        greatest=asked.speed,
        rate=water.stream.greatest_change / float(np.sqrt(1.0 - share * share)),
    )
