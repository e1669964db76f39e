"""Hull force at any drift: exact cross flow, a seamless joint, mirror symmetry, and never a push from still water."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import hull_force, shallow
from leadsman.simulation import kvlcc2

TANKER = kvlcc2.hull(kvlcc2.data()["ship"])
DEEP = shallow.factors(math.inf, 320.0, 58.0, 20.8, 0.81, TANKER.cross_flow_drag)
speeds = st.floats(-8.0, 8.0)
turns = st.floats(-0.03, 0.03)


def force(surge: float, sway: float, yaw_rate: float, factors: shallow.Shallow = DEEP) -> hull_force.Force:
    return hull_force.force(TANKER, factors, 1025.0, 1.0, surge, sway, yaw_rate)


@given(st.floats(-3.0, 3.0), st.floats(-6.0, 6.0))
def test_cross_flow_is_the_integral_over_the_length(sway: float, swing: float) -> None:
    """Against the midpoint rule on 20 000 strips."""
    strips = (np.arange(20000) + 0.5) / 20000 - 0.5
    local = sway + swing * strips
    found = hull_force.cross_flow(sway, swing)
    assert found[0] == pytest.approx(np.mean(np.abs(local) * local), abs=2e-8 + 1e-7 * abs(found[0]))
    assert found[1] == pytest.approx(np.mean(np.abs(local) * local * strips), abs=2e-8 + 1e-7 * abs(found[1]))


CLOSED = [  # sway, swing, mean of |w|w, mean of |w|w x/L, origin
    (1.0, 0.0, 1.0, 0.0, "by hand: v²"),
    (0.0, 1.0, 0.0, 1.0 / 32.0, "manoeuvring sheet 4.2: N = -(rho d CD L⁴/64) r|r|"),
]


@pytest.mark.parametrize(("sway", "swing", "side", "moment", "origin"), CLOSED)
def test_cross_flow_closed_forms(sway: float, swing: float, side: float, moment: float, origin: str) -> None:
    assert hull_force.cross_flow(sway, swing) == pytest.approx((side, moment), abs=1e-12), origin


@given(speeds, speeds, turns)
def test_mirrored_flow_gives_the_mirrored_force(surge: float, sway: float, yaw_rate: float) -> None:
    here, there = force(surge, sway, yaw_rate), force(surge, -sway, -yaw_rate)
    assert there.surge == pytest.approx(here.surge, rel=1e-9, abs=1e-6)
    assert there.sway == pytest.approx(-here.sway, rel=1e-9, abs=1e-6)
    assert there.yaw == pytest.approx(-here.yaw, rel=1e-9, abs=1e-3)


@given(speeds, speeds, turns)
def test_still_water_only_ever_takes_energy(surge: float, sway: float, yaw_rate: float) -> None:
    """Power of the hull force and of the added-mass moment it holds (Munk), all drift angles, r L/U without bound."""
    found = force(surge, sway, yaw_rate)
    munk = (TANKER.sway_added_mass - TANKER.surge_added_mass) * surge * sway * yaw_rate
    power = found.surge * surge + found.sway * sway + found.yaw * yaw_rate + munk
    assert power <= 1e-6


@given(st.floats(0.2, 8.0), st.floats(-math.pi, math.pi), st.floats(-4.0, 4.0))
def test_no_step_where_the_models_join(speed: float, drift: float, swing: float) -> None:
    """A thousandth of the flow changes the force by a few thousandths of the dynamic pressure on the hull, never by a
    jump."""

    def at(angle: float, turning: float) -> np.ndarray:
        found = force(speed * math.cos(angle), -speed * math.sin(angle), turning * speed / 320.0)
        return np.array(found) / (0.5 * 1025.0 * 320.0 * 20.8 * speed**2) / np.array([1.0, 1.0, 320.0])

    scale = 1.0 + swing * swing
    assert np.abs(at(drift + 1e-3, swing) - at(drift, swing)).max() < 6e-3 * scale
    assert np.abs(at(drift, swing + 1e-3) - at(drift, swing)).max() < 6e-3 * scale


def test_beam_on_the_drag_is_that_of_the_moorings_manual() -> None:
    """Sheet 4.3: choose CD so that Y abeam obeys the published lateral drag; KVLCC2 C0 = 0.57 [computed in the
    sheet]."""
    found = force(0.0, 2.0, 0.0)
    assert found.sway / (-0.5 * 1025.0 * 320.0 * 20.8 * 4.0) == pytest.approx(0.57, abs=0.005)


def test_stopped_in_still_water_there_is_no_force() -> None:
    assert force(0.0, 0.0, 0.0) == (0.0, 0.0, 0.0)


def test_astern_the_munk_moment_turns_round() -> None:
    """Sheet 4.2: Nv' u v reverses when astern, damping terms do not."""
    assert force(3.0, 0.1, 0.0).yaw * force(-3.0, 0.1, 0.0).yaw < 0.0
    assert force(-3.0, 0.0, 0.001).yaw < 0.0
