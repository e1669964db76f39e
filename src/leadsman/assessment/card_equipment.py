"""Anchors and cable against class, and what the card records as out of order today."""

from collections.abc import Iterator

from leadsman.assessment.card_reading import Check, Reading, Remark, percent, spoken
from leadsman.assessment.plausibility import middle
from leadsman.equipment import State
from leadsman.figure import Grade
from leadsman.physics import equipment_number, profile
from leadsman.units import SHACKLE

CABLE_GIVEN = (0.94, 1.20)  # of the cable class asks, equipment number from her certificate: an odd shackle
CABLE_ESTIMATED = (0.78, 1.40)  # the same, equipment number estimated: 40 % of it are 10 % of the cable


def shackles(card: Reading) -> Iterator[Remark]:
    """Three to fifteen shackles a side, and much the same on both."""
    anchors = card.ship.anchors
    fewest, most = equipment_number.PLAUSIBLE_SHACKLES
    for side in ("port", "starboard"):
        count = getattr(anchors, f"{side}_shackles")
        if count is not None and not fewest <= count <= most:
            yield Remark(
                grade=Grade.CAUTION,
                fields=(f"{side}_shackles",),
                sentence=f"{count:g} shackles on the {side} anchor are not believed; ships have 4 to 15 a side. Are "
                "these metres, or both cables together?",
                value=count,
                limit=most if count > most else fewest,
                unit="-",
            )
    port, starboard = anchors.port_shackles, anchors.starboard_shackles
    if port is not None and starboard is not None and abs(port - starboard) > 1.5:
        yield Remark(
            grade=Grade.NOTE,
            fields=("port_shackles", "starboard_shackles"),
            sentence=f"Port {port:g} and starboard {starboard:g} shackles differ by more than the odd one. Has cable "
            "been lost or cut?",
            value=port,
            limit=starboard,
            unit="-",
        )


def cable(card: Reading) -> Iterator[Remark]:
    """Cable of both bowers as class asks for her equipment number, given or estimated from her form."""
    anchors = card.ship.anchors
    port, starboard = anchors.port_shackles, anchors.starboard_shackles
    if port is None or starboard is None:
        return
    given = anchors.equipment_number
    number = estimated_equipment_number(card) if given is None else given
    low, high = CABLE_ESTIMATED if given is None else CABLE_GIVEN
    try:
        asked = equipment_number.equipment(number) if number is not None else None
    except ValueError:
        return
    if asked is None:
        return
    shackle = anchors.shackle or SHACKLE
    share = (port + starboard) * shackle / asked.cable
    if low <= share <= high:
        return
    a_side = equipment_number.shackles_a_side(asked.cable, shackle)
    yield Remark(
        grade=Grade.CAUTION,
        fields=("port_shackles", "starboard_shackles"),
        sentence=f"Port {port:g} and starboard {starboard:g} shackles are {percent(share)} of the cable class asks of "
        f"a ship with equipment number {'about ' if given is None else ''}{number:.0f}: some {a_side:.0f} a side. "
        f"{'Is the cable of both anchors written for each?' if share > 1.0 else 'Has cable been lost?'}",
        value=(port + starboard) * shackle,
        limit=asked.cable,
        unit="m",
    )


def estimated_equipment_number(card: Reading) -> float | None:
    """From displacement, freeboard and house as far as the card shows them; None where it shows too little. [-]"""
    ship, usual, displacement = card.ship, card.usual, card.full_displacement
    if usual is None or displacement is None:
        return None
    draught = ship.summer_draught or ship.beam / middle(usual.beam_to_draught)
    depth = ship.moulded_depth or middle(usual.depth) * draught
    top = ship.keel_to_highest_point
    if top is None and card.loading.air_draught is not None:
        top = card.loading.air_draught + card.loading.mean_draught
    if top is None:
        return None
    freeboard = max(depth - draught, 0.5)
    house = float(profile.house_height(top - draught, mast_height(ship.length_overall), freeboard))
    area = card.length * freeboard + usual.house[0] * ship.length_overall * house
    return float(equipment_number.equipment_number(displacement, ship.beam, freeboard + house, area, 0.0))


def mast_height(length_overall: float) -> float:
    """Of the mast above the house: 8 m, less on small ships. [m]

    Source: [CardWindage], tool default.
    """
    return min(8.0, 0.07 * length_overall)


def out_of_order(card: Reading) -> Iterator[Remark]:
    """Everything recorded as reduced or defective; later computations may not count on it."""
    ship = card.ship
    states = [("engine", "the engine", ship.engine.state), ("steering", "the steering gear", ship.steering.state)]
    states += [("anchors", "the anchors", ship.anchors.state)]
    states += [("propellers", f"propeller {n}", item.state) for n, item in enumerate(ship.propellers, start=1)]
    states += [("rudders", f"rudder {n}", item.state) for n, item in enumerate(ship.rudders, start=1)]
    states += [("thrusters", f"the {item.position} thruster", item.state) for item in ship.thrusters]
    states += [("equipment", f"the {spoken(name)}", state) for name, state in ship.equipment.items()]
    for field, name, state in states:
        if state is State.READY:
            continue
        use = "nothing computed counts on it" if state is State.DEFECTIVE else "count on less than its figures"
        yield Remark(
            grade=Grade.CAUTION,
            fields=(field,),
            sentence=f"{name[0].upper()}{name[1:]} is recorded {state.value}: {use}.",
        )
    for defect in ship.defects:
        yield Remark(grade=Grade.CAUTION, fields=("defects",), sentence=f"Defect on the card: {defect.rstrip('.')}.")


CHECKS = (
    Check(
        name="shackles",
        function=shackles,
        source="CardPractice",
        about="3 to 15 shackles a side, much the same on both",
    ),
    Check(
        name="cable",
        function=cable,
        source="IACSA1",
        about="cable of both bowers against the table for her equipment number, given or estimated",
    ),
    Check(
        name="out_of_order",
        function=out_of_order,
        source="A601",
        about="equipment recorded reduced or defective, and the defects written on the card",
    ),
)
