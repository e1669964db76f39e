"""The API of a call's files as texts, and of its ship card: read, tried, written under the revision they began with."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Request

from leadsman.errors import InputErrors
from leadsman.web.calls import CallName, Calls, calls_of
from leadsman.web.drawing import WRITING, IfMatch, Unfinished, bare, said_of, without_revision
from leadsman.web.replies import Faults
from leadsman.web.schema.cards import ShipCard
from leadsman.web.schema.drawing import CallTexts, GivenTexts, SaidOfParts

router = APIRouter(prefix="/api/v1", tags=["texts"], responses={403: {"model": Faults}, 422: {"model": Faults}})


@router.get(
    "/calls/{call}/texts",
    response_model=CallTexts,
    summary="The files of a call as texts, depth areas left out",
    responses={404: {"model": Faults}},
)
def texts(request: Request, call: CallName) -> Any:
    return _read(calls_of(request), call)


@router.post(
    "/calls/{call}/texts/check",
    response_model=SaidOfParts,
    summary="What would be said of the call with these texts; nothing is written",
    responses={404: {"model": Faults}},
)
def check(request: Request, call: CallName, given: GivenTexts) -> Any:
    from leadsman.files.call_words import files_of
    from leadsman.files.folder import open_folder
    from leadsman.files.overlay import Overlay

    calls = calls_of(request)
    return said_of(calls, Overlay(open_folder(calls.folder(call)), files_of(given.texts)))


@router.put(
    "/calls/{call}/texts",
    response_model=CallTexts,
    summary="Write texts of a call; the reply is what is there then",
    responses=WRITING,
)
def write(
    request: Request, call: CallName, given: GivenTexts, began_with: IfMatch = None, unfinished: Unfinished = False
) -> Any:
    from leadsman.files.call_parts import faults_in
    from leadsman.files.call_words import files_of
    from leadsman.files.folder import open_folder
    from leadsman.files.overlay import Overlay
    from leadsman.files.revisions import write

    calls = calls_of(request)
    folder = calls.folder(call)
    if began_with is None:
        return without_revision()
    new = files_of(given.texts)
    faults = [] if unfinished else faults_in(Overlay(open_folder(folder), new))
    if faults:
        raise InputErrors(fault for fault, _ in faults)
    write(folder, new, began_with=bare(began_with), words=given.words or "texts changed")
    return _read(calls, call)


@router.put(
    "/calls/{call}/card",
    response_model=ShipCard,
    summary="Write the ship card of a call, in the shape of ship.toml; the remarks of the file stay",
    responses=WRITING,
)
def write_card(
    request: Request,
    call: CallName,
    card: Annotated[dict[str, Any], Body(description="the tables and keys of ship.toml")],
    began_with: IfMatch = None,
) -> Any:
    from leadsman.files.call_words import card_file
    from leadsman.files.folder import open_folder
    from leadsman.files.revisions import write

    calls = calls_of(request)
    folder = calls.folder(call, holding="ship.toml")
    if began_with is None:
        return without_revision()
    write(folder, card_file(open_folder(folder), card), began_with=bare(began_with), words="ship card changed")
    return calls.card(call)


def _read(calls: Calls, name: str) -> dict[str, Any]:
    from leadsman.files.call_words import texts_of
    from leadsman.files.folder import open_folder
    from leadsman.files.revisions import revision

    folder = calls.folder(name)
    return {"revision": revision(folder), "texts": texts_of(open_folder(folder))}
