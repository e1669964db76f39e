"""Consistent invented ship cards, grown from the parent designs of card_parents.toml.

A card is made the way a real one comes about: a hull is drawn (volume by integrating a waterplane that fills upwards),
loaded or ballasted, run at her engine orders, and the figures are rounded, converted and left out as masters do. None
of the formulas or limits of the checks is used here, so that the checks are measured and not mirrored.
"""

import itertools
import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from random import Random

from leadsman.equipment import (
    Anchors,
    Engine,
    EngineKind,
    EngineOrder,
    Propeller,
    ReversalMeaning,
    Rudder,
    Steering,
    Thruster,
)
from leadsman.poster import Basis, Poster, Stop, TurningCircle, ZigZag
from leadsman.ship import Loading, Ship, ShipType
from leadsman.units import INCH, KNOT, MECHANICAL_HORSEPOWER, METRIC_HORSEPOWER, RPM, TONNE

PARENTS = Path(__file__).with_name("card_parents.toml")


@dataclass(frozen=True)
class Card:
    """One consistent card, with the design it came from."""

    design: str
    condition: str
    complete: bool
    ship: Ship
    loading: Loading
    other_loading: Loading
    """The same ship's other condition, which stale figures are taken from."""


class Hull:
    """A drawn hull: the waterplane fills with height, and the volume is its integral."""

    def __init__(self, length: float, beam: float, draught: float, block: float, random: Random) -> None:
        self.plan = length * beam
        self.draught = draught
        top = block + (1.0 - block) * random.uniform(0.48, 0.62)
        self.power = random.uniform(0.5, 0.8)
        share = 1.0 / (self.power + 1.0)
        self.bottom = (block - top * share) / (1.0 - share)
        self.gain = top - self.bottom

    def volume(self, draught: float) -> float:
        """Moulded volume below this draught. [m³]"""
        height = draught / self.draught
        filled = self.bottom * height + self.gain * height ** (self.power + 1.0) / (self.power + 1.0)
        return self.plan * self.draught * filled


def cards(seed: int) -> list[Card]:
    """Every parent twice (one complete card, one with the usual gaps), each loaded and in ballast."""
    parents = tomllib.loads(PARENTS.read_text(encoding="utf-8"))["parent"]
    made = []
    for number, parent in enumerate(parents):
        for complete in (True, False):
            random = Random(f"{seed}/{number}/{complete}")
            design = _sister(parent, random)
            hull = Hull(design["lbp"], design["beam"], design["draught"], design["block"], random)
            ship = _ship(design, hull, complete, random)
            loaded = _loading(design, hull, ship, "loaded", complete, random)
            ballast = _loading(design, hull, ship, "ballast", complete, random)
            made.append(Card(parent["name"], "loaded", complete, ship, loaded, ballast))
            made.append(Card(parent["name"], "ballast", complete, ship, ballast, loaded))
    return made


def _sister(parent: dict, random: Random) -> dict:
    """A sister of the parent: every length a little larger or smaller, beam and draught a little on their own."""
    design = dict(parent)
    scale, beam, draught = random.uniform(0.95, 1.05), random.uniform(0.98, 1.02), random.uniform(0.98, 1.02)
    for name in ("loa", "lbp", "bridge"):
        design[name] = round(parent[name] * scale, 1)
    design["beam"] = round(parent["beam"] * scale * beam, 1)
    for name in ("depth", "draught", "mast", "diameter"):
        design[name] = round(parent[name] * scale * draught, 2)
    design["ballast"] = [round(value * scale * draught, 2) for value in parent["ballast"]]
    design["deadweight"] = parent["deadweight"] * scale**3 * beam * draught
    design["power"] = round(parent["power"] * scale**2.5 / 10.0) * 10.0
    design["speed"] = round(parent["speed"] * scale**0.5, 1)
    design["revolutions"] = round(parent["revolutions"] / scale**0.5)
    return design


def _ship(design: dict, hull: Hull, complete: bool, random: Random) -> Ship:
    def shown(value, share):  # whether the card says it
        return value if complete or random.random() < share else None

    summer = hull.volume(design["draught"]) * 1.025 * 1.004 * TONNE
    deadweight = round(design["deadweight"], -1) * TONNE
    lightship = round((summer - deadweight) / TONNE) * TONNE
    light = design["lbp"] * design["beam"]
    mast_from_stern = design["loa"] - design["bridge"] - random.uniform(2.0, 6.0)
    return Ship(
        name=f"Study {design['name']}",
        kind=ShipType(design["kind"]),
        length_overall=design["loa"],
        beam=design["beam"],
        engine=_engine(design, complete, random),
        call_sign="STUDY",
        year_built=random.randint(1994, 2024),
        gross_tonnage=shown(round(light * design["depth"] * 0.25), 0.4),
        deadweight=deadweight,
        lightship=shown(lightship, 0.3),
        length_between_perpendiculars=shown(design["lbp"], 0.7),
        moulded_depth=shown(design["depth"], 0.4),
        summer_draught=shown(design["draught"], 0.8),
        summer_displacement=shown(lightship + deadweight, 0.3),
        summer_block_coefficient=shown(round(design["block"], 3), 0.3),
        bulbous_bow=random.random() < 0.7,
        bridge_to_bow=design["bridge"],
        bridge_to_stern=round(design["loa"] - design["bridge"], 1),
        keel_to_highest_point=shown(design["mast"], 0.8),
        mast_from_stern=shown(round(mast_from_stern, 1), 0.4),
        parallel_body_loaded=shown(round(design["lbp"] * max(0.05, 1.6 * design["block"] - 0.85), 1), 0.4),
        parallel_body_ballast=shown(round(design["lbp"] * max(0.03, 1.3 * design["block"] - 0.75), 1), 0.4),
        propellers=_propellers(design, complete, random),
        rudders=_rudders(design, complete, random),
        steering=_steering(design, complete, random),
        thrusters=_thrusters(design, random),
        anchors=_anchors(design, random),
        poster=_poster(design, random) if complete or random.random() < 0.4 else Poster(),
    )


def _engine(design: dict, complete: bool, random: Random) -> Engine:
    kind = EngineKind(design["engine"])
    horsepower = random.choice([METRIC_HORSEPOWER, MECHANICAL_HORSEPOWER])
    power = design["power"] * 1000.0
    orders = _pitch_orders(design, random) if kind is EngineKind.CONTROLLABLE_PITCH else _orders(design, random)
    least = min(order.revolutions for order in orders if order.revolutions)
    dead_slow = next(order for order in orders if order.order == "dead_slow_ahead")
    reversing = kind is EngineKind.REVERSING_DIESEL
    reversal, meaning = _reversal(kind, random)
    return Engine(
        kind=kind,
        description=kind.value.replace("_", " "),
        power=power,
        horsepower=round(power / horsepower) if complete or random.random() < 0.85 else None,
        orders=orders,
        time_limit_astern=random.choice([None, 600.0, 900.0, 1800.0]),
        full_ahead_to_full_astern=reversal,
        reversal_meaning=meaning,
        consecutive_starts=random.choice([12, 12, 14, 16, 20, 24]) if reversing else None,
        maximum_revolutions=design["revolutions"] * RPM if complete or random.random() < 0.5 else None,
        minimum_revolutions=least if reversing and (complete or random.random() < 0.8) else None,
        speed_at_minimum_revolutions=dead_slow.speed_loaded if reversing and complete else None,
        astern_power_share=random.choice([0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8]) if random.random() < 0.85 else None,
        critical_revolutions=_critical(orders, random) if reversing else None,
    )


def _orders(design: dict, random: Random) -> tuple[EngineOrder, ...]:
    """Revolution orders; speeds nearly proportional to revolutions, bent and scattered as real tables are."""
    full = design["revolutions"] * random.uniform(0.62, 0.82)
    shares = {
        "full_sea_speed": design["revolutions"] * random.uniform(0.93, 0.98) / full,
        "full_ahead": 1.0,
        "half_ahead": random.uniform(0.76, 0.86),
        "slow_ahead": random.uniform(0.58, 0.68),
        "dead_slow_ahead": random.uniform(0.42, 0.50),
    }
    bend = random.choice([1.0, 1.0, 0.95, 0.82])
    lighter = random.uniform(1.03, 1.10)
    lines = []
    for order, share in shares.items():
        revolutions = round(full * share)
        speed = design["speed"] * (revolutions / design["revolutions"]) ** bend * random.gauss(1.0, 0.025)
        lines.append(_line(order, revolutions, None, speed, speed * lighter * random.gauss(1.0, 0.01)))
    astern = random.uniform(0.85, 1.0)
    for order, like in zip(
        ("dead_slow_astern", "slow_astern", "half_astern", "full_astern"),
        ("dead_slow_ahead", "slow_ahead", "half_ahead", "full_ahead"),
        strict=True,
    ):
        lines.append(_line(order, round(full * shares[like] * astern), None, None, None))
    return tuple(lines)


def _pitch_orders(design: dict, random: Random) -> tuple[EngineOrder, ...]:
    """Pitch orders at one shaft speed; the sign of astern pitch is written or not."""
    revolutions = round(design["revolutions"] * random.choice([0.85, 0.95, 1.0]))
    sign = random.choice([1.0, -1.0])
    shares = {
        "full_ahead": random.uniform(0.72, 0.86),
        "half_ahead": random.uniform(0.52, 0.62),
        "slow_ahead": random.uniform(0.34, 0.44),
        "dead_slow_ahead": random.uniform(0.18, 0.27),
    }
    lighter = random.uniform(1.02, 1.08)
    lines = []
    for order, share in shares.items():
        speed = design["speed"] * (share / 0.97) ** 0.75 * random.gauss(1.0, 0.025)
        lines.append(_line(order, revolutions, round(share, 2), speed, speed * lighter))
    for order, share in {
        "dead_slow_astern": random.uniform(0.15, 0.22),
        "slow_astern": random.uniform(0.30, 0.40),
        "half_astern": random.uniform(0.45, 0.55),
        "full_astern": random.uniform(0.62, 0.78),
    }.items():
        lines.append(_line(order, revolutions, sign * round(share, 2), None, None))
    return tuple(lines)


def _line(order: str, revolutions: int, pitch: float | None, loaded: float | None, ballast: float | None):
    return EngineOrder(
        order=order,
        revolutions=revolutions * RPM,
        pitch=pitch,
        speed_loaded=None if loaded is None else round(loaded, 1) * KNOT,
        speed_ballast=None if ballast is None else round(ballast, 1) * KNOT,
    )


def _critical(orders: tuple[EngineOrder, ...], random: Random) -> tuple[float, float] | None:
    """A barred range between two neighbouring orders, where it must lie if the card is right."""
    if random.random() < 0.4:
        return None
    used = sorted({order.revolutions for order in orders if order.revolutions})
    gaps = [(low, high) for low, high in itertools.pairwise(used) if high - low > 5.0 * RPM]
    if not gaps:
        return None
    low, high = max(gaps[:-1] or gaps, key=lambda gap: gap[1] - gap[0])
    return low + 1.0 * RPM, min(high - 1.0 * RPM, low + 12.0 * RPM)


def _reversal(kind: EngineKind, random: Random) -> tuple[float | None, ReversalMeaning]:
    if kind is EngineKind.REVERSING_DIESEL:
        stopped = random.random() < 0.6
        value = random.uniform(280.0, 680.0) if stopped else random.uniform(35.0, 110.0)
    else:
        stopped = random.random() < 0.3
        value = random.uniform(90.0, 240.0) if stopped else random.uniform(15.0, 60.0)
    meaning = ReversalMeaning.SHIP_STOPPED if stopped else ReversalMeaning.ENGINE_REVERSED
    return round(value), meaning if random.random() < 0.3 else ReversalMeaning.UNKNOWN


def _propellers(design: dict, complete: bool, random: Random) -> tuple[Propeller, ...]:
    screws, pods = design.get("screws", 1), design.get("podded", False)
    pitch = design["speed"] * KNOT / (design["revolutions"] * RPM * random.uniform(0.90, 1.0))
    told = complete or random.random() < 0.4
    sides = [0.0] if screws == 1 else [-0.25 * design["beam"], 0.25 * design["beam"]]
    return tuple(
        Propeller(
            right_handed=side >= 0.0,
            controllable_pitch=design["engine"] == "controllable_pitch",
            diameter=design["diameter"] if told else None,
            pitch_ratio=round(pitch / design["diameter"], 2) if told else None,
            blades=random.choice([4, 5]) if told else None,
            lateral_position=side,
            shaft_height=round(0.55 * design["diameter"], 2) if complete else None,
            podded=pods,
        )
        for side in sides
    )


def _rudders(design: dict, complete: bool, random: Random) -> tuple[Rudder, ...]:
    if not design["rudder"]:
        return ()
    count = 2 if design.get("screws", 1) == 2 else 1
    share = {"tug": 0.035, "coaster": 0.024, "ferry": 0.025, "ro_ro": 0.022}.get(design["kind"], 0.0175)
    area = share * design["lbp"] * design["draught"] * random.uniform(0.93, 1.07) / count
    sides = [0.0] if count == 1 else [-0.25 * design["beam"], 0.25 * design["beam"]]
    return tuple(
        Rudder(
            kind=design["rudder"],
            maximum_angle=math.radians(design["angle"]),
            area=round(area, 1) if complete else None,
            lateral_position=side,
        )
        for side in sides
    )


def _steering(design: dict, complete: bool, random: Random) -> Steering:
    angle = design.get("angle", 35)
    seconds = (2.0 * angle - 5.0) / random.uniform(2.6, 4.6) if design["rudder"] else None
    return Steering(
        hard_over_to_hard_over=None if seconds is None else round(seconds),
        power_units=2 if complete or random.random() < 0.6 else None,
        neutral_angle=math.radians(random.choice([0.0, 0.5, 1.0])) if random.random() < 0.5 else None,
        minimum_steering_speed=round(random.uniform(2.5, 4.8), 1) * KNOT if random.random() < 0.8 else None,
    )


def _thrusters(design: dict, random: Random) -> tuple[Thruster, ...]:
    unit = random.choice([METRIC_HORSEPOWER, MECHANICAL_HORSEPOWER])
    return tuple(
        Thruster(position=position, power=kilowatt * 1000.0, horsepower=round(kilowatt * 1000.0 / unit))
        for position in ("bow", "stern")
        for kilowatt in design.get(position, [])
    )


def _anchors(design: dict, random: Random) -> Anchors:
    shackle, fathoms = random.choice([(27.5, 15.0), (27.5, 15.04), (27.432, 15.0), (27.43, 15.0), (27.4, 15.0)])
    port, starboard = design["shackles"]
    return Anchors(port_shackles=port, starboard_shackles=starboard, shackle=shackle, shackle_fathoms=fathoms)


def _poster(design: dict, random: Random) -> Poster:
    length, speed = design["lbp"], design["speed"] * KNOT
    slender = design["kind"] in ("container", "cruise", "ferry", "ro_ro", "car_carrier")
    circles = []
    for side in ("port", "starboard"):
        diameter = length * (random.uniform(3.6, 4.6) if slender else random.uniform(2.8, 3.6))
        circles.append(
            TurningCircle(
                side=side,
                condition="loaded",
                rudder=math.radians(35.0),
                advance=round(length * (random.uniform(3.2, 4.1) if slender else random.uniform(2.7, 3.4))),
                transfer=round(diameter * random.uniform(0.44, 0.54)),
                tactical_diameter=round(diameter),
                approach_speed=speed,
                basis=Basis.TRIAL,
            )
        )
    track = length * random.uniform(7.0, 12.5)
    stops = [
        Stop(
            order="full_sea_speed",
            condition="loaded",
            track_reach=round(track),
            head_reach=round(track * random.uniform(0.7, 0.97)),
            duration=round(track / speed * random.uniform(1.9, 2.3)),
            approach_speed=speed,
            basis=Basis.TRIAL,
        )
    ]
    overshoot = random.uniform(4.0, 9.0)
    zig_zag = ZigZag(
        angle=math.radians(10.0),
        condition="loaded",
        first_overshoot=math.radians(round(overshoot, 1)),
        second_overshoot=math.radians(round(overshoot * random.uniform(1.2, 2.0), 1)),
        approach_speed=speed,
        basis=Basis.TRIAL,
    )
    return Poster(turning_circles=tuple(circles), stops=tuple(stops), zig_zags=(zig_zag,))


def _loading(design: dict, hull: Hull, ship: Ship, condition: str, complete: bool, random: Random) -> Loading:
    def shown(value, share):
        return value if complete or random.random() < share else None

    if condition == "loaded":
        mean = design["draught"] * random.uniform(0.88, 1.0)
        trim = random.choice([0.0, 0.0, 0.02, 0.04]) * mean
        forward, aft = round(mean - 0.5 * trim, 2), round(mean + 0.5 * trim, 2)
    else:
        forward, aft = (round(value * random.uniform(0.97, 1.03), 2) for value in design["ballast"])
    density = random.choice([1025.0, 1025.0, 1020.0, 1012.0, 1000.0])
    displacement = hull.volume(0.5 * (forward + aft)) * density * 1.004
    displacement = round(displacement / TONNE, 0 if displacement < 2.0e7 else -1) * TONNE
    from_stern = ship.mast_from_stern or design["loa"] - design["bridge"] - 4.0
    at_mast = aft - (aft - forward) * from_stern / design["loa"]
    air_draught = round(design["mast"] - at_mast, 1)
    lightship = hull.volume(design["draught"]) * 1.025 * 1.004 * TONNE - ship.deadweight
    freeboard = design["depth"] - 0.5 * (forward + aft)
    boarding = min(freeboard, random.uniform(2.0, 8.0)) if design["kind"] in _DOORS else max(1.6, freeboard)
    beam_metres = design["beam"]
    return Loading(
        condition=condition,
        draught_forward=forward,
        draught_aft=aft,
        displacement=displacement,
        water_density=shown(density, 0.6),
        air_draught=air_draught,
        metacentric_height=shown(round(beam_metres * random.uniform(0.04, 0.12), 2), 0.35),
        list_angle=math.radians(random.choice([0.0, 0.0, 0.5])) if random.random() < 0.3 else None,
        draught_midships_port=shown(round(0.5 * (forward + aft) + random.uniform(-0.05, 0.05), 2), 0.3),
        draught_midships_starboard=None,
        deadweight=shown(round(displacement - lightship, -4), 0.3),
        draught_forward_imperial=shown(_feet_and_inches(forward), 0.6),
        draught_aft_imperial=shown(_feet_and_inches(aft), 0.6),
        air_draught_imperial=shown(_feet_and_inches(air_draught), 0.5),
        boarding_height=shown(round(boarding, 1), 0.4),
        combination_ladder=boarding > 9.0 if complete or random.random() < 0.4 else None,
    )


_DOORS = ("car_carrier", "cruise", "ferry", "ro_ro")  # the pilot boards by a side door, not over the rail


def _feet_and_inches(metres: float) -> float:
    """Read as feet and whole inches, given back in metres."""
    return round(metres / INCH) * INCH
