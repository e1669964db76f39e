"""Sheets and the page's first screen as pictures, compared with pictures kept beside this file and looked at by people.

Everything shown is synthetic, so a picture changes only with the layout. `make pictures` renews them and writes a
contact sheet to look at. A picture is small and grey; ink is compared by squares of four millimetres, so that other
hinting of the letters passes and a missing column does not: both are tried here.
"""

import copy
import io
import os
import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pypdf
import pytest
from PIL import Image
from playwright.sync_api import Browser

from leadsman.assessment.result import Assessment
from leadsman.documents import pack
from leadsman.documents.carried import Rehearsed, said_of
from leadsman.documents.data import assessment_data
from leadsman.documents.holding_data import holding_data
from leadsman.documents.letters import spelt_out
from leadsman.documents.offline import offline_page
from leadsman.record import Record

Data = dict[str, Any]
Build = Callable[..., Assessment]
KEPT = Path(__file__).parent / "pictures"
LOOKED_AT = Path(__file__).parents[2] / "out"
RENEW = os.environ.get("RENEW_PICTURES") == "yes"
SHARP, FINER = 150, 3  # points an inch as typeset, and how many of them become one that is kept
LEVELS = 16  # of grey
SQUARE = 8  # kept points, 4 mm
MOST = 25.0  # of 255: how far the mean ink of a square may differ
SHEETS = {  # name of the picture, how its page begins
    "brief": "Alder Tern",
    "passage": "Passage",
    "strips": "Plan in strips",
    "times": "Early or late",
    "failures": "If something fails",
    "orders": "Orders, rehearsed",
    "holding": "Holding and tugs",
    "exchange": "Exchange",
}


@pytest.fixture(scope="module")
def data(build: Build, held: ModuleType) -> Data:
    return assessment_data(build()) | {"holding": holding_data(held.answer())}


def drawn(data: Data, sailed: ModuleType, sharp: int = SHARP, finer: int = FINER) -> dict[str, Image.Image]:
    """Each sheet as the picture that is kept of it."""
    rehearsed = Rehearsed(sailed.rehearsal(data), sailed.failures(data))
    reader = pypdf.PdfReader(io.BytesIO(pack.pack_pdf(data, rehearsed=rehearsed)))
    bodies = [re.split(r"Revision \S+\s", page.extract_text(), maxsplit=1)[1] for page in reader.pages]
    parts = [spelt_out(part, set()) for part in (data, said_of(data, rehearsed=rehearsed), {})]
    pages = pack.typesetter(*parts, paper="a4").compile(format="png", ppi=sharp)
    first = {name: next(n for n, body in enumerate(bodies) if body.startswith(head)) for name, head in SHEETS.items()}
    return {name: kept_as(Image.open(io.BytesIO(pages[number])), finer) for name, number in first.items()}


def kept_as(picture: Image.Image, finer: int) -> Image.Image:
    step = 256 // LEVELS
    return picture.convert("L").reduce(finer).point(lambda ink: min(ink // step * step + step // 2, 255))


def difference(one: Image.Image, other: Image.Image) -> float:
    """The greatest difference of mean ink in any square, of 255; all of it where the sizes differ."""
    if one.size != other.size:
        return 255.0
    return float(np.abs(squares(one) - squares(other)).max())


def squares(picture: Image.Image) -> np.ndarray[Any, Any]:
    wide, high = picture.size[0] // SQUARE, picture.size[1] // SQUARE
    ink = np.asarray(picture, dtype=float)[: high * SQUARE, : wide * SQUARE]
    return ink.reshape(high, SQUARE, wide, SQUARE).mean(axis=(1, 3))


def compared(name: str, now: Image.Image) -> None:
    """As kept; or, when pictures are renewed, kept from now on."""
    if RENEW:
        KEPT.mkdir(exist_ok=True)
        now.save(KEPT / f"{name}.png", optimize=True)
        return
    kept = Image.open(KEPT / f"{name}.png")
    found = difference(kept, now)
    if found > MOST:
        LOOKED_AT.mkdir(exist_ok=True)
        beside([kept, now]).save(LOOKED_AT / f"picture-{name}.png")
    assert found <= MOST, f"{name} looks otherwise: see out/picture-{name}.png, and `make pictures` if it is right so"


def beside(pictures: list[Image.Image], across: int = 4) -> Image.Image:
    """Pictures on one sheet, so many in a row."""
    wide, high = (max(picture.size[axis] for picture in pictures) + 6 for axis in (0, 1))
    rows = -(-len(pictures) // across)
    sheet = Image.new("L", (wide * min(across, len(pictures)), high * rows), 128)
    for number, picture in enumerate(pictures):
        sheet.paste(picture, (number % across * wide, number // across * high))
    return sheet


@pytest.fixture(scope="module")
def now(data: Data, sailed: ModuleType) -> dict[str, Image.Image]:
    return drawn(data, sailed)


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_looks_as_it_was_when_it_was_looked_at(name: str, now: dict[str, Image.Image]) -> None:
    compared(name, now[name])


@pytest.mark.browser
@pytest.mark.parametrize("look", ["day", "night"])
def test_the_first_screen_of_the_page_looks_as_it_was(
    look: str, data: Data, sailed: ModuleType, chromium: Browser, tmp_path: Path
) -> None:
    file = tmp_path / "pack.html"
    file.write_text(offline_page(data, Record(), Rehearsed(sailed.rehearsal(data))), encoding="utf-8")
    with chromium.new_context(offline=True, viewport={"width": 800, "height": 1100}) as context:
        page = context.new_page()
        page.goto(file.as_uri())
        page.locator(f"#{look}").check()
        compared(f"page-{look}", kept_as(Image.open(io.BytesIO(page.screenshot())), 2))


def without_distances(data: Data) -> None:
    for leg in data["legs"]:
        leg["distance"]["text"] = ""


def without_water(data: Data) -> None:
    data["plan"]["areas"] = []


def without_window(data: Data) -> None:
    data["nearest_window"] = None


def without_forces(data: Data) -> None:
    for place in data["holding"]["places"]:
        place["drawing"]["arrows"] = []


def without_binding(data: Data) -> None:
    for one in data["around"]:
        one["binding"] |= {"limit_text": "", "place": "", "time": {"clock": ""}}


BROKEN = {  # what is taken away, and the sheets that must be seen to lack it
    "a column of the passage": (without_distances, ["passage"]),
    "the water of the plan": (without_water, ["passage", "strips"]),
    "the window": (without_window, ["brief"]),
    "the forces on her": (without_forces, ["holding"]),
    "a column of the times": (without_binding, ["times"]),
}


@pytest.mark.parametrize(("taken", "sheets"), BROKEN.values(), ids=BROKEN.keys())
def test_what_is_taken_away_is_missed(
    taken: Callable[[Data], None], sheets: list[str], data: Data, now: dict[str, Image.Image], sailed: ModuleType
) -> None:
    broken = copy.deepcopy(data)
    taken(broken)
    seen = drawn(broken, sailed)
    for name in sheets:
        assert difference(now[name], seen[name]) > MOST, f"{name} must not pass"


def test_a_column_of_orders_is_missed(data: Data, now: dict[str, Image.Image], sailed: ModuleType) -> None:
    class WithoutTugs:
        failures = staticmethod(sailed.failures)

        @staticmethod
        def rehearsal(data: Data) -> Data:
            found: Data = sailed.rehearsal(data)
            found["planned"]["orders"] = [one for one in found["planned"]["orders"] if one["kind"] != "tug"]
            return found

    assert difference(now["orders"], drawn(data, WithoutTugs)["orders"]) > MOST  # type: ignore[arg-type]


def test_other_hinting_passes(data: Data, now: dict[str, Image.Image], sailed: ModuleType) -> None:
    """Typeset a third sharper and brought to the same size: every edge falls on other points."""
    for name, picture in drawn(data, sailed, sharp=200, finer=4).items():
        assert difference(now[name], picture.resize(now[name].size)) < MOST, name


@pytest.mark.skipif(not RENEW, reason="only when pictures are renewed")
def test_a_contact_sheet_of_the_renewed_pictures() -> None:
    LOOKED_AT.mkdir(exist_ok=True)
    beside([Image.open(file) for file in sorted(KEPT.glob("*.png"))]).save(LOOKED_AT / "pictures.png")
