"""The API, version 1: what calls there are, the assessment of one for a start, and ship cards checked."""

import json
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Body, Query, Request, Response

from leadsman.documents import bibliography
from leadsman.errors import CannotCompute
from leadsman.web import cards
from leadsman.web.calls import CallName, calls_of
from leadsman.web.replies import Faults
from leadsman.web.schema import Assessment, CallList, CardForm, CardsBeside, CheckedCard, ShipCard, SourceList, TwoCards

EXAMPLE = "2031-05-04T06:00:00Z"

router = APIRouter(prefix="/api/v1", tags=["port calls"], responses={403: {"model": Faults}, 422: {"model": Faults}})

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
    calls = calls_of(request)
    return {"calls": calls.names(), "about": calls.about()}


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
    answer = calls_of(request).assess(call, None if start is None else moment(start))
    return as_json(answer)


@router.get(
    "/calls/{call}/card",
    summary="The ship card in one folder, in the shape of ship.toml",
    response_class=Response,
    responses={
        200: {"model": ShipCard, "content": {"application/json": {}}},
        404: {"model": Faults},
    },
)
def ship_card(request: Request, call: CallName) -> Response:
    return as_json(calls_of(request).card(call))


@router.get("/card/form", response_model=CardForm, summary="Every field of a ship card, in groups")
def card_form() -> Any:
    from leadsman.files.card_form import card_form, own_fields

    return {"groups": card_form(), "own": own_fields()}


@router.post(
    "/card",
    summary="A ship card, in the shape of ship.toml, checked and completed; nothing is kept",
    response_class=Response,
    responses={200: {"model": CheckedCard, "content": {"application/json": {}}}, 400: {"model": Faults}},
)
def check_card(card: Annotated[dict[str, Any], Body(description="the tables and keys of ship.toml")]) -> Response:
    return as_json(cards.check(card))


@router.post(
    "/card/beside",
    summary="Two ship cards, or one ship in two loadings, side by side; nothing is kept",
    response_class=Response,
    responses={200: {"model": CardsBeside, "content": {"application/json": {}}}, 400: {"model": Faults}},
)
def cards_beside(two: Annotated[TwoCards, Body()]) -> Response:
    return as_json(cards.beside(two.model_dump()))


@router.get("/sources", response_model=SourceList, summary="The documents that figures and formulas name as sources")
def sources() -> Any:
    return {"sources": bibliography.documents()}


def as_json(answer: dict[str, Any]) -> Response:
    """Written here and not passed through the models of the description, which would cost more than the answer."""
    return Response(json.dumps(answer, allow_nan=False, separators=(",", ":")), media_type="application/json")


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
