"""Orders in words, after IMO A.918(22), part A2 (from memory)."""

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.conning import bridge, orders
from leadsman.conning.orders import Names

SINGLE = Names(
    telegraph=("full_astern", "stop", "dead_slow_ahead"),
    shafts=1,
    podded=False,
    hard_over=math.radians(35.0),
    thrusters=("bow thruster 1", "bow thruster 2"),
    tugs=("Alder",),
)
TWIN = Names(telegraph=SINGLE.telegraph, shafts=2, podded=False, hard_over=SINGLE.hard_over, thrusters=(), tugs=())
WHEEL = [  # degrees, words, origin
    (0.0, "Midships", "A.918(22) A2, memory"),
    (5.0, "Starboard five", "A.918(22) A2, memory"),
    (-20.0, "Port twenty", "A.918(22) A2, memory"),
    (35.0, "Hard-a-starboard", "A.918(22) A2, memory"),
    (-35.0, "Hard-a-port", "A.918(22) A2, memory"),
]


@pytest.mark.parametrize(("degrees", "words", "origin"), WHEEL)
def test_wheel(degrees: float, words: str, origin: str) -> None:
    assert orders.wheel(math.radians(degrees), SINGLE) == words, origin


def test_engine_orders_name_the_engine_only_where_there_are_two() -> None:
    assert orders.engine("dead_slow_ahead", 0, 1) == "Dead slow ahead"
    assert orders.engine("stop", 0, 1) == "Stop engine"
    assert orders.engine("full_astern", 1, 2) == "Starboard engine full astern"


def test_both_engines_alike_and_both_thrusters_are_one_order() -> None:
    log = np.zeros((4, 6))
    log[:, bridge.TIME] = 10.0
    log[:2, bridge.KIND], log[:2, bridge.VALUE] = bridge.ENGINE_ORDER, 2.0
    log[1, bridge.UNIT] = 1.0
    (both,) = orders.spoken(log[:2], TWIN)
    assert (both.words, both.means) == ("Both engines dead slow ahead", ("port engine", "starboard engine"))
    log[2:, bridge.KIND], log[2:, bridge.VALUE] = bridge.THRUSTER_ORDER, -2.0
    log[3, bridge.UNIT] = 1.0
    (thrust,) = orders.spoken(log[2:], SINGLE)
    assert (thrust.words, thrust.means) == ("Bow thrust half to port", ("bow thruster 1", "bow thruster 2"))


FERRY = ("bow thruster 1", "bow thruster 2", "stern thruster")
AT_ONCE = [  # thrusters of the ship, units told, quarters, words
    (FERRY, (0, 1, 2), 2, "Bow and stern thrust half to starboard"),
    (FERRY, (0, 1), 0, "Bow thrust stop"),
    (FERRY, (1, 2), -4, "Bow thruster 2 and stern thrust full to port"),
    (
        ("bow thruster 1", "bow thruster 2", "bow thruster 3"),
        (0, 2),
        1,
        "Bow thrusters 1 and 3 one quarter to starboard",
    ),
    (("bow thruster", "stern thruster"), (0, 1), 3, "Bow and stern thrust three quarters to starboard"),
]


@pytest.mark.parametrize(("thrusters", "units", "quarters", "words"), AT_ONCE)
def test_thrusters_told_alike_at_once_are_one_order(
    thrusters: tuple[str, ...], units: tuple[int, ...], quarters: int, words: str
) -> None:
    """The pattern of A.918(22) A2 (memory); that several are told in one breath is common practice, no source."""
    log = np.zeros((len(units), 6))
    log[:, bridge.KIND], log[:, bridge.VALUE], log[:, bridge.UNIT] = bridge.THRUSTER_ORDER, quarters, units
    (told,) = orders.spoken(log, replace(SINGLE, thrusters=thrusters))
    assert told.words == words
    assert told.means == tuple(thrusters[unit] for unit in units)


def test_some_or_all_of_three_engines_told_alike_are_one_order() -> None:
    assert orders.engines("stop", (0, 1, 2), 3) == "All engines stop"
    assert orders.engines("full_astern", (0, 2), 3) == "Shaft 1 engine and shaft 3 engine full astern"


def test_as_many_orders_are_worded_as_are_counted() -> None:
    """Orders drawn to helm, three engines and three thrusters, often several in a second: the bridge's count is that
    of the sheet."""
    names = replace(SINGLE, shafts=3, thrusters=FERRY)
    draw = np.random.default_rng(5)
    memory = np.zeros(1, bridge.memory_type()).view(np.recarray)[0]
    log = np.zeros((400, 6))
    for time in np.sort(draw.integers(0, 100, 400)).astype(float):
        kind = int(draw.choice([bridge.WHEEL_ORDER, bridge.ENGINE_ORDER, bridge.THRUSTER_ORDER], p=[0.1, 0.5, 0.4]))
        bridge.write(log, memory, time, kind, int(draw.integers(0, 3)), float(draw.integers(0, 2)), 0.0)
    told = orders.spoken(log, names)
    assert len(told) == memory["said"] < 400
    assert sum(len(one.means) for one in told) == 400


def test_tug_orders_say_how_much_and_which_way() -> None:
    assert orders.tug("Alder", 4, 3) == "Alder: full to port"
    assert orders.tug("Alder", 0, 3) == "Alder: stop"
