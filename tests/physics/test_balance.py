"""The linear program against brute force, the half-spaces against the linear program, and both against mechanics."""

import itertools

import numpy as np
import pytest

from leadsman.physics import balance

LEVER = 100.0
one_newton = 1.0
TINY = 1e-7


def sector(position: float, strength: float, begin: float, end: float, points: int = 9):
    """A tug on a line at a place of the centreline, pulling anywhere between two angles from the bow."""
    angles = np.linspace(begin, end, points)
    surge, sway = strength * np.cos(angles), strength * np.sin(angles)
    return np.column_stack([surge, sway, position * sway])


def athwart(position: float, to_starboard: float, to_port: float):
    forces = np.array([to_starboard, -to_port])
    return np.column_stack([np.zeros(2), forces, position * forces])


BOW, STERN = athwart(120.0, 200e3, 150e3), athwart(-110.0, 120e3, 120e3)
KICK = np.array([[600e3, 0.0, 0.0], [450e3, 150e3, -130.0 * 150e3], [450e3, -150e3, 130.0 * 150e3]])
TUG_FORWARD = sector(140.0, 400e3, -2.0, 2.0)
TUG_AFT = sector(-135.0, 500e3, np.pi - 1.5, np.pi + 1.5)
SETS = {
    "bow thruster alone": [BOW],
    "thrusters": [BOW, STERN],
    "thrusters and kick": [BOW, STERN, KICK],
    "two tugs": [TUG_FORWARD, TUG_AFT],
    "everything": [BOW, STERN, KICK, TUG_FORWARD, TUG_AFT],
}
RANDOM_LOADS = np.random.default_rng(7).normal(size=(25, 3)) * np.array([1.0, 1.0, LEVER]) * 200e3


@pytest.mark.parametrize("name", SETS)
def test_half_spaces_agree_with_the_linear_program(name: str) -> None:
    reaches = SETS[name]
    body = balance.attainable(reaches, LEVER)
    least, greatest = balance.factors_held(body, RANDOM_LOADS, np.zeros(3))
    assert np.all(least <= 0.0)
    for load, factor in zip(RANDOM_LOADS, greatest, strict=True):
        expected = balance.most_held(reaches, load, np.zeros(3), LEVER)
        assert min(factor, balance.MOST_TIMES) == pytest.approx(expected, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize("name", ["thrusters and kick", "two tugs", "everything"])
def test_the_same_with_a_current(name: str) -> None:
    reaches = SETS[name]
    body = balance.attainable(reaches, LEVER)
    constant = np.array([-30e3, 60e3, 2e6])
    least, greatest = balance.factors_held(body, RANDOM_LOADS, constant)
    for load, low, high in zip(RANDOM_LOADS, least, greatest, strict=True):
        expected = balance.most_held(reaches, load, constant, LEVER)
        found = min(high, balance.MOST_TIMES) if low <= high else -np.inf
        assert found == pytest.approx(expected, rel=1e-5, abs=1e-6)


def test_optimum_against_brute_force() -> None:
    """Both thrusters in steps of a fiftieth: of all that balance a wind to within a step's moment, the most sway."""
    parts = np.linspace(-1.0, 1.0, 101)
    forward = np.where(parts > 0.0, parts * 200e3, parts * 150e3)
    aft = parts * 120e3
    sway = forward[:, None] + aft[None, :]
    yaw = 120.0 * forward[:, None] - 110.0 * aft[None, :]
    arm = -20.0  # where the wind acts, forward of midships
    step = 110.0 * 120e3 / 50.0
    best = np.max(sway[np.abs(yaw - arm * sway) < step])
    unit = np.array([0.0, -50e3, -50e3 * arm])
    exact = balance.most_held([BOW, STERN], unit, np.zeros(3), LEVER) * 50e3
    assert exact == pytest.approx(best, abs=2.0 * step / 110.0)


def test_known_optimum_of_two_thrusters() -> None:
    """By hand: sway alone needs 120 f = 110 a; the stern gives at most 120 kN, so f = 110 kN and 230 kN in all."""
    factor = balance.most_held([BOW, STERN], np.array([0.0, -10e3, 0.0]), np.zeros(3), LEVER)
    assert factor == pytest.approx(20.0), "told as twenty times at most"
    factor = balance.most_held([BOW, STERN], np.array([0.0, -100e3, 0.0]), np.zeros(3), LEVER)
    assert factor == pytest.approx(2.30, rel=1e-6)


def test_random_brute_force_never_beats_the_program() -> None:
    """100 000 random uses of everything: none makes more along any load than the half-spaces allow."""
    draw = np.random.default_rng(3)
    made = np.zeros((100_000, 3))
    for reach in SETS["everything"]:
        weights = draw.dirichlet(np.full(len(reach) + 1, 0.3), size=len(made))[:, 1:]
        made += weights @ reach
    body = balance.attainable(SETS["everything"], LEVER)
    assert np.all(balance.holds(body, -made))
    reached = made / np.array([1.0, 1.0, LEVER])
    outermost = np.max(reached @ body.normals[::97].T, axis=0)
    assert np.all(outermost <= body.support[::97] * (1.0 + TINY) + 1.0)
    assert np.median(outermost / body.support[::97]) > 0.5, "the draws come near the faces"


def test_effort_closes_the_balance() -> None:
    load = np.array([-80e3, -250e3, 6e6])
    reaches = SETS["everything"]
    count = len(reaches)
    effort = balance.least_effort(reaches, load, [1.0] * count, [1.0] * count, LEVER)
    assert effort is not None
    np.testing.assert_allclose(effort.unbalanced[:2], 0.0, atol=one_newton)
    assert abs(effort.unbalanced[2]) < one_newton * LEVER
    assert np.all(effort.used <= 1.0 + TINY)
    np.testing.assert_allclose(effort.made.sum(axis=0), -load, atol=one_newton * LEVER)


def test_effort_prefers_what_costs_less() -> None:
    load = np.array([0.0, -50e3, -50e3 * 120.0])
    effort = balance.least_effort([BOW, TUG_FORWARD, TUG_AFT], load, [1.0, 5.0, 5.0], [1.0] * 3, LEVER)
    assert effort is not None
    np.testing.assert_allclose(effort.used, [0.25, 0.0, 0.0], atol=1e-6)
    assert balance.least_effort([BOW], load, [1.0], [0.2], LEVER) is None, "only a fifth may be used"


def test_shortfall_is_what_is_left() -> None:
    load = np.array([0.0, -300e3, -300e3 * 120.0])
    effort = balance.shortfall([BOW], load, LEVER)
    np.testing.assert_allclose(effort.unbalanced, [0.0, -100e3, -100e3 * 120.0], atol=100.0)
    assert balance.shortfall([], load, LEVER).unbalanced == pytest.approx(load)


def test_mirrored_load_is_held_the_same_by_mirrored_means() -> None:
    mirror = np.array([1.0, -1.0, -1.0])
    body = balance.attainable(SETS["everything"], LEVER)
    mirrored = balance.attainable([reach * mirror for reach in SETS["everything"]], LEVER)
    here = balance.factors_held(body, RANDOM_LOADS, np.zeros(3))[1]
    there = balance.factors_held(mirrored, RANDOM_LOADS * mirror, np.zeros(3))[1]
    np.testing.assert_allclose(here, there, rtol=1e-6)


def test_more_means_never_hold_less() -> None:
    body = balance.attainable(SETS["thrusters"], LEVER)
    more = balance.attainable(SETS["everything"], LEVER)
    few, many = (balance.factors_held(each, RANDOM_LOADS, np.zeros(3))[1] for each in (body, more))
    assert np.all(many >= few * (1.0 - TINY))


def test_farthest_along_a_direction() -> None:
    body = balance.attainable([TUG_FORWARD, TUG_AFT], LEVER)
    ahead, starboard = balance.farthest(body, np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]]))
    assert ahead == pytest.approx(400e3, rel=1e-6), "the forward tug alone"
    forward_share = 135.0 / 140.0
    assert starboard < 500e3 * (1.0 + 1.0 / forward_share)
    assert starboard > 0.0


def test_least_strength_is_the_balance_of_two_tugs() -> None:
    """Forces sheet 4.4, worked: 265 and 504 kN of two tugs athwart at +100 and -110 m, bow thruster 200 kN at +135."""
    load = -1.25 * np.array([0.0, 775e3, -1550e3])
    unit = [athwart(100.0, 1.0, 1.0), athwart(-110.0, 1.0, 1.0)]
    thruster = athwart(135.0, 200e3, 200e3)
    made = balance.least_strength([], unit, load + thruster[0], LEVER)
    assert made is not None
    np.testing.assert_allclose(made / 1000.0, [265.0, 504.0], rtol=0.01, err_msg="forces sheet check 36 [computed]")
    free = balance.least_strength([thruster], unit, load, LEVER)
    assert free is not None
    assert free.sum() <= made.sum() + one_newton, "the thruster may do less, never more than helps"
    assert balance.least_strength([], [athwart(100.0, 1.0, 1.0)], load, LEVER) is None, "one tug cannot balance yaw"


def test_places_against_trying_them_all() -> None:
    """Three unlike tugs, four places: every order is tried by the linear program."""
    spots = [140.0, 60.0, -60.0, -135.0]
    strengths = [300e3, 500e3, 150e3]
    options = [[athwart(spot, pull, 0.9 * pull) for spot in spots] for pull in strengths]
    for load in (np.array([0.0, -300e3, 9e6]), np.array([0.0, 400e3, 1e6])):
        found = balance.best_places([BOW], options, load, LEVER)
        tried = [
            balance.most_held([BOW, *(options[i][j] for i, j in enumerate(places))], load, np.zeros(3), LEVER)
            for places in itertools.permutations(range(4), 3)
        ]
        assert found.times == pytest.approx(max(tried), rel=1e-4)
        chosen = [options[i][j] for i, j in enumerate(found.places) if j is not None]
        assert balance.most_held([BOW, *chosen], load, np.zeros(3), LEVER) == pytest.approx(found.times, rel=1e-4)
