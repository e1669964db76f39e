"""What the hull gives a ship that makes way with a little drift: the force that lets her crab against a wind."""

from leadsman.compiled import Real, formula
from leadsman.physics import hull
from leadsman.physics.method import Method
from leadsman.physics.wind import Loads


@formula
def drift_loads(
    speed: Real,
    drift_angle: Real,
    length_between_perpendiculars: Real,
    beam: Real,
    draught: Real,
    block_coefficient: Real,
    density: Real,
) -> Loads:
    """Side force and moment of a hull at a small drift angle, linear in it; the drag is left out.

    Parameters
    ----------
    speed : float
        Through the water. [m/s]
    drift_angle : float
        Positive when the water comes from port ahead: the force is then to starboard and turns the bow to starboard.
        [rad]

    Returns
    -------
    loads : surge [N], nil; sway [N]; yaw [N m]

    Source: [Kijima1990], linear derivatives in deep water; shallow water makes both larger.
    Limits: drift angle under about 10 degrees; block coefficient 0.55 to 0.85.
    """
    linear = hull.kijima(length_between_perpendiculars, beam, draught, block_coefficient, 0.0, 0.0)
    pressure = 0.5 * density * length_between_perpendiculars * draught * speed**2
    sway = -pressure * linear.Yv * drift_angle  # a drift angle to starboard is a velocity to port
    yaw = -pressure * length_between_perpendiculars * linear.Nv * drift_angle
    return Loads(0.0 * sway, sway, yaw)


SMALL_DRIFT = 0.17  # rad, about 10 degrees: where the linear part still serves (manoeuvring sheet 4.1) [memory]

METHODS = {
    "linear": Method(
        function=drift_loads,
        source="Kijima1990",
        limits={"drift_angle": (-SMALL_DRIFT, SMALL_DRIFT), "block_coefficient": (0.55, 0.85)},
        note="deep water; drag left out",
    )
}
