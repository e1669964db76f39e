"""How numbers are written for people: decimals, units, times. Paper, page and terminal use these and nothing else.

Lengths, forces and clock times follow the manner in force (`leadsman.manner`).
"""

import math
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import wraps
from typing import Any, ParamSpec

from leadsman.figure import Figure
from leadsman.manner import USUAL, Manner, in_force
from leadsman.units import FOOT, KNOT, NAUTICAL_MILE, TONNE, TONNE_FORCE

MINUS = "−"

FOOT_DECIMALS = (0, 1, 1, 2)
"""Of feet, where metres have 0, 1, 2 and 3: a tenth of a foot is 3 cm, finer than tide tables tell."""

_OPEN, _CLOSE, _BETWEEN = "\ue000", "\ue001", "|"  # private letters, which no name or sentence holds
_MANNERED: dict[str, Callable[..., str]] = {}
Told = ParamSpec("Told")


def _mannered(write: Callable[Told, str]) -> Callable[Told, str]:
    """Where the manner is left open, a mark stands for the text until `settled` writes it."""
    name = write.__name__
    _MANNERED[name] = write

    @wraps(write)
    def written(*args: Told.args, **kwargs: Told.kwargs) -> str:
        if in_force() is not None:
            return write(*args, **kwargs)
        return _OPEN + _BETWEEN.join([name, *(_told(one) for one in (*args, *kwargs.values()))]) + _CLOSE

    return written


def _told(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    return str(value) if isinstance(value, int) else repr(float(value))


def settled(words: str) -> str:
    """A text, or JSON, made while the manner was open, in the manner now in force."""
    return _MARK.sub(_settle, words)


_MARK = re.compile(f"{_OPEN}([a-z_]+)((?:[{_BETWEEN}][-+0-9.:Tefain]+)+){_CLOSE}")


def _settle(mark: re.Match[str]) -> str:
    args: list[Any] = []
    for one in mark[2].split(_BETWEEN)[1:]:
        args.append(datetime.fromisoformat(one) if "T" in one else int(one) if one.isdigit() else float(one))
    write = _MANNERED.get(mark[1])
    return mark[0] if write is None else write(*args)


def _manner() -> Manner:
    return in_force() or USUAL


def in_feet() -> bool:
    """Whether lengths are now written in feet."""
    return _manner().lengths == "feet"


def lengths() -> str:
    """What lengths are now written in, as a word: metres or feet."""
    return _manner().lengths


def length_unit() -> tuple[float, str]:
    """The unit lengths are now written in, and its sign. [m]"""
    return (FOOT, "ft") if in_feet() else (1.0, "m")


def force_unit() -> tuple[float, str]:
    """The unit of pulls, as they are now written, and its sign. [N]"""
    return (1000.0, "kN") if _manner().forces == "kilonewtons" else (TONNE_FORCE, "t")


def local(time: datetime) -> datetime:
    """By the clock in force."""
    return time.astimezone(_manner().tzinfo)


def measured(value: float, unit: str, at_most: bool = False) -> str:
    """What there is of a limit in its unit, rounded to the side that does not flatter: `at_most` limits from above."""
    if unit == "s":
        return "no time searched" if abs(value) >= NO_TIME else duration(timedelta(seconds=value))
    if unit == "m/s":
        return knots_above(value) if at_most else knots(value)
    if unit == "m":
        decimals = 0 if abs(value) >= FAR else 2
        return requirement(value, decimals) if at_most else clearance(value, decimals)
    return number(value, 0)


FAR = 100.0  # m beyond which nobody reads decimals: visibility, distances off
NO_TIME = 400.0 * 86_400.0  # s: no search is longer


def number(value: float, decimals: int) -> str:
    """With a true minus sign, and no negative nought."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


@_mannered
def metres(value: float, decimals: int = 2) -> str:
    """1.23 m, or 4.0 ft."""
    if in_feet():
        decimals = FOOT_DECIMALS[decimals]
        return f"{number(value / FOOT, decimals)} ft"
    return f"{number(value, decimals)} m"


@_mannered
def metres_signed(value: float) -> str:
    """+0.30 m: a rise or a fall."""
    written = metres(value)
    return written if written.startswith((MINUS, "0.00", "0.0 ")) else f"+{written}"


@_mannered
def metres_between(low: float, high: float, decimals: int = 2) -> str:
    """120 to 140 m."""
    return f"{metres(low, decimals).split(' ')[0]} to {metres(high, decimals)}"


@_mannered
def metres_given(value: float) -> str:
    """6.2 m: as many figures as were given; feet to the tenth."""
    return metres(value) if in_feet() else f"{value:g} m"


@_mannered
def clearance(value: float, decimals: int = 2) -> str:
    """Rounded down: what is there is never written larger than it is, and a broken limit never as nought."""
    return _rounded_to(value, decimals, _down)


@_mannered
def requirement(value: float, decimals: int = 2) -> str:
    """Rounded up: what must be is never written smaller than it is."""
    return _rounded_to(value, decimals, _up)


def _rounded_to(value: float, decimals: int, to: Callable[[float], float]) -> str:
    unit, sign = length_unit()
    shown = FOOT_DECIMALS[decimals] if in_feet() else decimals
    scale = 10.0**shown
    return f"{number(to(value / unit * scale) / scale, shown)} {sign}"


def _down(value: float) -> float:
    return math.floor(value + 1e-6)


def _up(value: float) -> float:
    return math.ceil(value - 1e-6)


def knots(speed: float) -> str:
    """8.5 kn, from m/s."""
    return f"{number(speed / KNOT, 1)} kn"


def knots_above(speed: float) -> str:
    """8.1 kn, rounded up: a speed over a limit is never written as the limit."""
    return f"{number(math.ceil(speed / KNOT * 10.0 - 1e-6) / 10.0, 1)} kn"


def knots_below(speed: float) -> str:
    """18 kn, rounded down to whole knots: a wind she is held in is never written larger than it is."""
    return f"{math.floor(speed / KNOT + 1e-6):.0f} kn"


def knots_whole(speed: float) -> str:
    """22 kn: a wind, as forecasts write it."""
    return f"{number(speed / KNOT, 0)} kn"


@_mannered
def landing_speed(speed: float) -> str:
    """0.12 m/s, or 0.39 ft/s, rounded down."""
    unit, sign = length_unit()
    return f"{number(_down(100.0 * speed / unit) / 100.0, 2)} {sign}/s"


@_mannered
def slow_speed(speed: float) -> str:
    """0.12 m/s, or 0.39 ft/s, to the nearest."""
    unit, sign = length_unit()
    return f"{number(speed / unit, 2)} {sign}/s"


def energy(joules: float) -> str:
    """960 kNm."""
    return f"{number(joules / 1000.0, 0)} kNm"


def kilonewtons(force: float) -> str:
    """850 kN."""
    return f"{number(force / 1000.0, 0)} kN"


@_mannered
def pull(force: float) -> str:
    """65 t, from newtons: tonnes-force, as tugs are named by; or 637 kN."""
    unit, sign = force_unit()
    return f"{number(force / unit, 0)} {sign}"


@_mannered
def pull_needed(force: float, decimals: int = 0) -> str:
    """52 t, rounded up: a pull that must be ordered is never written smaller than it is."""
    unit, sign = force_unit()
    scale = 10.0**decimals
    return f"{number(_up(force / unit * scale) / scale, decimals)} {sign}"


def percent(share: float) -> str:
    """35 %, rounded down towards less in hand."""
    return f"{number(math.floor(100.0 * share + 1e-6), 0)} %"


def reserve(share: float) -> str:
    """35 %, as `percent`; above three times as much again the figure says no more: over 300 %."""
    return "over 300 %" if share > 3.0 else percent(share)


def miles(distance: float) -> str:
    """4.25 nm, from metres."""
    return f"{number(distance / NAUTICAL_MILE, 2)} nm"


def tonnes(mass: float) -> str:
    """72 875 t, from kg; thin spaces between thousands."""
    return f"{mass / TONNE:,.0f} t".replace(",", "\u202f")


def course(angle: float) -> str:
    """Three figures as spoken: 045."""
    return f"{round(math.degrees(angle)) % 360:03d}"


def rate_of_turn(rate: float) -> str:
    """12 °/min to port, from rad/s."""
    return f"{number(abs(math.degrees(rate)) * 60.0, 0)} °/min to {side(rate)}"


def rate(rate: float) -> str:
    """12 °/min, from rad/s, whichever side."""
    return f"{number(abs(math.degrees(rate)) * 60.0, 0)} °/min"


def degrees(angle: float) -> str:
    """12.5°, from rad."""
    return f"{number(math.degrees(angle), 1)}°"


def alteration(angle: float) -> str:
    """42° to starboard, from rad."""
    return f"{number(abs(math.degrees(angle)), 0)}° to {side(angle)}"


def side(value: float) -> str:
    """Which way a turn, a rudder or an offset lies."""
    return "starboard" if value > 0.0 else "port"


@_mannered
def clock(time: datetime) -> str:
    """05:28, rounded to the minute."""
    return _rounded(time, 60).strftime("%H:%M")


@_mannered
def clock_seconds(time: datetime) -> str:
    """05:28:07, rounded to the second."""
    return _rounded(time, 1).strftime("%H:%M:%S")


@_mannered
def day_clock(time: datetime) -> str:
    """Sun 15 Aug 05:28."""
    return f"{day(time)} {clock(time)}"


@_mannered
def day(time: datetime) -> str:
    """Sun 15 Aug."""
    rounded = _rounded(time, 60)
    return f"{_DAYS[rounded.weekday()]} {rounded.day} {_MONTHS[rounded.month - 1]}"


@_mannered
def date(time: datetime) -> str:
    """Sun 15 Aug 2027."""
    return f"{day(time)} {_rounded(time, 60).year}"


def inside(opens: datetime, closes: datetime) -> tuple[datetime, datetime]:
    """A window's edges rounded into it: to the minute, or to the second where it is shorter than two minutes."""
    unit = 60 if (closes - opens).total_seconds() >= 120.0 else 1
    first = math.ceil(opens.timestamp() / unit - 1e-9) * unit
    last = math.floor(closes.timestamp() / unit + 1e-9) * unit
    return datetime.fromtimestamp(first, tz=opens.tzinfo), datetime.fromtimestamp(last, tz=opens.tzinfo)


@_mannered
def moment(time: datetime) -> str:
    """Sun 15 Aug 05:28, with seconds where the minute is not whole."""
    return day_clock(time) if time.second == 0 else _with_seconds(time)


def window(opens: datetime, closes: datetime) -> tuple[str, str, str]:
    """When a window opens and closes, rounded into it, and how long that is."""
    first, last = inside(opens, closes)
    write = _with_seconds if first.second or last.second else day_clock
    return write(first), write(last), duration(last - first)


def _with_seconds(time: datetime) -> str:
    return f"{day(time)} {local(time):%H:%M:%S}"


def duration(span: timedelta) -> str:
    """3 h 07 min; under two minutes in seconds."""
    if abs(span.total_seconds()) < 120.0:
        return f"{span.total_seconds():.0f} s"
    minutes = round(span.total_seconds() / 60.0)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def stopwatch(seconds: float) -> str:
    """4 min 05 s; under a minute in seconds. Begun seconds count."""
    whole = math.ceil(seconds - 1e-6)
    return f"{whole // 60} min {whole % 60:02d} s" if whole >= 60 else f"{whole} s"


def chance(probability: float) -> str:
    """1 in 340, never told smaller than it is; below 1 in 1 000 000 less than that."""
    if probability < 1e-6:
        return "less than 1 in 1 000 000"
    if probability > 0.5:
        return f"{math.ceil(probability * 100.0 - 1e-9):.0f} in 100"
    once = 1.0 / probability
    step = 10.0 ** max(math.floor(math.log10(once)) - 1, 0)  # two figures are as many as are known
    return f"1 in {math.floor(once / step + 1e-9) * step:,.0f}".replace(",", " ")


def limit(key: str) -> str:
    """A limit as the trade says it, from its key or the kind of gate it stands at."""
    return _LIMITS.get(key, key.replace("_", " "))


_LIMITS = {
    "underkeel": "under keel",
    "bridge": "overhead",
    "cable": "overhead",
    "narrows": "width",
    "traffic": "other ships",
}


def iso(time: datetime) -> str:
    """2031-05-04T05:28:07Z for machines."""
    return _rounded(time, 1).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")  # ours, so that no locale changes a printed sheet
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def _rounded(time: datetime, seconds: int) -> datetime:
    stamp = math.floor(time.timestamp() / seconds + 0.5) * seconds
    return local(datetime.fromtimestamp(stamp, tz=UTC))


def figure(figure: Figure) -> str:
    """A figure in the unit people use for it."""
    write = _WRITERS.get(figure.unit)
    return write(figure.value) if write else f"{number(figure.value, 2)} {figure.unit}".strip()


_WRITERS: dict[str, Callable[[float], str]] = {
    "m": metres,
    "m/s": knots,
    "kg": tonnes,
    "rad": lambda value: f"{number(math.degrees(value), 1)}°",
    "rad/s": rate_of_turn,
    "kg/m³": lambda value: f"{number(value, 0)} kg/m³",
    "W": lambda value: f"{number(value / 1000.0, 0)} kW",
    "N": kilonewtons,
    "s": lambda value: f"{number(value, 0)} s",
    "m²": lambda value: f"{number(value, 0)} m²",
    "kg/m": lambda value: f"{number(value / TONNE / 100.0, 1)} t/cm",
    "kg m/m": lambda value: f"{number(value / TONNE / 100.0, 0)} t m/cm",
    "kg m²": lambda value: f"{number(value / TONNE / 1e6, 2)} 10⁶ t m²",
    "-": lambda value: number(value, 3),
}
