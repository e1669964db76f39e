"""One row per squat method: called alike, `METHODS[name].function(speed, hull, section)` gives bow and stern."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real
from leadsman.physics import channel
from leadsman.physics.channel import MIDSHIP_COEFFICIENT, Section
from leadsman.physics.method import Method
from leadsman.physics.squat import both_ends, channels, open_water
from leadsman.physics.squat.open_water import Ends


class Hull(NamedTuple):
    """What squat needs of the ship as she floats; numbers, or arrays that broadcast with the stations.

    `draught` is the one belonging to the block coefficient, `trim` draught aft less forward. What is not known of
    propellers, bulb and transom is for the caller to assume aloud.
    """

    length_between_perpendiculars: Real
    beam: Real
    draught: Real
    trim: Real
    block_coefficient: Real
    propellers: Real
    bulbous_bow: Real
    transom_stern: Real


def midship_area(hull: Hull) -> Real:
    """Area of the midship section, 0.98 beam x draught for every method. [m²]

    Barrass takes beam x draught itself. Source: [PIANC121], memory.
    """
    return MIDSHIP_COEFFICIENT * hull.beam * hull.draught


def blockage(hull: Hull, section: Section) -> Real:
    """Midship section / cross-section of the channel, 0 in unrestricted water. [-]"""
    return midship_area(hull) / section.area


def influence_area(hull: Hull, section: Section) -> Real:
    """Cross-section of open water that acts on the ship. [m²]"""
    return channel.width_of_influence(hull.beam, hull.block_coefficient) * section.depth


def acting_blockage(hull: Hull, section: Section) -> Real:
    """Blockage as Barrass understands it: no wider than the width of influence, in open water and in channels. [-]"""
    return midship_area(hull) / np.minimum(section.area, influence_area(hull, section))


def critical_speed(hull: Hull, section: Section) -> Real:
    """Critical speed of `roemisch` at each station. [m/s]"""
    return both_ends.roemisch_critical_speed(
        section.depth,
        section.mean_depth,
        section.trench_share,
        blockage(hull, section),
        hull.draught,
        hull.length_between_perpendiculars,
        hull.beam,
    )


def huuska_bounds(speed: Real, hull: Hull, section: Section) -> tuple[Real, Real]:
    """Huuska's squat with K_s = 1, as if unrestricted, and with K₁ = 1, as if the trench reached the surface. [m]

    The two agree in open water; in a canal the upper one is the formula itself.
    """
    lower = channels.huuska(speed, section.depth, *_hull_form(hull), 1.0)
    return lower, lower * channels.huuska_channel_factor(blockage(hull, section))


def _hull_form(hull: Hull) -> tuple[Real, Real, Real, Real]:
    """The four hull figures in the order the formulas take them."""
    return hull.length_between_perpendiculars, hull.beam, hull.draught, hull.block_coefficient


def _ends(squat: Real, hull: Hull) -> Ends:
    return both_ends.ends(squat, hull.block_coefficient, hull.trim)


def _barrass_1979(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(channels.barrass_1979(speed, hull.block_coefficient, acting_blockage(hull, section)), hull)


def _barrass_short(speed: Real, hull: Hull, section: Section) -> Ends:
    confined = section.area < influence_area(hull, section)
    return _ends(channels.barrass_short(speed, hull.block_coefficient, confined), hull)


def _barrass_2002(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(channels.barrass_2002(speed, hull.block_coefficient, acting_blockage(hull, section)), hull)


def _barrass_2004(speed: Real, hull: Hull, section: Section) -> Ends:
    factor = channels.barrass_channel_factor(blockage(hull, section))
    return _ends(channels.barrass_2004(speed, hull.block_coefficient, factor), hull)


def _tuck(speed: Real, hull: Hull, section: Section) -> Ends:
    return open_water.tuck(speed, section.depth, *_hull_form(hull))


def _hooft(speed: Real, hull: Hull, section: Section) -> Ends:
    return open_water.hooft(speed, section.depth, *_hull_form(hull))


def _icorels(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(open_water.icorels(speed, section.depth, *_hull_form(hull)), hull)


def _huuska(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(huuska_bounds(speed, hull, section)[1], hull)


def _eryuzlu_hausser(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(open_water.eryuzlu_hausser(speed, section.depth, hull.beam, hull.draught), hull)


def _eryuzlu(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(channels.eryuzlu(speed, section.depth, hull.beam, hull.draught, section.width), hull)


def _millward_1990(speed: Real, hull: Hull, section: Section) -> Ends:
    length, beam, _, block_coefficient = _hull_form(hull)
    return _ends(open_water.millward_1990(speed, section.depth, length, beam, block_coefficient), hull)


def _millward_1992(speed: Real, hull: Hull, section: Section) -> Ends:
    length, _, draught, block_coefficient = _hull_form(hull)
    midship = open_water.millward_1992(speed, section.depth, length, draught, block_coefficient)
    return Ends(bow=midship, stern=midship)


def _norrbin(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(open_water.norrbin(speed, section.depth, *_hull_form(hull)), hull)


def _norrbin_channel(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(channels.norrbin_channel(speed, blockage(hull, section), section.mean_depth), hull)


def _yoshimura(speed: Real, hull: Hull, section: Section) -> Ends:
    return _ends(open_water.yoshimura(speed, section.depth, *_hull_form(hull), blockage(hull, section)), hull)


def _roemisch(speed: Real, hull: Hull, section: Section) -> Ends:
    return both_ends.roemisch(speed, section.depth, *_hull_form(hull), critical_speed(hull, section))


def _ankudinov(speed: Real, hull: Hull, section: Section) -> Ends:
    return both_ends.ankudinov(
        speed,
        section.depth,
        hull.length_between_perpendiculars,
        hull.beam,
        hull.draught,
        hull.trim,
        hull.block_coefficient,
        channel_blockage(hull, section),
        hull.propellers,
        hull.bulbous_bow,
        hull.transom_stern,
    )


def channel_blockage(hull: Hull, section: Section) -> Real:
    """Ankudinov's S_h: block coefficient x blockage x trench height / depth. [-]"""
    return hull.block_coefficient * blockage(hull, section) * section.trench_share


_OPEN = ("unrestricted",)
_OPEN_AND_TRENCH = ("unrestricted", "trench")
_ALL = ("unrestricted", "trench", "canal")

METHODS = {
    "barrass_1979": Method(
        function=_barrass_1979,
        source="Barrass1979",
        limits={"froude_depth": (0.0, 0.7), "blockage": (0.1, 0.3)},
        applies_to=_ALL,
        note="open water as a channel of the width of influence",
    ),
    "barrass_short": Method(
        function=_barrass_short,
        source="Barrass2004",
        limits={"depth_to_draught": (1.1, 1.4), "block_coefficient": (0.5, 0.9), "blockage": (0.0, 0.27)},
        applies_to=_ALL,
        note="twice as much wherever the channel is narrower than the width of influence",
    ),
    "barrass_2002": Method(
        function=_barrass_2002,
        source="Barrass2004",
        limits={"depth_to_draught": (1.1, 1.4)},
        applies_to=_ALL,
        note="open water as a channel of the width of influence",
    ),
    "barrass_2004": Method(
        function=_barrass_2004,
        source="Barrass2004",
        limits={"depth_to_draught": (1.1, 1.4), "block_coefficient": (0.5, 0.85), "blockage": (0.0, 0.25)},
        applies_to=_ALL,
        note="channel factor 1 in open water, at most 2",
    ),
    "tuck": Method(
        function=_tuck,
        source="Tuck1966",
        limits={"froude_depth": (0.0, 0.7)},
        applies_to=_OPEN,
        note="sinkage coefficient 1.53, the greatest quoted; trims by the bow whatever the form",
    ),
    "hooft": Method(
        function=_hooft,
        source="Hooft1974",
        limits={"froude_depth": (0.0, 0.7)},
        applies_to=_OPEN,
        note="no limit printed; that of the slender-body theory it rests on; trims by the bow whatever the form",
    ),
    "icorels": Method(
        function=_icorels,
        source="ICORELS1980",
        limits={"froude_depth": (0.0, 0.7)},
        applies_to=_OPEN,
        note="coefficient 2.4, the greatest in use",
    ),
    "huuska": Method(
        function=_huuska,
        source="Huuska1976",
        limits={
            "block_coefficient": (0.60, 0.80),
            "beam_to_draught": (2.19, 3.5),
            "length_to_beam": (5.5, 8.5),
            "trench_share": (0.1, 0.81),
            "froude_depth": (0.0, 0.7),
        },
        applies_to=_ALL,
        note="upper bound in a trench: as if its walls reached the surface (K₁ = 1), the chart of K₁ not being at hand",
    ),
    "eryuzlu_hausser": Method(
        function=_eryuzlu_hausser,
        source="EryuzluHausser1978",
        limits={"block_coefficient": (0.8, 1.0), "depth_to_draught": (1.08, 2.75)},
        applies_to=_OPEN,
        note="very large tankers",
    ),
    "eryuzlu": Method(
        function=_eryuzlu,
        source="Eryuzlu1994",
        limits={
            "block_coefficient": (0.8, 1.0),
            "depth_to_draught": (1.1, 2.5),
            "beam_to_draught": (2.4, 2.9),
            "length_to_beam": (6.7, 6.8),
        },
        applies_to=_OPEN_AND_TRENCH,
        note="bulk carriers",
    ),
    "millward_1990": Method(
        function=_millward_1990,
        source="Millward1990",
        limits={"froude_depth": (0.0, 0.6)},
        applies_to=_OPEN,
        note="from models; usually the greatest",
    ),
    "millward_1992": Method(
        function=_millward_1992,
        source="Millward1992",
        limits={"depth_to_draught": (1.25, 6.0)},
        applies_to=_OPEN,
        note="midship sinkage, given for both ends; its trim is not in it",
    ),
    "norrbin": Method(function=_norrbin, source="Norrbin1986", limits={"froude_depth": (0.0, 0.4)}, applies_to=_OPEN),
    "norrbin_channel": Method(
        function=_norrbin_channel,
        source="Norrbin1986",
        applies_to=("canal",),
        note="linearised one-dimensional flow, low speed",
    ),
    "yoshimura": Method(
        function=_yoshimura,
        source="Yoshimura1986",
        limits={
            "block_coefficient": (0.55, 0.80),
            "depth_to_draught": (1.2, np.inf),
            "beam_to_draught": (2.5, 5.5),
            "length_to_beam": (3.7, 6.0),
            "length_to_draught": (16.0, 30.0),
        },
        applies_to=_ALL,
    ),
    "roemisch": Method(
        function=_roemisch,
        source="Roemisch1989",
        limits={
            "depth_to_draught": (1.19, 2.25),
            "block_coefficient": (0.6, 0.8),
            "critical_speed_ratio": (0.0, 1.0),
        },
        applies_to=_ALL,
        note="models of beam/draught 2.6, length/beam 8.7",
    ),
    "ankudinov": Method(
        function=_ankudinov,
        source="CHETNIX19",
        limits={
            "froude_depth": (0.0, 0.6),
            "depth_to_draught": (1.1, np.inf),
            "block_coefficient": (0.5, 0.9),
            "channel_blockage": (0.0, 0.2),
        },
        applies_to=_ALL,
        note="with propellers, bulb, transom and static trim",
    ),
}
