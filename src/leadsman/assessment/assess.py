"""The story of an assessment: can she go, when, why not, and what would make it go. The file to open first.

the track is cut into stations             passage.py     how deep, how wide, how fast
the ship is floated in today's water       floating.py    draughts, density, block coefficient, height
every station says what level it needs     underkeel.py   squat by all methods that apply
every bridge says what level it bears      overhead.py
the water is laid along the track          water.py       tide, residual, stream
all starts of the search are solved        windows.py     edges true to a hundredth of a second
one start is gone through                  account.py, legs.py
and judged                                 judge.py, remedies.py
"""

from datetime import datetime
from hashlib import sha256

import numpy as np

from leadsman.assessment import judge
from leadsman.assessment.account import account
from leadsman.assessment.legs import alongside, gates, legs
from leadsman.assessment.prepare import OVERHEAD, UNDERKEEL, Prepared, prepare
from leadsman.assessment.remedies import remedies
from leadsman.assessment.result import Assessment, Binding, StartSeries, Window
from leadsman.assessment.water import water_findings
from leadsman.assessment.windows import Span
from leadsman.compiled import sources_hash
from leadsman.portcall import PortCall

BEST_SAMPLES = 61  # starts looked at in each window for the one with most margin


def assess(call: PortCall, prepared: Prepared | None = None) -> Assessment:
    """The whole answer for the call's start; `prepared` may come from an earlier start of the same call."""
    ready = prepared or prepare(call)
    start = call.start
    windows = tuple(_window(ready, span) for span in ready.search.spans)
    binding = judge.binding_at(ready, start)
    found = account(ready, start)
    passed_gates, sailed_legs, after = (
        gates(ready, found, start),
        legs(ready, found, start),
        alongside(ready, found, start),
    )
    findings = judge.heaviest_first(
        [
            *judge.findings(ready, found, passed_gates, sailed_legs, after, start),
            *water_findings(ready.passage, ready.water),
            *ready.floating.findings,
        ]
    )
    verdict = judge.verdict(binding, findings, windows, start)
    return Assessment(
        call=call,
        verdict=verdict,
        windows=windows,
        series=_series(ready),
        account=found,
        gates=passed_gates,
        legs=sailed_legs,
        alongside=after,
        findings=findings,
        remedies=() if binding.margin >= 0.0 else remedies(ready, binding, windows, start),
        figures=ready.floating.figures,
        fingerprint=fingerprint(call),
    )


def fingerprint(call: PortCall) -> str:
    """Twelve figures of the inputs and the program: equal ones give equal answers."""
    return sha256(f"{sources_hash()} {call!r}".encode()).hexdigest()[:12]


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
    )
