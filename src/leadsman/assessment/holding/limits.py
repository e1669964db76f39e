"""The static limits of a port call: roses of wind at every place, of stream where she is held over the ground."""

from dataclasses import replace

from leadsman.assessment.account import account
from leadsman.assessment.holding.answer import roses
from leadsman.assessment.holding.assess import holding
from leadsman.assessment.holding.result import StaticLimits
from leadsman.assessment.holding.what_if import plans_at, stream_rose
from leadsman.assessment.prepare import prepare
from leadsman.errors import CannotCompute
from leadsman.figure import Finding
from leadsman.portcall import PortCall


def static_limits(call: PortCall) -> StaticLimits:
    """All limits of a call for its start; `CannotCompute` without wind or windage."""
    prepared = prepare(call)
    answer = holding(prepared, account(prepared, call.start), call.start)
    if isinstance(answer, Finding):
        raise CannotCompute(answer.sentence)
    made = plans_at(prepared, call.start)
    stopped = [place.key for place in answer.places if place.situation != "under_way"]
    return StaticLimits(
        answer=replace(answer, roses={one.asked.key: roses(one) for one in made}),
        streams={key: stream_rose(prepared, call.start, key) for key in stopped},
    )
