"""The poster's tables and feet-and-inches of ship.toml: read into SI, and refused with a sentence."""

import math
from pathlib import Path

import pytest

from leadsman.equipment import State
from leadsman.errors import InputErrors
from leadsman.files.call_files import read_ship
from leadsman.files.poster_file import metres_of
from leadsman.poster import Basis
from leadsman.units import FOOT, INCH, KNOT, RPM

ADDED = """
[poster]
initial_turning_distance_m = 190
blind_zone_loaded_m = 120

[[poster.turning_circle]]
side = "starboard"
condition = "loaded"
rudder_deg = 35
advance_m = 310
transfer_m = 140
tactical_diameter_m = 290
approach_speed_kn = 11.0
basis = "trial"

[[poster.stop]]
order = "full_ahead"
condition = "loaded"
track_reach_m = 520
head_reach_m = 500
duration_s = 150

[[poster.zig_zag]]
angle_deg = 10
condition = "loaded"
first_overshoot_deg = 7.5

[[poster.squat]]
clearance_m = 1.0
speed_kn = 8
squat_m = 0.6
"""


def edited(folder: Path, changes: dict[str, str], end: str = "") -> Path:
    file = folder / "ship.toml"
    written = file.read_text()
    for old, new in changes.items():
        assert old in written, old
        written = written.replace(old, new, 1)
    file.write_text(written + end)
    return file


def test_the_poster_is_read_into_si(folder: Path) -> None:
    ship, _ = read_ship(edited(folder, {}, ADDED))
    (circle,) = ship.poster.turning_circles
    assert circle.rudder == pytest.approx(math.radians(35.0))
    assert circle.approach_speed == pytest.approx(11.0 * KNOT)
    assert circle.basis is Basis.TRIAL
    assert ship.poster.stops[0].track_reach == 520.0
    assert ship.poster.zig_zags[0].first_overshoot == pytest.approx(math.radians(7.5))
    assert ship.poster.squats[0].squat == 0.6
    assert ship.poster.initial_turning_distance == 190.0


def test_every_new_key_reaches_the_ship(folder: Path) -> None:
    changes = {
        'condition = "loaded"\n': 'condition = "loaded"\ndraught_forward_imperial = "20 ft 4 in"\n'
        'draught_aft_imperial = "20\' 10\\""\nair_draught_imperial = "87-06"\ndeadweight_t = 5120\n'
        "boarding_height_m = 1.8\ncombination_ladder = false\n",
        "power_kW = 2000\n": "power_kW = 2000\nstop_to_full_astern_s = 15\nmaximum_revolutions_rpm = 155\n"
        "time_limit_at_minimum_revolutions_min = 60\n",
        "blades = 4\n": "blades = 4\nshaft_height_m = 1.8\n",
        "height_m = 3.6\n": 'height_m = 3.6\nstate = "reduced"\n',
        "power_units = 2\n": "power_units = 2\nhard_over_with_one_unit_s = 44\n"
        "minimum_steering_speed_propeller_stopped_kn = 4.0\n",
        "not_effective_above_kn = 5.0\n": "not_effective_above_kn = 5.0\ntime_to_full_thrust_s = 8\n"
        "time_to_reverse_s = 12\nturning_rate_deg_min = 30\ntime_limit_min = 30\n",
        "anchor_mass_kg = 3060\n": "heaving_time_min = 3.0\nanchor_mass_kg = 2640\nequipment_number = 890\n",
        "deadweight_t = 5210\n": "deadweight_t = 5210\ngross_tonnage = 3900\nnet_tonnage = 2000\n"
        "summer_displacement_t = 7090\nsummer_block_coefficient = 0.84\ngyro_error_deg = 0.5\n",
    }
    end = '\n[equipment_details]\nspeed_log = "doppler"\n'
    ship, loading = read_ship(edited(folder, changes, end))
    assert loading.draught_forward_imperial == pytest.approx(20.0 * FOOT + 4.0 * INCH)
    assert loading.draught_aft_imperial == pytest.approx(20.0 * FOOT + 10.0 * INCH)
    assert loading.air_draught_imperial == pytest.approx(87.5 * FOOT)
    assert loading.deadweight == 5.12e6
    assert (loading.boarding_height, loading.combination_ladder) == (1.8, False)
    assert ship.engine.stop_to_full_astern == 15.0
    assert ship.engine.maximum_revolutions == pytest.approx(155.0 * RPM)
    assert ship.engine.time_limit_at_minimum_revolutions == 3600.0
    assert ship.propellers[0].shaft_height == 1.8
    assert ship.rudders[0].state is State.REDUCED
    assert ship.steering.hard_over_with_one_unit == 44.0
    assert ship.steering.minimum_steering_speed_propeller_stopped == pytest.approx(4.0 * KNOT)
    assert ship.thrusters[0].time_to_full_thrust == 8.0
    assert ship.thrusters[0].time_limit == 1800.0
    assert ship.thrusters[0].turning_rate == pytest.approx(math.radians(30.0) / 60.0)
    assert (ship.anchors.heaving_time, ship.anchors.anchor_mass, ship.anchors.equipment_number) == (
        180.0,
        2640.0,
        890.0,
    )
    assert (ship.gross_tonnage, ship.net_tonnage) == (3900.0, 2000.0)
    assert ship.summer_displacement == 7.09e6
    assert ship.summer_block_coefficient == 0.84
    assert ship.gyro_error == pytest.approx(math.radians(0.5))
    assert ship.equipment_details == {"speed_log": "doppler"}


WRITTEN = [
    ("20 ft 4 in", 20, 4),
    ("20'04\"", 20, 4),
    ("20-04", 20, 4),
    ("7 ft", 7, 0),
    ("39 feet 11.5 inches", 39, 11.5),
]


@pytest.mark.parametrize(("written", "feet", "inches"), WRITTEN)
def test_feet_and_inches_as_they_are_written(written: str, feet: float, inches: float) -> None:
    assert metres_of(written) == pytest.approx(feet * FOOT + inches * INCH)
    assert metres_of(None) is None


WRONG = [  # changes, what is added, the sentence
    (
        {'condition = "loaded"\n': 'condition = "loaded"\ndraught_forward_imperial = "6.2 m"\n'},
        "",
        "draught_forward_imperial: got '6.2 m'; expected the second reading in feet and inches",
    ),
    ({}, ADDED.replace('order = "full_ahead"', 'order = "full_astern"'), "order: 'full_astern' is no ahead order"),
    ({}, ADDED.replace("advance_m = 310", "advance_m = 0.31"), "advance_m: 0.31 is outside what is possible"),
    ({}, ADDED.replace("squat_m = 0.6", "sqat_m = 0.6"), "sqat_m: is not known here; did you mean 'squat_m'?"),
]


@pytest.mark.parametrize(("changes", "end", "sentence"), WRONG)
def test_a_wrong_poster_is_refused_with_its_line(
    folder: Path, changes: dict[str, str], end: str, sentence: str
) -> None:
    with pytest.raises(InputErrors) as refusal:
        read_ship(edited(folder, changes, end))
    assert any(sentence in str(error) and error.line for error in refusal.value.errors), str(refusal.value)
