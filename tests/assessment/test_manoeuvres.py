"""The trials of a ship as rows: bands, both conditions, calibration to card and poster, and the bottom."""

from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.assessment.manoeuvres import manoeuvres
from leadsman.assessment.manoeuvres_result import Manoeuvre, Manoeuvres
from leadsman.equipment import State
from leadsman.errors import CannotCompute
from leadsman.files.call_files import read_ship
from leadsman.poster import Basis, Poster, TurningCircle
from leadsman.ship import Loading, Ship
from leadsman.units import DEGREE

EXAMPLES = Path(__file__).parents[2] / "examples"
TURN = "Turn 35° starboard, full sea speed"
DRAWS = 8


@pytest.fixture(scope="module")
def carrier() -> tuple[Ship, Loading]:
    return read_ship(EXAMPLES / "2-bar-bulk-carrier")


@pytest.fixture(scope="module")
def tried(carrier: tuple[Ship, Loading]) -> Manoeuvres:
    return manoeuvres(*carrier, draws=DRAWS)


def row(found: Manoeuvres, trial: str, quantity: str) -> Manoeuvre:
    return next(one for one in found.rows if (one.trial, one.quantity) == (trial, quantity))


def test_every_kind_of_trial_is_there(tried: Manoeuvres) -> None:
    """The list of issue 6: turns, zig-zags, spiral, pull-out, stops, kick, accelerating turn, steering, drift."""
    trials = " ".join(one.trial for one in tried.rows)
    for word in ("Speed", "From rest", "Turn 35", "Turn from rest", "Zig-zag 10/10", "Zig-zag 20/20", "Spiral", "Pull-out",
                 "by full astern", "by engine stopped", "Kick", "Steering", "Adrift", "MSC.137(76)"):  # fmt: skip
        assert word in trials


def test_a_figure_lies_within_its_band(tried: Manoeuvres) -> None:
    banded = [one for one in tried.rows if one.low is not None and one.value is not None]
    assert len(banded) > 60
    for one in banded:
        assert one.low is not None
        assert one.high is not None
        assert one.value is not None
        assert one.low <= one.value <= one.high
    turn = row(tried, TURN, "tactical diameter")
    assert turn.low is not None
    assert turn.high is not None
    assert turn.high > 1.1 * turn.low


def test_without_draws_there_is_no_band(carrier: tuple[Ship, Loading]) -> None:
    found = manoeuvres(*carrier, draws=0)
    assert found.draws == 0
    assert all(one.low is None for one in found.rows)


def test_the_same_again(carrier: tuple[Ship, Loading], tried: Manoeuvres) -> None:
    assert manoeuvres(*carrier, draws=DRAWS) == tried


def test_in_ballast_she_is_lighter_and_that_is_said(carrier: tuple[Ship, Loading], tried: Manoeuvres) -> None:
    """A lighter ship stops shorter."""
    light = manoeuvres(*carrier, condition="ballast", draws=0)
    assert (light.condition, light.condition_estimated) == ("ballast", True)
    assert light.draught < tried.draught
    stop = ("Stop from full sea speed by full astern", "track reach")
    laden, empty = row(tried, *stop).value, row(light, *stop).value
    assert laden is not None
    assert empty is not None
    assert empty < laden


def test_a_circle_on_the_poster_is_met_and_narrows_the_band(carrier: tuple[Ship, Loading], tried: Manoeuvres) -> None:
    """The residual left is shown; a stated circle of a trial counts as good to 5 % (judgement)."""
    ship, loading = carrier
    before = row(tried, TURN, "tactical diameter")
    assert before.value is not None
    stated = 0.85 * before.value
    circle = TurningCircle(
        condition="loaded", side="starboard", rudder=35.0 * DEGREE, basis=Basis.TRIAL, tactical_diameter=stated
    )
    found = manoeuvres(replace(ship, poster=Poster(turning_circles=(circle,))), loading, draws=DRAWS)
    (left,) = found.stated
    assert (left.quantity, left.value) == ("tactical diameter", stated)
    assert left.estimated == pytest.approx(before.value)
    assert left.missed_by is not None
    assert abs(left.missed_by) < 1.0
    after = row(found, TURN, "tactical diameter")
    assert after.value == pytest.approx(stated, rel=0.05)
    assert after.low is not None
    assert after.high is not None
    assert before.low is not None
    assert before.high is not None
    assert after.high - after.low < before.high - before.low


def test_in_shallow_water_the_band_reaches_the_other_published_set(carrier: tuple[Ship, Loading]) -> None:
    """At twice the draught Hirano's set gives a circle a fifth wider than the one used (docs/methods/shallow.md)."""
    turn = row(manoeuvres(*carrier, 2.0, draws=0), TURN, "tactical diameter")
    assert turn.value is not None
    assert turn.high is not None
    assert turn.high > 1.1 * turn.value


def test_she_touches_the_bottom_and_the_rows_say_so(carrier: tuple[Ship, Loading]) -> None:
    found = manoeuvres(*carrier, 1.1, draws=0)
    trials = [one.trial for one in found.rows]
    assert "Speed, full sea speed: she touches the bottom" in trials
    assert not any(trial.endswith("full sea speed") for trial in trials)
    assert any(trial.startswith("Zig-zag") for trial in trials)
    assert "MSC.137(76)" not in trials


def test_too_shallow_and_unable_are_refused(carrier: tuple[Ship, Loading]) -> None:
    ship, loading = carrier
    with pytest.raises(CannotCompute, match=r"depth by draught 1 is too shallow for the model; expected at least 1\.05"):
        manoeuvres(ship, loading, 1.0)
    broken = replace(ship, engine=replace(ship.engine, state=State.DEFECTIVE))
    with pytest.raises(CannotCompute, match="cannot be tried: engine: recorded as defective"):
        manoeuvres(broken, loading)
