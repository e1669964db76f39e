"""How hard she lands, when the lines must be fast before tugs let go, and whether she lifts off again."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from leadsman.assessment.holding.case import Array, HoldingCase
from leadsman.assessment.holding.means import bodies
from leadsman.physics import balance, current, fender, mooring


@dataclass(frozen=True, kw_only=True, eq=False)
class Approach:
    """How she comes to the quay, and what the quay bears."""

    displacement: float
    length_between_perpendiculars: float
    beam: float
    draught: float
    block_coefficient: float
    underkeel_clearance: float
    speed: float
    """Square to the quay where she touches. [m/s]"""
    angle: float
    """Of her side to the quay. [rad]"""
    contact: float | None
    """From midships along the hull to where she touches first; None when she lands flat on her parallel body. [m]"""
    softness: float
    configuration: float
    allowed_energy: float | None
    """Of the fenders that are touched first. [J]"""
    allowed_speed: float | None
    """By the port's own rule. [m/s]"""
    fender_deflection: Array | None = None
    """The fender's curve; with its reaction, or neither. [m]"""
    fender_reaction: Array | None = None
    """[N]"""


@dataclass(frozen=True, kw_only=True)
class Landing:
    """What the fenders get."""

    energy: float
    """By the method that gives most. [J]"""
    by_method: Mapping[str, float]
    """By each way of counting the water that moves with her. [J]"""
    eccentricity: float
    """Share of the energy that does not turn her. [-]"""
    allowed_energy: float | None
    greatest_speed: float | None
    """At which she brings the allowed energy, or the port's own limit if that is less; None where neither is known."""
    reaction: float | None
    """Of the fender, where its curve is known and takes the energy. [N]"""
    deflection: float | None
    """[m]"""
    design_speeds: Mapping[str, float]
    """What port engineers design for at her displacement, by conditions. [m/s]"""

    @property
    def within(self) -> bool | None:
        """Whether the energy is allowed; None where nobody has said what is."""
        return None if self.allowed_energy is None else self.energy <= self.allowed_energy


def land(approach: Approach) -> Landing:
    """Energy of landing by all methods for the virtual mass, and the speed that would be allowed."""
    share = _eccentricity(approach)
    masses = {
        "vasco_costa": float(fender.vasco_costa(approach.draught, approach.beam)),
        "ueda": float(fender.ueda(approach.draught, approach.beam, approach.block_coefficient)),
        "pianc": float(fender.pianc(approach.underkeel_clearance, approach.draught)),
    }
    factors = (share, approach.softness, approach.configuration)
    energies = {
        name: float(fender.berthing_energy(approach.displacement, approach.speed, mass, *factors))
        for name, mass in masses.items()
    }
    energy = max(energies.values())
    speeds = [] if approach.allowed_speed is None else [approach.allowed_speed]
    if approach.allowed_energy is not None:
        heaviest = max(masses.values())
        speeds.append(float(fender.landing_speed(approach.allowed_energy, approach.displacement, heaviest, *factors)))
    reaction, deflection = _reaction(approach, energy)
    return Landing(
        energy=energy,
        by_method=energies,
        eccentricity=share,
        allowed_energy=approach.allowed_energy,
        greatest_speed=min(speeds, default=None),
        reaction=reaction,
        deflection=deflection,
        design_speeds={
            name: float(fender.brolsma(approach.displacement, name)) for name in fender.brolsma_conditions()
        },
    )


def _eccentricity(approach: Approach) -> float:
    if approach.contact is None:
        return 1.0
    gyration = fender.gyration_radius(approach.length_between_perpendiculars, approach.block_coefficient)
    radius = fender.contact_radius(approach.contact, approach.beam)
    return float(
        fender.eccentricity(gyration, radius, fender.velocity_angle(approach.contact, approach.beam, approach.angle))
    )


def _reaction(approach: Approach, energy: float) -> tuple[float | None, float | None]:
    if approach.fender_deflection is None or approach.fender_reaction is None:
        return None, None
    if energy > fender.energy_curve(approach.fender_deflection, approach.fender_reaction)[-1]:
        return None, None
    return fender.landing_force(energy, approach.fender_deflection, approach.fender_reaction)


def offshore_force(case: HoldingCase) -> float:
    """What wind and current lift her off the quay with, by the worst wind method; nil when they press her on. [N]"""
    if case.quay is None:
        raise ValueError("there is no quay to be lifted off from")
    stream = case.current_loads(case.current_speed, case.current_from)
    winds = [case.wind_loads(case.wind_speed, case.wind_from, each) for each in case.windages]
    return max(0.0, *(float(-case.quay.side * (wind + stream)[1]) for wind in winds))


def lines_until_fast(case: HoldingCase, safe_load: float, plan_angle: float) -> int:
    """Breast lines that must be fast before tugs and thrusters may let go. [-]"""
    return mooring.lines_before_letting_go(offshore_force(case), 0.0, safe_load, plan_angle)


@dataclass(frozen=True, kw_only=True)
class LiftingOff:
    """Getting off the quay."""

    force: float
    """Left over away from the quay with yaw and surge balanced; below nil she cannot. [N]"""
    seconds: float
    """To come a distance off from rest, the water's drag left out; infinite when she cannot. [s]"""


def lift_off(case: HoldingCase, distance: float) -> LiftingOff:
    """Force left to lift her off against wind and current, and how long a distance takes. [m]"""
    if case.quay is None:
        raise ValueError("there is no quay to lift off from")
    stream = case.current_loads(case.current_speed, case.current_from)
    away = np.array([[0.0, float(case.quay.side), 0.0]])  # as a load: what pushes her back on
    forces = []
    for windage in case.windages:
        load = case.wind_loads(case.wind_speed, case.wind_from, windage) + stream
        spans = [_span(body, away, load) for body in bodies(case)]
        forces.append(max(spans))
    force = min(forces)
    mass = case.displacement * float(fender.vasco_costa(case.hull.draught, case.beam))
    seconds = math.sqrt(2.0 * distance * mass / force) if force > 0.0 else math.inf
    return LiftingOff(force=force, seconds=seconds)


def _span(body: balance.Attainable, away: Array, load: Array) -> float:
    """Greatest force that can be added to a load; negative infinity where the yaw or surge of it cannot be balanced."""
    least, greatest = balance.factors_held(body, away, load)
    return float(greatest[0]) if least[0] <= greatest[0] else -math.inf


def speed_onto_quay(case: HoldingCase, unbalanced_sway: float, distance: float) -> float:
    """How fast she lands when a force is left over towards the quay over a distance from rest. [m/s]

    `unbalanced_sway` in newtons, to starboard positive; nil when it points away.
    """
    if case.quay is None:
        raise ValueError("there is no quay to drift onto")
    onto = case.quay.side * unbalanced_sway
    if onto <= 0.0:
        return 0.0
    hull = case.hull
    mass = case.displacement * float(fender.vasco_costa(hull.draught, case.beam))
    drag = hull.lateral_coefficient(case.water_depth)
    return float(
        current.drift_speed_after(distance, onto, mass, hull.length_waterline, hull.draught, drag, hull.density)
    )
