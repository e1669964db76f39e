"""The turn back for a person in the water: onto her own track, mirrored for the other side."""

from collections.abc import Callable

import numpy as np
import pytest

from leadsman.simulation import recovery
from leadsman.simulation.kernel import AFLOAT
from leadsman.simulation.setting import COLUMN, Setting

MakeSetting = Callable[..., Setting]
SIXTY = float(np.radians(60.0))  # the rule of the books, IAMSAR manual volume III, memory


@pytest.fixture(scope="module")
def tanker(benchmark_tanker: MakeSetting) -> Setting:
    return benchmark_tanker("ship")


def test_she_comes_back_onto_her_own_track(tanker: Setting) -> None:
    found = recovery.onto_her_track(tanker, "full_ahead", 1)
    assert found is not None
    assert abs(found.offset) <= recovery.NEAR * tanker.length
    assert recovery.LEAST_AWAY < found.away < recovery.MOST_AWAY
    assert 0.0 < found.time_shifted < found.time_eased < found.time_back
    assert found.ahead > 0.0, "she comes back onto the water ahead of where the turn began"


def test_the_orders_are_those_of_the_manual(tanker: Setting) -> None:
    """Hard over one way until 60 degrees off, hard over the other, midships 20 degrees short: IAMSAR III, memory."""
    found = recovery.williamson(tanker, "full_ahead", 1, SIXTY)
    assert found is not None
    heading, time = found.track[:, COLUMN["heading"]], found.track[:, 0]
    assert np.interp(found.time_shifted, time, heading) == pytest.approx(SIXTY, abs=0.01)
    assert np.interp(found.time_eased, time, heading) == pytest.approx(-np.pi + recovery.SHORT, abs=0.02)
    assert heading[-1] <= -np.pi


def test_turning_away_longer_brings_her_back_farther_to_that_side(tanker: Setting) -> None:
    offsets = [
        found.offset
        for away in (20.0, 60.0, 100.0)
        if (found := recovery.williamson(tanker, "full_ahead", 1, float(np.radians(away)))) is not None
    ]
    assert len(offsets) == 3
    assert offsets[0] < offsets[1] < offsets[2]


def test_where_no_heading_brings_her_back_there_is_no_turn(tanker: Setting, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recovery, "LEAST_AWAY", np.radians(100.0))
    assert recovery.onto_her_track(tanker, "full_ahead", 1) is None


def test_a_steady_speed_says_whether_she_is_afloat(benchmark_tanker: MakeSetting) -> None:
    assert benchmark_tanker("ship").steady("full_sea_speed").standing == AFLOAT
