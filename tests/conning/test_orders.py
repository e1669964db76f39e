"""Orders in words, after IMO A.918(22), part A2 (from memory)."""

import math

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


def test_tug_orders_say_how_much_and_which_way() -> None:
    assert orders.tug("Alder", 4, 3) == "Alder: full to port"
    assert orders.tug("Alder", 0, 3) == "Alder: stop"
