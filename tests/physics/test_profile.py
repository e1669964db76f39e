"""Areas and centroid of the side of a ship, by hand."""

import numpy as np
import pytest

from leadsman.physics import profile


def test_three_rectangles_by_hand() -> None:
    # Hull 100 x 6 = 600 at 3 m; house 12 x 10 = 120 at 11 m, 40 m aft; stack 50 x 5 = 250 at 8.5 m: 970 m² in all.
    found = profile.rectangles(100.0, 16.0, 6.0, 12.0, 10.0, -40.0, 50.0, 5.0)
    assert found.lateral == pytest.approx(970.0)
    assert found.centroid_height == pytest.approx((600.0 * 3.0 + 120.0 * 11.0 + 250.0 * 8.5) / 970.0)
    assert found.centroid_forward == pytest.approx(120.0 * -40.0 / 970.0)
    assert found.frontal == pytest.approx(16.0 * (6.0 + 9.0)), "nine tenths of the house, the stack hidden behind it"


def test_a_house_needs_height_above_the_deck() -> None:
    assert profile.house_height(30.0, 8.0, 7.0) == pytest.approx(15.0)
    assert profile.house_height(12.0, 8.0, 7.0) == 0.0


def test_more_freeboard_shows_more_side() -> None:
    freeboards = np.linspace(2.0, 15.0, 14)
    found = profile.rectangles(180.0, 30.0, freeboards, 22.0, 15.0, -70.0, 0.0, 0.0)
    np.testing.assert_allclose(np.diff(found.lateral), 180.0)  # standards sheet 6: windage grows by draught x length
    assert np.all(np.diff(found.frontal) > 0.0)
