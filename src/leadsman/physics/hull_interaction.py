"""How hull, propeller and rudder change one another's work: the interaction coefficients of the manoeuvring model."""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, where
from leadsman.physics.method import Method


class Interaction(NamedTuple):
    """Rudder behind a hull [-]; lengths as a share of the length between perpendiculars.

    `steering_deduction` tR, `force_increase` aH, `force_position` xH', `straightening` gammaR,
    `straightening_position` lR',
    `wake_ratio` eps, `race_factor` kappa.
    """

    steering_deduction: Real
    force_increase: Real
    force_position: Real
    straightening: Real
    straightening_position: Real
    wake_ratio: Real
    race_factor: Real


@formula
def yoshimura_masumoto(length: Real, beam: Real, block_coefficient: Real, wake: Real) -> Interaction:
    """Interaction coefficients that belong to the hull derivatives of the same authors.

    Source: [YoshimuraMasumoto2012]; the smaller force increase of full hulls is judgement (KVLCC2 measured 0.31).
    Limits: block coefficient 0.5 to 0.65.
    """
    s = block_coefficient * beam / length
    wake_ratio = 2.26 - 1.82 * (1.0 - wake)
    zero = 0.0 * s
    return Interaction(
        steering_deduction=0.39 + zero,
        force_increase=where(block_coefficient > 0.75, 3.4, 3.6) * s,
        force_position=-0.4 + zero,
        straightening=2.06 * s + 0.14,
        straightening_position=-0.9 + zero,
        wake_ratio=wake_ratio,
        race_factor=0.55 / wake_ratio,
    )


@formula
def kijima(length: Real, beam: Real, block_coefficient: Real, wake: Real) -> Interaction:
    """Interaction coefficients that belong to the hull derivatives of the same authors; `wake` is not used.

    Source: [Kijima1990].
    Limits: block coefficient x beam / length 0.10 to 0.17.
    """
    s = block_coefficient * beam / length
    wake_ratio = -156.5 * s**2 + 41.6 * s - 1.76 + 0.0 * wake
    return Interaction(
        steering_deduction=1.0 - (0.28 * block_coefficient + 0.55),
        force_increase=0.627 * block_coefficient - 0.153,
        force_position=-(0.4 + 0.1 * block_coefficient),
        straightening=-22.2 * s**2 + 0.02 * s + 0.68,
        straightening_position=-1.0 + 0.0 * s,
        wake_ratio=wake_ratio,
        race_factor=0.6 / wake_ratio,
    )


@formula
def taylor_wake(block_coefficient: Real, screws: Real) -> Real:
    """Wake fraction of a single or a twin screw, straight ahead in deep water. [-]

    Source: [TaylorWake].
    Limits: block coefficient 0.5 to 0.85.
    """
    return np.maximum(where(screws < 1.5, 0.5 * block_coefficient - 0.05, 0.55 * block_coefficient - 0.20), 0.02)


@formula
def thrust_deduction(wake: Real, screws: Real) -> Real:
    """Share of the thrust that the race takes back from the hull, going ahead. [-]

    Single screw 0.65 of the wake held between 0.15 and 0.25; twin screw 0.14.

    Source: [ThrustDeduction], from memory.
    Limits: none published.
    """
    single = np.minimum(np.maximum(0.65 * wake, 0.15), 0.25)
    return where(screws < 1.5, single, 0.14)


METHODS = {
    "yoshimura_masumoto": Method(
        function=yoshimura_masumoto, source="YoshimuraMasumoto2012", limits={"block_coefficient": (0.5, 0.65)}
    ),
    "kijima": Method(function=kijima, source="Kijima1990", limits={"block_to_slenderness": (0.10, 0.17)}),
}
WAKE_METHODS = {
    "taylor": Method(function=taylor_wake, source="TaylorWake", limits={"block_coefficient": (0.5, 0.85)}),
}
THRUST_DEDUCTION_METHODS = {
    "share_of_wake": Method(function=thrust_deduction, source="ThrustDeduction"),
}
