"""The API of a passage as it was sailed: a log goes in, and nothing of it is kept."""

from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool

from leadsman.portcall import PortCall
from leadsman.web.calls import CallName, calls_of
from leadsman.web.gatherings import RAW
from leadsman.web.replies import Faults
from leadsman.web.schema.sailed import SailedPassage

router = APIRouter(prefix="/api/v1", tags=["as sailed"], responses={403: {"model": Faults}, 422: {"model": Faults}})

Vessel = Annotated[str | None, Query(max_length=80, description="which vessel of the log, by name or MMSI")]
Residual = Annotated[float | None, Query(ge=-8.0, le=8.0, description="metres the gauge stood above the prediction")]
Antenna = Annotated[float | None, Query(ge=0.0, le=500.0, description="metres from the bow to the antenna")]


@router.post(
    "/calls/{call}/sailed",
    response_model=SailedPassage,
    summary="A log against the plan of a call; its body is the log, AIS, NMEA, GPX or GeoJSON",
    responses={404: {"model": Faults}, 413: {"model": Faults}},
    openapi_extra=RAW,
)
async def sailed(
    request: Request, call: CallName, vessel: Vessel = None, residual: Residual = None, antenna: Antenna = None
) -> Any:
    plan = await run_in_threadpool(calls_of(request).read, call)
    content = await request.body()
    return await run_in_threadpool(_against, plan, content, vessel, residual, antenna)


def _against(
    plan: PortCall, content: bytes, vessel: str | None, residual: float | None, antenna: float | None
) -> dict[str, Any]:
    import tempfile

    from leadsman.assessment.after import after
    from leadsman.documents.after_data import after_data
    from leadsman.files.sailed_file import read_sailed

    with tempfile.TemporaryDirectory(prefix="leadsman-") as place:
        file = Path(place) / "log"
        file.write_bytes(content)
        log, notes = read_sailed(file, vessel)
    return {**after_data(after(plan, log, residual, antenna)), "notes": list(notes)}
