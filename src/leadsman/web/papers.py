"""The API of papers: the pack, the call itself and single drawings, made for the start asked."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Request, Response
from fastapi import Path as InPath

from leadsman.portcall import PortCall
from leadsman.record import Record
from leadsman.web import work
from leadsman.web.calls import CallName, NoSuchCall, calls_of
from leadsman.web.replies import Faults
from leadsman.web.routes import Start, moment

router = APIRouter(prefix="/api/v1", tags=["papers"], responses={403: {"model": Faults}, 422: {"model": Faults}})

KINDS = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "zip": "application/zip",
    "json": "application/json",
    "svg": "image/svg+xml",
    "png": "image/png",
}


@router.get(
    "/calls/{call}/papers/{paper}",
    summary="One paper of a call: pack or record (pdf, html, json), call.zip, or a drawing such as plan.svg",
    response_class=Response,
    responses={
        200: {"content": {kind: {"schema": {"type": "string", "format": "binary"}} for kind in KINDS.values()}},
        404: {"model": Faults},
    },
)
def paper(
    request: Request,
    call: CallName,
    paper: Annotated[str, InPath(description="its name with the ending", max_length=40)],
    start: Start = None,
) -> Response:
    calls = calls_of(request)
    folder = calls.folder(call)
    makers = _makers(folder, lambda: calls.read(call))
    if paper not in makers:
        raise NoSuchCall(f"there is no paper '{paper}'; expected one of {', '.join(sorted(makers))}")
    made = makers[paper](lambda: calls.assess(call, None if start is None else moment(start)))
    headers = {"Content-Disposition": "attachment"}
    return Response(made, media_type=KINDS[paper.rsplit(".", 1)[1]], headers=headers)


Answer = Callable[[], dict[str, Any]]


def _makers(folder: Path, read: Callable[[], PortCall]) -> dict[str, Callable[[Answer], bytes]]:
    """What can be had, by name; each is made from the answer, which is asked for only if needed."""
    from leadsman.documents.carried import Rehearsed
    from leadsman.documents.drawing_file import DRAWINGS, FORMATS, Kind, drawing_file
    from leadsman.documents.offline import offline_page
    from leadsman.documents.pack import pack_pdf
    from leadsman.documents.record_sheet import record_json, record_pdf
    from leadsman.files.folder import open_folder
    from leadsman.files.record_file import read_record
    from leadsman.files.zip_call import zip_call
    from leadsman.format import settled

    def kept(kind: str) -> dict[str, Any] | None:
        found = work.answer(folder, kind)
        return None if found is None else json.loads(settled(found.decode()))

    def said() -> Record:
        return read_record(open_folder(folder))

    def carried() -> dict[str, Any]:
        return {
            "record": said(),
            "rehearsed": Rehearsed(kept("rehearsal"), kept("failures")),
            "ship": _aboard(read()),
        }

    def drawn(name: str, kind: Kind) -> Callable[[Answer], bytes]:
        return lambda answer: drawing_file(answer(), name, kind)

    return {
        "pack.pdf": lambda answer: pack_pdf(answer(), **carried()),
        "pack.html": lambda answer: offline_page(answer(), **carried()).encode(),
        "record.pdf": lambda answer: record_pdf(answer(), said()),
        "record.json": lambda answer: record_json(answer(), said()),
        "call.zip": lambda answer: zip_call(folder),
    } | {f"{name}.{kind}": drawn(name, kind) for name in DRAWINGS for kind in FORMATS}


def _aboard(call: PortCall) -> dict[str, Any]:
    """Her own papers; her manoeuvres are sailed once and then kept."""
    from leadsman.assessment.posted import posted_manoeuvres
    from leadsman.assessment.shipboard import shipboard
    from leadsman.documents.ship_sheets import ship_sheets
    from leadsman.store.manoeuvres import kept

    return ship_sheets(shipboard(call.ship, call.loading, lambda ship, loading: kept(ship, loading, posted_manoeuvres)))
