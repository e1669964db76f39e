"""One row per published method: the function, its source, its limits. Choice, limit check and docs read this row."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Breach:
    """One limit of a method that the values at hand do not respect."""

    quantity: str
    value: float
    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.quantity.replace('_', ' ')} {self.value:.3g} is outside {self.low:.3g} to {self.high:.3g}"


@dataclass(frozen=True, kw_only=True)
class Method:
    """A published way of computing a quantity.

    `source` is a key of the bibliography (`leadsman/sources/*.toml`). `limits` maps the name of a quantity to the
    smallest and greatest value the publication vouches for; names are those of docs/nomenclature.md.
    """

    function: Callable[..., Any]
    source: str
    limits: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    applies_to: tuple[str, ...] = ()
    note: str = ""

    def outside(self, **values: float) -> tuple[Breach, ...]:
        """The limits broken by these values; a limit whose quantity is not given is not judged."""
        return tuple(
            Breach(quantity=name, value=values[name], low=low, high=high)
            for name, (low, high) in self.limits.items()
            if name in values and not low <= values[name] <= high
        )
