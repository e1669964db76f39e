"""The rules as told of one start: each with what is left of it, the one that binds, and the findings."""

from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from leadsman.assessment.result import Binding, RuleCheck
from leadsman.assessment.rules.judged import KINDS
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.rule import GreatestSpeed, GreatestStream, GreatestWaves, GreatestWind
from leadsman.units import DAY

if TYPE_CHECKING:
    from leadsman.assessment.prepare import Prepared

FAR = 400.0 * DAY  # s: told where no time at all would do; no search is longer
AT_MOST = (GreatestSpeed, GreatestStream, GreatestWaves, GreatestWind)


def check_rules(prepared: "Prepared", start: datetime) -> tuple[RuleCheck, ...]:
    """Every rule for her against one start, in the order they are written; those that cannot be judged last."""
    book, water = prepared.rules, prepared.water
    if not book.limits and not book.unjudged:
        return ()
    elapsed = water.elapsed(start)
    margins = book.margins(np.array([elapsed]))[:, 0]
    checks = [
        RuleCheck(
            name=limit.rule.name,
            limit=KINDS[type(limit.rule.asks)],
            place=limit.stretch.place,
            kept=bool(margin >= 0.0),
            words=told.words,
            margin=float(margin) if np.isfinite(margin) else None,
            unit=limit.unit,
            time=water.time(told.time) if np.isfinite(told.time) else None,
            source=limit.rule.source,
        )
        for limit, margin, told in zip(book.limits, margins, book.told(elapsed), strict=True)
    ]
    checks += [
        RuleCheck(
            name=item.rule.name,
            limit=KINDS[type(item.rule.asks)],
            place=item.rule.at or " and ".join(item.rule.reaches) or "the whole passage",
            kept=None,
            words=item.why,
            margin=None,
            unit="",
            time=None,
            source=item.rule.source,
        )
        for item in book.unjudged
    ]
    return tuple(checks)


def broken_rule(prepared: "Prepared", start: datetime) -> Binding | None:
    """The rule a start breaks most, measured by how long at least it stays broken; None where all are kept."""
    book, water = prepared.rules, prepared.water
    elapsed = water.elapsed(start)
    worst = int(book.broken(np.array([elapsed]))[0])
    if worst < 0:
        return None
    limit, told = book.limits[worst], book.told(elapsed)[worst]
    return Binding(
        limit=KINDS[type(limit.rule.asks)],
        place=limit.stretch.place,
        distance=limit.stretch.middle,
        time=water.time(told.time) if np.isfinite(told.time) else start,
        value=told.value if np.isfinite(told.value) else -FAR,
        required=told.required,
        unit=limit.unit,
        at_most=isinstance(limit.rule.asks, AT_MOST),
        rule=limit.rule.name,
        words=told.words,
    )


def rule_held(prepared: "Prepared", starts: Array) -> tuple[str, ...]:
    """For each start the name of the rule it breaks most; empty where all are kept."""
    names = [limit.rule.name for limit in prepared.rules.limits]
    return tuple(names[index] if index >= 0 else "" for index in prepared.rules.broken(starts))


def rule_findings(checks: tuple[RuleCheck, ...]) -> list[Finding]:
    """A stop for each broken rule, a caution for each that cannot be judged."""
    return [
        Finding(
            grade=Grade.CAUTION if check.kept is None else Grade.STOP,
            subject=check.limit,
            sentence=f"{check.name}, {check.place}: {check.words}."
            if check.kept is not None
            else f"{check.name}, {check.place}: cannot be judged, {check.words}; windows are told without it.",
            value=check.margin,
            limit=None if check.margin is None else 0.0,
            unit=check.unit,
            place=check.place,
            time=check.time,
            source=check.source,
        )
        for check in checks
        if not check.kept
    ]
