"""The poster refuses manoeuvres no ship makes, each with a sentence that says what was expected."""

import math
from collections.abc import Callable

import pytest

from leadsman.errors import Impossible
from leadsman.poster import Basis, Poster, SquatEstimate, Stop, TurningCircle, ZigZag

RUDDER = math.radians(35.0)

REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: TurningCircle(side="left", condition="loaded", rudder=RUDDER), "'left' is no side; expected port"),
    (lambda: TurningCircle(side="port", condition="full", rudder=RUDDER), "'full' is no condition of the poster"),
    (
        lambda: TurningCircle(side="port", condition="loaded", rudder=35.0),
        "rudder: 2005 deg is no manoeuvre of a ship; expected deg, 5 to 110",
    ),
    (
        lambda: TurningCircle(side="port", condition="loaded", rudder=RUDDER, advance=0.4),
        "advance: 0.4 m is no manoeuvre of a ship; expected m, 10 to 10000",
    ),
    (lambda: TurningCircle(side="port", condition="loaded", rudder=RUDDER, transfer=math.nan), "transfer: nan m"),
    (lambda: Stop(order="full_astern", condition="loaded"), "'full_astern' is no ahead order of the stopping table"),
    (lambda: Stop(order="full_ahead", condition="loaded", track_reach=50_000.0), "track_reach: 5e"),
    (lambda: ZigZag(angle=20.0, condition="loaded"), "angle: 1146 deg"),
    (lambda: SquatEstimate(clearance=2.0, speed=12.0, squat=15.0), "squat: 15 m"),
    (lambda: Poster(blind_zone_loaded=-5.0), "blind_zone_loaded: -5 m"),
]


@pytest.mark.parametrize(("make", "text"), REFUSED)
def test_each_impossible_entry_is_refused_with_its_sentence(make: Callable[[], object], text: str) -> None:
    with pytest.raises(Impossible) as refusal:
        make()
    assert text in str(refusal.value)


def test_an_empty_poster_is_a_poster() -> None:
    poster = Poster()
    assert poster.turning_circles == ()
    assert TurningCircle(side="port", condition="loaded", rudder=RUDDER).basis is Basis.UNKNOWN
