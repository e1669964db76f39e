"""Calls rehearsed from boarding place to berth: that they succeed in calm, break in a gale, and depend on the seed
alone."""

from dataclasses import replace
from pathlib import Path

import numba
import numpy as np
import pytest

from leadsman.assessment.limits import in_this_wind, without_the_undisturbed
from leadsman.assessment.prepare import Prepared, prepare
from leadsman.assessment.rehearse import rehearse_call, sailed
from leadsman.assessment.rehearse_draws import Spread, draw
from leadsman.assessment.rehearse_many import wilson
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_run import GOOD
from leadsman.conning.known import SPEED_STEP
from leadsman.equipment import State
from leadsman.errors import CannotCompute
from leadsman.files.call_files import read_call
from leadsman.files.rehearsal_store import RehearsalStore
from leadsman.portcall import PortCall
from leadsman.simulation.stopping import stop
from leadsman.units import KNOT

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = (
    "1-river-coaster",
    "2-bar-bulk-carrier",
    "3-container-basin",
    "4-ferry-corner-berth",
    "4-ferry-outward",
    "5-podded-cruise",
)


def in_wind_of(call: PortCall, speed: float, wind_from: float = 0.0) -> PortCall:
    return replace(call, forecast=replace(call.forecast, wind_speed=speed, wind_from=wind_from, gust_speed=speed))


@pytest.fixture(scope="module")
def first(first_prepared: Prepared) -> Ready:
    return ready(first_prepared, first_prepared.call.start)


@pytest.mark.parametrize("name", NAMES)
def test_in_calm_every_example_comes_to_its_end_and_lands_under_the_limit(name: str) -> None:
    found = rehearse_call(in_wind_of(read_call(EXAMPLES / name), 0.0)).planned
    assert found.success, found.why
    for least in found.least:
        assert least.value is None or least.value > 0.0, least
    if found.landing is not None:
        assert found.landing.speed <= found.landing.limit
    assert found.orders
    assert len(found.track) == int(found.time) + 1


def test_a_gale_breaks_it_and_the_run_says_why(first_call: PortCall) -> None:
    found = rehearse_call(in_wind_of(first_call, 45.0 * KNOT, 5.0)).planned
    assert not found.success
    assert found.why.endswith(".")
    assert found.advice


def test_the_wheel_is_put_over_before_the_arc_by_what_she_needs(first_call: PortCall) -> None:
    length = 90.0  # m between perpendiculars, ship.toml
    overs = rehearse_call(first_call).planned.wheel_overs
    names = [one.waypoint for one in overs]
    assert {"Heron Point", "Mill Elbow"} <= set(names)
    for one in overs:
        if one.waypoint in ("Heron Point", "Mill Elbow"):  # alterations of 42 and 57 degrees
            assert 0.5 * length <= one.reach <= 1.5 * length, "water sheet 6: F about 0.5 to 1.5 L [derived]"


def test_equal_seeds_give_equal_runs_on_any_number_of_threads(first: Ready) -> None:
    drawn = draw(first, 3, 7, Spread())
    before = numba.get_num_threads()
    try:
        numba.set_num_threads(1)
        alone = sailed(first, drawn).outcomes
        numba.set_num_threads(before)
        together = sailed(first, drawn).outcomes
    finally:
        numba.set_num_threads(before)
    assert alone.tobytes() == together.tobytes()


def test_more_runs_begin_with_the_same_draws(first: Ready) -> None:
    few, many = draw(first, 3, 7, Spread()), draw(first, 6, 7, Spread())
    assert few.draws.tobytes() == many.draws[:3].tobytes()
    assert few.fleet.ships.tobytes() == many.fleet.ships[:3].tobytes()
    assert not np.array_equal(few.inputs[1:], draw(first, 3, 8, Spread()).inputs[1:])


def test_success_falls_with_the_wind(first: Ready) -> None:
    drawn = draw(first, 5, 3, Spread())
    shares = [
        np.isin(in_this_wind(first, drawn, speed * KNOT, 4.4)["reason"].astype(int), GOOD).mean()
        for speed in (0.0, 20.0, 45.0)
    ]
    assert shares[0] >= shares[1] >= shares[2]
    assert shares[0] > shares[2]


def test_way_is_lost_as_the_stopping_trial_loses_it(first: Ready) -> None:
    trial = stop(first.setting, "half_ahead", "full_astern")
    line = first.case.names.index("half_ahead")
    speed = min(float(first.case.known.steady[line]), (first.case.known.slowing.shape[1] - 1) * SPEED_STEP)
    table = first.case.known.slowing[first.case.names.index("full_astern")]
    run = float(table[1] - table[int(speed / SPEED_STEP)])
    assert trial.head_reach is not None
    assert run == pytest.approx(trial.head_reach, rel=0.15)


def test_the_draws_of_the_limits_leave_the_undisturbed_run_out(first: Ready) -> None:
    whole = draw(first, 3, 7, Spread())
    found = without_the_undisturbed(whole)
    assert found.draws.tobytes() == whole.draws[1:].tobytes()
    assert found.fleet.ships.tobytes() == whole.fleet.ships[1:].tobytes()
    assert (found.draws["gusts"] == 1.0).all()


WILSON = [  # successes, runs, low, high, origin
    (0, 10, 0.0, 0.2775, "Wilson 1927: z2/(n + z2) = 3.8415/13.8415, by hand"),
    (5, 10, 0.2366, 0.7634, "by hand: 0.5 -+ 1.96/(1 + 0.38415) sqrt(0.025 + 0.0096)"),
]


@pytest.mark.parametrize(("successes", "runs", "low", "high", "origin"), WILSON)
def test_wilson(successes: int, runs: int, low: float, high: float, origin: str) -> None:
    assert wilson(successes, runs) == pytest.approx((low, high), abs=2e-4), origin


def test_with_a_defective_engine_nothing_is_rehearsed(first_call: PortCall) -> None:
    defective = replace(first_call.ship.engine, state=State.DEFECTIVE)
    ship = replace(first_call.ship, engine=defective)
    with pytest.raises(CannotCompute, match="cannot be rehearsed"):
        ready(prepare(replace(first_call, ship=ship)), first_call.start)


def test_a_stopped_rehearsal_goes_on_where_it_was(first: Ready, tmp_path: Path) -> None:
    store = RehearsalStore(tmp_path)
    sailed(first, draw(first, 2, 7, Spread()), store=store, key="one")
    told: list[tuple[int, int]] = []
    drawn = draw(first, 3, 7, Spread())
    again = sailed(first, drawn, lambda done, of: told.append((done, of)), store, "one")
    assert told == [(3, 3)]
    assert again.outcomes.tobytes() == sailed(first, drawn).outcomes.tobytes()
    assert len(sailed(first, draw(first, 1, 7, Spread()), store=store, key="one").outcomes) == 1


def test_a_spoilt_file_of_kept_runs_is_as_none(tmp_path: Path) -> None:
    store = RehearsalStore(tmp_path)
    store.save("one", {"outcomes": np.zeros(3)})
    assert store.load("one")["outcomes"].size == 3
    (tmp_path / ".rehearsals" / "one.npz").write_bytes(b"spoilt")
    assert store.load("one") == {}
    assert store.load("two") == {}
