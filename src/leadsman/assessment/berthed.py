"""Where along the quay she lies at last: against its middle and ends, and whether fenders bear her parallel body."""

from collections.abc import Iterator
from dataclasses import dataclass

from leadsman import format as text
from leadsman.conning.outline import Quay
from leadsman.conning.plan import heads_along
from leadsman.figure import Finding, Grade
from leadsman.ship import Loading, Ship

MIDDLE = "the middle of the quay"
FROM_MIDDLE = 0.1  # of her length off her place along the quay before it is told. Ours, no source
STRAIGHT_SIDE = 0.6  # of her length, amidships: taken for the parallel body where the card gives none. Ours, no source


@dataclass(frozen=True, kw_only=True)
class Lies:
    """Of a ship along a quay. [m]"""

    ahead: float
    """Of her place along the quay, the way she heads; negative: astern of it."""
    bow_beyond: float
    """How far her bow is past the end of the quay; negative: within it."""
    stern_beyond: float
    body_beyond: float
    """How far her parallel body, borne by fenders, is past either end; negative: within it."""
    body_known: bool
    """Whether the card gives the parallel body."""
    place: str = MIDDLE
    """What she was to lie at."""
    unused: bool = False
    """Whether the berth has a mark for her bridge that cannot be used: the card does not tell where the bridge is."""


def lies(face: Quay, side_to: str, ship: Ship, loading: Loading, place: float, mark: float | None = None) -> Lies:
    """Of a ship with midships at a `place` along the face, from its beginning, that side to the quay; `mark` where the
    berth wants her bridge. [m]"""
    along = heads_along(face, side_to)
    ahead = along * (place - 0.5 * face.length)  # of the middle
    given = ship.parallel_body_loaded if loading.condition == "loaded" else ship.parallel_body_ballast
    body = STRAIGHT_SIDE * ship.length_overall if given is None else given
    ends, half = 0.5 * face.length, 0.5 * ship.length_overall
    return Lies(
        ahead=along * (place - face.place),
        bow_beyond=ahead + half - ends,
        stern_beyond=-ahead + half - ends,
        body_beyond=abs(ahead) + 0.5 * body - ends,
        body_known=given is not None,
        place=MIDDLE if mark is None or ship.bridge_to_bow is None else "the mark for her bridge",
        unused=mark is not None and ship.bridge_to_bow is None,
    )


def words(found: Lies) -> str:
    """Twelve metres ahead of the quay's middle, as a clause."""
    if abs(found.ahead) < 0.5:
        return f"at {found.place}"
    return f"{text.metres(abs(found.ahead), 0)} {'ahead' if found.ahead > 0.0 else 'astern'} of {found.place}"


def lying_findings(found: Lies, berth: str, length: float) -> Iterator[Finding]:
    """What a person must know of the place she came to; what a longer ship than quay cannot help is a note."""
    if found.unused:
        yield Finding(
            grade=Grade.CAUTION,
            subject="berth",
            sentence=f"{berth} has a mark for her bridge, but the card does not tell where her bridge is: she is "
            "brought to the middle of the quay.",
            place=berth,
        )
    if found.body_beyond > 0.0:
        taken = "" if found.body_known else " (taken as six tenths of her length, the card does not give it)"
        yield Finding(
            grade=Grade.CAUTION,
            subject="berth",
            sentence=f"At {berth} her parallel body{taken} lies {text.metres(found.body_beyond, 0)} past the quay's "
            "end: no fender bears it there.",
            value=found.body_beyond,
            limit=0.0,
            unit="m",
            place=berth,
        )
    elif abs(found.ahead) > FROM_MIDDLE * length:
        beyond = max(found.bow_beyond, found.stern_beyond)
        end = "bow" if found.bow_beyond > found.stern_beyond else "stern"
        past = f", her {end} {text.metres(beyond, 0)} past its end" if beyond > 0.0 else ""
        yield Finding(
            grade=Grade.NOTE,
            subject="berth",
            sentence=f"At {berth} she comes to lie {words(found)}{past}: to be shifted along on her lines.",
            value=found.ahead,
            limit=FROM_MIDDLE * length,
            unit="m",
            place=berth,
        )
