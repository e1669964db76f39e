"""A new call in a browser: files dropped, questions answered, the draft looked at on the board, the call assessed."""

import base64
import io
import re
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page, expect

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))

import small_port
from small_port import ANSWERS

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
FILES = "section[aria-labelledby=files-title] li strong"
BRIGHTEST_BY_NIGHT = 0.20  # relative luminance, white is 1; our own limit, docs/page.md


@pytest.fixture
def paths(tmp_path: Path) -> dict[str, Path]:
    return small_port.write_sources(tmp_path)


@pytest.fixture
def made(calls_folder: Path) -> Iterator[str]:
    """The name of the call that a test makes, taken away after it."""
    name = "grain-quay"
    yield name
    shutil.rmtree(calls_folder / name, ignore_errors=True)


def drop(page: Page, paths: list[Path]) -> None:
    files = [(path.name, base64.b64encode(path.read_bytes()).decode()) for path in paths]
    page.evaluate(
        """(files) => {
          const carried = new DataTransfer()
          for (const [name, content] of files) {
            carried.items.add(new File([Uint8Array.from(atob(content), (c) => c.charCodeAt(0))], name))
          }
          document.querySelector('.drop').dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }))
        }""",
        files,
    )
    expect(page.locator(FILES)).to_have_count(len(files), timeout=30_000)
    settled(page)


def settled(page: Page) -> None:
    expect(page.locator(".gather")).to_have_attribute("aria-busy", "false", timeout=30_000)


def answer(page: Page, answers: dict[str, str]) -> None:
    for key, words in answers.items():
        field = page.locator(f"[id='{key}']")
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(words)
        else:
            field.fill(words)
            field.press("Tab")
        settled(page)


def opened_with_all(opened: Callable[..., Page], paths: dict[str, Path], more: str = "", **how: Any) -> Page:
    page = opened(f"?new={more}", wait=".drop", **how)
    drop(page, list(paths.values()))
    return page


def test_from_dropped_files_to_an_assessed_call(
    opened: Callable[..., Page], paths: dict[str, Path], made: str, calls_folder: Path
) -> None:
    page = opened("", wait="main h1")
    page.get_by_role("link", name="Make a new one").click()
    page.wait_for_selector(".drop")
    expect(page.locator(".missing").first).to_contain_text("a table of high and low waters as CSV")
    drop(page, list(paths.values()))
    expect(page.locator("main")).to_contain_text("XX5HARBR.000 S-57 cell, the chart")
    expect(page.locator("main")).to_contain_text("ship.toml ship card, the ship")
    make = page.get_by_role("button", name="Make the call and look at it drawn")
    expect(make).to_be_disabled()
    answer(page, ANSWERS)
    expect(page.locator("#findings-title ~ ul")).to_contain_text("mooring buoys")
    expect(page.get_by_label("Name of its folder")).to_have_value(made)
    make.click()
    page.wait_for_selector(".board[aria-busy=false]")
    expect(page.locator("#said-title ~ .verdict")).to_contain_text("go")
    expect(page.get_by_role("button", name="Chart beneath")).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Harbour Bridge", exact=True).or_(page.get_by_text("Gates: 1")).first.click()
    page.get_by_role("link", name="Sheet", exact=True).click()
    page.wait_for_selector(".sheet[aria-busy=false]")
    expect(page.locator("header h1")).to_contain_text("Grain Quay")
    assert (calls_folder / made / "waterway" / "areas.geojson").is_file()


def test_what_was_gathered_outlives_a_reload(opened: Callable[..., Page], paths: dict[str, Path]) -> None:
    page = opened_with_all(opened, paths)
    answer(page, {"underkeel_m": "0.8", "channel": "open"})
    page.reload()
    page.wait_for_selector(".gather[aria-busy=false]")
    expect(page.locator("[id=underkeel_m]")).to_have_value("0.8")
    expect(page.locator(FILES)).to_have_count(4)


def test_an_answer_that_is_none_is_told_in_place(opened: Callable[..., Page], paths: dict[str, Path]) -> None:
    page = opened_with_all(opened, paths)
    answer(page, {"underkeel_m": "plenty"})
    expect(page.locator("#underkeel_m-told")).to_contain_text("expected a number, 0 to 20")
    expect(page.locator("[id=underkeel_m]")).to_have_value("plenty")
    answer(page, {"underkeel_m": "1"})
    expect(page.locator("#underkeel_m-told")).to_have_count(0)


def test_files_are_chosen_and_taken_out_by_key(opened: Callable[..., Page], paths: dict[str, Path]) -> None:
    page = opened("?new=", wait=".drop")
    page.locator("#files").set_input_files([paths["chart"], paths["ship"]])
    expect(page.locator(FILES)).to_have_count(2, timeout=30_000)
    settled(page)
    page.get_by_role("button", name="Take out ship.toml").press("Enter")
    expect(page.locator(FILES)).to_have_count(1)


@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing_and_no_pixel_is_bright_by_night(
    opened: Callable[..., Page], paths: dict[str, Path], look: str
) -> None:
    page = opened_with_all(opened, paths, f"&look={look}", viewport=TABLET if look == "dim" else DESK)
    answer(page, {"underkeel_m": "plenty"})
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]] == []
    if look == "night":
        picture = Image.open(io.BytesIO(page.screenshot(full_page=True))).convert("RGB")
        pixels = np.asarray(picture, dtype=np.float64) / 255.0
        linear = np.where(pixels <= 0.04045, pixels / 12.92, ((pixels + 0.055) / 1.055) ** 2.4)
        assert float(np.max(linear @ np.array([0.2126, 0.7152, 0.0722]))) <= BRIGHTEST_BY_NIGHT


def test_nothing_is_cut_off(opened: Callable[..., Page], paths: dict[str, Path]) -> None:
    page = opened_with_all(opened, paths)
    for width in (420, 800, 1280):
        page.set_viewport_size({"width": width, "height": 1100})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_stream_is_typed_hour_by_hour(opened: Callable[..., Page], paths: dict[str, Path]) -> None:
    """A row half typed is asked about in words; the ranges it goes by are asked once there is a stream."""
    page = opened("?new=", wait=".drop")
    drop(page, [*paths.values()])
    for key, words in ANSWERS.items():
        field = page.locator(f"[id='{key}']")
        expect(field).to_be_attached(timeout=30_000)
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(words)
        else:
            field.fill(words)
            field.press("Tab")
    settled(page)
    page.get_by_text("What may be said too").click()
    asked = page.locator(".asked", has=page.get_by_text("Streams by hours from high water"))
    table = asked.locator("details").first
    table.locator("summary").click()

    def cell(hour: str, column: str) -> Any:
        return table.get_by_label(re.compile(f"{hour}, {column}"))

    cell("1 h before", "sets towards").fill("10")
    cell("1 h before", "at springs").fill("1,5")
    cell("1 h before", "at springs").press("Tab")
    expect(asked.locator(".told")).to_contain_text("neap_kn: expected a number, 0 to 15")
    cell("1 h before", "at neaps").fill("0.7")
    for column, words in (("sets towards", "190"), ("at springs", "1.2"), ("at neaps", "0.5")):
        cell("2 h after", column).fill(words)
        cell("2 h after", column).press("Tab")
    expect(asked.locator(".told")).to_have_count(0)
    expect(page.locator("[id='spring_range_m']")).to_be_attached()
    page.reload()
    page.get_by_text("What may be said too").click()
    table = page.locator(".asked", has=page.get_by_text("Streams by hours from high water")).locator("details").first
    expect(table.locator("summary")).to_contain_text("2 hours")
