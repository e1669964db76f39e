"""Tugs that must be there: the times at which those ordered, and free then, are enough."""

import math
from itertools import pairwise

from leadsman import format as text
from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.spans import TimeLimit, joined
from leadsman.assessment.rules.stretch import Stretch
from leadsman.assessment.water import Water
from leadsman.portcall import Tug
from leadsman.rule import Rule, TugsFast


def tugs(passage: Passage, water: Water, rule: Rule, asked: TugsFast, stretch: Stretch) -> TimeLimit:
    """The limit: while she is there the tugs available are as many and pull as much as asked."""
    ordered = passage.call.tugs
    free = [_free(water, tug) for tug in ordered]
    changes = sorted({-math.inf, math.inf, *(time for span in free for time in span)})
    enough = [
        (begin, end)
        for begin, end in pairwise(changes)
        if _enough(asked, [tug for tug, (first, last) in zip(ordered, free, strict=True) if first <= begin < last])
    ]
    wanted = " and ".join(
        [f"{asked.number} tugs"] * (asked.number > 0) + [f"{text.pull(asked.pull)} of pull"] * (asked.pull > 0)
    )

    def words(passing: Passing, margin: float) -> str:
        enters, leaves = float(passing.enters[0]), float(passing.leaves[0])
        there = [tug for tug, (first, last) in zip(ordered, free, strict=True) if first <= enters and leaves <= last]
        pull = sum(tug.bollard_pull for tug in there)
        when = f"from {text.clock(water.time(enters))} to {text.clock(water.time(leaves))}"
        names = ", ".join(tug.name for tug in there) or "none"
        return f"available {when}: {names} ({text.pull(pull)} together); {wanted} required"

    return TimeLimit(rule=rule, stretch=stretch, spans=joined(enough), words=words)


def lacking(passage: Passage, water: Water, asked: TugsFast, passing: Passing) -> tuple[int, float]:
    """(tugs, bollard pull) that the ones there all the time fall short by. [-], [N]"""
    enters, leaves = float(passing.enters[0]), float(passing.leaves[0])
    there = [tug for tug in passage.call.tugs if _free(water, tug)[0] <= enters and leaves <= _free(water, tug)[1]]
    return max(asked.number - len(there), 0), max(asked.pull - sum(tug.bollard_pull for tug in there), 0.0)


def _free(water: Water, tug: Tug) -> tuple[float, float]:
    begin, end = tug.available_from, tug.available_until
    return (
        -math.inf if begin is None else water.elapsed(begin),
        math.inf if end is None else water.elapsed(end),
    )


def _enough(asked: TugsFast, there: list[Tug]) -> bool:
    return len(there) >= asked.number and sum(tug.bollard_pull for tug in there) >= asked.pull * (1.0 - 1e-9)
