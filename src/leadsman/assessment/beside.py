"""Two checked cards side by side: two ships, or one ship in two loadings; what differs, and what it means for handling.

Sentences speak of the two as they are called in the heading. A difference smaller than the figures' own bands is told
as such and given no meaning.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from leadsman import format as text
from leadsman.assessment.card_result import Beside, CheckedCard, Pair, Remark
from leadsman.assessment.estimates import ESTIMATES
from leadsman.ship import Ship
from leadsman.units import AIR_DENSITY, KNOT

BEAM_WIND = 20.0 * KNOT  # m/s, for which wind forces are told


def beside(one: CheckedCard, other: CheckedCard, loading_estimated: bool = False) -> Beside:
    """Every figure of both, and what their differences mean."""
    pairs = tuple(
        Pair(name=name, one=one.figures.get(name), other=other.figures.get(name))
        for name in ESTIMATES
        if name in one.figures or name in other.figures
    )
    called = names_of(one, other)
    two = _Two(one, other, called, {pair.name: pair for pair in pairs})
    found = [Remark(name=name, sentence=sentence) for name, say in _SAYINGS.items() for sentence in say(two)]
    return Beside(
        one=one, other=other, called=called, loading_estimated=loading_estimated, pairs=pairs, remarks=tuple(found)
    )


def names_of(one: CheckedCard, other: CheckedCard) -> tuple[str, str]:
    """How the two are told apart: by name; one ship in two loadings by condition, else by draught."""
    if one.ship.name != other.ship.name:
        return one.ship.name, other.ship.name
    if one.loading.condition != other.loading.condition:
        return one.loading.condition.capitalize(), other.loading.condition.capitalize()
    at = tuple(f"At {text.metres(card.loading.draught)}" for card in (one, other))
    return (at[0], at[1]) if at[0] != at[1] else ("The first", "The second")


@dataclass(frozen=True)
class _Two:
    """What a saying may look at."""

    one: CheckedCard
    other: CheckedCard
    called: tuple[str, str]
    pairs: Mapping[str, Pair]

    def values(self, name: str) -> tuple[float, float] | None:
        """Both values where they certainly differ; None otherwise."""
        pair = self.pairs.get(name)
        if pair is None or not pair.certain or pair.one is None or pair.other is None:
            return None
        return pair.one.value, pair.other.value

    def both(self, *names: str) -> list[tuple[float, ...]] | None:
        """These figures of the one and of the other; None unless all are known."""
        cards = (self.one.figures, self.other.figures)
        if any(name not in figures for figures in cards for name in names):
            return None
        return [tuple(figures[name].value for name in names) for figures in cards]

    def larger(self, values: tuple[float, float]) -> tuple[str, str]:
        """What the one with the larger value is called, then the one with the smaller."""
        return self.called if values[0] > values[1] else (self.called[1], self.called[0])


Saying = Callable[[_Two], Iterator[str]]


def _more(name: str, words: str) -> Saying:
    """Says of one figure who has more of it, in the words of `_MORE`."""

    def say(two: _Two) -> Iterator[str]:
        values = two.values(name)
        if values is None or abs(values[0] - values[1]) <= _LEAST.get(name, 0.0):
            return
        large, small = two.larger(values)
        times = max(values) / min(values) if min(values) > 0.0 else math.inf
        yield words.format(large=large, small=small, more=text.metres(abs(values[0] - values[1])), times=times)

    return say


def _wind(two: _Two) -> Iterator[str]:
    values, both = two.values("lateral_windage"), two.both("lateral_windage", "displacement")
    if values is None:
        return
    high, _ = two.larger(values)
    push = 0.5 * AIR_DENSITY * BEAM_WIND**2 * 0.9 * abs(values[0] - values[1])
    sentence = f"A beam wind of 20 kn presses {text.pull(push)} harder on {high}"
    if both is not None:
        shares = tuple(area / mass for area, mass in both)
        easy, _ = two.larger((shares[0], shares[1]))
        sentence += f"; for her mass the wind has {max(shares) / min(shares):.1f} times the hold on {easy}"
    yield f"{sentence}."


def _centroid(two: _Two) -> Iterator[str]:
    values = two.values("windage_forward")
    if values is not None and values[0] * values[1] < 0.0:
        forward, aft = two.larger(values)
        yield f"Stopped in a beam wind, the bow of {forward} falls off, and the bow of {aft} comes up."


def _kick(two: _Two) -> Iterator[str]:
    both = two.both("bollard_thrust_full_ahead", "displacement")
    if both is not None:
        pulls = tuple(thrust / mass for thrust, mass in both)
        yield from _ratio(two, (pulls[0], pulls[1]), "For her mass {large} has {ratio} times the kick of {small}.")


def _stopping(two: _Two) -> Iterator[str]:
    both = two.both("bollard_thrust_full_ahead", "astern_thrust_share", "displacement")
    if both is not None:
        ways = tuple(mass / (thrust * share) for thrust, share, mass in both)
        words = "From equal speed, full astern, {large} runs on about {ratio} times as far as {small}."
        yield from _ratio(two, (ways[0], ways[1]), words)


def _rudder(two: _Two) -> Iterator[str]:
    both = two.both("rudder_area", "length_between_perpendiculars", "mean_draught")
    if both is not None:
        shares = tuple(100.0 * area / (length * draught) for area, length, draught in both)
        if abs(shares[0] - shares[1]) >= 0.3:
            large, small = two.larger((shares[0], shares[1]))
            yield (
                f"{large} has the larger rudder for her side under water ({max(shares):.1f} against "
                f"{min(shares):.1f} %) and answers better than {small}."
            )


def _thruster(two: _Two) -> Iterator[str]:
    for end in ("bow", "stern"):
        pair = two.pairs.get(f"{end}_thrust")
        if pair is None or not pair.differs:
            continue
        thrusts = tuple(0.0 if side is None else side.value for side in (pair.one, pair.other))
        strong, weak = two.larger((thrusts[0], thrusts[1]))
        if min(thrusts) == 0.0:
            yield f"{weak} has no {end} thruster that can be counted on; {strong} has {text.pull(max(thrusts))}."
        else:
            share = max(thrusts) / min(thrusts)
            yield f"The {end} thruster of {strong} pushes {share:.1f} times as hard as that of {weak}."


def _ratio(two: _Two, values: tuple[float, float], words: str) -> Iterator[str]:
    """A sentence where two estimates differ by a fifth or more; less is within what they are worth."""
    if min(values) > 0.0 and max(values) / min(values) >= 1.2:
        large, small = two.larger(values)
        yield words.format(large=large, small=small, ratio=f"{max(values) / min(values):.1f}")


def _slowest(two: _Two) -> Iterator[str]:
    speeds = []
    for card in (two.one, two.other):
        line = card.ship.engine.order("dead_slow_ahead")
        column = "speed_loaded" if card.loading.condition == "loaded" else "speed_ballast"
        speeds.append(None if line is None else getattr(line, column))
    one, other = speeds
    if one and other and abs(one - other) >= 0.5 * KNOT:
        fast, _ = two.larger((one, other))
        more, less = text.knots(max(one, other)), text.knots(min(one, other))
        yield f"Dead slow ahead drives {fast} at {more}, the other at {less}."


def _hand(two: _Two) -> Iterator[str]:
    sides = [_stern_goes(card.ship) for card in (two.one, two.other)]
    if None not in sides and sides[0] != sides[1]:
        words = (f"{name}'s stern goes to {side}" for name, side in zip(two.called, sides, strict=True))
        yield f"Kicked astern, {' and '.join(words)}."


def _stern_goes(ship: Ship) -> str | None:
    """Which way one screw on the centreline throws the stern when it drives astern; None where it does neither."""
    if len(ship.propellers) != 1:
        return None
    (screw,) = ship.propellers
    if screw.right_handed is None or screw.podded:
        return None
    # With controllable pitch the screw keeps its turning when driving astern, so it throws the other way.
    return "port" if screw.right_handed is not screw.controllable_pitch else "starboard"


_MORE = {
    "deepest_draught": "{large} needs {more} more water at rest.",
    "air_draught": "{large} needs {more} more under bridges and cables.",
    "length_between_perpendiculars": "{large} is {times:.2f} times as long: at equal form her turns take {times:.2f} "
    "times the room and time.",
    "displacement": "At equal speed {large} carries {times:.1f} times the way to be taken off.",
    "block_coefficient": "{large} is fuller: squats more, begins a turn later, and is harder to check than {small}.",
    "trim": "{large}, {more} more by the stern, holds course better than {small}.",
    "metacentric_height": "{small} is the more tender: heels farther in a turn and in wind, and rolls more slowly than "
    "{large}.",
}
"""What more of one figure means: `large` has more of it than `small`, by the length `more`, or `times` as much."""
_LEAST = {"trim": 0.1}  # m, a difference not worth a sentence [common practice, no source]

_SAYINGS: Mapping[str, Saying] = {name: _more(name, words) for name, words in _MORE.items()} | {
    "lateral_windage": _wind,
    "windage_forward": _centroid,
    "bollard_thrust_full_ahead": _kick,
    "astern_thrust_share": _stopping,
    "rudder_area": _rudder,
    "bow_thrust": _thruster,
    "orders": _slowest,
    "propellers": _hand,
}
