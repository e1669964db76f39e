"""The story of an assessment: can she go, when, why not, and what would make it go. The file to open first.

the track is cut into stations             passage.py     how deep, how wide, how fast
the ship is floated in today's water       floating.py    draughts, density, block coefficient, height
the stream she can meet is bounded         drift.py       what she lays off, how fast over the ground
her bottom is cut in parts                 parts.py       the real depth under bow, stern and bilges
heel and waves move the parts              heeling.py, seaway.py
every station says what level it needs     underkeel.py   squat by all methods that apply
every bridge says what level it bears      overhead.py
the water is laid along the track          water.py       tide, residual, stream
the rules of the port say when she may     rules/
all starts of the search are solved        windows.py     edges true to a hundredth of a second
one start is gone through                  account.py, legs.py, limiting_speed.py
the chance of touching is drawn            touching.py
she is held in wind and stream             holding/assess.py
and judged                                 judge.py, remedies.py, changed.py, speed_plan.py
early, late, and where to turn back        other_starts.py, turning_back.py
"""

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from hashlib import sha256

import numpy as np

from leadsman.assessment import judge
from leadsman.assessment.account import account
from leadsman.assessment.anchorage import anchoring_findings
from leadsman.assessment.card import check_card
from leadsman.assessment.holding.assess import holding
from leadsman.assessment.holding.findings import stopping
from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.assessment.legs import alongside, gates, legs
from leadsman.assessment.limiting_speed import limiting_findings
from leadsman.assessment.other_starts import other_starts
from leadsman.assessment.prepare import OVERHEAD, UNDERKEEL, Prepared, prepare
from leadsman.assessment.remedies import remedies
from leadsman.assessment.result import Assessment, Binding, Remedy, StartSeries, Window
from leadsman.assessment.rules.told import check_rules, rule_findings, rule_held
from leadsman.assessment.side_room import side_room
from leadsman.assessment.swing import swing_findings
from leadsman.assessment.touching import touching
from leadsman.assessment.turning_back import turn_backs
from leadsman.assessment.water import water_findings
from leadsman.assessment.windows import Span
from leadsman.compiled import sources_hash
from leadsman.figure import Finding, Grade
from leadsman.portcall import PortCall

BEST_SAMPLES = 61  # starts looked at in each window for the one with most margin


def assess(call: PortCall, prepared: Prepared | None = None) -> Assessment:
    """The whole answer for the call's start; `prepared` may come from an earlier start of the same call."""
    ready = prepared or prepare(call)
    start = call.start
    kept = _kept(ready)
    binding = judge.binding_at(ready, start)
    found = account(ready, start)
    passed_gates, sailed_legs, after = (
        gates(ready, found, start),
        legs(ready, found, start),
        alongside(ready, found, start),
    )
    chance = touching(ready.chances, found.water_level)
    rules = check_rules(ready, start)
    held = holding(ready, found, start)
    sideways = side_room(ready, found, start)
    findings = judge.heaviest_first(
        [
            *([held] if isinstance(held, Finding) else held.findings),
            *judge.findings(ready, found, passed_gates, sailed_legs, after, start),
            *limiting_findings(ready, found),
            *rule_findings(rules),
            *sideways.findings,
            *anchoring_findings(ready, start),
            *swing_findings(ready, start),
            *judge.touching_findings(chance, call.margins.source),
            *water_findings(ready.passage, ready.water),
            *ready.floating.findings,
            *ready.drift.findings,
            *ready.underkeel.heel.findings,
            *ready.underkeel.seaway.findings,
            *_of_the_card(call),
        ]
    )
    verdict = judge.verdict(binding, findings, kept.windows, start)
    return Assessment(
        call=call,
        verdict=verdict,
        windows=kept.windows,
        series=kept.series,
        account=found,
        gates=passed_gates,
        legs=sailed_legs,
        alongside=after,
        rules=rules,
        widths=sideways.widths,
        bends=sideways.bends,
        basins=sideways.basins,
        way_off=sideways.way_off,
        touching=chance,
        others=other_starts(ready, start),
        turn_backs=turn_backs(ready, found, passed_gates, start),
        findings=findings,
        remedies=(
            *(() if binding.margin >= 0.0 else remedies(ready, binding, kept.windows, start)),
            *(() if isinstance(held, Finding) else _to_hold(held)),
        ),
        figures={**ready.floating.figures, **ready.underkeel.stability.figures},
        fingerprint=_fingerprint(kept.inputs_hash, start),
        holding=None if isinstance(held, Finding) else held,
    )


def _to_hold(held: HoldingAnswer) -> list[Remedy]:
    """What would lift the stops of holding; all changes stand at their places."""
    return [
        Remedy(kind=one.kind, works=one.works, sentence=one.sentence, change=one.change, unit=one.unit)
        for place in stopping(held)
        for one in place.changes
    ]


def _of_the_card(call: PortCall) -> list[Finding]:
    """What stands against the ship card itself: a passage is no surer than the card it is computed from."""
    return [finding for finding in check_card(call.ship, call.loading) if finding.grade is not Grade.NOTE]


def fingerprint(call: PortCall) -> str:
    """Twelve figures of the inputs and the program: equal ones give equal answers."""
    return _fingerprint(_inputs_hash(call), call.start)


def _fingerprint(inputs: str, start: datetime) -> str:
    return sha256(f"{sources_hash()} {inputs} {start!r}".encode()).hexdigest()[:12]


def _inputs_hash(call: PortCall) -> str:
    """Of everything in the call but the start."""
    return sha256(repr(call.starting(call.search_begin)).encode()).hexdigest()


@dataclass(frozen=True, eq=False)
class _Kept:
    """What does not depend on the start."""

    windows: tuple[Window, ...]
    series: StartSeries
    inputs_hash: str


@lru_cache(maxsize=8)
def _kept(prepared: Prepared) -> _Kept:
    """Made once for a prepared call, so that another start costs only its own account."""
    return _Kept(
        windows=tuple(_window(prepared, span) for span in prepared.search.spans),
        series=_series(prepared),
        inputs_hash=_inputs_hash(prepared.call),
    )


def _window(prepared: Prepared, span: Span) -> Window:
    time = prepared.water.time
    starts = np.linspace(span.opens, span.closes, BEST_SAMPLES)
    rows = prepared.margins(starts)
    best = time(float(starts[int(np.argmax(np.minimum(rows[:, UNDERKEEL], rows[:, OVERHEAD])))]))
    return Window(
        opens=time(span.opens),
        closes=time(span.closes),
        opens_by=_just_outside(prepared, time(span.opens - 1.0)) if span.opens_at_edge else None,
        closes_by=_just_outside(prepared, time(span.closes + 1.0)) if span.closes_at_edge else None,
        best_start=best,
        best=judge.binding_at(prepared, best),
    )


def _just_outside(prepared: Prepared, start: datetime) -> Binding:
    return judge.binding_at(prepared, start)


def _series(prepared: Prepared) -> StartSeries:
    search = prepared.search
    overhead = np.where(np.isfinite(search.margins[:, OVERHEAD]), search.margins[:, OVERHEAD], np.nan)
    return StartSeries(
        start=tuple(prepared.water.time(float(seconds)) for seconds in search.sampled),
        underkeel=search.margins[:, UNDERKEEL],
        overhead=overhead,
        rule=rule_held(prepared, search.sampled),
    )
