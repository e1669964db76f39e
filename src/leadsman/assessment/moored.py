"""What she does to ships alongside: the pull along their quay as she passes, and the speed that spares them."""

import math
from dataclasses import dataclass

import numpy as np

from leadsman import format as text
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.figure import Finding, Grade
from leadsman.physics import passing
from leadsman.rule import MooredShip
from leadsman.units import GRAVITY, KNOT, SEA_WATER_DENSITY

MIDSHIP = 0.98  # midship section over beam times draught, usual merchant ships (sheet on water 2.1) [memory]
LOOKED_AT = 61  # places of her, from one and a half lengths before to as much past
FARTHEST = 1000.0  # m: a ship farther from the track is none she passes
LEAST_ADVICE = 2.0 * KNOT  # slower few ships steer. Common practice, no source


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """The greatest loads on one moored ship."""

    ship: MooredShip
    distance: float
    """Along the track, where she passes. [m]"""
    separation: float
    """Between the centrelines. [m]"""
    speed: float
    """Of hers through the water. [m/s]"""
    along: float
    """With the planning factor for shallow water. [N]"""
    across: float
    outside: tuple[str, ...]
    """Limits of the method that are not kept."""


def drawn(prepared: Prepared, found: Account) -> tuple[Drawn, ...]:
    """One for each ship of the call that she passes within a kilometre."""
    made = [_drawn(prepared, found, ship) for ship in prepared.call.moored]
    return tuple(one for one in made if one is not None)


def _drawn(prepared: Prepared, found: Account, moored: MooredShip) -> Drawn | None:
    call, hull = prepared.call, prepared.floating.hull
    x, y = call.waterway.plane.to_plane(moored.position.latitude, moored.position.longitude)
    at, off = prepared.passage.track.nearest(float(x), float(y))
    if abs(off) > FARTHEST:
        return None
    here = int(np.argmin(np.abs(found.distance - at)))
    depth, speed = float(found.depth[here] + found.water_level[here]), float(found.speed[here])
    reach = 1.5 * max(call.ship.length_overall, moored.length)
    loads = passing.wang(
        np.linspace(-reach, reach, LOOKED_AT),
        abs(float(off)),
        speed,
        moored.length,
        hull.length_between_perpendiculars,
        MIDSHIP * moored.beam * moored.draught,
        MIDSHIP * hull.beam * hull.draught,
        depth,
        call.forecast.water_density or SEA_WATER_DENSITY,
    )
    outside = passing.METHODS["wang"].outside(
        separation_to_mean_beam=abs(float(off)) / (0.5 * (hull.beam + moored.beam)),
        froude_depth=speed / math.sqrt(GRAVITY * depth),
    )
    return Drawn(
        ship=moored,
        distance=float(at),
        separation=abs(float(off)),
        speed=speed,
        along=passing.SHALLOW_UNCERTAINTY * float(np.max(np.abs(loads.along))),
        across=passing.SHALLOW_UNCERTAINTY * float(np.max(np.abs(loads.towards))),
        outside=tuple(str(breach) for breach in outside),
    )


def moored_findings(ships: tuple[Drawn, ...]) -> list[Finding]:
    """What each is pulled with; a caution with the speed that spares her where her lines are said to bear less."""
    made = []
    for one in ships:
        most = one.ship.greatest_along
        words = (
            f"Passing {one.ship.name} at {text.knots(one.speed)}, {text.metres(one.separation, 0)} between "
            f"centrelines, pulls her {_tonnes(one.along)} along the quay and {_tonnes(one.across)} off it or onto it"
        )
        broken = most is not None and one.along > most
        if most is not None and broken:
            slow = one.speed * math.sqrt(most / one.along)  # loads grow with the square of the speed
            advice = f"at most {text.number(math.floor(slow / KNOT * 10.0) / 10.0, 1)} kn past her"
            words += f"; her lines bear {_tonnes(most)}: " + (
                advice if slow >= LEAST_ADVICE else "no speed she steers at spares them, pass farther off"
            )
        marks = "; indicative, " + ", ".join(one.outside) if one.outside else ""
        made.append(
            Finding(
                grade=Grade.CAUTION if broken else Grade.NOTE,
                subject="moored",
                sentence=words + marks + ".",
                value=one.along,
                limit=most,
                unit="N",
                place=one.ship.name,
                source="Wang1975",
            )
        )
    return made


def _tonnes(force: float) -> str:
    """Rounded up: a pull is never written smaller than it is."""
    return text.pull_needed(force, 1)
