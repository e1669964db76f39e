"""Tunnel thrusters: thrust from power, and what speed, depth of the tunnel, quay and bed leave of it."""

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.method import Method
from leadsman.physics.published import published
from leadsman.units import KNOT

_TABLES = published("thruster")
_SPEEDS = np.asarray(_TABLES["speed"]["speed_kn"]) * KNOT
_FORCE = np.asarray(_TABLES["speed"]["force"])
_MOMENT = np.asarray(_TABLES["speed"]["moment"])
_TRAILING_SPEEDS = np.asarray(_TABLES["trailing"]["speed_kn"]) * KNOT
_TRAILING = np.asarray(_TABLES["trailing"]["factor"])

PLANNING_THRUST = float(_TABLES["thrust"]["planning_N_per_W"])  # N/W (forces sheet 3.1) [common practice]
CEILING_THRUST = float(_TABLES["thrust"]["ceiling_N_per_W"])  # N/W: 1 t per 100 hp (forces sheet 3.1) [seen]
NOT_LATELY_TESTED = float(_TABLES["losses"]["not_lately_tested"])  # forces sheet 3.1, tool setting
AWAY_FROM_QUAY = float(_TABLES["losses"]["away_from_quay"])  # forces sheet 3.2, tool setting
LITTLE_WATER = float(_TABLES["losses"]["little_water"])  # forces sheet 3.2, tool setting
LITTLE_CLEARANCE = 0.2  # of the draught, below which little water takes from the thrust (forces sheet 3.2)


@formula
def momentum_limit(power: Real, diameter: Real, density: Real) -> Real:
    """Greatest thrust a jet as wide as the tunnel can give; no thruster passes it. [N]

    Parameters
    ----------
    power : float
        At the shaft. [W]
    diameter : float
        Of the tunnel. [m]

    Source: derived: momentum of a uniform jet.
    """
    area = np.pi * diameter**2 / 4.0
    return np.cbrt(4.0 * density * area * power**2)


@formula
def by_power(power: Real) -> Real:
    """Thrust for planning from the power alone. [N]

    Source: common practice, no source: 0.12 kN for each kW, makers' range 0.11 to 0.14.
    """
    return PLANNING_THRUST * power


@formula
def by_power_and_diameter(power: Real, diameter: Real) -> Real:
    """Thrust from power and tunnel diameter. [N]

    Source: momentum theory with a coefficient of 850 N for (kW m)^(2/3), tunnels 800 to 900; from memory.
    """
    return 850.0 * (power / 1000.0 * diameter) ** (2.0 / 3.0)  # coefficient from memory, see above


@formula
def force_factor(speed: Real, position: Real) -> Real:
    """What is left of the lateral force when she moves along. [-]

    Parameters
    ----------
    speed : float
        Through the water along the hull, ahead positive. [m/s]
    position : float
        Of the thruster, forward of midships positive; only its sign counts. [m]

    Source: [KMW1967] for the course of it; figures are settings of ours, low confidence.
    """
    leads = speed * position >= 0.0
    leading = np.interp(np.abs(speed), _SPEEDS, _FORCE)
    trailing = np.interp(np.abs(speed), _TRAILING_SPEEDS, _TRAILING)
    return where(leads, leading, trailing)


@formula
def moment_factor(speed: Real, position: Real) -> Real:
    """What is left of the turning moment when she moves along; arguments as in `force_factor`. [-]

    Source: [KMW1967]: half at 4 kn; the recovery above is not credited.
    """
    leads = speed * position >= 0.0
    leading = np.interp(np.abs(speed), _SPEEDS, _MOMENT)
    trailing = np.interp(np.abs(speed), _TRAILING_SPEEDS, _TRAILING)
    return where(leads, leading, trailing)


@formula
def immersion_factor(top_immersion: Real, diameter: Real) -> Real:
    """What is left when the top of the tunnel is near the surface: none at half a diameter, all at one. [-]

    Parameters
    ----------
    top_immersion : float
        Of the top of the tunnel below the surface. [m]

    Source: common practice, no source.
    """
    return np.minimum(1.0, np.maximum(0.0, 2.0 * top_immersion / diameter - 1.0))


@formula
def quay_factor(distance_to_quay: Real, beam: Real, away: Real) -> Real:
    """What a closed quay within one beam leaves of a thrust that pushes her away from it. [-]

    Parameters
    ----------
    distance_to_quay : float
        From ship's side to a closed wall; infinite where there is none or it is open. [m]
    away : bool
        The thrust pushes her away from the wall.

    Source: common practice, no source.
    """
    return where((distance_to_quay < beam) & away, AWAY_FROM_QUAY, 1.0)


@formula
def bed_factor(underkeel_clearance: Real, draught: Real) -> Real:
    """What little water under the keel leaves of the thrust. [-]

    Source: common practice, no source.
    """
    return where(underkeel_clearance < LITTLE_CLEARANCE * draught, LITTLE_WATER, 1.0)


@formula
def jet_speed(thrust: Real, diameter: Real, density: Real) -> Real:
    """Speed of the jet that leaves the tunnel: its wash on a quay or a small craft. [m/s]

    Source: derived: momentum of a uniform jet.
    """
    return np.sqrt(np.abs(thrust) / (density * np.pi * diameter**2 / 4.0))


METHODS = {
    "power": Method(function=by_power, source="TradeForces", note="planning figure of the trade, 0.12 kN/kW"),
    "power_and_diameter": Method(function=by_power_and_diameter, source="TradeForces", note="momentum, memory"),
    "momentum_limit": Method(function=momentum_limit, source="DerivedForces", note="ceiling, not for planning"),
}
