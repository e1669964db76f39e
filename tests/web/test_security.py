"""What the server refuses: foreign names, foreign pages, ways out of its folder, bodies without end."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI, Request

from leadsman.web import app as web_app
from leadsman.web.security import LARGEST_BODY, BoundedBody

LIST = "/api/v1/calls"


@pytest.mark.parametrize("host", ["127.0.0.1:8462", "127.0.0.1", "localhost:9", "[::1]:8462"])
def test_names_of_this_machine_are_answered(client: Any, host: str) -> None:
    assert client.get(LIST, {"Host": host}).status == 200


@pytest.mark.parametrize(
    "host", ["harbour.example", "127.0.0.1.harbour.example", "localhost.harbour.example:8462", "10.0.0.1", "", "0.0.0.0"]
)
@pytest.mark.parametrize("path", [LIST, "/", "/assets/look.css"])
def test_other_names_are_refused(client: Any, host: str, path: str) -> None:
    reply = client.get(path, {"Host": host})
    assert reply.status == 403
    assert reply.json()["errors"][0]["problem"].startswith("this server answers only under the names")


@pytest.mark.parametrize(
    "origin", ["http://harbour.example", "null", "http://127.0.0.1:9", "http://127.0.0.1", "https://127.0.0.1", ""]
)
def test_pages_of_other_origins_are_refused(client: Any, origin: str) -> None:
    reply = client.get(LIST, {"Origin": origin})
    assert reply.status == 403
    assert "from another site" in reply.json()["errors"][0]["problem"]


def test_the_page_itself_may_ask(client: Any) -> None:
    headers = {"Origin": client.address, "Sec-Fetch-Site": "same-origin"}
    assert client.get(LIST, headers).status == 200


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_request_begun_by_another_site_gets_nothing_from_the_api(client: Any, site: str) -> None:
    assert client.get(LIST, {"Sec-Fetch-Site": site}).status == 403


def test_the_policy_lets_the_page_load_from_here_only(client: Any) -> None:
    for path in (LIST, "/", "/nowhere"):
        headers = client.get(path).headers
        policy = dict(part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";"))
        assert policy["default-src"] == "'none'"
        assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == policy["font-src"] == "'self'"
        assert policy["frame-ancestors"] == "'none'"
        assert headers["X-Content-Type-Options"] == "nosniff"
    assert client.get(LIST).headers["Cache-Control"] == "no-store"


def test_web_sockets_are_refused(client: Any) -> None:
    upgrade = {
        "Connection": "Upgrade",
        "Upgrade": "websocket",
        "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": "AAAAAAAAAAAAAAAAAAAAAA==",
    }
    assert client.get(LIST, upgrade).status != 101


@pytest.mark.parametrize(
    "name",
    ["..", ".", "%2e%2e", "..%2f..%2fetc", "%2Fetc", "..%5C..", "1-river-coaster%2f..%2f..", "1-river-coaster%00", "~"],
)
def test_no_name_leads_out_of_the_folder(client: Any, name: str) -> None:
    reply = client.get(f"{LIST}/{name}/assessment")
    assert reply.status == 404
    assert list(reply.json()) == ["errors"]


@pytest.mark.parametrize("path", ["/assets/../index.html", "/assets/%2e%2e/app.py", "/assets/..%2f..%2fapp.py", "/app.py"])
def test_no_path_leads_out_of_the_built_page(client: Any, path: str) -> None:
    reply = client.get(path)
    assert reply.status == 404
    assert "def create_app" not in reply.text


def test_a_link_out_of_the_folder_is_no_call(serve: Any, folder: Path, tmp_path: Path) -> None:
    served = tmp_path / "served"
    served.mkdir()
    (served / "way-out").symlink_to(folder, target_is_directory=True)
    client = serve(served)
    assert client.get(LIST).json() == {"calls": [], "about": {}}
    assert client.get(f"{LIST}/way-out/assessment").status == 404


def test_a_file_that_links_out_of_its_call_is_a_fault_of_that_file(serve: Any, folder: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.toml"
    outside.write_text("secret = 1")
    (folder / "ship.toml").unlink()
    (folder / "ship.toml").symlink_to(outside)
    reply = serve(folder.parent).get(f"{LIST}/call/assessment")
    assert reply.status == 422
    assert "leads out of the port call's folder" in reply.json()["errors"][0]["problem"]
    assert "secret" not in reply.text


def test_a_body_that_says_it_is_too_large_is_refused(client: Any) -> None:
    reply = client.ask("POST", LIST, {"Content-Length": str(LARGEST_BODY + 1)})
    assert reply.status == 413
    assert "larger than 1 MB" in reply.json()["errors"][0]["problem"]


def test_a_body_that_turns_out_too_large_is_refused(serve: Any) -> None:
    app = FastAPI()
    app.add_middleware(BoundedBody, largest=1000)

    @app.post("/")
    async def size(request: Request) -> int:
        return len(await request.body())

    def pieces(count: int) -> Iterator[bytes]:
        yield from [b"x" * 100] * count

    client = serve(app)
    assert client.ask("POST", "/", body=pieces(10)).json() == 1000
    assert client.ask("POST", "/", body=pieces(11)).status == 413


@pytest.mark.parametrize("path", ["/docs", "/redoc", "/openapi.json", "/nowhere", "/api/v1/", "/api/v2/calls"])
def test_what_is_not_there_is_said_in_the_one_shape(client: Any, path: str) -> None:
    reply = client.get(path)
    assert reply.status == 404
    assert reply.json()["errors"][0].keys() == {"file", "line", "field", "problem"}


def test_a_method_that_is_not_there_is_said_in_the_one_shape(client: Any) -> None:
    reply = client.ask("DELETE", LIST)
    assert reply.status == 405
    assert "other methods" in reply.json()["errors"][0]["problem"]
    assert reply.headers["Allow"] == "GET"


def test_a_fault_of_the_program_is_a_sentence(serve: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: Any) -> None:
    client = serve(tmp_path)
    monkeypatch.setattr(client.app.state.calls, "names", lambda: 1 / 0)
    reply = client.get(LIST)
    assert reply.status == 500
    assert reply.json()["errors"][0]["problem"] == "a fault of the program itself (ZeroDivisionError); nothing was changed"
    assert reply.headers["Content-Security-Policy"]
    assert "ZeroDivisionError: division by zero (test_security.py:" in caplog.text


def test_a_page_not_yet_built_says_so(serve: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(web_app, "STATIC", tmp_path)
    reply = serve(tmp_path).get("/")
    assert reply.status == 503
    assert "make page" in reply.text
