"""What is asked for under the keel by the design guidelines; a port's own rule goes before."""

from typing import Literal, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.published import published
from leadsman.units import KNOT

TABLE = published("underkeel")
_SHARE = float(TABLE["manoeuvrability"]["share_of_draught"])
_LEAST = float(TABLE["manoeuvrability"]["least_m"])


class DepthRatio(NamedTuple):
    """Water depth / draught of a concept design, from and to."""

    low: float
    high: float


@formula
def manoeuvrability_margin(draught: Real) -> Real:
    """What must be left under the keel for her to answer the rudder, waves excluded: 5 % of draught, at least 0.6 m.

    Source: [PIANC121], memory.
    """
    return np.maximum(_SHARE * draught, _LEAST)


@formula
def required_by_share(draught: Real, share: Real, least: Real) -> Real:
    """A port's rule: a share of the draught, but not less than a fixed figure. [m]

    Source: common practice, no source.
    """
    return np.maximum(share * draught, least)


def bottom_margin(channel: Literal["inner", "outer"], bottom: Literal["mud", "sand_clay", "rock_coral"]) -> float:
    """Further clearance for the nature of the bottom. [m]

    Source: [PIANC121], table 2.2, memory.
    """
    return float(TABLE["bottom_m"][channel][bottom])


def concept_depth_inner(speed: float) -> DepthRatio:
    """Concept depth of a sheltered channel by speed [m/s], printed in knots. Source: [PIANC121], table 2.2, memory."""
    speed_kn = round(speed / KNOT, 6)  # a whole knot stays one
    ratio = next(ratio for upto, ratio in TABLE["concept_depth_inner"]["ratio"] if speed_kn <= upto)
    return DepthRatio(low=ratio, high=ratio)


def concept_depth_outer(significant_height: float) -> DepthRatio:
    """Concept depth of a channel in swell of a significant height [m]. Source: [PIANC121], table 2.2, memory."""
    row = "below_1_m" if significant_height < 1.0 else "from_1_to_2_m" if significant_height <= 2.0 else "above_2_m"
    return DepthRatio(*TABLE["concept_depth_outer"][row])
