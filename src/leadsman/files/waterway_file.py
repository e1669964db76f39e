"""`waterway/waterway.toml` with its areas and tide tables: the way from sea to berth, written inward bound."""

from functools import partial
from typing import Literal

from pydantic import Field

from leadsman.errors import InputError
from leadsman.files.areas_file import read_areas
from leadsman.files.folder import CallFolder
from leadsman.files.rule_file import RuleShape
from leadsman.files.shape import FileShape, optional, required
from leadsman.files.station_file import StreamStationShape, TideStationShape, stream_station, tide_station
from leadsman.files.things import Keyed, build
from leadsman.files.toml_file import TomlFile
from leadsman.geometry import Position
from leadsman.units import DEGREE, KNOT, TONNE_FORCE
from leadsman.waterway import (
    Basin,
    Berth,
    ChannelKind,
    Fairway,
    Gate,
    GateKind,
    Mark,
    Reach,
    WaitingPlace,
    Waterway,
    Waypoint,
)


class PlaceShape(FileShape):
    """Anything with a position."""

    latitude: float = required("degrees north", -90.0, 90.0)
    longitude: float = required("degrees east", -180.0, 180.0)

    def position(self) -> Position:
        """As a thing."""
        return Position(self.latitude, self.longitude)


class NamedPlaceShape(PlaceShape):
    """Anything with a name and a position."""

    name: str = required("a name")


class WaypointShape(NamedPlaceShape):
    """A corner of the track."""

    bend_radius_m: float | None = optional("metres, at every inner waypoint", 20.0, 20_000.0)


class FairwayShape(FileShape):
    """What guidelines for the width of channels ask about a reach; what is left out is taken on the careful side."""

    sheltered: bool | None = optional("true in protected water, an inner channel; false in open water")
    aids: Literal["excellent", "good", "moderate"] | None = optional("aids to navigation")
    bank_port: Literal["gentle", "sloping", "steep"] | None = optional("the port side, inward bound")
    bank_starboard: Literal["gentle", "sloping", "steep"] | None = optional("the starboard side, inward bound")
    two_way: bool = Field(default=False, description="true where ships meet")


class ReachShape(FileShape):
    """The track from one waypoint to the next, in order."""

    name: str = required("a name")
    width_port_m: float = required("metres from the track to the edge, port side inward bound", 5.0, 20_000.0)
    width_starboard_m: float = required("metres from the track to the edge, starboard side inward bound", 5.0, 20_000.0)
    channel: Literal["open", "trench", "canal"] = required("how the sides shape the flow")
    bottom_width_m: float | None = optional("metres", 5.0, 20_000.0)
    side_slope: float | None = optional("metres along for each metre down", 0.0, 50.0)
    trench_height_m: float | None = optional("metres from the bed to the top of the slope", 0.1, 50.0)
    maximum_speed_kn: float | None = optional("knots over the ground, by local rule", 0.5, 40.0)
    wave_percent: float | None = optional("percent of the forecast wave height that comes in here", 0.0, 150.0)
    fairway: FairwayShape = Field(default=FairwayShape(), description="a table")


class GateShape(NamedPlaceShape):
    """A place with a limit of its own."""

    kind: Literal["bridge", "cable", "sill", "narrows"] = required("the kind of gate")
    clearance_m: float | None = optional("metres above clearance_datum", 0.1, 250.0)
    clearance_datum: str | None = optional("the datum of the clearance, such as HAT or MHWS")
    electrical_distance_m: float | None = optional("metres kept free of a charted cable", 0.0, 20.0)
    depth_m: float | None = optional("metres below chart datum, negative dries", -20.0, 200.0)
    width_m: float | None = optional("metres between the sides", 3.0, 5_000.0)
    source: str = Field(default="", description="text")


class BasinShape(NamedPlaceShape):
    """A circle to swing in."""

    diameter_m: float = required("metres", 20.0, 5_000.0)
    no_anchor: str = Field(default="", description="why no anchor may be let go there, such as a power cable")


class WaitingPlaceShape(NamedPlaceShape):
    """Where a ship on her way can wait, anchor or turn back."""


class BerthShape(FileShape):
    """A quay face."""

    name: str = required("a name")
    begin: PlaceShape = required("latitude and longitude of one end")
    end: PlaceShape = required("latitude and longitude of the other end")
    depth_m: float = required("metres below chart datum alongside, negative dries", -20.0, 60.0)
    side_to: Literal["port", "starboard"] = required("port or starboard: the ship's side to the quay")
    aground_allowed: bool = Field(default=False, description="true or false")
    maximum_landing_speed_m_s: float | None = optional("metres per second", 0.01, 1.0)
    face: Literal["closed", "open"] | None = optional("closed, a wall, or open, a jetty on piles")
    approach_angle_deg: float | None = optional("degrees between her side and the quay when she lands", 0.0, 45.0)
    fender_energy_kNm: float | None = optional("kNm that the fenders touched first may take", 1.0, 20_000.0)
    fender_reaction_kN: float | None = optional("kN they push with at that energy", 1.0, 20_000.0)
    bollard_load_t: float | None = optional("tonnes, safe load of one bollard", 1.0, 500.0)
    bridge_mark_m: float | None = optional("metres from begin to abreast of her bridge; left out: middle", 0.0, 2_000.0)


class MarkShape(NamedPlaceShape):
    """Something to steer or look by."""

    kind: Literal["buoy", "beacon", "light", "leading_line", "building", "other"] = required("the kind of mark")
    description: str = Field(default="", description="text")


class WaterwayShape(FileShape):
    """The whole file."""

    name: str = required("the name of the waterway")
    chart_datum: str = required("what chart datum is here, such as LAT")
    caution: str = Field(default="", description="text")
    magnetic_variation_deg: float | None = optional("degrees, east positive", -180.0, 180.0)
    origin: PlaceShape = required("a table [origin] with latitude and longitude")
    heights_above_chart_datum_m: dict[str, float] = Field(description="a table of datum = metres above chart datum")
    waypoint: list[WaypointShape] = Field(min_length=2, description="tables [[waypoint]], at least two")
    reach: list[ReachShape] = Field(min_length=1, description="tables [[reach]], one between every two waypoints")
    areas: str = required("the GeoJSON file of depth areas beside this file")
    gate: list[GateShape] = Field(default=[], description="tables [[gate]]")
    basin: list[BasinShape] = Field(default=[], description="tables [[basin]]")
    waiting_place: list[WaitingPlaceShape] = Field(default=[], description="tables [[waiting_place]]")
    berth: list[BerthShape] = Field(default=[], description="tables [[berth]]")
    mark: list[MarkShape] = Field(default=[], description="tables [[mark]]")
    rule: list[RuleShape] = Field(default=[], description="tables [[rule]]")
    tide_station: list[TideStationShape] = Field(min_length=1, description="tables [[tide_station]]")
    stream_station: list[StreamStationShape] = Field(default=[], description="tables [[stream_station]]")


def waterway_from(
    folder: CallFolder, file: TomlFile, shape: WaterwayShape, errors: list[InputError]
) -> Waterway | None:
    """The waterway in SI; what is impossible about it is added to `errors`."""
    keyed, before = Keyed(file, errors), len(errors)
    areas = read_areas(folder, f"waterway/{shape.areas}", errors)
    reaches = [build(partial(_reach, reach), keyed, ("reach", i)) for i, reach in enumerate(shape.reach)]
    gates = [build(partial(_gate, gate), keyed, ("gate", i)) for i, gate in enumerate(shape.gate)]
    berths = [build(partial(_berth, berth), keyed, ("berth", i)) for i, berth in enumerate(shape.berth)]
    rules = [build(rule.rule, keyed, ("rule", i)) for i, rule in enumerate(shape.rule)]
    tides = [
        build(partial(tide_station, folder, station, errors), keyed, ("tide_station", i))
        for i, station in enumerate(shape.tide_station)
    ]
    streams = [
        build(partial(stream_station, folder, station, errors), keyed, ("stream_station", i))
        for i, station in enumerate(shape.stream_station)
    ]
    if len(errors) > before:
        return None
    waterway = build(
        lambda: Waterway(
            name=shape.name,
            chart_datum=shape.chart_datum,
            origin=shape.origin.position(),
            datums=dict(shape.heights_above_chart_datum_m),
            waypoints=tuple(
                Waypoint(name=point.name, position=point.position(), bend_radius=point.bend_radius_m)
                for point in shape.waypoint
            ),
            reaches=tuple(item for item in reaches if item),
            areas=areas,
            tide_stations=tuple(item for item in tides if item),
            stream_stations=tuple(item for item in streams if item),
            gates=tuple(item for item in gates if item),
            basins=tuple(
                Basin(name=b.name, centre=b.position(), diameter=b.diameter_m, no_anchor=b.no_anchor)
                for b in shape.basin
            ),
            waiting_places=tuple(WaitingPlace(name=p.name, position=p.position()) for p in shape.waiting_place),
            berths=tuple(item for item in berths if item),
            marks=tuple(
                Mark(name=m.name, kind=m.kind, position=m.position(), description=m.description) for m in shape.mark
            ),
            rules=tuple(item for item in rules if item),
            magnetic_variation=None if shape.magnetic_variation_deg is None else shape.magnetic_variation_deg * DEGREE,
            caution=shape.caution,
        ),
        keyed,
        (),
    )
    if waterway is None or build(lambda: waterway.track, keyed, ()) is None:
        return None
    return waterway


def _reach(shape: ReachShape) -> Reach:
    return Reach(
        name=shape.name,
        width_port=shape.width_port_m,
        width_starboard=shape.width_starboard_m,
        channel=ChannelKind(shape.channel),
        bottom_width=shape.bottom_width_m,
        side_slope=shape.side_slope,
        trench_height=shape.trench_height_m,
        maximum_speed=None if shape.maximum_speed_kn is None else shape.maximum_speed_kn * KNOT,
        wave_share=1.0 if shape.wave_percent is None else shape.wave_percent / 100.0,
        fairway=Fairway(**dict(shape.fairway)),
    )


def _gate(shape: GateShape) -> Gate:
    return Gate(
        name=shape.name,
        kind=GateKind(shape.kind),
        position=shape.position(),
        clearance=shape.clearance_m,
        clearance_datum=shape.clearance_datum,
        electrical_distance=shape.electrical_distance_m,
        depth=shape.depth_m,
        width=shape.width_m,
        source=shape.source,
    )


def _berth(shape: BerthShape) -> Berth:
    return Berth(
        name=shape.name,
        begin=shape.begin.position(),
        end=shape.end.position(),
        depth=shape.depth_m,
        side_to=shape.side_to,
        aground_allowed=shape.aground_allowed,
        maximum_landing_speed=shape.maximum_landing_speed_m_s,
        face=shape.face or "",
        approach_angle=None if shape.approach_angle_deg is None else shape.approach_angle_deg * DEGREE,
        fender_energy=None if shape.fender_energy_kNm is None else shape.fender_energy_kNm * 1000.0,
        fender_reaction=None if shape.fender_reaction_kN is None else shape.fender_reaction_kN * 1000.0,
        bollard_load=None if shape.bollard_load_t is None else shape.bollard_load_t * TONNE_FORCE,
        bridge_mark=shape.bridge_mark_m,
    )
