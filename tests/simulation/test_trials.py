"""Trials of the tanker: each manoeuvre goes the way seamanship says, and the standards are read as printed."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from leadsman.simulation import criteria, kvlcc2, parameters, slow, stopping, trials, turning
from leadsman.simulation.setting import Setting, crossing

MakeSetting = Callable[..., Setting]


@pytest.fixture(scope="module")
def tried(benchmark_tanker: MakeSetting) -> trials.Trials:
    return trials.trials(benchmark_tanker("ship"), thruster=(2e5, 140.0))


def test_every_limit_is_judged(tried: trials.Trials) -> None:
    assert [criterion.name for criterion in tried.criteria] == [
        "advance",
        "tactical diameter",
        "initial turning",
        "first overshoot 10/10",
        "second overshoot 10/10",
        "first overshoot 20/20",
        "track reach",
    ]
    advance = tried.criteria[0]
    worst = max(tried.circle("full_sea_speed", side).advance or 0.0 for side in (1, -1))
    assert advance.value == pytest.approx(worst / 320.0)
    assert advance.kept


LIMITS = [  # length over speed s, first and second overshoot limit deg, origin
    (5.0, 10.0, 25.0, "MSC.137(76) 5.3.3: L/V below 10 s"),
    (20.0, 15.0, 32.5, "the same: 5 + 0.5 L/V and 17.5 + 0.75 L/V"),
    (40.0, 20.0, 40.0, "the same: L/V of 30 s and more"),
]


@pytest.mark.parametrize(("ratio", "first", "second", "origin"), LIMITS)
def test_overshoot_limits(ratio: float, first: float, second: float, origin: str) -> None:
    assert math.degrees(criteria.first_overshoot_limit(ratio)) == pytest.approx(first), origin
    assert math.degrees(criteria.second_overshoot_limit(ratio)) == pytest.approx(second), origin


def test_a_slower_order_turns_in_the_same_water(tried: trials.Trials) -> None:
    """Without wind and with the screw in proportion the circle hardly depends on speed (common practice)."""
    fast, slower = tried.circle("full_sea_speed", 1), tried.circle("half_ahead", 1)
    assert fast.tactical_diameter is not None
    assert slower.tactical_diameter is not None
    assert slower.tactical_diameter == pytest.approx(fast.tactical_diameter, rel=0.06)
    assert slower.time_180 is not None
    assert fast.time_180 is not None
    assert slower.time_180 > 1.3 * fast.time_180


def test_a_turn_from_rest_needs_less_room(tried: trials.Trials) -> None:
    """The kick ahead: full race on the rudder before she gathers way (common practice)."""
    from_rest, steady = tried.accelerating_turns[0], tried.circle("half_ahead", 1)
    assert from_rest.advance is not None
    assert steady.advance is not None
    assert from_rest.advance < 0.8 * steady.advance


def test_crash_stop_beats_coasting_and_uses_way(tried: trials.Trials) -> None:
    crash, coast = tried.stop("full_sea_speed", "full_astern"), tried.stop("full_sea_speed", "stop")
    assert crash.stopped
    assert crash.track_reach < coast.track_reach
    assert crash.head_reach <= crash.track_reach
    assert tried.stop("half_ahead", "full_astern").track_reach < crash.track_reach


def test_a_right_handed_screw_going_astern_turns_the_bow_to_starboard(tried: trials.Trials) -> None:
    """Sheet 4.6 [memory]."""
    assert tried.stop("full_sea_speed", "full_astern").heading_change > 0.0


def test_coasting_follows_the_closed_form(benchmark_tanker: MakeSetting) -> None:
    """Sheet 4.8: V = V0/(1 + V0 t R0/m), S = (m/R0) ln(V0/V), for a hull without screw and rudder drag."""
    ship = kvlcc2.parameters("ship")
    bare = ship._replace(
        propellers=(ship.propellers[0]._replace(thrust_factor=0.0),), rudders=(ship.rudders[0]._replace(area=1e-9),)
    )
    setting = benchmark_tanker("ship")
    setting = Setting(fleet=parameters.packed(bare), orders=setting.orders)
    steady = benchmark_tanker("ship").steady("full_sea_speed")
    stop = stopping.stop(setting, "full_sea_speed", "stop", steady)
    mass = ship.hull.mass + ship.hull.surge_added_mass
    drag = 0.5 * 1025.0 * 320.0 * 20.8 * 0.0078
    line = crossing(stop.track, "time", 1000.0)
    assert line is not None
    assert line[4] == pytest.approx(steady.speed / (1.0 + steady.speed * 1000.0 * drag / mass), rel=1e-4)
    assert line[1] == pytest.approx(mass / drag * math.log(steady.speed / line[4]), rel=1e-4)


def test_spiral_of_the_tanker_shows_her_instability(tried: trials.Trials) -> None:
    """KVLCC2 is known to be slightly unstable on a straight course (SIMMAN 2008, memory): a loop of a few degrees at
    most."""
    assert 0.0 < math.degrees(tried.spiral.loop_width) < 5.0
    assert tried.spiral.down[0] > 0.0 > tried.spiral.down[-1]
    assert (np.diff(tried.spiral.down) < 0.0).all()


def test_the_kick_turns_her_before_she_moves(tried: trials.Trials) -> None:
    assert tried.kick.heading_change > 0.0
    assert tried.kick.later_heading_change > tried.kick.heading_change
    assert tried.kick.speed < 0.5


def test_on_the_thruster_she_pivots_abaft_midships(tried: trials.Trials) -> None:
    """As she begins to move the pivot lies (Iz + Jz)/((m + my) xF) abaft midships: by hand 0.13 L here, thruster at
    0.44 L.

    The sheet remembers 0.2 to 0.25 L, without the added mass in sway. Once the water drags the pivot wanders to
    midships.
    """
    swing = tried.thruster_swing
    assert swing is not None
    assert swing.rate > 0.0
    begun = crossing(swing.track, "time", 20.0)
    assert begun is not None
    assert -begun[5] / begun[6] / 320.0 == pytest.approx(-0.13, abs=0.02)
    assert abs(swing.pivot) < 0.1 * 320.0


def test_pivot_point_in_the_turn_lies_forward(tried: trials.Trials) -> None:
    """Sheet 4.7 [memory]: 0.3 to 0.5 L forward of midships in a steady turn ahead."""
    circle = tried.circle("full_sea_speed", 1)
    sway = -circle.steady_speed * math.sin(circle.steady_drift)
    assert 0.3 < -sway / circle.steady_rate / 320.0 < 0.5


def test_without_windage_nothing_is_said_about_wind(tried: trials.Trials) -> None:
    assert tried.minimum_steering_speed is None
    assert tried.drift is None


def test_one_screw_cannot_twist(benchmark_tanker: MakeSetting, tried: trials.Trials) -> None:
    assert tried.twist is None
    with pytest.raises(ValueError, match="two screws on opposite sides are needed"):
        slow.twist(benchmark_tanker("ship"), "half_ahead", 1)


def test_zigzag_numbers_are_consistent(tried: trials.Trials) -> None:
    first = tried.zigzag(10.0, 1)
    assert len(first.overshoots) == 3
    assert first.first_heading_time is not None
    assert first.initial_turning is not None
    assert first.initial_turning == pytest.approx(first.first_heading_time * first.approach_speed, rel=0.03)


def test_transfer_and_advance_mirror_in_a_mirrored_ship() -> None:
    """The measuring itself is even: a mirrored track gives the same figures with the other side."""
    track = np.zeros((200, 10))
    angle = np.linspace(0.0, 3.5 * math.pi, 200)
    track[:, 0], track[:, 3] = angle * 100.0, angle
    track[:, 1], track[:, 2] = 500.0 * np.sin(angle), 500.0 * (1.0 - np.cos(angle))
    track[:, 4], track[:, 6] = 5.0, 0.01
    circle = turning.measured_circle(track, "full_sea_speed", 0.6, 5.0)
    mirrored = track.copy()
    mirrored[:, [2, 3, 5, 6]] *= -1.0
    other = turning.measured_circle(mirrored, "full_sea_speed", -0.6, 5.0)
    assert (circle.advance, circle.transfer) == pytest.approx((500.0, 500.0), rel=1e-3), "by hand: a circle of 500 m"
    assert circle.tactical_diameter == pytest.approx(1000.0, rel=1e-3)
    assert circle.steady_diameter == pytest.approx(1000.0, rel=1e-3)
    assert (other.advance, other.transfer, other.tactical_diameter) == (
        circle.advance,
        circle.transfer,
        circle.tactical_diameter,
    )
    assert other.side == -1
