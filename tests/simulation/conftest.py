"""The benchmark tanker, ready to be tried."""

from collections.abc import Callable

import pytest

from leadsman.simulation import kvlcc2, parameters, state
from leadsman.simulation.setting import Order, Setting

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
