"""The benchmark tanker, ready to be tried."""

from collections.abc import Callable

import pytest

from leadsman.simulation import kvlcc2, parameters, state
from leadsman.simulation.particulars import Blade, OrderLine, Particulars, Screw
from leadsman.simulation.setting import Order, Setting
from leadsman.units import DEGREE, KNOT, RPM

PITCH = 0.721


def tanker(name: str, around: state.Surroundings | None = None, interval: float | None = None) -> Setting:
    """KVLCC2 as model or ship, turning steadily at the shaft speed of the benchmark."""
    _, shaft_speed = kvlcc2.approach(name)
    density = kvlcc2.data()[name]["density"]
    return Setting(
        fleet=parameters.packed(kvlcc2.parameters(name)),
        orders={
            "full_sea_speed": Order(shaft_speed, PITCH),
            "full_ahead": Order(0.8 * shaft_speed, PITCH),
            "half_ahead": Order(0.6 * shaft_speed, PITCH),
            "stop": Order(0.0, PITCH),
            "full_astern": Order(-0.6 * shaft_speed, PITCH),
        },
        around=around or state.deep_calm(density),
        interval=interval or (0.05 if name == "model" else 1.0),
    )


@pytest.fixture(scope="session")
def benchmark_tanker() -> Callable[..., Setting]:
    return tanker


def fixed(*rows: tuple[str, float, float | None]) -> tuple[OrderLine, ...]:
    """Engine orders of a fixed pitch: order, revolutions a minute, knots."""
    return tuple(
        OrderLine(order=order, shaft_speed=turns * RPM, speed=None if knots is None else knots * KNOT)
        for order, turns, knots in rows
    )


def turning_blades(turns: float, *rows: tuple[str, float, float | None]) -> tuple[OrderLine, ...]:
    """Engine orders of a controllable pitch at constant revolutions: order, per cent of pitch, knots."""
    return tuple(
        OrderLine(
            order=order,
            shaft_speed=turns * RPM,
            pitch_share=pitch / 100.0,
            speed=None if knots is None else knots * KNOT,
        )
        for order, pitch, knots in rows
    )


def example_ships() -> dict[str, Particulars]:
    """Five invented ships of the kinds the program is made for."""
    return {
        "coaster": Particulars(
            length=90.0,
            beam=14.4,
            draught_forward=6.2,
            draught_aft=6.35,
            displacement=7.0e6,
            engine_kind="controllable_pitch",
            power=2.0e6,
            full_shaft_speed=150.0 * RPM,
            orders=turning_blades(
                150.0,
                ("full_ahead", 85.0, 11.0),
                ("half_ahead", 64.0, 8.6),
                ("slow_ahead", 46.0, 6.4),
                ("dead_slow_ahead", 29.0, 4.2),
                ("half_astern", -55.0, None),
                ("full_astern", -75.0, None),
            ),
            screws=(Screw(diameter=3.0, hand=-1.0, controllable=True),),
            rudders=(Blade(kind="fishtail", area=9.6, height=3.6, greatest_angle=65.0 * DEGREE),),
            hard_over_to_hard_over=24.0,
            bulbous_bow=True,
            full_ahead_to_full_astern=25.0,
            astern_power_share=0.7,
        ),
        "bulk carrier": Particulars(
            length=176.0,
            beam=30.0,
            draught_forward=10.2,
            draught_aft=10.3,
            displacement=45.5e6,
            engine_kind="direct_reversing_diesel",
            power=7.2e6,
            full_shaft_speed=115.0 * RPM,
            orders=fixed(
                ("full_sea_speed", 110.0, 14.0),
                ("full_ahead", 85.0, 11.0),
                ("half_ahead", 70.0, 9.0),
                ("slow_ahead", 52.0, 6.7),
                ("dead_slow_ahead", 40.0, 5.1),
                ("dead_slow_astern", -40.0, None),
                ("full_astern", -80.0, None),
            ),
            screws=(Screw(diameter=5.8),),
            rudders=(Blade(),),
            hard_over_to_hard_over=26.0,
            bulbous_bow=True,
            full_ahead_to_full_astern=90.0,
            starts=12.0,
        ),
        "container ship": Particulars(
            length=286.0,
            beam=40.0,
            draught_forward=12.5,
            draught_aft=13.0,
            displacement=98.0e6,
            engine_kind="direct_reversing_diesel",
            power=50.0e6,
            full_shaft_speed=102.0 * RPM,
            orders=fixed(
                ("full_sea_speed", 98.0, 24.0),
                ("full_ahead", 62.0, 15.4),
                ("half_ahead", 48.0, 12.0),
                ("slow_ahead", 36.0, 9.0),
                ("dead_slow_ahead", 28.0, 7.0),
                ("full_astern", -65.0, None),
            ),
            screws=(Screw(diameter=8.8, blades=6.0, area_ratio=0.85),),
            rudders=(Blade(area=70.0),),
            hard_over_to_hard_over=28.0,
            bulbous_bow=True,
            starts=12.0,
        ),
        "ferry": Particulars(
            length=155.0,
            beam=26.0,
            draught_forward=6.4,
            draught_aft=6.5,
            displacement=15.5e6,
            engine_kind="controllable_pitch",
            power=24.0e6,
            full_shaft_speed=150.0 * RPM,
            orders=turning_blades(
                150.0,
                ("full_sea_speed", 100.0, 22.0),
                ("full_ahead", 70.0, 16.0),
                ("half_ahead", 50.0, 11.5),
                ("slow_ahead", 32.0, 7.5),
                ("dead_slow_ahead", 20.0, 4.5),
                ("full_astern", -75.0, None),
            ),
            screws=(
                Screw(diameter=4.6, hand=-1.0, offset=-5.2, controllable=True, area_ratio=0.75),
                Screw(diameter=4.6, hand=1.0, offset=5.2, controllable=True, area_ratio=0.75),
            ),
            rudders=tuple(Blade(offset=side * 5.2, area=13.0, greatest_angle=45.0 * DEGREE) for side in (-1.0, 1.0)),
            hard_over_to_hard_over=20.0,
            bulbous_bow=True,
            full_ahead_to_full_astern=25.0,
        ),
        "cruise ship": Particulars(
            length=270.0,
            beam=36.0,
            draught_forward=8.2,
            draught_aft=8.2,
            displacement=52.0e6,
            engine_kind="electric",
            power=36.0e6,
            full_shaft_speed=140.0 * RPM,
            orders=fixed(
                ("full_sea_speed", 135.0, 21.5),
                ("full_ahead", 85.0, 14.0),
                ("half_ahead", 60.0, 10.0),
                ("slow_ahead", 42.0, 7.0),
                ("dead_slow_ahead", 25.0, 4.2),
                ("full_astern", -85.0, None),
            ),
            screws=(
                Screw(diameter=5.6, hand=-1.0, offset=-7.0, podded=True, area_ratio=0.65),
                Screw(diameter=5.6, hand=1.0, offset=7.0, podded=True, area_ratio=0.65),
            ),
            bulbous_bow=True,
            full_ahead_to_full_astern=25.0,
        ),
    }


@pytest.fixture(scope="session")
def examples() -> dict[str, Particulars]:
    return example_ships()


def benchmark_from_particulars() -> Particulars:
    """The full-scale tanker as a card would give her: no coefficient, only sizes, speed and revolutions."""
    size = kvlcc2.data()["ship"]
    return Particulars(
        length=size["length"],
        beam=size["beam"],
        draught_forward=size["draught"],
        draught_aft=size["draught"],
        displacement=size["density"] * size["volume"],
        engine_kind="turbine",
        full_shaft_speed=76.0 * RPM,
        orders=fixed(("full_sea_speed", 73.0, 15.5), ("full_ahead", 55.0, None), ("half_ahead", 42.0, None)),
        screws=(Screw(diameter=size["diameter"]),),
        rudders=(Blade(area=size["area"], height=size["span"]),),
        hard_over_to_hard_over=70.0 / size["rudder_rate_deg"],
    )


@pytest.fixture(scope="session")
def tanker_card() -> Particulars:
    return benchmark_from_particulars()
