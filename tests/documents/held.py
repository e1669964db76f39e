"""A synthetic answer about holding for tests of layout: two places where she is stopped, one she is held at and one not.

Nothing here is computed by the program: forces are round figures that fill every part of the sheet.
"""

import math
from datetime import UTC, datetime, timedelta

from leadsman.assessment.holding.result import (
    Anchoring,
    Balance,
    Change,
    HeldAt,
    HoldingAnswer,
    Landing,
    LiftingOff,
    Load,
    Order,
    Rose,
    TugAtWork,
    TugsNeeded,
)
from leadsman.units import KNOT, TONNE_FORCE

START = datetime(2031, 5, 4, 6, 3, tzinfo=UTC)
NOTHING = Load(surge=0.0, sway=0.0, yaw=0.0)
LENGTH, BEAM = 89.9, 14.2


def force(surge: float, sway: float, at: float = 0.0) -> Load:
    """A force in tonnes, with the moment it has so far forward of midships."""
    return Load(surge=surge * TONNE_FORCE, sway=sway * TONNE_FORCE, yaw=at * sway * TONNE_FORCE)


def order(name: str, kind: str, given: Load, at: float, used: float) -> Order:
    return Order(name=name, kind=kind, force=given, forward=at, to_starboard=0.0, used=used)


def place(name: str, situation: str, held: bool, minutes: int, tug: str) -> HeldAt:
    """A place with wind abeam, an engine, a thruster and a tug."""
    stopped = situation != "under_way"
    balance = Balance(
        held=held,
        reserve=0.35 if held else -0.12,
        by_method={"one": 0.35, "other": 0.41},
        in_hand=held,
        engines="ahead",
        wind=force(1.0, -9.0, 4.0),
        stream=force(-2.0, 1.0),
        orders=(
            order("engine", "screw", force(4.0, 1.5, -40.0), -42.0, 0.4),
            order("bow thruster", "thruster", force(0.0, 3.0, 36.0), 36.0, 0.75),
            order(tug, "tug", force(0.0, 6.0, 20.0), 20.0, 0.62),
        ),
        left_over=NOTHING if held else force(0.0, -2.0),
        drift_speed=0.0 if held else 0.3 * KNOT,
    )
    return HeldAt(
        key=f"{situation} {minutes}",
        place=name,
        situation=situation,
        distance=100.0 * minutes,
        time=START + timedelta(minutes=minutes),
        heading=math.radians(40.0 + minutes),
        speed=0.0 if stopped else 4.0 * KNOT,
        engine_order="slow_ahead",
        kicks=False,
        wind_speed=16.4 * KNOT,
        wind_from=math.radians(250.0),
        gust=1.25,
        stream_rate=0.6 * KNOT,
        stream_towards=math.radians(25.0),
        water_depth=7.3,
        quay_side=1 if situation == "off_the_berth" else 0,
        balance=balance,
        tugs=(
            TugAtWork(
                name=tug,
                kind="azimuth_stern_drive",
                bollard_pull=30.0 * TONNE_FORCE,
                place="forward",
                forward=20.0,
                usable=24.0 * TONNE_FORCE,
            ),
        ),
        alone=None,
        needed=TugsNeeded(
            by_statics={"forward": 12.0 * TONNE_FORCE},
            by_rules={"windage": 14.0 * TONNE_FORCE, "displacement": 45.0 * TONNE_FORCE},
            two_at_least=False,
            number=1,
            each=30.0 * TONNE_FORCE,
        )
        if stopped
        else None,
        wind_limit=(23.7 if held else 14.2) * KNOT,
        wind_over=False,
        extra=None,
        method_limits=(),
        changes=() if held else (Change(kind="wind", works=True, sentence=f"{name}: wind from there to 14 kn."),),
    )


def answer(name: str = "Withy Pool", tug: str = "Alder") -> HoldingAnswer:
    """Under way, swinging and not held, off the berth and held."""
    places = (
        place("Long Reach", "under_way", True, 5, tug),
        place(name, "swinging", False, 20, tug),
        place("Town Quay", "off_the_berth", True, 35, tug),
    )
    off_bow = tuple(math.radians(10.0 * step) for step in range(36))
    rose = Rose(
        off_bow=off_bow,
        limits={
            count: tuple((least + 6.0 * abs(math.cos(angle))) * KNOT for angle in off_bow)
            for count, least in (("no tug", 9.0), ("1 tug", 14.2))
        },
        ceiling=60.0 * KNOT,
    )
    return HoldingAnswer(
        length_overall=LENGTH,
        beam=BEAM,
        places=places,
        roses={one.key: rose for one in places if one.situation != "under_way"},
        landing=Landing(
            speed=0.15,
            speed_from="greatest by the rule of the berth",
            angle=math.radians(6.0),
            energy=83e3,
            by_method={"one": 83e3},
            allowed_energy=120e3,
            greatest_speed=0.18,
            reaction=None,
            design_speeds={"sheltered": 0.15},
            drift_speed=0.14,
        ),
        lifting_off=LiftingOff(
            force=3.4 * TONNE_FORCE,
            seconds=95.0,
            set_off_force=2.2 * TONNE_FORCE,
            lines=2,
            line_load=8.0 * TONNE_FORCE,
        ),
        anchoring=Anchoring(
            place="Bar Reach",
            bottom="sand",
            holding={"sand": 1.8},
            greatest_wind={"sand": 47.3 * KNOT},
            cable=82.0,
            cable_on_board=220.0,
            shackles_on_deck=3.5,
            shackles_in_water=3.0,
            by_rules={"one": 82.0},
            swing_radius=169.2,
            room=249.6,
            bringing_up_speed=0.4 * KNOT,
            stopping_speed=2.74 * KNOT,
            walk_back_speed=3.0 * KNOT,
        ),
        findings=(),
    )
