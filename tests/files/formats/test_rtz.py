"""Routes as RTZ. Independent party: `xmlschema` with a schema in our own words, written from the reference sheet."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import hypothesis.strategies as st
import pytest
import xmlschema
from hypothesis import HealthCheck, given, settings

from leadsman.errors import Impossible, InputErrors
from leadsman.files.formats import rtz, rtz_writing
from leadsman.files.formats.records import Route, RouteLeg, RouteSchedule, RouteWaypoint, ScheduleEntry
from leadsman.geometry import Position

SCHEMA = xmlschema.XMLSchema(Path(__file__).with_name("rtz_1_2.xsd"))

INWARD = """<?xml version="1.0" encoding="UTF-8"?>
<route xmlns="http://www.cirm.org/RTZ/1/2" xmlns:our="urn:invented" version="1.2">
  <routeInfo routeName="Inward" vesselName="Invented" vesselMaxWind="20">
    <extensions><extension manufacturer="Nobody" name="info"/></extensions>
  </routeInfo>
  <waypoints>
    <defaultWaypoint radius="0.3"><leg starboardXTD="0.1" portsideXTD="0.1"/></defaultWaypoint>
    <waypoint id="7" name="Fairway buoy" revision="2"><position lat="-30.5" lon="-120.25"/></waypoint>
    <waypoint id="3" radius="0.5">
      <position lat="-30.45" lon="-120.2"/>
      <leg starboardXTD="0.05" portsideXTD="0.04" geometryType="Loxodrome" speedMin="6" speedMax="10" draughtAft="9.5"
           staticUKC="1.2" legNote1="keep to starboard"/>
      <extensions>
        <extension manufacturer="Nobody" name="marks" version="4"
          ><our:mark kind="x">text &amp; more</our:mark> tail</extension>
      </extensions>
    </waypoint>
    <waypoint id="4"><position lat="-30.4" lon="-120.19"/></waypoint>
  </waypoints>
  <schedules>
    <schedule id="1" name="tonight">
      <manual>
        <scheduleElement waypointId="7" etd="2026-08-15T05:28:00Z"/>
        <scheduleElement waypointId="4" eta="2026-08-15T08:58:00+02:00" stay="PT1H30M" speed="9" rpm="80"/>
      </manual>
    </schedule>
  </schedules>
  <extensions><extension manufacturer="Nobody" name="whole"><our:data/></extension></extensions>
</route>
"""


def written(tmp_path: Path, text: str, name: str = "inward.rtz") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def faults(path: Path) -> list[str]:
    with pytest.raises(InputErrors) as caught:
        rtz.read(path)
    return [str(error) for error in caught.value.errors]


def test_the_example_is_valid_to_the_schema() -> None:
    SCHEMA.validate(INWARD)


def test_reading(tmp_path: Path) -> None:
    route = rtz.read(written(tmp_path, INWARD))
    assert route.name == "Inward"
    assert dict(route.info) == {"vesselName": "Invented"}
    assert route.vessel_maximum_wind == pytest.approx(20 * 1852 / 3600)  # knots in 1.2 [read]
    assert [point.identifier for point in route.waypoints] == [7, 3, 4]
    first, second, _ = route.waypoints
    assert (first.name, first.revision, first.turn_radius, first.leg) == ("Fairway buoy", 2, None, None)
    assert second.position == Position(-30.45, -120.2)
    assert second.turn_radius == pytest.approx(926.0)  # half a nautical mile
    assert second.leg is not None
    assert second.leg.cross_track_limit_starboard == pytest.approx(92.6)
    assert second.leg.cross_track_limit_port == pytest.approx(74.08)
    assert second.leg.speed_max == pytest.approx(10 * 1852 / 3600)
    assert (second.leg.draught_aft, second.leg.static_underkeel_clearance) == (9.5, 1.2)
    assert dict(second.leg.texts) == {"legNote1": "keep to starboard"}
    (schedule,) = route.schedules
    assert schedule.manual[0].departure == datetime(2026, 8, 15, 5, 28, tzinfo=UTC)
    assert schedule.manual[1].arrival == datetime(2026, 8, 15, 6, 58, tzinfo=UTC)  # 08:58 at +02:00
    assert schedule.manual[1].stay == timedelta(minutes=90)
    assert schedule.manual[1].speed == pytest.approx(4.63)  # 9 kn
    assert dict(schedule.manual[1].texts) == {"rpm": "80"}
    assert route.notes == ()


@pytest.mark.parametrize("version", ["1.0", "1.1", "1.2"])
def test_round_trip_of_every_version(tmp_path: Path, version: str) -> None:
    route = rtz.read(written(tmp_path, INWARD))
    rtz_writing.write(route, tmp_path / "out.rtz", version)
    again = rtz.read(tmp_path / "out.rtz")
    first, last = rtz_writing.to_bytes(route, version), rtz_writing.to_bytes(again, version)
    assert first == last
    assert again.waypoints[1].leg == route.waypoints[1].leg
    assert again.schedules[0].manual == route.schedules[0].manual
    assert again.vessel_maximum_wind == pytest.approx(route.vessel_maximum_wind)


def test_what_is_written_is_valid_to_the_schema(tmp_path: Path) -> None:
    rtz_writing.write(rtz.read(written(tmp_path, INWARD)), tmp_path / "out.rtz")
    SCHEMA.validate(str(tmp_path / "out.rtz"))


def test_extensions_of_others_come_back_whole(tmp_path: Path) -> None:
    route = rtz.read(written(tmp_path, INWARD))
    for version in ("1.2", "1.0"):
        content = rtz_writing.to_bytes(route, version).decode()
        assert '<our:mark kind="x">text &amp; more</our:mark> tail</extension>' in content
        assert 'xmlns:our="urn:invented"' in content
        assert content.count("<extension ") == 3
        assert "RTZ/1/2" not in content or version == "1.2"


def test_wind_is_converted_by_version(tmp_path: Path) -> None:
    """Knots in 1.2 [read]; metres per second before [a stored listing of an older version]."""
    older = rtz.read(written(tmp_path, INWARD.replace("RTZ/1/2", "RTZ/1/0").replace('version="1.2"', 'version="1.0"')))
    assert older.vessel_maximum_wind == 20.0
    assert b'vesselMaxWind="38.876' in rtz_writing.to_bytes(older, "1.2")  # 20 m/s in knots, by hand: 20 x 3600 / 1852


FAULTS = [
    ('lat="-30.5"', 'lat="-130.5"', ":LINE: lat: is -130.5; expected -90 to 90"),
    ('lon="-120.25"', 'lon="180"', ":LINE: lon: is 180; expected -180 to 180 (excluded)"),
    ('lat="-30.5" ', "", ":LINE: lat: is missing"),
    ('lat="-30.5"', 'lat="30 30S"', ":LINE: lat: '30 30S' is no number"),
    ('lat="-30.5"', 'lat="NaN"', ":LINE: lat: 'NaN' is no number"),
    ('lat="-30.5"', 'lat="1e999"', ":LINE: lat: is inf; expected -90 to 90"),
    ('id="3"', 'id="7"', ":LINE: id: 7 stands on line 8 too; expected ids that differ"),
    ('id="3"', 'id="-3"', ":LINE: id: is '-3'; expected a whole number, 0 or above"),
    ('id="3"', "", ":LINE: id: is missing; expected a whole number, 0 or above"),
    ('radius="0.5"', 'radius="5.1"', ":LINE: radius: is 5.1; expected 0 to 5"),
    ('portsideXTD="0.04"', 'portsideXTD="10"', ":LINE: portsideXTD: is 10; expected 0 to 10 (excluded)"),
    ('"Loxodrome"', '"straight"', ":LINE: geometryType: is 'straight'; expected Loxodrome or Orthodrome"),
    ('speedMin="6"', 'speedMin="16"', ":LINE: speedMin: lies above speedMax"),
    ('etd="2026-08-15T05:28:00Z"', 'etd="2026-08-15T05:28:00"', ":LINE: etd: '2026-08-15T05:28:00' has no zone"),
    ('etd="2026-08-15T05:28:00Z"', 'etd="soon"', ":LINE: etd: 'soon' is no time"),
    ('stay="PT1H30M"', 'stay="1h"', ":LINE: stay: '1h' is no duration"),
    ('waypointId="4"', 'waypointId="9"', "schedules: an entry names waypoint 9, which the route does not have"),
    ('routeName="Inward"', "", ":LINE: routeName: is missing; a route needs a name"),
    ('version="1.2"', 'version="1.1"', ":LINE: version: is '1.1', the namespace says 1.2"),
    (
        'manufacturer="Nobody" name="whole"',
        'name="whole"',
        ":LINE: extension: an extension needs manufacturer and name",
    ),
    ("RTZ/1/2", "RTZ/9/9", "is 'route' in 'http://www.cirm.org/RTZ/9/9'; expected 'route' of RTZ 1.0, 1.1 or 1.2"),
    ("</route>", "", "is not whole XML"),
    ("<route ", '<!DOCTYPE route [<!ENTITY a "b">]><route ', "declares a document type"),
    ("<position lat=", "<place lat=", ":LINE: position: stands 0 times; expected once"),
]


@pytest.mark.parametrize(("old", "new", "sentence"), FAULTS)
def test_faults(tmp_path: Path, old: str, new: str, sentence: str) -> None:
    line = INWARD.count("\n", 0, INWARD.index(old)) + 1
    told = faults(written(tmp_path, INWARD.replace(old, new, 1)))
    # libxml2 names the line on which a tag ends, and the long leg of the example ends one line later
    expected = [sentence.replace(":LINE:", f":{number}:") for number in (line, line + 1)]
    assert any(wanted in fault for fault in told for wanted in expected), told


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    told = faults(written(tmp_path, INWARD.replace('lat="-30.5"', 'lat="x"').replace('radius="0.5"', 'radius="9"')))
    assert len(told) == 2


def test_unknown_elements_are_noted_and_left_out(tmp_path: Path) -> None:
    route = rtz.read(written(tmp_path, INWARD.replace("<waypoints>", "<weather/><waypoints><our:x/>")))
    assert route.notes == (
        "line 6: element 'weather' is not known here; left out",
        "line 6: element 'x' is not known here; left out",
    )


def test_too_few_waypoints(tmp_path: Path) -> None:
    start, end = INWARD.index('<waypoint id="3"'), INWARD.index("</waypoints>")
    told = faults(written(tmp_path, INWARD[:start] + INWARD[end : INWARD.index("<schedules>")] + "</route>"))
    assert any("holds 1; expected at least two" in line for line in told)


def test_many_faults_are_counted(tmp_path: Path) -> None:
    many = "".join(f'<waypoint id="{i}"><position lat="x" lon="0"/></waypoint>' for i in range(1000))
    start, end = INWARD.index("<waypoint "), INWARD.index("</waypoints>")
    told = faults(written(tmp_path, INWARD[:start] + many + INWARD[end:]))
    assert len(told) == 51
    assert told[-1] == "inward.rtz: and 950 more faults of this file"


BILLION = (
    '<!DOCTYPE route [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY {after} "{f"&{before};" * 10}">' for before, after in zip("abcdefgh", "bcdefghi", strict=True))
    + "]>"
)


@pytest.mark.parametrize(
    "text",
    [
        BILLION + INWARD.split("\n", 1)[1].replace("Inward", "&i;"),
        '<!DOCTYPE r [<!ENTITY a SYSTEM "file:///etc/hostname">]><route xmlns="http://www.cirm.org/RTZ/1/2">&a;</route>',
        "<a>" * 100_000,
        INWARD.replace("Inward", "x" * 11_000_000),
    ],
    ids=["entities", "outside entity", "depth", "long attribute"],
)
def test_hostile_xml_ends_in_a_sentence(tmp_path: Path, text: str) -> None:
    assert all("inward.rtz" in line for line in faults(written(tmp_path, text)))


def test_a_file_too_large_is_not_opened(tmp_path: Path) -> None:
    path = tmp_path / "large.rtz"
    with path.open("wb") as stream:
        stream.truncate(rtz.LARGEST + 1)
    assert faults(path) == ["large.rtz: is 20.0 MB; at most 20 MB are read of a file of this kind"]


def two(**options: object) -> tuple[RouteWaypoint, ...]:
    return (
        RouteWaypoint(identifier=1, position=Position(0.0, 179.9)),
        RouteWaypoint(identifier=2, position=Position(0.0, 180.0), **options),  # type: ignore[arg-type]
    )


def test_across_the_antimeridian(tmp_path: Path) -> None:
    """180 degrees east is the same meridian as 180 west, and the schema knows the latter only."""
    rtz_writing.write(Route(name="east", waypoints=two()), tmp_path / "east.rtz")
    SCHEMA.validate(str(tmp_path / "east.rtz"))
    assert rtz.read(tmp_path / "east.rtz").waypoints[1].position.longitude == -180.0


@pytest.mark.parametrize(
    ("route", "sentence"),
    [
        (
            Route(name="r", waypoints=two(turn_radius=10_000.0)),
            "waypoint 2, turn_radius: in the file's unit it is 5.39957; expected 0 to 5",
        ),
        (Route(name="r", waypoints=two(leg=RouteLeg(cross_track_limit_port=18_520.0))), "cross_track_limit_port"),
        (Route(name="r", waypoints=two(leg=RouteLeg(geometry="arc"))), "expected Loxodrome or Orthodrome"),
        (Route(name="r", waypoints=two(), info={"vesselName": "a\x00b"}), "characters that XML cannot carry"),
    ],
)
def test_what_the_format_cannot_hold_is_not_written(tmp_path: Path, route: Route, sentence: str) -> None:
    with pytest.raises(Impossible, match=sentence):
        rtz_writing.write(route, tmp_path / "r.rtz")
    assert not list(tmp_path.iterdir())


def test_unknown_version_is_refused() -> None:
    with pytest.raises(Impossible, match=r"'2.0' of RTZ is not known; expected 1.0, 1.1 or 1.2"):
        rtz_writing.to_bytes(Route(name="r", waypoints=two()), "2.0")


TEXT = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"], exclude_characters="\ufffe\uffff"), max_size=12
)
METRES = st.none() | st.floats(0.0, 30.0)
LEGS = st.builds(
    RouteLeg,
    geometry=st.sampled_from([None, "Loxodrome", "Orthodrome"]),
    cross_track_limit_port=st.none() | st.floats(0.0, 18_000.0),
    draught_forward=METRES,
    safety_depth=st.none() | st.floats(-5.0, 50.0),
    speed_max=st.none() | st.floats(0.0, 20.0),
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(st.floats(-90, 90), st.floats(-180, 180, exclude_max=True), TEXT, st.none() | LEGS),
        min_size=2,
        max_size=5,
    ),
    TEXT,
)
def test_any_route_comes_back(tmp_path: Path, rows: list[tuple[float, float, str, RouteLeg | None]], name: str) -> None:
    waypoints = tuple(
        RouteWaypoint(identifier=i, position=Position(latitude, longitude), name=label, leg=leg)
        for i, (latitude, longitude, label, leg) in enumerate(rows)
    )
    entry = ScheduleEntry(waypoint=1, arrival=datetime(2026, 1, 1, tzinfo=UTC), stay=timedelta(seconds=90))
    route = Route(name=name, waypoints=waypoints, schedules=(RouteSchedule(identifier=1, calculated=(entry,)),))
    rtz_writing.write(route, tmp_path / "any.rtz")
    SCHEMA.validate(str(tmp_path / "any.rtz"))
    again = rtz.read(tmp_path / "any.rtz")
    assert (again.name, again.schedules) == (route.name, route.schedules)
    for before, after in zip(route.waypoints, again.waypoints, strict=True):
        assert after.name == before.name
        assert after.position.latitude == pytest.approx(before.position.latitude, abs=1e-9)
        east = after.position.longitude - before.position.longitude
        assert (east + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=1e-9)  # 180 east and west are one meridian
        assert (before.leg is None) == (after.leg is None)
        for field in ("geometry", "speed_max", "cross_track_limit_port", "draught_forward", "safety_depth"):
            expected = getattr(before.leg, field, None)
            close = pytest.approx(expected, abs=1e-8) if isinstance(expected, float) else expected
            assert getattr(after.leg, field, None) == close
