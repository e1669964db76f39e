"""Shaft limits, and the stopping integral against its own differential equation."""

import math

import pytest
from scipy.integrate import solve_ivp

from leadsman.physics import engine


def test_ramp_never_passes_the_target() -> None:
    assert engine.ramped(1.0, 2.0, 0.3) == 1.3
    assert engine.ramped(1.0, 1.1, 0.3) == 1.1
    assert engine.ramped(1.0, -2.0, 0.3) == 0.7


def test_windmilling_stops_where_friction_holds() -> None:
    assert engine.windmilling_speed(4.0, 0.8, 5.0, 0.0) == pytest.approx(1.0)
    assert engine.windmilling_speed(-4.0, 0.8, 5.0, 0.0) == pytest.approx(-1.0)
    assert engine.windmilling_speed(1.0, 0.8, 5.0, 0.5) == 0.0


def test_torque_holds_the_shaft_back() -> None:
    assert engine.held_by_torque(2.0, 100.0, 400.0) == 2.0
    assert engine.held_by_torque(2.0, 400.0, 100.0) == pytest.approx(1.0)
    assert engine.held_by_torque(-2.0, -400.0, 100.0) == pytest.approx(-1.0)


def test_diesel_torque() -> None:
    assert engine.diesel_torque(1.0, 1.0, 50.0) == 50.0
    assert engine.diesel_torque(0.0, 1.0, 50.0) == 25.0


def test_stopping_is_the_integral_of_its_equation() -> None:
    """m dV/dt = -(R V² + Ta), the derivation printed in manoeuvring sheet 4.8, solved numerically."""
    mass, drag, speed, force = 5.0e7, 4.0e4, 7.0, 9.0e5

    def stopped(_: float, state: list[float]) -> float:
        return state[0]

    stopped.terminal = True  # type: ignore[attr-defined] # the way scipy is told
    found = solve_ivp(
        lambda _, y: [-(drag * y[0] * abs(y[0]) + force) / mass, y[0]],
        (0.0, 2000.0),
        [speed, 0.0],
        events=stopped,
        rtol=1e-9,
        atol=1e-9,
    )
    distance, time = engine.stopping(mass, drag, speed, force)
    assert distance == pytest.approx(found.y[1, -1], rel=1e-6)
    assert time == pytest.approx(found.t[-1], rel=1e-6)


def test_stopping_in_lengths_for_a_large_tanker() -> None:
    """[MSCCirc1053] App. 3: S/L = A ln(1+B); VLCC A 14 to 16, B 0.6 to 1.0 (values memory). A is m/(2 R L) with drag
    per V²."""
    mass_share, drag_share = 0.2935 * 1.075, 0.0078
    coefficient = mass_share / (2.0 * drag_share)
    assert 14.0 < coefficient < 22.0
    distance, _ = engine.stopping(mass_share, drag_share, 1.0, drag_share / 0.8)
    assert distance == pytest.approx(coefficient * math.log(1.8), rel=1e-12)


def test_coasting_halves_the_speed_in_the_time_of_the_formula() -> None:
    """By hand: V = V0/(1 + V0 t R/m) halves when t = m/(R V0); distance m/R ln 2."""
    speed, distance = engine.coasting(1.0e7, 1.0e4, 5.0, 200.0)
    assert speed == pytest.approx(2.5)
    assert distance == pytest.approx(1000.0 * math.log(2.0))
