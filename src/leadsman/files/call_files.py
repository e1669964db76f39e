"""A port call from its folder or zip: `call.toml`, `ship.toml`, `forecast.toml`, `waterway/`; all faults at once."""

from collections.abc import Callable
from datetime import UTC, timedelta
from functools import partial
from pathlib import Path
from typing import Literal, TypeVar

from pydantic import AwareDatetime, BaseModel, Field

from leadsman.errors import Impossible, InputError, InputErrors
from leadsman.files.explain import shaped
from leadsman.files.folder import CallFolder, open_folder
from leadsman.files.rule_file import MooredShape, MovementShape, RuleShape
from leadsman.files.shape import FileShape, optional, required
from leadsman.files.ship_file import ShipShape, ship_from
from leadsman.files.things import Keyed, build
from leadsman.files.toml_file import TomlFile, read_toml
from leadsman.files.waterway_file import WaterwayShape, waterway_from
from leadsman.forecast import Forecast
from leadsman.portcall import Anchoring, Direction, Margins, PortCall, ReachPlan, Swing, Tug
from leadsman.ship import Loading, Ship
from leadsman.units import DEGREE, KNOT, TONNE_FORCE
from leadsman.waterway import Waterway

Shape = TypeVar("Shape", bound=BaseModel)
Thing = TypeVar("Thing")

SEARCH_DAYS = 14.0  # the horizon looked over for windows where call.toml does not say: springs to springs


class ForecastShape(FileShape):
    """`forecast.toml`."""

    issued: AwareDatetime = required("a time with zone such as 2031-05-04T06:00:00Z")
    source: str = required("who says so")
    residual_m: float = required("metres, observed or forecast level less the tide", -8.0, 8.0)
    residual_low_m: float = required("metres, the lowest the residual may be", -8.0, 8.0)
    residual_high_m: float = required("metres, the highest the residual may be", -8.0, 8.0)
    wind_speed_kn: float | None = optional("knots", 0.0, 150.0)
    wind_from_deg: float | None = optional("degrees true it comes from", 0.0, 360.0)
    gust_speed_kn: float | None = optional("knots", 0.0, 200.0)
    wave_height_m: float | None = optional("metres, significant", 0.0, 25.0)
    wave_period_s: float | None = optional("seconds, of the peak", 1.0, 30.0)
    wave_from_deg: float | None = optional("degrees true they come from", 0.0, 360.0)
    visibility_nm: float | None = optional("nautical miles", 0.0, 50.0)
    water_density_kg_m3: float | None = optional("kg/m³ of the water to be sailed in", 990.0, 1050.0)
    gauge_decay_h: float | None = optional("hours in which what a gauge shows dies away into this forecast", 0.1, 240.0)


class MarginsShape(FileShape):
    """What the port or company requires."""

    underkeel_m: float | None = optional("metres, least net clearance under the keel", 0.0, 20.0)
    underkeel_percent_of_draught: float | None = optional("percent of draught, least net clearance", 0.0, 100.0)
    underkeel_includes: list[str] = Field(default=[], description="allowances these already hold, such as waves")
    touching_probability: float | None = optional("greatest chance of touching on the passage", 1e-6, 0.5)
    overhead_m: float = required("metres, least clearance overhead", 0.0, 20.0)
    alongside_m: float | None = optional("metres, least static clearance at the berth", 0.0, 20.0)
    width_m: float | None = optional("metres, least room from what she sweeps to the edge", 0.0, 500.0)
    rudder_in_hand_percent: float | None = optional("percent of engine and rudder kept unused to hold her", 0.0, 90.0)
    thruster_in_hand_percent: float | None = optional("percent of each thruster kept unused to hold her", 0.0, 90.0)
    tug_in_hand_percent: float | None = optional("percent of each tug's usable pull kept unused to hold her", 0.0, 90.0)
    source: str = Field(default="", description="text")


class ReachPlanShape(FileShape):
    """How one reach is to be run."""

    reach: str = required("the name of a reach of the waterway")
    order: str | None = optional("an engine order of the card such as half_ahead")
    speed_kn: float | None = optional("knots through the water", 0.2, 39.0)


class SearchShape(FileShape):
    """Where start times are looked for."""

    begin: AwareDatetime = required("a time with zone such as 2031-05-04T00:00:00Z")
    days: float = required("days", 0.01, 400.0)


class SquatShape(FileShape):
    """Which squat methods are compared."""

    methods: list[str] = Field(default=[], description="names of squat methods; empty: all that apply")


class TugShape(FileShape):
    """A tug as ordered."""

    name: str = required("a name")
    bollard_pull_t: float = required("tonnes", 1.0, 300.0)
    kind: str = Field(default="", description="text")
    available_from: AwareDatetime | None = optional("a time with zone such as 2031-05-04T06:00:00Z")
    available_until: AwareDatetime | None = optional("a time with zone such as 2031-05-04T10:00:00Z")
    fast_from: str = Field(default="", description="reach she is made fast from, inward bound; let go there outward")


class AnchoringShape(FileShape):
    """Where she anchors on her way; her voyage to the berth is planned as if she did not."""

    at: str = required("the name of a basin or waiting place of the waterway; a basin is the circle she may swing in")
    anchor: Literal["port", "starboard"] = required("port or starboard")
    bottom: str = required("of the sea bed, such as soft mud, loose sand, firm sand, dense clay, rock")
    shackles: float | None = optional("shackles in the water; left out: as her pull and the rules of the trade ask")


class SwingShape(FileShape):
    """An anchor she is swung on in the basin before the berth; without this table she is swung on none."""

    anchor: Literal["port", "starboard"] = required("port or starboard; she turns to its side")
    bottom: str = required("of the basin's bed, such as soft mud, loose sand, firm sand, dense clay, rock")
    shackles: float | None = optional("shackles in the water; left out: one and a half times the depth, in halves")


class CallShape(FileShape):
    """`call.toml`."""

    name: str = required("a name for this port call")
    direction: Literal["inward", "outward"] = required("inward or outward")
    berth: str = required("the name of a berth of the waterway")
    start: AwareDatetime = required("when she passes the first point: a time with zone such as 2031-05-04T06:00:00Z")
    margins: MarginsShape = required("a table [margins]")
    plan: list[ReachPlanShape] = Field(min_length=1, description="tables [[plan]], one for every reach")
    search: SearchShape | None = optional("a table [search]")
    squat: SquatShape = Field(default=SquatShape(), description="a table [squat]")
    tug: list[TugShape] = Field(default=[], description="tables [[tug]]")
    rule: list[RuleShape] = Field(default=[], description="tables [[rule]], of this call beside the waterway's")
    movement: list[MovementShape] = Field(default=[], description="tables [[movement]] of other ships")
    moored: list[MooredShape] = Field(default=[], description="tables [[moored]] of ships alongside that she passes")
    anchoring: AnchoringShape | None = optional("a table [anchoring]: where she anchors on her way")
    swing: SwingShape | None = optional("a table [swing]: the anchor she is swung on")


def read_call(path: Path) -> PortCall:
    """The port call in a folder or zip; `InputErrors` with every fault of every file."""
    return call_in(open_folder(path))


def call_in(folder: CallFolder) -> PortCall:
    """The port call whose files these are; `InputErrors` with every fault of every file."""
    errors: list[InputError] = []
    call = _shape(folder, "call.toml", CallShape, errors)
    ship = _thing(folder, "ship.toml", ShipShape, ship_from, errors)
    forecast = _thing(folder, "forecast.toml", ForecastShape, _forecast, errors)
    waterway = _thing(folder, "waterway/waterway.toml", WaterwayShape, _waterway_in(folder), errors)
    if call is None or ship is None or forecast is None or waterway is None:
        raise InputErrors(errors)
    file, shape = call
    keyed = Keyed(file, errors)
    search = shape.search
    begin = search.begin if search else shape.start.replace(hour=0, minute=0, second=0, microsecond=0)
    margins = build(lambda: _margins(shape.margins), keyed, ("margins",))
    plans = [build(partial(_plan, plan), keyed, ("plan", i)) for i, plan in enumerate(shape.plan)]
    tugs = [build(partial(_tug, tug), keyed, ("tug", i)) for i, tug in enumerate(shape.tug)]
    rules = [build(rule.rule, keyed, ("rule", i)) for i, rule in enumerate(shape.rule)]
    movements = [build(item.movement, keyed, ("movement", i)) for i, item in enumerate(shape.movement)]
    anchoring = None if shape.anchoring is None else build(partial(_anchoring, shape.anchoring), keyed, ("anchoring",))
    swing = None if shape.swing is None else build(partial(_swing, shape.swing), keyed, ("swing",))
    made = None
    if margins is not None and None not in [*plans, *tugs, *rules, *movements]:
        made = build(
            lambda: PortCall(
                name=shape.name,
                ship=ship[0],
                loading=ship[1],
                waterway=waterway,
                forecast=forecast,
                direction=Direction(shape.direction),
                berth=shape.berth,
                start=shape.start.astimezone(UTC),
                plans=tuple(plan for plan in plans if plan),
                margins=margins,
                search_begin=begin.astimezone(UTC),
                search_end=begin.astimezone(UTC) + timedelta(days=search.days if search else SEARCH_DAYS),
                squat_methods=tuple(shape.squat.methods),
                tugs=tuple(tug for tug in tugs if tug),
                rules=tuple(rule for rule in rules if rule),
                movements=tuple(item for item in movements if item),
                moored=tuple(item.moored() for item in shape.moored),
                anchoring=anchoring,
                swing=swing,
                sources=_sources(file, folder),
            ),
            keyed,
            (),
        )
    if made is None or errors:
        raise InputErrors(errors)
    return made


def read_ship(path: Path) -> tuple[Ship, Loading]:
    """A ship card on its own: the file, or the folder it lies in."""
    folder = open_folder(path.parent if path.is_file() and path.suffix == ".toml" else path)
    name = path.name if path.is_file() and path.suffix == ".toml" else "ship.toml"
    errors: list[InputError] = []
    ship = _thing(folder, name, ShipShape, ship_from, errors)
    if ship is None or errors:
        raise InputErrors(errors)
    return ship


def _shape(
    folder: CallFolder, name: str, model: type[Shape], errors: list[InputError]
) -> tuple[TomlFile, Shape] | None:
    try:
        file = read_toml(folder, name)
    except InputErrors as faults:
        errors.extend(faults.errors)
        return None
    shape = shaped(file, model, errors)
    return None if shape is None else (file, shape)


def _thing(
    folder: CallFolder,
    name: str,
    model: type[Shape],
    make: Callable[[TomlFile, Shape, list[InputError]], Thing | None],
    errors: list[InputError],
) -> Thing | None:
    found = _shape(folder, name, model, errors)
    if found is None:
        return None
    try:
        return make(*found, errors)
    except InputErrors as faults:
        errors.extend(faults.errors)
        return None


def _waterway_in(folder: CallFolder) -> Callable[[TomlFile, WaterwayShape, list[InputError]], Waterway | None]:
    return lambda file, shape, errors: waterway_from(folder, file, shape, errors)


def _forecast(file: TomlFile, shape: ForecastShape, errors: list[InputError]) -> Forecast | None:
    def scaled(value: float | None, unit: float) -> float | None:
        return None if value is None else value * unit

    return build(
        lambda: Forecast(
            issued=shape.issued,
            source=shape.source,
            residual=shape.residual_m,
            residual_low=shape.residual_low_m,
            residual_high=shape.residual_high_m,
            wind_speed=scaled(shape.wind_speed_kn, KNOT),
            wind_from=scaled(shape.wind_from_deg, DEGREE),
            gust_speed=scaled(shape.gust_speed_kn, KNOT),
            wave_height=shape.wave_height_m,
            wave_period=shape.wave_period_s,
            wave_from=scaled(shape.wave_from_deg, DEGREE),
            visibility=scaled(shape.visibility_nm, 1852.0),
            water_density=shape.water_density_kg_m3,
            gauge_decay=scaled(shape.gauge_decay_h, 3600.0),
        ),
        Keyed(file, errors),
        (),
    )


def _margins(shape: MarginsShape) -> Margins:
    if shape.underkeel_m is None and shape.underkeel_percent_of_draught is None:
        raise Impossible(
            [("underkeel_m", "is missing, and underkeel_percent_of_draught too; expected metres, percent, or both")]
        )
    return Margins(
        underkeel=shape.underkeel_m or 0.0,
        underkeel_share=(shape.underkeel_percent_of_draught or 0.0) / 100.0,
        includes=tuple(shape.underkeel_includes),
        touching=shape.touching_probability,
        overhead=shape.overhead_m,
        alongside=shape.alongside_m,
        width=shape.width_m,
        rudder_in_hand=_share(shape.rudder_in_hand_percent),
        thruster_in_hand=_share(shape.thruster_in_hand_percent),
        tug_in_hand=_share(shape.tug_in_hand_percent),
        source=shape.source,
    )


def _share(percent: float | None) -> float | None:
    return None if percent is None else percent / 100.0


def _plan(shape: ReachPlanShape) -> ReachPlan:
    return ReachPlan(
        reach=shape.reach, order=shape.order, speed=None if shape.speed_kn is None else shape.speed_kn * KNOT
    )


def _tug(shape: TugShape) -> Tug:
    return Tug(
        name=shape.name,
        bollard_pull=shape.bollard_pull_t * TONNE_FORCE,
        kind=shape.kind,
        fast_from=shape.fast_from,
        available_from=None if shape.available_from is None else shape.available_from.astimezone(UTC),
        available_until=None if shape.available_until is None else shape.available_until.astimezone(UTC),
    )


def _anchoring(shape: AnchoringShape) -> Anchoring:
    return Anchoring(at=shape.at, anchor=shape.anchor, bottom=shape.bottom, shackles=shape.shackles)


def _swing(shape: SwingShape) -> Swing:
    return Swing(anchor=shape.anchor, bottom=shape.bottom, shackles=shape.shackles)


def _sources(file: TomlFile, folder: CallFolder) -> tuple[tuple[str, str], ...]:
    """Where each given figure stands, for provenance: `ship.draught_aft` -> `ship.toml:14`."""
    found = []
    for name in ("call.toml", "ship.toml", "forecast.toml", "waterway/waterway.toml"):
        for path, line in read_toml(folder, name).lines.items():
            found.append((f"{name.removesuffix('.toml')}:{'.'.join(str(part) for part in path)}", f"{name}:{line}"))
    return tuple(found)
