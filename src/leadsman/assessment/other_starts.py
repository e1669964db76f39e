"""Early or late: what a start up to an hour from the planned one leaves, and what then binds."""

from datetime import datetime, timedelta

import numpy as np

from leadsman.assessment import judge
from leadsman.assessment.prepare import OVERHEAD, UNDERKEEL, Prepared
from leadsman.assessment.result import OtherStart

STEP = timedelta(minutes=15)
STEPS = 4  # each way


def other_starts(prepared: Prepared, start: datetime) -> tuple[OtherStart, ...]:
    """One row for each quarter of an hour, each by the same account as the start itself."""
    moments = [start + STEP * count for count in range(-STEPS, STEPS + 1)]
    rows = prepared.margins(np.array([prepared.water.elapsed(moment) for moment in moments]))
    known = [(moment, row) for moment, row in zip(moments, rows, strict=True) if np.isfinite(row[UNDERKEEL])]
    found = []
    for moment, row in known:
        binding = judge.binding_at(prepared, moment)
        found.append(
            OtherStart(
                start=moment,
                underkeel=float(row[UNDERKEEL]),
                overhead=float(row[OVERHEAD]) if np.isfinite(row[OVERHEAD]) else None,
                binding=binding,
                holds=not binding.rule and binding.margin >= 0.0,
            )
        )
    return tuple(found)
