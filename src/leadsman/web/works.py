"""The API of long work: begun, looked at, stopped; its answer fetched when there is one."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Request, Response
from fastapi import Path as InPath
from pydantic import ValidationError

from leadsman.errors import Impossible
from leadsman.format import settled
from leadsman.web import work
from leadsman.web.calls import CallName, Calls, NoSuchCall, calls_of
from leadsman.web.replies import Faults
from leadsman.web.schema.work import WorkStanding
from leadsman.web.worker import KINDS

router = APIRouter(
    prefix="/api/v1",
    tags=["long work"],
    responses={403: {"model": Faults}, 404: {"model": Faults}, 422: {"model": Faults}},
)

Kind = Annotated[
    Literal["trials", "rehearsal", "limits", "stream-limits", "failures"], InPath(description="which work")
]
PATH = "/calls/{call}/long-work/{kind}"


@router.get(PATH, response_model=WorkStanding, summary="How a piece of long work stands")
def standing(request: Request, call: CallName, kind: Kind) -> Any:
    return _standing(calls_of(request), call, kind)


@router.post(PATH, response_model=WorkStanding, summary="Begin it; an earlier answer of the kind is cleared away")
def begin(
    request: Request,
    call: CallName,
    kind: Kind,
    options: Annotated[dict[str, Any], Body(description="what this kind of work takes")],
) -> Any:
    calls = calls_of(request)
    try:
        taken = KINDS[kind].options.model_validate(options).model_dump(mode="json")
    except ValidationError as error:
        raise Impossible(
            (".".join(str(part) for part in one["loc"]), str(one["msg"])) for one in error.errors()
        ) from None
    work.begin(calls.root, calls.folder(call), kind, taken, _plan(calls, call))
    return _standing(calls, call, kind)


@router.delete(PATH, response_model=WorkStanding, summary="Stop it")
def stop(request: Request, call: CallName, kind: Kind) -> Any:
    calls = calls_of(request)
    work.stop(calls.folder(call), kind)
    return _standing(calls, call, kind)


@router.get(
    PATH + "/answer",
    summary="What came of it",
    response_class=Response,
    responses={200: {"content": {"application/json": {}}}},
)
def answer(request: Request, call: CallName, kind: Kind) -> Response:
    found = work.answer(calls_of(request).folder(call), kind)
    if found is None:
        raise NoSuchCall(f"there is no answer of {kind} for '{call}' yet")
    return Response(settled(found.decode()), media_type="application/json")


def _standing(calls: Calls, call: str, kind: str) -> dict[str, Any]:
    found = work.standing(calls.folder(call), kind)
    return {
        "kind": kind,
        "state": found.state,
        "share": found.share,
        "words": settled(found.words),
        "options": found.options,
        "begun": found.begun,
        "earlier_plan": found.state != "none" and found.plan != _plan(calls, call),
    }


def _plan(calls: Calls, call: str) -> str:
    from leadsman.assessment.assess import fingerprint

    return fingerprint(calls.read(call))


assert set(KINDS) == {"trials", "rehearsal", "limits", "stream-limits", "failures"}, "as the API describes them"
