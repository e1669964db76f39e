"""Identities of the card: figures that say the same thing twice must agree (standards sheet 4.6)."""

from collections.abc import Iterator

from leadsman import format as text
from leadsman.assessment.card_reading import Check, Reading, Remark, horsepower, kilowatts
from leadsman.figure import Grade
from leadsman.physics import form
from leadsman.units import (
    DEGREE,
    FATHOM,
    MECHANICAL_HORSEPOWER,
    METRIC_HORSEPOWER,
    TONNE,
)

LENGTH_TOLERANCE = 0.5  # m: seen cards agree within 0.03 m [common practice, no source]
READING_TOLERANCE = 0.05  # m, metres against feet and inches: half an inch of rounding and half a decimetre
MASS_TOLERANCE = 0.005  # of the displacement: rounding to tens of tonnes and a changed constant
POWER_TOLERANCE = 0.005  # of the power: seen cards fit one of the two horsepowers this well
AIR_DRAUGHT_TOLERANCE = 0.5  # m
DRAUGHT_LAW_LOADED = 0.05  # of the displacement, near the summer draught: error of the draught law
DRAUGHT_LAW_BALLAST = 0.14  # the same in ballast


def bridge_distances(card: Reading) -> Iterator[Remark]:
    """Bridge to bow and bridge to stern make the length overall."""
    ship = card.ship
    bow, stern, length = ship.bridge_to_bow, ship.bridge_to_stern, ship.length_overall
    fields = ("bridge_to_bow", "bridge_to_stern", "length_overall")
    if bow is not None and stern is not None and abs(bow + stern - length) > LENGTH_TOLERANCE:
        yield Remark(
            grade=Grade.STOP,
            fields=fields,
            sentence=f"Bridge to bow {text.metres(bow, 1)} and bridge to stern {text.metres(stern, 1)} make "
            f"{text.metres(bow + stern, 1)}, but length overall is {text.metres(length, 1)}: one of the three is "
            "wrong.",
            value=bow + stern,
            limit=length,
            unit="m",
        )
    for name, distance in (("bridge_to_bow", bow), ("bridge_to_stern", stern)):
        if distance is not None and distance > length:
            yield Remark(
                grade=Grade.STOP,
                fields=(name, "length_overall"),
                sentence=f"{_title(name)} {text.metres(distance, 1)} is longer than the ship, "
                f"{text.metres(length, 1)}.",
                value=distance,
                limit=length,
                unit="m",
            )


def perpendiculars(card: Reading) -> Iterator[Remark]:
    """Length between perpendiculars is less than length overall, and not much less."""
    between, overall = card.ship.length_between_perpendiculars, card.ship.length_overall
    if between is None:
        return
    fields = ("length_between_perpendiculars", "length_overall")
    if between >= overall:
        yield Remark(
            grade=Grade.STOP,
            fields=fields,
            sentence=f"Length between perpendiculars {text.metres(between, 1)} is not less than length overall "
            f"{text.metres(overall, 1)}: are the two exchanged?",
            value=between,
            limit=overall,
            unit="m",
        )
    elif overall > 1.1 * between:
        # Sharp sterns and long bulbs of passenger ships reach 1.16 times; beyond that it is another ship's figure.
        yield Remark(
            grade=Grade.NOTE if overall < 1.17 * between else Grade.CAUTION,
            fields=fields,
            sentence=f"Length overall {text.metres(overall, 1)} is {overall / between:.2f} times the length between "
            f"perpendiculars {text.metres(between, 1)}; 1.02 to 1.1 is usual. Are both hers?",
            value=overall,
            limit=1.1 * between,
            unit="m",
        )


def power_and_horsepower(card: Reading) -> Iterator[Remark]:
    """Kilowatts and horsepower are one power, in metric or in mechanical horsepower."""
    engine = card.ship.engine
    if engine.power is not None and engine.horsepower is not None:
        yield from _horsepower(engine.power, engine.horsepower, "The engine", ("power", "horsepower"))
    for number, thruster in enumerate(card.ship.thrusters, start=1):
        if thruster.horsepower is not None:
            name = f"The {thruster.position} thruster"
            fields = ("thrusters", f"thruster {number}")
            yield from _horsepower(thruster.power, thruster.horsepower, name, fields)


def _horsepower(power: float, given: float, name: str, fields: tuple[str, ...]) -> Iterator[Remark]:
    metric, mechanical = power / METRIC_HORSEPOWER, power / MECHANICAL_HORSEPOWER
    tolerance = max(POWER_TOLERANCE * given, 1.0)
    if abs(given - metric) <= tolerance or abs(given - mechanical) <= tolerance:
        return
    stated = f"{name} has {kilowatts(power)} and {horsepower(given)}"
    if abs(given - power / 1000.0) <= tolerance:
        hint = "the two are the same number: which of them is it?"
    elif abs(power / 1000.0 - given * 1000.0 / METRIC_HORSEPOWER) <= tolerance or given < power / 1000.0:
        hint = "horsepower is always the larger number: are the two exchanged?"
    else:
        hint = "one of the two is wrong."
    yield Remark(
        grade=Grade.STOP,
        fields=fields,
        sentence=f"{stated}, but {kilowatts(power)} are {horsepower(metric)} metric or {horsepower(mechanical)} "
        f"mechanical: {hint}",
        value=given,
        limit=metric,
        unit="HP",
    )


def which_horsepower(card: Reading) -> Iterator[Remark]:
    """Says which of the two horsepowers the card uses, where both numbers fit."""
    engine = card.ship.engine
    if engine.power is None or engine.horsepower is None:
        return
    for name, unit in (("metric", METRIC_HORSEPOWER), ("mechanical", MECHANICAL_HORSEPOWER)):
        if abs(engine.horsepower - engine.power / unit) <= max(POWER_TOLERANCE * engine.horsepower, 1.0):
            yield Remark(
                grade=Grade.NOTE,
                fields=("power", "horsepower"),
                sentence=f"{horsepower(engine.horsepower)} on this card is {name} horsepower, "
                f"{unit / 1000.0:.4f} kW each.",
            )


def shackle(card: Reading) -> Iterator[Remark]:
    """A shackle in metres and in fathoms is one length: fifteen fathoms, 27.4 to 27.5 m."""
    metres, fathoms = card.ship.anchors.shackle, card.ship.anchors.shackle_fathoms
    if fathoms is not None and metres is not None and abs(fathoms * FATHOM - metres) > 0.15:
        yield Remark(
            grade=Grade.STOP,
            fields=("shackle", "shackle_fathoms"),
            sentence=f"A shackle of {text.metres(metres, 2)} is {metres / FATHOM:.1f} fathoms, not {fathoms:g}: one of "
            "the two is wrong (a fathom is 1.8288 m).",
            value=fathoms * FATHOM,
            limit=metres,
            unit="m",
        )
    elif metres is not None and not 27.3 <= metres <= 27.6:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("shackle",),
            sentence=f"A shackle of {text.metres(metres, 2)} is not the usual 27.4 to 27.5 m: does the card count in "
            "another length?",
            value=metres,
            limit=27.5,
            unit="m",
        )


def second_readings(card: Reading) -> Iterator[Remark]:
    """Metres and feet-and-inches of the same draught or air draught agree."""
    for name in ("draught_forward", "draught_aft", "air_draught"):
        metres, imperial = getattr(card.loading, name), getattr(card.loading, f"{name}_imperial")
        if metres is not None and imperial is not None and abs(metres - imperial) > READING_TOLERANCE:
            yield Remark(
                grade=Grade.STOP,
                fields=(name,),
                sentence=f"{_title(name)} is {text.metres(metres)} in metres but {text.metres(imperial)} by its feet "
                "and inches: which is right?",
                value=metres,
                limit=imperial,
                unit="m",
            )


def masses(card: Reading) -> Iterator[Remark]:
    """Displacement is lightship and deadweight, today and at the summer draught."""
    ship, loading = card.ship, card.loading
    yield from _sum(ship.lightship, ship.deadweight, ship.summer_displacement, "summer displacement", "deadweight")
    yield from _sum(ship.lightship, loading.deadweight, loading.displacement, "displacement", "deadweight aboard")
    yield from _heavier(ship.deadweight, ship.summer_displacement, "deadweight", "summer displacement")
    yield from _heavier(ship.lightship, ship.summer_displacement, "lightship", "summer displacement")
    yield from _heavier(loading.deadweight, loading.displacement, "deadweight aboard", "displacement")
    yield from _heavier(ship.lightship, loading.displacement, "lightship", "displacement")
    if loading.displacement is None or ship.deadweight is None:
        return
    if ship.summer_draught is not None and loading.mean_draught >= 0.97 * ship.summer_draught:
        yield from _heavier(ship.deadweight, loading.displacement, "deadweight", "displacement at the summer draught")
    if abs(loading.displacement - ship.deadweight) < 0.002 * ship.deadweight:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("displacement", "deadweight"),
            sentence=f"Displacement and deadweight are the same figure, {text.tonnes(ship.deadweight)}: displacement "
            "is deadweight and the ship herself. Was one copied for the other?",
            value=loading.displacement,
            limit=ship.deadweight,
            unit="kg",
        )


def _sum(light: float | None, dead: float | None, whole: float | None, name: str, dead_name: str) -> Iterator[Remark]:
    """Nothing is said where one of the three is missing."""
    if light is None or dead is None or whole is None:
        return
    if abs(light + dead - whole) > max(MASS_TOLERANCE * whole, 20.0 * TONNE):
        yield Remark(
            grade=Grade.STOP,
            fields=("lightship", "deadweight", name.replace(" ", "_")),
            sentence=f"Lightship {text.tonnes(light)} and {dead_name} {text.tonnes(dead)} make "
            f"{text.tonnes(light + dead)}, but {name} is {text.tonnes(whole)}: one of the three is wrong.",
            value=light + dead,
            limit=whole,
            unit="kg",
        )


def _heavier(part: float | None, whole: float | None, part_name: str, whole_name: str) -> Iterator[Remark]:
    if part is not None and whole is not None and part >= whole:
        yield Remark(
            grade=Grade.STOP,
            fields=(part_name.split()[0], "summer_displacement" if whole_name.startswith("summer") else "displacement"),
            sentence=f"{part_name.capitalize()} {text.tonnes(part)} is not less than {whole_name} "
            f"{text.tonnes(whole)}.",
            value=part,
            limit=whole,
            unit="kg",
        )


def block_and_displacement(card: Reading) -> Iterator[Remark]:
    """Draughts, displacement, length and beam make a block coefficient a ship can have."""
    block = card.block
    if block is None or 0.35 <= block <= 0.90:
        return
    loading = card.loading
    yield Remark(
        # Above one the ship is larger than the box around her: no ship is, if the length is given and not estimated.
        grade=Grade.STOP if block > 1.0 and card.ship.length_between_perpendiculars else Grade.CAUTION,
        fields=("displacement", "draught_forward", "draught_aft", "beam", "length_overall"),
        sentence=f"Displacement {text.tonnes(loading.displacement or 0.0)} at a mean draught of "
        f"{text.metres(loading.mean_draught)} makes a block coefficient of {block:.2f}; ships have 0.35 to 0.90. Is "
        "the displacement in tonnes, are the draughts in metres, and are both of the same condition?",
        value=block,
        limit=0.90 if block > 0.90 else 0.35,
        unit="-",
    )


def displacement_by_draught(card: Reading) -> Iterator[Remark]:
    """Today's displacement fits the summer displacement, brought to today's draught."""
    loading, ship, block = card.loading, card.ship, card.summer_block
    if loading.displacement is None or ship.summer_draught is None or block is None or not 0.3 < block < 0.95:
        return
    plane = form.waterplane_one_third(block)
    ratio = loading.mean_draught / ship.summer_draught
    if not 0.2 < ratio < 1.3:
        return
    today = form.block_at_draught(block, plane, ship.summer_draught, loading.mean_draught)
    expected = today * card.length * ship.beam * loading.mean_draught * card.density
    share = min(1.0, max(0.0, (1.0 - ratio) / 0.5))
    tolerance = DRAUGHT_LAW_LOADED + share * (DRAUGHT_LAW_BALLAST - DRAUGHT_LAW_LOADED)
    if abs(loading.displacement / expected - 1.0) <= tolerance:
        return
    yield Remark(
        grade=Grade.CAUTION,
        fields=("displacement", "draught_forward", "draught_aft"),
        sentence=f"At a mean draught of {text.metres(loading.mean_draught)} she should displace about "
        f"{text.tonnes(round(expected, -4))}, going by her summer figures; the card says "
        f"{text.tonnes(loading.displacement)}. Which of draught and displacement is of today?",
        value=loading.displacement,
        limit=expected,
        unit="kg",
    )


def air_draught(card: Reading) -> Iterator[Remark]:
    """Keel to highest point is air draught and draught at the mast."""
    ship, loading = card.ship, card.loading
    height, stated = ship.keel_to_highest_point, loading.air_draught
    if height is None or stated is None:
        return
    if ship.mast_from_stern is None:
        shallow, deep = sorted((loading.draught_forward, loading.draught_aft))
    else:
        shallow = deep = form.draught_along(
            loading.draught_aft, loading.draught_forward, ship.mast_from_stern / ship.length_overall
        )
    low, high = height - deep, height - shallow
    if low - AIR_DRAUGHT_TOLERANCE <= stated <= high + AIR_DRAUGHT_TOLERANCE:
        return
    hint = (
        "Keel to highest point seems to stand in its place."
        if abs(stated - height) < 0.05
        else "It may be of another condition."
    )
    yield Remark(
        grade=Grade.CAUTION,
        fields=("air_draught", "keel_to_highest_point", "draught_forward", "draught_aft"),
        sentence=f"Keel to highest point {text.metres(height)} less today's draught at the mast leaves an air draught "
        f"of {text.metres(0.5 * (low + high))}; the card says {text.metres(stated)}. {hint}",
        value=stated,
        limit=0.5 * (low + high),
        unit="m",
    )


def midships_marks(card: Reading) -> Iterator[Remark]:
    """The midships marks lie near the mean of the ends, and their difference is the list."""
    loading, ship = card.loading, card.ship
    port, starboard = loading.draught_midships_port, loading.draught_midships_starboard
    marks = [mark for mark in (port, starboard) if mark is not None]
    if not marks:
        return
    bend = sum(marks) / len(marks) - loading.mean_draught
    limit = max(0.5, card.length / 500.0)
    if abs(bend) > limit:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("draught_midships_port", "draught_midships_starboard", "draught_forward", "draught_aft"),
            sentence=f"The midships draught is {text.metres(abs(bend))} {'more' if bend > 0 else 'less'} than the "
            f"mean of the ends; she would {'sag' if bend > 0 else 'hog'} more than {text.metres(limit)}. Is one "
            "reading wrong?",
            value=bend,
            limit=limit,
            unit="m",
        )
    if port is None or starboard is None or loading.list_angle is None:
        return
    angle = form.list_from_draughts(port, starboard, ship.beam)
    if abs(angle - loading.list_angle) > 1.0 * DEGREE:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("list_angle", "draught_midships_port", "draught_midships_starboard"),
            sentence=f"The midships marks make a list of {_list(angle)}, the card says {_list(loading.list_angle)}.",
            value=loading.list_angle,
            limit=float(angle),
            unit="rad",
        )


def _list(angle: float) -> str:
    side = "starboard" if angle > 0.0 else "port"
    return f"{abs(angle) / DEGREE:.1f}° to {side}" if abs(angle) > 0.05 * DEGREE else "none"


def _title(field: str) -> str:
    return field.replace("_", " ").capitalize()


CHECKS = (
    Check(
        name="bridge_distances",
        function=bridge_distances,
        source="CardIdentities",
        about="bridge to bow + bridge to stern = length overall, within 0.5 m",
    ),
    Check(
        name="perpendiculars",
        function=perpendiculars,
        source="CardIdentities",
        about="length between perpendiculars < length overall <= 1.1 times it",
    ),
    Check(
        name="power_and_horsepower",
        function=power_and_horsepower,
        source="NISTSP811",
        about="kW and HP of engine and thrusters fit metric or mechanical horsepower within 0.5 %",
    ),
    Check(
        name="which_horsepower",
        function=which_horsepower,
        source="NISTSP811",
        about="says which horsepower the card uses",
    ),
    Check(
        name="shackle",
        function=shackle,
        source="CardIdentities",
        about="one shackle in metres and in fathoms is the same length, about 15 fathoms",
    ),
    Check(
        name="second_readings",
        function=second_readings,
        source="CardIdentities",
        about="metres and feet-and-inches of draughts and air draught agree within 0.05 m",
    ),
    Check(
        name="masses",
        function=masses,
        source="CardIdentities",
        about="displacement = lightship + deadweight, today and at the summer draught",
    ),
    Check(
        name="block_and_displacement",
        function=block_and_displacement,
        source="CardIdentities",
        about="block coefficient from displacement and draughts within 0.35 to 0.90",
    ),
    Check(
        name="displacement_by_draught",
        function=displacement_by_draught,
        source="DerivedForm",
        about="displacement today against the summer displacement brought to today's draught",
    ),
    Check(
        name="air_draught",
        function=air_draught,
        source="CardIdentities",
        about="keel to highest point - draught at the mast = air draught, within 0.5 m",
    ),
    Check(
        name="midships_marks",
        function=midships_marks,
        source="CardIdentities",
        about="hog or sag within 0.5 m or length/500; list agrees with the two marks",
    ),
)
