"""How hard she lands: berthing energy, its coefficients, and what fenders make of it."""

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import TONNE

HARD_FENDER = 0.9  # softness factor for fenders that give less than 0.15 m, else 1 (forces sheet 5) [seen in use]


@formula
def vasco_costa(draught: Real, beam: Real) -> Real:
    """Virtual mass: she and the water that moves with her, over her own mass. [-]

    Source: [VascoCosta1964]; form seen in calculation sheets.
    """
    return 1.0 + 2.0 * draught / beam


@formula
def ueda(draught: Real, beam: Real, block_coefficient: Real) -> Real:
    """Virtual mass over her own mass. [-]

    Source: [Ueda1981]
    """
    return 1.0 + np.pi * draught / (2.0 * block_coefficient * beam)


@formula
def pianc(underkeel_clearance: Real, draught: Real) -> Real:
    """Virtual mass by the water under the keel: 1.8 at a tenth of the draught, 1.5 at half, straight between. [-]

    Source: [PIANC2002]
    """
    ratio = np.minimum(0.5, np.maximum(0.1, underkeel_clearance / draught))
    return 1.8 - 0.3 * (ratio - 0.1) / 0.4


@formula
def gyration_radius(length_between_perpendiculars: Real, block_coefficient: Real) -> Real:
    """Radius of gyration in yaw. [m]

    Source: [PIANC2002]; formula seen in calculation sheets.
    """
    return (0.19 * block_coefficient + 0.11) * length_between_perpendiculars


@formula
def contact_radius(contact_to_gravity: Real, beam: Real) -> Real:
    """From the centre of gravity to where she touches. [m]

    Parameters
    ----------
    contact_to_gravity : float
        Along the hull; a quarter of the length for a quarter-point landing. [m]

    Source: derived.
    """
    return np.hypot(contact_to_gravity, beam / 2.0)


@formula
def velocity_angle(contact_to_gravity: Real, beam: Real, berthing_angle: Real) -> Real:
    """Between the line from point of contact to centre of gravity and the velocity, square to the quay. [rad]

    Parameters
    ----------
    berthing_angle : float
        Of her side to the quay. [rad]

    Source: derived; formula seen in calculation sheets.
    """
    return np.pi / 2.0 - berthing_angle - np.arctan2(beam / 2.0, np.abs(contact_to_gravity))


@formula
def eccentricity(gyration: Real, radius: Real, angle: Real) -> Real:
    """Share of the energy that is not spent in turning her; 1 when she lands flat or end on. [-]

    Source: [PIANC2002], [BS6349-4]; formula seen in calculation sheets.
    """
    return (gyration**2 + radius**2 * np.cos(angle) ** 2) / (gyration**2 + radius**2)


@formula
def berthing_energy(
    mass: Real, speed: Real, virtual_mass: Real, eccentric: Real, softness: Real, configuration: Real
) -> Real:
    """Energy the fenders must take. [J]

    Parameters
    ----------
    mass : float
        Displacement. [kg]
    speed : float
        Square to the quay at the point of contact. [m/s]

    Source: [PIANC2002], [BS6349-4].
    """
    return 0.5 * mass * speed**2 * virtual_mass * eccentric * softness * configuration


@formula
def landing_speed(
    energy: Real, mass: Real, virtual_mass: Real, eccentric: Real, softness: Real, configuration: Real
) -> Real:
    """Speed square to the quay at which she brings an energy to the fenders. [m/s]

    Source: derived: `berthing_energy` turned round.
    """
    return np.sqrt(2.0 * energy / (mass * virtual_mass * eccentric * softness * configuration))


def brolsma(displacement: Real, conditions: str) -> Real:
    """Velocity of approach for design, by displacement and conditions. [m/s]

    Parameters
    ----------
    displacement : float or array
        [kg]
    conditions : str
        One of `brolsma_conditions()`.

    Raises ValueError for conditions not known.
    Source: [Brolsma1977] as in [PIANC2002], from memory; straight between on logarithmic scales.
    Limits: 1 000 to 500 000 t, held constant outside.
    """
    if conditions not in brolsma_conditions():
        raise ValueError(f"berthing conditions {conditions!r} are not known; known: {', '.join(brolsma_conditions())}")
    table = published("fender")["velocity"]
    masses = np.log(np.asarray(table["displacement_t"]) * TONNE)
    return np.exp(np.interp(np.log(displacement), masses, np.log(np.asarray(table[conditions]))))[()]


def brolsma_conditions() -> tuple[str, ...]:
    """The five conditions of the curves, best first."""
    return tuple(name for name in published("fender")["velocity"] if "berthing" in name)


def energy_curve(deflection: np.ndarray, reaction: np.ndarray) -> np.ndarray:
    """Energy a fender has taken at each point of its curve, by the trapezoidal rule. [J]

    Parameters
    ----------
    deflection : array, shape (n,)
        Rising from 0. [m]
    reaction : array, shape (n,)
        [N]

    Raises ValueError when the deflections do not rise from 0.
    Source: derived: the area under the curve.
    """
    if deflection[0] != 0.0 or np.any(np.diff(deflection) <= 0.0):
        raise ValueError("a fender curve must begin at deflection 0 and rise; expected metres, then newtons")
    slices = 0.5 * (reaction[1:] + reaction[:-1]) * np.diff(deflection)
    return np.concatenate(([0.0], np.cumsum(slices)))


def landing_force(energy: float, deflection: np.ndarray, reaction: np.ndarray) -> tuple[float, float]:
    """What a fender pushes with, and how far it gives, when it has taken an energy. [N, m]

    Raises ValueError when the energy is more than the whole curve takes.
    Source: derived: the deflection at which the area under the curve is the energy.
    """
    taken = energy_curve(deflection, reaction)
    if energy > taken[-1]:
        raise ValueError(f"{energy / 1000:.0f} kJ is more than the fender takes, {taken[-1] / 1000:.0f} kJ")
    i = min(int(np.searchsorted(taken, energy, side="right")) - 1, len(taken) - 2)
    slope = (reaction[i + 1] - reaction[i]) / (deflection[i + 1] - deflection[i])
    rest = energy - taken[i]
    # rest = r d + slope d²/2 solved in the form that bears a slope of nil and a reaction of nil.
    root = np.sqrt(reaction[i] ** 2 + 2.0 * slope * rest)
    further = 2.0 * rest / (reaction[i] + root) if rest > 0.0 else 0.0
    return float(reaction[i] + slope * further), float(deflection[i] + further)


def abnormal_factor(ship: str, size: str) -> float:
    """Design energy over normal energy, for the "largest" or the "smallest" ship of its kind. [-]

    No permission to land harder: the reserve belongs to the port engineer.

    Raises ValueError for a kind or size not known.
    Source: [PIANC2002]
    """
    rows = {name: row for name, row in published("fender")["abnormal"].items() if isinstance(row, dict)}
    if ship not in rows:
        raise ValueError(f"{ship!r} has no abnormal factor; known: {', '.join(rows)}")
    if size not in rows[ship]:
        raise ValueError(f"size {size!r} is not known; expected {', '.join(rows[ship])}")
    return float(rows[ship][size])


def customary_landing_speed(ship: str) -> float:
    """The upper end of the landing speeds pilots aim at: "large tanker", "container ship", "small ship". [m/s]

    Raises ValueError for another ship.
    Source: common practice, no source.
    """
    rows = published("fender")["landing"]
    if ship not in rows:
        raise ValueError(f"no customary landing speed for {ship!r}; known: {', '.join(rows)}")
    return float(rows[ship])


def configuration_factor(quay: str) -> float:
    """What the cushion of water takes: "open", "semi-open" or "closed, little water", the careful end. [-]

    Raises ValueError for a quay not known.
    Source: [PIANC2002]
    """
    rows = {name: share for name, share in published("fender")["configuration"].items() if isinstance(share, float)}
    if quay not in rows:
        raise ValueError(f"quay {quay!r} is not known; known: {', '.join(rows)}")
    return float(rows[quay])


METHODS = {
    "vasco_costa": Method(function=vasco_costa, source="VascoCosta1964"),
    "ueda": Method(function=ueda, source="Ueda1981"),
    "pianc": Method(
        function=pianc, source="PIANC2002", limits={"clearance_to_draught": (0.1, 0.5)}, note="held constant outside"
    ),
}
