"""Bands of the trial figures: the undisturbed ship inside them, and calibration narrows what it speaks of."""

import math

import numpy as np
import pytest

from leadsman.simulation import bands, calibrate, factors
from leadsman.simulation.calibrate import Figure, Observation
from leadsman.simulation.estimate import estimate
from leadsman.simulation.factors import Factors
from leadsman.simulation.particulars import Particulars


def named(found: tuple[bands.TrialBand, ...], name: str) -> bands.TrialBand:
    return next(band for band in found if band.name == name)


def test_calibration_narrows_the_band_of_the_figure(examples: dict[str, Particulars]) -> None:
    ship = estimate(examples["bulk carrier"])
    hard = math.radians(35.0)
    stated = [
        Observation(figure=Figure.TACTICAL_DIAMETER, value=560.0, deviation=0.03, rudder=side * hard)
        for side in (1, -1)
    ]
    prior = factors.drawn(Factors(), ship.spread, 30, np.random.default_rng(3))
    before = bands.trial_bands(ship.parameters, ship.orders, prior)
    fit = calibrate.calibrate(ship, stated)
    posterior = factors.drawn_together(fit.factors, fit.covariance, 30, np.random.default_rng(3))
    after = bands.trial_bands(ship.parameters, ship.orders, posterior)
    name = "tactical diameter, starboard"
    wide, narrow = named(before, name), named(after, name)
    assert wide.value is not None
    assert wide.low < wide.value < wide.high
    assert narrow.value == pytest.approx(560.0, rel=0.03)
    assert narrow.high - narrow.low < 0.5 * (wide.high - wide.low)
    # Nine in ten within 1.64 deviations either side, for a figure stated to 3 %, with the other side saying the same.
    assert narrow.high - narrow.low < 2.0 * 1.64 * 0.03 * 560.0 * 1.3


def test_nothing_drawn_is_refused(examples: dict[str, Particulars]) -> None:
    ship = estimate(examples["bulk carrier"])
    with pytest.raises(ValueError, match="draws: none"):
        bands.trial_bands(ship.parameters, ship.orders, [])
