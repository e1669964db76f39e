"""The real server on a port of this machine, asked as a browser would ask it."""

import http.client
import json
import shutil
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from fastapi import FastAPI

from leadsman.web import work
from leadsman.web.app import HOST, create_app

EXAMPLES = Path(__file__).parents[2] / "examples"


@dataclass(frozen=True)
class Reply:
    """What came back."""

    status: int
    headers: http.client.HTTPMessage
    body: bytes

    def json(self) -> Any:
        return json.loads(self.body)

    @property
    def text(self) -> str:
        return self.body.decode()

    @property
    def problems(self) -> list[str]:
        return [fault["problem"] for fault in self.json()["errors"]]


@dataclass(frozen=True)
class Asked:
    """A running server; paths go out exactly as written, for no client may tidy them."""

    app: FastAPI
    port: int

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.port}"

    def get(self, path: str, headers: dict[str, str] | None = None) -> Reply:
        return self.ask("GET", path, headers)

    def ask(self, method: str, path: str, headers: dict[str, str] | None = None, body: Any = None) -> Reply:
        connection = http.client.HTTPConnection(HOST, self.port, timeout=60)
        try:
            given = headers or {}
            connection.putrequest(method, path, skip_host="Host" in given, skip_accept_encoding=True)
            for name, value in given.items():
                connection.putheader(name, value)
            if body is not None and "Content-Length" not in given:
                connection.putheader("Transfer-Encoding", "chunked")
            connection.endheaders(body, encode_chunked=body is not None and "Content-Length" not in given)
            reply = connection.getresponse()
            return Reply(reply.status, reply.headers, reply.read())
        finally:
            connection.close()


@contextmanager
def running(app: FastAPI) -> Iterator[Asked]:
    """The app on a free port, until the block ends."""
    server = uvicorn.Server(uvicorn.Config(app, host=HOST, port=0, log_level="critical"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive(), "the server did not start"
        time.sleep(0.01)
    try:
        yield Asked(app, server.servers[0].sockets[0].getsockname()[1])
    finally:
        server.should_exit = True
        thread.join()


@pytest.fixture(scope="session")
def client() -> Iterator[Asked]:
    """A server for the examples."""
    with running(create_app(EXAMPLES)) as found:
        yield found


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Asked]:
    """A server for a copy of the first example, so that what is written lands there."""
    root = tmp_path_factory.mktemp("calls")
    shutil.copytree(EXAMPLES / "1-river-coaster", root / "1-river-coaster")
    with pytest.MonkeyPatch.context() as patched, running(create_app(root)) as found:
        patched.setattr(work, "WORKER", (sys.executable, "-c", ""))  # whatever is begun here does nothing and ends
        yield found


@pytest.fixture
def serve() -> Iterator[Callable[[Path | FastAPI], Asked]]:
    """Servers for other folders, or other apps."""
    with ExitStack() as stack:

        def started(what: Path | FastAPI) -> Asked:
            return stack.enter_context(running(what if isinstance(what, FastAPI) else create_app(what)))

        yield started
