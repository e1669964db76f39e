"""How near the planned speeds come to what shallow and narrow water lets any ship make; a caution where too near.

In a canal the water a ship displaces must pass back beside her: Schijf's limiting speed, of which merchant ships do not
get past nine tenths, and of which practice keeps below four fifths. In wide shallow water the speed of a long wave
stands for it: six tenths for full ships, seven for fine ones.
"""

import numpy as np

from leadsman import format as text
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.physics import channel
from leadsman.physics.squat.methods import blockage
from leadsman.units import GRAVITY
from leadsman.waterway import ChannelKind

IN_CANAL = 0.8  # of Schijf's: "practice keeps below 0.8 to 0.9", water.md 2.6 [memory: PIANC], the careful end
NOBODY_PASSES = 0.9  # of Schijf's: "merchant ships cannot pass about 0.9", water.md 2.6 [memory]
FULL_SHIP, FINE_SHIP = 0.6, 0.7  # of the square root of g h: tankers and bulk; container. Water.md 2.6 [memory: PIANC]
FULL_FORM = 0.70  # block coefficient from which a ship counts as full, as squat by the bow does: water.md 2.5 [memory]


def limiting_findings(prepared: Prepared, found: Account) -> list[Finding]:
    """One caution for each reach that is planned too fast for its water."""
    depth = found.depth + found.water_level
    section = prepared.underkeel.section(depth)
    limiting = np.asarray(channel.limiting_speed(blockage(prepared.floating.hull, section), section.mean_depth))
    wave = np.sqrt(GRAVITY * np.maximum(depth, channel.LEAST_DEPTH))
    made = []
    for index, reach in enumerate(prepared.passage.reaches):
        inside = prepared.passage.reach == index
        if reach.channel is ChannelKind.CANAL:
            made += _in_canal(reach.name, found.speed[inside], limiting[inside])
        else:
            made += _in_wide_water(prepared, reach.name, found.speed[inside], wave[inside])
    return made


def _in_canal(reach: str, speed: Array, limiting: Array) -> list[Finding]:
    worst = int(np.argmax(speed / limiting))
    share = float(speed[worst] / limiting[worst])
    if share <= IN_CANAL:
        return []
    hers, most = text.knots(float(speed[worst])), text.knots_below(float(limiting[worst]))
    if share > NOBODY_PASSES:
        what = f"no merchant ship gets past {text.percent(NOBODY_PASSES)} of it: she will not make it, and comes later"
    else:
        kept = text.knots_below(IN_CANAL * float(limiting[worst]))
        what = f"practice keeps below {text.percent(IN_CANAL)} of it, {kept}"
    words = f"{hers} is {text.percent(share)} of the {most} that this canal lets any ship make (Schijf); {what}"
    return [_caution(reach, words, share, IN_CANAL, "Schijf1949")]


def _in_wide_water(prepared: Prepared, reach: str, speed: Array, wave: Array) -> list[Finding]:
    full = prepared.floating.hull.block_coefficient >= FULL_FORM
    most = FULL_SHIP if full else FINE_SHIP
    worst = int(np.argmax(speed / wave))
    share = float(speed[worst] / wave[worst])
    if share <= most:
        return []
    hers, kept = text.knots(float(speed[worst])), text.knots_below(most * float(wave[worst]))
    form = "full" if full else "fine"
    words = (
        f"{hers} is {text.percent(share)} of the speed of a long wave in this depth; practice keeps a {form} ship "
        f"below {text.percent(most)}, {kept}"
    )
    return [_caution(reach, words, share, most, "PIANC121")]


def _caution(reach: str, what: str, share: float, limit: float, source: str) -> Finding:
    return Finding(
        grade=Grade.CAUTION,
        subject="speed",
        sentence=f"{reach}: {what}.",
        value=share,
        limit=limit,
        place=reach,
        source=source,
    )
