"""The API of the record: what was told, agreed and done, read and added to; nothing in it is ever changed."""

from typing import Any

from fastapi import APIRouter, Request

from leadsman.errors import Impossible
from leadsman.record import Role, State
from leadsman.web.calls import CallName, Calls, calls_of
from leadsman.web.replies import Faults
from leadsman.web.schema.record import CallRecord, NewEntry

router = APIRouter(prefix="/api/v1", tags=["record"], responses={403: {"model": Faults}, 422: {"model": Faults}})


@router.get(
    "/calls/{call}/record",
    response_model=CallRecord,
    summary="What was told, agreed, changed, refused and done",
    responses={404: {"model": Faults}},
)
def record(request: Request, call: CallName) -> Any:
    from leadsman.files.folder import open_folder
    from leadsman.files.record_file import read_record

    calls = calls_of(request)
    return _told(calls, call, read_record(open_folder(calls.folder(call))))


@router.post(
    "/calls/{call}/record",
    response_model=CallRecord,
    summary="Add one entry; the reply is the whole record with it",
    responses={404: {"model": Faults}, 409: {"model": Faults, "description": "somebody else spoke of it meanwhile"}},
)
def add(request: Request, call: CallName, said: NewEntry) -> Any:
    from leadsman.documents.checklists import item_keys
    from leadsman.files.record_file import add_entry

    calls = calls_of(request)
    folder = calls.folder(call)
    if said.item and said.item not in item_keys(calls.read(call).direction.value):
        raise Impossible([("item", f"'{said.item}' is no item of this call's exchange or tests")])
    longer = add_entry(
        folder,
        by=said.by,
        role=Role(said.role),
        item=said.item,
        state=State(said.state),
        words=said.words,
        plan=said.plan,
        seen=said.seen,
    )
    return _told(calls, call, longer)


def _told(calls: Calls, name: str, record: Any) -> dict[str, Any]:
    from leadsman.assessment.assess import fingerprint
    from leadsman.documents.record_data import record_data

    call = calls.read(name)
    return record_data(record, call.direction.value, fingerprint(call))
