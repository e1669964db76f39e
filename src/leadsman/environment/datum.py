"""Heights above named datums, brought from one to another only through offsets that somebody has given."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType

from leadsman.errors import CannotCompute, refuse
from leadsman.waterway import Waterway

CHART_DATUM = "CD"
_ORDERS = (  # low to high wherever two of them are known; definitions of [S4], memory
    ("LAT", "MLWS", "MLWN", "MSL", "MHWN", "MHWS", "HAT"),
    ("LAT", "MLLW", "MLW", "MTL", "MHW", "MHHW", "HAT"),
)
_CLOSE = 0.005  # m: two ways from one datum to another that agree within this are one


@dataclass(frozen=True)
class Offset:
    """One given offset: `datum` lies `height` metres above `above`."""

    datum: str
    above: str
    height: float


@dataclass(frozen=True)
class Datums:
    """A frozen table of datums, and how high each stands above others, as given."""

    offsets: tuple[Offset, ...]
    _heights: Mapping[str, tuple[str, float]] = field(init=False, repr=False, compare=False)
    """Datum: the first datum of its connected group, and its height above that."""

    def __post_init__(self) -> None:
        heights: dict[str, tuple[str, float]] = {}
        for name in dict.fromkeys([CHART_DATUM, *(n for offset in self.offsets for n in (offset.above, offset.datum))]):
            if name not in heights:
                heights |= self._connected(name)
        object.__setattr__(self, "_heights", MappingProxyType(heights))
        refuse(self._problems())

    def _connected(self, root: str) -> dict[str, tuple[str, float]]:
        """Every datum that offsets connect with `root`, with its height above it."""
        found = {root: (root, 0.0)}
        waiting = [root]
        while waiting:
            here = waiting.pop()
            for offset in self.offsets:
                for one, other, step in (
                    (offset.above, offset.datum, offset.height),
                    (offset.datum, offset.above, -offset.height),
                ):
                    if one == here and other not in found:
                        found[other] = root, found[here][1] + step
                        waiting.append(other)
        return found

    def _problems(self) -> Iterator[tuple[str, str]]:
        for offset in self.offsets:
            if not math.isfinite(offset.height):
                yield offset.datum, f"its height above {offset.above} is missing or no number; expected metres"
                continue
            found = self.height(0.0, offset.datum, offset.above)
            if abs(found - offset.height) > _CLOSE:
                yield (
                    offset.datum,
                    f"stands {offset.height:.3f} m above {offset.above} by one offset and {found:.3f} m by others; "
                    "expected one height",
                )
        for order in _ORDERS:
            for low, high in pairwise(name for name in order if self.connected(name, CHART_DATUM)):
                if self.height(0.0, low, CHART_DATUM) > self.height(0.0, high, CHART_DATUM) + _CLOSE:
                    yield low, f"stands above {high} here; by its definition it cannot (sign or column mistaken?)"

    @property
    def names(self) -> tuple[str, ...]:
        """Every datum named, chart datum first."""
        return tuple(self._heights)

    def connected(self, one: str, other: str) -> bool:
        """Whether a height above the one can be told above the other."""
        return one in self._heights and other in self._heights and self._heights[one][0] == self._heights[other][0]

    def height(self, height: float, above: str, wanted: str) -> float:
        """A height above the datum `above`, told above the datum `wanted`. [m]

        `CannotCompute` for an unknown datum, or for two that no given offset connects.
        """
        for name in (above, wanted):
            if name not in self._heights:
                raise CannotCompute(f"datum '{name}' is not known here; known are {', '.join(self.names)}")
        if not self.connected(above, wanted):
            raise CannotCompute(
                f"no offset connects datum '{above}' with '{wanted}' here; give one, two datums are never taken as one"
            )
        return height + self._heights[above][1] - self._heights[wanted][1]


def datums(waterway: Waterway) -> Datums:
    """The datums of a waterway; `Impossible` where their heights contradict their definitions."""
    return Datums(tuple(Offset(name, CHART_DATUM, height) for name, height in waterway.datums.items()))
