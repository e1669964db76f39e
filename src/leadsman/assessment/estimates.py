"""Every particular that computation needs: given on the card, computed from it, or estimated; banded and sourced.

`particulars` answers with figures by name. A figure is worked out when another asks for it, so the order of the tables
does not matter; what cannot be known is left out, and so is everything that needs it. A figure the user overrules is
taken as given, and all that follows from it changes with it: `changes` tells what.

Bands: each estimate has a standard deviation of its own, and carries the bands of its inputs, one by one, as if they
did not depend on each other. Bounds are not given.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from leadsman.assessment import estimates_floating, estimates_hull, estimates_machinery
from leadsman.assessment.card_result import Change
from leadsman.assessment.estimate import Estimate, Known, Missing, Worked
from leadsman.errors import CannotCompute
from leadsman.figure import Band, Figure, Origin
from leadsman.ship import Loading, OwnFigure, Ship

ESTIMATES: Mapping[str, Estimate] = {
    **estimates_floating.ESTIMATES,
    **estimates_hull.ESTIMATES,
    **estimates_machinery.ESTIMATES,
}
"""Every particular by name."""
SIGNED = {"trim", "sag", "list_angle", "brackish_sinkage", "windage_forward"}
"""Those that may be nought or negative."""


FROM_MARKS = {
    "draught_forward",
    "draught_aft",
    "mean_draught",
    "trim",
    "draught_midships",
    "sag",
    "list_angle",
    "deepest_draught",
    "water_density",
}
"""Read off the ship, or plain sums of what is read: no estimates, so a handler's own figure for them is the card's."""
OWN = "own figure"
"""Begins the source of a figure the handler overruled; her own words on where she has it from follow."""


def particulars(
    ship: Ship,
    loading: Loading,
    overrides: Mapping[str, float] | None = None,
    names: Iterable[str] = ESTIMATES,
) -> Mapping[str, Figure]:
    """The particulars of a ship so loaded, by name, all or those asked for; what the card leaves no way to is absent.

    The loading's own figures are taken before card and estimates. `overrides` are more of them, to try, by the same
    names and in SI; they come first of all. `CannotCompute` for one that is no particular or cannot be.
    """
    tried = overrides or {}
    for name, value in {**{name: own.value for name, own in loading.own_figures.items()}, **tried}.items():
        _refuse_own(name, value)
    own = {**loading.own_figures, **{name: OwnFigure(value=value) for name, value in tried.items()}}
    book = _Book(ship, loading, own)
    found: dict[str, Figure] = {}
    for name in names:
        try:
            found[name] = book.figure(name)
        except Missing:
            continue
    return found


def _refuse_own(name: str, value: float) -> None:
    if name not in ESTIMATES:
        raise CannotCompute(f"'{name}' is no particular; known are {', '.join(sorted(ESTIMATES))}")
    if not math.isfinite(value) or (value <= 0.0 and name not in SIGNED):
        raise CannotCompute(f"{name}: {value:g} {ESTIMATES[name].unit} cannot be; expected a number above zero")


def changes(before: Mapping[str, Figure], after: Mapping[str, Figure]) -> Mapping[str, Change]:
    """The figures that differ in value or are new or gone, as (before, after): what an overrule has changed."""
    names = [*before, *(name for name in after if name not in before)]
    pairs = {name: (before.get(name), after.get(name)) for name in names}
    return {name: pair for name, pair in pairs.items() if _differ(*pair)}


def _differ(before: Figure | None, after: Figure | None) -> bool:
    if before is None or after is None:
        return before is not after
    return not math.isclose(before.value, after.value, rel_tol=1e-9) or before.origin is not after.origin


def meaning(name: str, figures: Mapping[str, Figure]) -> str:
    """What a figure means for handling, in one sentence."""
    return ESTIMATES[name].meaning(figures)


class _Book:
    """Figures worked out once, when they are asked for."""

    def __init__(self, ship: Ship, loading: Loading, own: Mapping[str, OwnFigure]) -> None:
        self.ship, self.loading, self.own = ship, loading, own
        self.overruled = {name: figure.value for name, figure in own.items()}
        self.figures: dict[str, Figure] = {}
        self.missing: set[str] = set()

    def figure(self, name: str) -> Figure:
        """The figure of this name; `Missing` where the card leaves no way to it."""
        if name in self.missing:
            raise Missing(name)
        if name not in self.figures:
            try:
                self.figures[name] = self._worked(name)
            except Missing:
                self.missing.add(name)
                raise
        return self.figures[name]

    def _worked(self, name: str) -> Figure:
        estimate = ESTIMATES[name]
        if name in self.own:
            value, words = self.own[name].value, self.own[name].source
            source = f"{OWN}: {words}" if words else OWN
            return Figure(name=name, value=value, unit=estimate.unit, origin=Origin.GIVEN, source=source)
        asked: dict[str, float] = {}

        def ask(other: str) -> float:
            asked[other] = self.figure(other).value
            return asked[other]

        worked = estimate.function(Known(self.ship, self.loading, ask, self.overruled))
        deviation = self._deviation(estimate.function, worked, asked)
        return Figure(
            name=name,
            value=worked.value,
            unit=estimate.unit,
            origin=worked.origin,
            method=worked.method,
            source=worked.source,
            inputs=dict(asked),
            band=None if deviation is None else Band(deviation=deviation),
        )

    def _deviation(
        self, function: Callable[[Known], Worked], worked: Worked, asked: Mapping[str, float]
    ) -> float | None:
        """Its own deviation and those of its inputs, in quadrature; None for an exact figure."""
        parts = [] if worked.deviation is None else [worked.deviation]
        for name, value in asked.items():
            band = self.figure(name).band
            if band is None or not band.deviation:
                continue
            moved = _Moved(self, {**asked, name: value + band.deviation})
            try:
                again = function(Known(self.ship, self.loading, moved, self.overruled))
                parts.append(again.value - worked.value)
            except (Missing, ValueError):  # the moved input leaves a table; its own band must do
                continue
        return math.hypot(*parts) if parts else None


@dataclass(frozen=True)
class _Moved:
    """Values as asked for before, one of them moved by its deviation."""

    book: _Book
    values: Mapping[str, float]

    def __call__(self, name: str) -> float:
        return self.values[name] if name in self.values else self.book.figure(name).value
