"""The local server: the page, its API, and nothing else. It is meant for 127.0.0.1 and refuses other names."""

from pathlib import Path

from fastapi import Depends, FastAPI
from starlette.responses import FileResponse, HTMLResponse, Response
from starlette.staticfiles import StaticFiles

from leadsman.web import drawing, gatherings, holding, papers, records, replies, routes, sailed, texts, works
from leadsman.web.calls import Calls
from leadsman.web.manners import manner
from leadsman.web.security import BoundedBody, LocalOnly

HOST = "127.0.0.1"
"""The only address the server is ever bound to."""

API = "/api/v1"
"""Where the API lies; a change that breaks a client of it gets another version."""

STATIC = Path(__file__).parent / "static"

_NOT_BUILT = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Leadsman</title>
<h1>The page is not built</h1>
<p>The server runs and its API answers under /api/v1, but the browser page has not been built yet.
In the repository, run <code>make page</code>, then load this address again.</p></html>"""


def create_app(root: Path) -> FastAPI:
    """The server for the port calls in a folder (or for the one port call that the folder is)."""
    calls = Calls(root)
    app = FastAPI(
        title="Leadsman",
        version="1",
        summary="Assessments of port calls, for the page of this machine.",
        docs_url=None,  # the ready-made documentation pages load scripts from elsewhere
        redoc_url=None,
        openapi_url=f"{API}/openapi.json",
    )
    app.state.calls = calls
    replies.install(app, calls.root)
    app.add_middleware(replies.OwnFaults)
    app.add_middleware(BoundedBody)
    app.add_middleware(LocalOnly)
    for part in (drawing, gatherings, holding, papers, records, routes, sailed, texts, works):
        app.include_router(part.router, dependencies=[Depends(manner)])
    app.mount("/assets", StaticFiles(directory=STATIC / "assets", check_dir=False))

    @app.get("/", include_in_schema=False)
    def page() -> Response:
        index = STATIC / "index.html"
        if not index.is_file():
            return HTMLResponse(_NOT_BUILT, status_code=503)
        return FileResponse(index, headers={"Cache-Control": "no-cache"})

    return app
