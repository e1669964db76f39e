"""The replay of a rehearsal in headless Chromium with the envelope of a thousand runs shown: frames over seconds.

The rehearsal is sailed first, which takes minutes. A frame is one animation callback of the page while it plays; the
browser gives at most 60 a second. Wanted: 25 or more.
"""

import json
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from leadsman.assessment.assess import fingerprint
from leadsman.files.call_files import read_call
from leadsman.web.worker import KINDS

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "examples/1-river-coaster"
RUNS = 1000
SECONDS = 10.0
WANTED = 25.0  # frames a second
COUNT = """(seconds) => new Promise((resolve) => {
  const begun = performance.now()
  let [frames, before, longest] = [0, begun, 0]
  const frame = (now) => {
    frames += 1
    longest = Math.max(longest, now - before)
    before = now
    if (now - begun < 1000 * seconds) requestAnimationFrame(frame)
    else resolve([frames / ((now - begun) / 1000), longest])
  }
  requestAnimationFrame(frame)
})"""


def sailed(root: Path) -> None:
    """The first example in a folder of its own, with the answer of its rehearsal beside it."""
    call = root / EXAMPLE.name
    shutil.copytree(EXAMPLE, call)
    kind = KINDS["rehearsal"]
    options = kind.options.model_validate({"runs": RUNS}).model_dump(mode="json")
    answer = kind.do(call, options, lambda share, words: None)
    place = call / ".work" / "rehearsal"
    place.mkdir(parents=True)
    asked = {"kind": "rehearsal", "options": options, "plan": fingerprint(read_call(call)), "begun": ""}
    (place / "asked.json").write_text(json.dumps(asked))
    (place / "answer.json").write_text(json.dumps(answer))


def served(root: Path) -> "tuple[subprocess.Popen[bytes], str]":
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = ["serve", str(root), "--port", str(port)]
    command = [sys.executable, "-c", "from leadsman.cli import main; main()", *words]
    server = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    for _ in range(600):
        try:
            urllib.request.urlopen(f"{address}/api/v1/calls").close()
            break
        except OSError:
            time.sleep(0.05)
    return server, address


def played(page: Page, view: str) -> None:
    """Frames a second while it plays at twenty times, in one view of the plan."""
    page.get_by_role("button", name=view, exact=True).click()
    page.get_by_label("Moment", exact=True).fill("0")
    page.get_by_role("button", name="Play").click()
    rate, longest = page.evaluate(COUNT, SECONDS)
    page.get_by_role("button", name="Pause").click()
    word = "" if rate >= WANTED else "   TOO FEW"
    print(f"{view:26s} {rate:6.1f} frames/s, longest between two {longest:.0f} ms{word}")


def main() -> None:
    chromium = shutil.which("chromium")
    if chromium is None or not (ROOT / "src/leadsman/web/static/index.html").is_file():
        print("needs chromium and the page built (make page)")
        return
    with tempfile.TemporaryDirectory() as place:
        sailed(Path(place))
        server, address = served(Path(place))
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
                page = browser.new_page(viewport={"width": 1280, "height": 800})
                page.goto(f"{address}/?rehearsal={EXAMPLE.name}")
                page.get_by_text(f"{RUNS} drawn runs").wait_for(timeout=120_000)
                for view in ("Whole way", "At the ship"):
                    played(page, view)
                browser.close()
        finally:
            server.terminate()
            server.wait(timeout=30)


if __name__ == "__main__":
    main()
