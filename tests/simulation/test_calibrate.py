"""Calibration finds what was put in, keeps its prior where nothing is said, never frees more factors than it has
figures."""

import math

import numpy as np
import pytest

from leadsman.simulation import calibrate, factors
from leadsman.simulation.calibrate import Figure, Observation
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.factors import PRIOR, Factors
from leadsman.simulation.parameters import packed
from leadsman.simulation.particulars import Particulars
from leadsman.simulation.setting import Setting

HARD = math.radians(35.0)


@pytest.fixture(scope="module")
def ship(examples: dict[str, Particulars]) -> Estimate:
    return estimate(examples["bulk carrier"])


def stated(found: Estimate, truth: Factors, wanted: list[Observation]) -> list[Observation]:
    """What a ship with other factors would have put on her poster."""
    ready = Setting(fleet=packed(factors.applied(found.parameters, truth)), orders=found.orders)
    values = calibrate.predicted(ready, wanted)
    return [Observation(**{**vars(one), "value": value}) for one, value in zip(wanted, values, strict=True) if value]


WANTED = [
    Observation(figure=Figure.TACTICAL_DIAMETER, value=1.0, deviation=0.01, rudder=HARD),
    Observation(figure=Figure.TACTICAL_DIAMETER, value=1.0, deviation=0.01, rudder=-HARD),
    Observation(figure=Figure.FIRST_OVERSHOOT, value=1.0, deviation=0.01, rudder=math.radians(10.0)),
    Observation(figure=Figure.TRACK_REACH, value=1.0, deviation=0.01),
    Observation(figure=Figure.COASTING_REACH, value=1.0, deviation=0.01, order="half_ahead"),
]


def test_a_known_ship_is_found_again(ship: Estimate) -> None:
    truth = Factors(rudder_force=0.85, asymmetry=1.06, yaw_damping=0.9, astern_thrust=1.2, resistance=1.08)
    found = calibrate.calibrate(ship, stated(ship, truth, WANTED))
    for name in found.free:
        near = 3.0 * getattr(found.deviation, name) + 0.03
        assert getattr(found.factors, name) == pytest.approx(getattr(truth, name), rel=near), name
    assert found.factors.rudder_force == pytest.approx(0.85, rel=0.04)
    assert all(abs(residual.missed_by or 0.0) < 1.5 for residual in found.residuals)


def test_what_nothing_speaks_of_keeps_its_prior(ship: Estimate) -> None:
    found = calibrate.calibrate(ship, stated(ship, Factors(rudder_force=0.9), WANTED[:1]))
    assert found.free == ("rudder_force",)
    assert found.factors.wind_force == 1.0
    assert found.deviation.wind_force == pytest.approx(PRIOR.wind_force)
    assert found.deviation.rudder_force < PRIOR.rudder_force


def test_never_more_free_factors_than_figures() -> None:
    for count in range(1, len(WANTED) + 1):
        assert 1 <= len(calibrate.freed(WANTED[:count])) <= count


def test_asymmetry_needs_both_sides() -> None:
    one_sided = [WANTED[0], Observation(figure=Figure.ADVANCE, value=1.0, deviation=0.05, rudder=HARD)]
    assert "asymmetry" not in calibrate.freed(one_sided)
    assert "asymmetry" in calibrate.freed(WANTED[:2])


def test_a_vague_figure_moves_her_less(ship: Estimate) -> None:
    (sharp,) = stated(ship, Factors(rudder_force=0.7), WANTED[:1])
    vague = Observation(**{**vars(sharp), "deviation": 0.3})
    moved = [calibrate.calibrate(ship, [one]).factors.rudder_force for one in (sharp, vague)]
    assert moved[0] < moved[1] < 1.0


def test_posterior_draws_have_the_posterior_spread(ship: Estimate) -> None:
    found = calibrate.calibrate(ship, stated(ship, Factors(rudder_force=0.9), WANTED[:2]))
    drawn = factors.drawn_together(found.factors, found.covariance, 4000, np.random.default_rng(2))
    logs = np.log([one.rudder_force for one in drawn])
    assert logs.std() == pytest.approx(found.deviation.rudder_force, rel=0.05)
    assert drawn[0] == pytest.approx(found.factors)


REFUSED = [
    ({"value": 0.0}, "tactical_diameter: 0.0 is no measured figure"),
    ({"value": math.nan}, "tactical_diameter: nan is no measured figure"),
    ({"deviation": 0.0}, "deviation of tactical_diameter: 0.0"),
]


@pytest.mark.parametrize(("changed", "message"), REFUSED)
def test_figures_that_cannot_be_are_refused(changed: dict[str, float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Observation(**{**vars(WANTED[0]), **changed})


def test_nothing_to_calibrate_by_is_refused(ship: Estimate) -> None:
    with pytest.raises(ValueError, match="calibration: no figure is given"):
        calibrate.calibrate(ship, [])
