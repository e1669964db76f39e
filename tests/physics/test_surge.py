"""The residual: the weight of the air, and how a reading fades."""

import numpy as np
import pytest

from leadsman.physics import surge


def test_a_low_of_one_hectopascal_lifts_the_sea_by_a_centimetre() -> None:
    """0.00994 m for each hPa from 1013 hPa: sheet water.md 1.4, memory; and 100 / (rho g), derived."""
    assert surge.inverse_barometer(1013e2) == 0.0
    assert surge.inverse_barometer(980e2) == pytest.approx(33.0 * 0.00994)
    assert surge.inverse_barometer(1012e2) == pytest.approx(100.0 / (1025.0 * 9.81), abs=1e-5)
    assert surge.inverse_barometer(1030e2) < 0.0


def test_a_residual_fades_or_is_held() -> None:
    """After one time scale 1/e is left. By hand."""
    assert surge.decayed(0.5, 3600.0, 3600.0) == pytest.approx(0.5 / np.e)
    assert surge.decayed(-0.5, 3600.0, np.inf) == -0.5
    assert surge.decayed(0.5, 0.0, 3600.0) == 0.5
