"""Every way a mariner's files can be wrong, and the sentence that is said about it."""

import json
import os
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from leadsman.assessment.prepare import prepare
from leadsman.errors import CannotCompute, InputErrors
from leadsman.files.call_files import read_call, read_ship
from leadsman.files.folder import MAXIMUM_FILE


def spoil(folder: Path, name: str, old: str, new: str) -> int:
    """Replace one text in a file; returns the line it stood on."""
    file = folder / name
    text = file.read_text()
    assert text.count(old) >= 1, f"{old!r} is not in {name}"
    file.write_text(text.replace(old, new, 1))
    return text[: text.index(old)].count("\n") + 1


def faults(folder: Path) -> list[str]:
    with pytest.raises(InputErrors) as caught:
        read_call(folder)
    return [str(error).replace(f"{folder}/", "") for error in caught.value.errors]


SPOILT = [
    # file, what stands there, what is written instead, the sentence (after file and line)
    ("ship.toml", "maximum_angle_deg = 65", "maximum_angle_deg = 0.3",
     "maximum_angle_deg: 0.3 is outside what is possible; expected degrees, 10 to 110"),
    ("ship.toml", "draught_aft_m = 6.35", "draught_aft_m = 39.0",
     "draught_aft_m: 39 m is deeper than moulded_depth_m, 7.8; expected metres"),
    ("ship.toml", "draught_aft_m = 6.35", "draught_aft_m = 63.5",
     "draught_aft_m: 63.5 is outside what is possible; expected metres, 0.2 to 40"),
    ("ship.toml", "draught_aft_m = 6.35", "draught_aft_m = nan",
     "draught_aft_m: nan is not a number; expected metres, 0.2 to 40"),
    ("ship.toml", "draught_aft_m = 6.35", 'draught_aft_m = "6.35"',
     "draught_aft_m: got '6.35'; expected metres, 0.2 to 40"),
    ("ship.toml", "beam_m = 14.4", "width = 14.4", "beam_m: is missing; expected metres, 1.5 to 90"),
    ("ship.toml", "beam_m = 14.4", "width = 14.4", "width: is not known here; expected one of "
     "name, kind, call_sign, year_built, deadweight_t, lightship_t, length_overall_m, "
     "length_between_perpendiculars_m, beam_m, moulded_depth_m, summer_draught_m, bulbous_bow ..."),
    ("ship.toml", "hard_over_to_hard_over_s = 24", "hard_over_to_hardover_s = 24",
     "hard_over_to_hardover_s: is not known here; did you mean 'hard_over_to_hard_over_s'?"),
    ("ship.toml", 'kind = "coaster"', 'kind = "coastr"',
     "kind: 'coastr' is not known (did you mean 'coaster'?); expected 'coaster', 'general_cargo', 'bulk_carrier', "
     "'tanker', 'container', 'gas_carrier', 'ro_ro', 'car_carrier', 'ferry', 'cruise', 'tug', 'other'"),
    ("ship.toml", "displacement_t = 7000", "displacement_t = 70000",
     "displacement_t: 70000 t is more than a box of her length, beam and draught displaces, 9121 t; expected tonnes"),
    ("ship.toml", 'order = "half_ahead"', 'order = "half"',
     "order: 'half' is no engine order; expected one of full_sea_speed, full_ahead, half_ahead, slow_ahead, "
     "dead_slow_ahead, stop, dead_slow_astern, slow_astern, half_astern, full_astern"),
    ("ship.toml", "length_between_perpendiculars_m = 90.0", "length_between_perpendiculars_m = 99.0",
     "length_between_perpendiculars_m: 99 m is longer than length overall, 95 m; expected metres"),
    ("ship.toml", "beam_m = 14.4", "beam_m = 14,4",
     "is not TOML: Expected newline or end of document after a statement, in 'beam_m = 14,4'; "
     'expected lines such as key = 1.5 or key = "text"'),
    ("call.toml", "start = 2031-05-06T14:12:00Z", "start = 2031-05-06T14:12:00",
     "start: 2031-05-06 14:12:00 has no zone; expected a time such as 2031-05-04T06:00:00Z"),
    ("call.toml", 'berth = "Tannery Quay"', 'berth = "Tanery Quay"',
     "berth: 'Tanery Quay' is no berth of waterway 'River Ambry'; expected one of Tannery Quay"),
    ("call.toml", "underkeel_percent_of_draught = 10.0", "underkeel_percent_of_draught = 1000.0",
     "underkeel_percent_of_draught: 1000.0 is outside what is possible; expected percent of draught, least net "
     "clearance, 0 to 100"),
    ("call.toml", 'reach = "Mill Reach"\norder = "dead_slow_ahead"', 'reach = "Mill Reach"\norder = "dead_slow_ahead"\nspeed_kn = 3',
     "order: reach 'Mill Reach' needs either an engine order or a speed, not both and not neither"),
    ("forecast.toml", "residual_low_m = -0.15", "residual_low_m = 0.15",
     "residual_m: best 0.05 m lies outside low 0.15 to high 0.25 m"),
    ("forecast.toml", 'source = "Ambry harbour office, morning notice (invented)"\n', "",
     "source: is missing; expected who says so"),
    ("waterway/waterway.toml", 'clearance_datum = "HAT"', 'clearance_datum = "MHWN"',
     "gate 'Lych Bridge': clearance_datum 'MHWN' has no height above CD here; expected one of CD, LAT, MLWS, MSL, MHWS, HAT"),
    ("waterway/waterway.toml", 'clearance_datum = "HAT"\n', "",
     "clearance_datum: is missing; expected the datum of the clearance, such as HAT or MHWS"),
    ("waterway/waterway.toml", "bend_radius_m = 650\n", "",
     "waypoint 'Heron Point': bend_radius_m is missing; every inner waypoint needs the radius of its bend"),
    ("waterway/waterway.toml", "bend_radius_m = 650", "bend_radius_m = 9000",
     "waypoint 'Heron Point': the bends at the ends of this reach need 3560 m of it, it is 3000 m long; expected smaller bend "
     "radii or waypoints farther apart"),
    ("waterway/waterway.toml", "latitude = -31.515030\nlongitude = -17.512632", "latitude = -17.512632\nlongitude = -31.515030",
     "waypoint 'Heron Point': lies 1103 nm from the origin of the waterway; expected under 80 nm (latitude and longitude swapped?)"),
    ("waterway/waterway.toml", "mean_level_m = 4.60\n", "",
     "mean_level: station 'Ambry Bar' has constants but no mean level above chart datum"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "sentence"), SPOILT, ids=[row[3][:50] for row in SPOILT])
def test_one_fault_one_sentence(folder: Path, file: str, old: str, new: str, sentence: str) -> None:
    spoil(folder, file, old, new)
    told = {said: place for place, _, said in (line.partition(": ") for line in faults(folder))}
    assert sentence in told
    assert re.fullmatch(rf"{file}(:\d+)?", told[sentence])


def test_the_line_is_the_line(folder: Path) -> None:
    line = spoil(folder, "ship.toml", "draught_aft_m = 6.35", "draught_aft_m = 39.0")
    assert faults(folder)[0].startswith(f"ship.toml:{line}: ")
    line = spoil(folder, "call.toml", 'berth = "Tannery Quay"', 'berht = "Tannery Quay"')
    assert f"call.toml:{line}: berht: is not known here; did you mean 'berth'?" in faults(folder)


def test_all_faults_at_once(folder: Path) -> None:
    spoil(folder, "ship.toml", "maximum_angle_deg = 65", "maximum_angle_deg = 0.3")
    spoil(folder, "ship.toml", "draught_aft_m = 6.35", "draught_aft_m = nan")
    spoil(folder, "call.toml", "start = 2031-05-06T14:12:00Z", "start = 2031-05-06T14:12:00")
    spoil(folder, "forecast.toml", "residual_m = 0.05", "residual = 0.05")
    spoil(folder, "waterway/waterway.toml", 'kind = "bridge"', 'kind = "brigde"')
    told = faults(folder)
    assert {line.split(":")[0] for line in told} == {
        "call.toml",
        "ship.toml",
        "forecast.toml",
        "waterway/waterway.toml",
    }
    assert len(told) == 6  # residual is missing and residual unknown: two faults of one slip


AREA_SPOILT: list[tuple[str, Callable[[dict], None], str]] = [
    ("self-crossing", lambda f: f["geometry"]["coordinates"][0].insert(1, f["geometry"]["coordinates"][0].pop(40)),
     "ring: area 'Outer Roads' crosses itself; expected a boundary that does not"),
    ("missing depth", lambda f: f["properties"].pop("depth_m"),
     "depth_m: area 'Outer Roads' has none; a missing depth is never assumed (write \"unsurveyed\" to exclude it)"),
    ("text for depth", lambda f: f["properties"].update(depth_m="deep"),
     "depth_m: got 'deep' in area 'Outer Roads'; expected metres"),
    ("absurd depth", lambda f: f["properties"].update(depth_m=-80.0),
     "depth: -80.0 m in area 'Outer Roads' is no depth; expected metres below chart datum"),
    ("unknown property", lambda f: f["properties"].update(dept=4),
     "dept: in area 'Outer Roads' is not known here; did you mean 'depth_m'?"),
    ("a line", lambda f: f.update(geometry={"type": "LineString", "coordinates": [[0, 0], [1, 1]]}),
     "geometry: area 'Outer Roads' is a LineString; expected a Polygon or MultiPolygon"),
    ("swapped corner", lambda f: f["geometry"]["coordinates"][0].__setitem__(1, [31.5, -117.5]),
     "latitude: -117.5 is outside -90 to 90; expected degrees north"),
    ("no boundary", lambda f: f["geometry"].update(coordinates=[]),
     "coordinates: area 'Outer Roads' has no boundary; expected a list of rings"),
    ("two corners", lambda f: f["geometry"].update(coordinates=[[[0, 0], [1, 1], [0, 0]]]),
     "ring: area 'Outer Roads' has 2 corners; expected at least 3"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "change", "sentence"), AREA_SPOILT, ids=[row[0] for row in AREA_SPOILT])
def test_faults_of_areas(folder: Path, what: str, change: Callable[[dict], None], sentence: str) -> None:
    file = folder / "waterway/areas.geojson"
    data = json.loads(file.read_text())
    change(data["features"][0])
    file.write_text(json.dumps(data, indent=1))
    told = faults(folder)
    assert told[0].split(": ", 1)[1] == sentence
    assert told[0].startswith("waterway/areas.geojson:5:")  # where the first feature stands, one line a bracket


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        ('{"type": "FeatureCollection", "features": [NaN]}', "is not GeoJSON: NaN is not a number; expected a FeatureCollection of polygons"),
        ("[1, 2", "is not GeoJSON: Expecting ',' delimiter: line 1 column 6 (char 5); expected a FeatureCollection of polygons"),
        ("{}", "features: is missing; expected a FeatureCollection of polygons"),
        ("[" * 100_000, "is not GeoJSON: maximum recursion depth exceeded while decoding a JSON array from a unicode string; "
         "expected a FeatureCollection of polygons"),
    ],
    ids=["NaN", "cut off", "empty", "nested"],
)  # fmt: skip
def test_areas_that_are_no_geojson(folder: Path, content: str, sentence: str) -> None:
    (folder / "waterway/areas.geojson").write_text(content)
    assert faults(folder)[0].split(": ", 1)[1] == sentence


def test_a_depth_area_missing_under_the_track_is_never_assumed_deep(folder: Path) -> None:
    file = folder / "waterway/areas.geojson"
    data = json.loads(file.read_text())
    data["features"] = [item for item in data["features"] if item["properties"]["name"] != "Bar Inner"]
    file.write_text(json.dumps(data))
    with pytest.raises(
        CannotCompute, match=r"in reach 'Bar', her outline lies over water without a depth area .* never assumed"
    ):
        prepare(read_call(folder))


def test_unsurveyed_water_under_the_track_is_refused(folder: Path) -> None:
    file = folder / "waterway/areas.geojson"
    data = json.loads(file.read_text())
    next(item for item in data["features"] if item["properties"]["name"] == "Mill Reach")["properties"]["depth_m"] = (
        "unsurveyed"
    )
    file.write_text(json.dumps(data))
    with pytest.raises(CannotCompute, match=r"in reach 'Mill Reach', her outline touches water said to be unsurveyed"):
        prepare(read_call(folder))


def test_a_missing_height_is_never_assumed_low(folder: Path) -> None:
    spoil(folder, "ship.toml", "keel_to_highest_point_m = 33.0\n", "")
    spoil(folder, "ship.toml", "air_draught_m = 26.67\n", "")
    with pytest.raises(
        CannotCompute, match=r"passes under Lych Bridge, but the card gives neither .* never assumed low"
    ):
        prepare(read_call(folder))


def test_an_order_without_speed_is_asked_for(folder: Path) -> None:
    spoil(folder, "ship.toml", "speed_loaded_kn = 6.4\n", "")
    with pytest.raises(
        CannotCompute, match=r"reach 'Bar' is to be run at slow ahead, but the card of Sedgewren gives no loaded speed"
    ):
        prepare(read_call(folder))


def test_an_unknown_squat_method_gets_a_suggestion(folder: Path) -> None:
    with (folder / "call.toml").open("a") as file:
        file.write('\n[squat]\nmethods = ["baras_short"]\n')
    prepared = prepare(read_call(folder))
    with pytest.raises(CannotCompute, match="squat method 'baras_short' is not known; did you mean 'barrass_short'"):
        _ = prepared.underkeel.needed_levels


def test_a_file_of_200_megabytes(folder: Path) -> None:
    with (folder / "ship.toml").open("wb") as file:
        file.truncate(200_000_000)
    assert faults(folder) == ["ship.toml: is 200 MB; expected at most 20 MB"]


def test_a_link_out_of_the_folder(folder: Path, tmp_path: Path) -> None:
    secret = tmp_path / "elsewhere.toml"
    secret.write_text("name = 'x'\n")
    (folder / "forecast.toml").unlink()
    (folder / "forecast.toml").symlink_to(secret)
    assert faults(folder) == ["forecast.toml: leads out of the port call's folder; expected a file inside it"]


def test_a_named_file_out_of_the_folder(folder: Path) -> None:
    spoil(folder, "waterway/waterway.toml", 'areas = "areas.geojson"', 'areas = "../../elsewhere.geojson"')
    (folder.parent / "elsewhere.geojson").write_text("{}")
    assert faults(folder)[0].endswith("leads out of the port call's folder; expected a file inside it")


def test_a_pipe_is_no_file(folder: Path) -> None:
    (folder / "forecast.toml").unlink()
    os.mkfifo(folder / "forecast.toml")
    assert faults(folder) == ["forecast.toml: is no plain file"]


def test_not_text(folder: Path) -> None:
    (folder / "ship.toml").write_bytes(b'name = "a"\n\xff\xfe\n')
    assert faults(folder) == ["ship.toml:2: is not UTF-8 text; expected a TOML file"]


def test_a_missing_file_and_a_missing_folder(folder: Path, tmp_path: Path) -> None:
    (folder / "ship.toml").unlink()
    assert faults(folder) == ["ship.toml: is missing; expected this file in the port call's folder"]
    with pytest.raises(InputErrors, match="does not exist; expected a port call's folder or zip"):
        read_call(tmp_path / "nowhere")
    (tmp_path / "text").write_text("no zip")
    with pytest.raises(InputErrors, match="is neither a folder nor a zip"):
        read_call(tmp_path / "text")


def zipped(folder: Path, archive: Path, outer: str = "") -> Path:
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as file:
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                file.write(path, outer + path.relative_to(folder).as_posix())
    return archive


def test_a_zip_reads_as_its_folder(folder: Path, tmp_path: Path) -> None:
    for outer in ("", "some call/"):
        call = read_call(zipped(folder, tmp_path / "call.zip", outer))
        assert call == read_call(folder)


def test_a_zip_bomb(folder: Path, tmp_path: Path) -> None:
    archive = zipped(folder, tmp_path / "bomb.zip")
    with zipfile.ZipFile(archive, "a", zipfile.ZIP_DEFLATED) as file:
        file.writestr("waterway/more.csv", b"\0" * 150_000_000)
    with pytest.raises(InputErrors, match=r"bomb.zip: unpacks to 150 MB; expected at most 100 MB"):
        read_call(archive)


def test_a_zip_whose_stated_size_lies(folder: Path, tmp_path: Path) -> None:
    """The size in the directory says little, the stream holds much: what is unpacked is bounded all the same."""
    (folder / "forecast.toml").unlink()
    archive = zipped(folder, tmp_path / "liar.zip")
    big = b"# " + b"x" * (MAXIMUM_FILE + 10)
    with zipfile.ZipFile(archive, "a", zipfile.ZIP_DEFLATED) as file:
        file.writestr("forecast.toml", big)
    raw = archive.read_bytes()
    size = len(big).to_bytes(4, "little")
    archive.write_bytes(raw.replace(size, (500).to_bytes(4, "little")))
    with pytest.raises(InputErrors, match=r"forecast.toml(: |:\d+: )"):
        read_call(archive)


def test_a_zip_that_leads_out(folder: Path, tmp_path: Path) -> None:
    archive = zipped(folder, tmp_path / "out.zip")
    with zipfile.ZipFile(archive, "a") as file:
        file.writestr("../evil.toml", "x = 1")
    with pytest.raises(InputErrors, match=r"holds '../evil.toml', which leads out of the folder"):
        read_call(archive)


def test_a_zip_of_too_many_files(tmp_path: Path) -> None:
    archive = tmp_path / "many.zip"
    with zipfile.ZipFile(archive, "w") as file:
        for number in range(1001):
            file.writestr(f"{number}.toml", "")
    with pytest.raises(InputErrors, match="holds 1001 files; expected at most 1000"):
        read_call(archive)


TABLE_SPOILT = [
    ("time,height\n2031-05-05T00:00Z,1.0\n2031-05-05T06:00Z,8.0\n", ":1: has no header; expected the first line to be time,height_m"),
    ("time,height_m\n2031-05-05T00:00,1.0\n2031-05-05T06:00Z,8.0\n",
     ":2: time: '2031-05-05T00:00' has no zone; expected such as 2031-05-04T06:12Z"),
    ("time,height_m\n2031-05-05T07:00Z,1.0\n2031-05-05T06:00Z,8.0\n", ":3: time: is not after the line before it; expected times in order"),
    ("time,height_m\n2031-05-05T00:00Z,1.0\nnoon,8.0\n", ":3: time: 'noon' is no time; expected such as 2031-05-04T06:12Z"),
    ("time,height_m\n2031-05-05T00:00Z,1.0\n2031-05-05T06:00Z,800\n",
     ":3: height_m: '800' is no height of a tide; expected metres, -25 to 25"),
    ("time,height_m\n2031-05-05T00:00Z,1.0,2\n2031-05-05T06:00Z,8\n", ":2: has 3 cells; expected time, height_m"),
    ("time,height_m\n2031-05-05T00:00Z,1.0\n", ": has 1 rows; expected at least two"),
]  # fmt: skip


@pytest.mark.parametrize(("content", "sentence"), TABLE_SPOILT, ids=[row[1][:40] for row in TABLE_SPOILT])
def test_faults_of_a_tide_table(folder: Path, content: str, sentence: str) -> None:
    file = folder / "waterway/waterway.toml"
    text = file.read_text()
    begin = text.index('[[tide_station]]\nname = "Ambry Bar"')
    end = text.index("]\n\n", begin) + 2
    station = '[[tide_station]]\nname = "Ambry Bar"\nlatitude = -31.525735\nlongitude = -17.523121\nhigh_low_table = "bar.csv"\n'
    file.write_text(text[:begin] + station + text[end:])
    (folder / "waterway/bar.csv").write_text(content)
    assert f"waterway/bar.csv{sentence}" in faults(folder)


def test_a_ship_card_alone(folder: Path) -> None:
    for path in (folder, folder / "ship.toml"):
        ship, loading = read_ship(path)
        assert ship.name == "Sedgewren"
        assert loading.draught == 6.35
    with pytest.raises(InputErrors, match="does not exist"):
        read_ship(folder / "nothing")
