"""What was handed over, as plain data: ship, loading, forecast, margins, tugs. A missing figure says so in words."""

import math
from typing import Any

from leadsman import format as text
from leadsman.equipment import Engine
from leadsman.forecast import Forecast
from leadsman.portcall import Margins, PortCall
from leadsman.ship import Loading, Ship
from leadsman.units import NAUTICAL_MILE

NOT_GIVEN = "not given"

Value = dict[str, Any]


def particulars(call: PortCall) -> dict[str, Any]:
    """The inputs of the call a reader wants beside the answer."""
    return {
        "ship": _ship(call.ship, call.loading.condition),
        "loading": _loading(call.loading),
        "forecast": _forecast(call.forecast),
        "margins": _margins(call.margins),
        "tugs": [
            {
                "name": tug.name,
                "kind": tug.kind,
                "bollard_pull": _value(tug.bollard_pull, text.pull(tug.bollard_pull)),
            }
            for tug in call.tugs
        ],
    }


def _value(value: float | None, words: str) -> Value:
    return {"value": value, "text": NOT_GIVEN if value is None else words}


def _metres(value: float | None, decimals: int = 2) -> Value:
    return _value(value, "" if value is None else text.metres(value, decimals))


def _ship(ship: Ship, condition: str) -> dict[str, Any]:
    return {
        "name": ship.name,
        "call_sign": ship.call_sign,
        "kind": ship.kind.value.replace("_", " "),
        "length_overall": _metres(ship.length_overall, 1),
        "beam": _metres(ship.beam, 1),
        "keel_to_highest_point": _metres(ship.keel_to_highest_point),
        "engine": _engine(ship.engine),
        "orders": [
            {"order": line.order.replace("_", " "), "speed": _value(speed, text.knots(speed))}
            for line in ship.engine.orders
            for speed in [line.speed_loaded if condition == "loaded" else line.speed_ballast]
            if speed is not None
        ],
        "thrusters": _listed(
            f"{thruster.position} {text.number(thruster.power / 1000.0, 0)} kW" + _unless_ready(thruster.state.value)
            for thruster in ship.thrusters
        ),
        "rudders": _listed(
            rudder.kind
            + ("" if rudder.maximum_angle is None else f" {text.number(math.degrees(rudder.maximum_angle), 0)}°")
            for rudder in ship.rudders
        ),
        "defects": list(ship.defects),
    }


def _engine(engine: Engine) -> str:
    power = "" if engine.power is None else f", {text.number(engine.power / 1000.0, 0)} kW"
    return engine.kind.value.replace("_", " ") + power + _unless_ready(engine.state.value)


def _unless_ready(state: str) -> str:
    return "" if state == "ready" else f" ({state})"


def _listed(words: Any) -> str:
    return ", ".join(words) or NOT_GIVEN


def _loading(loading: Loading) -> dict[str, Any]:
    trim = loading.trim
    end = "even keel" if abs(trim) < 0.005 else f"{text.metres(abs(trim))} by the {'stern' if trim > 0.0 else 'head'}"
    density, displacement = loading.water_density, loading.displacement
    return {
        "condition": loading.condition,
        "draught_forward": _metres(loading.draught_forward),
        "draught_aft": _metres(loading.draught_aft),
        "draught": _metres(loading.draught),
        "trim": _value(round(trim, 4), end),
        "displacement": _value(displacement, "" if displacement is None else text.tonnes(displacement)),
        "air_draught": _metres(loading.air_draught),
        "water_density": _value(density, "" if density is None else f"{text.number(density, 0)} kg/m³"),
    }


def _forecast(forecast: Forecast) -> dict[str, Any]:
    visibility = forecast.visibility
    return {
        "issued": {"value": text.iso(forecast.issued), "text": text.day_clock(forecast.issued)},
        "source": forecast.source,
        "residual": _value(forecast.residual, text.metres_signed(forecast.residual)),
        "residual_low": _value(forecast.residual_low, text.metres_signed(forecast.residual_low)),
        "residual_high": _value(forecast.residual_high, text.metres_signed(forecast.residual_high)),
        "wind": _wind(forecast),
        "waves": _waves(forecast),
        "visibility": _value(visibility, "" if visibility is None else f"{visibility / NAUTICAL_MILE:.1f} nm"),
    }


def _wind(forecast: Forecast) -> str:
    if forecast.wind_speed is None or forecast.wind_from is None:
        return NOT_GIVEN
    gusts = "" if forecast.gust_speed is None else f", gusts {text.knots(forecast.gust_speed)}"
    return f"from {text.course(forecast.wind_from)}° {text.knots(forecast.wind_speed)}{gusts}"


def _waves(forecast: Forecast) -> str:
    if forecast.wave_height is None:
        return NOT_GIVEN
    period = "" if forecast.wave_period is None else f", {text.number(forecast.wave_period, 0)} s"
    return f"{text.metres(forecast.wave_height, 1)}{period}"


def _margins(margins: Margins) -> dict[str, Any]:
    share = margins.underkeel_share
    rule = text.requirement(margins.underkeel)
    percent = f"{text.number(100.0 * share, 0)} % of draught"
    if share > 0.0:
        rule = f"{rule} or {percent}, the greater" if margins.underkeel > 0.0 else percent
    return {
        "underkeel": {"value": margins.underkeel, "share": share, "text": rule},
        "overhead": {"value": margins.overhead, "text": text.requirement(margins.overhead)},
        "alongside": _metres(margins.alongside),
        "width": _metres(margins.width, 0),
        "source": margins.source,
    }
