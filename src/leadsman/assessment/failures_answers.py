"""What a person could do against a failure: the answers that are tried, in words, with the cable in shackles."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from leadsman.assessment.rehearse_prepare import Ready
from leadsman.conning import failures as does
from leadsman.physics.anchor import CLASS_SHACKLE
from leadsman.simulation.parameters import Records

SHORT, LONG = 2.0, 5.0
"""Cable over the depth: to dredge an anchor, and to ride at it (forces sheet 6.4: 1.5 to 2, at least 5) [practice]."""

WHEEL_LEFT = (does.ENGINE, does.ONE_ENGINE, does.THRUSTERS, does.TUG)
"""Failures that leave the rudder."""
IN_HAND = (does.ONE_ENGINE, does.THRUSTERS, does.TUG)
"""Failures that leave her under command: going on is an answer."""


@dataclass(frozen=True)
class Lost:
    """Something that can be lost: kind as in `conning.failures`, the unit where there are several, and what it is."""

    kind: int
    unit: int
    name: str


@dataclass(frozen=True)
class Answer:
    """What engines, wheel, helpers (thrusters and tugs) are told, as in `conning.failures`; anchors let go, and the
    cable of each over the depth."""

    engines: int
    wheel: int
    helpers: int
    anchors: int
    scope: float

    def put(self, row: Records, cable: float) -> None:
        """Write it into a row of failures."""
        row["answered"] = 1.0
        row["engines"], row["wheel"], row["helpers"] = self.engines, self.wheel, self.helpers
        row["anchors"], row["cable"] = self.anchors, cable

    def words(self, made: Ready, lost: Lost, shackles: tuple[float, float] | None) -> str:
        """What it is, as it would be told the bridge; shackles on deck from and to."""
        podded = any(screw.azimuthing > 0.0 for screw in made.parameters.propellers)
        found = []
        if lost.kind not in (does.ENGINE, does.BLACKOUT):
            several = len(made.parameters.propellers) - (lost.kind == does.ONE_ENGINE) > 1
            engine = "engines" if several else ("the other engine" if lost.kind == does.ONE_ENGINE else "engine")
            found.append(ENGINE_WORDS[self.engines].format(engine))
        if lost.kind in WHEEL_LEFT:
            hard = "pods 35 degrees to {}" if podded else "hard-a-{}"
            found.append(
                "steer on"
                if self.wheel == does.STEERED
                else hard.format("starboard" if self.wheel == does.HARD_STARBOARD else "port")
            )
        if self.helpers == does.STEERING:
            found.append(f"steer by {' and '.join(helping(made, lost))}")
        if self.helpers == does.BRAKING:
            found.append("tugs astern until she is stopped")
        if self.anchors and shackles is not None:
            low, high = shackles
            length = f"{low:g}" if low == high else f"{low:g} to {high:g}"
            which = "one anchor" if self.anchors == 1 else "both anchors"
            unit = "shackle" if (low, high) == (1.0, 1.0) else "shackles"
            found.append(f"below 4 knots let go {which}, {length} {unit}{' each' if self.anchors > 1 else ''}")
        said = "; ".join(word for word in found if word)
        return said[0].upper() + said[1:]


ENGINE_WORDS = {
    does.AS_PLANNED: "{} as planned",
    does.STOPPED: "stop {}",
    does.TAKEN_OFF: "{} full astern until she is stopped, then hold her",
}
GO_ON = "Go on with what is left"


def losses(made: Ready) -> list[Lost]:
    """What this ship can lose on this call."""
    found = []
    engines = len(made.parameters.propellers)
    if engines == 1:
        found.append(Lost(does.ENGINE, 0, "engine lost"))
    else:
        sides = ("port engine", "starboard engine")
        each = sides if engines == 2 else tuple(f"engine {number + 1}" for number in range(engines))
        found += [Lost(does.ONE_ENGINE, unit, f"{engine} lost") for unit, engine in enumerate(each)]
        found.append(Lost(does.ENGINE, 0, "both engines lost" if engines == 2 else "all engines lost"))
    podded = any(screw.azimuthing > 0.0 for screw in made.parameters.propellers)
    gear = "pods stuck" if podded else "rudder stuck"
    found.append(Lost(does.RUDDER, 0, f"{gear} as they stand" if podded else f"{gear} as it stands"))
    found.append(Lost(does.RUDDER_STARBOARD, 0, f"{gear} to starboard"))
    found.append(Lost(does.RUDDER_PORT, 0, f"{gear} to port"))
    if made.thrusters:
        found.append(Lost(does.THRUSTERS, 0, "thrusters lost"))
    found.append(Lost(does.BLACKOUT, 0, "blackout"))
    return found + [Lost(does.TUG, unit, f"tug {name} lost") for unit, name in enumerate(made.tugs)]


def helping(made: Ready, lost: Lost) -> list[str]:
    """What is left to turn her with besides engine and rudder."""
    found = []
    if made.thrusters and lost.kind not in (does.THRUSTERS, does.BLACKOUT):
        found.append("thruster" if len(made.thrusters) == 1 else "thrusters")
    if len(made.tugs) > (lost.kind == does.TUG):
        found.append("tug" if len(made.tugs) - (lost.kind == does.TUG) == 1 else "tugs")
    return found


def answers(made: Ready, lost: Lost) -> list[Answer]:
    """Every answer tried against a failure, the less drastic before the more; those without anchors first."""
    gone = lost.kind in (does.ENGINE, does.BLACKOUT)
    engines = (does.STOPPED,) if gone else (does.AS_PLANNED, does.STOPPED, does.TAKEN_OFF)
    wheels = (does.STEERED, does.HARD_STARBOARD, does.HARD_PORT) if lost.kind == does.ENGINE else (does.STEERED,)
    tugs = len(made.tugs) > (lost.kind == does.TUG)
    helpers = [does.LEFT]
    if helping(made, lost) and lost.kind not in IN_HAND:
        helpers.append(does.STEERING)
    if tugs:
        helpers.append(does.BRAKING)
    return [one for one in _all(engines, wheels, helpers, len(made.parameters.anchors)) if sensible(one, lost)]


def _all(engines: tuple[int, ...], wheels: tuple[int, ...], helpers: list[int], anchors: int) -> Iterator[Answer]:
    for count in range(anchors + 1):
        for scope in (0.0,) if count == 0 else (SHORT, LONG):
            for engine, helper, wheel in product(engines, helpers, wheels):
                yield Answer(engine, wheel, helper, count, scope)


def sensible(answer: Answer, lost: Lost) -> bool:
    """Whether anyone would do it: no anchor is let go under an engine going ahead, no wheel is put hard over while she
    is steered otherwise, what is under command is stopped rather than driven on, and something is done at all."""
    if lost.kind == does.BLACKOUT and answer.helpers == does.LEFT and not answer.anchors:
        return False
    driven = answer.engines == does.AS_PLANNED
    if driven and (answer.anchors or answer.helpers == does.BRAKING or lost.kind in IN_HAND):
        return False
    return answer.wheel == does.STEERED or answer.helpers != does.STEERING


def shackles(made: Ready, scope: float, depth: float) -> float:
    """Cable of an anchor in shackles on deck, rounded up to half a shackle, in a depth of water [m]; never more than
    there is."""
    if scope == 0.0 or not made.parameters.anchors:
        return 0.0
    anchor = made.parameters.anchors[0]
    length = min(scope * depth + anchor.hawse, anchor.most)
    return math.ceil(2.0 * length / shackle(made) - 1e-9) / 2.0


def shackle(made: Ready) -> float:
    """What the ship calls a shackle. [m]"""
    return made.prepared.call.ship.anchors.shackle or CLASS_SHACKLE
