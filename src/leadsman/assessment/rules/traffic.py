"""Other ships: the time kept between her and them, and times kept for others."""

import numpy as np

from leadsman import format as text
from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.spans import TimeLimit, outside
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.rule import Closed, Rule, TimeBetweenShips
from leadsman.units import MINUTE


def time_between_ships(
    passage: Passage, water: Water, rule: Rule, asked: TimeBetweenShips, stretch: Stretch
) -> TimeLimit:
    """The limit: no other ship passes the place within the least time of her coming and going."""
    others = [(water.elapsed(moved.time), moved.name) for moved in passage.call.movements if moved.at == rule.at]
    spans = outside((time - asked.least, time + asked.least) for time, _ in others)

    def words(passing: Passing, margin: float) -> str:
        if not others:
            return "no other ship is told of"
        away = [max(passing.enters[0] - time, time - passing.leaves[0]) for time, _ in others]
        time, name = others[int(np.argmin(away))]
        return (
            f"{name} passes at {text.clock(water.time(time))}, she is there "
            f"{text.clock(water.time(passing.enters[0]))} to {text.clock(water.time(passing.leaves[0]))}; "
            f"{asked.least / MINUTE:.0f} min between ships are required"
        )

    return TimeLimit(rule=rule, stretch=stretch, spans=spans, words=words)


def closed(water: Water, rule: Rule, asked: Closed, stretch: Stretch) -> TimeLimit:
    """The limit: she comes and goes outside the time kept for another."""
    begin, end = water.elapsed(asked.begin), water.elapsed(asked.end)

    def words(passing: Passing, margin: float) -> str:
        return (
            f"shut to her from {text.day_clock(asked.begin)} to {text.day_clock(asked.end)}; she is there "
            f"{text.clock(water.time(passing.enters[0]))} to {text.clock(water.time(passing.leaves[0]))}"
        )

    return TimeLimit(rule=rule, stretch=stretch, spans=outside([(begin, end)]), words=words)
