"""Every foreign format told in sentences and turned into pieces of a port call, which our own reader takes back."""

import json
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))

import s100_files
import small_port
from sample_files import Sample, write_samples

from leadsman.assessment.assess import assess
from leadsman.errors import Impossible
from leadsman.files.call_files import read_call
from leadsman.files.formats.recognise import Format
from leadsman.files.from_sources import Sources, call_from_sources
from leadsman.files.import_file import READERS, import_file
from leadsman.files.new_call import write_folder
from leadsman.units import KNOT

ONES = np.ones((2, 3))

HELD = [  # sample, what is said of it, files of ours
    ("RTZ", "route 'Inward': 4 waypoints, 9.0 nm", {"track.toml"}),
    ("GPX", "sailed track 'Invented': 3 positions", {"track.toml", "sailed_tracks.geojson"}),
    ("GeoJSON", "features in all", {"track.toml", "sailed_tracks.geojson"}),
    ("GeoPackage", "features in all", {"track.toml", "sailed_tracks.geojson"}),
    ("soundings CSV", "1 soundings of 12.3 to 12.3 m below LAT", set()),
    ("tide CSV", "3 high and low waters at Roads above LAT, 2026-08-15T05:28:00Z to", {"tide.csv", "stations.toml"}),
    ("gauge CSV", "2 observed levels at gauge above LAT", {"gauge.csv", "stations.toml"}),
    ("AIS log", "sailed track", {"sailed_tracks.geojson"}),
    ("S-57", "chart cell XX5DEMO1 edition 1 update 0", {"waterway.toml", "areas.geojson"}),
    ("S-104", "on 2 x 3 nodes", set()),
    ("S-104 stations", "levels at A above", {"levels.csv", "stations.toml"}),
    ("S-111", "on 2 x 3 nodes", set()),
    ("S-102", "2 x 3 nodes, 5.0 to 5.0 m below", {"areas.geojson"}),
]  # fmt: skip


@pytest.fixture(scope="module")
def samples(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Sample]:
    return write_samples(tmp_path_factory.mktemp("samples"))


@pytest.mark.parametrize(("sample", "sentence", "files"), HELD, ids=[row[0] for row in HELD])
def test_every_format_is_told_and_turned_into_ours(
    sample: str, sentence: str, files: set[str], samples: dict[str, Sample]
) -> None:
    """The samples are those of `builders/sample_files.py`; 9.0 nm by hand: three steps of 0.05 degrees of latitude."""
    found = import_file(samples[sample].path)
    assert any(sentence in line for line in found.holds), found.holds
    assert set(found.files) == files


def test_every_format_that_is_recognised_is_read() -> None:
    assert set(READERS) == set(Format)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The invented harbour as a call."""
    made = call_from_sources(Sources(**small_port.write_sources(tmp_path)), small_port.ANSWERS)
    write_folder(tmp_path / "call", made.files)
    return tmp_path / "call"


def put_in(folder: Path, files: dict[str, bytes], *, keep_tide: bool = False) -> None:
    """What a person does with the pieces: tables to the end of `waterway.toml`, the rest beside it."""
    waterway = folder / "waterway/waterway.toml"
    text = waterway.read_text()
    if not keep_tide:
        text = text[: text.index("[[tide_station]]")]
    for name, content in files.items():
        if name.endswith(".toml"):
            text += "\n" + content.decode()
        else:
            (folder / "waterway" / name).write_bytes(content)
    waterway.write_text(text)


def hours(count: int) -> tuple[str, ...]:
    return tuple(f"2031050{4 + k // 24}T{k % 24:02d}0000Z" for k in range(count))


GRID = {
    "gridOriginLatitude": small_port.SOUTH - 0.01, "gridOriginLongitude": small_port.WEST - 0.01,
    "gridSpacingLatitudinal": 0.06, "gridSpacingLongitudinal": 0.03,
}  # fmt: skip


def test_levels_and_streams_of_grids_reach_the_answer(folder: Path, tmp_path: Path) -> None:
    """By construction: a level of 3.0 m everywhere and always, and a stream of 1.0 kn towards 090."""
    call = read_call(folder)
    times = hours(24 * 5)
    levels = s100_files.grids(
        tmp_path / "l.h5",
        104,
        "WaterLevel",
        s100_files.LEVEL,
        [(3.0 * ONES, ONES, ONES)] * len(times),
        times=times,
        instance=GRID,
    )
    streams = s100_files.grids(
        tmp_path / "s.h5",
        111,
        "SurfaceCurrent",
        s100_files.STREAM,
        [(ONES, 90.0 * ONES)] * len(times),
        times=times,
        instance=GRID,
    )
    first, second = import_file(levels, call), import_file(streams, call)
    assert sorted(first.files) == ["levels.csv", "levels_2.csv", "levels_3.csv", "stations.toml"]
    put_in(
        folder,
        {**first.files, **{f"x{name}" if name.endswith(".toml") else name: c for name, c in second.files.items()}},
    )
    changed = (folder / "call.toml").read_text().replace("days = 2.9069", "days = 1.5")
    (folder / "call.toml").write_text(changed)
    answer = assess(read_call(folder)).account
    assert answer.water_level == pytest.approx(3.0 + 0.0 * answer.water_level, abs=1e-6)
    assert np.hypot(answer.stream_along, answer.stream_across) == pytest.approx(
        1.0 * KNOT + 0.0 * answer.stream_along, rel=1e-3
    )


def test_a_survey_counts_where_it_lies(tmp_path: Path) -> None:
    """By construction: charted 8.0 m; a survey of the first kilometre finds 9.26 to 9.36 m good to 0.1 m at one sigma."""
    paths = small_port.write_sources(tmp_path)
    rows = ["# datum: LAT", "latitude,longitude,depth_m,uncertainty_m"]
    for north in range(-175, 1000, 50):
        for east in range(425, 600, 50):
            latitude, longitude = small_port.at(north, east)
            rows.append(f"{latitude:.7f},{longitude:.7f},{9.36 if north > 400 else 9.26},0.196")
    (tmp_path / "survey.csv").write_text("\n".join(rows) + "\n")
    plain = call_from_sources(Sources(**paths), small_port.ANSWERS)
    made = call_from_sources(Sources(**paths, depths=tmp_path / "survey.csv"), small_port.ANSWERS)
    for name, draft in (("plain", plain), ("surveyed", made)):
        write_folder(tmp_path / name, draft.files)
    before, after = (assess(read_call(tmp_path / name)).account for name in ("plain", "surveyed"))
    assert set(before.depth) == {8.0}
    near, far = after.depth[before.distance < 300.0], after.depth[before.distance > 1200.0]
    assert set(np.round(near, 3)) == {9.2}
    assert set(far) == {8.0}
    line = next(line for line in after.lines if line.key == "survey")
    assert line.values[3] == pytest.approx(0.20)  # 0.196 at 95 %, rounded up to the band of 0.05


def test_scattered_soundings_only_make_it_shallower(tmp_path: Path) -> None:
    paths = small_port.write_sources(tmp_path)
    places = [(500, 500, 6.5), (900, 501, 9.5), (1433, 507, 12.0), (2111, 499, 11.0)]
    rows = [f"{small_port.at(n, e)[0]:.6f},{small_port.at(n, e)[1]:.6f},{depth}" for n, e, depth in places]
    (tmp_path / "lead.csv").write_text("\n".join(["# datum: LAT", "latitude,longitude,depth_m", *rows]) + "\n")
    made = call_from_sources(Sources(**paths, depths=tmp_path / "lead.csv"), small_port.ANSWERS)
    areas = json.loads(made.files["waterway/areas.geojson"])["features"]
    names = [area["properties"]["name"] for area in areas]
    assert [name for name in names if name.startswith("sounding")] == ["sounding 6.5 m"]


def test_a_survey_below_another_datum_asks_for_it(tmp_path: Path) -> None:
    paths = small_port.write_sources(tmp_path)
    rows = [
        f"{small_port.at(n, e)[0]:.7f},{small_port.at(n, e)[1]:.7f},9.0" for n in (0, 50, 100) for e in (450, 500, 550)
    ]
    (tmp_path / "survey.csv").write_text("\n".join(["# datum: MSL", "latitude,longitude,depth_m", *rows]) + "\n")
    sources = Sources(**paths, depths=tmp_path / "survey.csv")
    assert [q.key for q in call_from_sources(sources, small_port.ANSWERS).open] == ["MSL_above_chart_datum_m"]
    made = call_from_sources(sources, small_port.ANSWERS | {"MSL_above_chart_datum_m": "2.5"})
    depths = {area["properties"]["depth_m"] for area in json.loads(made.files["waterway/areas.geojson"])["features"]}
    assert 6.5 in depths  # 9.0 below MSL, which stands 2.5 above LAT, by hand


def test_heights_are_brought_to_the_calls_datum(folder: Path, tmp_path: Path) -> None:
    call = read_call(folder)
    (tmp_path / "hat.csv").write_text(small_port.tide_table(datum="HAT"))
    rows = import_file(tmp_path / "hat.csv", call).files["tide.csv"].decode().splitlines()
    assert rows[1] == "2031-05-04T00:10:00Z,10.4"  # 4.5 m above HAT, which stands 5.9 above chart datum, by hand
    (tmp_path / "msl.csv").write_text(small_port.tide_table(datum="MSL"))
    with pytest.raises(Impossible, match="is MSL, whose height above chart datum waterway"):
        import_file(tmp_path / "msl.csv", call)
    assert any("stand at MSL: bring them to chart datum" in note for note in import_file(tmp_path / "msl.csv").notes)


def test_a_grid_elsewhere_is_told(folder: Path, samples: dict[str, Sample]) -> None:
    found = import_file(samples["S-104"].path, read_call(folder))
    assert found.files == {}
    assert any("lies outside the grid" in note for note in found.notes)
