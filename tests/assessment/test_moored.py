"""Ships alongside that she passes: loads by the published method, the speed that spares them, its limits marked."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.account import account
from leadsman.assessment.moored import drawn, moored_findings
from leadsman.assessment.prepare import Prepared
from leadsman.figure import Grade
from leadsman.files.call_files import read_call
from leadsman.geometry import Position
from leadsman.physics import passing
from leadsman.rule import MooredShip
from leadsman.units import KNOT, TONNE_FORCE


@pytest.fixture(scope="module")
def beside(first_prepared: Prepared) -> MooredShip:
    """Sixty metres off the middle of Mill Reach."""
    passage = first_prepared.passage
    at = 0.5 * float(passage.track.waypoint_distances[3] + passage.track.waypoint_distances[4])
    x, y, course = (float(value[0]) for value in passage.track.at(at))
    latitude, longitude = first_prepared.call.waterway.plane.to_earth(
        x - 60.0 * np.sin(course), y + 60.0 * np.cos(course)
    )
    return MooredShip(
        name="Teal Drift", position=Position(float(latitude), float(longitude)), length=80.0, beam=13.0, draught=5.0
    )


def passed(prepared: Prepared, ship: MooredShip):
    with_ship = replace(prepared, call=replace(prepared.call, moored=(ship,)))
    return drawn(with_ship, account(prepared, prepared.call.start))


def test_loads_are_those_of_the_method(first_prepared: Prepared, beside: MooredShip) -> None:
    (one,) = passed(first_prepared, beside)
    assert one.separation == pytest.approx(60.0, abs=0.5)
    found = account(first_prepared, first_prepared.call.start)
    here = int(np.argmin(np.abs(found.distance - one.distance)))
    hull = first_prepared.floating.hull
    loads = passing.wang(
        np.arange(-150.0, 150.0, 1.0), one.separation, one.speed, 80.0, hull.length_between_perpendiculars,
        0.98 * 13.0 * 5.0, 0.98 * hull.beam * hull.draught, float(found.depth[here] + found.water_level[here]), 1012.0,
    )  # fmt: skip
    assert one.along == pytest.approx(1.5 * np.max(np.abs(loads.along)), rel=0.03)  # 1.5: docs/methods/passing.md
    assert one.across == pytest.approx(1.5 * np.max(np.abs(loads.towards)), rel=0.03)


def test_weak_lines_are_a_caution_with_the_speed_that_spares_them(first_prepared: Prepared, beside: MooredShip) -> None:
    (one,) = passed(first_prepared, beside)
    strong, weak, hopeless = (replace(beside, greatest_along=share * one.along) for share in (2.0, 0.64, 1e-4))
    (kept,), (broken,), (none,) = (moored_findings(passed(first_prepared, ship)) for ship in (strong, weak, hopeless))
    assert kept.grade is Grade.NOTE
    assert broken.grade is Grade.CAUTION
    speed = float(broken.sentence.split("at most ")[1].split(" kn")[0])
    assert 0.8 * one.speed / KNOT - 0.1 <= speed <= 0.8 * one.speed / KNOT  # sqrt(0.64), loads grow with speed squared
    assert "pass farther off" in none.sentence


def test_beyond_the_method_it_is_marked_and_far_ships_are_not_told(
    first_prepared: Prepared, beside: MooredShip
) -> None:
    (one,) = passed(first_prepared, replace(beside, beam=90.0))
    assert any("separation to mean beam" in words for words in one.outside)
    assert "indicative" in moored_findings((one,))[0].sentence
    far = replace(beside, position=Position(beside.position.latitude + 0.05, beside.position.longitude))
    assert passed(first_prepared, far) == ()


def test_a_moored_ship_is_read_from_the_call(folder: Path) -> None:
    with (folder / "call.toml").open("a") as file:
        file.write(
            '\n[[moored]]\nname = "Teal Drift"\nlatitude = -31.49\nlongitude = -17.47\nlength_m = 80\nbeam_m = 13\n'
            "draught_m = 5\ngreatest_along_t = 12\n"
        )
    (ship,) = read_call(folder).moored
    assert (ship.name, ship.length, ship.greatest_along) == ("Teal Drift", 80.0, 12.0 * TONNE_FORCE)
