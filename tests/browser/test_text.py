"""The files of a call as texts in a browser: what no form has is written, faults told at their line, nothing lost."""

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
VIEW = ".texts[aria-busy=false]"
WATERWAY = "waterway/waterway.toml"
BRIGHTEST_BY_NIGHT = 0.20  # relative luminance, white is 1; our own limit, docs/page.md
RULE = """
[[rule]]
name = "Least visibility in the river"
source = "invented"
reaches = ["Mill Reach"]
visibility = { least_nm = 20.0 }
"""


def text(opened: Callable[..., Page], call: Path, file: str = WATERWAY, more: str = "", **how: Any) -> Page:
    page = opened(f"?text={call.name}&file={file}{more}", wait=VIEW, **how)
    expect(page.locator(".verdict")).to_be_visible(timeout=120_000)
    return page


def written(page: Page, words: str) -> None:
    """Typed at the end of the text."""
    area = page.get_by_label("Text of")
    area.press("Control+End")
    page.keyboard.insert_text(words)


def test_a_rule_is_written_tried_and_saved(opened: Callable[..., Page], own_call: Path) -> None:
    page = text(opened, own_call)
    written(page, RULE.replace("[\"Mill Reach\"]", "[\"Mill Race\"]"))
    said = page.locator("section[aria-labelledby=said-title]")
    expect(said).to_contain_text("Mill Race")
    fault = said.get_by_role("button").first
    expect(fault).to_contain_text("waterway/waterway.toml, line")
    line = int(fault.inner_text().rsplit(" ", 1)[1])
    assert page.locator(".gutter .wrong").all_inner_texts() == [str(line)]
    fault.press("Enter")
    area = page.get_by_label("Text of")
    expect(area).to_be_focused()
    chosen = area.evaluate("area => area.value.slice(area.selectionStart, area.selectionEnd)")
    assert chosen == area.input_value().splitlines()[line - 1] == "[[rule]]", "the table that is wrong"
    area.fill(area.input_value().replace("Mill Race", "Mill Reach"))
    expect(page.locator(".verdict")).to_be_visible(timeout=60_000)
    page.keyboard.press("Control+s")
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    assert "Least visibility in the river" in (own_call / WATERWAY).read_text()
    page.get_by_role("link", name="Sheet", exact=True).click()
    page.wait_for_selector(".sheet[aria-busy=false]")
    expect(page.locator(".rules")).to_contain_text("Least visibility in the river")


def test_steps_are_undone_by_key_and_button_and_outlive_a_reload(opened: Callable[..., Page], own_call: Path) -> None:
    page = text(opened, own_call, "call.toml")
    area = page.get_by_label("Text of call.toml")
    before = area.input_value()
    written(page, "# one")
    page.wait_for_timeout(1_700)  # a breath ends a step
    written(page, " two")
    page.keyboard.press("Control+z")
    expect(area).to_have_value(f"{before}# one")
    page.get_by_role("button", name="Undo").click()
    expect(area).to_have_value(before)
    page.get_by_role("button", name="Do again").click()
    page.keyboard.press("Control+Shift+z")
    expect(area).to_have_value(f"{before}# one two")
    page.reload()
    expect(page.get_by_label("Text of call.toml")).to_have_value(f"{before}# one two")
    expect(page.locator("header [role=status]")).to_contain_text("taken up again")
    assert (own_call / "call.toml").read_text() == before, "nothing is written before it is saved"
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("Text of call.toml")).to_have_value(before)


def test_what_somebody_else_changed_is_not_overwritten_unseen(opened: Callable[..., Page], own_call: Path) -> None:
    page = text(opened, own_call, "call.toml")
    written(page, "# mine")
    file = own_call / "call.toml"
    file.write_text(f"{file.read_text()}# theirs\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("changed elsewhere")
    assert "# mine" not in file.read_text()
    page.get_by_role("button", name="Put mine in their place").click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    assert file.read_text().endswith("# mine")


def test_the_board_leads_to_the_text(opened: Callable[..., Page], own_call: Path) -> None:
    page = opened(f"?draw={own_call.name}&thing=call", wait=".board[aria-busy=false]")
    page.get_by_role("link", name="Files as texts").click()
    page.wait_for_selector(VIEW)
    expect(page.get_by_label("Text of call.toml")).to_be_visible()


@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing_and_no_pixel_is_bright_by_night(opened: Callable[..., Page], own_call: Path, look: str) -> None:
    page = text(opened, own_call, more=f"&look={look}", viewport=TABLET if look == "dim" else DESK)
    written(page, "depth = wrong")
    expect(page.locator("section[aria-labelledby=said-title] li")).to_have_count(1)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
    if look == "night":
        picture = Image.open(io.BytesIO(page.screenshot(full_page=True))).convert("RGB")
        pixels = np.asarray(picture, dtype=np.float64) / 255.0
        linear = np.where(pixels <= 0.04045, pixels / 12.92, ((pixels + 0.055) / 1.055) ** 2.4)
        assert float(np.max(linear @ np.array([0.2126, 0.7152, 0.0722]))) <= BRIGHTEST_BY_NIGHT


@pytest.mark.parametrize("width", [420, 800, 1280])
def test_nothing_is_cut_off(opened: Callable[..., Page], own_call: Path, width: int) -> None:
    page = text(opened, own_call, viewport={"width": width, "height": 1100})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
