"""What the handler knows better: put where every later computation reads, and questioned like the card itself.

`with_own_figures` is for whoever computes from the fields of ship and loading: it gives both with the own figures in
their places. The card as handed over keeps its own; provenance comes from `estimates.particulars`.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from leadsman.assessment.card_reading import spoken
from leadsman.assessment.estimates import particulars
from leadsman.assessment.estimates_machinery import COUNTED
from leadsman.equipment import Propeller, Rudder, Thruster
from leadsman.figure import Figure, Finding, Grade, Origin
from leadsman.format import figure as written
from leadsman.format import number
from leadsman.ship import Loading, OwnFigure, Ship
from leadsman.units import SEA_WATER_DENSITY

ROUNDING = 0.005  # how much an own figure may differ from the card's before it is told
CONTRADICTION = 0.02  # the same from what follows from other figures
FAR = 3.0  # deviations from the estimate beyond which it is asked
OF_SHIP = ("length_between_perpendiculars", "summer_draught", "summer_block_coefficient", "moulded_depth")
OF_LOADING = (
    "metacentric_height",
    "centre_of_gravity_height",
    "air_draught",
    "lateral_windage",
    "frontal_windage",
)
OF_UNITS = (
    "displacement",
    "block_coefficient",
    "propeller_diameter",
    "propeller_pitch_ratio",
    "rudder_area",
    "rudder_height",
    "bow_thrust",
    "stern_thrust",
    "astern_power_share",
    "equipment_number",
)
PLACED = {*OF_SHIP, *OF_LOADING, *OF_UNITS, "windage_forward"}
"""Those that reach clearances, trials and holding; the rest serve the card's own figures and what follows there."""


def with_own_figures(ship: Ship, loading: Loading) -> tuple[Ship, Loading]:
    """Ship and loading with the loading's own figures in the fields that computations read."""
    if not loading.own_figures:
        return ship, loading
    own = {name: figure.value for name, figure in loading.own_figures.items()}
    engine, anchors = ship.engine, ship.anchors
    if "astern_power_share" in own:
        engine = replace(engine, astern_power_share=own["astern_power_share"])
    if "equipment_number" in own:
        anchors = replace(anchors, equipment_number=own["equipment_number"])
    of_ship: dict[str, Any] = {name: own[name] for name in OF_SHIP if name in own}
    if "summer_block_coefficient" in own:
        of_ship |= _summer_displacement(ship, loading, own["summer_block_coefficient"])
    moved = replace(
        ship,
        **of_ship,
        engine=engine,
        anchors=anchors,
        propellers=_propellers(ship, own),
        rudders=_rudders(ship.rudders, own),
        thrusters=_thrusters(ship, loading, own),
    )
    fields: dict[str, Any] = {name: own[name] for name in OF_LOADING if name in own}
    if "displacement" in own or "block_coefficient" in own:
        fields["displacement"] = particulars(ship, loading, names=("displacement",))["displacement"].value
    return moved, replace(loading, **fields)


def _summer_displacement(ship: Ship, loading: Loading, block: float) -> dict[str, float]:
    """What her summer block coefficient makes her displace at her marks; nothing where her draught there is unknown."""
    found = particulars(ship, loading, names=("length_between_perpendiculars", "summer_draught"))
    if len(found) < 2:
        return {}
    length, draught = (figure.value for figure in found.values())
    return {"summer_displacement": block * length * ship.beam * draught * SEA_WATER_DENSITY}


def _propellers(ship: Ship, own: Mapping[str, float]) -> tuple[Propeller, ...]:
    fields: dict[str, Any] = {
        field: own[name]
        for field, name in (("diameter", "propeller_diameter"), ("pitch_ratio", "propeller_pitch_ratio"))
        if name in own
    }
    return tuple(replace(screw, **fields) for screw in ship.propellers or ((Propeller(),) if fields else ()))


def _rudders(rudders: tuple[Rudder, ...], own: Mapping[str, float]) -> tuple[Rudder, ...]:
    """The own area is that of all rudders in order together, shared evenly."""
    usable = sum(COUNTED[rudder.state] for rudder in rudders)
    fields: dict[str, Any] = {}
    if "rudder_area" in own and usable > 0.0:
        fields["area"] = own["rudder_area"] / usable
    if "rudder_height" in own:
        fields["height"] = own["rudder_height"]
    return tuple(replace(rudder, **fields) for rudder in rudders)


def _thrusters(ship: Ship, loading: Loading, own: Mapping[str, float]) -> tuple[Thruster, ...]:
    """Power in proportion: thrust goes with it, so the thrusters in order give together what is known of them."""
    if not own.keys() & {"bow_thrust", "stern_thrust"}:
        return ship.thrusters
    before = particulars(ship, replace(loading, own_figures={}), names=("bow_thrust", "stern_thrust"))
    share = {
        position: own[name] / before[name].value
        for position, name in (("bow", "bow_thrust"), ("stern", "stern_thrust"))
        if name in own and name in before and before[name].value > 0.0
    }
    return tuple(replace(unit, power=unit.power * share.get(unit.position, 1.0)) for unit in ship.thrusters)


def at_other_draught(loading: Loading, change: float) -> Loading:
    """The same with both draughts changed, the displacement with them, the air draught against them. [m]

    Her block coefficient is kept; an own figure for displacement or air draught goes the same way.
    """
    share = (loading.mean_draught + change) / loading.mean_draught
    moves: Mapping[str, Callable[[float], float]] = {
        "displacement": lambda value: value * share,
        "air_draught": lambda value: value - change,
    }
    own = {
        name: replace(figure, value=moves[name](figure.value)) if name in moves else figure
        for name, figure in loading.own_figures.items()
    }
    return replace(
        loading,
        draught_forward=loading.draught_forward + change,
        draught_aft=loading.draught_aft + change,
        displacement=None if loading.displacement is None else loading.displacement * share,
        air_draught=None if loading.air_draught is None else loading.air_draught - change,
        own_figures=own,
    )


def own_figure_questions(ship: Ship, loading: Loading) -> tuple[Finding, ...]:
    """What is to be asked of the own figures: against the card, against each other, against what is estimated."""
    return tuple(_questions(ship, loading))


def _questions(ship: Ship, loading: Loading) -> Iterator[Finding]:
    for name, own in loading.own_figures.items():
        others = {other: figure for other, figure in loading.own_figures.items() if other != name}
        else_taken = particulars(ship, replace(loading, own_figures=others), names=(name,)).get(name)
        words = spoken(name).capitalize()
        if else_taken is not None:
            yield from _against(words, own, else_taken)
        elif name in ("bow_thrust", "stern_thrust"):
            sentence = f"{words}: the card lists no such thruster, so clearances and trials reckon with none."
            yield _finding(Grade.CAUTION, sentence, name)
        if name not in PLACED:
            yield _finding(
                Grade.NOTE,
                f"{words}: your own figure serves the figures of this card; clearances and trials work out their own.",
                name,
            )


def _against(words: str, own: OwnFigure, other: Figure) -> Iterator[Finding]:
    mine, theirs = written(replace(other, value=own.value)), written(other)
    away = abs(own.value - other.value)
    share = away / abs(other.value) if other.value else 1.0
    deviation = other.band.deviation if other.band is not None else None
    if other.origin is Origin.GIVEN and share > ROUNDING:
        sentence = f"{words} is {mine} by your own figure and {theirs} on the card; yours is taken."
        yield _finding(Grade.NOTE, sentence, other.name, own.value, other)
    elif other.origin is Origin.COMPUTED and share > CONTRADICTION and away > FAR * (deviation or 0.0):
        sentence = (
            f"{words} is {mine} by your own figure, but {theirs} by the other figures of the card "
            f"({other.method}). One of them is wrong; yours is taken."
        )
        yield _finding(Grade.CAUTION, sentence, other.name, own.value, other)
    elif other.origin in (Origin.ESTIMATED, Origin.ASSUMED) and deviation and away > FAR * deviation:
        sentence = (
            f"{words} is {mine} by your own figure; estimated it would be {theirs}, "
            f"and yours lies {number(away / deviation, 0)} deviations off. Is it of this ship, so loaded, in this unit?"
        )
        yield _finding(Grade.CAUTION, sentence, other.name, own.value, other)


def _finding(
    grade: Grade, sentence: str, name: str, value: float | None = None, other: Figure | None = None
) -> Finding:
    return Finding(
        grade=grade,
        subject="own_figures",
        sentence=sentence,
        value=value,
        limit=None if other is None else other.value,
        unit="" if other is None else other.unit,
        place=name,
        source="CardIdentities" if other is None or other.origin is not Origin.ESTIMATED else other.source,
    )
