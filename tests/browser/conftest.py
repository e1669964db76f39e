"""The page in headless Chromium, served by the command a user types; nothing may be asked of any other machine."""

import json
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

ROOT = Path(__file__).parents[2]
EXAMPLE = "1-river-coaster"
BROKEN = "broken"
DESK = {"width": 1280, "height": 800}
TABLET = {"width": 800, "height": 1100}

expect.set_options(timeout=20_000)  # ms; on a machine that does other work too an assessment takes seconds

SHEET = ".sheet[aria-busy=false]"
"""There once an answer is on the page and nothing is on its way."""


@pytest.fixture(scope="session")
def calls_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What is served."""
    return tmp_path_factory.mktemp("calls")


@pytest.fixture
def own_call(calls_folder: Path, request: pytest.FixtureRequest) -> Iterator[Path]:
    """A copy of the first example that a test may change, in the folder served."""
    folder = calls_folder / re.sub(r"\W+", "-", request.node.name)[:60]
    shutil.copytree(ROOT / "examples" / EXAMPLE, folder)
    yield folder
    shutil.rmtree(folder)


@pytest.fixture(scope="session")
def address(calls_folder: Path) -> Iterator[str]:
    """A server with the first example, and a copy of it with two faults."""
    if not (ROOT / "src/leadsman/web/static/index.html").is_file():
        pytest.fail("the page is not built; run: make page")
    folder = calls_folder
    for name in (EXAMPLE, BROKEN):
        shutil.copytree(ROOT / "examples" / EXAMPLE, folder / name)
    ship = folder / BROKEN / "ship.toml"
    ship.write_text(ship.read_text().replace("draught_aft_m = 6.35", "draught_aft_m = 39.0"))
    server = Server(folder)
    server.start()
    yield server.address
    server.stop()


class Server:
    """The command a user types, over one folder; killed and started again it answers under the same address."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        words = ["serve", str(self.folder), "--port", str(self.port)]
        command = [sys.executable, "-c", "from leadsman.cli import main; main()", *words]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=_environment())
        _wait_for(f"{self.address}/api/v1/calls", self._process)

    def stop(self) -> None:
        self._end(subprocess.Popen.terminate)

    def kill(self) -> None:
        """End it without a chance to put anything in order."""
        self._end(subprocess.Popen.kill)

    def _end(self, how: "Callable[[subprocess.Popen[bytes]], None]") -> None:
        if self._process is not None:
            how(self._process)
            self._process.wait(timeout=30)
            self._process = None


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server of an empty folder, that a test may kill."""
    if not (ROOT / "src/leadsman/web/static/index.html").is_file():
        pytest.fail("the page is not built; run: make page")
    folder = tmp_path / "empty"
    folder.mkdir()
    server = Server(folder)
    server.start()
    yield server
    server.stop()


def _environment() -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(ROOT / "src")}


def _wait_for(url: str, server: "subprocess.Popen[bytes]") -> None:
    for _ in range(3600):  # a cold start on a machine that does other work too takes longer than one would think
        assert server.poll() is None, "the server ended before it answered"
        try:
            with urllib.request.urlopen(url):
                return
        except OSError:
            time.sleep(0.05)
    pytest.fail("the server did not answer within three minutes")


@pytest.fixture
def opened(address: str, chromium: Browser) -> Iterator[Callable[..., Page]]:
    """Opens the page; at the end no request went elsewhere and the console stayed silent."""
    contexts, elsewhere, complaints = [], [], []

    def watch(page: Page) -> None:
        def asked(request: Any) -> None:
            if not request.url.startswith((f"{address}/", "data:", "blob:")):
                elsewhere.append(request.url)

        def said(message: ConsoleMessage) -> None:
            expected = "Failed to load resource" in message.text and "/api/" in message.location["url"]
            if message.type in ("error", "warning") and not expected:
                complaints.append(message.text)

        page.on("request", asked)
        page.on("console", said)
        page.on("pageerror", lambda error: complaints.append(str(error)))

    def open_page(
        query: str = f"?call={EXAMPLE}", viewport: Any = DESK, wait: str = SHEET, init_script: str = "", **more: Any
    ) -> Page:
        context = chromium.new_context(viewport=viewport, **more)
        contexts.append(context)
        if init_script:
            context.add_init_script(init_script)
        page = context.new_page()
        watch(page)
        page.goto(f"{address}/{query}")
        page.wait_for_selector(wait)
        page.evaluate("document.fonts.ready")
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert elsewhere == []
    assert complaints == []


@pytest.fixture
def answer(address: str) -> Callable[[str], Any]:
    """What the API says for a start."""
    import json

    def ask(start: str = "") -> Any:
        query = f"?start={start}" if start else ""
        with urllib.request.urlopen(f"{address}/api/v1/calls/{EXAMPLE}/assessment{query}") as reply:
            return json.load(reply)

    return ask


COLUMNS = ["time", "north", "east", "heading", "surge", "keel", "room_port", "room_starboard", "wheel", "along"]


def run(account: Any, ended: str, number: int) -> dict[str, Any]:
    """A run straight down the track of an assessment, at the assessment's own times; synthetic."""
    rows = [
        [elapsed, x, y, course, 3.0, 2.5 if i else 1.25, 60.0, 40.0, 0.0, distance]
        for i, (elapsed, x, y, course, distance) in enumerate(
            zip(*(account[name] for name in ("elapsed", "x", "y", "course", "distance")), strict=True)
        )
    ]
    orders = [
        {"time": 60.5, "distance": 200.0, "kind": "engine", "means": ["engine"], "words": "Slow ahead"},
        {"time": 600.0, "distance": 2000.0, "kind": "wheel", "means": ["wheel"], "words": "Starboard ten"},
    ]
    return {
        "number": number,
        "ended": ended,
        "success": ended == "alongside",
        "why": "Landed at 0.05 m/s." if ended == "alongside" else "Out of the fairway in Mill Reach.",
        "advice": [],
        "time": rows[-1][0],
        "least": [],
        "rudder": 0.4,
        "rate_of_turn": 0.01,
        "thruster": 0.5,
        "tugs": 0.0,
        "machinery": {
            "ahead": 0.8,
            "astern": 0.75,
            "astern_longest": 245.0,
            "astern_until": 900.0,
            "astern_in_all": 400.0,
            "thruster": "bow thruster",
            "thruster_longest": 600.0,
            "thruster_until": 1100.0,
            "thruster_in_all": 900.0,
            "air": {
                "at_first": 3,
                "made": 5,
                "left": 0,
                "left_at": 300.0,
                "refused": 1,
                "waited": 64.0,
                "first_refused": {"order": "Half astern", "time": 600.0, "distance": 2000.0, "place": "Mill Reach"},
            },
        },
        "landing": None,
        "orders": orders,
        "wheel_orders": 1,
        "engine_orders": 1,
        "wheel_overs": [],
        "columns": COLUMNS,
        "track": rows,
    }


@pytest.fixture
def sailed(own_call: Path, address: str) -> str:
    """The name of a call whose rehearsal has been answered."""
    with urllib.request.urlopen(f"{address}/api/v1/calls/{own_call.name}/assessment") as reply:
        assessment = json.load(reply)
    account = assessment["account"]
    width = [[20.0, 25.0] for _ in account["distance"]]
    answer = {
        "schema": "leadsman.rehearsal/1",
        "caution": assessment["caution"],
        "call": assessment["call"]["name"],
        "ship": assessment["call"]["ship"],
        "berth": assessment["call"]["berth"],
        "start": assessment["call"]["start"]["value"],
        "fingerprint": assessment["fingerprint"],
        "estimated": ["The ship moves by a model estimated from her card."],
        "findings": [
            {
                "grade": "stop",
                "subject": "machinery",
                "sentence": "An order to the engine finds no air to start on once in the rehearsed run.",
                "value": 1.0,
                "limit": 0.0,
                "time": None,
                "source": "",
            }
        ],
        "planned": run(account, "alongside", 0),
        "ensemble": {
            "runs": 1000,
            "seed": 1,
            "spread": {},
            "successes": 910,
            "rate": 0.91,
            "low": 0.89,
            "high": 0.926,
            "reasons": {"alongside": 910, "out of the fairway": 90},
            "tight": [
                {"quantity": "room port", "place": "Mill Reach", "distance": 9600.0, "usual": 22.0, "one_in_twenty": -0.4}
            ],
            "matters": [{"name": "wind", "success": -0.4, "room": -0.2, "landing": 0.1}],
            "envelope": {"distance": account["distance"], "50": width, "95": width, "99": width},
            "slow_work": {share: [[[0.0, 0.0], [0.0, 50.0], [50.0, 0.0], [0.0, 0.0]]] for share in ("50", "95", "99")},
            "landing_speed": {},
            "duration": {},
            "without_air": 12,
            "starts_left": 0,
            "worst": run(account, "out of the fairway", 47),
        },
    }
    place = own_call / ".work" / "rehearsal"
    place.mkdir(parents=True)
    asked = {"kind": "rehearsal", "options": {"runs": 1000, "seed": 1}, "plan": assessment["fingerprint"], "begun": ""}
    (place / "asked.json").write_text(json.dumps(asked))
    (place / "answer.json").write_text(json.dumps(answer))
    return own_call.name
