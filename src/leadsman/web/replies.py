"""What the server says when it cannot answer: one shape for every fault, the same as that of the files' own errors.

{"errors": [{"file": "...", "line": 14, "field": "draught_aft_m", "problem": "what is wrong; what was expected"}]}
"""

import logging
import traceback
from collections.abc import Iterable
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from leadsman.errors import Impossible, InputError, InputErrors, LeadsmanError
from leadsman.files.record_file import Overtaken
from leadsman.files.revisions import Overtaken as FilesOvertaken
from leadsman.web.calls import NoSuchCall

LOG = logging.getLogger("leadsman.web")


class Fault(BaseModel):
    """One fault."""

    model_config = ConfigDict(extra="forbid")

    file: str = Field(description="the file it stands in, relative to the folder served; empty if none")
    line: int | None = Field(description="its line there, if it has one")
    field: str = Field(description="the field or parameter; empty if none")
    problem: str = Field(description="what is wrong; what was expected")


class Faults(BaseModel):
    """Every reply that is no answer."""

    model_config = ConfigDict(extra="forbid")

    errors: list[Fault]


_SENTENCES = {
    404: "there is nothing at this address; the page itself is at /",
    405: "this address only answers other methods",
}


def refusal(status: int, problem: str, field: str = "") -> JSONResponse:
    """A reply with one fault that belongs to no file."""
    return _reply(status, [InputError("", None, field, problem)])


def install(app: FastAPI, root: Path) -> None:
    """Let every failure answer in the one shape."""

    @app.exception_handler(LeadsmanError)
    async def told(request: Request, error: LeadsmanError) -> Response:
        if isinstance(error, InputErrors):
            return _reply(422, (relative(fault, root) for fault in error.errors))
        if isinstance(error, Impossible):
            return _reply(422, (InputError("", None, field, problem) for field, problem in error.problems))
        return refusal(404 if isinstance(error, NoSuchCall) else 422, str(error))

    @app.exception_handler(Overtaken)
    @app.exception_handler(FilesOvertaken)
    async def overtaken(request: Request, error: Overtaken | FilesOvertaken) -> Response:
        return _reply(409, (InputError("", None, field, problem) for field, problem in error.problems))

    @app.exception_handler(RequestValidationError)
    async def asked_wrongly(request: Request, error: RequestValidationError) -> Response:
        return _reply(422, (InputError("", None, str(one["loc"][-1]), str(one["msg"])) for one in error.errors()))

    @app.exception_handler(HTTPException)
    async def not_here(request: Request, error: HTTPException) -> Response:
        reply = refusal(error.status_code, _SENTENCES.get(error.status_code, str(error.detail)))
        reply.headers.update(error.headers or {})
        return reply


class OwnFaults:
    """Tells a fault of the program in a sentence, and where it arose in one line of the server's log."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        replied = False

        async def noted(message: Message) -> None:
            nonlocal replied
            replied = True
            await send(message)

        try:
            await self.app(scope, receive, noted)
        except Exception as error:
            place = traceback.extract_tb(error.__traceback__)[-1]
            kind = type(error).__name__
            LOG.error("fault of the program: %s: %s (%s:%s)", kind, error, Path(place.filename).name, place.lineno)
            if replied or scope["type"] != "http":
                raise
            await refusal(500, f"a fault of the program itself ({kind}); nothing was changed")(scope, receive, send)


def relative(fault: InputError, root: Path) -> InputError:
    """The same fault with its file named from the folder served, so that no path of this machine is told."""
    file = Path(fault.file)
    shown = file.relative_to(root).as_posix() if file.is_relative_to(root) else file.name
    return InputError(shown, fault.line, fault.field, fault.problem)


def _reply(status: int, faults: Iterable[InputError]) -> JSONResponse:
    listed = [Fault(file=one.file, line=one.line, field=one.field, problem=one.problem) for one in faults]
    return JSONResponse(Faults(errors=listed).model_dump(), status_code=status)
