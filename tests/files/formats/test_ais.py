"""Logs of AIS and NMEA; sentences are encoded by pyais (the independent party) or written out with their checksum.

The sentence of MMSI 366053209 is the standing example in the documentation of open AIS decoders, from memory; its
decoded values are the decoder's and are used for nothing but the checksum.
"""

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from pyais import encode_dict

from leadsman.errors import InputErrors
from leadsman.files.formats import ais
from leadsman.files.formats.ais import AisLog

START = 1_786_771_680  # 2026-08-15T05:28:00Z, by `date -u -d 2026-08-15T05:28:00Z +%s`


def summed(body: str) -> str:
    """The body of a sentence or tag block with its checksum."""
    total = 0
    for letter in body:
        total ^= ord(letter)
    return f"{body}*{total:02X}"


def position(**changes: object) -> str:
    values = {"type": 1, "mmsi": 999000001, "lat": -30.5, "lon": -120.25, "speed": 9.3, "course": 45.1, "heading": 44,
              "turn": 10.0, "second": 3, **changes}  # fmt: skip
    return encode_dict(values, sentence_type="VDM")[0]


def tagged(sentence: str, time: float) -> str:
    return f"\\{summed(f's:station,c:{time:.0f}')}\\{sentence}"


def read(tmp_path: Path, *lines: str) -> AisLog:
    (tmp_path / "log.txt").write_text("\n".join(lines) + "\n")
    return ais.read(tmp_path / "log.txt")


def test_a_position_with_its_units(tmp_path: Path) -> None:
    (track,) = read(tmp_path, tagged(position(), START), tagged(position(lat=-30.499), START + 10)).tracks
    assert (track.identifier, track.start) == ("999000001", datetime(2026, 8, 15, 5, 28, tzinfo=UTC))
    np.testing.assert_array_equal(track.elapsed, [0.0, 10.0])
    np.testing.assert_allclose(track.latitude, [-30.5, -30.499])
    np.testing.assert_allclose(track.longitude, -120.25)
    assert track.speed_over_ground is not None
    assert track.course is not None
    assert track.heading is not None
    assert track.rate_of_turn is not None
    np.testing.assert_allclose(track.speed_over_ground, 9.3 * 1852 / 3600)
    np.testing.assert_allclose(np.degrees(track.course), 45.1)
    np.testing.assert_allclose(np.degrees(track.heading), 44.0)
    np.testing.assert_allclose(np.degrees(track.rate_of_turn) * 60, 10.0, atol=0.5)  # coded as 4.733 sqrt(rate)


@pytest.mark.parametrize(
    ("line", "origin"),
    [
        (tagged(position(), START), "tag block, seconds"),
        (tagged(position(), START * 1000), "tag block, milliseconds"),
        (f"2026-08-15T05:28:00Z {position()}", "head of the line"),
        (f"2026-08-15T06:28:00+01:00,{position()}", "head of the line, zone"),
        (f"{START};{position()}", "seconds since 1970"),
    ],
)
def test_where_times_come_from(tmp_path: Path, line: str, origin: str) -> None:
    assert read(tmp_path, line).tracks[0].start == datetime(2026, 8, 15, 5, 28, tzinfo=UTC), origin


def test_without_times_there_is_no_track(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="has positions, but no times: AIS gives only the second of the minute"):
        read(tmp_path, position())


def test_a_wrong_checksum_is_left_out_and_counted(tmp_path: Path) -> None:
    good, other = position(), position(lat=10.0)
    broken = other[:-2] + f"{int(other[-2:], 16) ^ 1:02X}"
    spoilt = good.replace(",A,", ",B,")
    log = read(
        tmp_path,
        tagged(good, START),
        tagged(broken, START + 1),
        tagged(spoilt, START + 2),
        tagged(good[:-3], START + 3),
    )
    assert len(log.tracks[0].elapsed) == 1
    assert log.notes == ("3 lines with a wrong or missing checksum were left out",)


def test_the_decoder_itself_does_not_raise_on_a_wrong_checksum() -> None:
    """Why the reader asks: reference sheet ecosystem.md, NMEA 0183 and AIS [ran]."""
    from pyais.messages import NMEASentenceFactory

    broken = NMEASentenceFactory.produce(b"!AIVDM,1,1,,A,15M67FC000G?ufbE`FepT@3n00Sa,0*5D")
    assert not broken.is_valid
    assert broken.decode().mmsi == 366053209


def test_a_tag_block_with_a_wrong_checksum_gives_no_time(tmp_path: Path) -> None:
    good = tagged(position(), START)
    log = read(tmp_path, good, good.replace("station", "stetion").replace(f"{START}", f"{START + 60}"))
    assert len(log.tracks[0].elapsed) == 1
    assert log.notes == ("1 tag blocks with a wrong checksum were left out", "1 positions without a time were left out")


@pytest.mark.parametrize(
    ("changes", "name"),
    [({"speed": 102.3}, "speed_over_ground"), ({"course": 360.0}, "course"), ({"heading": 511}, "heading"),
     ({"turn": -128}, "rate_of_turn"), ({"turn": 127}, "rate_of_turn")],
)  # fmt: skip
def test_values_not_available_are_missing(tmp_path: Path, changes: dict[str, object], name: str) -> None:
    (track,) = read(tmp_path, tagged(position(**changes), START)).tracks
    assert getattr(track, name) is None


def test_a_position_not_available_is_left_out(tmp_path: Path) -> None:
    log = read(tmp_path, tagged(position(), START), tagged(position(lat=91.0, lon=181.0), START + 1))
    assert len(log.tracks[0].elapsed) == 1
    assert log.notes == ("1 positions marked as not available were left out",)


def test_order_and_repeats(tmp_path: Path) -> None:
    log = read(tmp_path, *(tagged(position(lat=-30.0 - t), START + t) for t in (5, 0, 5, 2)))
    np.testing.assert_array_equal(log.tracks[0].elapsed, [0.0, 2.0, 5.0])
    assert log.tracks[0].notes == (
        "positions did not stand in order of time; they were sorted",
        "1 positions at times already taken were left out",
    )


def test_particulars_from_a_message_of_two_sentences(tmp_path: Path) -> None:
    static = encode_dict(
        {"type": 5, "mmsi": 999000001, "shipname": "INVENTED", "callsign": "XX1", "to_bow": 100, "to_stern": 40,
         "to_port": 10, "to_starboard": 12, "draught": 8.5}, sentence_type="VDM", seq_id=3,
    )  # fmt: skip
    log = read(tmp_path, static[0], tagged(position(), START), static[1], static[0])
    assert log.tracks[0].name == "INVENTED"
    assert log.tracks[0].particulars == {
        "name": "INVENTED", "callsign": "XX1", "length_overall": 140.0, "antenna_to_bow": 100.0, "beam": 22.0,
        "antenna_to_port": 10.0, "draught": 8.5,
    }  # fmt: skip
    assert log.notes == ("1 messages of several sentences were not complete and were left out",)


def test_class_b_and_several_vessels(tmp_path: Path) -> None:
    small = encode_dict(
        {"type": 18, "mmsi": 999000002, "lat": 1.5, "lon": 2.5, "speed": 3.0, "course": 10.0}, sentence_type="VDM"
    )[0]
    log = read(tmp_path, tagged(small, START), tagged(position(), START), tagged(position(), START + 1))
    assert [track.identifier for track in log.tracks] == ["999000001", "999000002"]
    found = log.track("999000002")
    assert found is not None
    assert found.latitude[0] == pytest.approx(1.5, abs=1e-6)
    assert log.track("123") is None


RMC = "$" + summed("GPRMC,052800.50,A,3030.000,S,12015.000,W,9.3,045.1,150826,,,A")


def test_own_ship_from_position_fixes(tmp_path: Path) -> None:
    log = read(tmp_path, RMC, "$" + summed("HEHDT,044.0,T"), "$" + summed("TIROT,-30.0,A"), "$" + summed("GPGSV,1"))
    own = log.track("own ship")
    assert own is not None
    assert own.start == datetime(2026, 8, 15, 5, 28, 0, 500_000, tzinfo=UTC)
    assert (own.latitude[0], own.longitude[0]) == (-30.5, -120.25)  # 30 degrees 30 minutes south
    assert own.heading is not None
    assert np.degrees(own.heading[0]) == pytest.approx(44.0)
    assert own.rate_of_turn is not None
    assert np.degrees(own.rate_of_turn[0]) * 60 == pytest.approx(-30.0)


@pytest.mark.parametrize(
    "body",
    [
        "GPRMC,052800.50,V,3030.000,S,12015.000,W,9.3,045.1,150826,,,N",
        "GPRMC,052800.50,A,3030.000",
        "GPRMC,052800.50,A,3030.000,,12015.000,,9.3,045.1,150826,,,A",
        "GPRMC,xx,A,3030.000,S,12015.000,W,9.3,045.1,150826,,,A",
        "GPRMC,052800.50,A,9930.000,S,12015.000,W,9.3,045.1,150826,,,A",
        "GPRMC,052800.50,A,3x30.000,S,12015.000,W,9.3,045.1,150826,,,A",
        "GPRMC,052800.50,A,,,,,,,,,,A",
        "GPRMC,,,,,,,,,,,",
    ],
)
def test_fixes_that_are_none(tmp_path: Path, body: str) -> None:
    with pytest.raises(InputErrors, match=r"log.txt: holds no position that can be used; 1 "):
        read(tmp_path, "$" + summed(body))


@pytest.mark.parametrize(
    "line",
    [
        "garbage",
        "!AIVDM",
        "!" + summed("AIVDM,9,9,,A,,0"),
        "!" + summed("AIVDM,1,1,,A,x,0"),
        "\\" * 50,
        "2026-99-99T00:00:00Z !",
        "!" + summed("AIVDM,2,1,,A,15,0"),
        "!" + summed("AIVDM,0,0,,A,15,0"),
        "!" + summed("AIVDM,a,b,,A,15,0"),
        "x" * 5000,
        "2026-08-15T05:28:00Z !" + summed("AIVDM,1,1,,A,1>pf7h@3iMGIR,0"),
    ],
)
def test_lines_of_no_use(tmp_path: Path, line: str) -> None:
    with pytest.raises(InputErrors, match=r"log.txt: holds no position that can be used"):
        read(tmp_path, line)


def test_a_flood_of_unfinished_messages_stays_bounded(tmp_path: Path) -> None:
    lines = ["!" + summed(f"AIVDM,{count},1,{number},A,15,0") for count in range(2, 10) for number in range(10)]
    lines += [f"!{summed(f'{talker}VDM,9,1,{number},{channel},15,0')}"
              for talker in ("AI", "AB", "BS", "AN") for number in range(10) for channel in "ABCDEFGH"]  # fmt: skip
    log = read(tmp_path, *lines, tagged(position(), START))
    assert any("were not complete" in note for note in log.notes)
