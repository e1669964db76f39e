"""All methods side by side at many stations: which may be compared, which stand outside their limits, which governs."""

from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import Real, where
from leadsman.physics.channel import KINDS, Kind, Section, froude_depth
from leadsman.physics.method import Breach
from leadsman.physics.squat import methods
from leadsman.physics.squat.methods import METHODS, Hull
from leadsman.physics.squat.open_water import Ends

Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]

NAMES = tuple(METHODS)


class Largest(NamedTuple):
    """The greatest value among methods, and which row of `NAMES` it comes from."""

    value: Floats
    method: NDArray[np.intp]


@dataclass(frozen=True, kw_only=True, eq=False)
class Comparison:
    """Squat by all methods of `NAMES`; arrays of shape (methods, *stations). [m]

    Where a method does not serve the kind of channel its squat is not a number.
    `comparable`: the method serves this kind of channel and is not on the deep side of its depth limit. `outside`: any
    of its limits is broken, on either side; a comparable method may be outside and is then shown with its mark.
    """

    bow: Floats
    stern: Floats
    comparable: Flags
    outside: Flags

    @property
    def greatest(self) -> Floats:
        """Squat of the deeper end. [m]"""
        return np.maximum(self.bow, self.stern)

    def governing(self) -> Largest:
        """The greatest squat of either end among the comparable methods at each station."""
        return largest(self.greatest, self.comparable)

    def governing_bow(self) -> Largest:
        """The greatest squat of the bow among the comparable methods at each station."""
        return largest(self.bow, self.comparable)

    def governing_stern(self) -> Largest:
        """The greatest squat of the stern among the comparable methods at each station."""
        return largest(self.stern, self.comparable)


def compare(speed: Real, hull: Hull, section: Section) -> Comparison:
    """Squat by all methods; speed [m/s] through the water, ahead or astern, broadcast against the stations."""
    ahead = np.abs(speed)
    shape = np.broadcast_shapes(
        *(np.shape(one) for one in (speed, section.kind, section.area, section.trench_share, *hull))
    )
    bow, stern = np.empty((2, len(NAMES), *shape))
    comparable, outside = np.empty((2, len(NAMES), *shape), dtype=np.bool_)
    values = quantities(ahead, hull, section)
    for row, name in enumerate(NAMES):
        bow[row], stern[row] = evaluate(name, ahead, hull, section)
        comparable[row] = applicable(name, section.kind, values["depth_to_draught"])
        outside[row] = is_outside(name, values)
    return Comparison(bow=bow, stern=stern, comparable=comparable, outside=outside)


def evaluate(name: str, speed: Real, hull: Hull, section: Section) -> Ends:
    """Bow and stern squat by one method, not a number where it does not serve the kind of channel. [m]"""
    found = METHODS[name].function(np.abs(speed), hull, section)
    served = serves(name, section.kind)
    return Ends(bow=where(served, found.bow, np.nan), stern=where(served, found.stern, np.nan))


def serves(name: str, kind: Real) -> Flags:
    """Whether the method is meant for this kind of channel."""
    served: Flags = np.array(False)
    for word in METHODS[name].applies_to:
        served = served | np.equal(kind, KINDS[word])
    return served


def quantities(speed: Real, hull: Hull, section: Section) -> dict[str, Real]:
    """The quantities that limits speak of; the share of the trench is not a number outside trenches."""
    return {
        "depth_to_draught": section.water_depth / hull.draught,
        "froude_depth": froude_depth(speed, section.depth),
        "blockage": methods.acting_blockage(hull, section),
        "block_coefficient": hull.block_coefficient,
        "length_to_beam": hull.length_between_perpendiculars / hull.beam,
        "beam_to_draught": hull.beam / hull.draught,
        "length_to_draught": hull.length_between_perpendiculars / hull.draught,
        "trench_share": where(np.equal(section.kind, Kind.TRENCH), section.trench_share, np.nan),
        "channel_blockage": methods.channel_blockage(hull, section),
        "critical_speed_ratio": speed / methods.critical_speed(hull, section),
    }


def applicable(name: str, kind: Real, depth_to_draught: Real) -> Flags:
    """Whether the method is compared: it serves the kind of channel, and the depth is not beyond its deep limit.

    On the shallow side a method stays, because dropping it there would make the answer less careful exactly where care
    is needed.
    """
    deepest = METHODS[name].limits.get("depth_to_draught", (0.0, np.inf))[1]
    flags: Flags = serves(name, kind) & np.less_equal(depth_to_draught, deepest)
    return flags


def is_outside(name: str, values: dict[str, Real]) -> Flags:
    """Whether any limit of the method is broken; a value that is not a number breaks none."""
    broken: Flags = np.array(False)
    for quantity, (low, high) in METHODS[name].limits.items():
        broken = broken | np.less(values[quantity], low) | np.greater(values[quantity], high)
    return broken


def breaches(name: str, values: dict[str, Real]) -> tuple[Breach, ...]:
    """The limits the method breaks at one station, for words on the plan; `values` as of `quantities`, numbers only."""
    return tuple(
        Breach(quantity=quantity, value=float(values[quantity]), low=low, high=high)
        for quantity, (low, high) in METHODS[name].limits.items()
        if values[quantity] < low or values[quantity] > high
    )


def largest(values: Floats, comparable: Flags) -> Largest:
    """The greatest comparable value at each station and the method it comes from.

    At least one method without a depth limit serves each kind of channel, so that there always is one.
    """
    considered = np.where(comparable, values, -np.inf)
    method = np.asarray(np.argmax(considered, axis=0))
    return Largest(value=np.take_along_axis(considered, method[np.newaxis], axis=0)[0], method=method)
