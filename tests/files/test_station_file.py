"""Stations of every kind from their tables in `waterway.toml` and the CSV files beside it."""

import shutil
from pathlib import Path

import pytest

from leadsman.errors import InputErrors
from leadsman.files.call_files import read_call
from leadsman.station import Differences, Offsets
from leadsman.units import DEGREE, HOUR, KNOT, MINUTE
from leadsman.waterway import Waterway

EXAMPLE = Path(__file__).parents[2] / "examples/1-river-coaster"
PLACE = "latitude = -31.50\nlongitude = -17.47\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(EXAMPLE, tmp_path / "call")
    (tmp_path / "call/waterway/levels.csv").write_text(
        "# station: X\ntime,level_m\n2031-05-05T00:00Z,1.0\n2031-05-05T00:10+00:00,1.2\n"
    )
    (tmp_path / "call/waterway/stream.csv").write_text(
        "time,rate_kn,towards_deg\n2031-05-05T00:00Z,1.5,40\n2031-05-05T01:00Z,0,0\n"
    )
    (tmp_path / "call/waterway/tide.csv").write_text(
        "time,height_m\n2031-05-05T00:00Z,1.0\n2031-05-05T06:00Z,5.0\n2031-05-05T12:00Z,1.1\n"
    )
    return tmp_path / "call"


def read(folder: Path, *tables: str) -> Waterway:
    with (folder / "waterway/waterway.toml").open("a") as file:
        file.write("\n" + "\n".join(tables))
    return read_call(folder).waterway


def tide(text: str) -> str:
    return f'[[tide_station]]\nname = "New"\n{PLACE}{text}'


def stream(text: str) -> str:
    return f'[[stream_station]]\nname = "New"\n{PLACE}{text}'


DIFFERENCES = "{ clock_h = [0, 6], time_min = [35, 23], level_m = [4.2, 3.4], height_m = [1.1, 0.8] }"


def test_a_port_with_its_own_curve(folder: Path) -> None:
    rows = "\n".join(
        f"[[tide_station.curve.row]]\nhour = {h}\nspring = {s}\nneap = {n}"
        for h, s, n in ((-5, 0, 0), (0, 1, 1), (7, 0, 0))
    )
    station = read(
        folder, tide(f'high_low_table = "tide.csv"\n[tide_station.curve]\nspring_range_m = 4\nneap_range_m = 2\n{rows}')
    ).tide_stations[-1]
    assert station.curve is not None
    assert station.curve.rows == ((-5 * HOUR, 0, 0), (0, 1, 1), (7 * HOUR, 0, 0))
    assert [level for _, level in station.table] == [1.0, 5.0, 1.1]


def test_series_and_gauge(folder: Path) -> None:
    station = read(folder, tide('level_series = "levels.csv"\ngauge_series = "levels.csv"')).tide_stations[-1]
    assert [level for _, level in station.series] == [1.0, 1.2]
    assert station.gauge == station.series
    assert station.series[1][0] - station.series[0][0] == 10 * MINUTE


def test_a_secondary_port_and_a_far_standard_port(folder: Path) -> None:
    far = '[[tide_station]]\nname = "Far"\nlatitude = 10\nlongitude = 10\nreference_only = true\nhigh_low_table = "tide.csv"\n'
    secondary = f'[tide_station.secondary]\nreference = "Far"\nzone_h = -1\nhigh = {DIFFERENCES}\nlow = {DIFFERENCES}\n'
    station = read(folder, far, tide(secondary)).tide_stations[-1]
    assert station.secondary is not None
    assert station.secondary.zone == -HOUR
    assert station.secondary.high == Differences(
        clock=(0.0, 6 * HOUR), time=(35 * MINUTE, 23 * MINUTE), level=(4.2, 3.4), height=(1.1, 0.8)
    )


def test_a_subordinate_station(folder: Path) -> None:
    offsets = (
        '[tide_station.offsets]\nreference = "Ambry Bar"\nhigh_time_min = 30\nlow_time_min = 45\nhigh_ratio = 0.9\n'
    )
    station = read(folder, tide(offsets)).tide_stations[-1]
    assert station.secondary is not None
    assert station.secondary.high == Offsets(time=30 * MINUTE, ratio=0.9)
    assert station.secondary.low == Offsets(time=45 * MINUTE)


def test_streams_from_constants_and_from_a_series(folder: Path) -> None:
    axis = stream(
        'axis_towards_deg = 40\nmean_kn = -0.5\nconstituent = [{ name = "M2", amplitude_kn = 2, phase_lag_deg = 90 }]'
    )
    named = stream('stream_series = "stream.csv"\ndeviation_kn = 0.2').replace("New", "Other")
    one, other = read(folder, axis, named).stream_stations[-2:]
    assert (one.axis, one.mean) == (40 * DEGREE, -0.5 * KNOT)
    assert one.constituents == (("M2", 2 * KNOT, pytest.approx(90 * DEGREE)),)
    assert [row[1:] for row in other.series] == [(1.5 * KNOT, 40 * DEGREE), (0.0, 0.0)]
    assert other.deviation == pytest.approx(0.2 * KNOT)


SPOILT = [
    (tide('level_series = "levels.csv"\nhigh_low_table = "tide.csv"'), "constituents: station 'New' needs one of"),
    (tide('level_series = "none.csv"'), "none.csv: is missing"),
    (tide('level_series = "tide.csv"'), "tide.csv:1: has no header; expected the first line to be time,level_m"),
    (tide(f'[tide_station.secondary]\nreference = "Nowhere"\nzone_h = 0\nhigh = {DIFFERENCES}\nlow = {DIFFERENCES}\n'),
     "reference 'Nowhere' is no standard port among the tide stations"),
    (tide(f'[tide_station.secondary]\nreference = "Ambry Bar"\nzone_h = 0\nhigh = {DIFFERENCES}\nlow = {DIFFERENCES}\n'
          '[tide_station.offsets]\nreference = "Ambry Bar"\nhigh_time_min = 30\nlow_time_min = 45\n'),
     "stands beside secondary at station 'New'; expected one of them"),
    (stream('stream_series = "stream.csv"\nreference = "Ambry Bar"\nspring_range_m = 4\nneap_range_m = 2\n'
            'row = [{ hour = 0, towards_deg = 0, spring_kn = 1, neap_kn = 1 }]'), "rows: station 'New' needs one of"),
    (stream("axis_towards_deg = 40"), "rows: station 'New' needs one of: rows by hours from high water"),
    (stream('constituent = [{ name = "M2", amplitude_kn = 2, phase_lag_deg = 90 }]'), "has constants but no axis"),
    (stream('row = [{ hour = 0, towards_deg = 0, spring_kn = 1, neap_kn = 1 }]'), "needs the tide station whose high water"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "sentence"), SPOILT, ids=[row[1][:40] for row in SPOILT])
def test_faults(folder: Path, table: str, sentence: str) -> None:
    with pytest.raises(InputErrors) as caught:
        read(folder, table)
    assert sentence in str(caught.value)


def test_faults_of_a_stream_table(folder: Path) -> None:
    (folder / "waterway/stream.csv").write_text(
        "time,rate_kn,towards_deg\n2031-05-05T00:00Z,fast,40\n2031-05-05T01:00Z,1,400\n2031-05-05T02:00Z,1\n"
    )
    with pytest.raises(InputErrors) as caught:
        read(folder, stream('stream_series = "stream.csv"'))
    told = str(caught.value)
    assert "stream.csv:2: rate_kn: 'fast' is no rate of a stream; expected knots, 0 to 20" in told
    assert "stream.csv:3: towards_deg: '400' is no direction; expected degrees true, 0 to 360" in told
    assert "stream.csv:4: has 2 cells; expected time, rate_kn, towards_deg" in told


def test_faults_without_end_are_counted(folder: Path) -> None:
    (folder / "waterway/levels.csv").write_text("time,level_m\n" + "noon,1\n" * 200)
    with pytest.raises(InputErrors) as caught:
        read(folder, tide('level_series = "levels.csv"'))
    assert "levels.csv: and 150 more faults of this file" in str(caught.value)
    assert len(caught.value.errors) == 51
