"""The drawing board in a browser: by pointer and by key, undone, saved, reloaded, refused when stale."""

import gzip
import io
import json
import re
import subprocess
import time
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, Route, expect

from leadsman.geometry import LocalPlane, Position

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
DESK, TABLET = {"width": 1280, "height": 800}, {"width": 800, "height": 1100}
BOARD = ".board[aria-busy=false]"
ORIGIN = Position(-31.5, -17.5)  # of the first example
BRIGHTEST_BY_NIGHT = 0.20  # relative luminance, white is 1; our own limit, docs/page.md


def board(opened: Callable[..., Page], call: Path, more: str = "", **how: Any) -> Page:
    page = opened(f"?draw={call.name}{more}", wait=BOARD, **how)
    expect(page.locator("#said-title ~ .verdict")).to_be_visible(timeout=120_000)  # kernels may have to be compiled
    return page


def waterway(call: Path) -> Any:
    return tomllib.loads((call / "waterway" / "waterway.toml").read_text())


def areas(call: Path) -> Any:
    return json.loads((call / "waterway" / "areas.geojson").read_text())["features"]


def slowly(route: Route) -> None:
    time.sleep(0.6)
    route.continue_()


def at(page: Page, latitude: float, longitude: float) -> tuple[float, float]:
    """Where a position is on the screen, from the middle and scale in the address."""
    east, north, resolution = (float(part) for part in page.url.split("paper=")[1].split("&")[0].split(","))
    x, y = (float(part) for part in LocalPlane(ORIGIN).to_plane(latitude, longitude))
    box = page.locator(".paper").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2 + (y - east) / resolution, box["y"] + box["height"] / 2 - (x - north) / resolution


def drag(page: Page, here: tuple[float, float], by: tuple[float, float]) -> None:
    page.mouse.move(*here)
    page.mouse.down()
    page.mouse.move(here[0] + by[0] / 2, here[1] + by[1] / 2)
    page.mouse.move(here[0] + by[0], here[1] + by[1])
    page.mouse.up()


def line(page: Page, label: str) -> Locator:
    return page.get_by_label(label, exact=True)


def saved(page: Page) -> None:
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")


BEND = "&thing=waypoint:2&paper=-1197,-1666,5.00"
"""The bend at Heron Point in the middle of the paper, 5 m a pixel."""
HERON = (-31.515030, -17.512632)


def test_a_waypoint_is_moved_by_pointer_undone_and_done_again(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, BEND)
    drag(page, at(page, *HERON), (40, -20))
    north = line(page, "Latitude, °, Heron Point")
    moved = float(north.input_value())
    assert moved == pytest.approx(HERON[0] + 100.0 / 110_900.0, abs=2e-5), "20 px at 5 m; a degree there is 110.9 km"
    expect(page.locator("header [role=status]")).to_contain_text("Heron Point moved. Not saved yet.")
    page.keyboard.press("Control+z")
    expect(north).to_have_value("-31.51503")
    page.keyboard.press("Control+Shift+z")
    expect(north).to_have_value(str(moved))
    assert waterway(own_call)["waypoint"][2]["latitude"] == HERON[0], "nothing is written before it is saved"


def test_a_waypoint_is_moved_by_arrow_keys(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, BEND)
    page.locator(".paper").focus()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowUp")
    moved = float(line(page, "Latitude, °, Heron Point").input_value())
    assert moved == pytest.approx(HERON[0] + 55.0 / 110_900.0, abs=2e-6), "one and ten pixels at 5 m"


def test_a_radius_is_drawn_with_its_handle(opened: Callable[..., Page], own_call: Path) -> None:
    """The handle stands on the middle of the arc: farther from the waypoint, a larger radius."""
    page = board(opened, own_call, BEND.replace("5.00", "1.00"))
    plane = LocalPlane(ORIGIN)
    points = waterway(own_call)["waypoint"]
    flat = [np.array([float(v) for v in plane.to_plane(p["latitude"], p["longitude"])]) for p in points[1:4]]
    arms = [(flat[i] - flat[1]) / np.linalg.norm(flat[i] - flat[1]) for i in (0, 2)]
    inward = (arms[0] + arms[1]) / np.linalg.norm(arms[0] + arms[1])
    half = 0.5 * (np.pi - np.arccos(float(arms[0] @ arms[1])))
    away = 650.0 * (1.0 / np.cos(half) - 1.0)
    grip = flat[1] + away * inward
    latitude, longitude = plane.to_earth(grip[0], grip[1])
    drag(page, at(page, float(latitude), float(longitude)), (20 * float(inward[1]), -20 * float(inward[0])))
    radius = float(line(page, "Bend radius, m, Heron Point").input_value())
    assert radius == pytest.approx(650.0 * (away + 20.0) / away, abs=15.0), "20 px at 1 m; a pixel is 10 m of radius"


def test_a_bend_that_does_not_fit_is_refused_in_place(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=waypoint:2")
    radius = line(page, "Bend radius, m, Heron Point")
    radius.fill("9000")
    radius.press("Enter")
    expect(page.locator("section[aria-labelledby=chosen-title] [role=alert]")).to_contain_text("it cannot be saved so")
    expect(page.locator("section[aria-labelledby=said-title]")).to_contain_text("smaller bend radii")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".trouble")).to_contain_text("smaller bend radii")
    assert waterway(own_call)["waypoint"][2]["bend_radius_m"] == 650


def test_a_waypoint_added_splits_its_reach_and_its_orders(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=waypoint:1")
    page.get_by_role("button", name="Add a waypoint after it").click()
    radius = line(page, "Bend radius, m, Waypoint")
    radius.fill("900")
    radius.press("Enter")
    expect(page.locator("#said-title ~ .verdict")).to_be_visible()
    saved(page)
    found = waterway(own_call)
    assert [reach["name"] for reach in found["reach"][:4]] == ["Roads", "Bar", "Bar 2", "Lych Reach"]
    assert found["reach"][2]["width_port_m"] == 120
    plans = tomllib.loads((own_call / "call.toml").read_text())["plan"]
    assert [plan["reach"] for plan in plans[:4]] == ["Roads", "Bar", "Bar 2", "Lych Reach"]
    page.get_by_role("button", name="Take out Waypoint").click()
    saved(page)
    assert waterway(own_call)["reach"][1]["name"] == "Bar"
    assert len(waterway(own_call)["reach"]) == 5


def test_a_depth_area_is_drawn_by_keyboard_and_figures_alone(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call)
    page.get_by_role("button", name="depth area", exact=True).press("Enter")
    for latitude, longitude in (("31°31.2'S", "17°31.8'W"), ("31 31.2 S", "17 31.5 W"), ("-31.5225", "-17.5245")):
        line(page, "Latitude of the next corner").fill(latitude)
        line(page, "Longitude of the next corner").fill(longitude)
        page.keyboard.press("Enter")
    page.get_by_role("button", name="Close it").press("Enter")
    said = page.locator("section[aria-labelledby=said-title]")
    expect(said).to_contain_text("a missing depth is never assumed")
    depth = line(page, "Depth, m, Area")
    depth.fill("2,1")
    depth.press("Enter")
    expect(said.locator(".verdict")).to_be_visible()
    saved(page)
    drawn = areas(own_call)[-1]
    assert drawn["properties"] == {"name": "Area", "depth_m": 2.1}
    assert drawn["geometry"]["coordinates"] == [[[-17.53, -31.52], [-17.525, -31.52], [-17.5245, -31.5225], [-17.53, -31.52]]]


def test_a_depth_area_is_drawn_by_pointer_and_a_hole_cut_in_it(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&paper=-1197,-1666,5.00")
    box = page.locator(".paper").bounding_box()
    assert box is not None

    def press(*corners: tuple[float, float]) -> None:
        for x, y in corners:
            page.mouse.click(box["x"] + x, box["y"] + y)

    page.get_by_role("button", name="depth area", exact=True).click()
    press((100, 400), (250, 400), (250, 550), (100, 550))
    page.get_by_role("button", name="Close it").click()
    page.get_by_role("button", name="Cut a hole").click()
    press((150, 450), (200, 450), (180, 500))
    page.locator(".paper").press("Enter")
    line(page, "Depth, m, Area").fill("4")
    line(page, "Depth, m, Area").press("Enter")
    expect(page.locator("#said-title ~ .verdict")).to_be_visible()
    saved(page)
    rings = areas(own_call)[-1]["geometry"]["coordinates"]
    assert [len(ring) for ring in rings] == [5, 4]
    plane = LocalPlane(ORIGIN)
    x, y = plane.to_plane([corner[1] for corner in rings[0]], [corner[0] for corner in rings[0]])
    assert (np.ptp(x), np.ptp(y)) == pytest.approx((750.0, 750.0), abs=2.0), "150 px at 5 m"


def test_an_area_is_split_corners_are_added_moved_and_taken_out(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=area:0")
    count = page.locator(".count")
    corners = int(count.inner_text().rsplit(" ", 1)[1])
    page.get_by_role("button", name="Add one after it").click()
    expect(count).to_have_text(f"corner 2 of {corners + 1}")
    page.get_by_role("button", name="Take it out").click()
    expect(count).to_have_text(f"corner 2 of {corners}")
    line(page, "Latitude, °, corner 2").fill("-31.5535")
    line(page, "Latitude, °, corner 2").press("Enter")
    line(page, "Split the area from here to corner").fill("20")
    page.get_by_role("button", name="Split", exact=True).click()
    before = len(areas(own_call))
    saved(page)
    drawn = areas(own_call)
    assert len(drawn) == before + 1
    assert [one["properties"]["name"] for one in drawn[:2]] == ["Outer Roads", "Outer Roads 2"]
    assert drawn[0]["properties"]["depth_m"] == drawn[1]["properties"]["depth_m"] == 11.5
    assert len(drawn[0]["geometry"]["coordinates"][0]) + len(drawn[1]["geometry"]["coordinates"][0]) == corners + 4


def test_what_is_not_saved_outlives_a_reload_and_can_be_undone_then(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=gate:0")
    clearance = line(page, "Clearance, m, Lych Bridge")
    clearance.fill("26.4")
    clearance.press("Enter")
    expect(page.locator("header [role=status]")).to_contain_text("Not saved yet")
    for _ in range(100):  # the page's policy forbids the waiting that evaluates text
        if page.evaluate("localStorage.length") == 1:
            break
        page.wait_for_timeout(50)
    page.reload()
    page.wait_for_selector(BOARD)
    expect(clearance).to_have_value("26.4")
    expect(page.locator("header [role=status]")).to_contain_text("taken up again")
    page.get_by_role("button", name="Undo").click()
    expect(clearance).to_have_value("27.1")


def test_saved_is_reloaded_assessed_and_gone_back_from(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=gate:0")
    original = (own_call / "waterway" / "waterway.toml").read_bytes()
    clearance = line(page, "Clearance, m, Lych Bridge")
    clearance.fill("20")
    clearance.press("Enter")
    verdict = page.locator("#said-title ~ .verdict")
    expect(verdict).to_have_text("no go")
    page.keyboard.press("Control+s")
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    page.get_by_role("link", name="Sheet", exact=True).click()
    page.wait_for_selector(".sheet[aria-busy=false]")
    expect(page.locator(".verdict")).to_contain_text("Lych Bridge")
    page.go_back()
    page.wait_for_selector(BOARD)
    page.get_by_text("Versions kept: 2").click()
    page.get_by_role("button", name="Go back to 1, as found").click()
    expect(clearance).to_have_value("27.1")
    expect(verdict).to_have_text("go with cautions")
    assert (own_call / "waterway" / "waterway.toml").read_bytes() == original


def test_a_stale_tab_is_refused_and_told_what_changed(opened: Callable[..., Page], own_call: Path) -> None:
    first = board(opened, own_call, "&thing=gate:0")
    second = board(opened, own_call, "&thing=berth:0")
    line(first, "Clearance, m, Lych Bridge").fill("26.5")
    line(first, "Clearance, m, Lych Bridge").press("Enter")
    saved(first)
    depth = line(second, "Depth, m, Tannery Quay")
    depth.fill("1.4")
    depth.press("Enter")
    second.get_by_role("button", name="Save", exact=True).click()
    told = second.get_by_role("alert", name="Not saved: the files were changed elsewhere")
    expect(told).to_contain_text("gate Lych Bridge, clearance_m: 27.1 is 26.5 now")
    assert waterway(own_call)["berth"][0]["depth_m"] == 1.6
    expect(depth).to_have_value("1.4")
    second.route("**/files", slowly)  # longer than the board waits before it keeps a change
    depth.fill("1.5")
    depth.press("Enter")
    told.get_by_role("button", name="Leave mine, read theirs").click()
    expect(depth).to_have_value("1.6")
    depth.fill("1.3")
    depth.press("Enter")
    saved(second)
    found = waterway(own_call)
    assert (found["berth"][0]["depth_m"], found["gate"][0]["clearance_m"]) == (1.3, 26.5)


def test_the_other_way_out_of_a_stale_tab_keeps_their_version(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=gate:0")
    path = own_call / "forecast.toml"
    path.write_text(path.read_text().replace("residual_low_m = -0.15", "residual_low_m = -0.35"))
    line(page, "Clearance, m, Lych Bridge").fill("26.5")
    line(page, "Clearance, m, Lych Bridge").press("Enter")
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_role("button", name="Put mine in their place").click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    page.get_by_text("Versions kept: 2").click()
    page.get_by_role("button", name="Go back to 1, as found").click()
    expect(page.locator("header [role=status]")).to_contain_text("Gone back.")
    assert "residual_low_m = -0.35" in path.read_text()


def test_call_and_forecast_are_filled_in_too(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=call")
    line(page, "Start", ).fill("2031-05-06T14:20:00Z")
    line(page, "Start").press("Enter")
    order = page.get_by_label("Order, Lych Reach")
    order.select_option("half_ahead")
    page.get_by_role("button", name="The forecast").click()
    wind = line(page, "Wind speed, kn")
    wind.fill("20")
    wind.press("Enter")
    expect(page.locator("#said-title ~ .verdict")).to_be_visible()
    saved(page)
    call = tomllib.loads((own_call / "call.toml").read_text())
    assert call["start"].isoformat() == "2031-05-06T14:20:00+00:00"
    assert call["plan"][2] == {"reach": "Lych Reach", "order": "half_ahead"}
    assert "# passing Ambry Roads" in (own_call / "call.toml").read_text()
    assert tomllib.loads((own_call / "forecast.toml").read_text())["wind_speed_kn"] == 20


def test_a_call_with_faults_is_mended_on_the_board(opened: Callable[..., Page], own_call: Path) -> None:
    path = own_call / "waterway" / "waterway.toml"
    path.write_text(path.read_text().replace("clearance_m = 27.1\n", ""))
    page = opened(f"?call={own_call.name}", wait="main h1")
    page.get_by_role("link", name="Mend it on the drawing board").click()
    page.wait_for_selector(BOARD)
    page.get_by_role("button", name="Lych Bridge", exact=True).first.click()
    clearance = line(page, "Clearance, m, Lych Bridge")
    expect(page.locator("section[aria-labelledby=said-title]")).to_contain_text("a bridge needs its height")
    clearance.fill("27.1")
    clearance.press("Enter")
    expect(page.locator("#said-title ~ .verdict")).to_be_visible()
    saved(page)
    page.get_by_role("link", name="Sheet", exact=True).click()
    page.wait_for_selector(".sheet[aria-busy=false]")


def test_a_server_that_went_away_loses_nothing(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=gate:0")
    page.route("**/api/**", lambda route: route.abort())
    line(page, "Clearance, m, Lych Bridge").fill("26.4")
    line(page, "Clearance, m, Lych Bridge").press("Enter")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".trouble")).to_contain_text("does not answer")
    page.unroute("**/api/**")
    saved(page)
    assert waterway(own_call)["gate"][0]["clearance_m"] == 26.4


def test_the_plane_of_the_page_is_that_of_the_library() -> None:
    """Against PROJ's transverse Mercator, through the library: 60 km about the origin, to a millimetre."""
    places = [(-31.5 + dy, -17.5 + dx) for dy in (-0.5, -0.1, 0.0, 0.31) for dx in (-0.6, -0.05, 0.0, 0.4)]
    script = """
      const { readFileSync } = require('node:fs')
      const { transpileModule, ModuleKind, ScriptTarget } = require('typescript')
      const exports = {}
      const options = { module: ModuleKind.CommonJS, target: ScriptTarget.ES2022 }
      eval(transpileModule(readFileSync('src/board/plane.ts', 'utf8'), { compilerOptions: options }).outputText)
      const plane = new exports.Plane([-31.5, -17.5])
      const places = JSON.parse(readFileSync(0, 'utf8'))
      console.log(JSON.stringify(places.map((one) => [...plane.toPlane(one), ...plane.toEarth(plane.toPlane(one))])))
    """
    run = subprocess.run(
        ["node", "-e", script], cwd=ROOT / "page", input=json.dumps(places), capture_output=True, text=True, check=True
    )
    found = np.array(json.loads(run.stdout))
    x, y = LocalPlane(ORIGIN).to_plane([p[0] for p in places], [p[1] for p in places])
    assert np.allclose(found[:, :2], np.column_stack([x, y]), atol=1e-3, rtol=0.0)
    assert np.allclose(found[:, 2:], places, atol=1e-8, rtol=0.0)


THINGS = ("Heron Point", "Lych Reach", "Lych Bridge", "Tannery Pool", "Ambry Bar stream", "Inner Roads")
WHOLES = ("The waterway", "The call", "The forecast")


def shown_in_turn(page: Page) -> Iterator[str]:
    """Each kind of thing chosen, and then what belongs to no place."""
    for name in (*THINGS, *WHOLES):
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true })")
        page.locator("aside").get_by_role("button", name=re.compile(f"^{name}")).first.click()
        yield name


@pytest.mark.parametrize("look", ["day", "dim", "night"])
def test_axe_finds_nothing_and_no_pixel_is_bright_by_night(
    opened: Callable[..., Page], own_call: Path, look: str
) -> None:
    page = board(opened, own_call, f"&look={look}", viewport=TABLET if look == "dim" else DESK)
    page.evaluate((ROOT / "page/node_modules/axe-core/axe.min.js").read_text())
    for name in shown_in_turn(page):
        found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
        told = [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found["violations"]]
        assert told == [], name
        if look == "night":
            assert 0.15 < brightest(page) <= BRIGHTEST_BY_NIGHT, name


def brightest(page: Page) -> float:
    page.wait_for_timeout(200)  # the paper is drawn in a frame after the words
    pixels = np.asarray(Image.open(io.BytesIO(page.screenshot())).convert("RGB"), dtype=np.float64) / 255.0
    linear = np.where(pixels <= 0.04045, pixels / 12.92, ((pixels + 0.055) / 1.055) ** 2.4)
    return float(np.max(linear @ np.array([0.2126, 0.7152, 0.0722])))


def test_nothing_is_cut_off(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=area:0")
    for width in (420, 800, 1180, 1280, 1600):
        page.set_viewport_size({"width": width, "height": 1100})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_everything_loaded_together_is_small() -> None:
    assets = ROOT / "src/leadsman/web/static/assets"
    packed = [len(gzip.compress(path.read_bytes())) for path in assets.iterdir() if path.suffix in (".js", ".css")]
    assert len(packed) > 4
    assert sum(packed) < 250_000  # bytes; the bound of the page, all its views together


def test_a_finger_moves_a_waypoint_on_a_tablet(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, BEND, viewport=TABLET, has_touch=True)
    x, y = at(page, *HERON)
    session = page.context.new_cdp_session(page)
    for kind, points in (
        ("touchStart", [{"x": x + 12, "y": y}]),
        ("touchMove", [{"x": x + 30, "y": y - 20}]),
        ("touchMove", [{"x": x + 52, "y": y - 20}]),
        ("touchEnd", []),
    ):
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    expect(page.locator("header [role=status]")).to_contain_text("Heron Point moved")
    assert float(line(page, "Latitude, °, Heron Point").input_value()) > HERON[0] + 0.0005


def test_a_rule_of_the_port_is_made_on_the_board(opened: Callable[..., Page], own_call: Path) -> None:
    """What it asks is chosen; another choice takes the place of the first; what is missing is told where it belongs."""
    page = board(opened, own_call, "&thing=waterway")
    before = waterway(own_call).get("rule", [])
    section = page.locator("section[aria-labelledby=waterway-title]")
    section.get_by_text(f"Rules of the port: {len(before)}").click()
    section.get_by_role("button", name="Add to rules of the port").click()
    rule = section.locator("fieldset", has=page.locator("legend", has_text=f"line {len(before) + 1}")).last
    rule.get_by_label("Name", exact=False).first.fill("Bar by day")
    page.keyboard.press("Tab")
    rule = section.locator("fieldset", has=page.locator("legend", has_text="Bar by day")).last
    rule.get_by_label("Source").fill("Harbour directions")
    rule.get_by_label("Reaches").fill("Bar")
    page.keyboard.press("Tab")
    asks = rule.get_by_label("What it asks, and for whom")
    asks.select_option("speed")
    expect(rule.get_by_label("Greatest over ground")).to_be_visible()
    asks.select_option("daylight")
    expect(rule.get_by_label("Greatest over ground")).to_have_count(0)
    light = rule.get_by_label("Light", exact=False).first
    expect(light).to_have_attribute("aria-invalid", "true")
    light.select_option("sun")
    expect(light).to_have_attribute("aria-invalid", "false")
    saved(page)
    assert waterway(own_call)["rule"][len(before) :] == [
        {"name": "Bar by day", "source": "Harbour directions", "reaches": ["Bar"], "daylight": {"light": "sun"}}
    ]
    page.locator("summary", has_text="The way, inward bound").click()
    page.locator("li button", has_text=re.compile(r"^Bar\s*reach$")).click()
    line(page, "Name, Bar").fill("Outer Bar")
    page.keyboard.press("Tab")
    saved(page)
    assert waterway(own_call)["rule"][-1]["reaches"] == ["Outer Bar"], "what speaks of it speaks of it by its new name"


def test_a_secondary_port_and_a_curve_are_typed_on_the_board(opened: Callable[..., Page], own_call: Path) -> None:
    page = board(opened, own_call, "&thing=tide_station:1")
    section = page.locator("section[aria-labelledby=chosen-title]")
    more = section.get_by_label("Say more of Lych Bridge", exact=True)
    more.select_option("offsets")
    offsets = section.locator("fieldset", has=page.locator("legend", has_text="One correction each"))
    offsets.get_by_label("Reference").select_option(waterway(own_call)["tide_station"][0]["name"])
    offsets.get_by_role("button", name="Take out one correction each").click()
    expect(offsets).to_have_count(0)
    more.select_option("secondary")
    secondary = section.locator("fieldset", has=page.locator("legend", has_text="Differences of a secondary port")).first
    secondary.get_by_label("Say more").select_option("high")
    high = secondary.locator("fieldset", has=page.locator("legend", has_text=re.compile("^High$")))
    times = high.get_by_label("Time", exact=False).first
    times.fill("-10 to -25")
    page.keyboard.press("Tab")
    expect(times).to_have_value("-10 to -25")
    page.get_by_role("button", name="Keep it unfinished").click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    assert waterway(own_call)["tide_station"][1]["secondary"]["high"] == {"time_min": [-10, -25]}
    more.select_option("curve")
    curve = section.locator("fieldset", has=page.locator("legend", has_text="Own curve")).first
    curve.get_by_text("Hours from high water: 0").or_(curve.get_by_text("Row: 0")).click()
    curve.get_by_role("button", name=re.compile("^Add to ")).click()
    curve.get_by_label(re.compile("^Hour")).first.fill("-6")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Keep it unfinished").click()
    expect(page.locator("header [role=status]")).to_contain_text("Saved.")
    assert waterway(own_call)["tide_station"][1]["curve"] == {"row": [{"hour": -6}]}
