"""What drives, steers and holds her: propeller, wake, thrust ahead and astern, rudders, thrusters, cable.

Nothing recorded defective is counted here; what is recorded reduced is counted half, and says so.
"""

from collections.abc import Mapping

from leadsman import format as text
from leadsman.assessment.card_equipment import estimated_equipment_number
from leadsman.assessment.card_orders import EFFICIENCY_RATIO, RESISTANCE_RATIO
from leadsman.assessment.card_reading import Reading
from leadsman.assessment.estimate import (
    Estimate,
    Known,
    Meaning,
    Missing,
    Worked,
    always,
    computed,
    estimated,
    given,
    of_range,
    read,
)
from leadsman.equipment import EngineKind, EngineOrder, Propeller, State
from leadsman.figure import Figure
from leadsman.physics import hull_interaction, propeller_series, resistance, rudder, thruster
from leadsman.ship import ShipType
from leadsman.units import SEA_WATER_DENSITY

COUNTED = {State.READY: 1.0, State.REDUCED: 0.5, State.DEFECTIVE: 0.0}  # share a computation may use, judgement
# Propeller diameter / summer draught: KVLCC2 0.47, Esso Osaka 0.42, KCS 0.73, S175 0.77; judgement between.
DIAMETERS = {
    ShipType.TANKER: (0.40, 0.56),
    ShipType.BULK_CARRIER: (0.40, 0.58),
    ShipType.COASTER: (0.44, 0.60),
    ShipType.CONTAINER: (0.58, 0.80),
    ShipType.TUG: (0.52, 0.75),
}
OTHER_DIAMETERS = (0.52, 0.80)
SLIP = 0.05  # apparent, at sea speed: 0 to 15 % for tankers, manoeuvring sheet 5, memory
SLIP_DEVIATION = 0.06
AREA_RATIO = 0.55  # of the screw's blades; 0.55 to 0.70 usual, manoeuvring sheet 5
ASTERN_SHARE = (0.55, 0.80)  # of ahead power where the card is silent: cards seen 65, 70, 70, 75 %
THRUST_RATIO, TORQUE_RATIO = 0.74, 0.92  # astern over ahead at rest, B4-70 P/D 0.8: manoeuvring sheet 5, computed
CONTROLLABLE_RATIO = 0.68  # the same of thrust for a blade turned over, manoeuvring sheet 4.4, judgement
RUDDER_HEIGHT = 0.75  # of the summer draught: manoeuvring sheet 3.6, memory
RUDDER_TYPES = {"conventional": "normal", "spade": "normal", "fishtail": "fishtail", "flap": "flap"}

Figures = Mapping[str, Figure]


def _screws(known: Known) -> tuple[Propeller, ...]:
    """As listed; one fixed screw on the centreline where the card lists none."""
    return known.ship.propellers or (Propeller(),)


def propeller_diameter(known: Known) -> Worked:
    """As given; else by draught and type."""
    stated = given(next((p.diameter for p in _screws(known) if p.diameter), None), "propeller diameter")
    if stated is not None:
        return stated
    bounds = DIAMETERS.get(known.ship.kind, OTHER_DIAMETERS)
    worked = of_range(bounds, known.value("summer_draught"), "share of the summer draught, by type")
    return estimated(worked.value, worked.method, "SIMMAN2008", worked.deviation or 0.0)


def propeller_pitch_ratio(known: Known) -> Worked:
    """As given; else from the fastest line of the order table and a usual slip."""
    stated = given(next((p.pitch_ratio for p in _screws(known) if p.pitch_ratio), None), "propeller pitch")
    if stated is not None:
        return stated
    line = _fastest(known)
    if line is None:
        low, high = (0.80, 1.05) if known.ship.kind is ShipType.CONTAINER else (0.60, 0.85)
        return of_range((low, high), 1.0, "usual for her type: the order table gives no speed")
    share = 1.0 if line.pitch is None else max(abs(line.pitch), 0.2)
    screwed = (line.speed_loaded or 0.0) / ((line.revolutions or 1.0) * (1.0 - SLIP))
    found = min(1.4, max(0.5, screwed / share / known.value("propeller_diameter")))
    method = f"speed and revolutions of {line.order.replace('_', ' ')}, slip {100.0 * SLIP:.0f} %"
    return estimated(found, method, "CardPractice", SLIP_DEVIATION * found)


def _fastest(known: Known) -> EngineOrder | None:
    for name in ("full_sea_speed", "full_ahead", "half_ahead"):
        line = known.ship.engine.order(name)
        if line is not None and line.speed_loaded and line.revolutions:
            return line
    return None


def thrust_coefficient_at_rest(known: Known) -> Worked:
    """KT at no advance, of a B-series screw."""
    blades = next((p.blades for p in _screws(known) if p.blades), 4)
    pitch = known.value("propeller_pitch_ratio")
    found, _ = propeller_series.wageningen_b(0.0, pitch, AREA_RATIO, float(blades))
    method = f"B-series, {blades} blades, area ratio {AREA_RATIO}"
    return estimated(float(found), method, "OosterveldOossanen1975", 0.04 * float(found))


def wake_fraction(known: Known) -> Worked:
    """Straight ahead in deep water."""
    found = hull_interaction.taylor_wake(known.value("block_coefficient"), float(len(_screws(known))))
    return estimated(found, "Taylor", "TaylorWake", 0.05)


def thrust_deduction(known: Known) -> Worked:
    """Straight ahead."""
    found = hull_interaction.thrust_deduction(known.value("wake_fraction"), float(len(_screws(known))))
    return estimated(found, "share of the wake", "ThrustDeduction", 0.03)


def bollard_thrust_full_ahead(known: Known) -> Worked:
    """On the hull at rest, at full manoeuvring ahead, all screws in order."""
    line = known.ship.engine.order("full_ahead")
    if line is None or not line.revolutions:
        raise Missing("revolutions of full_ahead")
    usable = sum(COUNTED[screw.state] for screw in _screws(known)) * COUNTED[known.ship.engine.state]
    coefficient = known.value("thrust_coefficient_at_rest")
    if line.pitch is not None:
        blades = float(next((p.blades for p in _screws(known) if p.blades), 4))
        pitch = max(0.3, abs(line.pitch) * known.value("propeller_pitch_ratio"))
        coefficient = float(propeller_series.wageningen_b(0.0, pitch, AREA_RATIO, blades)[0])
    free = SEA_WATER_DENSITY * line.revolutions**2 * known.value("propeller_diameter") ** 4 * coefficient
    found = usable * free * (1.0 - known.value("thrust_deduction"))
    return estimated(found, "(1 - t) rho n² D⁴ KT, screws recorded in order", "OosterveldOossanen1975", 0.08 * found)


def astern_power_share(known: Known) -> Worked:
    """As given; else usual."""
    stated = given(known.ship.engine.astern_power_share, "astern_power_share", 0.02)
    return stated or of_range(ASTERN_SHARE, 1.0, "usual: the card is silent")


def astern_thrust_share(known: Known) -> Worked:
    """Of the ahead thrust, both at rest: thrust goes with power to two thirds."""
    share = known.value("astern_power_share")
    controllable = known.ship.engine.kind is EngineKind.CONTROLLABLE_PITCH or any(
        screw.controllable_pitch for screw in _screws(known)
    )
    ratio = CONTROLLABLE_RATIO if controllable else THRUST_RATIO
    found = ratio * (share / TORQUE_RATIO) ** (2.0 / 3.0)
    return estimated(found, "power share to two thirds, by B4-70 at P/D 0.8", "CubeLaw", 0.10 * found)


def astern_speed_share(known: Known) -> Worked:
    """Steady astern speed over ahead speed: power goes with the cube of speed."""
    found = resistance.astern_speed_ratio(known.value("astern_power_share"), EFFICIENCY_RATIO, RESISTANCE_RATIO)
    return estimated(found, "cube root of power share x efficiency / resistance, astern over ahead", "CubeLaw", 0.05)


def rudder_area(known: Known) -> Worked:
    """Of all rudders in order; as given, else the share of the lateral plane usual for her type."""
    rudders = known.ship.rudders
    if not rudders:
        raise Missing("rudders")
    usable = sum(COUNTED[item.state] for item in rudders)
    areas = [item.area for item in rudders]
    if all(area is not None for area in areas):
        total = sum((item.area or 0.0) * COUNTED[item.state] for item in rudders)
        return read(total, "rudder area", 0.01 * total)
    plane = known.value("length_between_perpendiculars") * known.value("summer_draught")
    scale = plane * usable / len(rudders)
    return of_range(known.typical.rudder, scale, "share of length x summer draught usual for her type")


def rudder_height(known: Known) -> Worked:
    """Of one rudder."""
    rudders = known.ship.rudders
    if not rudders:
        raise Missing("rudders")
    stated = given(next((item.height for item in rudders if item.height), None), "rudder height")
    if stated is not None:
        return stated
    found = RUDDER_HEIGHT * known.value("summer_draught")
    return estimated(found, f"{RUDDER_HEIGHT} x summer draught", "CardPractice", 0.08 * found)


def rudder_slope(known: Known) -> Worked:
    """Normal force coefficient by the sine of the angle, of one rudder of her type."""
    count = len(known.ship.rudders)
    if not count:
        raise Missing("rudders")
    area = known.value("rudder_area")
    if area <= 0.0:
        raise Missing("a rudder in order")
    kind = RUDDER_TYPES[known.ship.rudders[0].kind]
    aspect = known.value("rudder_height") ** 2 / (area / count)
    factor = rudder.TYPES[kind].slope_factor
    found = factor * rudder.fujii(aspect)
    method = f"Fujii by aspect ratio, times {factor:g} for a {known.ship.rudders[0].kind} rudder"
    return estimated(found, method, "Fujii1960", (0.08 if factor == 1.0 else 0.15) * found)


def bow_thrust(known: Known) -> Worked:
    """All bow thrusters in order, ship stopped."""
    return _tunnels(known, "bow")


def stern_thrust(known: Known) -> Worked:
    """All stern thrusters in order, ship stopped."""
    return _tunnels(known, "stern")


def _tunnels(known: Known, position: str) -> Worked:
    units = [item for item in known.ship.thrusters if item.position == position]
    if not units:
        raise Missing(f"{position} thruster")
    power = sum(item.power * COUNTED[item.state] for item in units)
    found = thruster.by_power(power)
    return estimated(found, "0.12 kN for each kW in order", "TradeForces", 0.08 * found)


def equipment_number(known: Known) -> Worked:
    """As given; else from displacement, freeboard and house."""
    stated = given(known.ship.anchors.equipment_number, "equipment_number")
    if stated is not None:
        return stated
    found = estimated_equipment_number(Reading(ship=known.ship, loading=known.loading))
    if found is None:
        raise Missing("equipment_number")
    return estimated(found, "displacement, freeboard, house and profile", "IACSA1", 0.15 * found)


def cable(known: Known) -> Worked:
    """The longer of the bower cables."""
    anchors = known.ship.anchors
    counts = [count for count in (anchors.port_shackles, anchors.starboard_shackles) if count is not None]
    if not counts:
        raise Missing("shackles")
    return computed(max(counts) * (anchors.shackle or 27.5), "shackles x length of a shackle", "CardIdentities")


def _pitch_means(figures: Figures) -> str:
    diameter = figures.get("propeller_diameter")
    if diameter is None:
        return "A flat pitch stops her better than a steep one."
    pitch = figures["propeller_pitch_ratio"].value * diameter.value
    turn = f"Each turn of the screw drives her {text.metres(pitch, 1)} less the slip"
    return f"{turn}; a flat pitch stops better than a steep one."


def _bollard_means(figures: Figures) -> str:
    thrust = figures["bollard_thrust_full_ahead"].value
    words = f"From rest, full ahead pushes with about {text.pull(thrust)}"
    if "displacement" not in figures:
        return f"{words}."
    knots = thrust / figures["displacement"].value * 60.0 / (1852.0 / 3600.0)
    return f"{words}: {knots:.1f} kn gained in the first minute."


def _astern_power_means(figures: Figures) -> str:
    share = figures["astern_power_share"].value
    thrust, speed = figures.get("astern_thrust_share"), figures.get("astern_speed_share")
    if thrust is None or speed is None:
        return "Astern power is not astern speed: power goes with the cube of speed."
    pull, run = 100.0 * thrust.value, 100.0 * speed.value
    return (
        f"With {100.0 * share:.0f} % of the power she pulls astern with about {pull:.0f} % of the ahead thrust, and "
        f"would in the end run astern at about {run:.0f} % of the speed: power goes with the cube of speed, and screw "
        "and hull are worse astern."
    )


def _rudder_means(figures: Figures) -> str:
    area, length, draught = (
        figures.get(name) for name in ("rudder_area", "length_between_perpendiculars", "summer_draught")
    )
    if area is None or length is None or draught is None:
        return "What she is turned with."
    share = 100.0 * area.value / (length.value * draught.value)
    return f"{share:.1f} % of her underwater side; 1.5 % is usual, 2 to 3 % for ships that turn much."


def _thruster_means(name: str) -> Meaning:
    def means(figures: Figures) -> str:
        force = figures[name].value
        if force == 0.0:
            return "Recorded out of order: count on none."
        wind = figures.get("lateral_windage")
        words = f"Stopped, it pushes with about {text.pull(force)}, at 4 kn with about a third of that."
        if wind is None:
            return words
        knots = (2.0 * figures[name].value * 2.0 / (1.225 * 0.9 * wind.value)) ** 0.5 * 3600.0 / 1852.0
        return f"{words} It holds its end against a beam wind of about {knots:.0f} kn."

    return means


def _cable_means(figures: Figures) -> str:
    depth = text.metres(figures["cable"].value / 6.0, 0)
    return f"Enough to anchor at six times the depth in {depth} of water, less what stays inboard."


ESTIMATES = {
    "propeller_diameter": Estimate(
        unit="m",
        function=propeller_diameter,
        meaning=always("A large slow screw pulls better at rest."),
    ),
    "propeller_pitch_ratio": Estimate(unit="-", function=propeller_pitch_ratio, meaning=_pitch_means),
    "thrust_coefficient_at_rest": Estimate(
        unit="-", function=thrust_coefficient_at_rest, meaning=always("The pull of a kick ahead goes by it.")
    ),
    "wake_fraction": Estimate(
        unit="-",
        function=wake_fraction,
        meaning=always("Her screw meets water slower by this share than she sails."),
    ),
    "thrust_deduction": Estimate(
        unit="-", function=thrust_deduction, meaning=always("The share of the screw's pull that its race takes back.")
    ),
    "bollard_thrust_full_ahead": Estimate(unit="N", function=bollard_thrust_full_ahead, meaning=_bollard_means),
    "astern_power_share": Estimate(unit="-", function=astern_power_share, meaning=_astern_power_means),
    "astern_thrust_share": Estimate(
        unit="-", function=astern_thrust_share, meaning=always("What stops her, against what drives her, both at rest.")
    ),
    "astern_speed_share": Estimate(
        unit="-", function=astern_speed_share, meaning=always("How fast she would back in the end, against full ahead.")
    ),
    "rudder_area": Estimate(unit="m²", function=rudder_area, meaning=_rudder_means),
    "rudder_height": Estimate(
        unit="m", function=rudder_height, meaning=always("The part of it in the race works even when she lies stopped.")
    ),
    "rudder_slope": Estimate(
        unit="-", function=rudder_slope, meaning=always("How strongly the rudder answers each degree before it stalls.")
    ),
    "bow_thrust": Estimate(unit="N", function=bow_thrust, meaning=_thruster_means("bow_thrust")),
    "stern_thrust": Estimate(unit="N", function=stern_thrust, meaning=_thruster_means("stern_thrust")),
    "equipment_number": Estimate(
        unit="-",
        function=equipment_number,
        meaning=always("Anchors and chain by it are for sheltered water and 48 kn of wind, not for stopping her."),
    ),
    "cable": Estimate(unit="m", function=cable, meaning=_cable_means),
}
