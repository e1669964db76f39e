"""The standard trials of a ship from her card: what the model says she does, marked as estimated, with bands.

Where card and poster state manoeuvres of this condition in deep water, the model is calibrated to them first; the bands
are then those that are left.
"""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np

from leadsman.assessment.conditions import other_condition
from leadsman.assessment.manoeuvre_rows import rows
from leadsman.assessment.manoeuvres_result import Manoeuvre, Manoeuvres, Stated
from leadsman.assessment.moving import reading_of
from leadsman.assessment.own_figures import with_own_figures
from leadsman.errors import CannotCompute
from leadsman.ship import Loading, Ship
from leadsman.simulation import deck
from leadsman.simulation.bands import HIGH, LOW
from leadsman.simulation.calibrate import Calibration, calibrate
from leadsman.simulation.estimate import Estimate, estimate
from leadsman.simulation.factors import Factors, applied, drawn, drawn_together
from leadsman.simulation.from_ship import observations
from leadsman.simulation.parameters import Parameters, packed, shallow_table
from leadsman.simulation.setting import Setting
from leadsman.simulation.state import Surroundings, deep_calm, even_depth
from leadsman.simulation.trials import trials
from leadsman.units import SEA_WATER_DENSITY

LEAST_DEPTH_TO_DRAUGHT = 1.05  # shallower than this the model's shallow-water factors have no source
DRAWS, SEED = 40, 1  # of the uncertain ship: the ends of the bands are then good to about a tenth of their width
AT_ONCE = 2  # draws tried at a time; the kernels let go of the interpreter meanwhile


def manoeuvres(
    ship: Ship,
    loading: Loading,
    depth_to_draught: float | None = None,
    *,
    condition: str | None = None,
    draws: int = DRAWS,
) -> Manoeuvres:
    """Turning, yaw checking, stopping, speeds and low-speed work; deep water unless a depth by draught is given.

    Parameters
    ----------
    ship, loading
    depth_to_draught : float, optional
    condition : str, optional
        "loaded" or "ballast": the one her card does not speak of is estimated. Left out: that of the card.
    draws : int
        Of the uncertain ship, for the bands; nil for figures without bands.

    `CannotCompute` where the card leaves out, or records as defective, what the model cannot do without.
    """
    if depth_to_draught is not None and not depth_to_draught >= LEAST_DEPTH_TO_DRAUGHT:
        raise CannotCompute(
            f"depth by draught {depth_to_draught:g} is too shallow for the model; expected at least "
            f"{LEAST_DEPTH_TO_DRAUGHT:g}"
        )
    ship, loading = with_own_figures(ship, loading)
    other = condition is not None and condition != loading.condition
    if other:
        loading = other_condition(ship, loading)
    density = loading.water_density or SEA_WATER_DENSITY
    around = (
        deep_calm(density) if depth_to_draught is None else even_depth(depth_to_draught * loading.mean_draught, density)
    )
    model, assumed = model_of(ship, loading)
    said = list(assumed)
    thruster = _bow_thrust(ship, loading, model.parameters.hull.length, said)
    try:
        hard_over = model.setting().hard_over
        stated = observations(ship, loading, hard_over)
        fitted = calibrate(model, stated, deep_calm(density)) if stated else None
        variants = _variants(model, fitted, max(draws, 1))
        found = _tried(variants, model, around, thruster)
        bands = [_banded(row, found) if draws > 1 else row for row in found[0].values()]
        if depth_to_draught is not None:
            other_set = _tried([_by_the_other_set(variants[0])], model, around, thruster)[0]
            bands = [_reaching(row, other_set.get((row.trial, row.quantity))) for row in bands]
    except ValueError as error:
        raise _untried(ship, error) from error
    return Manoeuvres(
        ship=ship.name,
        condition=loading.condition,
        condition_estimated=other,
        draught=loading.mean_draught,
        depth_to_draught=depth_to_draught,
        rows=tuple(bands),
        stated=() if fitted is None else tuple(_stated(fitted)),
        draws=draws if draws > 1 else 0,
        assumed=tuple(said),
    )


def _bow_thrust(ship: Ship, loading: Loading, length: float, said: list[str]) -> tuple[float, float] | None:
    """Thrust of all bow thrusters at this draught [N], and where it acts [m]; None without any in the water."""
    units = [unit for name, unit in deck.tunnels(ship, loading, length, said) if name.startswith("bow")]
    thrust = sum(unit.thrust * unit.immersion for unit in units)
    if thrust == 0.0:
        return None
    return thrust, sum(unit.thrust * unit.immersion * unit.position for unit in units) / thrust


def _variants(model: Estimate, fitted: Calibration | None, draws: int) -> list[Parameters]:
    """The ship as estimated or calibrated, and draws about her."""
    generator = np.random.default_rng(SEED)
    if fitted is None:
        factors = drawn(Factors(), model.spread, draws, generator)
    else:
        factors = drawn_together(fitted.factors, fitted.covariance, draws, generator)
    return [applied(model.parameters, one) for one in factors]


Found = dict[tuple[str, str], Manoeuvre]


def _tried(
    variants: Sequence[Parameters], model: Estimate, around: Surroundings, thruster: tuple[float, float] | None
) -> list[Found]:
    """The rows of every variant, by trial and quantity."""

    def one(ship: Parameters) -> Found:
        setting = Setting(fleet=packed(ship), orders=model.orders, around=around)
        return {(row.trial, row.quantity): row for row in rows(trials(setting, thruster))}

    first = one(variants[0])  # compiles what is not yet compiled
    with ThreadPoolExecutor(AT_ONCE) as pool:
        return [first, *pool.map(one, variants[1:])]


def _banded(row: Manoeuvre, found: Sequence[Found]) -> Manoeuvre:
    """The row with the ends between which nine draws in ten lie; without where a tenth or more got no answer."""
    values = [one[key].value for one in found if (key := (row.trial, row.quantity)) in one]
    known = np.array([value for value in values if value is not None])
    if row.value is None or known.size <= 0.9 * len(found):
        return row
    low, high = np.quantile(known, (LOW, HIGH))
    return replace(row, low=min(float(low), row.value), high=max(float(high), row.value))


def _by_the_other_set(ship: Parameters) -> Parameters:
    """The same ship with the other published set of shallow-water factors."""
    return ship._replace(tables=ship.tables._replace(shallow=shallow_table(ship.hull, "hirano")))


def _reaching(row: Manoeuvre, other: Manoeuvre | None) -> Manoeuvre:
    """The row with its band drawn out to what the other set of shallow-water factors gives."""
    if row.value is None or other is None or other.value is None or row.limit is not None:
        return row
    low, high = (row.value if end is None else end for end in (row.low, row.high))
    return replace(row, low=min(low, other.value), high=max(high, other.value))


def _stated(fitted: Calibration) -> list[Stated]:
    return [
        Stated(
            quantity=left.observation.figure.replace("_", " "),
            order=left.observation.order,
            value=left.observation.value,
            estimated=left.estimated,
            calibrated=left.calibrated,
            missed_by=left.missed_by,
        )
        for left in fitted.residuals
    ]


def model_of(ship: Ship, loading: Loading) -> tuple[Estimate, tuple[str, ...]]:
    """The model of a ship so loaded, the handler's own figures first, and what had to be taken for granted.

    `CannotCompute` where the card leaves out, or records as defective, what the model cannot do without.
    """
    ship, loading = with_own_figures(ship, loading)
    try:
        reading = reading_of(ship, loading)
        return estimate(reading.particulars), reading.assumed
    except ValueError as error:
        raise _untried(ship, error) from error


def _untried(ship: Ship, error: ValueError) -> CannotCompute:
    return CannotCompute(f"{ship.name} cannot be tried: {error}")
