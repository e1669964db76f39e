"""A ship whose poster states trials is drawn as narrowly as they are sure, and the rehearsal says what it rests on."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import relied_on
from leadsman.assessment.rehearse_draws import Spread, draw
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_result import Matter
from leadsman.assessment.rehearse_ship import rests_on
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall
from leadsman.poster import Basis, Poster, Stop, TurningCircle, ZigZag
from leadsman.simulation.bands import figures
from leadsman.simulation.factors import PRIOR, Factors
from leadsman.simulation.setting import Setting

EXAMPLE = Path(__file__).parents[2] / "examples" / "2-bar-bulk-carrier"
TIGHTER = 0.93  # of the estimated circle: what the invented trial found
DRAWS = 24


@pytest.fixture(scope="module")
def plain() -> Ready:
    call = read_call(EXAMPLE)
    return ready(prepare(call), call.start)


def with_poster(call: PortCall, made: Ready) -> PortCall:
    """The same ship after trials that found her a little tighter than estimated."""
    setting = Setting(fleet=made.setting.fleet, orders=made.setting.orders)
    tried = figures(setting)
    circles = tuple(
        TurningCircle(
            side=side,
            condition=call.loading.condition,
            rudder=setting.hard_over,
            advance=TIGHTER * (tried[f"advance, {side}"] or math.nan),
            transfer=TIGHTER * (tried[f"transfer, {side}"] or math.nan),
            tactical_diameter=TIGHTER * (tried[f"tactical diameter, {side}"] or math.nan),
            basis=Basis.TRIAL,
        )
        for side in ("starboard", "port")
    )
    zigzag = ZigZag(
        angle=math.radians(10.0),
        condition=call.loading.condition,
        first_overshoot=tried["first overshoot 10/10"],
        basis=Basis.TRIAL,
    )
    crash = Stop(
        order="full_sea_speed",
        condition=call.loading.condition,
        track_reach=tried["track reach, full astern"],
        basis=Basis.TRIAL,
    )
    poster = Poster(turning_circles=circles, stops=(crash,), zig_zags=(zigzag,))
    return replace(call, ship=replace(call.ship, poster=poster))


@pytest.fixture(scope="module")
def tried(plain: Ready) -> Ready:
    call = with_poster(plain.prepared.call, plain)
    return ready(prepare(call), call.start)


def advances(made: Ready) -> np.ndarray:
    """Advance to starboard of every drawn ship. [m]"""
    fleet = draw(made, DRAWS, 1, Spread()).fleet
    found = []
    for run in range(DRAWS):
        one = fleet._replace(ships=fleet.ships[run : run + 1])
        found.append(figures(Setting(fleet=one, orders=made.setting.orders))["advance, starboard"])
    return np.array(found, dtype=float)


def test_trials_draw_the_ship_narrower_and_about_what_they_found(plain: Ready, tried: Ready) -> None:
    without, with_trials = advances(plain), advances(tried)
    assert np.std(with_trials) < 0.6 * np.std(without), "a measured turning figure is good to 5 % (judgement)"
    stated = tried.prepared.call.ship.poster.turning_circles[0].advance
    assert with_trials[0] == pytest.approx(stated, rel=0.05), "the poster"
    assert np.std(with_trials) < 0.05 * float(stated or 0.0), "TRIAL: 5 % each, several figures together less"


def test_what_the_figures_tie_together_is_drawn_together(tried: Ready) -> None:
    assert tried.fit is not None
    names = list(Factors._fields)
    inputs = draw(tried, 2001, 3, Spread()).inputs[1:, -len(names) :]
    found = np.corrcoef(np.log(inputs), rowvar=False)
    deviations = np.sqrt(np.diag(tried.covariance))
    expected = tried.covariance / np.outer(deviations, deviations)
    assert found == pytest.approx(expected, abs=0.1), "the posterior's own correlations"
    assert np.max(np.abs(expected - np.eye(len(names)))) > 0.2, "figures do tie factors"


def test_what_nothing_speaks_of_keeps_its_band(plain: Ready, tried: Ready) -> None:
    place = Factors._fields.index("tug_force")
    for made in (plain, tried):
        assert math.sqrt(made.covariance[place, place]) == pytest.approx(PRIOR.tug_force)


def test_an_estimated_windage_widens_the_wind_and_a_given_one_does_not(plain: Ready) -> None:
    call = plain.prepared.call
    place = Factors._fields.index("wind_force")
    assert call.loading.lateral_windage is not None
    left_out = replace(call, loading=replace(call.loading, lateral_windage=None))
    unsure = ready(prepare(left_out), call.start)
    assert unsure.covariance[place, place] > 1.05 * plain.covariance[place, place]
    assert math.sqrt(plain.covariance[place, place]) >= PRIOR.wind_force, "methods differ whatever the area"


def test_the_rehearsal_says_what_it_rests_on(plain: Ready, tried: Ready) -> None:
    assert "no trial of hers" in relied_on(plain)[0]
    assert "reversal time 30 %" in relied_on(plain)[1]
    assert "fitted to tactical diameter" in relied_on(tried)[0]


def test_what_told_most_is_named_and_chance_is_not(plain: Ready) -> None:
    matters = (
        Matter(name="wind", success=-0.9, room=0.0, landing=0.0),
        Matter(name="ship: astern thrust", success=0.4, room=0.0, landing=0.0),
        Matter(name="ship: rudder force", success=0.05, room=0.0, landing=0.0),
    )
    last = list(rests_on(None, plain.covariance, matters, 100))[-1]
    assert "astern thrust told most" in last
    assert "rudder force" not in last
    assert "told most" not in list(rests_on(None, plain.covariance, (), 0))[-1]


def test_a_figure_she_cannot_show_is_told(tried: Ready) -> None:
    assert tried.fit is not None
    first = tried.fit.residuals[0]
    wrong = replace(tried.fit, residuals=(replace(first, calibrated=2.0 * first.observation.value),))
    assert any("does not show the" in one for one in rests_on(wrong, tried.covariance, (), 0))
