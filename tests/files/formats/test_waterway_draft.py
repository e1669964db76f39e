"""From an invented cell, a route and a table of tides to a draft, its questions, its files, and a waterway once answered."""

import re
from pathlib import Path

import numpy as np
import pytest
import shapely
from s57_cell import Cell

from leadsman.errors import Impossible, InputError
from leadsman.files.answers import Answers
from leadsman.files.explain import shaped
from leadsman.files.folder import open_folder
from leadsman.files.formats import s57, tide_csv, waterway_draft
from leadsman.files.formats.draft_areas import polygon_of
from leadsman.files.formats.draft_files import files_of
from leadsman.files.formats.draft_track import reach_widths
from leadsman.files.formats.records import ChartCell, Route, RouteWaypoint
from leadsman.files.formats.waterway_draft import Fairway, WaterwayDraft
from leadsman.files.toml_file import read_toml
from leadsman.files.waterway_file import WaterwayShape, waterway_from
from leadsman.geometry import Position
from leadsman.waterway import DepthArea, GateKind, Waterway

SOUTH, WEST = -30.5, -120.5  # mid-ocean, invented
NORTH_M = 1.0 / 110_860.0  # degrees a metre northward at 30.5 south: meridian arc, WGS 84 (within 0.1 %)
EAST_M = 1.0 / 95_980.0  # degrees a metre eastward there


def at(north: float, east: float) -> tuple[float, float]:
    """(latitude, longitude) so many metres from the corner of the invented water."""
    return SOUTH + north * NORTH_M, WEST + east * EAST_M


def box(south: float, west: float, north: float, east: float) -> list[tuple[float, float]]:
    return [at(south, west), at(south, east), at(north, east), at(north, west)]


def river() -> Cell:
    """A straight channel northward, 200 m wide about east = 500 m, with everything that gives a question."""
    cell = Cell("XX5RIVER", scale=8_000, vertical_datum=17, sounding_datum=23)
    cell.area("DEPARE", box(0, 400, 4000, 600), [box(1900, 480, 2000, 520)], DRVAL1=8.0, DRVAL2=12.0)
    cell.area("DEPARE", box(1900, 480, 2000, 520), DRVAL1=5.0, DRVAL2=8.0)
    cell.area("DEPARE", box(0, 0, 4000, 400), DRVAL2=2.0)
    cell.area("UNSARE", box(0, 600, 4000, 700))
    cell.area("LNDARE", box(0, 700, 4000, 1000), OBJNAM="East Bank")
    cell.area("FAIRWY", box(-10, 420, 4010, 590), OBJNAM="River Channel", DRVAL1=8.0, ORIENT=0)
    cell.line(
        "BRIDGE", [at(1000, 300), at(1000, 700)], CATBRG="1", VERCLR=31.0, HORCLR=120, VERACC=0.2, OBJNAM="Old Bridge"
    )
    cell.line(
        "BRIDGE",
        [at(1500, 300), at(1500, 700)],
        CATBRG="5",
        VERCCL=4.0,
        VERCOP=60.0,
        VERDAT=30,
        OBJNAM="Lifting Bridge",
    )
    cell.line("BRIDGE", [at(1600, 300), at(1600, 700)], CATBRG="1", OBJNAM="Silent Bridge")
    cell.line("CBLOHD", [at(2500, 300), at(2500, 700)], VERCLR=40.0, VERCSA=36.0, OBJNAM="Power Cable")
    cell.line("CBLOHD", [at(2600, 300), at(2600, 700)], VERCLR=45.0)
    cell.line("GATCON", [at(3800, 400), at(3800, 600)], DRVAL1=6.5, HORCLR=50, OBJNAM="Sea Lock")
    cell.point("OBSTRN", *at(700, 560), VALSOU=6.1, WATLEV=3)
    cell.point("WRECKS", *at(800, 440), WATLEV=3, OBJNAM="Unnamed Barge")
    cell.point("UWTROC", *at(900, 450), VALSOU=3.0, VERDAT=12)
    cell.point("PILPNT", *at(600, 580))
    cell.point("LNDARE", *at(650, 430), OBJNAM="Islet")
    cell.point("MORFAC", *at(3600, 590), CATMOR=1)
    cell.soundings([(*at(300, 500), 9.0), (*at(400, 500), 7.2)])
    cell.point("BOYLAT", *at(100, 420), CATLAM=1, COLOUR="3", OBJNAM="No 1")
    cell.point("BOYLAT", *at(300, 590), CATLAM=2, COLOUR="4", OBJNAM="No 1")
    cell.point("BCNCAR", *at(500, 600), CATCAM=2, COLOUR="2,6,2")
    cell.line("NAVLNE", [at(0, 500), at(4000, 500)], ORIENT=0.5, CATNAV=3)
    cell.line("BERTHS", [at(3500, 600), at(3700, 600)], OBJNAM="Grain Quay", DRVAL1=9.5)
    cell.point("BERTHS", *at(3600, 400), OBJNAM="West Dolphin")
    cell.area("MAGVAR", box(0, 0, 4000, 1000), VALMAG=-12.5, RYRMGV="2020", VALACM=6)
    cell.area("M_QUAL", box(-100, -100, 2100, 1100), CATZOC=2)
    cell.area("M_QUAL", box(2100, -100, 4100, 1100), CATZOC=6)
    cell.area("M_COVR", box(-100, -100, 4100, 1100), CATCOV=1)
    return cell


def route(*places: tuple[float, float], radius: float | None = 400.0) -> Route:
    points = [
        RouteWaypoint(identifier=number, position=Position(*at(*place)), turn_radius=radius)
        for number, place in enumerate(places, start=1)
    ]
    return Route(name="inward", waypoints=tuple(points))


INWARD = route((50, 500), (2000, 505), (3900, 500))


@pytest.fixture(scope="module")
def cell(tmp_path_factory: pytest.TempPathFactory) -> ChartCell:
    return s57.read(river().write(tmp_path_factory.mktemp("river") / "XX5RIVER.000"))


@pytest.fixture(scope="module")
def drafted(cell: ChartCell) -> WaterwayDraft:
    return waterway_draft.draft(cell, along=INWARD)


def at_place(drafted: WaterwayDraft, north: float, east: float) -> list[DepthArea]:
    latitude, longitude = at(north, east)
    return [area for area in drafted.areas if polygon_of(area).covers(shapely.Point(longitude, latitude))]


def asked(drafted: WaterwayDraft, subject: str) -> str:
    return " | ".join(question.sentence for question in drafted.questions if question.subject == subject)


@pytest.mark.parametrize(
    ("north", "east", "expected", "origin"),
    [
        (1200, 500, [8.0], "the shallow end of its area"),
        (1950, 500, [5.0], "the hole is not the area around it"),
        (1200, 200, [None], "no shallow end: blocks"),
        (1200, 650, [None], "unsurveyed: blocks"),
        (1200, 800, [None], "land: blocks"),
        (700, 560, [6.1, 8.0], "obstruction of charted depth"),
        (700, 578, [6.1, 8.0], "18 m off it, within the 20 m of zone A2"),
        (700, 535, [8.0], "25 m off it"),
        (800, 440, [None, 8.0], "wreck without depth: blocks"),
        (900, 450, [None, 8.0], "rock of another datum: blocks until converted"),
        (600, 580, [None, 8.0], "a pile blocks"),
        (650, 430, [None, 8.0], "land charted as a point blocks"),
        (300, 500, [8.0], "a deeper sounding changes nothing"),
        (400, 500, [7.2, 8.0], "a shallower sounding has its own area"),
    ],
)
def test_depths(drafted: WaterwayDraft, north: float, east: float, expected: list[float | None], origin: str) -> None:
    found = sorted(
        (area.depth for area in at_place(drafted, north, east)), key=lambda depth: -99.0 if depth is None else depth
    )
    assert found == expected, origin


def test_uncertainty_comes_from_the_worst_zone_touched(drafted: WaterwayDraft) -> None:
    """A2 for the small area: 1.00 m + 2 % of 5 m [memory]; the long one reaches into a zone that promises nothing."""
    by_depth = {area.depth: area.uncertainty for area in drafted.areas if area.name.startswith("depth area")}
    assert by_depth[5.0] == pytest.approx(1.10)
    assert by_depth[8.0] is None
    assert "1 objects lie where the chart promises no accuracy of depth" in asked(drafted, "quality of the chart")


def test_gates(drafted: WaterwayDraft) -> None:
    gates = {gate.name: gate for gate in drafted.gates}
    old = gates["Old Bridge"]
    assert (old.kind, old.clearance_datum) == (GateKind.BRIDGE, "MHWS")  # the cell's datum, 17
    assert old.clearance == pytest.approx(31.0 - 0.2)  # charted height less its accuracy, by hand
    assert gates["Old Bridge, width"].width == 120.0
    assert (gates["Lifting Bridge"].clearance, gates["Lifting Bridge"].clearance_datum) == (4.0, "HAT")
    assert (gates["Power Cable"].kind, gates["Power Cable"].clearance) == (GateKind.CABLE, 36.0)
    assert gates["Sea Lock, sill"].depth == 6.5
    assert gates["Sea Lock, width"].width == 50.0
    assert "Silent Bridge" not in gates
    assert drafted.datums_needed == ("HAT", "MHWS")
    assert old.source.startswith("XX5RIVER edition 1 update 0, BRIDGE FFFF")


def test_a_gate_stands_where_the_route_meets_it(drafted: WaterwayDraft) -> None:
    """By hand: the first reach goes 5 m to the east in 1950 m, so at 1000 m north she is 2.4 m east of 500 m."""
    place = next(gate.position for gate in drafted.gates if gate.name == "Old Bridge")
    assert (place.latitude - SOUTH) / NORTH_M == pytest.approx(1000.0, abs=0.5)
    assert (place.longitude - WEST) / EAST_M == pytest.approx(500.0 + 5.0 * 950.0 / 1950.0, abs=0.5)


@pytest.mark.parametrize(
    ("subject", "sentence"),
    [
        ("Lifting Bridge", "opens to 60 m; the draft counts it as closed"),
        ("Silent Bridge", "has no height in the cell: it is NOT in the draft"),
        ("Unnamed Barge", "has no depth (VALSOU); it blocks"),
        ("shore and moorings", "quays, breakwaters, dolphins or mooring buoys are charted here (1 in all)"),
        ("Grain Quay", "give which side of the ship lies to it"),
        ("West Dolphin", "give the two ends of its face, the depth alongside, which side"),
        ("magnetic variation", "is -12.5 degrees for 2020; bring it up to date"),
    ],
)
def test_questions(drafted: WaterwayDraft, subject: str, sentence: str) -> None:
    assert sentence in asked(drafted, subject)


def test_an_unnamed_cable_asks_for_electricity(drafted: WaterwayDraft) -> None:
    (name,) = [gate.name for gate in drafted.gates if gate.clearance == 45.0]
    assert "ask its owner for the electrical safety distance" in asked(drafted, name)


def test_marks(drafted: WaterwayDraft) -> None:
    marks = {mark.name: mark for mark in drafted.marks}
    assert (marks["No 1"].kind, marks["No 1"].description) == ("buoy", "port-hand, red")
    assert marks["No 1 (2)"].description == "starboard-hand, green"
    assert any(mark.description == "east cardinal, black-yellow-black" for mark in drafted.marks)
    assert any(mark.description == "leading line, 000.5 degrees true" for mark in drafted.marks)


def test_berths_and_variation(drafted: WaterwayDraft) -> None:
    grain, dolphin = drafted.berths
    assert grain.depth == 9.5
    assert grain.begin is not None
    assert grain.begin.latitude == pytest.approx(at(3500, 600)[0])
    assert (dolphin.begin, dolphin.depth) == (None, None)
    assert drafted.magnetic_variation == pytest.approx(np.radians(-12.5))


def test_a_route_that_leaves_the_cell(cell: ChartCell) -> None:
    away = waterway_draft.draft(cell, along=route((50, 500), (9000, 500)))
    assert asked(away, "coverage") == "the route leaves the waters this cell covers; another cell is needed"


def test_only_what_lies_along_the_route_is_taken(cell: ChartCell) -> None:
    near = waterway_draft.draft(cell, along=route((50, 500), (600, 500)), corridor=300.0)
    assert near.gates == ()
    assert {mark.name for mark in near.marks} >= {"No 1", "No 1 (2)"}
    bridges, width_of_one, cables, lock = 3 - 1, 1, 2, 2  # one bridge has no height; the lock has sill and width
    assert len(waterway_draft.draft(cell).gates) == bridges + width_of_one + cables + lock


def test_widths_of_reaches() -> None:
    """By hand: the channel lies from 420 to 590 m, the track at 500 m: 80 m to port and 90 m to starboard."""
    (x0, y0), (x1, y1) = at(-10, 420), at(4010, 590)
    ring = (Position(x0, y0), Position(x0, y1), Position(x1, y1), Position(x1, y0))
    fairway = Fairway(name="f", ring=ring, least_depth=None, orientation=None)
    inward = route((50, 500), (3000, 500))
    ((port, starboard),) = reach_widths(inward, [fairway])
    assert port == pytest.approx(80.0, rel=2e-3)
    assert starboard == pytest.approx(90.0, rel=2e-3)
    ((starboard_out, port_out),) = reach_widths(route((3000, 500), (50, 500)), [fairway])
    assert (port_out, starboard_out) == pytest.approx((port, starboard), rel=1e-6)
    assert reach_widths(route((50, 500), (5000, 500)), [fairway]) == [(None, None)]
    assert reach_widths(inward, []) == [(None, None)]


TIDES = """# station: Invented Roads
# datum: LAT
# latitude: -30.49
# longitude: -120.49
time,height_m
2031-05-04T00:10Z,5.1
2031-05-04T06:20Z,0.8
2031-05-04T12:35Z,5.3
"""

FILLED_IN = {
    r"# channel = \?.*": 'channel = "open"',
    r'# "MHWS" = \?.*': '"MHWS" = 4.6',
    r'# "HAT" = \?.*': '"HAT" = 5.9',
    r"# clearance_m = \?.*": "clearance_m = 33",
    r"# clearance_datum = \?.*": 'clearance_datum = "MHWS"',
    r"# electrical_distance_m = \?.*": "electrical_distance_m = 4",
}


def read_waterway(folder: Path) -> tuple[Waterway | None, list[InputError]]:
    errors: list[InputError] = []
    opened = open_folder(folder)
    file = read_toml(opened, "waterway/waterway.toml")
    shape = shaped(file, WaterwayShape, errors)
    return (None if shape is None else waterway_from(opened, file, shape, errors)), errors


def test_files_become_a_waterway_once_the_questions_are_answered(drafted: WaterwayDraft, tmp_path: Path) -> None:
    (tmp_path / "tides.csv").write_text(TIDES)
    tide = tide_csv.read_high_low(tmp_path / "tides.csv")
    folder = tmp_path / "call" / "waterway"
    folder.mkdir(parents=True)
    for name, content in files_of(drafted, name="River", route=INWARD, tide=tide).items():
        (folder / name).write_bytes(content)
    waterway, errors = read_waterway(tmp_path / "call")
    assert waterway is None
    assert any(error.field.endswith("channel") for error in errors)
    text = (folder / "waterway.toml").read_text()
    for question, answer in FILLED_IN.items():
        text = re.sub(question, answer, text)
    (folder / "waterway.toml").write_text(text)
    waterway, errors = read_waterway(tmp_path / "call")
    assert errors == []
    assert waterway is not None
    assert len(waterway.areas) == len(drafted.areas)
    assert [gate.name for gate in waterway.gates] == [*(gate.name for gate in drafted.gates), "Silent Bridge"]
    assert waterway.tide_stations[0].table[0][1] == 5.1
    assert waterway.reaches[0].width_port == pytest.approx(80.0, abs=0.5)
    assert waterway.reaches[0].width_starboard == pytest.approx(85.0, abs=0.5)  # least at its end, 505 m east
    assert "1. " in text


def test_tides_of_another_datum_are_not_mixed_in(drafted: WaterwayDraft, tmp_path: Path) -> None:
    (tmp_path / "tides.csv").write_text(TIDES.replace("LAT", "MLLW"))
    tide = tide_csv.read_high_low(tmp_path / "tides.csv")
    assert "tide.csv" not in files_of(drafted, name="River", tide=tide)
    answers = Answers({"MLLW_above_chart_datum_m": "0.3"})
    found = files_of(drafted, name="River", tide=tide, answers=answers)["tide.csv"].decode()
    assert found.splitlines()[1:3] == ["2031-05-04T00:10:00Z,5.4", "2031-05-04T06:20:00Z,1.1"]  # 5.1, 0.8, by hand


def test_names_of_unknown_hands_stay_on_their_line(tmp_path: Path) -> None:
    cell = Cell("XX5RIVER", vertical_datum=17)
    cell.area("DEPARE", box(0, 400, 4000, 600), DRVAL1=8.0, DRVAL2=12.0)
    cell.line("BRIDGE", [at(1000, 300), at(1000, 700)], OBJNAM='Evil"\n[[gate]]\nname = "x')
    cell.line("BRIDGE", [at(1000, 300), at(1000, 700)], VERCLR=30, OBJNAM='Evil"\r\n[[gate]]\nname = "x')
    drafted = waterway_draft.draft(s57.read(cell.write(tmp_path / "XX5RIVER.000")))
    text = files_of(drafted, name="a\nb")["waterway.toml"].decode()
    assert text.count("\n[[gate]]\n") == 2  # one with its height, one that asks for it
    assert '\nname = "a b"\n' in text


def test_a_route_over_the_antimeridian_is_refused(cell: ChartCell) -> None:
    points = tuple(
        RouteWaypoint(identifier=number, position=Position(0.0, longitude))
        for number, longitude in ((1, 179.9), (2, -179.9))
    )
    with pytest.raises(Impossible, match="route: crosses the antimeridian after waypoint 1"):
        waterway_draft.draft(cell, along=Route(name="r", waypoints=points))


def test_an_empty_cell_is_no_waterway(tmp_path: Path) -> None:
    cell = Cell("XX5EMPTY")
    cell.point("LIGHTS", *at(0, 0))
    with pytest.raises(Impossible, match="'XX5EMPTY' holds nothing that a waterway is made of"):
        waterway_draft.draft(s57.read(cell.write(tmp_path / "XX5EMPTY.000")))
