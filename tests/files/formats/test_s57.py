"""Cells of our own builder through GDAL and back; every expected value is what the builder was given.

Builder and test have one author; the independent party is GDAL, with the IHO tables it carries.
"""

import csv
from pathlib import Path

import numpy as np
import pytest
import shapely
from s57_cell import AREA, ATTRIBUTES, DATA, LINE, POINT, Cell

from leadsman.errors import InputErrors
from leadsman.files.formats import datums, quality, s57
from leadsman.files.formats.isolated import Limits
from leadsman.files.formats.records import ChartCell


def square(latitude: float, longitude: float, half: float) -> list[tuple[float, float]]:
    return [
        (latitude - half, longitude - half),
        (latitude - half, longitude + half),
        (latitude + half, longitude + half),
        (latitude + half, longitude - half),
    ]


@pytest.fixture(scope="module")
def cell_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An invented cell with a hole, edges shared by neighbours, an update that changes, deletes and adds."""
    base = Cell(scale=12_000, vertical_datum=30, sounding_datum=23)
    holed = base.area("DEPARE", square(0.0, 0.0, 0.1), [square(0.0, 0.0, 0.02)], DRVAL1=10, DRVAL2=20, QUASOU="6,10")
    south, north = base.node(0.2, 0.2), base.node(0.4, 0.2)
    shared = base.edge(south, north)
    east = base.edge(north, south, [(0.4, 0.4), (0.2, 0.4)])
    west = base.edge(south, north, [(0.2, 0.1), (0.4, 0.1)])
    base.feature("DEPARE", AREA, [(shared, 1, 1), (east, 1, 1)], {"DRVAL1": -1.5, "DRVAL2": 5})
    base.feature("DRGARE", AREA, [(shared, 2, 1), (west, 1, 1)], {"DRVAL1": 15})
    base.area("UNSARE", square(0.6, 0.6, 0.05))
    base.line("DEPCNT", [(0.0, 0.0), (0.1, 0.1), (0.1, 0.2)], VALDCO=10)
    base.area("FAIRWY", square(0.0, 0.0, 0.05), OBJNAM="Outer Fairway", ORIENT=45, TRAFIC=4)
    base.line("BRIDGE", [(0.05, -0.1), (0.05, 0.1)], CATBRG="5", VERCLR=32.5, VERCCL=3, VERDAT=17, OBJNAM="High Bridge")
    gone = base.point("BOYLAT", 0.01, 0.01, BOYSHP=2, CATLAM=1, COLOUR="4,1", OBJNAM="No 1")
    base.point("OBSTRN", 0.03, 0.03, VALSOU=4.2, WATLEV=3, CATOBS=6)
    base.area("M_QUAL", square(0.0, 0.0, 1.0), CATZOC=3)
    base.area("M_COVR", square(0.0, 0.0, 1.0), CATCOV=1)
    base.point("LIGHTS", 0.01, 0.01)
    base.soundings([(0.05, 0.05, 12.3), (0.05, 0.06, -1.4)], QUASOU="6")
    folder = tmp_path_factory.mktemp("cell")
    update = Cell(update=1, after=base)
    update.change("DEPARE", AREA, holed, 2, DRVAL1=8)
    update.delete("BOYLAT", POINT, gone, 2)
    update.point("BCNLAT", 0.02, 0.02, BCNSHP=1, CATLAM=2, OBJNAM="No 2")
    update.write(folder / "XX5DEMO1.001")
    return base.write(folder / "XX5DEMO1.000")


@pytest.fixture(scope="module")
def cell(cell_file: Path) -> ChartCell:
    return s57.read(cell_file)


def test_what_the_cell_says_of_itself(cell: ChartCell) -> None:
    assert (cell.name, cell.edition, cell.update, cell.scale) == ("XX5DEMO1", 1, 1, 12_000)
    assert (cell.sounding_datum, cell.vertical_datum) == ("LAT", "HAT")  # codes 23 and 30
    assert cell.issued is not None
    assert cell.issued.isoformat() == "2026-01-01"


def test_classes_not_read_are_named(cell: ChartCell) -> None:
    assert cell.notes == ("classes not taken: LIGHTS",)


def test_a_hole_stays_a_hole(cell: ChartCell) -> None:
    holed = cell.of("DEPARE")[0]
    assert holed.geometry.area == pytest.approx(0.2**2 - 0.04**2)  # by hand, in square degrees
    assert not holed.geometry.contains(shapely.Point(0.0, 0.0))


def test_neighbours_share_an_edge(cell: ChartCell) -> None:
    other, dredged = cell.of("DEPARE")[1], cell.of("DRGARE")[0]
    assert other.geometry.area == pytest.approx(0.04)
    assert dredged.geometry.area == pytest.approx(0.02)
    assert other.geometry.intersection(dredged.geometry).length == pytest.approx(0.2)


def test_update_changes_deletes_and_adds(cell: ChartCell) -> None:
    assert cell.of("DEPARE")[0].attributes["DRVAL1"] == 8.0
    assert cell.of("DEPARE")[0].attributes["DRVAL2"] == 20.0
    assert cell.of("BOYLAT") == ()
    assert [mark.name for mark in cell.of("BCNLAT")] == ["No 2"]


def test_attributes_keep_type_and_absence(cell: ChartCell) -> None:
    bridge = cell.of("BRIDGE")[0]
    assert bridge.attributes == {
        "CATBRG": (5,), "VERCLR": 32.5, "VERCCL": 3.0, "VERDAT": 17, "OBJNAM": "High Bridge",
    }  # fmt: skip
    assert bridge.number("VERCOP") is None
    assert cell.of("DEPARE")[1].number("DRVAL1") == -1.5
    assert cell.of("DEPARE")[0].attributes["QUASOU"] == (6, 10)
    assert cell.of("UNSARE")[0].attributes == {}


def test_soundings(cell: ChartCell) -> None:
    assert cell.soundings is not None
    np.testing.assert_allclose(cell.soundings.depth, [12.3, -1.4])
    np.testing.assert_allclose(cell.soundings.latitude, [0.05, 0.05])
    np.testing.assert_allclose(cell.soundings.longitude, [0.05, 0.06])
    assert (cell.soundings.datum, cell.soundings.quality) == ("LAT", ("6", "6"))


def test_every_class_and_attribute_read_stands_in_the_tables_of_the_iho() -> None:
    with (DATA / "s57objectclasses.csv").open(encoding="latin-1") as stream:
        rows = {row["Acronym"]: row for row in csv.DictReader(stream)}
    for kind, attributes in s57.classes().items():
        allowed = {name for column in "ABC" for name in rows[kind][f"Attribute_{column}"].split(";")}
        assert set(attributes) <= allowed, kind


def test_datum_codes_are_those_of_the_iho() -> None:
    with (DATA / "s57expectedinput.csv").open(encoding="latin-1") as stream:
        meanings = {
            int(row["ID"]): row["Meaning"] for row in csv.DictReader(stream) if row["Code"] == str(ATTRIBUTES["VERDAT"])
        }
    assert len(meanings) == 29  # 30 (HAT) is younger than GDAL's table
    for code, meaning in meanings.items():
        ours = datums.datums()[code].meaning
        assert ours.replace("large", "lage") == meaning.replace("large", "lage")  # the table misspells code 28


def test_zones_are_those_of_the_iho() -> None:
    with (DATA / "s57expectedinput.csv").open(encoding="latin-1") as stream:
        rows = [row for row in csv.DictReader(stream) if row["Code"] == str(ATTRIBUTES["CATZOC"])]
    for row in rows:
        assert quality.ZONES[int(row["ID"])].name in row["Meaning"].upper()


@pytest.mark.parametrize(
    ("code", "depth", "expected", "origin"),
    [
        (1, 10.0, 0.60, "A1: 0.50 m + 1 % of 10 m; water.md 3.5 [memory]"),
        (2, 10.0, 1.20, "A2: 1.00 m + 2 %; water.md 3.5 [memory]"),
        (3, 10.0, 1.20, "B: 1.00 m + 2 %; water.md 3.5 [memory]"),
        (4, 10.0, 2.50, "C: 2.00 m + 5 %; water.md 3.5 [memory]"),
        (4, -2.0, 2.00, "C where it dries: the constant alone"),
        (5, 10.0, None, "D promises nothing"),
        (6, 10.0, None, "U promises nothing"),
    ],
)
def test_zone_of_confidence(code: int, depth: float, expected: float | None, origin: str) -> None:
    assert quality.ZONES[code].depth_uncertainty(depth) == pytest.approx(expected), origin


def simple(**options: int) -> Cell:
    cell = Cell(**options)  # type: ignore[arg-type]
    cell.area("DEPARE", square(0.0, 0.0, 0.1), DRVAL1=10, DRVAL2=20)
    return cell


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"horizontal_datum": 5}, r"horizontal datum \(HDAT\): is 5; expected 2, WGS 84"),
        ({"depth_unit": 3}, r"depth unit \(DUNI\): is 3; expected 1, metres"),
        ({"height_unit": 2}, r"height unit \(HUNI\): is 2; expected 1, metres"),
        ({"sounding_datum": 99}, r"sounding datum \(SDAT\): is 99, which is no datum"),
    ],
)
def test_another_datum_or_unit_is_refused_by_name(tmp_path: Path, options: dict[str, int], sentence: str) -> None:
    with pytest.raises(InputErrors, match=sentence):
        s57.read(simple(**options).write(tmp_path / "XX5DEMO2.000"))


def test_all_faults_of_the_head_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as caught:
        s57.read(simple(horizontal_datum=5, depth_unit=3).write(tmp_path / "XX5DEMO2.000"))
    assert len(caught.value.errors) == 2


def test_a_cut_cell_is_refused_wherever_it_is_cut(tmp_path: Path) -> None:
    whole = simple().bytes()
    for length in range(1, len(whole), 97):
        (tmp_path / "XX5DEMO2.000").write_bytes(whole[:length])
        with pytest.raises(InputErrors, match=r"damaged|cut|DSID"):
            s57.identity(tmp_path / "XX5DEMO2.000", 1_000_000)


def test_a_cell_that_lost_any_one_record_is_refused(tmp_path: Path) -> None:
    """The frame is whole then; the cell's own count of its records is not."""
    whole = simple()
    for index in range(1, len(whole.records)):
        cell = simple()
        del cell.records[index]
        with pytest.raises(InputErrors, match=r"holds \d+ \w+( \w+)?, but says it has \d+: part of it is lost"):
            s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_a_depth_area_without_its_edge_is_refused(tmp_path: Path) -> None:
    cell = simple()
    cell.feature("DEPARE", AREA, [((130, 77), 1, 1)], {"DRVAL1": 5})
    with pytest.raises(InputErrors, match="DEPARE FFFF000000020001: has no place; the cell is damaged"):
        s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_updates_are_checked(tmp_path: Path) -> None:
    file = simple().write(tmp_path / "XX5DEMO3.000")
    Cell(update=2).write(tmp_path / "XX5DEMO3.002")
    with pytest.raises(InputErrors, match="update 001 is missing, though update 002 lies beside it"):
        s57.read(file)
    Cell(update=1, edition="7").write(tmp_path / "XX5DEMO3.001")
    with pytest.raises(InputErrors, match="says it is update 1 of edition 7; expected update 1 of edition 1"):
        s57.read(file)
    Cell(update=1, edition="0").write(tmp_path / "XX5DEMO3.001")
    with pytest.raises(InputErrors, match="is cancelled by update 001"):
        s57.read(file)
    with pytest.raises(InputErrors, match="is not the base of a cell"):
        s57.read(tmp_path / "XX5DEMO3.001")
    with pytest.raises(InputErrors, match="says it is update 2; expected the base cell"):
        s57.read(Cell(update=2).write(tmp_path / "XX5DEMO4.000"))


@pytest.mark.parametrize(
    ("kind", "attributes", "sentence"),
    [
        ("OBSTRN", {"VALSOU": 1e9}, "VALSOU is 1e.09; expected -50 to 12000"),
        ("BRIDGE", {"VERCLR": -3}, "VERCLR is -3; expected 0 to 500"),
    ],
)
def test_impossible_numbers_are_refused(
    tmp_path: Path, kind: str, attributes: dict[str, object], sentence: str
) -> None:
    cell = simple()
    cell.point(kind, 0.0, 0.0, **attributes)
    with pytest.raises(InputErrors, match=sentence):
        s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_shallow_and_deep_end_swapped(tmp_path: Path) -> None:
    cell = simple()
    cell.area("DEPARE", square(0.5, 0.5, 0.1), DRVAL1=20, DRVAL2=10)
    with pytest.raises(InputErrors, match="its shallow end 20 lies below its deep end 10"):
        s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_soundings_of_another_datum_are_left_out_with_a_note(tmp_path: Path) -> None:
    cell = simple()
    cell.soundings([(0.0, 0.0, 5.0)], VERDAT=3)
    cell.soundings([(0.0, 0.0, 6.0)])
    read = s57.read(cell.write(tmp_path / "XX5DEMO2.000"))
    assert read.soundings is not None
    assert list(read.soundings.depth) == [6.0]
    assert read.notes == ("SOUNDG FFFF000000020001 was left out: its datum is MSL, not LAT",)


def test_absurd_sounding_is_refused(tmp_path: Path) -> None:
    cell = simple()
    cell.soundings([(0.0, 0.0, 20_000.0)])
    with pytest.raises(InputErrors, match="SOUNDG: holds soundings that are missing or beyond -50 to 12000 m"):
        s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_pointers_in_a_circle_end_in_a_sentence(tmp_path: Path) -> None:
    """Edges that point at edges, features that point at each other and at themselves, a feature of a feature."""
    cell = simple()
    cell.edge((130, 2), (130, 3))
    cell.edge((130, 3), (130, 2))
    cell.feature("DEPARE", AREA, [((130, 2), 1, 1), ((130, 3), 1, 1)], {"DRVAL1": 1}, related=[2, 3])
    cell.feature("DEPCNT", LINE, [((100, 3), 1, 1)], {"VALDCO": 1}, related=[2, 3])
    with pytest.raises(InputErrors, match="DEPARE FFFF000000020001: has no place"):
        s57.read(cell.write(tmp_path / "XX5DEMO2.000"))


def test_national_text_does_no_harm(tmp_path: Path) -> None:
    cell = simple()
    node = cell.node(0.01, 0.01, 110)
    cell.feature("BOYLAT", POINT, [(node, 255, 255)], {"OBJNAM": "Nord"}, national={"NOBJNM": "Ærø Øst"})
    assert s57.read(cell.write(tmp_path / "XX5DEMO2.000")).of("BOYLAT")[0].name == "Nord"


@pytest.mark.parametrize(
    ("limits", "sentence"),
    [
        (Limits(file=100), "at most 0 MB are read"),
        (Limits(seconds=0), "took longer than 0 s to read"),
        (Limits(memory=60_000_000), "memory|broke its reader|cannot be read"),
        (Limits(features=2), "holds more than 2 features"),
        (Limits(answer=50), "broke its reader|cannot be read"),
    ],
)
def test_limits_of_the_separate_process(cell_file: Path, limits: Limits, sentence: str) -> None:
    with pytest.raises(InputErrors, match=sentence):
        s57.read(cell_file, limits=limits)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "is empty"),
        (b"not a cell at all, but long enough to be one", "no readable leader"),
        (b"\x00" * 500, "leader"),
    ],
)
def test_other_files(tmp_path: Path, content: bytes, sentence: str) -> None:
    (tmp_path / "XX5DEMO9.000").write_bytes(content)
    with pytest.raises(InputErrors, match=sentence):
        s57.read(tmp_path / "XX5DEMO9.000")


def test_no_file_and_a_folder(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match=r"XX5DEMO9.000: cannot be read: No such file"):
        s57.read(tmp_path / "XX5DEMO9.000")
    (tmp_path / "XX5DEMO8.000").mkdir()
    with pytest.raises(InputErrors, match="is not a file"):
        s57.read(tmp_path / "XX5DEMO8.000")
