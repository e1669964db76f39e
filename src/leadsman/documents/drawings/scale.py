"""Scales of a drawing: values to millimetres of paper, and round steps for their ticks."""

import math
from collections.abc import Iterator, Sequence


class Scale:
    """Values to millimetres: straight between knots (value, millimetre), and on beyond the outer ones."""

    def __init__(self, *knots: tuple[float, float]) -> None:
        self.knots = knots

    def __call__(self, value: float) -> float:
        """Where the value lies. [mm]"""
        index = next((i for i in range(1, len(self.knots) - 1) if value < self.knots[i][0]), len(self.knots) - 1)
        (low, at_low), (high, at_high) = self.knots[index - 1], self.knots[index]
        return at_low + (value - low) * (at_high - at_low) / (high - low)

    @property
    def low(self) -> float:
        """Least value drawn."""
        return self.knots[0][0]

    @property
    def high(self) -> float:
        """Greatest value drawn."""
        return self.knots[-1][0]

    def line(self, xs: Sequence[float], values: Sequence[float]) -> list[tuple[float, float]]:
        """A line of points at given millimetres across."""
        return [(x, self(value)) for x, value in zip(xs, values, strict=True)]


def round_step(least: float) -> float:
    """The next of 1, 2, 5 times a power of ten."""
    power = math.pow(10.0, math.floor(math.log10(max(least, 1e-6))))
    return min(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= least * (1.0 - 1e-12))


def ticks(low: float, high: float, step: float) -> Iterator[tuple[float, str]]:
    """Round values from low to high, with how they are written."""
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    for count in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1):
        yield count * step, f"{count * step:.{decimals}f}".replace("-", "−")
