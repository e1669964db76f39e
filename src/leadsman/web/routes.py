"""The API, version 1: what calls there are, and the assessment of one for a start."""

import json
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request, Response
from fastapi import Path as InPath

from leadsman.errors import CannotCompute
from leadsman.web import bibliography
from leadsman.web.calls import Calls
from leadsman.web.replies import Faults
from leadsman.web.schema import Assessment, CallList, SourceList

EXAMPLE = "2031-05-04T06:00:00Z"

router = APIRouter(prefix="/api/v1", tags=["port calls"], responses={403: {"model": Faults}, 422: {"model": Faults}})

CallName = Annotated[str, InPath(description="the name of the call's folder, as listed", max_length=200)]
Start = Annotated[
    str | None,
    Query(
        description=f"when she passes the first point, with zone, such as {EXAMPLE}; left out: the call's own start",
        max_length=40,
        json_schema_extra={"format": "date-time"},
    ),
]


@router.get("/calls", response_model=CallList, summary="The port calls in the folder served")
def calls(request: Request) -> Any:
    return {"calls": _calls(request).names()}


@router.get(
    "/calls/{call}/assessment",
    summary="Clearances, windows, findings and remedies of one call for one start",
    response_class=Response,
    responses={
        200: {"model": Assessment, "content": {"application/json": {}}},
        404: {"model": Faults},
    },
)
def assessment(request: Request, call: CallName, start: Start = None) -> Response:
    answer = _calls(request).assess(call, None if start is None else moment(start))
    return Response(json.dumps(answer, allow_nan=False, separators=(",", ":")), media_type="application/json")


@router.get("/sources", response_model=SourceList, summary="The documents that figures and formulas name as sources")
def sources() -> Any:
    return {"sources": bibliography.documents()}


def moment(text: str) -> datetime:
    """A time with zone, to the second; `CannotCompute` says what was expected."""
    try:
        time = datetime.fromisoformat(text)
    except ValueError:
        raise CannotCompute(f"start: '{text}' is no time; expected one such as {EXAMPLE}") from None
    if time.tzinfo is None:
        raise CannotCompute(f"start: '{text}' has no zone; expected a time such as {EXAMPLE}")
    try:
        return time.astimezone(UTC).replace(microsecond=0)
    except OverflowError:
        raise CannotCompute(f"start: '{text}' is no time of this world; expected one such as {EXAMPLE}") from None


def _calls(request: Request) -> Calls:
    found: Calls = request.app.state.calls
    return found
