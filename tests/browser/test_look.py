"""How the page looks: by night nothing bright, on a tablet nothing cut off, and for everybody readable."""

import io
import re
from collections.abc import Callable
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
SHUT = "2031-05-06T13:20Z"
LOOKS = ("day", "dim", "night")

BRIGHTEST_BY_NIGHT = 0.20  # relative luminance, white is 1; our own limit, docs/page.md
MEAN_BY_NIGHT = 0.03  # of the whole screen; our own limit, docs/page.md
CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3, level AA: text


def luminance(colours: Any) -> Any:
    """WCAG 2.2, "relative luminance", of sRGB from 0 to 255."""
    share = np.asarray(colours, dtype=np.float64)[..., :3] / 255.0
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return linear @ np.array([0.2126, 0.7152, 0.0722])


def screen(page: Page, full: bool = True) -> Any:
    page.wait_for_timeout(300)  # the drawings are drawn in the frame after the letters have come
    return luminance(np.asarray(Image.open(io.BytesIO(page.screenshot(full_page=full))).convert("RGB")))


def test_the_measure_of_brightness() -> None:
    """White is 1, black 0; pure red, green, blue are the weights of the definition."""
    assert luminance([[255, 255, 255], [0, 0, 0]]) == pytest.approx([1.0, 0.0])
    assert luminance([[255, 0, 0], [0, 255, 0], [0, 0, 255]]) == pytest.approx([0.2126, 0.7152, 0.0722])


@pytest.mark.parametrize(
    ("query", "viewport"),
    [("", DESK), (f"&start={SHUT}&plan=ship", DESK), ("&origin=line:squat", TABLET)],
    ids=["whole way", "no go, at the ship", "tablet, origin open"],
)
def test_no_bright_pixel_by_night(opened: Callable[..., Page], query: str, viewport: Any) -> None:
    page = opened(f"?call={EXAMPLE}&look=night{query}", viewport=viewport)
    seen = screen(page)
    assert float(np.max(seen)) <= BRIGHTEST_BY_NIGHT
    assert float(np.mean(seen)) <= MEAN_BY_NIGHT
    assert float(np.max(seen)) > 0.15, "nothing is seen at all"


@pytest.mark.parametrize(
    ("query", "wait"),
    [
        ("?look=night", "main h1"),
        ("?call=broken&look=night", "main h1"),
        (f"?exchange={EXAMPLE}&look=night", "#entries-title"),
        (f"?rehearsal={EXAMPLE}&look=night", "form"),
    ],
)
def test_no_bright_pixel_by_night_on_the_other_pages(opened: Callable[..., Page], query: str, wait: str) -> None:
    assert float(np.max(screen(opened(query, wait=wait)))) <= BRIGHTEST_BY_NIGHT


def test_no_bright_pixel_by_night_in_the_form_of_a_card(opened: Callable[..., Page]) -> None:
    page = opened(f"?card={EXAMPLE}&look=night", wait=".card[aria-busy=false]")
    assert float(np.max(screen(page))) <= BRIGHTEST_BY_NIGHT
    page.get_by_label("Beam, m", exact=True).fill("ninety")
    page.keyboard.press("Control+a")
    page.wait_for_selector(".fault")
    assert float(np.max(screen(page))) <= BRIGHTEST_BY_NIGHT


def test_no_bright_pixel_while_pointing_typing_and_selecting_by_night(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&look=night")
    page.get_by_label("Start", exact=True).fill("nonsense")
    page.keyboard.press("Enter")
    page.keyboard.press("Control+a")
    page.get_by_role("button", name="Next window").hover()
    assert float(np.max(screen(page, full=False))) <= BRIGHTEST_BY_NIGHT


def test_no_white_flash_before_the_page_has_come(address: str, chromium: Any) -> None:
    page = chromium.new_context(viewport=DESK).new_page()
    page.route(re.compile(r"/assets/index-.*"), lambda route: route.abort())
    page.goto(f"{address}/?look=night")
    assert float(np.max(screen(page))) <= BRIGHTEST_BY_NIGHT
    page.context.close()


@pytest.mark.parametrize("look", LOOKS)
def test_inks_of_the_drawings_have_contrast(look: str) -> None:
    """What axe cannot measure in a canvas: the inks that words are written in, on the grounds they stand on."""
    text = (ROOT / "page/public/assets/look.css").read_text()
    block = text.split(":root[data-look='" + look + "'] {" if look != "day" else ":root {")[1].split("}")[0]
    ink = {
        name: luminance([int(value[i : i + 2], 16) for i in (0, 2, 4)])
        for name, value in re.findall(r"--([a-z-]+): #([0-9a-f]{6});", block)
    }
    for name in ("ink", "ink-soft", "alarm", "mark"):
        for ground in ("paper", "wash") if name != "mark" else ("paper",):
            low, high = sorted((ink[name], ink[ground]))
            assert (high + 0.05) / (low + 0.05) >= CONTRAST, f"{name} on {ground}"


@pytest.mark.parametrize("width", [420, 800, 1180, 1280, 1600])
def test_nothing_is_cut_off(opened: Callable[..., Page], width: int) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}&origin=line:squat", viewport={"width": width, "height": 1100})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    cut = page.evaluate(
        """() => [...document.querySelectorAll('h1, h2, p, th, td, dd, dt, li, button, input, label')]
          .filter((e) => !e.closest('.unseen') && !e.classList.contains('unseen') && e.getClientRects().length)
          .filter((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.wide'))
          .map((e) => e.outerHTML.slice(0, 80))"""
    )
    assert cut == []
    if width >= 800:
        wide = page.locator(".passage .wide")
        assert wide.evaluate("e => e.scrollWidth <= e.clientWidth"), "the passage table needs scrolling sideways"


def test_the_first_screen_of_a_desk_holds_the_drawings(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={SHUT}")
    foot = page.locator("footer").bounding_box()
    assert foot is not None
    for part in (".verdict h2", ".when .u-over", ".plan .paper", ".profile", ".room"):
        box = page.locator(part).bounding_box()
        assert box is not None, part
        assert box["y"] + box["height"] <= foot["y"] + 1, part


def test_the_sheet_does_not_jump_while_the_start_is_slid(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start=2031-05-06T10:00Z")
    tops = set()
    for _ in range(5):
        page.get_by_role("slider", name="Start, within").press("PageUp")
        page.wait_for_selector(".sheet[aria-busy=false]")
        box = page.locator(".profile").bounding_box()
        assert box is not None
        tops.add(round(box["y"]))
    assert len(tops) == 1


@pytest.mark.parametrize("viewport", [DESK, TABLET], ids=["desk", "tablet"])
def test_the_caution_stays_in_sight(opened: Callable[..., Page], viewport: Any) -> None:
    page = opened(viewport=viewport)
    for where in ("0", "document.body.scrollHeight / 2", "document.body.scrollHeight"):
        page.evaluate(f"scrollTo(0, {where})")
        box = page.locator("footer p").first.bounding_box()
        assert box is not None
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= viewport["height"]


@pytest.mark.parametrize(
    ("query", "wait", "viewport"),
    [
        (f"?call={EXAMPLE}", ".sheet[aria-busy=false]", DESK),
        (f"?call={EXAMPLE}&start={SHUT}&origin=line:squat&look=day", "#origin:not([hidden])", TABLET),
        (f"?call={EXAMPLE}&start={SHUT}&origin=line:squat&look=dim", "#origin:not([hidden])", TABLET),
        (f"?call={EXAMPLE}&start={SHUT}&origin=line:squat&look=night", "#origin:not([hidden])", TABLET),
        ("?look=night", "main li", DESK),
        ("?call=broken&look=night", "main [role=alert]", DESK),
    ],
    ids=["go", "no go by day", "no go, dim", "no go by night", "choice of calls", "faults"],
)
def test_axe_finds_nothing(opened: Callable[..., Page], query: str, wait: str, viewport: Any) -> None:
    page = opened(query, wait=wait, viewport=viewport)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
