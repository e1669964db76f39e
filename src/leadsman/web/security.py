"""What the local server lets in and out. It listens on 127.0.0.1, but any page open in the browser can reach for it.

- Host must be a name of this machine, so that a foreign name pointed at 127.0.0.1 gets nothing.
- Origin, where the browser sends one, must be the page itself; the API answers no request begun by another site.
- A request's body is bounded.
- The page may load from here and nowhere else: content security policy.
"""

import re

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from leadsman.web.replies import refusal

LOCAL_NAMES = frozenset({"127.0.0.1", "localhost", "[::1]"})
LARGEST_BODY = 1_000_000  # bytes
LARGER = (  # addresses that take more, in bytes
    (re.compile(r"/api/v1/calls/[^/]+/files(/check)?"), 40_000_000),  # depth areas drafted from a whole chart cell
    (re.compile(r"/api/v1/calls/[^/]+/texts(/check)?"), 5_000_000),
    (re.compile(r"/api/v1/(gatherings/[^/]+/sources|calls/[^/]+/underlay)/[^/]+"), 100_000_000),  # a cell as it came
    (re.compile(r"/api/v1/calls/[^/]+/sailed"), 50_000_000),  # the log of a passage
)

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}


class LocalOnly:
    """Refuses requests that do not come from this machine's own page, and puts the policy on every reply."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return  # no web sockets here: not accepting one refuses it

        async def with_policy(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                if scope["path"].startswith("/api/"):
                    headers["Cache-Control"] = "no-store"
            await send(message)

        why = _refused(Headers(scope=scope), scope["path"])
        if why:
            await refusal(403, why)(scope, receive, with_policy)
        else:
            await self.app(scope, receive, with_policy)


def _refused(headers: Headers, path: str) -> str:
    hosts = headers.getlist("host")
    if len(hosts) != 1 or _name(hosts[0]) not in LOCAL_NAMES:
        return "this server answers only under the names 127.0.0.1 and localhost"
    origins = headers.getlist("origin")
    if any(origin != f"http://{hosts[0]}" for origin in origins):
        return "this request comes from another site; only the page served here may ask"
    if path.startswith("/api/") and headers.get("sec-fetch-site") in ("cross-site", "same-site"):
        return "this request was begun by another site; only the page served here may ask"
    return ""


def _name(host: str) -> str:
    """The host without its port."""
    name, colon, port = host.rpartition(":")
    return name if colon and port.isdigit() else host


class BoundedBody:
    """Refuses a body larger than `largest` bytes, whether it says its size beforehand or not; some may be larger."""

    def __init__(self, app: ASGIApp, largest: int = LARGEST_BODY) -> None:
        self.app = app
        self.largest = largest

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        largest = next((most for address, most in LARGER if address.fullmatch(scope["path"])), self.largest)
        sentence = f"the request is larger than {largest / 1e6:g} MB, the most this server takes here"
        said = Headers(scope=scope).get("content-length", "0")
        if not said.isdigit() or int(said) > largest:
            await refusal(413, sentence)(scope, receive, send)
            return
        received = 0

        async def counted() -> Message:
            nonlocal received
            message = await receive()
            received += len(message.get("body", b""))
            if received > largest:
                raise HTTPException(413, sentence)
            return message

        await self.app(scope, counted, send)
