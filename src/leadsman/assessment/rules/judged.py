"""Which rules are for this ship on this call, and the limits they make."""

from leadsman.assessment.passage import Passage
from leadsman.assessment.rules.daylight import daylight
from leadsman.assessment.rules.limit import Limit, Unjudged
from leadsman.assessment.rules.opening import opening
from leadsman.assessment.rules.speed import greatest_speed
from leadsman.assessment.rules.stream import greatest_stream
from leadsman.assessment.rules.stretch import Stretch, stretches
from leadsman.assessment.rules.traffic import closed, time_between_ships
from leadsman.assessment.rules.tugs import tugs
from leadsman.assessment.rules.weather import greatest_waves, greatest_wind, least_visibility
from leadsman.assessment.water import Water
from leadsman.portcall import PortCall
from leadsman.rule import (
    Closed,
    Daylight,
    GreatestSpeed,
    GreatestStream,
    GreatestWaves,
    GreatestWind,
    LeastVisibility,
    Opening,
    Rule,
    TimeBetweenShips,
    TugsFast,
)

KINDS: dict[type, str] = {
    Daylight: "daylight",
    GreatestSpeed: "speed",
    GreatestStream: "stream",
    LeastVisibility: "visibility",
    GreatestWind: "wind",
    GreatestWaves: "waves",
    TimeBetweenShips: "traffic",
    Closed: "traffic",
    Opening: "opening",
    TugsFast: "tugs",
}
"""A stable key for each kind of rule, told as the limit that binds."""


def limits(passage: Passage, water: Water) -> tuple[tuple[Limit, ...], tuple[Unjudged, ...]]:
    """Every limit that rules set for this call, and the rules that cannot be judged by what is known."""
    found: list[Limit] = []
    unjudged: list[Unjudged] = []
    for rule in _rules(passage.call):
        whole_ship = not isinstance(rule.asks, GreatestSpeed | GreatestStream)
        for stretch in stretches(passage, rule.at, rule.reaches, rule.lasting, whole_ship):
            made = _limit(passage, water, rule, stretch)
            if isinstance(made, Unjudged):
                unjudged.append(made)
                break
            found.append(made)
    return tuple(found), tuple(unjudged)


def _rules(call: PortCall) -> list[Rule]:
    """The rules that are for this ship this way."""
    return [
        rule
        for rule in (*call.waterway.rules, *call.rules)
        if rule.direction in (None, call.direction.value)
        and rule.ships.include(call.ship.length_overall, call.ship.beam, call.loading.draught)
    ]


def _limit(passage: Passage, water: Water, rule: Rule, stretch: Stretch) -> Limit | Unjudged:
    call, asked = passage.call, rule.asks
    match asked:
        case Daylight():
            return daylight(passage, water, rule, asked, stretch)
        case GreatestSpeed():
            return greatest_speed(passage, water, rule, asked, stretch)
        case GreatestStream() if not call.waterway.stream_stations:
            return Unjudged(rule=rule, why="no tidal stream is given for this waterway")
        case GreatestStream():
            return greatest_stream(water, rule, asked, stretch)
        case LeastVisibility():
            return least_visibility(call.forecast, rule, asked, stretch)
        case GreatestWind():
            return greatest_wind(call.forecast, rule, asked, stretch)
        case GreatestWaves():
            return greatest_waves(call.forecast, rule, asked, stretch)
        case TimeBetweenShips() if rule.at not in [moved.at for moved in call.movements]:
            return Unjudged(rule=rule, why="the call names no movement of another ship there")
        case TimeBetweenShips():
            return time_between_ships(passage, water, rule, asked, stretch)
        case Closed():
            return closed(water, rule, asked, stretch)
        case Opening():
            return opening(passage, water, rule, asked, stretch)
        case TugsFast():
            return tugs(passage, water, rule, asked, stretch)
