"""The page in headless Chromium: what it weighs, how soon something is seen, how soon a moved start has its account.

Weights are gzip at its best, letters (fonts) apart: they are files of their own and stay in the browser. Wanted: all of
it under 250 kB, something seen within 1 s, another start's account within 0.2 s.
"""

import gzip
import re
import shutil
import statistics
import tempfile
from pathlib import Path

from bench_replay import served
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).parents[1]
STATIC = ROOT / "src/leadsman/web/static"
EXAMPLE = ROOT / "examples/1-river-coaster"
TIMES = 9
WANTED = {"all": 250.0, "paint": 1.0, "account": 0.2}  # kB, s, s
VIEWS = {"choice of calls": "", "sheet": f"?call={EXAMPLE.name}", "card": f"?card={EXAMPLE.name}"}
ACCOUNT = """() => new Promise((resolve) => {
  const account = document.querySelector('.account tbody')
  const begun = performance.now()
  const changed = new MutationObserver(() => {
    changed.disconnect()
    requestAnimationFrame(() => resolve((performance.now() - begun) / 1000))
  })
  changed.observe(account, { subtree: true, characterData: true, childList: true })
  const step = [...document.querySelectorAll('button')].find((button) => button.textContent === '+1')
  step.click()
})"""


def weight(path: Path) -> float:
    """Of a file as it goes over the wire. [kB]"""
    return len(gzip.compress(path.read_bytes(), 9)) / 1000.0


def opened(browser: Browser, address: str, query: str) -> tuple[Page, float, float]:
    """A view in a fresh browser; when something was first seen [s], and the weight of its scripts and styles [kB]."""
    page = browser.new_context(viewport={"width": 1280, "height": 800}).new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{address}/{query}")
    page.wait_for_selector("main h1, .sheet[aria-busy=false], .card[aria-busy=false]")
    paint = page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime / 1000")
    names = {found[1] for url in asked if (found := re.search(r"/assets/([\w.-]+\.(?:js|css))$", url))}
    return page, paint, sum(weight(STATIC / "assets" / name) for name in names)


def told(label: str, value: float, unit: str, wanted: float) -> None:
    print(f"{label:36s} {value:6.3f} {unit}{'' if value <= wanted else '   TOO MUCH'}")


def main() -> None:
    chromium = shutil.which("chromium")
    if chromium is None or not (STATIC / "index.html").is_file():
        print("needs chromium and the page built (make page)")
        return
    files = [path for path in (STATIC / "assets").iterdir() if path.suffix in (".js", ".css")]
    print(f"all scripts and styles               {sum(map(weight, files)):6.1f} kB gzip, {WANTED['all']:.0f} wanted")
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        shutil.copytree(EXAMPLE, Path(place) / EXAMPLE.name)
        shutil.copytree(EXAMPLE, Path(place) / "another")
        server, address = served(Path(place))
        try:
            browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
            for name, query in VIEWS.items():
                page, _, kilobytes = opened(browser, address, query)
                paints = [opened(browser, address, query)[1] for _ in range(TIMES)]
                told(f"{name}, first seen ({kilobytes:.0f} kB gzip)", statistics.median(paints), "s", WANTED["paint"])
                if name == "sheet":
                    moved = []
                    for _ in range(TIMES):
                        moved.append(page.evaluate(ACCOUNT))
                        page.wait_for_selector(".sheet[aria-busy=false]")
                    told("sheet, another start to its account", statistics.median(moved), "s", WANTED["account"])
            browser.close()
        finally:
            server.terminate()
            server.wait(timeout=30)


if __name__ == "__main__":
    main()
