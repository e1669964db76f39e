"""The conn against plain geometry in open water, and how it prices orders; against statics: test_statics."""

import math

import numpy as np
import pytest
from tests.builders.open_water import COLUMN, crossing, drift, made

from leadsman.assessment.rehearse_prepare import Ready, pushes
from leadsman.conning import plan
from leadsman.conning.bridge import busy_now, count_said, memory_type


@pytest.fixture(scope="module")
def bulk_carrier() -> Ready:
    return made("2-bar-bulk-carrier")


@pytest.mark.parametrize("across", [-1.0, 0.6])
def test_in_a_cross_stream_she_steers_the_triangle_of_velocities(bulk_carrier: Ready, across: float) -> None:
    settled = crossing(bulk_carrier, across)
    heading, through = drift(settled)
    assert math.degrees(heading) == pytest.approx(math.degrees(-math.asin(across / through)), abs=1.0), "by hand"
    assert abs(settled[:, COLUMN["east"]]).max() < 0.25 * bulk_carrier.case.known.length


def test_orders_of_ten_minutes_are_counted() -> None:
    memory = np.zeros(1, memory_type()).view(np.recarray)[0]
    for time in (0.0, 100.0, 200.0, 650.0, 900.0):
        count_said(memory, time)
    assert memory["busiest"] == 3.0  # by hand: of 0, 100, 200 s; later never more than three
    assert memory["busiest_at"] == 200.0
    assert busy_now(memory, 900.0) > busy_now(memory, 1500.0) > 0.0


def test_every_move_of_two_screws_has_a_mirror() -> None:
    ferry = made("4-ferry-corner-berth")
    moves = plan.moves(ferry.parameters, ferry.case.known, pushes(ferry.setting, ferry.case.names))
    rows = {tuple(np.round(row, 6)) for row in moves}
    assert all((row[1], row[0], -row[2] + 0.0) in rows for row in rows)


def test_a_longer_ship_is_to_have_less_way_too_much() -> None:
    by_length = [plan.weights(length).slow for length in (90.0, 100.0, 180.0, 300.0)]
    assert by_length[0] == by_length[1] == plan.weights(50.0).slow
    assert by_length[3] < by_length[2] < by_length[1]


def test_along_the_quay_way_weighs_at_least_as_much_as_elsewhere_and_a_short_ship_is_brought_nearer() -> None:
    for length in (60.0, 95.0, 180.0, 300.0):
        found = plan.weights(length)
        assert found.berthing <= found.slow
        assert found.placed <= 0.03 * length
    assert plan.weights(95.0).placed < plan.weights(300.0).placed
