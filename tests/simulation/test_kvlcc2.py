"""The benchmark tanker with her published coefficients against the published calculation, in deep and shallow water."""

import math
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from leadsman.physics import shallow
from leadsman.simulation import kvlcc2, parameters, state, turning
from leadsman.simulation.setting import Order, Setting

MakeSetting = Callable[..., Setting]
AUTHORITY = Path(__file__).parents[2] / "authorities" / "kvlcc2"
LENGTHS = 0.03  # of advance and diameter; the sheet, section 13, reading 1
DEGREES = 1.7  # of overshoot; the same
SIDES = {"starboard": 1, "port": -1}


def table(name: str) -> dict[str, Any]:
    return tomllib.loads((AUTHORITY / name).read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def model(benchmark_tanker: MakeSetting) -> Setting:
    return benchmark_tanker("model")


@pytest.fixture(scope="module")
def ship(benchmark_tanker: MakeSetting) -> Setting:
    return benchmark_tanker("ship")


def test_shaft_speed_of_the_benchmark() -> None:
    """Sheet section 13 [computed]: 10.6 1/s for the model, 73 1/min for the ship."""
    assert kvlcc2.approach("model")[1] == pytest.approx(10.6, abs=0.05)
    assert kvlcc2.approach("ship")[1] * 60.0 == pytest.approx(73.0, abs=0.5)


@pytest.mark.parametrize("side", SIDES)
def test_turning_circle_of_the_model(model: Setting, side: str) -> None:
    expected = table("results.toml")[f"{side}_35"]
    circle = turning.turning_circle(model, "full_sea_speed", SIDES[side] * math.radians(35.0))
    for name, value in expected.items():
        assert getattr(circle, name) / 7.0 == pytest.approx(value["calculated"], rel=LENGTHS), name


@pytest.mark.parametrize(("angle", "side"), [(10, "starboard"), (10, "port"), (20, "starboard"), (20, "port")])
def test_zigzag_of_the_model(model: Setting, angle: int, side: str) -> None:
    expected = table("results.toml")[f"zigzag_{angle}_{side}"]["overshoots"]["calculated"]
    found = np.degrees(turning.zigzag(model, "full_sea_speed", math.radians(angle), SIDES[side]).overshoots)
    assert found[: len(expected)] == pytest.approx(expected, abs=DEGREES)


@pytest.mark.parametrize("side", SIDES)
def test_turning_circle_of_the_ship(ship: Setting, side: str) -> None:
    expected = table("sheet_runs.toml")["full_scale"][side]
    circle = turning.turning_circle(ship, "full_sea_speed", SIDES[side] * math.radians(35.0))
    found = {
        "advance": circle.advance,
        "tactical_diameter": circle.tactical_diameter,
        "transfer": circle.transfer,
        "steady_diameter": circle.steady_diameter,
    }
    for name, value in found.items():
        if name in expected:
            assert value is not None
            assert value / 320.0 == pytest.approx(expected[name], rel=0.01), name
    if "rate" in expected:
        assert circle.steady_rate * 320.0 / circle.steady_speed == pytest.approx(expected["rate"], rel=0.01)
        assert circle.steady_speed / circle.approach_speed == pytest.approx(expected["speed"], abs=0.005)
        assert math.degrees(circle.steady_drift) == pytest.approx(expected["drift"], abs=0.2)


@pytest.mark.parametrize(("angle", "side"), [(10, "starboard"), (10, "port"), (20, "starboard"), (20, "port")])
def test_zigzag_of_the_ship(ship: Setting, angle: int, side: str) -> None:
    expected = table("sheet_runs.toml")["full_scale"][f"zigzag_{angle}_{side}"]
    found = np.degrees(turning.zigzag(ship, "full_sea_speed", math.radians(angle), SIDES[side]).overshoots)
    assert found[: len(expected)] == pytest.approx(expected, abs=0.4)


@pytest.mark.parametrize("ratio", ["3_0", "2_0", "1_5", "1_3", "1_2"])
def test_turning_in_shallow_water(ratio: str) -> None:
    """Sheet, shallow-water run of section 7.1: 7 knots approach held by the shaft speed that needs.

    The sheet's run has the resistance of Raven alone, so the test takes our addition close to the bed out again.
    """
    expected = table("sheet_runs.toml")["depth"][ratio]
    tanker = kvlcc2.parameters("ship")
    fleet = parameters.packed(tanker._replace(hull=tanker.hull._replace(R0=0.0080)))
    shares = np.linspace(1e-9, 1.0 / shallow.SHALLOWEST, parameters.SHALLOW_LINES)
    fleet.tables[0]["shallow"]["resistance"] = shallow.raven(1.0 / shares)
    around = state.even_depth(float(ratio.replace("_", ".")) * 20.8)

    def at(shaft_speed: float) -> Setting:
        return Setting(fleet=fleet, orders={"full_sea_speed": Order(shaft_speed, 0.721)}, around=around)

    speed = 7.0 * 1852.0 / 3600.0
    shaft_speed = brentq(lambda n: at(n).steady("full_sea_speed").speed - speed, 0.3, 0.9, xtol=1e-3)
    setting = at(shaft_speed)
    starboard, port = (turning.turning_circle(setting, "full_sea_speed", side * math.radians(35.0)) for side in (1, -1))
    assert starboard.advance is not None
    assert starboard.tactical_diameter is not None
    assert port.tactical_diameter is not None
    assert starboard.steady_diameter is not None
    assert starboard.advance / 320.0 == pytest.approx(expected["advance"], rel=0.01)
    diameters = [starboard.tactical_diameter / 320.0, port.tactical_diameter / 320.0]
    assert diameters == pytest.approx(expected["tactical_diameter"], rel=0.01)
    assert starboard.steady_diameter / 320.0 == pytest.approx(expected["steady_diameter"], rel=0.02)
    assert starboard.steady_speed / starboard.approach_speed == pytest.approx(expected["speed"], abs=0.015)
    assert math.degrees(starboard.steady_drift) == pytest.approx(expected["drift"], abs=0.2)
    found = np.degrees(turning.zigzag(setting, "full_sea_speed", math.radians(10.0), 1).overshoots[:2])
    assert found == pytest.approx(expected["zigzag_10"], abs=0.4)
