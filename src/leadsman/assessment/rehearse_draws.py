"""What is uncertain about a passage, and draws of it: wind, stream, level, draught, ship, people."""

from dataclasses import dataclass, fields

import numpy as np

from leadsman.assessment.rehearse_prepare import Ready
from leadsman.assessment.rehearse_ship import OF_SHIP
from leadsman.conning.run import undisturbed
from leadsman.conning.waters import GUST_PERIODS
from leadsman.geometry import Array
from leadsman.simulation.factors import Factors, applied, drawn, drawn_together
from leadsman.simulation.parameters import Fleet, Records, packed


@dataclass(frozen=True, kw_only=True)
class Spread:
    """One standard deviation of everything that is drawn; settings of ours where no source is named."""

    wind: float = 0.15
    """Of the mean wind, as a share of it."""
    wind_turn: float = float(np.radians(10.0))
    """Of its direction. [rad]"""
    stream: float = 0.20
    """Of the rate, as a share of it."""
    stream_turn: float = float(np.radians(5.0))
    draught: float = 0.05
    """[m] (water sheet 7: 0.03 to 0.05 m calm)."""
    across: float = 10.0
    """Of the place she starts at, off the track. [m]"""
    heading: float = float(np.radians(2.0))
    helmsman: float = 1.0
    """More delay than usual; never less. [s]"""
    tugs: float = 10.0
    """The same for each tug. [s]"""
    ship: float = 1.0
    """Times the spread of the model's factors: prior, or what a fit to card and poster leaves."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Drawn:
    """The draws of an ensemble: the first is the undisturbed run. `inputs` [runs, names] for the sensitivities."""

    draws: Records
    fleet: Fleet
    names: tuple[str, ...]
    inputs: Array


def draw(ready: Ready, runs: int, seed: int, spread: Spread) -> Drawn:
    """The draws of `runs` runs; equal seeds give equal draws, whatever the number of runs."""
    outside, gusts, aboard = (np.random.default_rng(child) for child in np.random.SeedSequence(seed).spawn(3))
    normal = outside.standard_normal((runs, 10))
    phases = gusts.uniform(0.0, 2.0 * np.pi, (runs, GUST_PERIODS.size))
    found = undisturbed(runs)
    end = ready.prepared.passage.track.length
    level = float(np.max(ready.prepared.water.level.deviation(np.linspace(0.0, end, 50))))
    found["wind"] = np.maximum(1.0 + spread.wind * normal[:, 0], 0.1)
    found["wind_turn"] = spread.wind_turn * normal[:, 1]
    found["stream"] = np.maximum(1.0 + spread.stream * normal[:, 2], 0.0)
    found["stream_turn"] = spread.stream_turn * normal[:, 3]
    found["level"] = level * normal[:, 4]
    found["draught"] = spread.draught * normal[:, 5]
    at_sea = not ready.case.voyage.harbour_first
    found["across"] = spread.across * normal[:, 6] * at_sea
    found["heading"] = spread.heading * normal[:, 7] * at_sea
    found["helmsman"] = spread.helmsman * np.abs(normal[:, 8])
    found["tugs"] = spread.tugs * np.abs(normal[:, 9])
    found["gusts"] = 1.0
    found["phases"] = phases
    found[0] = undisturbed()[0]
    factors = ship_factors(ready, runs, aboard, spread)
    fleet = packed([applied(ready.parameters, one) for one in factors])
    fleet.ships["tugs"]["reaction"] += found["tugs"][:, np.newaxis]
    own = ("wind", "wind_turn", "stream", "stream_turn", "level", "draught", "across", "heading", "helmsman", "tugs")
    inputs = np.column_stack([*(found[name] for name in own), np.array(factors)])
    names = (*own, *(f"{OF_SHIP}{name}" for name in Factors._fields))
    return Drawn(draws=found, fleet=fleet, names=tuple(name.replace("_", " ") for name in names), inputs=inputs)


def ship_factors(ready: Ready, runs: int, generator: np.random.Generator, spread: Spread) -> list[Factors]:
    """Draws of the ship's uncertain factors about the ship as estimated; about the fitted one together, as the figures
    she was fitted to tie them."""
    if ready.fit is not None:
        return drawn_together(Factors(), spread.ship**2 * ready.covariance, runs, generator)
    deviations = spread.ship * np.sqrt(np.diag(ready.covariance))
    return drawn(Factors(), Factors(*deviations.tolist()), runs, generator)


def spread_words(spread: Spread) -> dict[str, float]:
    """Every spread by name, SI."""
    return {field.name: float(getattr(spread, field.name)) for field in fields(spread)}
