"""Holding in the assessment of a port call: every place of the passage, the berth, the anchors; what falls short."""

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from leadsman.assessment.estimates import particulars as estimated
from leadsman.assessment.holding import berthing, emergency, findings
from leadsman.assessment.holding.answer import Plan, held_at, plan, roses
from leadsman.assessment.holding.case import Situation
from leadsman.assessment.holding.particulars import Particulars, holding_particulars
from leadsman.assessment.holding.places import Asked, Weather, berth_of, places
from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account
from leadsman.errors import CannotCompute
from leadsman.figure import Finding, Grade
from leadsman.forecast import Forecast
from leadsman.portcall import PortCall


def holding(prepared: Prepared, found: Account, start: datetime) -> HoldingAnswer | Finding:
    """The whole answer for one start; a finding where wind, windage or a solution is wanting."""
    try:
        return _answered(prepared, found, start)
    except (CannotCompute, ArithmeticError) as error:
        return findings.unanswered(str(error))


def _answered(prepared: Prepared, found: Account, start: datetime) -> HoldingAnswer:
    call, card = prepared.call, known(prepared)
    made = plans(prepared, found, start)
    held = tuple(held_at(one) for one in made)
    berth = next((one for one in made if one.asked.key == "berth"), None)
    land = lift = None
    if berth is not None:
        land = berthing.landing_of(berth, call.ship, card.particulars, berth_of(prepared))
        lift = berthing.lifting_off(berth, card.particulars, berth_of(prepared))
    anchors = emergency.anchoring(prepared, found, made[0].case, card.equipment_number) if made else None
    answer = HoldingAnswer(
        length_overall=call.ship.length_overall,
        beam=call.ship.beam,
        places=held,
        roses={one.asked.key: roses(one) for one in made if one.case.situation is not Situation.UNDER_WAY},
        landing=land,
        lifting_off=lift,
        anchoring=anchors,
        findings=(),
    )
    return findings.with_findings(answer, call, _told(made))


def _told(made: tuple[Plan, ...]) -> list[Finding]:
    """What had to be assumed: under way without its notes, for a thruster that does not serve there is no news."""
    return [
        finding
        for one in made
        for finding in one.findings
        if finding.grade is not Grade.NOTE or one.case.situation is not Situation.UNDER_WAY
    ]


def plans(prepared: Prepared, found: Account, start: datetime) -> tuple[Plan, ...]:
    """The cases of all places; `CannotCompute` without wind or windage. A place she is aground at is left out."""
    call, wind = prepared.call, weather(prepared.call.forecast)
    card, (ship, loading) = known(prepared), prepared.aboard
    return tuple(
        plan(ship, loading, call.margins, card.particulars, asked, wind)
        for asked in places(prepared, found, start, wind)
        if _afloat(call, asked)
    )


def weather(forecast: Forecast) -> Weather:
    """The wind of a forecast; `CannotCompute` where it has none: nothing missing is assumed calm."""
    if forecast.wind_speed is None or forecast.wind_from is None:
        raise CannotCompute("the forecast gives no wind")
    gust = None
    if forecast.gust_speed is not None and forecast.wind_speed > 0.0:
        gust = forecast.gust_speed / forecast.wind_speed
    return Weather(speed=forecast.wind_speed, wind_from=forecast.wind_from, gust=gust)


def _afloat(call: PortCall, asked: Asked) -> bool:
    return asked.surroundings.water_depth > call.loading.draught


@dataclass(frozen=True, kw_only=True)
class Known:
    """What statics take from the card."""

    particulars: Particulars
    equipment_number: float | None


@lru_cache(maxsize=8)
def known(prepared: Prepared) -> Known:
    """Of a prepared call, once; `CannotCompute` names what the card leaves no way to know."""
    ship, loading = prepared.aboard
    number = estimated(ship, loading).get("equipment_number")
    return Known(
        particulars=holding_particulars(ship, loading), equipment_number=None if number is None else number.value
    )
