"""`ship.toml`: the ship card and today's loading, in the fields of the card of IMO Resolution A.601(15), appendix 1."""

import math
from collections.abc import Mapping
from functools import partial
from typing import Annotated, Literal

from pydantic import Field

from leadsman.equipment import (
    Anchors,
    Engine,
    EngineKind,
    EngineOrder,
    Propeller,
    ReversalMeaning,
    Rudder,
    State,
    Steering,
    Thruster,
)
from leadsman.errors import Impossible, InputError
from leadsman.files.own_figures_file import OwnFiguresShape, own_figures_from
from leadsman.files.poster_file import PosterShape, imperial, metres_of, poster_from
from leadsman.files.shape import FileShape, optional, required
from leadsman.files.things import Keyed, build
from leadsman.files.toml_file import TomlFile
from leadsman.ship import Loading, OwnFigure, Ship, ShipType, contradictions
from leadsman.units import DEGREE, KNOT, MINUTE, RPM, TONNE

StateWord = Literal["ready", "reduced", "defective"]


class OrderShape(FileShape):
    """One line of the engine order table."""

    order: str = required("an engine order such as half_ahead")
    revolutions_rpm: float | None = optional("revolutions per minute", 0.0, 1200.0)
    pitch_percent: float | None = optional("percent of full pitch", -120.0, 120.0)
    speed_loaded_kn: float | None = optional("knots, loaded", 0.0, 45.0)
    speed_ballast_kn: float | None = optional("knots, in ballast", 0.0, 45.0)


class EngineShape(FileShape):
    """Main propulsion."""

    kind: Literal["reversing_diesel", "geared_diesel", "controllable_pitch", "diesel_electric", "steam_turbine"] = (
        required("how thrust is reversed")
    )
    description: str = Field(default="", description="text")
    power_kW: float | None = optional("kilowatts", 10.0, 150_000.0)
    power_HP: float | None = optional("horsepower as written on the card", 10.0, 210_000.0)
    time_limit_astern_min: float | None = optional("minutes", 0.1, 10_000.0)
    full_ahead_to_full_astern_s: float | None = optional("seconds", 1.0, 3600.0)
    stop_to_full_astern_s: float | None = optional("seconds", 1.0, 3600.0)
    full_ahead_to_full_astern_means: Literal["engine_reversed", "ship_stopped", "unknown"] = Field(
        default="unknown", description="what the time was taken to"
    )
    consecutive_starts: int | None = optional("a count", 1, 1000)
    maximum_revolutions_rpm: float | None = optional("revolutions per minute at maximum rating", 10.0, 1200.0)
    minimum_revolutions_rpm: float | None = optional("revolutions per minute", 1.0, 600.0)
    speed_at_minimum_revolutions_kn: float | None = optional("knots", 0.0, 20.0)
    time_limit_at_minimum_revolutions_min: float | None = optional("minutes", 0.1, 10_000.0)
    astern_power_percent: float | None = optional("percent of ahead power", 1.0, 150.0)
    critical_revolutions_rpm: Annotated[list[float], Field(min_length=2, max_length=2)] | None = optional(
        "two figures in rpm, lower first"
    )
    state: StateWord = Field(default="ready", description="ready, reduced or defective")
    order: list[OrderShape] = Field(min_length=1, description="the engine order table, [[engine.order]]")


class PropellerShape(FileShape):
    """One propeller."""

    hand: Literal["right", "left"] | None = optional("right or left, as seen from astern going ahead")
    controllable_pitch: bool = Field(default=False, description="true or false")
    podded: bool = Field(default=False, description="true or false")
    diameter_m: float | None = optional("metres", 0.3, 14.0)
    pitch_ratio: float | None = optional("pitch by diameter", 0.2, 2.0)
    blades: int | None = optional("a count", 2, 9)
    shaft_height_m: float | None = optional("metres from the keel to the centre of the shaft", 0.2, 12.0)
    lateral_position_m: float = Field(default=0.0, description="metres from the centreline, starboard positive")
    state: StateWord = Field(default="ready", description="ready, reduced or defective")


class RudderShape(FileShape):
    """One rudder."""

    kind: Literal["conventional", "spade", "fishtail", "flap"] = Field(
        default="conventional", description="kind of rudder"
    )
    maximum_angle_deg: float | None = optional("degrees", 10.0, 110.0)
    area_m2: float | None = optional("square metres", 0.3, 250.0)
    height_m: float | None = optional("metres", 0.5, 20.0)
    lateral_position_m: float = Field(default=0.0, description="metres from the centreline, starboard positive")
    state: StateWord = Field(default="ready", description="ready, reduced or defective")


class SteeringShape(FileShape):
    """Steering particulars."""

    hard_over_to_hard_over_s: float | None = optional("seconds", 2.0, 120.0)
    power_units: int | None = optional("how many pumps the time was taken with", 1, 6)
    hard_over_with_one_unit_s: float | None = optional("seconds, with one power unit", 2.0, 240.0)
    neutral_angle_deg: float | None = optional("degrees, starboard positive", -15.0, 15.0)
    minimum_steering_speed_kn: float | None = optional("knots", 0.1, 15.0)
    minimum_steering_speed_propeller_stopped_kn: float | None = optional("knots", 0.1, 20.0)
    state: StateWord = Field(default="ready", description="ready, reduced or defective")


class ThrusterShape(FileShape):
    """One tunnel thruster."""

    position: Literal["bow", "stern"] = required("bow or stern")
    power_kW: float = required("kilowatts", 10.0, 10_000.0)
    power_HP: float | None = optional("horsepower as written on the card", 10.0, 15_000.0)
    not_effective_above_kn: float | None = optional("knots", 0.5, 15.0)
    distance_from_midships_m: float | None = optional("metres, forward positive", -250.0, 250.0)
    time_to_full_thrust_s: float | None = optional("seconds", 0.5, 600.0)
    time_to_reverse_s: float | None = optional("seconds", 0.5, 600.0)
    turning_rate_deg_min: float | None = optional("degrees per minute at zero speed", 0.5, 360.0)
    time_limit_min: float | None = optional("minutes of thrust at one go", 1.0, 1440.0)
    state: StateWord = Field(default="ready", description="ready, reduced or defective")


class AnchorsShape(FileShape):
    """Anchor chain."""

    port_shackles: float | None = optional("shackles", 0.5, 30.0)
    starboard_shackles: float | None = optional("shackles", 0.5, 30.0)
    stern_shackles: float | None = optional("shackles", 0.5, 30.0)
    shackle_m: float | None = optional("metres in one shackle", 20.0, 35.0)
    shackle_fathoms: float | None = optional("fathoms in one shackle", 10.0, 20.0)
    heaving_time_min: float | None = optional("minutes to heave one shackle", 0.5, 30.0)
    anchor_mass_kg: float | None = optional("kilograms of one bower anchor", 50.0, 60_000.0)
    equipment_number: float | None = optional("from her certificate", 10.0, 20_000.0)
    state: StateWord = Field(default="ready", description="ready, reduced or defective")


class LoadingShape(FileShape):
    """How she floats today."""

    condition: Literal["loaded", "ballast"] = required("loaded or ballast: which column of the order table holds")
    draught_forward_m: float = required("metres", 0.2, 40.0)
    draught_aft_m: float = required("metres", 0.2, 40.0)
    draught_midships_port_m: float | None = optional("metres", 0.2, 40.0)
    draught_midships_starboard_m: float | None = optional("metres", 0.2, 40.0)
    draught_forward_imperial: str | None = imperial()
    draught_aft_imperial: str | None = imperial()
    displacement_t: float | None = optional("tonnes", 10.0, 1_000_000.0)
    deadweight_t: float | None = optional("tonnes aboard now", 1.0, 600_000.0)
    water_density_kg_m3: float | None = optional("kg/m³ of the water the draughts were read in", 990.0, 1050.0)
    air_draught_m: float | None = optional("metres", 1.0, 110.0)
    air_draught_imperial: str | None = imperial()
    boarding_height_m: float | None = optional("metres from the water to where the pilot steps aboard", 0.1, 40.0)
    combination_ladder: bool | None = optional("true or false: an accommodation ladder together with the pilot ladder")
    metacentric_height_m: float | None = optional("metres", 0.05, 15.0)
    centre_of_gravity_height_m: float | None = optional("metres above the keel", 0.5, 40.0)
    list_deg: float | None = optional("degrees, starboard positive", -20.0, 20.0)
    lateral_windage_m2: float | None = optional("square metres", 5.0, 40_000.0)
    frontal_windage_m2: float | None = optional("square metres", 2.0, 6_000.0)


class ShipShape(FileShape):
    """The whole file."""

    name: str = required("the ship's name")
    kind: Literal[
        "coaster",
        "general_cargo",
        "bulk_carrier",
        "tanker",
        "container",
        "gas_carrier",
        "ro_ro",
        "car_carrier",
        "ferry",
        "cruise",
        "tug",
        "other",
    ] = required("the kind of ship")
    call_sign: str = Field(default="", description="text")
    year_built: int | None = optional("a year", 1850, 2100)
    deadweight_t: float | None = optional("tonnes at the summer draught", 1.0, 600_000.0)
    lightship_t: float | None = optional("tonnes", 1.0, 200_000.0)
    length_overall_m: float = required("metres", 5.0, 500.0)
    length_between_perpendiculars_m: float | None = optional("metres", 5.0, 490.0)
    beam_m: float = required("metres", 1.5, 90.0)
    moulded_depth_m: float | None = optional("metres, keel to deck", 1.0, 50.0)
    summer_draught_m: float | None = optional("metres", 0.5, 30.0)
    bulbous_bow: bool | None = optional("true or false")
    bridge_to_bow_m: float | None = optional("metres", 0.5, 500.0)
    bridge_to_stern_m: float | None = optional("metres", 0.5, 500.0)
    keel_to_highest_point_m: float | None = optional("metres", 2.0, 120.0)
    mast_from_stern_m: float | None = optional("metres from the stern to the highest point", 0.0, 500.0)
    parallel_body_loaded_m: float | None = optional("metres", 0.0, 400.0)
    parallel_body_ballast_m: float | None = optional("metres", 0.0, 400.0)
    summer_displacement_t: float | None = optional("tonnes", 10.0, 1_000_000.0)
    summer_block_coefficient: float | None = optional("as printed on the poster", 0.3, 1.0)
    gross_tonnage: float | None = optional("gross tonnage", 5.0, 300_000.0)
    net_tonnage: float | None = optional("net tonnage", 1.0, 200_000.0)
    gyro_error_deg: float | None = optional("degrees, high positive", -10.0, 10.0)
    defects: list[str] = Field(default=[], description="a list of sentences")
    remarks: str = Field(default="", description="text")
    loading: LoadingShape = required("a table [loading]")
    engine: EngineShape = required("a table [engine]")
    propeller: list[PropellerShape] = Field(default=[], description="tables [[propeller]]")
    rudder: list[RudderShape] = Field(default=[], description="tables [[rudder]]")
    steering: SteeringShape = Field(default=SteeringShape(), description="a table [steering]")
    thruster: list[ThrusterShape] = Field(default=[], description="tables [[thruster]]")
    anchors: AnchorsShape = Field(default=AnchorsShape(), description="a table [anchors]")
    equipment: dict[str, StateWord] = Field(default={}, description="item = ready, reduced or defective")
    equipment_details: dict[str, str] = Field(default={}, description='item = text such as "doppler, dual axis"')
    poster: PosterShape = Field(default=PosterShape(), description="a table [poster]")
    own_figures: OwnFiguresShape = Field(default=OwnFiguresShape(), description="a table [own_figures]")


def _scaled(value: float | None, unit: float) -> float | None:
    return None if value is None else value * unit


def ship_from(file: TomlFile, shape: ShipShape, errors: list[InputError]) -> tuple[Ship, Loading] | None:
    """Ship and loading in SI; what is impossible about them is added to `errors`."""
    keyed = Keyed(file, errors)
    engine = build(lambda: _engine(keyed, shape.engine), keyed, ("engine",))
    propellers = [build(partial(_propeller, p), keyed, ("propeller", i)) for i, p in enumerate(shape.propeller)]
    rudders = [build(partial(_rudder, r), keyed, ("rudder", i)) for i, r in enumerate(shape.rudder)]
    thrusters = [build(partial(_thruster, t), keyed, ("thruster", i)) for i, t in enumerate(shape.thruster)]
    own_figures = own_figures_from(keyed, shape.own_figures)
    loading = build(lambda: _loading(shape.loading, own_figures), keyed, ("loading",))
    poster = poster_from(keyed, shape.poster)
    units = (*propellers, *rudders, *thrusters)
    if engine is None or loading is None or poster is None or None in units:
        return None
    ship = build(
        lambda: Ship(
            name=shape.name,
            kind=ShipType(shape.kind),
            length_overall=shape.length_overall_m,
            beam=shape.beam_m,
            engine=engine,
            call_sign=shape.call_sign,
            year_built=shape.year_built,
            gross_tonnage=shape.gross_tonnage,
            net_tonnage=shape.net_tonnage,
            deadweight=_scaled(shape.deadweight_t, TONNE),
            lightship=_scaled(shape.lightship_t, TONNE),
            length_between_perpendiculars=shape.length_between_perpendiculars_m,
            moulded_depth=shape.moulded_depth_m,
            summer_draught=shape.summer_draught_m,
            summer_displacement=_scaled(shape.summer_displacement_t, TONNE),
            summer_block_coefficient=shape.summer_block_coefficient,
            bulbous_bow=shape.bulbous_bow,
            bridge_to_bow=shape.bridge_to_bow_m,
            bridge_to_stern=shape.bridge_to_stern_m,
            keel_to_highest_point=shape.keel_to_highest_point_m,
            mast_from_stern=shape.mast_from_stern_m,
            parallel_body_loaded=shape.parallel_body_loaded_m,
            parallel_body_ballast=shape.parallel_body_ballast_m,
            propellers=tuple(item for item in propellers if item),
            rudders=tuple(item for item in rudders if item),
            steering=_steering(shape.steering),
            thrusters=tuple(item for item in thrusters if item),
            anchors=_anchors(shape.anchors),
            equipment={item: State(word) for item, word in shape.equipment.items()},
            equipment_details=dict(shape.equipment_details),
            gyro_error=_scaled(shape.gyro_error_deg, DEGREE),
            poster=poster,
            defects=tuple(shape.defects),
            remarks=shape.remarks,
        ),
        keyed,
        (),
    )
    if ship is None:
        return None
    found = list(contradictions(ship, loading))
    if found:
        keyed.add(Impossible(found), ("loading",))
        return None
    return ship, loading


def _engine(keyed: Keyed, shape: EngineShape) -> Engine:
    orders = [build(partial(_order, o), keyed, ("engine", "order", i)) for i, o in enumerate(shape.order)]
    critical = shape.critical_revolutions_rpm
    return Engine(
        kind=EngineKind(shape.kind),
        description=shape.description,
        power=_scaled(shape.power_kW, 1000.0),
        horsepower=shape.power_HP,
        orders=tuple(order for order in orders if order),
        time_limit_astern=_scaled(shape.time_limit_astern_min, MINUTE),
        full_ahead_to_full_astern=shape.full_ahead_to_full_astern_s,
        stop_to_full_astern=shape.stop_to_full_astern_s,
        reversal_meaning=ReversalMeaning(shape.full_ahead_to_full_astern_means),
        consecutive_starts=shape.consecutive_starts,
        maximum_revolutions=_scaled(shape.maximum_revolutions_rpm, RPM),
        minimum_revolutions=_scaled(shape.minimum_revolutions_rpm, RPM),
        time_limit_at_minimum_revolutions=_scaled(shape.time_limit_at_minimum_revolutions_min, MINUTE),
        speed_at_minimum_revolutions=_scaled(shape.speed_at_minimum_revolutions_kn, KNOT),
        astern_power_share=_scaled(shape.astern_power_percent, 0.01),
        critical_revolutions=None if critical is None else (critical[0] * RPM, critical[1] * RPM),
        state=State(shape.state),
    )


def _order(shape: OrderShape) -> EngineOrder:
    return EngineOrder(
        order=shape.order,
        revolutions=_scaled(shape.revolutions_rpm, RPM),
        pitch=_scaled(shape.pitch_percent, 0.01),
        speed_loaded=_scaled(shape.speed_loaded_kn, KNOT),
        speed_ballast=_scaled(shape.speed_ballast_kn, KNOT),
    )


def _propeller(shape: PropellerShape) -> Propeller:
    return Propeller(
        right_handed=None if shape.hand is None else shape.hand == "right",
        controllable_pitch=shape.controllable_pitch,
        diameter=shape.diameter_m,
        pitch_ratio=shape.pitch_ratio,
        blades=shape.blades,
        lateral_position=shape.lateral_position_m,
        shaft_height=shape.shaft_height_m,
        podded=shape.podded,
        state=State(shape.state),
    )


def _rudder(shape: RudderShape) -> Rudder:
    return Rudder(
        kind=shape.kind,
        maximum_angle=None if shape.maximum_angle_deg is None else math.radians(shape.maximum_angle_deg),
        area=shape.area_m2,
        height=shape.height_m,
        lateral_position=shape.lateral_position_m,
        state=State(shape.state),
    )


def _steering(shape: SteeringShape) -> Steering:
    return Steering(
        hard_over_to_hard_over=shape.hard_over_to_hard_over_s,
        power_units=shape.power_units,
        hard_over_with_one_unit=shape.hard_over_with_one_unit_s,
        neutral_angle=_scaled(shape.neutral_angle_deg, DEGREE),
        minimum_steering_speed=_scaled(shape.minimum_steering_speed_kn, KNOT),
        minimum_steering_speed_propeller_stopped=_scaled(shape.minimum_steering_speed_propeller_stopped_kn, KNOT),
        state=State(shape.state),
    )


def _thruster(shape: ThrusterShape) -> Thruster:
    return Thruster(
        position=shape.position,
        power=shape.power_kW * 1000.0,
        horsepower=shape.power_HP,
        not_effective_above=_scaled(shape.not_effective_above_kn, KNOT),
        distance_from_midships=shape.distance_from_midships_m,
        time_to_full_thrust=shape.time_to_full_thrust_s,
        time_to_reverse=shape.time_to_reverse_s,
        turning_rate=_scaled(shape.turning_rate_deg_min, DEGREE / MINUTE),
        time_limit=_scaled(shape.time_limit_min, MINUTE),
        state=State(shape.state),
    )


def _anchors(shape: AnchorsShape) -> Anchors:
    return Anchors(
        port_shackles=shape.port_shackles,
        starboard_shackles=shape.starboard_shackles,
        stern_shackles=shape.stern_shackles,
        shackle=shape.shackle_m,
        shackle_fathoms=shape.shackle_fathoms,
        heaving_time=_scaled(shape.heaving_time_min, MINUTE),
        anchor_mass=shape.anchor_mass_kg,
        equipment_number=shape.equipment_number,
        state=State(shape.state),
    )


def _loading(shape: LoadingShape, own_figures: Mapping[str, OwnFigure]) -> Loading:
    return Loading(
        condition=shape.condition,
        draught_forward=shape.draught_forward_m,
        draught_aft=shape.draught_aft_m,
        displacement=_scaled(shape.displacement_t, TONNE),
        water_density=shape.water_density_kg_m3,
        air_draught=shape.air_draught_m,
        metacentric_height=shape.metacentric_height_m,
        centre_of_gravity_height=shape.centre_of_gravity_height_m,
        list_angle=_scaled(shape.list_deg, DEGREE),
        lateral_windage=shape.lateral_windage_m2,
        frontal_windage=shape.frontal_windage_m2,
        draught_midships_port=shape.draught_midships_port_m,
        draught_midships_starboard=shape.draught_midships_starboard_m,
        deadweight=_scaled(shape.deadweight_t, TONNE),
        draught_forward_imperial=metres_of(shape.draught_forward_imperial),
        draught_aft_imperial=metres_of(shape.draught_aft_imperial),
        air_draught_imperial=metres_of(shape.air_draught_imperial),
        boarding_height=shape.boarding_height_m,
        combination_ladder=shape.combination_ladder,
        own_figures=own_figures,
    )
