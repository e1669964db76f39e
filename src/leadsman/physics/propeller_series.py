"""Open-water and four-quadrant tables of screw series: read once, laid out for `propeller.read_quadrants`."""

import csv
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from leadsman.compiled import Real
from leadsman.physics.method import Method
from leadsman.physics.propeller import BLADE, STEPS

Table: TypeAlias = NDArray[np.float64]
OpenWater: TypeAlias = Callable[[Real], tuple[Real, Real]]
"""Advance ratio J [-] to (KT, KQ) [-]."""

REVERSED_CAMBER = 0.85  # [-] thrust of a blade turned to the opposite pitch over its mirror image; judgement: gives the
# 0.65 to 0.7 of the ahead thrust that controllable-pitch screws are said to have at full astern pitch (memory)


def _rows(name: str) -> list[dict[str, str]]:
    text = (Path(__file__).parent / name).read_text(encoding="ascii")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def _series(quantity: str) -> Table:
    rows = _rows("propeller_b_series.csv")
    return np.array([[float(row[name]) for name in "cstuv"] for row in rows if row["quantity"] == quantity])


@cache
def _fourier(pitch_ratio: float) -> Table:
    rows = _rows("propeller_four_quadrant.csv")
    names = ("k", "AT", "BT", "AQ", "BQ")
    return np.array([[float(row[name]) for name in names] for row in rows if float(row["pitch_ratio"]) == pitch_ratio])


def wageningen_b(advance_ratio: Real, pitch_ratio: float, area_ratio: float, blades: float) -> tuple[Real, Real]:
    """Thrust and torque coefficient (KT, KQ) of the Wageningen B-series, first quadrant, Reynolds number 2e6. [-]

    Source: [OosterveldOossanen1975].
    Limits: blades 2 to 7, area ratio 0.30 to 1.05, pitch ratio 0.5 to 1.4, advance ratio from 0 to zero thrust.
    """
    J = np.asarray(advance_ratio, dtype=float)[..., np.newaxis]

    def total(terms: Table) -> Real:
        c, s, t, u, v = terms.T
        return (c * J**s * pitch_ratio**t * area_ratio**u * blades**v).sum(axis=-1)[()]

    return total(_series("KT")), total(_series("KQ"))


def wageningen_b4_70(beta: Real, pitch_ratio: float) -> tuple[Real, Real]:
    """Four-quadrant coefficients (CT*, CQ*) of the B4-70 screw at an advance angle [rad]. [-]

    Linear in the pitch ratio between the published tables and beyond them by the same line.

    Source: [RoddyHessFaller2006].
    Limits: pitch ratio 0.6 to 1.2.
    """
    lower, upper = (0.6, 0.8) if pitch_ratio < 0.8 else (0.8, 1.2)
    share = (pitch_ratio - lower) / (upper - lower)
    terms = (1.0 - share) * _fourier(lower) + share * _fourier(upper)
    angle = np.asarray(beta, dtype=float)[..., np.newaxis] * terms[:, 0]
    cosine, sine = np.cos(angle), np.sin(angle)
    CT = (terms[:, 1] * cosine + terms[:, 2] * sine).sum(axis=-1)[()] / 100.0
    CQ = -(terms[:, 3] * cosine + terms[:, 4] * sine).sum(axis=-1)[()] / 1000.0
    return CT, CQ


def wageningen(pitch_ratio: float, area_ratio: float, blades: float) -> OpenWater:
    """The open-water curve of a B-series screw, as `four_quadrants` takes it."""
    return lambda advance_ratio: wageningen_b(advance_ratio, pitch_ratio, area_ratio, blades)


def zero_thrust(open_water: OpenWater) -> float:
    """Advance ratio at which the thrust vanishes. [-]"""
    ratios = np.linspace(0.0, 2.0, 401)
    thrust = np.asarray(open_water(ratios)[0])
    first = int(np.argmax(thrust <= 0.0))
    if first == 0:
        raise ValueError("open-water thrust: no positive thrust at rest, or none vanishing below an advance ratio of 2")
    fall = thrust[first - 1] - thrust[first]
    return float(ratios[first - 1] + (ratios[1] - ratios[0]) * thrust[first - 1] / fall)


def four_quadrants(open_water: OpenWater, pitch_ratio: float) -> tuple[Table, Table]:
    """CT* and CQ* of a screw at each whole degree of advance angle: its own open-water curve where that is known,
    else B4-70.

    The B4-70 values of this pitch ratio are scaled so that they agree with the open-water curve at rest. Between rest
    and zero thrust the open-water curve takes over, joined over the first 6 degrees and the last fifth of the range.

    Source: [RoddyHessFaller2006]; the scaling and the joint are ours.
    Limits: pitch ratio 0.6 to 1.2 for the three quadrants beyond the first.
    """
    beta = np.radians(np.arange(STEPS, dtype=float))
    far_thrust, far_torque = wageningen_b4_70(beta, pitch_ratio)
    rest_thrust, rest_torque = open_water(0.0)
    to_star = 8.0 / (np.pi * BLADE**2)
    far_thrust = far_thrust * (to_star * rest_thrust / far_thrust[0])
    far_torque = far_torque * (to_star * rest_torque / far_torque[0])

    ending = np.arctan2(zero_thrust(open_water), BLADE)
    first = beta <= ending
    ratio = np.where(first, BLADE * np.tan(np.where(first, beta, 0.0)), 0.0)
    KT, KQ = open_water(ratio)
    star = 8.0 / (np.pi * (ratio**2 + BLADE**2))

    rising = np.clip(beta / np.radians(6.0), 0.0, 1.0)
    falling = np.clip((ending - beta) / (0.2 * ending), 0.0, 1.0)
    weight = np.where(first, (rising**2 * (3.0 - 2.0 * rising)) * (falling**2 * (3.0 - 2.0 * falling)), 0.0)
    thrust = weight * KT * star + (1.0 - weight) * far_thrust
    torque = weight * KQ * star + (1.0 - weight) * far_torque
    return thrust, torque


def mirrored(values: Table, sign: float) -> Table:
    """The same screw seen in a mirror across its disc: opposite pitch, opposite flow."""
    return sign * np.roll(values[::-1], 1)


def padded(lines: Sequence[Table]) -> Table:
    """Lines of 360 values with the neighbours each end needs for a cubic round the circle."""
    return np.array([np.concatenate((line[-1:], line, line[:2])) for line in lines])


def fixed_pitch(open_water: OpenWater, pitch_ratio: float) -> tuple[Table, Table, Table]:
    """(CT*, CQ*, pitch ratios) of a screw of fixed pitch: one line."""
    thrust, torque = four_quadrants(open_water, pitch_ratio)
    return padded([thrust]), padded([torque]), np.array([pitch_ratio])


def controllable_pitch(area_ratio: float, blades: float) -> tuple[Table, Table, Table]:
    """(CT*, CQ*, pitch ratios) of a screw whose pitch goes from -1.2 to 1.2; opposite pitch is the mirror image,
    camber wrong.

    Source: [RoddyHessFaller2006], [OosterveldOossanen1975]; the mirror image and its loss by camber are ours.
    Limits: pitch ratio 0.6 to 1.2 either way; between -0.6 and 0.6 a straight line, whose torque near zero pitch is
    high.
    """
    pitches = (0.6, 0.8, 1.0, 1.2)
    ahead = [four_quadrants(wageningen(pitch, area_ratio, blades), pitch) for pitch in pitches]
    thrust = [mirrored(REVERSED_CAMBER * line, -1.0) for line, _ in reversed(ahead)] + [line for line, _ in ahead]
    torque = [mirrored(line, 1.0) for _, line in reversed(ahead)] + [line for _, line in ahead]
    return padded(thrust), padded(torque), np.array([-pitch for pitch in reversed(pitches)] + list(pitches))


METHODS = {
    "wageningen_b": Method(
        function=wageningen_b,
        source="OosterveldOossanen1975",
        limits={"blades": (2.0, 7.0), "blade_area_ratio": (0.30, 1.05), "pitch_ratio": (0.5, 1.4)},
    ),
    "wageningen_b4_70": Method(
        function=wageningen_b4_70, source="RoddyHessFaller2006", limits={"pitch_ratio": (0.6, 1.2)}
    ),
}
