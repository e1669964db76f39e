"""How sure a rehearsal may be of the ship: her model fitted to what card and poster state of her, and what is left."""

from collections.abc import Iterator, Sequence

import numpy as np

from leadsman.assessment.estimates import particulars as estimated
from leadsman.assessment.rehearse_result import Matter
from leadsman.geometry import Array
from leadsman.ship import Loading, Ship
from leadsman.simulation.calibrate import Calibration, calibrate
from leadsman.simulation.estimate import Estimate
from leadsman.simulation.factors import Factors
from leadsman.simulation.from_ship import observations
from leadsman.simulation.state import deep_calm
from leadsman.units import SEA_WATER_DENSITY

OFTEN_MISSED = 2.0  # deviations of a stated figure, from which it is told that the fitted ship does not show it
LEAST_SURE = 4  # coefficients named as the least sure
TELLING = 3  # and as those that told most in the runs
BY_CHANCE = 3.0  # standard errors of a rank correlation, 1/sqrt(runs), for the greatest of many must pass more. Ours
OF_SHIP = "ship: "
"""Before the names of her factors among what is drawn."""


def fitted_to(ship: Ship, loading: Loading, model: Estimate) -> Calibration | None:
    """Her model fitted to the manoeuvres card and poster state for this loading; None where they state none.

    ValueError where a figure is none.
    """
    stated = observations(ship, loading, model.setting().hard_over)
    if not stated:
        return None
    return calibrate(model, stated, deep_calm(loading.water_density or SEA_WATER_DENSITY))


def covariance(ship: Ship, loading: Loading, model: Estimate, fit: Calibration | None) -> Array:
    """Of the logarithms of her factors [factors, factors]: prior bands, or what the fit has left of them.

    The band of an estimated windage goes into that of the wind's force; no manoeuvre in calm speaks of it.
    """
    found = np.diag(np.square(np.array(model.spread))) if fit is None else fit.covariance.copy()
    area = estimated(ship, loading, names=("lateral_windage",)).get("lateral_windage")
    if area is not None and area.band is not None and area.band.deviation:
        wind = Factors._fields.index("wind_force")
        found[wind, wind] += (area.band.deviation / area.value) ** 2
    return found


def rests_on(fit: Calibration | None, covariance: Array, matters: Sequence[Matter], runs: int) -> Iterator[str]:
    """What the ship that moves rests on, a sentence each; with `runs`, which of it told most in them."""
    if fit is None:
        yield "The ship moves by a model estimated from her card: no trial of hers has been compared with it."
    else:
        figures = list(dict.fromkeys(words(one.observation.figure) for one in fit.residuals))
        yield (
            f"The ship moves by a model estimated from her card and fitted to {_listed(figures)}, as card or poster "
            f"has {'it' if len(figures) == 1 else 'them'}; she is drawn as narrowly as that is sure."
        )
        for one in fit.residuals:
            if one.missed_by is None or abs(one.missed_by) > OFTEN_MISSED:
                yield (
                    f"The fitted ship does not show the {words(one.observation.figure)} stated: one of the two is "
                    "wrong, or the figure is of another loading or depth."
                )
    deviations = np.sqrt(np.diag(covariance))
    least = [(Factors._fields[place], deviations[place]) for place in np.argsort(-deviations)[:LEAST_SURE]]
    sure = [f"{words(name)} {100.0 * deviation:.0f} %" for name, deviation in least]
    yield f"Least sure of her are {_listed(sure)}, one standard deviation."
    told = [
        one.name.removeprefix(OF_SHIP)
        for one in matters
        if one.name.startswith(OF_SHIP) and one.weight > BY_CHANCE / np.sqrt(max(runs, 1))
    ]
    if told:
        yield f"Of what is estimated about her, {_listed(told[:TELLING])} told most in these runs."


def words(name: str) -> str:
    """A name as it is spoken."""
    return name.replace("_", " ")


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
