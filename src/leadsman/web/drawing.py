"""The API of the drawing board: a call's files read, tried, written and gone back to; never overwritten unseen."""

from typing import Annotated, Any

from fastapi import APIRouter, Header, Query, Request, Response

from leadsman.errors import InputErrors
from leadsman.web.calls import CallName, Calls, calls_of
from leadsman.web.replies import Faults, refusal
from leadsman.web.schema.drawing import CallFields, CallFiles, CallParts, CallRevision, SaidOfParts, WantedVersion

router = APIRouter(prefix="/api/v1", tags=["drawing"], responses={403: {"model": Faults}, 422: {"model": Faults}})

IfMatch = Annotated[
    str | None, Header(description="the revision these changes began with, as read", max_length=80, alias="If-Match")
]
Unfinished = Annotated[bool, Query(description="write even what cannot be read as a port call yet")]

WRITING: dict[int | str, dict[str, Any]] = {
    404: {"model": Faults},
    409: {"model": Faults, "description": "the files are others by now; what changed"},
    428: {"model": Faults, "description": "no revision was given"},
}


@router.get("/files/form", response_model=CallFields, summary="The fields of every table of a call's files")
def form() -> Any:
    from leadsman.files.call_form import call_form

    return call_form()


@router.get(
    "/calls/{call}/files",
    response_model=CallFiles,
    summary="Waterway, areas, call and forecast as plain data, with their faults",
    responses={404: {"model": Faults}},
)
def files(request: Request, response: Response, call: CallName) -> Any:
    return _read(calls_of(request), call, response)


@router.get(
    "/calls/{call}/revision",
    response_model=CallRevision,
    summary="The revision of a call's files, and nothing else of them",
    responses={404: {"model": Faults}},
)
def current(request: Request, call: CallName) -> Any:
    from leadsman.files.revisions import revision

    return {"revision": revision(calls_of(request).folder(call))}


@router.put(
    "/calls/{call}/files",
    response_model=CallFiles,
    summary="Write parts of a call's files; the reply is what is there then",
    responses=WRITING,
)
def write(
    request: Request,
    response: Response,
    call: CallName,
    changed: CallParts,
    began_with: IfMatch = None,
    unfinished: Unfinished = False,
) -> Any:
    from leadsman.files.call_parts import faults_in, files_of
    from leadsman.files.folder import open_folder
    from leadsman.files.overlay import Overlay
    from leadsman.files.revisions import write

    calls = calls_of(request)
    folder = calls.folder(call)
    if began_with is None:
        return without_revision()
    under = open_folder(folder)
    new = files_of(under, changed.parts)
    faults = [] if unfinished else faults_in(Overlay(under, new))
    revision = bare(began_with)
    if faults:
        raise InputErrors(fault for fault, _ in faults)
    write(folder, new, began_with=revision, words=changed.words or "changed")
    return _read(calls, call, response)


@router.post(
    "/calls/{call}/files/check",
    response_model=SaidOfParts,
    summary="What would be said of the call with these parts; nothing is written",
    responses={404: {"model": Faults}},
)
def check(request: Request, call: CallName, changed: CallParts) -> Any:
    from leadsman.files.call_parts import files_of
    from leadsman.files.folder import open_folder
    from leadsman.files.overlay import Overlay

    calls = calls_of(request)
    under = open_folder(calls.folder(call))
    return said_of(calls, Overlay(under, files_of(under, changed.parts)))


@router.post(
    "/calls/{call}/files/restore",
    response_model=CallFiles,
    summary="Go back to a version kept; the one in force is kept too",
    responses=WRITING,
)
def restore(
    request: Request, response: Response, call: CallName, wanted: WantedVersion, began_with: IfMatch = None
) -> Any:
    from leadsman.files.revisions import restore

    calls = calls_of(request)
    folder = calls.folder(call)
    if began_with is None:
        return without_revision()
    restore(folder, wanted.revision, began_with=bare(began_with))
    return _read(calls, call, response)


def said_of(calls: Calls, tried: Any) -> dict[str, Any]:
    """What would be said of a call's folder as it would be: every fault with its place, or the verdict."""
    from leadsman.files.call_parts import faults_in

    faults = faults_in(tried)
    return {"faults": [_placed(calls, *one) for one in faults]} | (_verdict(tried) if not faults else _silence())


def _read(calls: Calls, name: str, response: Response) -> dict[str, Any]:
    from leadsman.files.call_parts import faults_in, parts_of
    from leadsman.files.folder import open_folder
    from leadsman.files.revisions import UNDERLAY, earlier, revision

    folder = calls.folder(name)
    current = revision(folder)
    opened = open_folder(folder)
    response.headers["ETag"] = f'"{current}"'
    return {
        "revision": current,
        "parts": parts_of(opened),
        "faults": [_placed(calls, *one) for one in faults_in(opened)],
        "earlier": [vars(one) for one in earlier(folder)],
        "underlay": opened.exists(UNDERLAY),
    }


def _placed(calls: Calls, fault: Any, place: list[str | int]) -> dict[str, Any]:
    from leadsman.web.replies import relative

    shown = relative(fault, calls.root)
    return {"file": shown.file, "line": shown.line, "field": shown.field, "problem": shown.problem, "place": place}


def _verdict(folder: Any) -> dict[str, str]:
    from leadsman.assessment.assess import assess
    from leadsman.assessment.prepare import prepare
    from leadsman.documents.data import assessment_data
    from leadsman.errors import LeadsmanError
    from leadsman.files.call_files import call_in

    call = call_in(folder)
    try:
        answer = assessment_data(assess(call, prepare(call)))
    except LeadsmanError as error:
        return {"word": "no answer", "sentence": str(error), "grade": "stop"}
    verdict = answer["verdict"]
    grades = {finding["grade"] for finding in answer["findings"]}
    grade = "stop" if not verdict["go"] else "caution" if "caution" in grades else "go"
    return {"word": verdict["word"], "sentence": verdict["sentence"], "grade": grade}


def _silence() -> dict[str, str]:
    return {"word": "", "sentence": "", "grade": ""}


def bare(tag: str) -> str:
    return tag.removeprefix("W/").strip('"')


def without_revision() -> Response:
    return refusal(428, "the revision these changes began with is missing; expected it in If-Match", "If-Match")
