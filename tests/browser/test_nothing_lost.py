"""Steps undone by key and button wherever something is changed; nothing lost on reload, a server killed, no line."""

import re
import shutil
import sys
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))

import small_port
from small_port import ANSWERS

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
EXAMPLE = "1-river-coaster"
SHEET = ".sheet[aria-busy=false]"
START = "2031-05-06T14:20"
OFF = "**/api/**"


@pytest.fixture
def page(own_server: Any, chromium: Browser) -> Iterator[Page]:
    """A page of a server that may be killed, with the first example in its folder."""
    shutil.copytree(ROOT / "examples" / EXAMPLE, own_server.folder / EXAMPLE)
    context = chromium.new_context(viewport={"width": 1280, "height": 800})
    yield context.new_page()
    context.close()


@pytest.fixture
def paths(tmp_path: Path) -> dict[str, Path]:
    (tmp_path / "sources").mkdir()
    return small_port.write_sources(tmp_path / "sources")


def start_in(page: Page) -> str:
    found = re.search(r"start=([\dT:-]+)", page.url.replace("%3A", ":"))
    return found[1][:16] if found else ""


def begun(page: Page, own_server: Any, paths: dict[str, Path]) -> None:
    page.goto(f"{own_server.address}/?new=")
    page.wait_for_selector(".drop")
    page.locator("#files").set_input_files(list(paths.values()))
    expect(page.locator("section[aria-labelledby=files-title] li strong")).to_have_count(4, timeout=60_000)
    expect(page.locator(".gather")).to_have_attribute("aria-busy", "false", timeout=60_000)


def said(page: Page, key: str, words: str) -> None:
    field = page.locator(f"[id='{key}']")
    field.fill(words)
    field.press("Tab")


def test_a_start_moved_is_undone_and_done_again(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={START}Z")
    later = page.get_by_role("button", name="+10 min")
    later.click()
    later.click()
    page.wait_for_selector(SHEET)
    assert start_in(page).endswith("14:40")
    page.keyboard.press("Control+z")
    page.wait_for_url(re.compile("14(:|%3A)30"))
    page.get_by_role("button", name="Undo").click()
    page.wait_for_url(re.compile("14(:|%3A)20"))
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    page.get_by_role("button", name="Do again").click()
    page.keyboard.press("Control+Shift+z")
    page.wait_for_url(re.compile("14(:|%3A)40"))
    expect(page.get_by_label("Start", exact=True)).to_have_value("Tue 6 May 14:40")


def test_a_slide_is_one_step(opened: Callable[..., Page]) -> None:
    page = opened(f"?call={EXAMPLE}&start={START}Z")
    slider = page.get_by_label("Start, within the whole time looked over")
    slider.evaluate(
        """slider => {
          for (const step of [1, 2, 3]) {
            slider.value = Number(slider.value) + step
            slider.dispatchEvent(new Event('input', { bubbles: true }))
          }
          slider.dispatchEvent(new Event('change', { bubbles: true }))
        }"""
    )
    page.wait_for_url(lambda url: "14:20" not in url.replace("%3A", ":"))
    page.get_by_role("button", name="Undo").click()
    page.wait_for_url(re.compile("14(:|%3A)20"))
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()


def test_a_start_kept_is_written_into_the_call_and_undone_there(opened: Callable[..., Page], own_call: Path) -> None:
    def own() -> str:
        return f"{tomllib.loads((own_call / 'call.toml').read_text())['start']:%Y-%m-%dT%H:%M}"

    before = own()
    page = opened(f"?call={own_call.name}&start={START}Z")
    keep = page.get_by_role("button", name="Keep this start")
    keep.click()
    expect(page.get_by_text("This start is now the call’s own.")).to_be_visible()
    assert own() == START
    expect(keep).to_be_disabled()
    page.keyboard.press("Control+z")
    expect(page.get_by_text("Undone: start kept as the call’s own.")).to_be_visible()
    assert own() == before
    page.get_by_role("button", name="Do again").click()
    expect(page.get_by_text("Done again")).to_be_visible()
    assert own() == START


def test_a_card_is_undone_by_whole_fields_and_outlives_a_reload(opened: Callable[..., Page]) -> None:
    page = opened("?card=", wait=".card[aria-busy=false]")
    name, beam = page.locator("#name"), page.locator("#beam_m")
    name.press_sequentially("Petrel")
    beam.press_sequentially("12.6")
    page.get_by_role("button", name="Add a thruster").click()
    page.keyboard.press("Control+z")
    expect(page.get_by_label("Power, kW, thruster 1")).to_have_count(0)
    page.keyboard.press("Control+z")
    expect(beam).to_have_value("")
    expect(name).to_have_value("Petrel")
    page.get_by_role("button", name="Do again").click()
    expect(beam).to_have_value("12.6")
    page.reload()
    expect(beam).to_have_value("12.6")
    expect(page.locator("header")).to_contain_text("taken up again")
    page.get_by_role("button", name="Undo").click()
    expect(name).to_have_value("")


def test_a_card_of_a_call_is_saved_into_it(opened: Callable[..., Page], own_call: Path) -> None:
    page = opened(f"?card={own_call.name}", wait=".card[aria-busy=false]")
    save = page.get_by_role("button", name=f"Save into {own_call.name}")
    expect(save).to_be_disabled()
    page.get_by_label("Draught aft, m", exact=True).fill("6.4")
    save.click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved into the call")
    assert tomllib.loads((own_call / "ship.toml").read_text())["loading"]["draught_aft_m"] == 6.4
    page.reload()
    expect(page.get_by_label("Draught aft, m", exact=True)).to_have_value("6.4")


def test_answers_wait_for_a_killed_server_also_over_a_reload(
    page: Page, own_server: Any, paths: dict[str, Path]
) -> None:
    begun(page, own_server, paths)
    state = page.locator("footer [role=status]")
    said(page, "underkeel_m", "0.8")
    expect(state).to_contain_text("still open", timeout=60_000)
    own_server.kill()
    said(page, "overhead_m", "1.5")
    said(page, "siltation_m", "0.1")
    expect(state).to_contain_text("2 not yet with the server", timeout=60_000)
    own_server.start()
    expect(state).to_contain_text("still open", timeout=60_000)
    page.route(OFF, lambda route: route.abort())
    said(page, "underkeel_percent_of_draught", "12")
    page.reload()
    expect(page.locator(".trouble")).to_contain_text("does not answer")
    page.unroute(OFF)
    for key, words in {"underkeel_m": "0.8", "overhead_m": "1.5", "siltation_m": "0.1"}.items():
        expect(page.locator(f"[id={key}]")).to_have_value(words, timeout=60_000)
    expect(page.locator("[id=underkeel_percent_of_draught]")).to_have_value("12")
    expect(state).to_contain_text("still open", timeout=60_000)
    (kept,) = (own_server.folder / ".gatherings").glob("*/answers.json")
    assert '"underkeel_percent_of_draught": "12"' in kept.read_text()


def test_answers_are_undone_and_done_again(page: Page, own_server: Any, paths: dict[str, Path]) -> None:
    begun(page, own_server, paths)
    field = page.locator("[id=underkeel_m]")
    said(page, "underkeel_m", "0.8")
    said(page, "underkeel_m", "0.9")
    page.keyboard.press("Control+z")
    expect(field).to_have_value("0.8")
    page.get_by_role("button", name="Undo").click()
    expect(field).to_have_value("")
    page.get_by_role("button", name="Do again").click()
    expect(field).to_have_value("0.8")
    expect(page.locator("footer [role=status]")).to_contain_text("still open", timeout=60_000)
    (kept,) = (own_server.folder / ".gatherings").glob("*/answers.json")
    assert '"underkeel_m": "0.8"' in kept.read_text()


def test_what_was_acknowledged_outlives_a_kill(page: Page, own_server: Any, paths: dict[str, Path]) -> None:
    """All answers taken, the server killed at once: the new one makes the call of them."""
    begun(page, own_server, paths)
    for key, words in ANSWERS.items():
        field = page.locator(f"[id='{key}']")
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(words)
        else:
            said(page, key, words)
    make = page.get_by_role("button", name="Make the call and look at it drawn")
    expect(make).to_be_enabled(timeout=60_000)
    own_server.kill()
    own_server.start()
    page.reload()
    expect(make).to_be_enabled(timeout=60_000)
    make.click()
    page.wait_for_selector(".board", timeout=60_000)
    assert (own_server.folder / "grain-quay" / "call.toml").is_file()


def test_a_drawing_outlives_a_killed_server_and_is_saved_by_the_next(page: Page, own_server: Any) -> None:
    page.goto(f"{own_server.address}/?draw={EXAMPLE}&thing=gate:0")
    clearance = page.get_by_label("Clearance, m, Lych Bridge", exact=True)
    expect(clearance).to_be_visible(timeout=60_000)
    own_server.kill()
    clearance.fill("26.4")
    clearance.press("Enter")
    save = page.get_by_role("button", name="Save", exact=True)
    save.click()
    expect(page.get_by_role("alert")).to_contain_text("does not answer")
    own_server.start()
    page.reload()
    expect(clearance).to_have_value("26.4", timeout=60_000)
    save.click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.", timeout=60_000)
    assert "clearance_m = 26.4" in (own_server.folder / EXAMPLE / "waterway/waterway.toml").read_text()


def test_the_exchange_waits_for_a_killed_server(page: Page, own_server: Any) -> None:
    page.goto(f"{own_server.address}/?exchange={EXAMPLE}")
    page.get_by_role("textbox", name="Who speaks").fill("A. Pilot")
    item = page.locator("main li").first
    expect(item).to_be_visible(timeout=60_000)
    own_server.kill()
    item.get_by_role("button").first.click()
    expect(page.locator("footer [role=status]")).to_contain_text("1 not yet written", timeout=60_000)
    own_server.start()
    expect(page.locator("footer [role=status]")).to_contain_text("1 entries", timeout=60_000)
    assert (own_server.folder / EXAMPLE / "record.jsonl").is_file()


def test_two_at_the_sheet_are_told_of_each_other(opened: Callable[..., Page], own_call: Path) -> None:
    """The second to keep a start is refused and told; a look of the other's finds what was changed meanwhile."""
    first, second = (opened(f"?call={own_call.name}&start={START}Z") for _ in range(2))
    first.get_by_role("button", name="Keep this start").click()
    expect(first.get_by_text("This start is now the call’s own.")).to_be_visible()
    first.wait_for_selector(SHEET)
    expect(first.get_by_role("alert").filter(has_text="changed elsewhere")).to_have_count(0)
    second.get_by_role("button", name="+10 min").click()
    second.wait_for_selector(SHEET)
    assert (own_call / "call.toml").read_text().count("2031-05-06T14:20") == 1
    text = (own_call / "call.toml").read_text()
    (own_call / "call.toml").write_text(text.replace("underkeel_m = 0.60", "underkeel_m = 0.70"))
    for page in (first, second):
        page.evaluate("dispatchEvent(new Event('focus'))")
        expect(page.get_by_role("alert").filter(has_text="changed elsewhere")).to_be_visible()
    second.get_by_role("button", name="Keep this start").click()
    expect(second.get_by_text("Not kept, others changed the files", exact=False)).to_be_visible()
    assert "2031-05-06T14:20" in (own_call / "call.toml").read_text(), "nobody's start is written over"
    second.get_by_role("button", name="Work it out anew").click()
    second.wait_for_selector(SHEET)
    expect(second.get_by_role("alert").filter(has_text="changed elsewhere")).to_have_count(0)
    second.get_by_role("button", name="Keep this start").click()
    expect(second.get_by_text("This start is now the call’s own.")).to_be_visible()


@pytest.mark.parametrize("view", ["card", "board", "texts"])
def test_what_is_typed_while_saving_is_not_lost(opened: Callable[..., Page], own_call: Path, view: str) -> None:
    """The first word is saved, the second stays in its field, not saved yet, also after a reload."""
    query, wait, field, save = {
        "card": (f"?card={own_call.name}", ".card[aria-busy=false]", "[id='name']", "Save into"),
        "board": (f"?draw={own_call.name}&thing=berth:0", ".board[aria-busy=false]", "[id='waterway.berth.0.name']", "Save"),
        "texts": (f"?text={own_call.name}&file=call.toml", ".texts[aria-busy=false]", "textarea", "Save"),
    }[view]
    page = opened(query, wait=wait)
    typed = page.locator(field)
    first, second = ("First", "Second") if view != "texts" else ("# First\n" + typed.input_value(), "# Second\n" + typed.input_value())

    def put(words: str) -> None:
        typed.fill(words)
        typed.press("Tab") if view == "board" else None

    held: list[Any] = []
    page.route("**/api/v1/calls/*/*", lambda route: held.append(route) if route.request.method == "PUT" else route.continue_())
    put(first)
    button = page.get_by_role("button", name=re.compile(f"^{save}")).first
    expect(button).to_be_enabled()
    button.click()
    page.wait_for_timeout(200)
    put(second)
    assert len(held) == 1
    held[0].continue_()
    expect(page.get_by_text(re.compile("Saved, but for what was (typed|drawn|written) meanwhile"))).to_be_visible()
    expect(typed).to_have_value(second)
    kept = "".join(path.read_text() for path in own_call.rglob("*.toml"))
    assert "First" in kept
    assert "Second" not in kept
    expect(button).to_be_enabled()
    page.unroute("**/api/v1/calls/*/*")
    page.reload()
    page.wait_for_selector(wait)
    expect(page.locator(field)).to_have_value(second)
