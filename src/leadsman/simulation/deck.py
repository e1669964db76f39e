"""What moves or holds her besides screws and rudders, from her card and the call: thrusters, tugs, anchors."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from leadsman.equipment import State
from leadsman.equipment import Thruster as ThrusterOnCard
from leadsman.physics import anchor as anchor_rules
from leadsman.physics import equipment_number, thruster, tug, tug_work
from leadsman.physics.cable import Anchor
from leadsman.physics.tug_work import TugAtWork
from leadsman.physics.tunnel import Tunnel
from leadsman.portcall import Tug
from leadsman.ship import Loading, Ship
from leadsman.simulation.parameters import Parameters
from leadsman.units import DEGREE

BOW_THRUSTER = 0.42  # of the length forward of midships (manoeuvring sheet 9, memory: 0.40 to 0.42)
STERN_THRUSTER = -0.40  # the same
REDUCED_SHARE = 0.5  # of a thruster the card calls reduced, without saying by how much [judgement]
THRUSTER_TIME = 10.0  # s to full thrust, slow end of 5 to 10 s (manoeuvring sheet 6) [memory]
TUNNEL_POWER = 250e3  # W for each square metre of diameter: 1 MW in 2.0 m, the forces sheet's example (3.1) [derived]
TUNNEL_TOP = 1.5  # diameters above the keel: the axis a diameter above it [judgement]
REACTION = 15.0  # s from an order to a tug until she begins it: common practice, no source
TUG_TIME = 20.0  # s from no power to full [judgement]
SHIFTING = 3.0 * DEGREE  # rad/s round her sector [judgement]
LINE_SECTOR = 90.0 * DEGREE  # either side of a line from a centre lead, setting
SIDE_SECTOR = 30.0 * DEGREE  # either side of straight athwart, for a tug at the ship's side, setting
LINE_LENGTH = 45.0  # m from hull to tug: where her wash costs least (forces sheet 4.3), setting
LINE_LEAD = 15.0 * DEGREE  # of a tug's line below the horizontal, setting
UNKNOWN_TUG = "conventional, open screw"  # the least of all types: nothing is credited that nobody has promised
PARALLEL_BODY = 0.35  # of the length overall: careful for fine ships, setting
HAWSE = 0.45  # of the length forward of midships (manoeuvring sheet 9) [memory]
HAWSE_OFFSET = 0.1  # of the beam from the centreline [judgement]
HAWSE_HEIGHT = 0.03  # of the length above the water where the card has no depth of hull [judgement]
ANCHOR_TYPE = "stockless"
UNKNOWN_BOTTOM = "soft mud"  # the least that holds at all
DREDGING_RATIO = 1.0  # drag over weight of an anchor at short stay, planning figure (forces sheet 6.4) [practice]
LETTING_GO = 3.0  # m/s of cable over a checked brake [judgement]
HEAVING = 9.0 / 60.0  # m/s: 9 m a minute that class asks of a windlass, from memory


@dataclass(frozen=True, kw_only=True)
class Attendance:
    """A tug of the call and how she works: at one of `tug_work.PLACES`, from a centre lead on a line, at the side both
    pushing and pulling.

    `line_length` from hull to tug [m]; `indirect` for an escort tug that lies across the flow.
    """

    tug: Tug
    place: str
    line_length: float = LINE_LENGTH
    indirect: bool = False

    def __post_init__(self) -> None:
        if self.place not in tug_work.PLACES:
            raise ValueError(f"place of tug {self.tug.name}: '{self.place}'; expected {', '.join(tug_work.PLACES)}")
        if not (math.isfinite(self.line_length) and self.line_length > 0.0):
            raise ValueError(f"line length of tug {self.tug.name}: {self.line_length}; metres above zero are needed")


@dataclass(frozen=True, kw_only=True)
class Equipped:
    """The ship with all that helps her, in the order of the gear; and what had to be taken for granted."""

    parameters: Parameters
    thrusters: tuple[str, ...]
    tugs: tuple[str, ...]
    anchors: tuple[str, ...]
    assumed: tuple[str, ...]


def equipped(
    parameters: Parameters,
    ship: Ship,
    loading: Loading,
    attending: Sequence[Attendance] = (),
    *,
    bottom: str | None = None,
) -> Equipped:
    """The moving ship with the thrusters and anchors of her card and the tugs that attend her.

    Parameters
    ----------
    parameters : Parameters
        As `estimate.estimate` makes them; what they already hold of thrusters, tugs and anchors is replaced.
    ship, loading
    attending : sequence of Attendance
    bottom : str, optional
        Of the sea bed, one of those of `anchor.holding_on`; unknown: soft mud.

    Raises
    ------
    ValueError
        For a bottom not known.
    """
    assumed: list[str] = []
    units = list(tunnels(ship, loading, parameters.hull.length, assumed))
    works = [at_work(ship, each, assumed) for each in attending]
    bowers = list(anchors(ship, loading, parameters.hull.length, bottom, assumed))
    return Equipped(
        parameters=parameters._replace(
            thrusters=tuple(unit for _, unit in units),
            tugs=tuple(works),
            anchors=tuple(unit for _, unit in bowers),
        ),
        thrusters=tuple(name for name, _ in units),
        tugs=tuple(each.tug.name for each in attending),
        anchors=tuple(name for name, _ in bowers),
        assumed=tuple(assumed),
    )


def usable_thrusters(ship: Ship) -> Iterator[tuple[str, ThrusterOnCard]]:
    """Name and card of each thruster that can be used, bow before stern."""
    for end in ("bow", "stern"):
        usable = [unit for unit in ship.thrusters if unit.position == end and unit.state is not State.DEFECTIVE]
        for number, unit in enumerate(usable, start=1):
            yield f"{end} thruster" + (f" {number}" if len(usable) > 1 else ""), unit


def tunnels(ship: Ship, loading: Loading, length: float, assumed: list[str]) -> Iterator[tuple[str, Tunnel]]:
    """Name and figures of each thruster that can be used, in their order; `length` between perpendiculars. [m]"""
    for name, unit in usable_thrusters(ship):
        yield name, tunnel(unit, name, loading, length, assumed)


def tunnel(unit: ThrusterOnCard, name: str, loading: Loading, length: float, assumed: list[str]) -> Tunnel:
    """One thruster as the kernel takes it. The depth of the tunnel is not on a card: it is estimated from the power."""
    available = REDUCED_SHARE if unit.state is State.REDUCED else 1.0
    if unit.state is State.REDUCED:
        assumed.append(f"{name}: reduced by the card; {100.0 * available:.0f} % of it is reckoned with")
    cover = tunnel_cover(unit, loading)
    if cover.immersion < 1.0:
        left = "nothing" if cover.immersion == 0.0 else f"{100.0 * cover.immersion:.0f} %"
        assumed.append(
            f"{name}: its tunnel, estimated {cover.diameter:.1f} m wide, is too near the surface at this draught; "
            f"{left} of its thrust is left"
        )
    slowest = max(unit.time_to_full_thrust or 0.0, 0.5 * (unit.time_to_reverse or 0.0)) or THRUSTER_TIME
    return Tunnel(
        position=thruster_place(unit, length),
        thrust=available * float(thruster.by_power(unit.power)),
        ramp=1.0 / slowest,
        immersion=cover.immersion,
        greatest_speed=math.inf if unit.not_effective_above is None else unit.not_effective_above,
    )


def thruster_place(unit: ThrusterOnCard, length: float) -> float:
    """Forward of midships, by the card or where such thrusters usually stand; `length` between perpendiculars. [m]"""
    usual = (BOW_THRUSTER if unit.position == "bow" else STERN_THRUSTER) * length
    given = unit.distance_from_midships
    return usual if given is None else math.copysign(given, usual)


@dataclass(frozen=True, kw_only=True)
class TunnelCover:
    """Width of a thruster's tunnel as estimated from its power [m], and what the water over it leaves of its thrust."""

    diameter: float
    immersion: float


def tunnel_cover(unit: ThrusterOnCard, loading: Loading) -> TunnelCover:
    """How well a tunnel is covered at the draught of its end; no card tells its depth, so it stands on the keel."""
    diameter = math.sqrt(unit.power / TUNNEL_POWER)
    draught = loading.draught_forward if unit.position == "bow" else loading.draught_aft
    top = draught - TUNNEL_TOP * diameter
    return TunnelCover(diameter=diameter, immersion=float(thruster.immersion_factor(top, diameter)))


def at_work(ship: Ship, each: Attendance, assumed: list[str]) -> TugAtWork:
    """A tug at her place as the kernel takes her: what is credited is the usable part of her bollard pull.

    Raises ValueError for an indirect tow by a tug that is no escort tug.
    Source: [HensenTugUse], from memory; wash and usable share are common practice, no source.
    """
    kind = each.tug.kind
    if kind not in tug.types():
        why = f"not known ({kind})" if kind else "not given"
        assumed.append(f"tug {each.tug.name}: type {why}; a conventional tug with an open screw is assumed")
        kind = UNKNOWN_TUG
    if each.indirect and kind != "escort":
        raise ValueError(f"tug {each.tug.name}: type {kind!r} does not tow indirect; only an escort tug does")
    figures = tug.tug_type(kind)
    side = tug_work.side(each.place)
    usable = tug.USABLE * each.tug.bollard_pull
    # Full depth here: what little water takes besides, the kernel takes by the depth it finds.
    wash = float(tug.wash_share(each.line_length, math.inf, 1.0))
    shallow = wash - float(tug.wash_share(each.line_length, 0.0, 1.0))
    # Only a conventional tug on a centre lead pulls with her ahead thrust; all others work over the bow, astern.
    astern = 1.0 if figures.family == "conventional" and side == 0.0 else figures.astern
    if each.indirect:
        astern = wash = 1.0
    body = ship.parallel_body_loaded or PARALLEL_BODY * ship.length_overall
    centre_lead = 0.0 if each.place == "forward" else math.pi
    return TugAtWork(
        position=tug_work.position(each.place, ship.length_overall, body),
        offset=0.5 * side * ship.beam,
        home=centre_lead if side == 0.0 else 0.5 * math.pi * side,
        sector=LINE_SECTOR if side == 0.0 else SIDE_SECTOR,
        line_pull=usable * astern * wash * math.cos(LINE_LEAD),
        push_pull=usable,
        line_row=tug_work.row(kind, "indirect" if each.indirect else "on a line"),
        push_row=tug_work.NOT_WORKED if side == 0.0 else tug_work.row(kind, "pushing"),
        wash_shallow=0.0 if each.indirect else shallow / wash,
        reaction=REACTION,
        slew=SHIFTING,
        ramp=1.0 / TUG_TIME,
    )


def anchors(
    ship: Ship, loading: Loading, length: float, bottom: str | None, assumed: list[str]
) -> Iterator[tuple[str, Anchor]]:
    """Name and figures of the bowers that can be used; none where the card tells neither mass nor equipment number.

    Source: [UFC4-159-03] and [CrenshawNavalShiphandling] for the holding, [IACSA1] for chain the card leaves out.
    """
    mass, diameter, cable = chain(ship)
    if ship.anchors.state is State.DEFECTIVE:
        assumed.append("anchors: recorded as defective; none is reckoned with")
        return
    if mass is None or diameter is None:
        assumed.append("anchors: neither mass nor equipment number is on the card; none is reckoned with")
        return
    if bottom is None:
        assumed.append(f"anchors: the bottom is not known; {UNKNOWN_BOTTOM} is taken, the least that holds")
    assumed.append(f"anchors: taken as {ANCHOR_TYPE}, on chain of {1000.0 * diameter:.0f} mm of grade 2")
    shackle = ship.anchors.shackle or anchor_rules.CLASS_SHACKLE
    freeboard = HAWSE_HEIGHT * length if ship.moulded_depth is None else ship.moulded_depth - loading.draught_forward
    for name, side, shackles in (
        ("port anchor", -1.0, ship.anchors.port_shackles),
        ("starboard anchor", 1.0, ship.anchors.starboard_shackles),
    ):
        yield (
            name,
            Anchor(
                position=HAWSE * length,
                offset=side * HAWSE_OFFSET * ship.beam,
                hawse=max(freeboard, 0.0),
                mass=mass,
                weight=float(anchor_rules.chain_weight(diameter)),
                holding=float(anchor_rules.holding_on(mass, ANCHOR_TYPE, bottom or UNKNOWN_BOTTOM)),
                drag_ratio=DREDGING_RATIO,
                brake=anchor_rules.BRAKE_SHARE * anchor_rules.chain_breaking_load(diameter, "U2"),
                most=cable if shackles is None else shackles * shackle,
                veer=LETTING_GO,
                heave=HEAVING,
            ),
        )


def chain(ship: Ship) -> tuple[float | None, float | None, float]:
    """Mass of a bower [kg], diameter of grade 2 chain [m] and cable of one bower [m], by card or equipment number."""
    mass, number = ship.anchors.anchor_mass, ship.anchors.equipment_number
    try:
        if number is None and mass is not None:
            number = equipment_number.implied_numbers(mass)[1]
        if number is None:
            return mass, None, 0.0
        rules = equipment_number.equipment(number)
    except ValueError:
        return mass, None, 0.0
    return mass or rules.anchor_mass, rules.diameters[1], 0.5 * rules.cable
