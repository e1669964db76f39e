"""Current loads against the mooring manual's own table and the forces sheet, section 10."""

import math

import numpy as np
import pytest

from leadsman.physics import current
from leadsman.units import DEGREE, LONG_TON, SEA_WATER_DENSITY

FRIGATE_LENGTH, FRIGATE_DRAUGHT, FRIGATE_BEAM = 124.36, 4.389, 13.72  # m, forces sheet 2.1 [memory]
FRIGATE_SECTION = 46.97  # m² [memory]
FRIGATE_VOLUME = 3590.0 * LONG_TON / SEA_WATER_DENSITY  # 3590 long tons [memory]

FFG7 = [  # draught over depth, force in MN at 1.5 m/s abeam
    (0.096, 0.55),
    (0.288, 0.66),
    (0.576, 1.03),
    (0.72, 1.30),
    (0.96, 1.90),
]
TANKER = {
    "length_waterline": 230.0,
    "beam": 42.0,
    "draught": 14.5,
    "block_coefficient": 0.82,
    "midship_coefficient": 0.995,
    "propeller": "tanker",
    "propellers": 1,
    "form": "merchant",
    "density": SEA_WATER_DENSITY,
}


@pytest.mark.parametrize(("ratio", "expected"), FFG7)
def test_frigate_of_the_manual(ratio: float, expected: float) -> None:
    origin = "UFC 4-159-03, table 4-6 [seen]; checks 17-21; ship's particulars [memory]"
    deep = current.deep_coefficient(FRIGATE_LENGTH, FRIGATE_BEAM, FRIGATE_SECTION, FRIGATE_VOLUME)
    coefficient = current.lateral_coefficient(deep, 3.2, FRIGATE_DRAUGHT, FRIGATE_DRAUGHT / ratio, 2.0)
    force = current.lateral_force(1.5, -math.pi / 2.0, coefficient, FRIGATE_LENGTH, FRIGATE_DRAUGHT, SEA_WATER_DENSITY)
    assert force / 1e6 == pytest.approx(expected, rel=0.015), origin


def test_deep_coefficient_of_the_frigate() -> None:
    deep = current.deep_coefficient(FRIGATE_LENGTH, FRIGATE_BEAM, FRIGATE_SECTION, FRIGATE_VOLUME)
    assert deep == pytest.approx(0.849, abs=0.002), "forces sheet 2.1 [computed from memory]"


def test_tanker_abeam() -> None:
    origin = "forces sheet check 22 [computed]"
    volume = 230.0 * 42.0 * 14.5 * 0.82
    deep = current.deep_coefficient(230.0, 42.0, 0.995 * 42.0 * 14.5, volume)
    assert deep == pytest.approx(0.567, rel=0.01), origin
    assert current.lateral_coefficient(deep, 3.2, 14.5, 14.5 / 0.9, 2.0) == pytest.approx(2.700, rel=0.01), origin
    found = current.ufc(0.5, math.pi / 2.0, water_depth=14.5 / 0.9, **TANKER)
    assert found.sway / 1000.0 == pytest.approx(-1155.0, rel=0.01), origin + ", from starboard: to port"
    assert found.surge == pytest.approx(0.0, abs=1.0)
    deep_water = current.ufc(0.5, math.pi / 2.0, water_depth=14.5 / 0.2, **TANKER)
    assert deep_water.sway / 1000.0 == pytest.approx(-288.0, rel=0.01), "forces sheet 2.1 [computed]"


def test_tanker_from_ahead() -> None:
    origin = "forces sheet check 23 [computed]"
    surface = current.wetted_surface(230.0, 14.5, 230.0 * 42.0 * 14.5 * 0.82)
    friction = current.friction_drag(1.0, 0.0, 230.0, surface, SEA_WATER_DENSITY, current.SEA_VISCOSITY)
    propeller = current.propeller_drag(1.0, 0.0, current.propeller_area(230.0, 42.0, 270.0), SEA_WATER_DENSITY)
    parts = (current.form_drag(1.0, 0.0, 42.0, 14.5, SEA_WATER_DENSITY), friction, propeller)
    for part, expected in zip(parts, (31.2, 13.2, 21.9), strict=True):
        assert part / 1000.0 == pytest.approx(-expected, rel=0.015), origin
    total = current.ufc(1.0, 0.0, water_depth=100.0, **TANKER)
    assert total.surge / 1000.0 == pytest.approx(-66.4, rel=0.015), origin
    assert (total.sway, total.yaw) == (0.0, 0.0)


def test_current_ahead_of_the_beam_pushes_the_bow_down_stream() -> None:
    for angle_deg in (30.0, 60.0):
        found = current.ufc(1.0, angle_deg * DEGREE, water_depth=20.0, **TANKER)
        assert found.sway < 0.0
        assert found.yaw < 0.0, "from the starboard bow: she turns to port"
    astern = current.ufc(1.0, 150.0 * DEGREE, water_depth=20.0, **TANKER)
    assert astern.yaw > 0.0, "from the starboard quarter: the stern goes to port"


def test_mirrored_current_gives_the_mirrored_load() -> None:
    angles = np.linspace(0.0, np.pi, 37)
    starboard = current.ufc(1.0, angles, water_depth=20.0, **TANKER)
    port = current.ufc(1.0, -angles, water_depth=20.0, **TANKER)
    np.testing.assert_allclose(port.surge, starboard.surge, atol=1e-6)
    np.testing.assert_allclose(port.sway, -starboard.sway, atol=1e-6)
    np.testing.assert_allclose(port.yaw, -starboard.yaw, atol=1e-4)


def test_shallow_water_about_triples_the_lateral_force() -> None:
    deep = current.ufc(0.5, math.pi / 2.0, water_depth=200.0, **TANKER).sway
    at_twenty_percent = current.ufc(0.5, math.pi / 2.0, water_depth=14.5 * 1.2, **TANKER).sway
    assert 2.5 < at_twenty_percent / deep < 5.0, "forces sheet 2.1: about threefold to clearance 20 % [common practice]"


def test_profile() -> None:
    assert current.mean_over_draught(1.0, 10.0, 10.0, 1.0 / 7.0) == pytest.approx(0.875), "forces sheet 2.4 [derived]"
    depths = (np.arange(20000) + 0.5) * (8.0 / 20000)
    mean = np.mean(current.profile(1.0, depths, 12.0, 1.0 / 7.0))
    assert current.mean_over_draught(1.0, 8.0, 12.0, 1.0 / 7.0) == pytest.approx(mean, rel=1e-6)


def test_drift_speed_undoes_the_lateral_force() -> None:
    force = current.lateral_force(0.4, math.pi / 2.0, 2.0, 200.0, 10.0, SEA_WATER_DENSITY)
    assert current.drift_speed(force, 200.0, 10.0, 2.0, SEA_WATER_DENSITY) == pytest.approx(0.4)


def test_limits_are_marked() -> None:
    broken = current.METHODS["ufc"].outside(stream_rate=2.0, draught_to_depth=1.01)
    assert [str(breach) for breach in broken] == [
        "stream rate 2 is outside 0 to 1.5",
        "draught to depth 1.01 is outside 0 to 1",
    ]
