"""Soundings and tide tables as CSV."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from sample_records import SOUNDINGS

from leadsman.errors import InputErrors
from leadsman.files.formats import soundings_csv, tide_csv, times
from leadsman.files.formats.records import array
from leadsman.files.formats.series import HighLowTable, LevelKind, LevelSeries, TurningPoint
from leadsman.geometry import Position


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "a.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_soundings_come_back(tmp_path: Path) -> None:
    soundings_csv.write(SOUNDINGS, tmp_path / "s.csv")
    again = soundings_csv.read(tmp_path / "s.csv")
    for name in ("latitude", "longitude", "depth", "uncertainty"):
        np.testing.assert_array_equal(getattr(again, name), getattr(SOUNDINGS, name))
    assert (again.datum, again.quality, again.notes) == ("LAT", ("6", ""), ())


@pytest.mark.parametrize(
    ("header", "cell", "depth", "origin"),
    [
        ("depth_m", "12.5", 12.5, "metres below"),
        ("depth_ft", "10", 3.048, "international foot"),
        ("depth_fathom", "5", 9.144, "a fathom is six feet"),
        ("height_m", "-12.5", 12.5, "below the datum is a negative height"),
        ("depth_m", "-1.4", -1.4, "dries"),
    ],
)
def test_units_and_signs_of_soundings(tmp_path: Path, header: str, cell: str, depth: float, origin: str) -> None:
    found = soundings_csv.read(written(tmp_path, f"# datum: LAT\nlat,lon,{header}\n-30,-120,{cell}\n"))
    assert found.depth[0] == pytest.approx(depth, abs=1e-12), origin


def test_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    text = "# surveyed: 2026-03-01\nlatitude;longitude;depth_m;quality;who\n-30,5;-120,25;12,3;A2;me\n\n# end\n"
    found = soundings_csv.read(written(tmp_path, text), datum="LAT")
    assert (found.latitude[0], found.depth[0], found.quality, found.surveyed) == (
        -30.5,
        12.3,
        ("A2",),
        date(2026, 3, 1),
    )
    assert found.notes == ("columns not taken: who",)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("lat,lon,depth_m\n-30,-120,5\n", "a.csv: datum: is not named; write '# datum: LAT'"),
        ("# datum: LAT\nlat,lon,z\n-30,-120,5\n", "a.csv:2: z: does not say which way it points"),
        ("# datum: LAT\nlat,lon\n-30,-120\n", "a.csv:2: has no column depth_m or depth_ft or depth_fathom or height_m"),
        ("# datum: LAT\nlat,latitude,lon,depth_m\n", "a.csv:2: both latitude and lat stand here"),
        ("# datum: LAT\nlat,lon,lon,depth_m\n", "a.csv:2: column 'lon' stands twice"),
        ("# datum: LAT\na,b\n1,2\n", "a.csv:2: no column is known: a, b; expected of depth_fathom"),
        ("# datum: LAT\n", "a.csv: has no header"),
        ("# datum: LAT\nlat,lon,depth_m\n", "a.csv: holds no sounding"),
        ("# datum: LAT\nlat,lon,depth_m\n-30,-120,\n", "a.csv:3: depth_m: is empty; a missing depth is never assumed"),
        ("# datum: LAT\nlat,lon,depth_m\n-30,-120,deep\n", "a.csv:3: depth_m: 'deep'; expected a number, -50 to 12000"),
        ("# datum: LAT\nlat,lon,depth_m\n-30,-120,nan\n", "a.csv:3: depth_m: 'nan'; expected a number"),
        ("# datum: LAT\nlat,lon,depth_m\n-120,-30,5\n", "a.csv:3: lat: '-120'; expected a number, -90 to 90"),
        ("# datum: LAT\nlat,lon,depth_m\n-30,-120\n", "a.csv:3: has 2 cells; the header has 3"),
        ("# datum: LAT\nlat,lon,depth_m\n-30,-120,5,3\n", "a.csv:3: has 4 cells; the header has 3"),
        ('# datum: LAT\nlat,lon,depth_m\n-30,-120,"5\n', "a.csv:3: cannot be read: unexpected end of data"),
        ("# datum: LAT\n# surveyed: March\nlat,lon,depth_m\n-30,-120,5\n", "a.csv: surveyed: 'March' is no date"),
    ],
)
def test_faults_of_soundings(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        soundings_csv.read(written(tmp_path, text))
    assert sentence in str(caught.value)


def test_two_datums_are_one_too_many(tmp_path: Path) -> None:
    path = written(tmp_path, "# datum: LAT\nlat,lon,depth_m\n-30,-120,5\n")
    assert soundings_csv.read(path, datum="lat").datum == "lat"
    with pytest.raises(InputErrors, match="datum: the file says 'LAT', but 'MLLW' was given"):
        soundings_csv.read(path, datum="MLLW")


# Boston, 15 August 2026, metres above MLLW: reference sheet water.md 1.1.6 [seen: NOAA CO-OPS stored copies]
BOSTON = """# station: Boston
# datum: MLLW
time,height_m{kind}
2026-08-15T05:28Z,3.368{h}
2026-08-15T11:42Z,-0.180{l}
2026-08-15T17:58Z,3.209{h}
2026-08-16T00:03Z,-0.056{l}
"""


@pytest.mark.parametrize(("kind", "high", "low"), [("", "", ""), (",kind", ",HW", ",lw"), (",kind", ",High", ",L")])
def test_high_and_low_waters(tmp_path: Path, kind: str, high: str, low: str) -> None:
    table = tide_csv.read_high_low(written(tmp_path, BOSTON.format(kind=kind, h=high, l=low)))
    assert (table.station, table.datum, table.position) == ("Boston", "MLLW", None)
    assert [point.high for point in table.points] == [True, False, True, False]
    assert table.points[0].time == datetime(2026, 8, 15, 5, 28, tzinfo=UTC)
    assert table.points[1].level == -0.180
    tide_csv.write_high_low(table, tmp_path / "out.csv")
    assert tide_csv.read_high_low(tmp_path / "out.csv") == table


@pytest.mark.parametrize(
    ("text", "zone", "expected", "origin"),
    [
        ("# zone: +01:00\ntime,height_m\n2026-08-15T06:28,3\n2026-08-15T12:00,1\n", None, 5, "remark"),
        ("time,height_m\n2026-08-15 06:28,3\n2026-08-15 12:00,1\n", "+01:00", 5, "given"),
        ("time,height_m\n2026-08-15T01:28,3\n2026-08-15T12:00,1\n", "UTC-4", 5, "west is behind"),
        ("time_utc,height_m\n2026-08-15T05:28,3\n2026-08-15T12:00,1\n", None, 5, "the column's name"),
        (
            "# zone: +05:00\ntime,height_m\n2026-08-15T05:28Z,3\n2026-08-15T12:00Z,1\n",
            None,
            5,
            "the time's own zone wins",
        ),
    ],
)
def test_zones(tmp_path: Path, text: str, zone: str | None, expected: int, origin: str) -> None:
    table = tide_csv.read_high_low(written(tmp_path, text), datum="LAT", zone=zone)
    assert table.points[0].time == datetime(2026, 8, 15, expected, 28, tzinfo=UTC), origin


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("time,height_m\n2026-08-15T05:28,3\n", "a.csv:2: time: '2026-08-15T05:28' has no zone; write it as"),
        ("# zone: Europe/London\ntime,height_m\n", "a.csv: zone: 'Europe/London' is no zone; expected UTC or a fixed"),
        ("# zone: +19:00\ntime,height_m\n", "a.csv: zone: '+19:00' is no zone; expected -12:00 to +14:00"),
        ("# zone: +01:00\ntime_utc,height_m\n", "a.csv: zone: differs from the column's name, time_utc"),
        ("time,height_m\n2026-02-30T05:28Z,3\n", "'2026-02-30T05:28Z' is no time of the calendar"),
        ("time,height_m\n0026-02-20T05:28Z,3\n", "lies outside the years 1900 to 2200"),
        ("time,height_m\n15/08/2026 05:28,3\n", "a.csv:2: time: '15/08/2026 05:28' is no time; expected one such as"),
        (
            "time,height_m\n2026-08-15T05:28Z,3\n2026-08-15T05:28Z,1\n",
            "a.csv:3: time: 2026-08-15T05:28:00Z does not come after the line before it",
        ),
        ("time,height_m\n2026-08-15T05:28Z,30\n", "a.csv:2: height_m: '30'; expected a number, -25 to 25"),
        ("time,height_m\n2026-08-15T05:28Z,\n", "a.csv:2: height_m: is empty; a missing height is never assumed"),
        ("time,height_m,kind\n2026-08-15T05:28Z,3,up\n", "a.csv:2: kind: 'up' is no kind; expected HW or LW"),
        ("time,height_m\n2026-08-15T05:28Z,3\n", "lies neither above nor below both its neighbours"),
        (
            "time,height_m\n2026-08-15T05Z,3\n2026-08-15T06Z,2\n2026-08-15T07Z,1\n",
            "a.csv:3: height: lies neither above nor below both its neighbours",
        ),
        (
            "time,height_m,kind\n2026-08-15T05Z,3,HW\n2026-08-15T17Z,3.1,HW\n",
            "two high waters follow each other at 2026-08-15T17:00:00+00:00; one between is missing",
        ),
        ("time,height_m,kind\n2026-08-15T05Z,3,LW\n2026-08-15T11Z,1,HW\n", "stands above its high water"),
        ("# latitude: 91\n# longitude: 0\ntime,height_m\n", "position: latitude: 91.0 is outside -90 to 90"),
        ("# latitude: 9\ntime,height_m\n", "position: expected both latitude and longitude"),
    ],
)
def test_faults_of_tide_tables(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        tide_csv.read_high_low(written(tmp_path, text), datum="LAT")
    assert sentence in str(caught.value)


def test_a_tide_table_needs_a_datum(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="datum: is not named"):
        tide_csv.read_high_low(written(tmp_path, "time,height_m\n2026-08-15T05:28Z,3\n"))


def test_a_series_keeps_its_gaps(tmp_path: Path) -> None:
    text = "# kind: observed\n# latitude: 9.5\n# longitude: 8\ntime_utc,level_ft\n"
    text += "2026-08-15T05:00,10\n2026-08-15T05:10,\n2026-08-15T05:20,9\n2026-08-15T09:00,3\n"
    series = tide_csv.read_series(written(tmp_path, text), datum="LAT", station="Gauge")
    np.testing.assert_array_equal(series.elapsed, [0.0, 600.0, 1200.0, 14400.0])
    np.testing.assert_allclose(series.level, [3.048, np.nan, 2.7432, 0.9144])  # feet, by hand
    assert (series.kind, series.station, series.position) == (LevelKind.OBSERVED, "Gauge", Position(9.5, 8.0))
    start = datetime(2026, 8, 15, 5, tzinfo=UTC)
    assert series.gaps(900.0) == (
        (start, start + timedelta(minutes=20)),
        (start + timedelta(minutes=20), start + timedelta(hours=4)),
    )


def test_series_come_back(tmp_path: Path) -> None:
    series = LevelSeries(
        station="Gauge", datum="LAT", start=datetime(2026, 1, 1, tzinfo=UTC), elapsed=array([0.0, 360.5, 900.0]),
        level=array([1.25, np.nan, -0.1]), kind=LevelKind.PREDICTED, position=Position(1.5, -2.25),
    )  # fmt: skip
    tide_csv.write_series(series, tmp_path / "s.csv")
    again = tide_csv.read_series(tmp_path / "s.csv")
    np.testing.assert_array_equal(again.elapsed, series.elapsed)
    np.testing.assert_array_equal(again.level, series.level)
    assert (again.station, again.datum, again.kind, again.position) == (
        "Gauge",
        "LAT",
        LevelKind.PREDICTED,
        series.position,
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "# kind: guessed\ntime,level_m\n2026-08-15T05Z,1\n",
            "kind: 'guessed'; expected observed, predicted, forecast",
        ),
        ("time,level_m\n", "holds no level"),
        ("time,level_m\n2026-08-15T05Z,1m\n", "a.csv:2: level_m: '1m'; expected a number, -25 to 25"),
    ],
)
def test_faults_of_series(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        tide_csv.read_series(written(tmp_path, text), datum="LAT")
    assert sentence in str(caught.value)


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    text = "time,level_m\n2026-08-15T05Z,x\nnever,1\n2026-08-15T06Z,99\n"
    with pytest.raises(InputErrors) as caught:
        tide_csv.read_series(written(tmp_path, text), datum="LAT")
    assert [error.line for error in caught.value.errors] == [2, 3, 4]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("PT1H30M", timedelta(minutes=90)),
        ("P1DT2S", timedelta(days=1, seconds=2)),
        ("-PT5M", timedelta(minutes=-5)),
        ("PT0.5S", timedelta(seconds=0.5)),
    ],
)
def test_durations(text: str, expected: timedelta) -> None:
    assert times.duration(text) == expected
    assert times.duration(times.written_duration(expected)) == expected


@pytest.mark.parametrize("text", ["", "P", "PT", "1H", "P1Y", "PT9" + "9" * 50 + "S", "PT1H30M30M"])
def test_no_durations(text: str) -> None:
    with pytest.raises(times.NotATime):
        times.duration(text)


def test_overlong_duration() -> None:
    with pytest.raises(times.NotATime, match="longer than any voyage"):
        times.duration("P" + "9" * 20 + "D")


def test_impossible_tables_are_refused_by_the_record() -> None:
    """The record refuses what a reader might let through: two tables joined out of order."""
    from leadsman.errors import Impossible

    start = datetime(2026, 1, 1, tzinfo=UTC)
    points = (TurningPoint(time=start, level=3.0, high=True), TurningPoint(time=start, level=1.0, high=False))
    with pytest.raises(Impossible, match="does not come after"):
        HighLowTable(station="x", datum="LAT", points=points)
