"""From a profile to windage: who is asked, and what is left out."""

from dataclasses import replace

import numpy as np
import pytest

from leadsman.assessment.holding.windage import breaches, windages
from leadsman.physics import wind
from leadsman.units import AIR_DENSITY, DEGREE


def test_all_that_suit_and_have_what_they_need(profile) -> None:
    assert [each.method for each in windages(profile, 1.0 / 7.0, AIR_DENSITY)] == ["fujiwara", "blendermann"]
    card_only = replace(profile, bridge_height=None)
    assert [each.method for each in windages(card_only, 1.0 / 7.0, AIR_DENSITY)] == ["blendermann"]
    tanker = replace(profile, ship_type="tanker, loaded", superstructure_area=700.0, outline=400.0, mast_groups=1.0)
    assert [each.method for each in windages(tanker, 1.0 / 7.0, AIR_DENSITY)] == [
        "fujiwara",
        "blendermann",
        "isherwood",
    ]
    with pytest.raises(ValueError, match="no wind method is chosen for ship type 'raft'"):
        windages(replace(profile, ship_type="raft"), 1.0 / 7.0, AIR_DENSITY)


def test_table_is_near_the_formula(profile) -> None:
    table = windages(profile, 1.0 / 7.0, AIR_DENSITY)[1]
    angles = np.linspace(0.0, np.pi, 721)
    row = wind.blendermann_types()["container ship, loaded"]
    exact = wind.blendermann(
        angles, 300.0, 8500.0, 1500.0, -2.0, row["lateral"], row["ahead"], row["astern"], row["cross_force"]
    )
    grid = np.linspace(0.0, np.pi, len(table.coefficients))
    for column, curve in zip(table.coefficients.T, exact, strict=True):
        # The longitudinal curve has a small step abeam where the two ends' figures meet; nothing there is near a limit.
        away = np.abs(angles - np.pi / 2.0) > 2.0 * DEGREE
        np.testing.assert_allclose(np.interp(angles, grid, column)[away], curve[away], atol=0.002)


def test_a_low_ship_is_not_credited_with_calmer_air(profile) -> None:
    low, high = (windages(replace(profile, height=height), 1.0 / 7.0, AIR_DENSITY)[0] for height in (8.0, 45.0))
    assert low.pressure_ratio == 1.0
    assert high.pressure_ratio == pytest.approx((4.5 ** (2.0 / 7.0)) / (2.0 / 7.0 + 1.0)), "by hand"


def test_limits(profile) -> None:
    assert breaches(profile) == {}
    wide = breaches(replace(profile, beam=80.0))
    assert str(wide["fujiwara"][0]) == "beam to length 0.267 is outside 0.09 to 0.25"
