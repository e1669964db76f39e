"""The API of holding: one place of a call with other wind, stream, tugs, or something out of order; nothing is kept."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request, Response

from leadsman.units import DEGREE, KNOT
from leadsman.web.calls import CallName, calls_of
from leadsman.web.replies import Faults
from leadsman.web.routes import Start, as_json, moment
from leadsman.web.schema import WhatIf

router = APIRouter(prefix="/api/v1", tags=["holding"], responses={403: {"model": Faults}, 422: {"model": Faults}})

Key = Annotated[str, Query(description="the place's key, as in the assessment", max_length=40)]
WindSpeed = Annotated[float | None, Query(description="ten-minute mean, knots", ge=0.0, le=100.0)]
StreamRate = Annotated[float | None, Query(description="knots", ge=0.0, le=10.0)]
Direction = Annotated[float | None, Query(description="degrees true", ge=0.0, le=360.0)]
Tugs = Annotated[int | None, Query(description="how many of those ordered", ge=0, le=20)]
OutOfOrder = Annotated[list[str], Query(description="thrusters and engines out of order", max_length=12)]


@router.get(
    "/calls/{call}/holding",
    summary="Whether she is held at one place, with other wind, stream or means",
    response_class=Response,
    responses={200: {"model": WhatIf, "content": {"application/json": {}}}, 404: {"model": Faults}},
)
def holding(
    request: Request,
    call: CallName,
    place: Key,
    start: Start = None,
    wind_speed_kn: WindSpeed = None,
    wind_from_deg: Direction = None,
    stream_rate_kn: StreamRate = None,
    stream_towards_deg: Direction = None,
    tugs: Tugs = None,
    out_of_order: OutOfOrder = [],  # noqa: B006 # FastAPI reads it, nobody writes to it
) -> Response:
    from leadsman.assessment.holding.what_if import Changes, names_of, what_if
    from leadsman.documents.holding_data import place_data, rose_data

    asked, prepared = calls_of(request).at(call, None if start is None else moment(start))
    changes = Changes(
        wind_speed=_in(KNOT, wind_speed_kn),
        wind_from=_in(DEGREE, wind_from_deg),
        stream_rate=_in(KNOT, stream_rate_kn),
        stream_towards=_in(DEGREE, stream_towards_deg),
        tugs=tugs,
        out_of_order=tuple(out_of_order),
    )
    held, rose = what_if(prepared, asked.start, place, changes)
    answer: dict[str, Any] = {
        "schema": "leadsman.what-if/1",
        "place": place_data(held, asked.ship.length_overall, asked.ship.beam),
        "rose": rose_data(rose),
        "means": list(names_of(prepared, asked.start, place)),
    }
    return as_json(answer)


def _in(unit: float, value: float | None) -> float | None:
    return None if value is None else value * unit
