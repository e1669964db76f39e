"""How she floats and what hull the formulas see: each figure with its provenance, nothing silently assumed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from leadsman.figure import Band, Figure, Finding, Grade, Origin
from leadsman.physics import uncertainty
from leadsman.physics.squat import Hull
from leadsman.portcall import PortCall
from leadsman.units import FRESH_WATER_DENSITY, SEA_WATER_DENSITY

DRAUGHT_DEVIATION = uncertainty.default("draught_reading_calm").value  # m, one standard deviation
DENSITY_SHARE = (
    1.0  # of block by waterplane coefficient, for the sinkage in lighter water; 1 is its greatest, so careful
)


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
    """Between perpendiculars. [m]"""
    name, given = "length_between_perpendiculars", call.ship.length_between_perpendiculars
    if given is not None:
        return keep(_given(call, name, given, "m", f"ship:{name}_m"))
    assumed = keep(_assumed(name, 0.96 * call.ship.length_overall, "m", "0.96 x length overall"))
    findings.append(
        _note(f"The card gives no length between perpendiculars; {assumed:.1f} m assumed, 0.96 of length overall.")
    )
    return assumed


def _block_coefficient(call: PortCall, length: float, keep: Keep, findings: list[Finding]) -> float:
    ship, loading = call.ship, call.loading
    density = loading.water_density or SEA_WATER_DENSITY
    if loading.displacement is not None:
        block = loading.displacement / (density * length * ship.beam * loading.mean_draught)
        keep(
            Figure(
                name="block_coefficient",
                value=block,
                unit="-",
                origin=Origin.COMPUTED,
                method="displacement / (density x length x beam x mean draught)",
                inputs={
                    "displacement": loading.displacement,
                    "water_density": density,
                    "length_between_perpendiculars": length,
                    "beam": ship.beam,
                    "mean_draught": loading.mean_draught,
                },
            )
        )
        return block
    block = keep(_assumed("block_coefficient", 0.88, "-", "the fullest of usual ships: squat grows with it"))
    findings.append(
        Finding(
            grade=Grade.CAUTION,
            subject="ship",
            sentence="The card gives no displacement; a block coefficient of 0.88 is assumed, the fullest of usual "
            "ships, so squat comes out large.",
            source="common practice, no source",
        )
    )
    return block


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
    ship, rise = call.ship, _density_rise(call)
    stated = None if call.loading.air_draught is None else call.loading.air_draught + rise
    computed = None if ship.keel_to_highest_point is None else ship.keel_to_highest_point - at_mast
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
                f"By the card's own air draught it is {stated:.2f} m; keel to highest point less draught gives "
                f"{computed:.2f} m. The larger is used."
            )
        )
    as_stated = _given(call, "air_draught", stated or 0.0, "m", "ship:loading.air_draught_m")
    if rise == 0.0:
        return keep(as_stated)
    how = "air draught of the card, and what she may rise in denser water"
    return keep(replace(as_stated, origin=Origin.COMPUTED, method=how, inputs={"density_rise": rise}))


def _given(call: PortCall, name: str, value: float, unit: str, key: str, band: Band | None = None) -> Figure:
    return Figure(name=name, value=value, unit=unit, origin=Origin.GIVEN, source=call.given_in(key), band=band)


def _assumed(name: str, value: float, unit: str, method: str) -> Figure:
    return Figure(
        name=name, value=value, unit=unit, origin=Origin.ASSUMED, method=method, source="common practice, no source"
    )


def _note(sentence: str) -> Finding:
    return Finding(grade=Grade.NOTE, subject="ship", sentence=sentence)
