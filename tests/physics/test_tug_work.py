"""A tug at work: the same shares as the statics, which way she can be asked, and the places she works at."""

import math

import pytest

from leadsman.physics import by_speed, tug, tug_work
from leadsman.units import KNOT

SHARES = tug_work.shares()
SIDE = tug_work.TugAtWork(
    position=40.0,
    offset=15.0,
    home=0.5 * math.pi,
    sector=math.radians(30.0),
    line_pull=300e3,
    push_pull=400e3,
    line_row=tug_work.row("azimuth stern drive", "on a line"),
    push_row=tug_work.row("azimuth stern drive", "pushing"),
    wash_shallow=0.1,
    reaction=15.0,
    slew=0.05,
    ramp=0.05,
)


@pytest.mark.parametrize("knots", [0.0, 0.4, 1.0, 2.0, 2.5, 3.0, 4.0, 5.5, 6.0, 7.0, 8.0, 10.0])
@pytest.mark.parametrize("place", range(len(tug_work.ROWS)))
def test_shares_are_those_of_the_statics(knots: float, place: int) -> None:
    """Against `tug.speed_share`, whose own figures are tested against the sheet."""
    kind, work = tug_work.ROWS[place]
    expected = tug.speed_share(kind, work, knots * KNOT)  # type: ignore[arg-type]
    assert by_speed.read(SHARES, place, knots * KNOT) == pytest.approx(expected)
    assert by_speed.read(SHARES, place, -knots * KNOT) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("kind", "work", "expected"),
    [
        ("conventional, nozzle", "on a line", 0.0),
        ("cycloidal tractor", "pushing", 3.0),
        ("escort", "on a line", 2.0),
        ("escort", "indirect", 4.0),
    ],
)
def test_the_row_of_a_type(kind: str, work: str, expected: float) -> None:
    assert tug_work.row(kind, work) == expected


def test_an_unknown_type_is_refused() -> None:
    with pytest.raises(ValueError, match="'paddle' is not known; known: conventional, open screw"):
        tug_work.row("paddle", "pushing")


AIMS = [  # ordered direction, way, angle off the axis; home abeam to starboard, sector 30 degrees
    (90.0, 1.0, 0.0),
    (70.0, 1.0, -20.0),
    (20.0, 1.0, -30.0),
    (-90.0, -1.0, 0.0),
    (270.0, -1.0, 0.0),
    (-75.0, -1.0, 15.0),
    (-10.0, -1.0, 30.0),
]


@pytest.mark.parametrize(("ordered", "way", "angle"), AIMS)
def test_a_side_tug_pulls_out_and_pushes_in(ordered: float, way: float, angle: float) -> None:
    found = tug_work.aim(SIDE, math.radians(ordered))
    assert found[0] == way
    assert math.degrees(found[1]) == pytest.approx(angle, abs=1e-9)


def test_on_a_line_she_cannot_push() -> None:
    line = SIDE._replace(push_row=tug_work.NOT_WORKED)
    assert tug_work.pull(line, -1.0, 1.0, SHARES, 0.0, False) == 0.0
    assert tug_work.pull(SIDE._replace(line_row=tug_work.NOT_WORKED), 1.0, 1.0, SHARES, 0.0, False) == 0.0


def test_her_wash_costs_more_in_little_water_and_only_on_a_line() -> None:
    assert tug_work.pull(SIDE, 1.0, 1.0, SHARES, 0.0, True) == pytest.approx(270e3)
    assert tug_work.pull(SIDE, -1.0, 1.0, SHARES, 0.0, True) == tug_work.pull(SIDE, -1.0, 1.0, SHARES, 0.0, False)


PLACES = [  # place, metres forward of midships of a ship of 200 m with 80 m of parallel body, side
    ("forward", 96.0, 0.0),
    ("aft", -94.0, 0.0),
    ("port_bow", 40.0, -1.0),
    ("starboard_quarter", -40.0, 1.0),
]


@pytest.mark.parametrize(("place", "forward", "side"), PLACES)
def test_places(place: str, forward: float, side: float) -> None:
    assert tug_work.position(place, 200.0, 80.0) == pytest.approx(forward)
    assert tug_work.side(place) == side
