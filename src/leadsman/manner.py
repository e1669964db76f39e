"""In which units and by whose clock figures are written: metres or feet, tonnes or kilonewtons, UTC or local time.

A manner is of the reader, not of the plan: it changes no figure, no file and no fingerprint. It is in force for one
request or one command, and `format` asks for it; what nobody chose is metres, tonnes-force and UTC. A thread begun by
hand does not inherit it: what is computed there returns figures, never sentences.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone

from leadsman.errors import Impossible

LENGTHS = ("metres", "feet")
FORCES = ("tonnes", "kilonewtons")
EARLIEST, LATEST = timedelta(hours=-12), timedelta(hours=14)  # common practice, no source: zones in use on earth
QUARTER = timedelta(minutes=15)  # common practice, no source: zones in use differ by whole quarters of an hour


@dataclass(frozen=True, kw_only=True)
class Manner:
    """How figures are written. Speeds stay knots, distances along the way nautical miles, masses tonnes."""

    lengths: str = "metres"
    """Of depths, draughts, heights, clearances and sizes: `metres` or `feet`, feet in decimals."""
    forces: str = "tonnes"
    """Of tugs, thrusters and what they must hold: `tonnes` of force or `kilonewtons`."""
    zone: timedelta = timedelta(0)
    """What is added to UTC to give the clock times are written by: fixed, so that no sheet changes its clock midway."""

    def __post_init__(self) -> None:
        problems = list(self.problems())
        if problems:
            raise Impossible(problems)

    def problems(self) -> Iterator[tuple[str, str]]:
        """What is no manner of writing: (field, what is wrong)."""
        if self.lengths not in LENGTHS:
            yield "lengths", f"'{self.lengths}' is not known; expected one of {', '.join(LENGTHS)}"
        if self.forces not in FORCES:
            yield "forces", f"'{self.forces}' is not known; expected one of {', '.join(FORCES)}"
        if not EARLIEST <= self.zone <= LATEST or self.zone % QUARTER:
            yield "zone", f"{_difference(self.zone)} is no zone; {ZONE_EXPECTED}"

    @property
    def clock(self) -> str:
        """By which clock times are written: UTC, or its difference from that."""
        return f"UTC{_difference(self.zone)}" if self.zone else "UTC"

    @property
    def tzinfo(self) -> timezone:
        """The clock for `datetime`."""
        return timezone(self.zone)

    @property
    def words(self) -> str:
        """What of it is other than usual, for the foot of a sheet; empty where nothing is."""
        units = [
            *["lengths, depths and heights in feet and tenths"] * (self.lengths == "feet"),
            *["forces in kilonewtons"] * (self.forces == "kilonewtons"),
            *[f"times {self.clock}"] * bool(self.zone),
        ]
        sentence = ", ".join(units)
        return f"Written with {sentence}." if sentence else ""


ZONE_EXPECTED = "expected UTC, or a difference from it such as +01:00 or -03:30, from -12:00 to +14:00"

USUAL = Manner()
"""What nobody chose otherwise."""

_in_force: ContextVar[Manner | None] = ContextVar("manner", default=USUAL)


def in_force() -> Manner | None:
    """The manner figures are now written in; None where that is left open."""
    return _in_force.get()


def clock() -> str:
    """By which clock times are now written."""
    return (_in_force.get() or USUAL).clock


def adopt(manner: Manner) -> None:
    """Write in this manner for the rest of this request."""
    _in_force.set(manner)


@contextmanager
def written_in(manner: Manner | None) -> Iterator[None]:
    """Write in this manner meanwhile; None leaves it open, for answers that are kept and read in any."""
    token = _in_force.set(manner)
    try:
        yield
    finally:
        _in_force.reset(token)


def zone_of(words: str) -> timedelta:
    """`UTC`, `Z` or a difference such as +01:00; `Impossible` says what was expected."""
    if words.upper() in {"", "UTC", "Z"}:
        return timedelta(0)
    try:
        found = datetime.strptime(words, "%z").utcoffset()
    except ValueError:
        found = None
    if found is None:
        raise Impossible([("zone", f"'{words}' is no zone; {ZONE_EXPECTED}")])
    return found


def _difference(zone: timedelta) -> str:
    sign, minutes = ("−" if zone < timedelta(0) else "+"), abs(zone) // timedelta(minutes=1)
    return f"{sign}{minutes // 60:02d}:{minutes % 60:02d}"
