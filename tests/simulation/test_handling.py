"""Thrusters, tugs and anchors in the moving ship: steady states equal statics, mirrored, deaf, dead, late, and the same
whatever the threads."""

import math
import os
import subprocess
import sys
from pathlib import Path

import numba
import numpy as np
import pytest

from leadsman.physics import anchor as anchor_rules
from leadsman.physics import tug_work
from leadsman.physics.cable import Anchor
from leadsman.physics.tug_work import TugAtWork
from leadsman.physics.tunnel import Tunnel
from leadsman.simulation import ensemble, factors, kernel, kvlcc2, parameters, sail, state
from leadsman.simulation.setting import straight
from leadsman.simulation.state import DEAD, STUCK, Surroundings
from leadsman.units import KNOT

PITCH = 0.721
BOW = Tunnel(position=130.0, thrust=250e3, ramp=0.1, immersion=1.0, greatest_speed=math.inf)
PUSH_PULL = TugAtWork(
    position=0.0,
    offset=29.0,
    home=0.5 * math.pi,
    sector=math.radians(30.0),
    line_pull=400e3,
    push_pull=500e3,
    line_row=tug_work.row("azimuth stern drive", "on a line"),
    push_row=tug_work.row("azimuth stern drive", "pushing"),
    wash_shallow=0.1,
    reaction=15.0,
    slew=0.05,
    ramp=0.05,
)
ASTERN = PUSH_PULL._replace(
    position=-150.0, offset=0.0, home=math.pi, sector=0.5 * math.pi, push_row=tug_work.NOT_WORKED
)
BOWER = Anchor(
    position=145.0,
    offset=5.0,
    hawse=8.0,
    mass=13000.0,
    weight=2200.0,
    holding=900e3,
    drag_ratio=1.0,
    brake=5000e3,
    most=330.0,
    veer=3.0,
    heave=0.15,
)


def ship(**equipment: object) -> parameters.Parameters:
    """The tanker, symmetrical, with equipment; centre of gravity amidships."""
    found = kvlcc2.parameters("ship")
    screw = found.propellers[0]._replace(wake_gain_port=1.6, transverse_ahead=0.0, transverse_astern=0.0)
    blade = found.rudders[0]._replace(straightening_port=0.5, straightening_starboard=0.5)
    hull = found.hull._replace(centre_of_gravity=0.0)
    return found._replace(propellers=(screw,), rudders=(blade,), hull=hull, **equipment)  # type: ignore[arg-type]


def bare(**equipment: object) -> parameters.Parameters:
    """The same without what screw and rudder do to her."""
    found = ship(**equipment)
    screw = found.propellers[0]._replace(thrust_factor=0.0)
    return found._replace(propellers=(screw,), rudders=(found.rudders[0]._replace(area=1e-6),))


def carried(
    found: parameters.Parameters,
    time: float,
    *,
    speed: float = 0.0,
    shaft: float = 0.0,
    around: Surroundings | None = None,
    gear: parameters.Records | None = None,
    **orders: object,
) -> sail.Run:
    fleet = parameters.packed(found)
    plan = sail.steady_plan(fleet, 0.0, shaft, PITCH)
    plan = plan._replace(**{name: np.array([values], float) for name, values in orders.items()})
    ending = sail.Ending(time, 0.0, -math.inf, 0.0)
    return sail.run(fleet, straight(speed), plan, ending, around or state.deep_calm(), gear=gear)


def test_a_tug_pushing_amidships_is_held_by_the_drag_of_the_hull() -> None:
    """½ρ L d CD v² equals what a pushing azimuth tug gives at rest, 95 % (tug table, Hensen, memory)."""
    found = bare(tugs=(PUSH_PULL,))
    run = carried(found, 3600.0, tug_directions=[-0.5 * math.pi], tug_powers=[1.0])
    expected = math.sqrt(2.0 * 0.95 * 500e3 / (1025.0 * 320.0 * 20.8 * found.hull.cross_flow_drag))
    assert run.motion.sway == pytest.approx(-expected, rel=1e-3)
    assert run.gear[0]["tugs"][0]["force"] == pytest.approx(0.95 * 500e3)


def test_the_thruster_turns_her_as_its_force_from_outside_does() -> None:
    inside = carried(bare(thrusters=(BOW,)), 900.0, thrusters=[1.0])
    fleet = parameters.packed(bare())
    outside = sail.run(
        fleet,
        straight(0.0),
        sail.steady_plan(fleet, 0.0, 0.0, PITCH),
        sail.Ending(900.0, 0.0, -math.inf, 0.0),
        state.deep_calm(),
        outside=sail.NO_FORCE._replace(sway=250e3, yaw=250e3 * 130.0),
    )
    assert inside.motion.yaw_rate == pytest.approx(outside.motion.yaw_rate, rel=0.03)  # she drifts ahead a little


def test_riding_to_her_anchor_all_is_in_balance() -> None:
    """Where the catenary bears the resistance of the hull in the stream, nothing is left over."""
    around = state.even_depth(40.0)._replace(stream_north=-1.2)
    fleet = parameters.packed(bare())
    drag = -kernel.pushed(
        fleet, 0, state.gear(fleet, 0, 0.0, PITCH), straight(1.2), state.record_of(around), sail.NO_FORCE
    ).surge
    hanging = anchor_rules.catenary(48.0, drag, BOWER.weight)
    anchored = parameters.packed(bare(anchors=(BOWER._replace(offset=0.0),)))
    gear = state.gear(anchored, 0, 0.0, PITCH)
    cable = gear[0]["cables"][0]
    cable["out"] = cable["order"] = 220.0
    cable["on_bed"] = 1.0
    cable["north"] = BOWER.position + hanging.span + 220.0 - hanging.length
    left = kernel.pushed(anchored, 0, gear, straight(1.2), state.record_of(around), sail.NO_FORCE)
    assert cable["pull"] == pytest.approx(drag, rel=1e-6)
    assert abs(left.surge) < 1e-5 * drag


def test_she_rides_to_her_anchor_in_a_stream() -> None:
    """Let go while stopped over the ground, she drops back on her cable, surges, and stays."""
    around = state.even_depth(40.0)._replace(stream_north=-1.2)
    run = carried(bare(anchors=(BOWER,)), 7200.0, speed=1.2, around=around, cables=[220.0])
    cable = run.gear[0]["cables"][0]
    assert cable["on_bed"] == 1.0
    assert cable["dragged"] < 32.0  # a tenth of her length: bringing up 320 000 t that drop back
    over_ground = run.track[3600:, sail.COLUMNS.index("surge")] - 1.2
    assert abs(float(over_ground.mean())) < 0.02
    assert float(np.hypot(cable["north"] - run.motion.north, cable["east"] - run.motion.east)) < 220.0 + 145.0


def test_dredging_an_anchor_stops_her_in_the_distance_of_work_and_energy() -> None:
    """Against `anchor.stopping_distance` with the water's drag left out of the ship."""
    found = bare(anchors=(BOWER._replace(offset=0.0, position=0.0),))
    hull = found.hull._replace(R0=1e-9, R1=0.0, R2=0.0)
    found = found._replace(hull=hull)
    speed, depth, out = 2.0 * KNOT, 32.0, 60.0
    around = state.even_depth(depth)
    gear = state.gear(parameters.packed(found), 0, 0.0, PITCH)
    gear[0]["cables"][0]["order"] = gear[0]["cables"][0]["out"] = out
    run = carried(found, 2400.0, speed=speed, around=around, gear=gear)
    surge = run.track[:, sail.COLUMNS.index("surge")]
    stopped = float(run.track[np.flatnonzero(surge <= 0.0)[0], 1])
    force = float(anchor_rules.dragging_force(13000.0, depth + 8.0, 2200.0, 1.0))
    mass = hull.mass + hull.surge_added_mass * float(run.gear[0]["factors"]["surge_added_mass"])
    expected = float(anchor_rules.stopping_distance(speed, mass, force))
    taut = math.sqrt(out**2 - (depth + 8.0) ** 2)  # way she makes before the cable is taut
    assert expected < stopped < expected + taut


def test_mirrored_help_gives_the_mirrored_track() -> None:
    tracks = []
    for side in (1.0, -1.0):
        works = (
            PUSH_PULL._replace(position=60.0, offset=29.0 * side, home=0.5 * math.pi * side),
            ASTERN,
        )
        found = ship(thrusters=(BOW,), tugs=works, anchors=(BOWER._replace(offset=5.0 * side),))
        around = state.even_depth(35.0)._replace(stream_east=0.2 * side)
        run = carried(
            found,
            900.0,
            speed=2.0,
            shaft=0.5,
            around=around,
            thrusters=[0.5 * side],
            tug_directions=[-0.6 * math.pi * side, math.pi + 0.7 * side],
            tug_powers=[0.6, 0.8],
            cables=[70.0],
        )
        track = run.track.copy()
        track[:, [2, 3, 5, 6, 7]] *= side
        tracks.append(track)
    np.testing.assert_allclose(tracks[0], tracks[1], rtol=1e-7, atol=1e-7)


def test_a_tug_begins_late_and_works_up() -> None:
    """Nothing for her reaction time of 15 s, full power 20 s after it."""
    found = bare(tugs=(PUSH_PULL._replace(line_row=tug_work.NOT_WORKED),))
    powers = [
        float(carried(found, time, tug_directions=[-0.5 * math.pi], tug_powers=[1.0]).gear[0]["tugs"][0]["power"])
        for time in (14.0, 25.0, 36.0)
    ]
    assert powers[0] == 0.0
    assert 0.3 < powers[1] < 0.7
    assert powers[2] == 1.0


def test_an_order_to_a_tug_is_not_set_back_by_the_next_one() -> None:
    """Told half, and again something else every 10 s, less than the 15 s she needs to begin: she begins all the same,
    and does at last what she was told last (reaction: common practice, no source; 20 s to work up)."""
    fleet = parameters.packed(bare(tugs=(PUSH_PULL._replace(line_row=tug_work.NOT_WORKED),)))
    times = np.arange(0.0, 60.0, 10.0)
    powers = np.array([0.5, 0.6, 0.5, 0.6, 0.5, 0.25])
    plan = sail.steady_plan(fleet, 0.0, 0.0, PITCH)._replace(
        times=times,
        rudders=np.zeros((6, 1)),
        speeds=np.zeros((6, 1)),
        pitches=np.full((6, 1), PITCH),
        tug_directions=np.full((6, 1), -0.5 * math.pi),
        tug_powers=powers[:, np.newaxis],
    )
    power = {}
    for time in (14.0, 29.0, 63.0, 80.0):
        run = sail.run(fleet, straight(0.0), plan, sail.Ending(time, 0.0, -math.inf, 0.0), state.deep_calm())
        power[time] = float(run.gear[0]["tugs"][0]["power"])
    assert power[14.0] == 0.0
    assert power[29.0] == pytest.approx(0.6), "by hand: half from 15 s, reached at 25 s; then what was told at 10 s"
    assert power[63.0] >= 0.5, "by hand: told a quarter at 50 s, not begun before 65 s"
    assert power[80.0] == pytest.approx(0.25)


def test_from_pushing_to_pulling_she_takes_her_power_off_first() -> None:
    fleet = parameters.packed(bare(tugs=(PUSH_PULL,)))
    plan = sail.steady_plan(fleet, 0.0, 0.0, PITCH)._replace(
        times=np.array([0.0, 100.0]),
        rudders=np.zeros((2, 1)),
        speeds=np.zeros((2, 1)),
        pitches=np.full((2, 1), PITCH),
        tug_directions=np.array([[-0.5 * math.pi], [0.5 * math.pi]]),
        tug_powers=np.ones((2, 1)),
    )
    seen = []
    for time in (99.0, 125.0, 180.0):
        run = sail.run(fleet, straight(0.0), plan, sail.Ending(time, 0.0, -math.inf, 0.0), state.deep_calm())
        tow = run.gear[0]["tugs"][0]
        seen.append((float(tow["way"]), float(tow["power"])))
    assert seen[0] == (-1.0, 1.0)
    assert seen[1][0] == -1.0
    assert 0.0 < seen[1][1] < 1.0
    assert seen[2] == (1.0, 1.0)


@pytest.mark.parametrize("fault", [DEAD, STUCK])
def test_faults(fault: float) -> None:
    """A dead unit gives nothing, a stuck one goes on as it was: shaft, rudder, thruster and tug."""
    found = ship(thrusters=(BOW,), tugs=(ASTERN,))
    fleet = parameters.packed(found)
    gear = state.gear(fleet, 0, 1.0, PITCH, rudder=0.2)
    gear[0]["thrusters"][0]["share"] = 0.6
    gear[0]["tugs"][0]["power"] = 0.6
    for name, count in (("shafts", 1), ("helms", 1), ("thrusters", 1), ("tugs", 1)):
        gear[0][name]["fault"][:count] = fault
    run = carried(found, 240.0, speed=4.0, shaft=0.3, gear=gear, thrusters=[-1.0], tug_powers=[0.0])
    after = run.gear[0]
    shaft, thruster, tug = after["shafts"][0], after["thrusters"][0], after["tugs"][0]
    assert after["helms"][0]["angle"] == 0.2
    if fault == STUCK:
        assert (shaft["speed"], thruster["share"], tug["power"]) == (1.0, 0.6, 0.6)
    else:
        assert 0.0 < shaft["speed"] < 0.6  # the water turns it
        assert shaft["thrust"] < 0.0
        assert (thruster["share"], thruster["force"], tug["power"], tug["force"]) == (0.0, 0.0, 0.0, 0.0)


def helped_ensemble() -> np.ndarray:
    """Where sixteen drawn ships with all help end."""
    found = ship(thrusters=(BOW,), tugs=(PUSH_PULL._replace(position=60.0), ASTERN), anchors=(BOWER,))
    fleet = parameters.packed(found)
    plan = sail.steady_plan(fleet, 0.2, 0.4, PITCH)._replace(
        thrusters=np.array([[0.5]]),
        tug_directions=np.array([[-1.4, 3.0]]),
        tug_powers=np.array([[0.5, 1.0]]),
        cables=np.array([[80.0]]),
    )
    return ensemble.run(
        found,
        factors.drawn(factors.Factors(), factors.PRIOR, 16, np.random.default_rng(3)),
        (straight(2.0), state.gear(fleet, 0, 0.4, PITCH)),
        plan,
        sail.Ending(600.0, 0.0, -math.inf, 0.0),
        seed=1,
        around=state.even_depth(40.0),
    ).motions


def test_the_same_on_one_two_and_four_threads_with_all_help() -> None:
    """To the last bit; four threads in a process of their own, for numba fixes their greatest number at its start."""
    before = numba.get_num_threads()
    ends = []
    for threads in (1, min(2, before)):
        numba.set_num_threads(threads)
        ends.append(helped_ensemble())
    numba.set_num_threads(before)
    words = "import sys, numba; sys.path.insert(0, sys.argv[1]); import test_handling; numba.set_num_threads(4); "
    words += "sys.stdout.buffer.write(test_handling.helped_ensemble().tobytes())"
    paths = os.pathsep.join([str(Path(parameters.__file__).parents[2]), *sys.path])
    done = subprocess.run(
        [sys.executable, "-c", words, str(Path(__file__).parent)],
        env=os.environ | {"NUMBA_NUM_THREADS": "4", "PYTHONPATH": paths},
        capture_output=True,
        check=True,
    )
    ends.append(np.frombuffer(done.stdout).reshape(ends[0].shape))
    assert all((one == ends[0]).all() for one in ends)
    assert np.ptp(ends[0][:, 2]) > 0.01  # the draws of thruster and tug force tell


def test_a_plan_that_is_not_a_number_is_refused() -> None:
    with pytest.raises(ValueError, match="plan: thrusters is not a number"):
        carried(ship(thrusters=(BOW,)), 10.0, thrusters=[math.nan])


IMPOSSIBLE = [
    ({"thrusters": (BOW._replace(thrust=math.nan),)}, "thruster 1: thrust is nan"),
    ({"thrusters": (BOW._replace(immersion=-1.0),)}, "thruster 1: immersion is -1; expected 0 to 1"),
    ({"tugs": (ASTERN._replace(slew=0.0),)}, "tug 1: slew is 0; it must be greater than zero"),
    ({"anchors": (BOWER._replace(weight=0.0),)}, "anchor 1: weight is 0; it must be greater than zero"),
    ({"tugs": (ASTERN._replace(line_pull=-1.0),)}, "tug 1: line pull is -1; it must not be less than nothing"),
    ({"tugs": (ASTERN,) * 9}, "tugs: 9; the kernels hold 8"),
]


@pytest.mark.parametrize(("equipment", "message"), IMPOSSIBLE)
def test_impossible_equipment_is_refused(equipment: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        parameters.packed(ship(**equipment))
