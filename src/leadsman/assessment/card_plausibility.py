"""Hull, weights and heights against what ships of her type and size usually are (standards sheet 6): questions only."""

import math
from collections.abc import Callable, Iterator

from leadsman import format as text
from leadsman.assessment.card_reading import Check, Reading, Remark, percent
from leadsman.assessment.plausibility import Range, distance
from leadsman.figure import Grade
from leadsman.physics import density, form
from leadsman.units import DEGREE, FRESH_WATER_DENSITY, TONNE

FAR = 0.14  # natural logarithm: 15 % outside a usual range turns an unusual figure into a suspect one
NEAR = 0.02  # rounding
TALLEST = 80.0  # m above the keel; the highest ships afloat have about 76 m [common practice, no source]
HEIGHT_TO_LENGTH = (0.13, 0.42)  # keel to highest point by length overall, from 80 m up [common practice, no source]
LEAST_STABILITY = 0.15  # m, initial metacentric height, 2008 IS Code A/2.2
STIFFEST = 0.35  # of the beam, metacentric height; above it she would roll in under five seconds
MOST_TRIM = 0.025  # of the length, by the stern in ballast [common practice, no source]


def form_ratios(card: Reading) -> Iterator[Remark]:
    """Length, beam and draught in the proportion usual for her type."""
    usual, ship, loading = card.usual, card.ship, card.loading
    if usual is None:
        return
    yield from unusual(
        card, "length overall", ship.length_overall, usual.length, ("length_overall",), lambda v: text.metres(v, 0)
    )
    proportion = card.length / ship.beam
    yield from unusual(card, "length by beam", proportion, usual.length_to_beam, ("length_overall", "beam"), _ratio)
    draught = ship.summer_draught or (loading.mean_draught if loading.condition == "loaded" else None)
    if draught is not None:
        field = "summer_draught" if ship.summer_draught else "draught_forward"
        yield from unusual(card, "beam by draught", ship.beam / draught, usual.beam_to_draught, ("beam", field), _ratio)


def fullness(card: Reading) -> Iterator[Remark]:
    """Block coefficients, of the summer draught and of today, usual for her type."""
    usual, loading = card.usual, card.loading
    if usual is None:
        return
    if card.summer_block is not None:
        summer = ("summer_displacement", "summer_draught", "beam", "length_overall", "deadweight", "lightship")
        yield from unusual(card, "summer block coefficient", card.summer_block, usual.block, summer, _ratio, 0.06)
    if card.block is None or not 0.35 <= card.block <= 0.90:
        return
    # A hull is finer at a lesser draught; how much finer goes by how much less she draws than at her marks.
    low, high = usual.block
    draught = card.ship.summer_draught
    ratio = 0.9 if draught is None else min(1.0, max(0.3, loading.mean_draught / draught))
    if draught is None and loading.condition == "ballast":
        ratio = 0.45
    low = form.block_at_draught(low, form.waterplane_one_third(low), 1.0, ratio)
    fields = ("displacement", "draught_forward", "draught_aft", "beam", "length_overall")
    yield from unusual(card, "block coefficient today", card.block, (low, high), fields, _ratio, 0.06)


def unusual(
    card: Reading,
    name: str,
    value: float,
    bounds: Range,
    fields: tuple[str, ...],
    write: Callable[[float], str],
    far: float = FAR,
) -> Iterator[Remark]:
    """A question about a figure outside what is usual for her type: a note, and a caution far outside."""
    away = distance(value, bounds)
    if away <= NEAR or card.usual is None:
        return
    yield Remark(
        grade=Grade.CAUTION if away > far else Grade.NOTE,
        fields=fields,
        sentence=f"{name[0].upper()}{name[1:]} {write(value)} is {'far ' if away > far else ''}outside the "
        f"{write(bounds[0])} to {write(bounds[1])} usual for a {card.usual.size}. Is it hers?",
        value=value,
        limit=bounds[0] if value < bounds[0] else bounds[1],
    )


def _ratio(value: float) -> str:
    return f"{value:.2f}"


def lightship(card: Reading) -> Iterator[Remark]:
    """The ship herself weighs the share of the summer displacement usual for her type."""
    ship, usual = card.ship, card.usual
    if usual is None or ship.deadweight is None:
        return
    fields = ("deadweight", "lightship", "displacement")
    whole = card.summer_displacement
    if whole is not None:
        light = whole - ship.deadweight
        if light > 0.0:
            yield from unusual(
                card, "lightship by summer displacement", light / whole, usual.lightship, fields, percent
            )
        return
    # Without either, today's displacement near the marks stands for the summer displacement.
    loading, draught = card.loading, ship.summer_draught
    if loading.displacement is None or draught is None or loading.mean_draught < 0.85 * draught:
        return
    block = card.block or 0.0
    if not 0.35 <= block <= 0.90:
        return
    exponent = form.waterplane_one_third(block) / block
    whole = loading.displacement * (draught / loading.mean_draught) ** exponent
    share = 1.0 - ship.deadweight / whole
    low, high = usual.lightship
    if 0.8 * low - 0.03 <= share <= 1.2 * high + 0.03:
        return
    yield Remark(
        grade=Grade.CAUTION,
        fields=("displacement", "deadweight", "draught_forward", "draught_aft"),
        sentence=f"Today's displacement {text.tonnes(loading.displacement)} brought to the summer draught leaves "
        f"{percent(share)} of it for the ship herself after a deadweight of {text.tonnes(ship.deadweight)}; "
        f"{percent(low)} to {percent(high)} is usual for a {usual.size}. Are both hers?",
        value=share,
        limit=low if share < low else high,
        unit="-",
    )


def draughts(card: Reading) -> Iterator[Remark]:
    """Trim a ship can have, and no deeper than her marks allow in today's water."""
    ship, loading = card.ship, card.loading
    ends = ("draught_forward", "draught_aft")
    if loading.trim < -max(0.10, 0.001 * card.length):
        yield Remark(
            grade=Grade.CAUTION,
            fields=ends,
            sentence=f"She is trimmed {text.metres(-loading.trim)} by the head: forward "
            f"{text.metres(loading.draught_forward)}, aft {text.metres(loading.draught_aft)}. Are the two exchanged? "
            "If not, expect her to steer badly.",
            value=loading.trim,
            limit=0.0,
            unit="m",
        )
    if loading.trim > MOST_TRIM * card.length or loading.draught > 3.0 * min(
        loading.draught_forward, loading.draught_aft
    ):
        yield Remark(
            grade=Grade.CAUTION,
            fields=ends,
            sentence=f"A trim of {text.metres(abs(loading.trim))} is more than a ship of "
            f"{text.metres(card.length, 0)} is sailed with. Is one of the draughts miswritten, or in feet?",
            value=loading.trim,
            limit=MOST_TRIM * card.length,
            unit="m",
        )
    if ship.summer_draught is not None:
        block = 0.7 if card.usual is None else card.usual.block[1]
        allowed = ship.summer_draught + density.sinkage(
            ship.summer_draught, block, form.waterplane_one_third(block), 1025.0, min(card.density, 1025.0)
        )
        if loading.condition == "loaded" and ship.summer_draught < 0.45 * loading.draught:
            allowed = math.inf  # the summer draught itself is in doubt; the ratios above ask about it
        if loading.mean_draught > allowed + 0.05:
            yield Remark(
                grade=Grade.CAUTION,
                fields=(*ends, "summer_draught"),
                sentence=f"Her mean draught {text.metres(loading.mean_draught)} is deeper than her summer draught "
                f"allows in this water, {text.metres(allowed)}. Are the draughts in metres and of this ship?",
                value=loading.mean_draught,
                limit=allowed,
                unit="m",
            )
    elif card.usual is not None:
        deepest = ship.beam / card.usual.beam_to_draught[0]
        if loading.draught > 1.25 * deepest:
            yield Remark(
                grade=Grade.CAUTION,
                fields=ends,
                sentence=f"A draught of {text.metres(loading.draught)} is more than a {card.usual.size} of "
                f"{text.metres(ship.beam, 1)} beam floats, about {text.metres(deepest, 1)}. Is it in metres?",
                value=loading.draught,
                limit=deepest,
                unit="m",
            )


def light_draughts(card: Reading) -> Iterator[Remark]:
    """No ship floats higher than her own weight lets her."""
    loading, usual = card.loading, card.usual
    if usual is None:
        return
    draught = card.ship.summer_draught or card.ship.beam / usual.beam_to_draught[1]
    exponent = form.waterplane_one_third(usual.block[0]) / usual.block[0]
    lightest = draught * (0.75 * usual.lightship[0]) ** (1.0 / exponent)
    if loading.mean_draught < lightest:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("draught_forward", "draught_aft"),
            sentence=f"At a mean draught of {text.metres(loading.mean_draught)} she would displace less than the "
            f"empty ship; a {usual.size} of her size draws at least {text.metres(lightest, 1)} empty. Is a decimal "
            "point wrong?",
            value=loading.mean_draught,
            limit=lightest,
            unit="m",
        )


def heights(card: Reading) -> Iterator[Remark]:
    """Keel to highest point and air draught that ships have."""
    ship, loading = card.ship, card.loading
    figures = [("keel_to_highest_point", "keel to highest point", ship.keel_to_highest_point)]
    if loading.air_draught is not None:
        figures.append(("air_draught", "air draught and draught together", loading.air_draught + loading.mean_draught))
    low, high = HEIGHT_TO_LENGTH
    for field, name, height in figures:
        if height is None:
            continue
        share = height / ship.length_overall
        if height <= TALLEST and (ship.length_overall < 80.0 or low <= share <= high):
            continue
        yield Remark(
            grade=Grade.CAUTION,
            fields=(field,),
            sentence=f"{name.capitalize()} {text.metres(height, 1)} on a ship of "
            f"{text.metres(ship.length_overall, 0)} is {'more' if share > high or height > TALLEST else 'less'} than "
            "ships have. Is it in metres, and to the highest point?",
            value=height,
            limit=min(TALLEST, high * ship.length_overall) if share > low else low * ship.length_overall,
            unit="m",
        )
    depth = ship.moulded_depth
    if depth is not None and ship.keel_to_highest_point is not None and ship.keel_to_highest_point < depth:
        yield Remark(
            grade=Grade.STOP,
            fields=("keel_to_highest_point", "moulded_depth"),
            sentence=f"Keel to highest point {text.metres(ship.keel_to_highest_point, 1)} is less than the moulded "
            f"depth {text.metres(depth, 1)}: her mast would end below her deck.",
            value=ship.keel_to_highest_point,
            limit=depth,
            unit="m",
        )


def stability(card: Reading) -> Iterator[Remark]:
    """A metacentric height that ships sail with, by the code, by the beam and by type."""
    height, ship, loading = card.loading.metacentric_height, card.ship, card.loading
    if height is None:
        return
    if height < LEAST_STABILITY:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("metacentric_height",),
            sentence=f"A metacentric height of {text.metres(height)} is below the 0.15 m of the stability code. Is it "
            "fluid (corrected for free surface), and right? She would heel far in a turn.",
            value=height,
            limit=LEAST_STABILITY,
            unit="m",
        )
    elif height > STIFFEST * ship.beam:
        period = form.roll_period(card.length, ship.beam, loading.mean_draught, height)
        yield Remark(
            grade=Grade.CAUTION,
            fields=("metacentric_height",),
            sentence=f"A metacentric height of {text.metres(height)} on {text.metres(ship.beam, 1)} beam would have "
            f"her roll in {period:.1f} s. Is it in metres?",
            value=height,
            limit=STIFFEST * ship.beam,
            unit="m",
        )
    elif card.usual is not None:
        low, high = card.usual.stability_loaded if loading.condition == "loaded" else card.usual.stability_ballast
        bounds = (low * ship.beam, high * ship.beam)
        yield from unusual(
            card, "metacentric height", height, bounds, ("metacentric_height",), lambda v: text.metres(v), math.log(2.0)
        )


def list_and_density(card: Reading) -> Iterator[Remark]:
    """A list worth a word, and water that is neither fresh nor sea."""
    loading = card.loading
    if loading.list_angle is not None and abs(loading.list_angle) >= 1.0 * DEGREE:
        sinkage = 0.5 * card.ship.beam * math.sin(abs(loading.list_angle))
        yield Remark(
            grade=Grade.CAUTION if abs(loading.list_angle) > 3.0 * DEGREE else Grade.NOTE,
            fields=("list_angle",),
            sentence=f"She lists {abs(loading.list_angle) / DEGREE:.1f}°: her low side draws up to "
            f"{text.metres(sinkage)} more, and she will carry helm.",
            value=loading.list_angle,
            limit=1.0 * DEGREE,
            unit="rad",
        )
    if loading.water_density is not None and not FRESH_WATER_DENSITY - 2.0 <= loading.water_density <= 1032.0:
        yield Remark(
            grade=Grade.CAUTION,
            fields=("water_density",),
            sentence=f"Water of {loading.water_density:.0f} kg/m³ is neither fresh (1000) nor sea (1025 to 1030). Was "
            "the hydrometer read right?",
            value=loading.water_density,
            limit=1025.0,
            unit="kg/m³",
        )


def tonnage(card: Reading) -> Iterator[Remark]:
    """Net tonnage below gross, deadweight and gross of one order."""
    ship = card.ship
    if ship.gross_tonnage is not None and ship.net_tonnage is not None and ship.net_tonnage >= ship.gross_tonnage:
        yield Remark(
            grade=Grade.STOP,
            fields=("net_tonnage", "gross_tonnage"),
            sentence=f"Net tonnage {ship.net_tonnage:.0f} is not less than gross tonnage {ship.gross_tonnage:.0f}.",
            value=ship.net_tonnage,
            limit=ship.gross_tonnage,
            unit="-",
        )
    if ship.gross_tonnage is None or ship.deadweight is None:
        return
    ratio = ship.deadweight / TONNE / ship.gross_tonnage
    if not 0.04 <= ratio <= 2.6:  # cruise ships about 0.07, laden bulk carriers about 1.9 [common practice, no source]
        yield Remark(
            grade=Grade.CAUTION,
            fields=("gross_tonnage", "deadweight"),
            sentence=f"Deadweight {text.tonnes(ship.deadweight)} against a gross tonnage of {ship.gross_tonnage:.0f} "
            "fits no ship; is one of them another figure?",
            value=ratio,
            limit=2.6 if ratio > 1.0 else 0.04,
            unit="-",
        )


CHECKS = (
    Check(
        name="form_ratios",
        function=form_ratios,
        source="CardPractice",
        about="length, length/beam and beam/draught usual for type and size",
    ),
    Check(
        name="fullness",
        function=fullness,
        source="NILIM309",
        about="block coefficient of the summer draught and of today usual for type and size",
    ),
    Check(
        name="lightship",
        function=lightship,
        source="CardPractice",
        about="lightship (displacement - deadweight) usual for type and size",
    ),
    Check(
        name="draughts",
        function=draughts,
        source="CardPractice",
        about="trim by the head, large trim, deeper than the summer draught in this water",
    ),
    Check(
        name="light_draughts",
        function=light_draughts,
        source="CardPractice",
        about="no lighter than the empty ship",
    ),
    Check(
        name="heights",
        function=heights,
        source="CardPractice",
        about="keel to highest point and air draught in proportion to length; mast above deck",
    ),
    Check(
        name="stability",
        function=stability,
        source="ISCode2008",
        about="metacentric height at least 0.15 m, at most 0.35 of the beam, usual for type",
    ),
    Check(
        name="list_and_density",
        function=list_and_density,
        source="CardPractice",
        about="list of 1° or more; density of neither fresh nor sea water",
    ),
    Check(
        name="tonnage",
        function=tonnage,
        source="CardPractice",
        about="net tonnage below gross; deadweight and gross of one order",
    ),
)
