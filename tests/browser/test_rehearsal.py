"""The replay of a rehearsal in a browser: she is seen where the answer says, orders lead to their moments, it plays."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
def replay(opened: Callable[..., Page], call: str, query: str = "", **more: Any) -> Page:
    return opened(f"?rehearsal={call}{query}", wait="#orders-title", **more)


def test_what_came_of_it_is_said_first(opened: Callable[..., Page], sailed: str) -> None:
    page = replay(opened, sailed)
    expect(page.locator("header")).to_contain_text("alongside")
    expect(page.locator("header")).to_contain_text("Landed at 0.05 m/s.")
    expect(page.get_by_text("91 % succeed")).to_be_visible()
    expect(page.get_by_text("910 alongside, 90 out of the fairway.")).to_be_visible()


def test_an_order_leads_to_its_moment_and_the_address_keeps_it(opened: Callable[..., Page], sailed: str) -> None:
    page = replay(opened, sailed)
    page.get_by_role("button", name="14:22:00", exact=True).press("Enter")
    expect(page.locator("li.now")).to_contain_text("Starboard ten")
    expect(page.locator("aside")).to_contain_text("2.50 m")
    page.wait_for_url("**t=600**")
    page.reload()
    page.wait_for_selector("#orders-title")
    expect(page.locator("li.now")).to_contain_text("Starboard ten")


def test_what_is_asked_of_her_machinery_is_told(opened: Callable[..., Page], sailed: str) -> None:
    page = replay(opened, sailed)
    asked = page.get_by_role("region", name="Asked of her machinery")
    expect(asked).to_contain_text("75 % of full astern")
    expect(asked).to_contain_text("4 min 05 s; 6 min 40 s in all")
    expect(asked).to_contain_text("5 made, 0 of 3 left at the least")
    expect(page.get_by_text("In 12 of the runs an order found no air.")).to_be_visible()
    expect(page.get_by_role("region", name="Found in the rehearsal")).to_contain_text("finds no air to start on")
    asked.get_by_role("button", name="Half astern").press("Enter")
    page.wait_for_url("**t=600**")


def test_the_moment_is_moved_by_key(opened: Callable[..., Page], sailed: str) -> None:
    page = replay(opened, sailed)
    page.get_by_label("Moment", exact=True).focus()
    page.keyboard.press("PageUp")
    assert float(page.get_by_label("Moment", exact=True).input_value()) > 0
    page.keyboard.press("Home")
    assert float(page.get_by_label("Moment", exact=True).input_value()) == 0


def test_the_worst_run_is_shown_in_place_of_the_planned(opened: Callable[..., Page], sailed: str) -> None:
    page = replay(opened, sailed)
    page.get_by_role("button", name="Show run 47").press("Enter")
    expect(page.locator("header")).to_contain_text("Run 47: out of the fairway")
    assert "run=worst" in page.url


def test_it_plays(opened: Callable[..., Page], sailed: str) -> None:
    """Time moves on while it plays, and stands when it is told to."""
    page = replay(opened, sailed)
    page.get_by_role("radio", name="×60").click()
    page.get_by_role("button", name="Play").click()
    expect(page.get_by_label("Moment", exact=True)).not_to_have_value("0")
    page.get_by_role("button", name="Pause").click()
    stands = page.get_by_label("Moment", exact=True).input_value()
    page.wait_for_timeout(300)
    assert page.get_by_label("Moment", exact=True).input_value() == stands


STROKES = """(() => {
  window.strokes = new Map()
  window.frames = 0
  const stroke = CanvasRenderingContext2D.prototype.stroke
  CanvasRenderingContext2D.prototype.stroke = function (...path) {
    window.strokes.set(this.canvas, (window.strokes.get(this.canvas) ?? 0) + 1)
    return stroke.apply(this, path)
  }
  const frame = () => { window.frames += 1; requestAnimationFrame(frame) }
  requestAnimationFrame(frame)
})()"""


def test_a_frame_costs_her_outlines_alone_however_many_runs_are_shown(opened: Callable[..., Page], sailed: str) -> None:
    """The envelope of all runs lies on a sheet beneath, drawn once; above it her outline, and one for each minute past."""
    page = replay(opened, sailed, init_script=STROKES)
    page.get_by_role("radio", name="×60").click()
    drawn = "[...document.querySelectorAll('.stage canvas')].map((canvas) => strokes.get(canvas) ?? 0)"
    beneath, above, frames = page.evaluate(f"[...{drawn}, frames]")
    assert beneath > 6, "the plan, and three swaths of two edges"
    page.get_by_role("button", name="Play").click()
    expect(page.get_by_label("Moment", exact=True)).not_to_have_value("0")
    page.wait_for_timeout(1_000)
    page.get_by_role("button", name="Pause").click()
    moment = float(page.get_by_label("Moment", exact=True).input_value())
    later_beneath, later_above, later_frames = page.evaluate(f"[...{drawn}, frames]")
    assert later_beneath == beneath
    assert 0 < later_above - above <= (later_frames - frames) * (moment / 60.0 + 2.0), "an outline a minute, and herself"


@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing(opened: Callable[..., Page], sailed: str, look: str) -> None:
    page = replay(opened, sailed, f"&look={look}", viewport=TABLET if look == "dim" else DESK)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []


@pytest.mark.parametrize("width", [420, 800, 1280])
def test_nothing_is_cut_off(opened: Callable[..., Page], sailed: str, width: int) -> None:
    page = replay(opened, sailed, viewport={"width": width, "height": 1100})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
