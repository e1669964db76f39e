"""What weather does to the water level: the residual over the predicted tide."""

import numpy as np

from leadsman.compiled import Real, formula

NORMAL_PRESSURE = 101_300.0  # Pa: the pressure for which tide tables hold, common practice; sheet water.md 1.4
_PER_PASCAL = -0.00994 / 100.0  # m/Pa: 1 hPa is 9.94 mm of sea water, 100 / (1025 x 9.81)


@formula
def inverse_barometer(pressure: Real) -> Real:
    """Rise of the sea under low air pressure [Pa] at rest. [m]

    Source: [InverseBarometer]. Limits: open water after hours of steady pressure; wind is not in it.
    """
    return _PER_PASCAL * (pressure - NORMAL_PRESSURE)


@formula
def decayed(residual: Real, since: Real, time_scale: Real) -> Real:
    """A residual [m] read at a gauge, `since` seconds ago, dying away over `time_scale` [s]; infinity holds it. [m]

    Source: common practice, no source.
    """
    return residual * np.exp(-since / time_scale)
