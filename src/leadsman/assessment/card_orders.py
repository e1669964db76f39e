"""The engine order table against itself, and the engine limits against the table."""

import math
import statistics
from collections.abc import Iterator
from itertools import pairwise

from leadsman import format as text
from leadsman.assessment.card_reading import (
    SEA_AND_AHEAD,
    STRONGEST_FIRST_ASTERN,
    Check,
    Reading,
    Remark,
    percent,
    rpm,
    spoken,
)
from leadsman.equipment import ASTERN_ORDERS, EngineKind, EngineOrder
from leadsman.figure import Grade
from leadsman.physics import resistance
from leadsman.units import RPM

PROPORTION = 0.40  # speed per revolution against the others: three seen cards fit within 20 %, one shows 37 %
COLUMNS = 0.10  # ballast by loaded speed of one order against the other orders: seen cards scatter by 0.05
SAME = 1e-9  # relative; equal figures of a table
EFFICIENCY_RATIO, RESISTANCE_RATIO = 0.65, 1.35  # of screw and hull, astern over ahead: manoeuvring sheet 5


def ahead_orders(card: Reading) -> Iterator[Remark]:
    """Revolutions, or pitch, rise from dead slow to full ahead."""
    yield from _rising(card, SEA_AND_AHEAD)


def astern_orders(card: Reading) -> Iterator[Remark]:
    """Revolutions, or pitch, rise from dead slow to full astern."""
    yield from _rising(card, STRONGEST_FIRST_ASTERN)


def _rising(card: Reading, strongest_first: tuple[str, ...]) -> Iterator[Remark]:
    for stronger, weaker in pairwise(card.lines(strongest_first)):
        if card.by_pitch:
            if stronger.pitch is None or weaker.pitch is None:
                continue
            above, below = abs(stronger.pitch), abs(weaker.pitch)
            words = f"{spoken(weaker.order)} has {percent(below)} pitch, {spoken(stronger.order)} {percent(above)}"
        else:
            if stronger.revolutions is None or weaker.revolutions is None:
                continue
            above, below = stronger.revolutions, weaker.revolutions
            words = f"{spoken(weaker.order)} has {rpm(below)}, {spoken(stronger.order)} {rpm(above)}"
        if below < above * (1.0 - SAME):
            continue
        # Full sea speed may be full ahead itself: some cards have one line for both.
        if stronger.order == "full_sea_speed" and math.isclose(above, below):
            continue
        yield Remark(
            grade=Grade.STOP,
            fields=("orders", weaker.order, stronger.order),
            sentence=f"The order table does not rise: {words}. Two lines are exchanged or one figure is wrong.",
            value=below,
            limit=above,
            unit="-" if card.by_pitch else "1/s",
        )


def speeds_rise(card: Reading) -> Iterator[Remark]:
    """Ahead speeds rise with the orders, in each column."""
    for column, name in (("speed_loaded", "loaded"), ("speed_ballast", "in ballast")):
        for stronger, weaker in pairwise(card.lines(SEA_AND_AHEAD)):
            above, below = getattr(stronger, column), getattr(weaker, column)
            if above is None or below is None or below < above or (below == above and _one_line(stronger, weaker)):
                continue
            yield Remark(
                grade=Grade.STOP,
                fields=("orders", weaker.order, stronger.order),
                sentence=f"The order table gives {text.knots(below)} {name} at {spoken(weaker.order)} but "
                f"{text.knots(above)} at {spoken(stronger.order)}: the stronger order must be the faster.",
                value=below,
                limit=above,
                unit="m/s",
            )


def _one_line(stronger: EngineOrder, weaker: EngineOrder) -> bool:
    return stronger.order == "full_sea_speed" and stronger.revolutions == weaker.revolutions


def speed_by_revolutions(card: Reading) -> Iterator[Remark]:
    """Speed per revolution is nearly one figure over the table."""
    if card.by_pitch:
        return
    for column, name in (("speed_loaded", "loaded"), ("speed_ballast", "in ballast")):
        ratios = {
            line.order: getattr(line, column) / line.revolutions
            for line in card.lines(SEA_AND_AHEAD)
            if getattr(line, column) and line.revolutions
        }
        if len(ratios) < 3:
            continue
        for order, ratio in ratios.items():
            usual = statistics.median(value for other, value in ratios.items() if other != order)
            if abs(math.log(ratio / usual)) <= math.log1p(PROPORTION):
                continue
            speed = getattr(card.orders[order], column)
            yield Remark(
                grade=Grade.CAUTION,
                fields=("orders", order),
                sentence=f"{spoken(order).capitalize()} gives {text.knots(speed)} {name}; going by the other orders it "
                f"should be about {text.knots(speed * usual / ratio)} at {rpm(card.orders[order].revolutions or 0.0)}. "
                "Is the line right?",
                value=speed,
                limit=speed * usual / ratio,
                unit="m/s",
            )


def speed_columns(card: Reading) -> Iterator[Remark]:
    """In ballast she is a little faster than loaded, and by much the same share at every order."""
    ratios = {
        line.order: line.speed_ballast / line.speed_loaded
        for line in card.lines(SEA_AND_AHEAD)
        if line.speed_ballast and line.speed_loaded
    }
    if len(ratios) < 2:
        return
    slower = [order for order, ratio in ratios.items() if ratio < 1.0 - 1e-6]
    if len(slower) > 0.5 * len(ratios):
        order = slower[0]
        loaded, ballast = card.orders[order].speed_loaded or 0.0, card.orders[order].speed_ballast or 0.0
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "speed_loaded", "speed_ballast"),
            sentence=f"The table has her faster loaded ({text.knots(loaded)} at {spoken(order)}) than in ballast "
            f"({text.knots(ballast)}). Are the two columns exchanged?",
            value=loaded,
            limit=ballast,
            unit="m/s",
        )
        return
    for order, ratio in ratios.items():
        others = [value for other, value in ratios.items() if other != order]
        usual = statistics.median(others)
        if abs(ratio - usual) > COLUMNS:
            line = card.orders[order]
            yield Remark(
                grade=Grade.CAUTION,
                fields=("orders", order),
                sentence=f"{spoken(order).capitalize()} makes {text.knots(line.speed_loaded or 0.0)} loaded and "
                f"{text.knots(line.speed_ballast or 0.0)} in ballast, {ratio:.2f} times; the other orders have "
                f"{usual:.2f} times. Is one of the two speeds miswritten?",
                value=ratio,
                limit=usual,
                unit="-",
            )


def pitch_or_revolutions(card: Reading) -> Iterator[Remark]:
    """A table in pitch belongs to a controllable propeller, and its figures are percent."""
    engine = card.ship.engine
    lines = [line for line in engine.orders if line.order != "stop"]
    pitches = [abs(line.pitch) for line in lines if line.pitch is not None]
    if pitches and not card.controllable:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "pitch"),
            sentence="The order table gives pitch, but no propeller is said to have controllable pitch. Are these "
            "revolutions in the pitch column?",
        )
    if card.controllable and lines and not pitches:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "revolutions"),
            sentence="She has a controllable pitch propeller, but the order table gives revolutions and no pitch. Are "
            "these percent of pitch in the revolutions column, or does she run on combined pitch and revolutions?",
        )
    if pitches and max(pitches) > 1.05:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "pitch"),
            sentence=f"The order table has a pitch of {percent(max(pitches))}; full pitch is 100 %. Are these degrees "
            "or revolutions?",
            value=max(pitches),
            limit=1.0,
            unit="-",
        )
    revolutions = [line.revolutions for line in lines if line.revolutions]
    if pitches and revolutions and max(revolutions) > 2.5 * min(revolutions):
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "revolutions"),
            sentence="With pitch orders the shaft runs at one speed or nearly, but the table has "
            f"{rpm(min(revolutions))} to {rpm(max(revolutions))}. Is one figure wrong?",
            value=max(revolutions),
            limit=min(revolutions),
            unit="1/s",
        )


def critical_range(card: Reading) -> Iterator[Remark]:
    """No order lies inside the critical range, and the range is a range."""
    critical = card.ship.engine.critical_revolutions
    if critical is None:
        return
    low, high = critical
    for line in card.ship.engine.orders:
        if line.revolutions is not None and low < line.revolutions < high:
            yield Remark(
                grade=Grade.STOP,
                fields=("critical_revolutions", "orders", line.order),
                sentence=f"{spoken(line.order).capitalize()} runs at {rpm(line.revolutions)}, inside the critical "
                f"range {rpm(low)} to {rpm(high)} which must be passed quickly: one of the two is wrong.",
                value=line.revolutions,
                limit=high if line.revolutions > 0.5 * (low + high) else low,
                unit="1/s",
            )
    full = card.orders.get("full_ahead")
    if full is None or not full.revolutions:
        return
    share = 0.5 * (low + high) / full.revolutions
    if not 0.40 <= share <= 0.95 or high - low > 25.0 * RPM:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("critical_revolutions",),
            sentence=f"The critical range {rpm(low)} to {rpm(high)} lies at {percent(share)} of full ahead; usual are "
            "10 to 12 rpm somewhere between 45 and 90 %. Is it of this engine?",
            value=share,
            limit=0.90,
            unit="-",
        )


def least_revolutions(card: Reading) -> Iterator[Remark]:
    """Minimum revolutions are not above dead slow ahead, and their speed fits."""
    engine = card.ship.engine
    dead_slow = card.orders.get("dead_slow_ahead")
    least = engine.minimum_revolutions
    if least is None or dead_slow is None or dead_slow.revolutions is None:
        return
    if least > dead_slow.revolutions * (1.0 + SAME) + 0.5 * RPM:
        yield Remark(
            grade=Grade.STOP,
            fields=("minimum_revolutions", "orders", "dead_slow_ahead"),
            sentence=f"Minimum revolutions are {rpm(least)}, but dead slow ahead is {rpm(dead_slow.revolutions)}: she "
            "cannot run slower than her slowest.",
            value=least,
            limit=dead_slow.revolutions,
            unit="1/s",
        )
    speed, slowest = engine.speed_at_minimum_revolutions, card.speed(dead_slow)
    if speed and slowest and abs(math.log(speed / slowest) - math.log(least / dead_slow.revolutions)) > 0.4:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("speed_at_minimum_revolutions", "orders", "dead_slow_ahead"),
            sentence=f"Minimum {rpm(least)} is said to give {text.knots(speed)}, but dead slow ahead, "
            f"{rpm(dead_slow.revolutions)}, gives {text.knots(slowest)}. Is one of them wrong?",
            value=speed,
            limit=slowest,
            unit="m/s",
        )


def astern_weaker(card: Reading) -> Iterator[Remark]:
    """Full astern does not turn faster, or pitch farther, than full sea speed."""
    ahead, astern = card.lines(SEA_AND_AHEAD), card.lines(ASTERN_ORDERS)
    name = "pitch" if card.by_pitch else "revolutions"
    forward = [abs(value) for line in ahead if (value := getattr(line, name)) is not None]
    backward = [abs(value) for line in astern if (value := getattr(line, name)) is not None]
    if not forward or not backward or max(backward) <= 1.10 * max(forward):
        return
    yield Remark(
        grade=Grade.CAUTION,
        fields=("orders", "full_astern"),
        sentence=f"The strongest astern order has {max(backward) / max(forward):.2f} times the {name} of the "
        "strongest ahead order; engines give less astern than ahead. Is the astern part right?",
        value=max(backward) / max(forward),
        limit=1.0,
        unit="-",
    )


def astern_power(card: Reading) -> Iterator[Remark]:
    """Astern power is 30 to 100 % of ahead."""
    share = card.ship.engine.astern_power_share
    if share is None or 0.30 <= share < 1.0:
        return
    if share == 1.0 and card.ship.engine.kind is EngineKind.DIESEL_ELECTRIC:
        return
    yield Remark(
        grade=Grade.CAUTION,
        fields=("astern_power_share",),
        sentence=f"Astern power is given as {percent(share)} of ahead; 30 to 100 % is possible, 60 to 80 % usual. Is "
        "it percent, and of power?",
        value=share,
        limit=1.0 if share >= 1.0 else 0.30,
        unit="-",
    )


def power_is_not_speed(card: Reading) -> Iterator[Remark]:
    """Where astern power looks like astern speed or revolutions: power goes with their cube."""
    share = card.ship.engine.astern_power_share
    ahead, astern = card.orders.get("full_ahead"), card.orders.get("full_astern")
    if share is None or not 0.3 <= share < 0.97 or ahead is None or astern is None:
        return
    if not card.by_pitch and _same_share(ahead.revolutions, astern.revolutions, share):
        yield _confused("revolutions", share, share**3, share ** (1.0 / 3.0))
    if _same_share(card.speed(ahead), card.speed(astern), share):
        by_power = float(resistance.astern_speed_ratio(share, EFFICIENCY_RATIO, RESISTANCE_RATIO))
        yield _confused("speed", share, share**3 * RESISTANCE_RATIO / EFFICIENCY_RATIO, by_power)


def _same_share(ahead: float | None, astern: float | None, share: float) -> bool:
    return bool(ahead and astern) and abs((astern or 0.0) / (ahead or 1.0) - share) <= 0.015


def _confused(word: str, share: float, power: float, reached: float) -> Remark:
    return Remark(
        grade=Grade.NOTE,
        fields=("astern_power_share", "orders", "full_astern"),
        sentence=f"Astern power {percent(share)} of ahead is also the share of full astern {word}. Power goes with the "
        f"cube: {percent(share)} of the {word} takes about {percent(power)} of the power, and {percent(share)} of the "
        f"power gives about {percent(reached)} of the {word}. Which of the two does the card mean?",
        value=share,
        limit=power,
        unit="-",
    )


CHECKS = (
    Check(
        name="ahead_orders",
        function=ahead_orders,
        source="CardIdentities",
        about="revolutions or pitch rise dead slow < slow < half < full ahead < sea speed",
    ),
    Check(
        name="astern_orders",
        function=astern_orders,
        source="CardIdentities",
        about="the same astern",
    ),
    Check(
        name="speeds_rise",
        function=speeds_rise,
        source="CardIdentities",
        about="ahead speed rises with the order in each column",
    ),
    Check(
        name="speed_by_revolutions",
        function=speed_by_revolutions,
        source="CardsSeen",
        about="speed per revolution of one order within 40 % of the others",
    ),
    Check(
        name="speed_columns",
        function=speed_columns,
        source="CardsSeen",
        about="ballast speed above loaded speed, by much the same share at each order",
    ),
    Check(
        name="pitch_or_revolutions",
        function=pitch_or_revolutions,
        source="CardPractice",
        about="pitch orders belong to a controllable propeller, at one shaft speed, and are percent",
    ),
    Check(
        name="critical_range",
        function=critical_range,
        source="CardIdentities",
        about="no order inside the critical range; range narrow and below full ahead",
    ),
    Check(
        name="least_revolutions",
        function=least_revolutions,
        source="CardIdentities",
        about="minimum revolutions not above dead slow ahead, and their speed fits",
    ),
    Check(
        name="astern_weaker",
        function=astern_weaker,
        source="CardPractice",
        about="full astern not stronger than full ahead or sea speed",
    ),
    Check(
        name="astern_power",
        function=astern_power,
        source="CardsSeen",
        about="astern power 30 to 100 % of ahead",
    ),
    Check(
        name="power_is_not_speed",
        function=power_is_not_speed,
        source="CubeLaw",
        about="astern power share confused with astern speed or revolutions",
    ),
)
