"""Hull and rudders of the moving ship from her particulars, by regressions of the literature; each with source and
band."""

import numpy as np

from leadsman.figure import Band, Figure, Origin
from leadsman.physics import hull as hull_methods
from leadsman.physics import hull_added_mass, hull_interaction, rudder, shallow
from leadsman.physics.hull import Derivatives
from leadsman.physics.hull_force import Hull
from leadsman.physics.hull_interaction import Interaction
from leadsman.physics.rudder import Rudder
from leadsman.simulation import kvlcc2
from leadsman.simulation.particulars import Blade, Particulars
from leadsman.units import DEGREE, KNOT

GYRATION = 0.25  # of the length, memory: 0.24 to 0.25 loaded, up to 0.26 in ballast
MORE_UNSTABLE = 1.05  # Nv factor, judgement (sheet 11): regressions make ships too course-stable
LESS_DAMPED = 0.90  # Nr factor, the same
STRAIGHTENING_POSITION = -0.75  # lR', the same, between -0.7 and -0.8
FINE_END = 0.65  # block coefficient up to which the regression's own database reaches
FULL_END = 0.81  # block coefficient of the measured tanker
MORE_IN_STARBOARD_TURN = 1.2  # straightening behind one right-handed screw, judgement from KVLCC2 0.64/0.395
LESS_IN_PORT_TURN = 0.8
SPAN_SHARE = 0.75  # rudder height over draught aft, memory
STEERING_RATE = (65.0 * DEGREE) / 28.0  # rad/s: 35 to 30 degrees in 28 s (SOLAS II-1/29)
POD_RATE = 8.0 * DEGREE  # rad/s, memory: 6 to 12 degrees a second
POD_STRUT_AREA = 0.7  # of the propeller diameter squared, judgement
SWING_DRAG = 1.0  # CrY, sheet 4.2 [memory]
YAW_DRAG = (
    1.0  # CrN, judgement: the drag integral itself. 0.5 to 0.7 (sheet 4.2, memory) would turn her 1.5 times faster on
)
# her thruster, the dangerous direction, and faster than pilot cards state (common practice)
ASTERN_RESISTANCE = 1.4  # R0A'/R0F', sheet 4.2 [memory]: 1.2 to 1.6


def midship_coefficient(block_coefficient: float) -> float:
    """Area of the midship section over beam times draught. [-]

    Source: [Schneekluth1998], from memory.
    """
    return float(1.006 - 0.0056 * block_coefficient**-3.56)


def figure(name: str, value: float, unit: str, method: str, source: str, share: float) -> Figure:
    """An estimated figure whose standard deviation is a share of its size."""
    return Figure(
        name=name,
        value=float(value),
        unit=unit,
        origin=Origin.ESTIMATED,
        method=method,
        source=source,
        band=Band(deviation=abs(float(value)) * share),
    )


def hull(card: Particulars) -> tuple[Hull, list[Figure]]:
    """The bare hull but for its resistance, which `estimate_propulsion` fits; and where each figure comes from."""
    length, beam, draught, block = card.length, card.beam, card.draught, card.block_coefficient
    mass_scale = 0.5 * card.water_density * length**2 * draught
    added = hull_added_mass.zhou(length, beam, draught, block)
    mass_share = card.displacement / mass_scale
    derivatives = hull_methods.yoshimura_masumoto(
        length, beam, draught, block, added.surge * mass_share, added.sway * mass_share
    )
    derivatives = with_measured_tanker(derivatives, block)
    derivatives = derivatives._replace(Nv=derivatives.Nv * MORE_UNSTABLE, Nr=derivatives.Nr * LESS_DAMPED)
    drag = shallow.deep_cross_flow_drag(length, beam, midship_coefficient(block) * beam * draught, card.volume)
    found = Hull(
        length=length,
        beam=beam,
        draught_forward=card.draught_forward,
        draught_aft=card.draught_aft,
        mass=card.displacement,
        centre_of_gravity=0.0,
        yaw_inertia=card.displacement * (GYRATION * length) ** 2,
        surge_added_mass=added.surge * card.displacement,
        sway_added_mass=added.sway * card.displacement,
        yaw_added_inertia=added.yaw * card.displacement * length**2,
        R0=0.0,
        R1=0.0,
        R2=0.0,
        greatest_froude=0.1,
        astern_resistance=ASTERN_RESISTANCE,
        cross_flow_drag=float(drag),
        cross_flow_swing=SWING_DRAG,
        cross_flow_yaw=YAW_DRAG,
        bank_effect=1.0,
        windage=1.0,
        shallow_yaw=0.0,
        squat=block / (100.0 * KNOT**2),
        **{name: float(value) for name, value in derivatives._asdict().items()},
    )
    family = "hull.yoshimura_masumoto, class prior"
    figures = [
        figure("surge added mass", found.surge_added_mass, "kg", "hull_added_mass.zhou", "Zhou1983", 0.15),
        figure("sway added mass", found.sway_added_mass, "kg", "hull_added_mass.zhou", "Zhou1983", 0.10),
        figure("yaw added inertia", found.yaw_added_inertia, "kg m²", "hull_added_mass.zhou", "Zhou1983", 0.15),
        figure("radius of gyration", GYRATION * length, "m", "share of the length", "ManoeuvringSheet", 0.04),
        figure("yaw moment by drift Nv'", found.Nv, "-", family, "YoshimuraMasumoto2012", 0.10),
        figure("yaw damping Nr'", found.Nr, "-", family, "YoshimuraMasumoto2012", 0.15),
        figure("sway damping Yv'", found.Yv, "-", family, "YoshimuraMasumoto2012", 0.15),
        figure("lateral drag", found.cross_flow_drag, "-", "shallow.deep_cross_flow_drag", "UFC4-159-03", 0.20),
    ]
    return found, figures


def with_measured_tanker(derivatives: Derivatives, block_coefficient: float) -> Derivatives:
    """Non-linear terms of full hulls drawn towards those measured on the tanker KVLCC2.

    The regression was made from hulls of block coefficient up to 0.65; from there to the tanker's 0.81 the terms go in
    a straight line to hers. The linear terms stay: the regression meets hers within a few per cent by itself.

    Source: [YasukawaYoshimura2015] for her terms; the interpolation is judgement.
    """
    share = min(max((block_coefficient - FINE_END) / (FULL_END - FINE_END), 0.0), 1.0)
    measured = kvlcc2.data()["hull"]
    terms = {
        name: (1.0 - share) * value + share * measured[name]
        for name, value in derivatives._asdict().items()
        if name in measured and name not in ("Yv", "Yr", "Nv", "Nr")
    }
    return derivatives._replace(**terms)


def interaction(card: Particulars, wake: float) -> Interaction:
    """Interaction coefficients of the same authors as the hull's, with the class prior of the straightening
    position."""
    found = hull_interaction.yoshimura_masumoto(card.length, card.beam, card.block_coefficient, wake)
    return found._replace(straightening_position=STRAIGHTENING_POSITION)


def rudders(card: Particulars, wake: float, diameter: float) -> tuple[tuple[Rudder, ...], list[Figure]]:
    """Every rudder, or the strut of every pod; and where their figures come from."""
    share = interaction(card, wake)
    if not card.rudders:
        return tuple(_strut(card, share, wake, diameter, index) for index in range(len(card.screws))), [
            figure("pod strut area", POD_STRUT_AREA * diameter**2, "m²", "share of diameter", "ManoeuvringSheet", 0.3)
        ]
    found = tuple(_rudder(card, blade, share, wake, diameter) for blade in card.rudders)
    first = found[0]
    figures = [
        figure("rudder slope", first.slope, "-", "rudder.fujii x type", "Fujii1960", 0.10),
        figure("flow straightening", share.straightening, "-", "yoshimura_masumoto", "YoshimuraMasumoto2012", 0.20),
        figure("rudder force increase aH", share.force_increase, "-", "the same", "YoshimuraMasumoto2012", 0.30),
    ]
    if any(blade.area is None for blade in card.rudders):
        figures.append(figure("rudder area", first.area, "m²", "rudder.det_norske_veritas_area", "DNVRudder", 0.15))
    return found, figures


def _rudder(card: Particulars, blade: Blade, share: Interaction, wake: float, diameter: float) -> Rudder:
    kind = rudder.TYPES[blade.kind]
    count = len(card.rudders)
    rule = rudder.det_norske_veritas_area(card.length, card.beam, card.draught, card.block_coefficient)
    area = blade.area or float(rule) / count
    height = blade.height or min(SPAN_SHARE * card.draught_aft, np.sqrt(2.2 * area))
    greatest = blade.greatest_angle or kind.greatest_angle
    # A rudder stands behind the screw nearest to it, but one in the middle between two screws stands in no race.
    nearest = min(range(len(card.screws)), key=lambda index: abs(card.screws[index].offset - blade.offset))
    behind = abs(card.screws[nearest].offset - blade.offset) < 0.6 * diameter
    single = len(card.screws) == 1
    hand = card.screws[0].hand if single else 0.0
    more, less = MORE_IN_STARBOARD_TURN, LESS_IN_PORT_TURN
    time = card.hard_over_to_hard_over
    return Rudder(
        area=area,
        slope=float(rudder.fujii(height**2 / area)) * kind.slope_factor,
        stall=max(kind.stall, min(greatest, kind.greatest_angle)),
        greatest_normal=kind.greatest_normal,
        greatest_angle=greatest,
        turning_limit=kind.turning_limit,
        rate=2.0 * greatest / time if time else STEERING_RATE,
        position=-0.5 * card.length,
        offset=blade.offset,
        propeller=float(nearest) if behind else -1.0,
        race_share=min(diameter / height, 1.0) if behind else 0.0,
        race_factor=share.race_factor,
        wake_ratio=share.wake_ratio if behind else 1.0,
        wake=wake,
        straightening_starboard=share.straightening * (more if hand > 0.0 else less if hand < 0.0 else 1.0),
        straightening_port=share.straightening * (less if hand > 0.0 else more if hand < 0.0 else 1.0),
        straightening_position=share.straightening_position,
        steering_deduction=share.steering_deduction,
        force_increase=share.force_increase,
        force_position=share.force_position,
        force_factor=1.0,
    )


def _strut(card: Particulars, share: Interaction, wake: float, diameter: float, index: int) -> Rudder:
    return Rudder(
        area=POD_STRUT_AREA * diameter**2,
        slope=float(rudder.fujii(1.2)),
        stall=rudder.TYPES["normal"].stall,
        greatest_normal=rudder.TYPES["normal"].greatest_normal,
        greatest_angle=float(np.pi),
        turning_limit=float(np.pi),
        rate=POD_RATE,
        position=-0.46 * card.length,
        offset=card.screws[index].offset,
        propeller=-1.0,
        race_share=0.0,
        race_factor=0.0,
        wake_ratio=1.0,
        wake=wake,
        straightening_starboard=share.straightening,
        straightening_port=share.straightening,
        straightening_position=share.straightening_position,
        steering_deduction=0.0,
        force_increase=0.5 * share.force_increase,
        force_position=share.force_position,
        force_factor=1.0,
    )
