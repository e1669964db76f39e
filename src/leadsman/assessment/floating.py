"""How she floats and what hull the formulas see: each figure with its provenance, nothing silently assumed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from leadsman import format as text
from leadsman.assessment.estimates import OWN, particulars
from leadsman.figure import Band, Figure, Finding, Grade, Origin
from leadsman.physics import uncertainty
from leadsman.physics.squat import Hull
from leadsman.portcall import PortCall
from leadsman.units import FRESH_WATER_DENSITY, SEA_WATER_DENSITY

DRAUGHT_DEVIATION = uncertainty.default("draught_reading_calm").value  # m, one standard deviation
DENSITY_SHARE = (
    1.0  # of block by waterplane coefficient, for the sinkage in lighter water; 1 is its greatest, so careful
)
CAREFUL = 2.0  # deviations of an estimate: the end of what is usual, where squat is greater
FULLEST = 0.88  # block coefficient of the fullest of usual ships, for a ship of unknown type

Keep: TypeAlias = Callable[[Figure], float]
"""Takes a figure, remembers it, gives back its value."""


@dataclass(frozen=True, kw_only=True)
class Floating:
    """The hull as the clearance formulas see it, the figures behind it, and what had to be assumed."""

    hull: Hull
    draught: float
    """Deepest point in the water she will sail in. [m]"""
    density_sinkage: float
    """How much deeper she floats there than where her draughts were read. [m]"""
    draught_at_mast: float
    """Least draught that the highest point can have below it, in the density that floats her highest. [m]"""
    air_draught: float | None
    figures: Mapping[str, Figure]
    findings: tuple[Finding, ...]


def floating(call: PortCall) -> Floating:
    """Draughts in the water she will sail in, and the hull for squat."""
    ship, loading = call.ship, call.loading
    figures: dict[str, Figure] = {}
    findings: list[Finding] = []

    def keep(figure: Figure) -> float:
        figures[figure.name] = figure
        return figure.value

    length = _length(call, keep, findings)
    keep(_given(call, "beam", ship.beam, "m", "ship:beam_m"))
    for end in ("draught_forward", "draught_aft"):
        band = Band(deviation=DRAUGHT_DEVIATION)
        keep(_given(call, end, getattr(loading, end), "m", f"ship:loading.{end}_m", band))
    block = _block_coefficient(call, length, keep, findings)
    sinkage = _density_sinkage(call, keep, findings)
    draught = keep(
        Figure(
            name="draught",
            value=loading.draught + sinkage,
            unit="m",
            origin=Origin.COMPUTED,
            method="deeper end, and the sinkage in the lighter water",
            inputs={
                "draught_forward": loading.draught_forward,
                "draught_aft": loading.draught_aft,
                "density_sinkage": sinkage,
            },
            band=Band(deviation=DRAUGHT_DEVIATION),
        )
    )
    if ship.bulbous_bow is None:
        findings.append(
            _note(
                "The card does not say whether she has a bulbous bow; squat is computed as without, the careful side."
            )
        )
    hull = Hull(
        length_between_perpendiculars=length,
        beam=ship.beam,
        draught=loading.mean_draught + sinkage,
        trim=loading.trim,
        block_coefficient=block,
        propellers=float(max(1, len(ship.propellers))),
        bulbous_bow=float(bool(ship.bulbous_bow)),
        transom_stern=0.0,
    )
    at_mast = _draught_at_mast(call)
    return Floating(
        hull=hull,
        draught=draught,
        density_sinkage=sinkage,
        draught_at_mast=at_mast,
        air_draught=_air_draught(call, at_mast, keep, findings),
        figures=figures,
        findings=tuple(findings),
    )


def _length(call: PortCall, keep: Keep, findings: list[Finding]) -> float:
    """Between perpendiculars; where estimated, its short end, for squat grows as length shrinks. [m]"""
    name = "length_between_perpendiculars"
    found = particulars(call.ship, call.loading, names=(name,))[name]
    if found.origin is Origin.GIVEN:
        return keep(_with_place(call, found, f"ship:{name}_m"))
    short = keep(_careful(found, -CAREFUL, "short"))
    findings.append(
        _note(
            f"The card gives no length between perpendiculars; {text.metres(short, 1)} is taken, the short end of what "
            f"is usual ({text.metres(found.value, 1)}), for squat grows as length shrinks."
        )
    )
    return short


def _block_coefficient(call: PortCall, length: float, keep: Keep, findings: list[Finding]) -> float:
    """From the displacement of the card or the handler; else estimated, its full end, for squat grows with it."""
    found = particulars(call.ship, call.loading, names=("displacement", "block_coefficient"))
    mass, block = found.get("displacement"), found.get("block_coefficient")
    if block is not None and block.origin is Origin.GIVEN:
        return keep(block)
    if mass is not None and mass.origin is Origin.GIVEN:
        return keep(_from_displacement(call, length, mass.value))
    if block is None:
        block = _assumed("block_coefficient", FULLEST, "-", "the fullest of usual ships: squat grows with it")
        full, why = keep(block), "the fullest of usual ships"
    else:
        block = replace(block, origin=Origin.ESTIMATED, source=(mass or block).source)
        full, why = keep(_careful(block, CAREFUL, "full")), f"the full end of what is estimated ({block.value:.2f})"
    findings.append(
        Finding(
            grade=Grade.CAUTION,
            subject="ship",
            sentence=f"The card gives no displacement; a block coefficient of {full:.2f} is taken, {why}, "
            "so squat comes out large.",
            source=block.source,
        )
    )
    return full


def _from_displacement(call: PortCall, length: float, displacement: float) -> Figure:
    density = call.loading.water_density or SEA_WATER_DENSITY
    mean = call.loading.mean_draught
    return Figure(
        name="block_coefficient",
        value=displacement / (density * length * call.ship.beam * mean),
        unit="-",
        origin=Origin.COMPUTED,
        method="displacement / (density x length x beam x mean draught)",
        inputs={
            "displacement": displacement,
            "water_density": density,
            "length_between_perpendiculars": length,
            "beam": call.ship.beam,
            "mean_draught": mean,
        },
    )


def _careful(figure: Figure, deviations: float, end: str) -> Figure:
    """The figure moved to the end of its band that leaves less water."""
    band = figure.band
    away = deviations * (band.deviation or 0.0) if band is not None else 0.0
    method = f"{figure.method}; the {end} end, {abs(deviations):.0f} deviations from {figure.value:.4g}"
    return replace(
        figure, value=figure.value + away, method=method, inputs={**figure.inputs, figure.name: figure.value}
    )


def _with_place(call: PortCall, figure: Figure, key: str) -> Figure:
    """A figure of the card with the line it stands on; an own figure keeps its own words."""
    return figure if figure.source.startswith(OWN) else replace(figure, source=call.given_in(key))


def _density_sinkage(call: PortCall, keep: Keep, findings: list[Finding]) -> float:
    """How much deeper she floats in the water of the passage than in the water the draughts were read in. [m]"""
    read, sailed = call.loading.water_density, call.forecast.water_density
    if read is None:
        read = keep(
            _assumed("density_of_draughts", SEA_WATER_DENSITY, "kg/m³", "sea water: the careful side for sinkage")
        )
        findings.append(
            _note("Density of the water the draughts were read in is not given; sea water, 1025 kg/m³, assumed.")
        )
    else:
        keep(_given(call, "density_of_draughts", read, "kg/m³", "ship:loading.water_density_kg_m3"))
    if sailed is None:
        sailed = keep(
            _assumed("density_of_passage", FRESH_WATER_DENSITY, "kg/m³", "fresh water: she floats deepest in it")
        )
        findings.append(
            _note("Density of the water of the passage is not given; fresh water assumed, in which she floats deepest.")
        )
    else:
        keep(_given(call, "density_of_passage", sailed, "kg/m³", "forecast:water_density_kg_m3"))
    sinkage = max(0.0, call.loading.mean_draught * DENSITY_SHARE * (read / sailed - 1.0))
    return keep(
        Figure(
            name="density_sinkage",
            value=sinkage,
            unit="m",
            origin=Origin.COMPUTED,
            method="draught x (density read / density sailed - 1), waterplane as full as the block: its greatest",
            source="water.md 3.4, derived",
            inputs={"mean_draught": call.loading.mean_draught, "density_read": read, "density_sailed": sailed},
        )
    )


def _draught_at_mast(call: PortCall) -> float:
    """The least it can be: no credit for floating deeper, but less where she may float higher. [m]

    The lesser end where the mast's place is unknown.
    """
    ship, loading = call.ship, call.loading
    if ship.mast_from_stern is None:
        return min(loading.draught_forward, loading.draught_aft) - _density_rise(call)
    share = ship.mast_from_stern / ship.length_overall
    as_read = loading.draught_aft + (loading.draught_forward - loading.draught_aft) * share
    return as_read - _density_rise(call)


def _density_rise(call: PortCall) -> float:
    """How much higher she may float than where the draughts were read: nothing is assumed that lowers her mast. [m]

    A density that is not given is taken on the side that lifts her: fresh water read, sea water sailed.
    """
    read = call.loading.water_density or FRESH_WATER_DENSITY
    sailed = call.forecast.water_density or SEA_WATER_DENSITY
    return max(0.0, call.loading.mean_draught * DENSITY_SHARE * (1.0 - read / sailed))


def _air_draught(call: PortCall, at_mast: float, keep: Keep, findings: list[Finding]) -> float | None:
    """The handler's own; else the larger of what the card states and what its heights give."""
    ship, rise = call.ship, _density_rise(call)
    stated = None if call.loading.air_draught is None else call.loading.air_draught + rise
    computed = None if ship.keel_to_highest_point is None else ship.keel_to_highest_point - at_mast
    own = call.loading.own_figures.get("air_draught")
    if own is not None:
        figure = particulars(ship, call.loading, names=("air_draught",))["air_draught"]
        _tell_if_lower(own.value + rise, max(computed or 0.0, stated or 0.0), findings)
        return keep(_risen(figure, rise))
    if computed is None and stated is None:
        return None
    if computed is not None and (stated is None or computed >= stated):
        return keep(
            Figure(
                name="air_draught",
                value=computed,
                unit="m",
                origin=Origin.COMPUTED,
                method="keel to highest point less draught at the mast",
                source="water.md 5, derived",
                inputs={"keel_to_highest_point": ship.keel_to_highest_point or 0.0, "draught_at_mast": at_mast},
            )
        )
    if computed is not None and stated is not None and stated - computed > 0.005:
        findings.append(
            _note(
                f"By the card's own air draught it is {text.metres(stated)}; keel to highest point less draught gives "
                f"{text.metres(computed)}. The larger is used."
            )
        )
    as_stated = _given(call, "air_draught", call.loading.air_draught or 0.0, "m", "ship:loading.air_draught_m")
    return keep(_risen(as_stated, rise))


def _risen(figure: Figure, rise: float) -> Figure:
    """The air draught as said, and what she may rise in denser water."""
    if rise == 0.0:
        return figure
    how = "air draught as said, and what she may rise in denser water"
    inputs = {"air_draught": figure.value, "density_rise": rise}
    return replace(figure, value=figure.value + rise, origin=Origin.COMPUTED, method=how, inputs=inputs)


def _tell_if_lower(own: float, by_card: float, findings: list[Finding]) -> None:
    if by_card - own > 0.005:
        findings.append(
            Finding(
                grade=Grade.CAUTION,
                subject="ship",
                sentence=f"Your own air draught, {text.metres(own)} in this water, is less than the card's "
                f"{text.metres(by_card)}; yours is used.",
                value=own,
                limit=by_card,
                unit="m",
            )
        )


def _given(call: PortCall, name: str, value: float, unit: str, key: str, band: Band | None = None) -> Figure:
    return Figure(name=name, value=value, unit=unit, origin=Origin.GIVEN, source=call.given_in(key), band=band)


def _assumed(name: str, value: float, unit: str, method: str) -> Figure:
    return Figure(
        name=name, value=value, unit=unit, origin=Origin.ASSUMED, method=method, source="common practice, no source"
    )


def _note(sentence: str) -> Finding:
    return Finding(grade=Grade.NOTE, subject="ship", sentence=sentence)
