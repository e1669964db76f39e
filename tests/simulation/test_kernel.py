"""The equations of motion: symmetry, energy, order of the integrator, stream and wind, grounding, and what is
refused."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from leadsman.physics.hull_force import Force
from leadsman.simulation import kernel, kvlcc2, parameters, sail, state
from leadsman.simulation.setting import Order, Setting, straight

MakeSetting = Callable[..., Setting]
PITCH = 0.721


def symmetrical() -> parameters.Parameters:
    """The tanker with nothing that tells port from starboard."""
    ship = kvlcc2.parameters("ship")
    screw = ship.propellers[0]._replace(wake_gain_port=1.6, transverse_ahead=0.0, transverse_astern=0.0)
    blade = ship.rudders[0]._replace(straightening_port=0.5, straightening_starboard=0.5)
    return ship._replace(propellers=(screw,), rudders=(blade,))


def run(
    ship: parameters.Parameters,
    rudder: float,
    *,
    time: float = 900.0,
    interval: float = 1.0,
    around: state.Surroundings | None = None,
    outside: Force = sail.NO_FORCE,
    start: state.Motion | None = None,
    shaft: float = 1.2,
) -> sail.Run:
    fleet = parameters.packed(ship)
    ending = sail.Ending(time, 0.0, -math.inf, 0.0)
    plan = sail.steady_plan(fleet, rudder, shaft, PITCH)
    return sail.run(
        fleet, start or straight(7.0), plan, ending, around or state.deep_calm(), interval=interval, outside=outside
    )


def test_mirrored_input_gives_the_mirrored_track() -> None:
    """Rudder, wind, banks, stream across and an outside push, all mirrored."""
    deep = state.deep_calm()._replace(stream_north=0.4)
    wind = np.zeros((parameters.WIND_STEPS, 3))
    angles = np.radians(5.0 * np.arange(parameters.WIND_STEPS))
    wind[:, 0], wind[:, 1] = -800.0 * np.cos(angles), -3000.0 * np.sin(angles)
    wind[:, 2] = 20000.0 * np.sin(2.0 * angles)
    ship = symmetrical()
    ship = ship._replace(tables=ship.tables._replace(wind=wind))
    tracks = []
    for side in (1.0, -1.0):
        banked = {"bank_starboard": 90.0} if side > 0 else {"bank_port": 90.0}
        around = deep._replace(
            depth_bow=40.0,
            depth_midships=40.0,
            depth_stern=40.0,
            stream_east=0.3 * side,
            wind_speed=12.0,
            wind_from=0.8 * side,
            **banked,
        )
        found = run(ship, side * 0.3, around=around, outside=Force(0.0, 2e5 * side, 1e7 * side))
        track = found.track.copy()
        track[:, [2, 3, 5, 6, 7]] *= side
        tracks.append(track)
    np.testing.assert_allclose(tracks[0], tracks[1], rtol=1e-9, atol=1e-9)


def kinetic_energy(ship: parameters.Parameters, motion: state.Motion) -> float:
    """Of ship and added water. [J]"""
    hull = ship.hull
    cross = motion.sway + hull.centre_of_gravity * motion.yaw_rate
    return 0.5 * (
        (hull.mass + hull.surge_added_mass) * motion.surge**2
        + hull.mass * cross**2
        + hull.sway_added_mass * motion.sway**2
        + (hull.yaw_inertia + hull.yaw_added_inertia) * motion.yaw_rate**2
    )


@pytest.mark.parametrize(
    "start", [(6.0, 0.0, 0.0), (5.0, -3.0, 0.01), (0.0, 2.0, 0.01), (-3.0, 1.0, -0.01), (0.0, 0.0, 0.02)]
)
def test_left_to_herself_she_loses_energy_all_the_time(start: tuple[float, float, float]) -> None:
    ship = kvlcc2.parameters("ship")
    blade = ship.rudders[0]._replace(area=1e-6)
    screw = ship.propellers[0]._replace(thrust_factor=0.0)
    ship = ship._replace(rudders=(blade,), propellers=(screw,))
    found = run(ship, 0.0, shaft=0.0, start=state.Motion(0.0, 0.0, 0.0, *start), time=600.0)
    energies = [kinetic_energy(ship, state.Motion(*line[1:7])) for line in found.track]
    assert (np.diff(energies) < 0.0).all()


def test_halving_the_step_divides_the_error_by_sixteen() -> None:
    """Fourth order on a smooth stretch: steady turn beginning from a rudder already over, so that no ramp ends in a
    step."""
    ship = kvlcc2.parameters("ship")
    fleet = parameters.packed(ship)
    around = state.record_of(state.deep_calm())
    ends = []
    for interval in (8.0, 4.0, 2.0, 0.25):
        gear = state.gear(fleet, 0, 1.2, rudder=0.3)
        gear[0]["helms"][0]["order"] = 0.3
        motion = state.Motion(0.0, 0.0, 0.0, 7.0, -0.5, 0.004)
        motion, _ = kernel.steps(fleet, 0, gear, motion, around, sail.NO_FORCE, 0.0, interval, round(160.0 / interval))
        ends.append(np.array(motion[:2]))
    errors = [float(np.hypot(*(end - ends[-1]))) for end in ends[:-1]]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert (orders > 3.6).all(), (errors, orders)


def test_the_chosen_step_is_good_to_a_tenth_of_a_metre(benchmark_tanker: MakeSetting) -> None:
    """A whole 35 degree turn with steering gear ramp: position after 10 minutes with the standard step and a tenth of
    it."""
    ends = [run(kvlcc2.parameters("ship"), 0.6, time=600.0, interval=step).motion for step in (kernel.STEP, 0.1)]
    assert math.hypot(ends[0].north - ends[1].north, ends[0].east - ends[1].east) < 0.1


def test_a_uniform_stream_only_carries_her_along() -> None:
    still = run(symmetrical(), 0.3)
    set_ = run(symmetrical(), 0.3, around=state.deep_calm()._replace(stream_north=0.7, stream_east=-0.4))
    assert set_.motion.surge == pytest.approx(still.motion.surge, rel=1e-12)
    assert set_.motion.north == pytest.approx(still.motion.north + 0.7 * 900.0, abs=1e-6)
    assert set_.motion.east == pytest.approx(still.motion.east - 0.4 * 900.0, abs=1e-6)


def test_entering_a_stream_she_keeps_her_way_over_the_ground() -> None:
    """The head stream rises by 1 m/s within 10 s: over the ground she loses only the added water's share of it at
    once."""
    ship = kvlcc2.parameters("ship")
    rise = state.deep_calm()._replace(stream_change_north=-0.1)
    found = run(ship, 0.0, time=10.0, around=rise, shaft=1.22, start=straight(7.96))
    over_ground = found.motion.surge - 1.0
    share = ship.hull.surge_added_mass / (ship.hull.mass + ship.hull.surge_added_mass)
    assert over_ground == pytest.approx(7.96 - share, abs=0.01)


def test_a_stream_stronger_at_the_bow_turns_her() -> None:
    across = state.deep_calm()._replace(stream_turn=0.002)
    assert run(symmetrical(), 0.0, time=60.0, around=across).motion.heading > 0.01


def test_a_balanced_push_is_held_by_the_hull_drag() -> None:
    """Pushed sideways amidships she ends at the speed at which ½ρ L d CD v² equals the push (forces sheet 4.4)."""
    ship = symmetrical()
    blade = ship.rudders[0]._replace(area=1e-6)
    screw = ship.propellers[0]._replace(thrust_factor=0.0)
    ship = ship._replace(rudders=(blade,), propellers=(screw,), hull=ship.hull._replace(centre_of_gravity=0.0))
    push = 5e5
    found = run(ship, 0.0, shaft=0.0, time=3600.0, start=straight(0.0), outside=Force(0.0, push, 0.0))
    expected = math.sqrt(2.0 * push / (1025.0 * 320.0 * 20.8 * ship.hull.cross_flow_drag))
    assert found.motion.sway == pytest.approx(expected, rel=1e-3)


def test_touching_the_bottom_ends_the_run_with_the_fact() -> None:
    for depths in ((20.0, 40.0, 40.0), (40.0, 20.0, 40.0), (40.0, 40.0, 20.0)):
        around = state.deep_calm()._replace(depth_bow=depths[0], depth_midships=depths[1], depth_stern=depths[2])
        found = run(kvlcc2.parameters("ship"), 0.0, around=around)
        assert (found.standing, found.time) == (kernel.AGROUND, 0.0)


def test_squat_counts_in_the_touch() -> None:
    ship = kvlcc2.parameters("ship")
    deeper = ship._replace(hull=ship.hull._replace(squat=0.81 / (100.0 * 0.5144**2)))
    around = state.even_depth(21.5)
    assert run(deeper, 0.0, around=around, start=straight(7.0)).standing == kernel.AGROUND
    assert run(deeper, 0.0, around=around, start=straight(1.0), time=30.0, shaft=0.2).standing == kernel.AFLOAT


REFUSED = [
    ({"start": straight(math.nan)}, "motion: surge is not a number"),
    ({"around": state.deep_calm()._replace(wind_speed=math.nan)}, "surroundings: wind speed is not a number"),
    ({"outside": Force(0.0, math.nan, 0.0)}, "outside force: sway is not a number"),
]


@pytest.mark.parametrize(("given", "message"), REFUSED)
def test_not_a_number_is_refused_by_name(given: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        run(kvlcc2.parameters("ship"), 0.0, **given)  # type: ignore[arg-type]


def test_a_motion_that_breaks_ends_the_run_with_the_fact() -> None:
    """An absurd push makes the numbers overflow: the run says so instead of going on."""
    found = run(kvlcc2.parameters("ship"), 0.0, outside=Force(1e300, 0.0, 0.0))
    assert found.standing == kernel.BROKEN


IMPOSSIBLE = [
    (lambda ship: ship._replace(hull=ship.hull._replace(mass=math.nan)), "hull: mass is nan"),
    (
        lambda ship: ship._replace(hull=ship.hull._replace(length=0.0)),
        "hull: length is 0; it must be greater than zero",
    ),
    (lambda ship: ship._replace(engines=()), "engines: 0 for 1 propellers"),
    (
        lambda ship: ship._replace(rudders=(ship.rudders[0]._replace(propeller=3.0),)),
        "rudder 1: stands behind propeller 3, which does not exist",
    ),
    (
        lambda ship: ship._replace(propellers=(ship.propellers[0]._replace(azimuthing=1.0, rudder=5.0),)),
        "propeller 1: turns with steering unit 5",
    ),
    (
        lambda ship: ship._replace(propellers=(ship.propellers[0]._replace(wake=1.4),)),
        "propeller 1: wake is 1.4; expected -0.2 to 0.9",
    ),
    (
        lambda ship: ship._replace(rudders=(ship.rudders[0]._replace(greatest_angle=35.0),)),
        "rudder 1: greatest angle is 35; expected 0 to 3.14159",
    ),
    (
        lambda ship: ship._replace(tables=ship.tables._replace(wind=np.full((72, 3), np.nan))),
        "table of wind: holds a value that is not a finite number",
    ),
]


@pytest.mark.parametrize(("spoil", "message"), IMPOSSIBLE)
def test_impossible_parameters_are_refused(
    spoil: Callable[[parameters.Parameters], parameters.Parameters], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        parameters.packed(spoil(kvlcc2.parameters("ship")))


def test_no_depth_is_refused() -> None:
    with pytest.raises(ValueError, match="depth: 0 m; a depth greater than zero is needed"):
        state.even_depth(0)


def test_memory_does_not_grow_with_the_steps() -> None:
    fleet = parameters.packed(kvlcc2.parameters("ship"))
    plan = sail.steady_plan(fleet, 0.1, 1.2, PITCH)
    ending = sail.Ending(200.0, 0.0, -math.inf, 0.0)
    found = sail.run(fleet, straight(7.0), plan, ending, state.deep_calm(), tracked=False)
    assert found.track.size == 0
    assert found.motion.heading != 0.0


def test_the_same_run_twice_is_the_same_to_the_last_bit() -> None:
    first, second = (run(kvlcc2.parameters("ship"), 0.4).track for _ in range(2))
    assert (first == second).all()


def test_order_names_are_used(benchmark_tanker: MakeSetting) -> None:
    setting = benchmark_tanker("ship")
    assert setting.orders["stop"] == Order(0.0, PITCH)
    assert setting.steady("full_sea_speed").speed == pytest.approx(7.974, abs=0.02)
