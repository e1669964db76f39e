"""The tables of `ship.toml` that hold the wheelhouse poster, and feet and inches as they are written on paper."""

import re
from functools import partial
from typing import Literal

from pydantic import Field

from leadsman.files.shape import FileShape, optional, required
from leadsman.files.things import Keyed, build
from leadsman.poster import Basis, Poster, SquatEstimate, Stop, TurningCircle, ZigZag
from leadsman.units import DEGREE, FOOT, INCH, KNOT

FEET_AND_INCHES = r"^\s*(\d{1,3})\s*(?:ft|feet|'|-)\s*(?:(\d{1,2}(?:\.\d+)?)\s*(?:in|inches|\"|)\s*)?$"
BasisWord = Literal["trial", "estimated", "unknown"]
ConditionWord = Literal["loaded", "ballast"]


def imperial() -> str | None:
    """A key for the second reading of a draught or height, in feet and inches."""
    expected = 'the second reading in feet and inches, text such as "20 ft 4 in"'
    found: str | None = Field(default=None, description=expected, pattern=FEET_AND_INCHES)
    return found


def metres_of(written: str | None) -> float | None:
    """Metres of feet and inches as written; None of None."""
    if written is None:
        return None
    match = re.match(FEET_AND_INCHES, written)
    assert match is not None  # the shape has refused everything else
    return float(match[1]) * FOOT + float(match[2] or 0.0) * INCH


class TurningCircleShape(FileShape):
    """One turning circle of the poster."""

    side: Literal["port", "starboard"] = required("port or starboard")
    condition: ConditionWord = required("loaded or ballast")
    rudder_deg: float = required("degrees of rudder held", 5.0, 110.0)
    advance_m: float | None = optional("metres", 10.0, 10_000.0)
    transfer_m: float | None = optional("metres", 1.0, 10_000.0)
    tactical_diameter_m: float | None = optional("metres", 5.0, 10_000.0)
    time_to_90_s: float | None = optional("seconds from the order to 90 degrees", 5.0, 3600.0)
    approach_speed_kn: float | None = optional("knots", 1.0, 45.0)
    depth_to_draught: float | None = optional("depth by draught; left out for deep water", 1.0, 20.0)
    basis: BasisWord = Field(default="unknown", description="trial, estimated or unknown")


class StopShape(FileShape):
    """One line of the stopping table."""

    order: str = required("the ahead order she began with, such as full_sea_speed")
    condition: ConditionWord = required("loaded or ballast")
    engine_astern: bool = Field(default=True, description="true: full astern; false: engine stopped")
    track_reach_m: float | None = optional("metres", 1.0, 30_000.0)
    head_reach_m: float | None = optional("metres", 1.0, 30_000.0)
    side_reach_m: float | None = optional("metres, to starboard positive", -15_000.0, 15_000.0)
    duration_s: float | None = optional("seconds", 1.0, 7200.0)
    approach_speed_kn: float | None = optional("knots", 1.0, 45.0)
    basis: BasisWord = Field(default="unknown", description="trial, estimated or unknown")


class ZigZagShape(FileShape):
    """One zig-zag test."""

    angle_deg: float = required("degrees of rudder and heading, 10 or 20", 5.0, 35.0)
    condition: ConditionWord = required("loaded or ballast")
    first_overshoot_deg: float | None = optional("degrees", 0.0, 180.0)
    second_overshoot_deg: float | None = optional("degrees", 0.0, 180.0)
    approach_speed_kn: float | None = optional("knots", 1.0, 45.0)
    basis: BasisWord = Field(default="unknown", description="trial, estimated or unknown")


class SquatShape(FileShape):
    """One line of the draught-increase table."""

    clearance_m: float = required("metres under the keel at rest", 0.05, 100.0)
    speed_kn: float = required("knots", 0.2, 45.0)
    squat_m: float = required("metres", 0.0, 10.0)


class PosterShape(FileShape):
    """What the wheelhouse poster adds to the card."""

    initial_turning_distance_m: float | None = optional("metres, 10 degrees of rudder and heading", 5.0, 5_000.0)
    blind_zone_loaded_m: float | None = optional("metres ahead of the bow", 0.0, 2_000.0)
    blind_zone_ballast_m: float | None = optional("metres ahead of the bow", 0.0, 2_000.0)
    turning_circle: list[TurningCircleShape] = Field(default=[], description="tables [[poster.turning_circle]]")
    stop: list[StopShape] = Field(default=[], description="tables [[poster.stop]]")
    zig_zag: list[ZigZagShape] = Field(default=[], description="tables [[poster.zig_zag]]")
    squat: list[SquatShape] = Field(default=[], description="tables [[poster.squat]]")


def poster_from(keyed: Keyed, shape: PosterShape) -> Poster | None:
    """The poster in SI, or None with its faults added."""
    circles = [
        build(partial(_circle, c), keyed, ("poster", "turning_circle", i)) for i, c in enumerate(shape.turning_circle)
    ]
    stops = [build(partial(_stop, s), keyed, ("poster", "stop", i)) for i, s in enumerate(shape.stop)]
    zig_zags = [build(partial(_zig_zag, z), keyed, ("poster", "zig_zag", i)) for i, z in enumerate(shape.zig_zag)]
    squats = [build(partial(_squat, s), keyed, ("poster", "squat", i)) for i, s in enumerate(shape.squat)]
    if None in circles or None in stops or None in zig_zags or None in squats:
        return None
    return build(
        lambda: Poster(
            turning_circles=tuple(item for item in circles if item),
            stops=tuple(item for item in stops if item),
            zig_zags=tuple(item for item in zig_zags if item),
            squats=tuple(item for item in squats if item),
            initial_turning_distance=shape.initial_turning_distance_m,
            blind_zone_loaded=shape.blind_zone_loaded_m,
            blind_zone_ballast=shape.blind_zone_ballast_m,
        ),
        keyed,
        ("poster",),
    )


def _scaled(value: float | None, unit: float) -> float | None:
    return None if value is None else value * unit


def _circle(shape: TurningCircleShape) -> TurningCircle:
    return TurningCircle(
        side=shape.side,
        condition=shape.condition,
        rudder=shape.rudder_deg * DEGREE,
        advance=shape.advance_m,
        transfer=shape.transfer_m,
        tactical_diameter=shape.tactical_diameter_m,
        time_to_90=shape.time_to_90_s,
        approach_speed=_scaled(shape.approach_speed_kn, KNOT),
        depth_to_draught=shape.depth_to_draught,
        basis=Basis(shape.basis),
    )


def _stop(shape: StopShape) -> Stop:
    return Stop(
        order=shape.order,
        condition=shape.condition,
        engine_astern=shape.engine_astern,
        track_reach=shape.track_reach_m,
        head_reach=shape.head_reach_m,
        side_reach=shape.side_reach_m,
        duration=shape.duration_s,
        approach_speed=_scaled(shape.approach_speed_kn, KNOT),
        basis=Basis(shape.basis),
    )


def _zig_zag(shape: ZigZagShape) -> ZigZag:
    return ZigZag(
        angle=shape.angle_deg * DEGREE,
        condition=shape.condition,
        first_overshoot=_scaled(shape.first_overshoot_deg, DEGREE),
        second_overshoot=_scaled(shape.second_overshoot_deg, DEGREE),
        approach_speed=_scaled(shape.approach_speed_kn, KNOT),
        basis=Basis(shape.basis),
    )


def _squat(shape: SquatShape) -> SquatEstimate:
    return SquatEstimate(clearance=shape.clearance_m, speed=shape.speed_kn * KNOT, squat=shape.squat_m)
