"""The API of a new call: files of others put together, recognised, asked about, made into a call."""

from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Body, Request, Response
from fastapi import Path as InPath
from starlette.concurrency import run_in_threadpool

from leadsman.web.calls import CallName, NoSuchCall, calls_of
from leadsman.web.replies import Faults, relative
from leadsman.web.schema.gathering import CallMade, CallToMake, Gathering, GivenAnswers

router = APIRouter(prefix="/api/v1", tags=["new calls"], responses={403: {"model": Faults}, 422: {"model": Faults}})

Key = Annotated[str, InPath(description="the key of the gathering", max_length=16)]
Name = Annotated[str, InPath(description="the name of the file", max_length=120)]
RAW = {"requestBody": {"required": True, "content": {"application/octet-stream": {"schema": {"type": "string"}}}}}
ABSENT: dict[int | str, dict[str, Any]] = {404: {"model": Faults}}


@router.post("/gatherings", response_model=Gathering, summary="Begin a new call")
def begin(request: Request) -> Any:
    from leadsman.files.gathering import begin

    return _told(request, begin(calls_of(request).root))


@router.get("/gatherings/{key}", response_model=Gathering, summary="What there is, what is missing", responses=ABSENT)
def look(request: Request, key: Key) -> Any:
    return _told(request, key)


@router.put(
    "/gatherings/{key}/sources/{name}",
    response_model=Gathering,
    summary="Add a file as it came; its body is the file",
    responses=ABSENT | {413: {"model": Faults}},
    openapi_extra=RAW,
)
async def put(request: Request, key: Key, name: Name) -> Any:
    from leadsman.files.gathering import put

    folder = _folder(request, key)
    content = await request.body()
    await run_in_threadpool(put, folder, name, content)
    return await run_in_threadpool(_told, request, key)


@router.put(
    "/gatherings/{key}/card",
    response_model=Gathering,
    summary="Add the ship card as typed, in the shape of ship.toml, in place of any other",
    responses=ABSENT,
)
def put_card(
    request: Request, key: Key, card: Annotated[dict[str, Any], Body(description="the tables and keys of ship.toml")]
) -> Any:
    from leadsman.files.gathering import put_card

    put_card(_folder(request, key), card)
    return _told(request, key)


@router.delete(
    "/gatherings/{key}/sources/{name}", response_model=Gathering, summary="Take a file out again", responses=ABSENT
)
def take_out(request: Request, key: Key, name: Name) -> Any:
    from leadsman.files.gathering import take_out

    take_out(_folder(request, key), name)
    return _told(request, key)


@router.put("/gatherings/{key}/answers", response_model=Gathering, summary="Answer questions", responses=ABSENT)
def answer(request: Request, key: Key, said: GivenAnswers) -> Any:
    from leadsman.files.gathering import answer

    answer(_folder(request, key), said.answers)
    return _told(request, key)


@router.post("/gatherings/{key}/call", response_model=CallMade, summary="Make the call", responses=ABSENT)
def make(request: Request, key: Key, wanted: CallToMake) -> Any:
    from leadsman.files.gathering import make

    make(calls_of(request).root, _folder(request, key), wanted.name)
    return {"call": wanted.name}


@router.get(
    "/calls/{call}/underlay",
    summary="The chart to draw upon, as GeoJSON",
    response_class=Response,
    responses={200: {"content": {"application/geo+json": {}}}, 404: {"model": Faults}},
)
def underlay(request: Request, call: CallName) -> Response:
    from leadsman.files.folder import open_folder
    from leadsman.files.revisions import UNDERLAY

    folder = open_folder(calls_of(request).folder(call))
    if not folder.exists(UNDERLAY):
        raise NoSuchCall(f"'{call}' has no chart to draw upon")
    return Response(folder.read(UNDERLAY), media_type="application/geo+json")


@router.put(
    "/calls/{call}/underlay/{name}",
    summary="Lay a chart under the drawing: the body is an S-57 cell; nothing of the call changes",
    status_code=204,
    responses={404: {"model": Faults}, 413: {"model": Faults}},
    openapi_extra=RAW,
)
async def lay_under(request: Request, call: CallName, name: Name) -> Response:
    folder = calls_of(request).folder(call)
    content = await request.body()
    await run_in_threadpool(_lay, folder, name, content)
    return Response(status_code=204)


def _lay(folder: Path, name: str, content: bytes) -> None:
    import tempfile

    from leadsman.files.formats import s57
    from leadsman.files.revisions import UNDERLAY, put_whole
    from leadsman.files.underlay import underlay

    with tempfile.TemporaryDirectory(prefix="leadsman-") as place:
        cell = Path(place) / "CHART.000"
        cell.write_bytes(content)
        put_whole(folder / UNDERLAY, underlay(s57.read(cell)))


def _folder(request: Request, key: str) -> Path:
    from leadsman.files.gathering import folder_of

    folder = folder_of(calls_of(request).root, key)
    if folder is None:
        raise NoSuchCall("there is no such gathering any more; begin a new call")
    return folder


def _told(request: Request, key: str) -> dict[str, Any]:
    from leadsman.files.gathering import look

    root = calls_of(request).root
    gathered = look(_folder(request, key))
    return {
        "gathering": key,
        "sources": [vars(source) for source in gathered.sources],
        "missing": list(gathered.missing),
        "questions": list(gathered.questions),
        "answers": gathered.answers,
        "faults": [vars(relative(fault, root)) for fault in gathered.faults],
        "findings": [{"grade": one.grade.value, "sentence": one.sentence} for one in gathered.findings],
        "ready": bool(gathered.files),
    }
