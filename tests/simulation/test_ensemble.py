"""Ensembles: the same by seed whatever the threads, the first run undisturbed, one variant as if sailed alone."""

import math

import numba
import numpy as np
import pytest

from leadsman.simulation import ensemble, factors, sail
from leadsman.simulation.ensemble import Ensemble
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.factors import Factors
from leadsman.simulation.parameters import packed
from leadsman.simulation.particulars import Particulars
from leadsman.simulation.setting import Setting, straight
from leadsman.simulation.state import deep_calm

ENDING = sail.Ending(300.0, 0.0, -math.inf, 0.0)
RUNS = 24


@pytest.fixture(scope="module")
def ship(examples: dict[str, Particulars]) -> Estimate:
    return estimate(examples["bulk carrier"])


def draws(ship: Estimate, seed: int = 5) -> list[Factors]:
    return factors.drawn(Factors(), ship.spread, RUNS, np.random.default_rng(seed))


def carried(ship: Estimate, *, seed: int = 5, **options: object) -> Ensemble:
    ready = ship.setting()
    steady = ready.steady("half_ahead")
    return ensemble.run(
        ship.parameters,
        draws(ship, seed),
        (straight(steady.speed), steady.gear),
        ready.plan("half_ahead", 0.3),
        ENDING,
        seed=seed,
        spread={"stream_east": 0.2, "depth_bow": 2.0},
        around=deep_calm()._replace(depth_bow=30.0, depth_midships=30.0, depth_stern=30.0),
        **options,  # type: ignore[arg-type]
    )


def test_the_same_on_any_number_of_threads(ship: Estimate) -> None:
    found = []
    before = numba.get_num_threads()
    for threads in range(1, min(before, 4) + 1):
        numba.set_num_threads(threads)
        found.append(carried(ship))
    numba.set_num_threads(before)
    again = carried(ship)
    for one in found:
        assert (one.motions == again.motions).all()
        assert (one.times == again.times).all()


def test_another_seed_draws_another_ship(ship: Estimate) -> None:
    assert (carried(ship, seed=5).motions[1:] != carried(ship, seed=6).motions[1:]).any()


def test_the_first_run_is_undisturbed_and_as_if_alone(ship: Estimate) -> None:
    together = carried(ship)
    around = deep_calm()._replace(depth_bow=30.0, depth_midships=30.0, depth_stern=30.0)
    alone = Setting(fleet=packed(ship.parameters), orders=ship.orders, around=around)
    steady = ship.setting().steady("half_ahead")
    run = alone.sail(straight(steady.speed), alone.plan("half_ahead", 0.3), ENDING, gear=steady.gear)
    assert tuple(together.motions[0]) == run.motion


def test_a_later_run_is_its_own_draw_sailed_alone(ship: Estimate) -> None:
    together = carried(ship, tracked=True)
    drawn = factors.applied(ship.parameters, together.factors[7])
    values = {name: float(together.arounds[7][name]) for name in together.arounds.dtype.names}
    around = deep_calm()._replace(**values)
    alone = Setting(fleet=packed(drawn), orders=ship.orders, around=around)
    steady = ship.setting().steady("half_ahead")
    run = alone.sail(straight(steady.speed), alone.plan("half_ahead", 0.3), ENDING, gear=steady.gear)
    np.testing.assert_array_equal(together.tracks[7][: len(run.track)], run.track)


def test_the_spread_of_the_turn_is_of_the_size_the_prior_means(ship: Estimate) -> None:
    """Sheet 13 expects -8 to +25 % on the tactical diameter: one deviation of heading after 300 s of some per cent."""
    headings = carried(ship).motions[:, 2]
    assert 0.02 < headings.std() / headings.mean() < 0.25


def test_grounding_is_told_run_by_run(ship: Estimate) -> None:
    ready = ship.setting()
    steady = ready.steady("half_ahead")
    shoal = deep_calm()._replace(depth_bow=11.0, depth_midships=11.0, depth_stern=11.0)
    found = ensemble.run(
        ship.parameters,
        draws(ship),
        (straight(steady.speed), steady.gear),
        ready.plan("half_ahead"),
        ENDING,
        seed=1,
        around=shoal,
        spread={"depth_bow": 1.0},
    )
    assert 0 < found.standings.sum() < RUNS


def test_an_unknown_quantity_is_refused(ship: Estimate) -> None:
    steady = ship.setting().steady("half_ahead")
    with pytest.raises(
        ValueError, match="spread: 'wind' is no quantity of the surroundings; expected one of depth_bow"
    ):
        ensemble.run(
            ship.parameters,
            draws(ship),
            (straight(steady.speed), steady.gear),
            ship.setting().plan("half_ahead"),
            ENDING,
            seed=1,
            spread={"wind": 1.0},
        )


def test_not_a_number_is_refused_by_name(ship: Estimate) -> None:
    steady = ship.setting().steady("half_ahead")
    with pytest.raises(ValueError, match="surroundings: wind from is not a number"):
        ensemble.run(
            ship.parameters,
            draws(ship),
            (straight(steady.speed), steady.gear),
            ship.setting().plan("half_ahead"),
            ENDING,
            seed=1,
            around=deep_calm()._replace(wind_from=math.nan),
        )
