"""Power, speed, propeller, thrusters, rudder angles and cable against what is usual; what is out of order today."""

import math
from collections.abc import Iterator

from leadsman import format as text
from leadsman.assessment.card_plausibility import unusual
from leadsman.assessment.card_reading import SEA_AND_AHEAD, Check, Reading, Remark, kilowatts, percent, rpm, spoken
from leadsman.assessment.plausibility import middle
from leadsman.equipment import EngineKind, ReversalMeaning
from leadsman.figure import Grade
from leadsman.units import DEGREE, KNOT, MECHANICAL_HORSEPOWER, TONNE

QUICKEST_REVERSAL = {  # s, full ahead to full astern; manoeuvring sheet 6, memory, the shortest there halved
    EngineKind.REVERSING_DIESEL: 15.0,
    EngineKind.GEARED_DIESEL: 10.0,
    EngineKind.CONTROLLABLE_PITCH: 7.0,
    EngineKind.DIESEL_ELECTRIC: 5.0,
    EngineKind.STEAM_TURBINE: 20.0,
}
SLOWEST_REVERSAL = 900.0  # s, common practice
STOPPED_FROM = 300.0  # s: longer times are normally to the ship stopped
FULL_AHEAD_SHARE = (
    0.50,
    1.03,
)  # full manoeuvring ahead by the sea speed her power gives; 1.1 to 1.5 times the other way
THRUSTER = (50.0e3, 6.0e6)  # W of one unit, any ship [common practice, no source]


def engine_power(card: Reading) -> Iterator[Remark]:
    """Power usual for her type and size, and enough, but not too much, for speed and displacement."""
    usual, engine = card.usual, card.ship.engine
    if usual is None or engine.power is None:
        return
    yield from unusual(
        card, "engine power", engine.power / 1e6, usual.power, ("power",), lambda v: f"{v:.3g} MW", math.log(1.8)
    )
    if engine.power / 1000.0 < 100.0:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("power",),
            sentence=f"{kilowatts(engine.power)} drives no ship of {text.metres(card.ship.length_overall, 0)}. Are "
            "these megawatts?",
            value=engine.power,
            limit=100.0e3,
            unit="W",
        )
    speed, displacement = _sea_speed(card), card.full_displacement
    if speed is None or displacement is None:
        return
    coefficient = admiralty(displacement, speed, engine.power)
    low, high = usual.admiralty
    if 0.8 * low <= coefficient <= 1.25 * high:
        return
    fields = ("power", "orders", "full_sea_speed", "displacement")
    yield Remark(
        grade=Grade.CAUTION,
        fields=fields,
        sentence=f"{kilowatts(engine.power)} for {text.knots(speed)} at {text.tonnes(displacement)} is "
        f"{'more' if coefficient < low else 'less'} power than a {usual.size} needs (displacement^2/3 x speed³ / power "
        f"{coefficient:.0f}; {low:.0f} to {high:.0f} is usual). Is the power in kilowatts and the speed in knots?",
        value=coefficient,
        limit=low if coefficient < low else high,
        unit="-",
    )


def admiralty(displacement: float, speed: float, power: float) -> float:
    """The trade's admiralty coefficient, in tonnes, knots and kilowatts, from SI. [-]"""
    return math.cbrt(displacement / TONNE) ** 2 * (speed / KNOT) ** 3 / (power / 1000.0)


def _sea_speed(card: Reading) -> float | None:
    line = card.orders.get("full_sea_speed")
    return None if line is None else line.speed_loaded


def manoeuvring_speed(card: Reading) -> Iterator[Remark]:
    """Full manoeuvring speed in proportion to the sea speed her power, or her type, gives."""
    usual, engine, line = card.usual, card.ship.engine, card.orders.get("full_ahead")
    if usual is None or line is None or line.speed_loaded is None:
        return
    speeds = [bound * KNOT for bound in usual.service]
    displacement = card.full_displacement
    if engine.power is not None and displacement is not None and 0.3 < engine.power / 1e6 / middle(usual.power) < 3.0:
        size = math.cbrt(displacement / TONNE) ** 2
        by_power = [math.cbrt(bound * engine.power / 1000.0 / size) * KNOT for bound in usual.admiralty]
        speeds = [max(speeds[0], by_power[0]), min(speeds[1], by_power[1])]
        if speeds[0] > speeds[1]:
            speeds = by_power
    low, high = FULL_AHEAD_SHARE[0] * speeds[0], FULL_AHEAD_SHARE[1] * speeds[1]
    if low <= line.speed_loaded <= high:
        return
    yield Remark(
        grade=Grade.CAUTION,
        fields=("orders", "full_ahead", "speed_loaded"),
        sentence=f"Full ahead gives {text.knots(line.speed_loaded)}; a {usual.size} of her power would make "
        f"{text.knots(low)} to {text.knots(high)} at full manoeuvring speed. Are the speeds in knots?",
        value=line.speed_loaded,
        limit=low if line.speed_loaded < low else high,
        unit="m/s",
    )


def sea_speed(card: Reading) -> Iterator[Remark]:
    """Full sea speed usual for her type, and 1.05 to 1.6 times full manoeuvring speed."""
    speed, line = _sea_speed(card), card.orders.get("full_ahead")
    if speed is None:
        return
    if card.usual is not None:
        bounds = (0.9 * card.usual.service[0], card.usual.service[1])
        yield from unusual(
            card, "full sea speed", speed / KNOT, bounds, ("orders", "full_sea_speed"), lambda v: f"{v:.1f} kn", 0.12
        )
    if line is not None and line.speed_loaded and not 1.0 <= speed / line.speed_loaded <= 2.0:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", "full_sea_speed", "full_ahead"),
            sentence=f"Full sea speed {text.knots(speed)} is {speed / line.speed_loaded:.2f} times full ahead, "
            f"{text.knots(line.speed_loaded)}; 1.1 to 1.5 times is usual. Is one of them miswritten?",
            value=speed / line.speed_loaded,
            limit=1.5,
            unit="-",
        )


def slip(card: Reading) -> Iterator[Remark]:
    """No order drives her faster than its propeller screws, nor much slower."""
    propeller = next((item for item in card.ship.propellers if item.diameter and item.pitch_ratio), None)
    if propeller is None or card.by_pitch or propeller.controllable_pitch:
        return
    pitch = (propeller.diameter or 0.0) * (propeller.pitch_ratio or 0.0)
    for line in card.lines(SEA_AND_AHEAD):
        speed = line.speed_loaded
        if not speed or not line.revolutions:
            continue
        apparent = 1.0 - speed / (line.revolutions * pitch)
        if -0.25 <= apparent <= 0.45:
            continue
        yield Remark(
            grade=Grade.CAUTION,
            fields=("orders", line.order, "propellers"),
            sentence=f"At {spoken(line.order)}, {rpm(line.revolutions)}, the propeller (pitch {text.metres(pitch)}) "
            f"screws {text.knots(line.revolutions * pitch)}, but the card says {text.knots(speed)}, a slip of "
            f"{percent(apparent)}. Are speed, revolutions and pitch hers?",
            value=apparent,
            limit=0.45 if apparent > 0.0 else -0.25,
            unit="-",
        )
        return


def propeller_in_water(card: Reading) -> Iterator[Remark]:
    """The propeller fits under her stern and is covered by water."""
    for propeller in card.ship.propellers:
        if propeller.diameter is None:
            continue
        draught = card.ship.summer_draught or card.loading.draught_aft
        if not 0.25 <= propeller.diameter / draught <= 0.85:
            yield Remark(
                grade=Grade.CAUTION,
                fields=("propellers", "summer_draught"),
                sentence=f"A propeller of {text.metres(propeller.diameter)} on a draught of {text.metres(draught)} is "
                f"{percent(propeller.diameter / draught)} of it; 40 to 80 % is usual. Is the diameter in metres?",
                value=propeller.diameter / draught,
                limit=0.85,
                unit="-",
            )
        top = None if propeller.shaft_height is None else propeller.shaft_height + 0.5 * propeller.diameter
        if top is not None and top > card.loading.draught_aft:
            yield Remark(
                grade=Grade.NOTE,
                fields=("draught_aft", "propellers"),
                sentence=f"At {text.metres(card.loading.draught_aft)} aft the propeller's tip stands "
                f"{text.metres(top - card.loading.draught_aft)} out of the water: less thrust ahead and astern, and "
                "more sideways.",
                value=top,
                limit=card.loading.draught_aft,
                unit="m",
            )
            return


def reversal(card: Reading) -> Iterator[Remark]:
    """Full ahead to full astern in a time such an engine can have; and to what it was taken is asked."""
    engine = card.ship.engine
    seconds = engine.full_ahead_to_full_astern
    if seconds is None:
        return
    quickest = QUICKEST_REVERSAL[engine.kind]
    if not quickest <= seconds <= SLOWEST_REVERSAL:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("full_ahead_to_full_astern",),
            sentence=f"Full ahead to full astern in {seconds:.3g} s is "
            f"{'quicker' if seconds < quickest else 'slower'} than a {spoken(engine.kind.value)} plant can be "
            f"believed ({quickest:.0f} to {SLOWEST_REVERSAL:.0f} s). Is it in seconds?",
            value=seconds,
            limit=quickest if seconds < quickest else SLOWEST_REVERSAL,
            unit="s",
        )
    elif engine.reversal_meaning is ReversalMeaning.UNKNOWN:
        leaning = (
            "So long a time is normally until the ship lies stopped."
            if seconds >= STOPPED_FROM
            else "Some masters write when the engine turns astern, others when the ship lies stopped."
        )
        yield Remark(
            grade=Grade.NOTE,
            fields=("full_ahead_to_full_astern", "reversal_meaning"),
            sentence=f"Full ahead to full astern {seconds:.0f} s: until the engine runs full astern, or until she is "
            f"stopped in the water? {leaning} It is not used until you say which.",
            value=seconds,
            unit="s",
        )
    elif engine.reversal_meaning is ReversalMeaning.ENGINE_REVERSED and seconds > STOPPED_FROM:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("full_ahead_to_full_astern", "reversal_meaning"),
            sentence=f"{seconds:.0f} s until the engine runs full astern is very long; such a time is normally until "
            "the ship lies stopped. Which was meant?",
            value=seconds,
            limit=STOPPED_FROM,
            unit="s",
        )


def thrusters(card: Reading) -> Iterator[Remark]:
    """Each thruster's power is a thruster's power, and usual for her type."""
    for number, thruster in enumerate(card.ship.thrusters, start=1):
        fields = ("thrusters", f"thruster {number}")
        low, high = THRUSTER
        if not low <= thruster.power <= high:
            yield Remark(
                grade=Grade.CAUTION,
                fields=fields,
                sentence=f"A {thruster.position} thruster of {thruster.power / 1000.0:,.4g} kW is "
                f"{'smaller' if thruster.power < low else 'larger'} than any. Is it in kilowatts?",
                value=thruster.power,
                limit=low if thruster.power < low else high,
                unit="W",
            )
        elif card.usual is not None and card.usual.thruster[1] > 0.0:
            bounds = (max(card.usual.thruster[0], 50.0), card.usual.thruster[1])
            yield from unusual(
                card,
                f"{thruster.position} thruster power",
                thruster.power / 1000.0,
                bounds,
                fields,
                lambda v: f"{v:.0f} kW",
                math.log(2.5),
            )


def steering_angles(card: Reading) -> Iterator[Remark]:
    """Rudder angles of 30 to 75 degrees, hard over in no less than 7 s."""
    for rudder in card.ship.rudders:
        angle = rudder.maximum_angle
        if angle is not None and not 30.0 * DEGREE <= angle <= 75.0 * DEGREE:
            yield Remark(
                grade=Grade.CAUTION,
                fields=("rudders",),
                sentence=f"A maximum rudder angle of {angle / DEGREE:.0f}° is not usual: 35° is conventional, 45° "
                "with a flap, 60 to 70° for high-lift rudders. Is it right?",
                value=angle,
                limit=75.0 * DEGREE if angle > 1.0 else 30.0 * DEGREE,
                unit="rad",
            )
            break
    seconds = card.ship.steering.hard_over_to_hard_over
    if seconds is not None and not 7.0 <= seconds <= 70.0:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("hard_over_to_hard_over",),
            sentence=f"Hard over to hard over in {seconds:.3g} s is {'quicker' if seconds < 7.0 else 'slower'} than "
            "steering gear moves; 10 to 28 s is usual. Is it in seconds, and from side to side?",
            value=seconds,
            limit=7.0 if seconds < 7.0 else 28.0,
            unit="s",
        )


def horsepower_alone(card: Reading) -> Iterator[Remark]:
    """Kilowatts without horsepower cannot be told from horsepower by the card itself."""
    engine = card.ship.engine
    if engine.power is None or engine.horsepower is not None:
        return
    yield Remark(
        grade=Grade.NOTE,
        fields=("power", "horsepower"),
        sentence=f"The card gives {kilowatts(engine.power)} and no horsepower to hold it against. If it is horsepower "
        f"by slip, she has {kilowatts(engine.power / 1000.0 * MECHANICAL_HORSEPOWER)}.",
        value=engine.power,
        unit="W",
    )


CHECKS = (
    Check(
        name="engine_power",
        function=engine_power,
        source="CardPractice",
        about="engine power usual for type and size; displacement^2/3 speed³ / power",
    ),
    Check(
        name="horsepower_alone",
        function=horsepower_alone,
        source="CardPractice",
        about="says that kilowatts stand alone",
    ),
    Check(
        name="manoeuvring_speed",
        function=manoeuvring_speed,
        source="CardPractice",
        about="full ahead speed against the sea speed of her power and type",
    ),
    Check(
        name="sea_speed",
        function=sea_speed,
        source="CardPractice",
        about="full sea speed usual for type; 1.0 to 2.0 times full ahead",
    ),
    Check(
        name="slip",
        function=slip,
        source="CardPractice",
        about="apparent slip of each order between -25 and 45 %",
    ),
    Check(
        name="propeller_in_water",
        function=propeller_in_water,
        source="CardPractice",
        about="propeller diameter against draught; tip under water",
    ),
    Check(
        name="reversal",
        function=reversal,
        source="CardsSeen",
        about="full ahead to full astern believable for the plant; to what it was taken is asked",
    ),
    Check(
        name="thrusters",
        function=thrusters,
        source="CardPractice",
        about="thruster power 50 to 6000 kW and usual for type",
    ),
    Check(
        name="steering_angles",
        function=steering_angles,
        source="CardPractice",
        about="maximum rudder angle 30 to 75°; hard over 7 to 70 s",
    ),
)
