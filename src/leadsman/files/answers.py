"""What the files of others leave open, and what a person answers: each question has a key, asked once for all places.

An answer under `key` holds for every place; one under `key@place` for that place alone. What is not answered is
gathered as an `OpenQuestion`; nothing is put in its place. What may be said but need not is offered: left out, it stays
unknown.
"""

import difflib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.files.formats.times import NotATime, instant, shortened
from leadsman.geometry import Position

NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)", re.ASCII)


@dataclass(frozen=True, kw_only=True)
class OpenQuestion:
    """One thing that no file says and nothing may be put in place of."""

    key: str
    """Under which it is answered; `key@place` answers it for one place alone."""
    sentence: str
    """What is asked, with the unit or the form of the answer."""
    places: tuple[str, ...] = ()
    """What it is asked of; empty: of the call as a whole."""
    choices: tuple[str, ...] = ()
    """Answers to choose from; empty: free."""
    other: bool = False
    """Whether another answer than one of the choices is taken too."""
    needs_file: bool = False
    """Whether only a file answers it."""
    optional: bool = False
    """Whether there can be a call without it."""
    position: Position | None = None

    @property
    def asked_of(self) -> str:
        """The key, and what it is asked of."""
        return f"{self.key} of {', '.join(self.places)}" if self.places else self.key


class Answers:
    """The answers given, and the questions that found none; one of these goes through the making of one call."""

    def __init__(self, given: Mapping[str, str] | None = None) -> None:
        self._given = {key.strip(): value.strip() for key, value in (given or {}).items() if value.strip()}
        self._known: set[str] = set()
        self._open: dict[str, OpenQuestion] = {}
        self._offered: dict[str, OpenQuestion] = {}
        self._faults: dict[str, str] = {}

    @property
    def open(self) -> tuple[OpenQuestion, ...]:
        """Every question without an answer, in the order asked."""
        return tuple(self._open.values())

    @property
    def offered(self) -> tuple[OpenQuestion, ...]:
        """Everything that may be said too, answered or not, in the order asked."""
        return tuple(self._offered.values())

    def check(self, complete: bool = True) -> None:
        """Raise `InputErrors` for every answer that is none, and for every key that nothing asked for.

        Not `complete`: questions are still to come, so a key that nothing asked for yet is let pass.
        """
        faults = dict(self._faults)
        for key in self._given:
            if complete and key not in self._known:
                close = difflib.get_close_matches(key, sorted(self._known), n=1)
                hint = f"; did you mean '{close[0]}'?" if close else "; expected the key of a question"
                faults[key] = f"answers nothing that is asked here{hint}"
        if faults:
            raise InputErrors([InputError("answers", None, key, why) for key, why in faults.items()])

    def ask_for_file(self, key: str, sentence: str) -> None:
        """Ask for something that only a file can answer."""
        self._open[key] = OpenQuestion(key=key, sentence=sentence, needs_file=True)

    def text(
        self,
        key: str,
        sentence: str,
        *,
        place: str = "",
        choices: Sequence[str] = (),
        other: bool = False,
        position: Position | None = None,
        needed: bool = True,
        offer: bool = False,
    ) -> str | None:
        """The answer as it stands; None, and the question is open if `needed`, where there is none.

        `offer`: a person is told that it may be said, though it need not.
        """
        own = f"{key}@{place}" if place else key
        self._known |= {key, own}
        asked = OpenQuestion(
            key=key, sentence=sentence, choices=tuple(choices), other=other, position=position, optional=not needed
        )
        if offer:
            self._note(self._offered, asked, place)
        for name in (own, key):
            given = self._given.get(name)
            if given is None:
                continue
            if choices and not other and given not in choices:
                self._faults[name] = f"'{shortened(given)}'; expected one of {', '.join(choices)}"
                return None
            return given
        if needed:
            self._note(self._open, asked, place)
        return None

    def _note(self, questions: dict[str, OpenQuestion], asked: OpenQuestion, place: str) -> None:
        """Ask it once, of all its places."""
        before = questions.setdefault(asked.key, asked)
        if place and place not in before.places:
            questions[asked.key] = replace(before, places=(*before.places, place))

    def number(
        self,
        key: str,
        sentence: str,
        low: float,
        high: float,
        *,
        place: str = "",
        position: Position | None = None,
        needed: bool = True,
        offer: bool = False,
    ) -> float | None:
        """The answer as a number within limits, in the unit the key names."""
        given = self.text(key, sentence, place=place, position=position, needed=needed, offer=offer)
        if given is None:
            return None
        value = float(given) if NUMBER.fullmatch(given) and len(given) < 40 else math.nan
        if not low <= value <= high:
            self._fault(key, place, f"'{shortened(given)}'; expected a number, {low:g} to {high:g}")
            return None
        return value

    def time(self, key: str, sentence: str, *, needed: bool = True) -> datetime | None:
        """The answer as an aware time, UTC."""
        given = self.text(key, sentence, needed=needed)
        if given is None:
            return None
        try:
            return instant(given)
        except NotATime as problem:
            self._fault(key, "", str(problem))
            return None

    def position(self, key: str, sentence: str, *, place: str = "", needed: bool = True) -> Position | None:
        """The answer `latitude, longitude` in degrees as a position."""
        given = self.text(key, sentence, place=place, needed=needed)
        if given is None:
            return None
        parts = [part.strip() for part in given.split(",")]
        if len(parts) != 2 or not all(NUMBER.fullmatch(part) for part in parts):
            self._fault(key, place, f"'{shortened(given)}'; expected degrees as latitude, longitude")
            return None
        try:
            return Position(float(parts[0]), float(parts[1]))
        except Impossible as impossible:
            self._fault(key, place, str(impossible))
            return None

    def refuse(self, key: str, why: str, *, place: str = "") -> None:
        """Say what is wrong with an answer that was read as text."""
        self._fault(key, place, why)

    def _fault(self, key: str, place: str, why: str) -> None:
        own = f"{key}@{place}" if place else key
        self._faults[own if own in self._given else key] = why
