"""The standards for ship manoeuvrability, resolution MSC.137(76), section 5, as limits on measured trials."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, kw_only=True)
class Criterion:
    """One limit of the standards: value and limit in the unit named, and whether the limit is kept. None: not
    measured."""

    name: str
    value: float | None
    limit: float
    unit: str

    @property
    def kept(self) -> bool | None:
        """Whether the value respects the limit; None where there is no value."""
        return None if self.value is None else bool(self.value <= self.limit)


def first_overshoot_limit(time_per_length: float) -> float:
    """Greatest first overshoot in the 10/10 zig-zag, by length over speed [s]. [rad]

    Source: [MSC137-76-Trials], 5.3.3.
    """
    return float(np.radians(min(max(5.0 + 0.5 * time_per_length, 10.0), 20.0)))


def second_overshoot_limit(time_per_length: float) -> float:
    """Greatest second overshoot in the 10/10 zig-zag, by length over speed [s]. [rad]

    Source: [MSC137-76-Trials], 5.3.3.
    """
    return float(np.radians(min(max(17.5 + 0.75 * time_per_length, 25.0), 40.0)))


FIRST_OVERSHOOT_20 = float(np.radians(25.0))  # rad, MSC.137(76) 5.3.3
ADVANCE = 4.5  # lengths, MSC.137(76) 5.3.1
TACTICAL_DIAMETER = 5.0  # lengths, MSC.137(76) 5.3.1
INITIAL_TURNING = 2.5  # lengths for 10 degrees of heading with 10 of rudder, MSC.137(76) 5.3.2
TRACK_REACH = 15.0  # lengths; an administration may go to 20 for large ships, MSC.137(76) 5.3.4
