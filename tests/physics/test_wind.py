"""Wind loads against the check values of the forces sheet, section 10, and what holds without any table.

The sheet's values were computed from the formulas by a separate script: they test the coding. The coefficients
themselves are marked [memory].
"""

import math
from functools import partial

import numpy as np
import pytest

from leadsman.compiled import kernel
from leadsman.physics import wind
from leadsman.physics.wind import Coefficients
from leadsman.units import AIR_DENSITY, DEGREE

half_percent = 0.005
two_thousandths = 0.002  # the sheet's tolerance on coefficients
last_figure = 0.0005  # half of the last figure given

TANKER = partial(
    wind.isherwood,
    length_overall=244.0,
    beam=42.0,
    lateral_area=2900.0,
    transverse_area=1000.0,
    superstructure_area=700.0,
    profile_outline=320.0,
    centroid_from_bow=128.0,
    mast_groups=1.0,
)
CARGO = partial(
    wind.isherwood,
    length_overall=150.0,
    beam=21.0,
    lateral_area=1500.0,
    transverse_area=350.0,
    superstructure_area=500.0,
    profile_outline=230.0,
    centroid_from_bow=72.0,
    mast_groups=3.0,
)
CONTAINER = partial(
    wind.fujiwara,
    length_overall=300.0,
    beam=40.0,
    lateral_area=8500.0,
    transverse_area=1500.0,
    deck_house_area=4200.0,
    centroid_forward=-2.0,
    centroid_height=15.0,
    bridge_height=42.0,
)


def by_type(name: str, length_overall: float, lateral_area: float, transverse_area: float, centroid_forward: float):
    """Blendermann's method with the figures of one row of his table."""
    row = {key: value for key, value in wind.blendermann_types()[name].items() if key != "heel"}
    return partial(
        wind.blendermann,
        length_overall=length_overall,
        lateral_area=lateral_area,
        transverse_area=transverse_area,
        centroid_forward=centroid_forward,
        **row,
    )


STACKED = by_type("container ship, loaded", 300.0, 8500.0, 1500.0, -2.0)
CAR_CARRIER = by_type("car carrier", 180.0, 4500.0, 700.0, 3.0)

REFERENCE = [  # method, angle_deg, longitudinal, lateral, yaw, tolerance, origin
    (TANKER, 0.0, 0.988, 0.0, 0.0, last_figure, "forces sheet check 1 [computed from memory]"),
    (TANKER, 90.0, None, 0.699, -0.0038, last_figure, "forces sheet check 2 [computed from memory]"),
    (CARGO, 40.0, 0.695, 0.596, 0.0839, last_figure, "forces sheet check 3 [computed from memory]"),
    (CARGO, 130.0, -0.486, 0.703, -0.0529, two_thousandths, "forces sheet check 4 [computed from memory]"),
    (CONTAINER, 0.0, 0.571, 0.0, 0.0, two_thousandths, "forces sheet check 5 [computed from memory]"),
    (CONTAINER, 30.0, 0.611, 0.565, 0.0847, two_thousandths, "forces sheet check 6 [computed from memory]"),
    (CONTAINER, 90.0, 0.008, 0.859, -0.0053, two_thousandths, "forces sheet check 7 [computed from memory]"),
    (STACKED, 45.0, 0.473, 0.775, 0.1043, two_thousandths, "forces sheet check 8 [computed from memory]"),
    (CAR_CARRIER, 60.0, 0.378, 1.132, 0.1255, two_thousandths, "forces sheet check 9 [computed from memory]"),
]


@pytest.mark.parametrize(("method", "angle_deg", "longitudinal", "lateral", "yaw", "tolerance", "origin"), REFERENCE)
def test_coefficients(method, angle_deg, longitudinal, lateral, yaw, tolerance, origin) -> None:
    found = method(angle_deg * DEGREE)
    if longitudinal is not None:
        assert found.longitudinal == pytest.approx(longitudinal, abs=tolerance), origin
    assert found.lateral == pytest.approx(lateral, abs=tolerance), origin
    assert found.yaw == pytest.approx(yaw, abs=tolerance), origin


FORCES = [  # method, particulars, angle_deg, speed, surge_kN, sway_kN, yaw_kNm, origin; wind from starboard
    (TANKER, (244.0, 2900.0, 1000.0), 0.0, 15.0, -136.1, 0.0, 0.0, "forces sheet check 1"),
    (TANKER, (244.0, 2900.0, 1000.0), 90.0, 15.0, None, -279.5, 370.0, "forces sheet check 2, mirrored to starboard"),
    (CARGO, (150.0, 1500.0, 350.0), 40.0, 10.0, -14.90, -54.72, None, "forces sheet check 3, mirrored to starboard"),
]


@pytest.mark.parametrize(("method", "ship", "angle_deg", "speed", "surge", "sway", "yaw", "origin"), FORCES)
def test_forces_in_ship_axes(method, ship, angle_deg, speed, surge, sway, yaw, origin) -> None:
    angle = angle_deg * DEGREE
    pressure = 0.5 * AIR_DENSITY * speed**2
    found = wind.loads(method(angle), angle, pressure, *ship)
    for value, expected in zip(found, (surge, sway, yaw), strict=True):
        if expected is not None:
            assert value / 1000.0 == pytest.approx(expected, rel=half_percent, abs=1e-6), origin


def test_ufc_reference_coefficient_and_shapes() -> None:
    lateral = wind.ufc_lateral_coefficient(20.0, 8.0, 600.0, 1200.0)
    assert lateral == pytest.approx(0.810, abs=two_thousandths), "forces sheet check 10 [computed from memory]"
    assert wind.ufc_lateral_shape(30.0 * DEGREE) == pytest.approx(0.5, abs=0.001), "forces sheet check 11"
    shape = wind.ufc_longitudinal_shape(50.0 * DEGREE, 100.0 * DEGREE, False)
    assert shape == pytest.approx(0.7071, abs=0.001), "forces sheet check 12 [seen equation]"


@pytest.mark.parametrize("distributed", [False, True])
@pytest.mark.parametrize("zero_deg", [70.0, 90.0, 120.0])
def test_ufc_longitudinal_shape_is_one_at_the_ends(distributed: bool, zero_deg: float) -> None:
    origin = "forces sheet 1.5: +1 at 0 and -1 at 180 in both cases (checked)"
    zero = zero_deg * DEGREE
    shape = wind.ufc_longitudinal_shape(np.array([0.0, zero, np.pi]), zero, distributed)
    np.testing.assert_allclose(shape, [1.0, 0.0, -1.0], atol=1e-12, err_msg=origin)


def naval(angle):
    return wind.ufc(
        angle,
        length_overall=120.0,
        centroid_forward=1.0,
        lateral=0.8,
        ahead=0.7,
        astern=0.6,
        zero_angle=70.0 * DEGREE,
        distributed=True,
    )


ALL = [TANKER, CARGO, CONTAINER, STACKED, CAR_CARRIER, naval]


@pytest.mark.parametrize("method", ALL)
def test_no_side_force_from_ahead_and_astern(method) -> None:
    for angle in (0.0, math.pi):
        found = method(angle)
        assert found.lateral == pytest.approx(0.0, abs=1e-12)
        assert found.yaw == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("method", ALL)
def test_mirrored_wind_gives_the_mirrored_force(method) -> None:
    angles = np.linspace(0.0, np.pi, 73)
    ship = (300.0, 8500.0, 1500.0)
    starboard = wind.loads(method(angles), angles, 100.0, *ship)
    port = wind.loads(method(-angles), -angles, 100.0, *ship)
    np.testing.assert_allclose(port.surge, starboard.surge, atol=1e-6)
    np.testing.assert_allclose(port.sway, -np.asarray(starboard.sway), atol=1e-6)
    np.testing.assert_allclose(port.yaw, -np.asarray(starboard.yaw), atol=1e-4)
    assert np.all(starboard.sway <= 1e-6), "wind from starboard sets her to port"


@pytest.mark.parametrize("method", ALL)
def test_usual_magnitudes(method) -> None:
    """Forces sheet 1.1: lateral 0.7 to 1.0 abeam, longitudinal 0.4 to 1.0 ahead, its sign changes at 80 to 110."""
    assert 0.69 <= method(math.pi / 2.0).lateral <= 1.0
    assert 0.4 <= method(0.0).longitudinal <= 1.0
    angles = np.arange(60.0, 131.0) * DEGREE
    longitudinal = method(angles).longitudinal
    first_negative = angles[np.argmax(longitudinal < 0.0)] / DEGREE
    assert (66.0 if method is naval else 80.0) <= first_negative <= 111.0


@pytest.mark.parametrize(("method", "allowed"), [(TANKER, 1.3), (CARGO, 1.3)])
def test_isherwood_has_no_kink(method, allowed: float) -> None:
    """Forces sheet 1.2: no point leaves the mean of its neighbours by over 1.3 standard errors; a slip would show."""
    angles = np.arange(0.0, 181.0, 10.0) * DEGREE
    errors = wind.isherwood_standard_error(angles)
    for values, error in zip(method(angles), errors, strict=True):
        kink = np.abs(values[1:-1] - 0.5 * (values[:-2] + values[2:]))
        assert np.all(kink <= allowed * error[1:-1])


def test_car_carrier_exceeds_its_beam_coefficient() -> None:
    assert CAR_CARRIER(60.0 * DEGREE).lateral == pytest.approx(1.13, abs=0.005), "forces sheet 1.4 [memory]"


def test_fujiwara_is_straight_across_the_smoothed_band() -> None:
    at = CONTAINER(np.array([80.0, 85.0, 90.0, 95.0, 100.0]) * DEGREE).longitudinal
    np.testing.assert_allclose(np.diff(at, n=2), 0.0, atol=1e-12)


def test_limits_of_fujiwara_are_marked() -> None:
    (breach,) = wind.METHODS["fujiwara"].outside(beam_to_length=0.3, lateral_area_to_length_bridge_height=0.5)
    assert str(breach) == "beam to length 0.3 is outside 0.09 to 0.25"


def test_choice_by_type() -> None:
    assert "isherwood" not in wind.suited("car carrier")
    assert wind.suited("tanker, loaded")[0] == "fujiwara"
    for ship_type in wind.ship_types():
        assert set(wind.suited(ship_type)) <= set(wind.METHODS)
        assert wind.blendermann_type(ship_type) in wind.blendermann_types()
    with pytest.raises(ValueError, match="no wind method is chosen for ship type 'canoe'; known: container ship, "):
        wind.suited("canoe")


@kernel
def lateral_sum(angles: np.ndarray, table: np.ndarray) -> float:
    total = 0.0
    for angle in angles:
        total += wind.from_table(angle, table).lateral
    return total


def test_grid_for_kernels() -> None:
    table = wind.coefficient_table(STACKED, 2.0 * DEGREE)
    assert table.shape == (91, 3)
    angles = np.linspace(-np.pi, np.pi, 41)
    exact = STACKED(angles)
    at_each = [wind.from_table(angle, table) for angle in angles]
    np.testing.assert_allclose([c.longitudinal for c in at_each], exact.longitudinal, atol=0.002)
    np.testing.assert_allclose([c.yaw for c in at_each], exact.yaw, atol=0.001)
    assert lateral_sum(angles, table) == pytest.approx(sum(c.lateral for c in at_each), abs=1e-12)
    isherwood = wind.coefficient_table(TANKER, 10.0 * DEGREE)
    np.testing.assert_array_equal(isherwood[:, 1], TANKER(np.arange(0.0, 181.0, 10.0) * DEGREE).lateral)


def test_coefficients_are_named() -> None:
    assert Coefficients._fields == ("longitudinal", "lateral", "yaw")
