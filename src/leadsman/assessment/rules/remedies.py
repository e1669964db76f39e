"""What would keep a broken rule where another time or speed is not all there is to change."""

from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from leadsman import format as text
from leadsman.assessment.result import Remedy
from leadsman.assessment.rules.limit import Limit
from leadsman.assessment.rules.march import Passing
from leadsman.assessment.rules.tugs import lacking
from leadsman.rule import GreatestWaves, GreatestWind, LeastVisibility, TugsFast

if TYPE_CHECKING:
    from leadsman.assessment.prepare import Prepared


def rule_remedies(prepared: "Prepared", start: datetime) -> tuple[Remedy, ...]:
    """One for each broken rule that weather or tugs would mend; each alone, as if the other rules were kept."""
    book = prepared.rules
    starts = np.array([prepared.water.elapsed(start)])
    passings, margins = book.passings(starts), book.margins(starts)[:, 0]
    found = [
        _remedy(prepared, limit, passing)
        for limit, passing, margin in zip(book.limits, passings, margins, strict=True)
        if margin < 0.0
    ]
    return tuple(remedy for remedy in found if remedy is not None)


def _remedy(prepared: "Prepared", limit: Limit, passing: Passing) -> Remedy | None:
    asked, where = limit.rule.asks, limit.stretch.place
    match asked:
        case TugsFast():
            number, pull = lacking(prepared.passage, prepared.water, asked, passing)
            more = [f"{number} more tug{'s' if number > 1 else ''}"] * (number > 0)
            more += [f"{text.pull_needed(pull)} more pull"] * (pull > 0.0)
            water = prepared.water
            when = f"{text.clock(water.time(passing.enters[0]))} to {text.clock(water.time(passing.leaves[0]))}"
            return Remedy(
                kind="tugs",
                works=True,
                sentence=f"Have {' and '.join(more)} for {where}, from {when}.",
                change=pull if pull > 0.0 else float(number),
                unit="N" if pull > 0.0 else "",
            )
        case GreatestWind():
            pairs = ((asked.mean, "mean wind"), (asked.gust, "gusts"))
            limits = " and ".join(f"{name} of at most {text.knots(most)}" for most, name in pairs if most is not None)
            return Remedy(kind="wind", works=True, sentence=f"Wait for {limits}: {limit.rule.name}.")
        case GreatestWaves():
            words = f"Wait for waves of at most {text.metres(asked.height)}: {limit.rule.name}."
            return Remedy(kind="waves", works=True, sentence=words)
        case LeastVisibility():
            words = f"Wait for {text.miles(asked.visibility)} of visibility: {limit.rule.name}."
            return Remedy(kind="visibility", works=True, sentence=words)
    return None
