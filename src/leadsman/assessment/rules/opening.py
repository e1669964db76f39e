"""Locks, bridges and channels that open at times of the day or of the tide."""

from datetime import timedelta

import numpy as np

from leadsman import format as text
from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.spans import TimeLimit, joined
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.environment.level import turning_points
from leadsman.rule import Opening, Rule
from leadsman.units import DAY

BEYOND = timedelta(hours=13)  # high waters this far outside the time of the water may open a gate within it


def opening(passage: Passage, water: Water, rule: Rule, asked: Opening, stretch: Stretch) -> TimeLimit:
    """The limit: she comes and goes while it stands open."""
    spans = joined([*_daily(water, asked), *_about_high_water(passage, water, asked)])

    def words(passing: Passing, margin: float) -> str:
        enters, leaves = passing.enters[0], passing.leaves[0]
        there = f"she is there {text.clock(water.time(enters))} to {text.clock(water.time(leaves))}"
        after = spans[spans[:, 1] >= enters]
        if not len(after):
            return f"{there}; it opens no more in the time searched"
        opens, closes = after[0]
        state = "open" if opens <= enters else "next open"
        return f"{there}; {state} {text.day_clock(water.time(opens))} to {text.day_clock(water.time(closes))}"

    return TimeLimit(rule=rule, stretch=stretch, spans=spans, words=words)


def _daily(water: Water, asked: Opening) -> list[tuple[float, float]]:
    midnight = water.begin.replace(hour=0, minute=0, second=0, microsecond=0)
    first = (midnight - water.begin).total_seconds()
    days = int((water.level.end - water.begin).total_seconds() / DAY) + 3
    return [
        (first + day * DAY + opens, first + day * DAY + (closes if closes > opens else closes + DAY))
        for day in range(-1, days)
        for opens, closes in asked.daily
    ]


def _about_high_water(passage: Passage, water: Water, asked: Opening) -> list[tuple[float, float]]:
    if asked.reference is None:
        return []
    others = {station.name: station for station in passage.call.waterway.tide_stations}
    found = turning_points(others[asked.reference], water.begin - BEYOND, water.level.end + BEYOND, others=others)
    highs = np.asarray(found.time)[np.asarray(found.high, dtype=bool)] - water.begin.timestamp()
    return [(high - asked.before_high_water, high + asked.after_high_water) for high in highs]
