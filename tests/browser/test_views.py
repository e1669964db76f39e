"""Every view of the page in every look, by desk and by tablet: readable, pressable, dark by night, nothing cut off."""

import io
import shutil
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
EXAMPLE = "1-river-coaster"
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
LOOKS = ("day", "dim", "night")

BRIGHTEST_BY_NIGHT = 0.20  # relative luminance, white is 1; our own limit, docs/page.md
SMALLEST_LETTERS = 12.0  # px on the screen; our own limit, docs/page.md
SMALLEST_TARGET = 44  # px; WCAG 2.2, success criterion 2.5.5, level AAA, words in a running sentence excepted

VIEWS = {
    "choice of calls": ("?", "main li"),
    "sheet": (f"?call={EXAMPLE}", ".sheet[aria-busy=false]"),
    "sheet, no go, origin open": (f"?call={EXAMPLE}&start=2031-05-06T13:20Z&origin=line:squat", "#origin:not([hidden])"),
    "faults": ("?call=broken", "main [role=alert]"),
    "card": (f"?card={EXAMPLE}", ".card[aria-busy=false]"),
    "empty card": ("?card=", ".card[aria-busy=false]"),
    "cards side by side": (f"?card={EXAMPLE}&beside=", ".card[aria-busy=false] table"),
    "board": (f"?draw={EXAMPLE}", ".board[aria-busy=false]"),
    "board, a gate chosen": (f"?draw={EXAMPLE}&thing=gate:0", ".board[aria-busy=false]"),
    "board, the call chosen": (f"?draw={EXAMPLE}&thing=call", ".board[aria-busy=false]"),
    "texts": (f"?text={EXAMPLE}", ".texts[aria-busy=false]"),
    "rehearsal, not sailed": (f"?rehearsal={EXAMPLE}", "#failures-title"),
    "rehearsal": ("?rehearsal={sailed}", "#orders-title"),
    "exchange": (f"?exchange={EXAMPLE}", "#entries-title"),
    "as sailed": (f"?sailed={EXAMPLE}", "main[aria-busy=false]"),
    "new call": ("?new=", ".drop"),
}

TABBED = """() => {
  const wanted = 'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea, summary, [tabindex="0"]'
  const found = [...document.querySelectorAll(wanted)]
    .filter((e) => e.tabIndex >= 0 && e.checkVisibility({ visibilityProperty: true }) && !e.closest('details:not([open]) > :not(summary)'))
  found.forEach((e, i) => (e.dataset.tabbed = String(i)))
  return found.length
}"""
"""Numbers everything the Tab key must come to, in the order of the page."""

FOCUSED = """() => {
  const e = document.activeElement
  const shown = e.matches('input[type=file]') ? e.previousElementSibling : e
  const style = getComputedStyle(shown)
  return [e.dataset.tabbed ?? null, style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2, e.outerHTML.slice(0, 90)]
}"""
"""The number of what has the focus, and whether one sees that it has."""

HEADINGS = """() => [...document.querySelectorAll('main h2')]
  .filter((e) => e.getClientRects().length)
  .map((e) => { const box = e.getBoundingClientRect(); return [e.textContent.trim().slice(0, 40), box.top, box.left] })"""

SMALL_LETTERS = """(least) => [...document.querySelectorAll('body *')]
  .filter((e) => e.getClientRects().length && !e.closest('.unseen, .drop input'))
  .filter((e) => [...e.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
  .map((e) => {
    const matrix = e instanceof SVGElement ? e.getScreenCTM() : null
    return [parseFloat(getComputedStyle(e).fontSize) * (matrix ? Math.hypot(matrix.a, matrix.b) : 1), e.textContent.trim().slice(0, 40)]
  })
  .filter(([size]) => size < least - 0.01)"""
"""Letters smaller than so many pixels as they come to the screen."""

SMALL_TARGETS = """(least) => {
  const found = []
  const running = (e) => e.matches('a, .word') && /[a-z]/i.test([...(e.closest('p, li, dd') ?? e).childNodes].filter((n) => n.nodeType === 3).map((n) => n.data).join(''))
  for (const e of document.querySelectorAll('button, a[href], summary, select, textarea, input:not([type=file])')) {
    if (!e.getClientRects().length || e.closest('.unseen, details:not([open]) > :not(summary)') || running(e)) continue
    const target = e.matches('[type=checkbox], [type=radio]') ? e.closest('label') ?? e : e
    const box = target.getBoundingClientRect()
    const grown = getComputedStyle(target, '::after')
    const has = grown.content !== 'none' && grown.position === 'absolute'
    const width = has ? Math.max(parseFloat(grown.width), box.width) : box.width
    const height = has ? Math.max(parseFloat(grown.height), box.height) : box.height
    if (width < least - 0.5 || height < least - 0.5) found.push([`${width.toFixed(0)} x ${height.toFixed(0)}`, e.outerHTML.slice(0, 110)])
  }
  return found
}"""
"""What is pressed by finger and smaller than so many pixels, with what is grown around it."""


def brightest(page: Page) -> float:
    """WCAG 2.2, "relative luminance", of the brightest pixel."""
    page.wait_for_timeout(300)  # the drawings are drawn in the frame after the look has changed
    seen = np.asarray(Image.open(io.BytesIO(page.screenshot(full_page=True))).convert("RGB"), dtype=np.float64) / 255.0
    linear = np.where(seen <= 0.04045, seen / 12.92, ((seen + 0.055) / 1.055) ** 2.4)
    return float(np.max(linear @ np.array([0.2126, 0.7152, 0.0722])))


@pytest.fixture
def view(opened: Callable[..., Page], request: pytest.FixtureRequest) -> Callable[..., Page]:
    def open_view(name: str, look: str = "day", **more: Any) -> Page:
        query, wait = VIEWS[name]
        if "{sailed}" in query:
            query = query.format(sailed=request.getfixturevalue("sailed"))
        return opened(query if look == "day" else f"{query}&look={look}", wait=wait, **more)

    return open_view


@pytest.mark.parametrize("name", VIEWS)
def test_axe_finds_nothing_in_any_look_and_by_night_nothing_is_bright(view: Callable[..., Page], name: str) -> None:
    page = view(name)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    for look in LOOKS:
        page.get_by_role("radio", name=look, exact=True).click()
        found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
        assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == [], look
    assert brightest(page) <= BRIGHTEST_BY_NIGHT


@pytest.mark.parametrize("name", VIEWS)
def test_letters_are_large_enough_and_nothing_is_cut_off(view: Callable[..., Page], name: str) -> None:
    page = view(name, viewport=DESK)
    for size in (DESK, TABLET):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.wait_for_timeout(200)
        assert page.evaluate(SMALL_LETTERS, SMALLEST_LETTERS) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]


@pytest.mark.parametrize("name", VIEWS)
def test_what_is_pressed_by_finger_is_large_enough(view: Callable[..., Page], name: str) -> None:
    page = view(name, viewport=TABLET, has_touch=True)
    assert page.evaluate("matchMedia('(pointer: coarse)').matches"), "the browser believes in a finger"
    assert page.evaluate(SMALL_TARGETS, SMALLEST_TARGET) == []


@pytest.mark.parametrize("name", VIEWS)
def test_the_tab_key_comes_to_everything_in_order_and_shows_where_it_is(view: Callable[..., Page], name: str) -> None:
    page = view(name)
    page.wait_for_timeout(600)  # what is looked up after the view has come may still put something in
    count = page.evaluate(TABBED)
    page.evaluate("document.activeElement?.blur()")
    page.evaluate("getSelection().setPosition(document.body, 0)")
    came = []
    for _ in range(count + 1):
        page.keyboard.press("Tab")
        number, seen, what = page.evaluate(FOCUSED)
        assert seen or number is None, f"no sign of the focus on {what}"
        came += [] if number is None else [int(number)]  # none: from the end of the page to its beginning
    assert came == [(came[0] + step) % count for step in range(len(came))], "a slip that is open has the focus at first"
    assert len(came) >= count


@pytest.mark.parametrize("name", [name for name in VIEWS if name not in ("board", "board, a gate chosen")])
def test_on_a_tablet_what_is_read_first_stands_first(view: Callable[..., Page], name: str) -> None:
    """The order of the headings is that of the eye: down the page, beside each other from the left; text set in columns apart."""
    page = view(name, viewport=TABLET)
    columned = page.evaluate("[...document.querySelectorAll('main *')].some((e) => getComputedStyle(e).columnCount > 1)")
    headings = page.evaluate(HEADINGS)
    for (before, top, left), (after, below, right) in pairwise(headings):
        assert columned or below >= top - 1 or right > left, f"{after} is told after {before} and stands above it"


@pytest.mark.parametrize("example", ["3-container-basin", "4-ferry-corner-berth", "5-podded-cruise"])
def test_letters_in_the_drawings_of_other_ships_are_large_enough(
    opened: Callable[..., Page], calls_folder: Path, example: str
) -> None:
    """Many tugs, screws and thrusters make a drawing of forces broad."""
    shutil.copytree(ROOT / "examples" / example, calls_folder / example, ignore=shutil.ignore_patterns(".*"))
    try:
        page = opened(f"?call={example}")
        for size in (DESK, TABLET):
            page.set_viewport_size(size)  # type: ignore[arg-type]
            page.wait_for_timeout(200)
            assert page.evaluate(SMALL_LETTERS, SMALLEST_LETTERS) == []
            assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    finally:
        shutil.rmtree(calls_folder / example)
