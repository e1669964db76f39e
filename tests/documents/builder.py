"""Synthetic assessments for tests of layout: invented water, invented ship, numbers made up to exercise every drawing.

Nothing here is computed by the program and nothing here is a plan: the figures only agree with each other (sums add up,
times grow), so that a sheet that prints them can be compared with them.
"""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
from shapely import LineString

from leadsman.assessment.result import (
    Account,
    Alongside,
    Assessment,
    Binding,
    GatePassage,
    Leg,
    Line,
    OtherStart,
    Remedy,
    RuleCheck,
    StartSeries,
    Verdict,
    Window,
)
from leadsman.assessment.room_result import BendTurn, ReachWidth, SwingRoom, WayOff, WidthRow
from leadsman.equipment import Engine, EngineKind, EngineOrder
from leadsman.figure import Band, Figure, Finding, Grade, Origin
from leadsman.forecast import Forecast
from leadsman.geometry import LocalPlane, Position
from leadsman.portcall import Direction, Margins, PortCall, ReachPlan, Tug
from leadsman.ship import Loading, Ship, ShipType
from leadsman.units import DEGREE, KNOT
from leadsman.waterway import (
    Berth,
    ChannelKind,
    DepthArea,
    Gate,
    GateKind,
    Mark,
    Reach,
    TideStation,
    Waterway,
    Waypoint,
)

ORIGIN = Position(-38.5, -20.0)
PLANE = LocalPlane(ORIGIN)
START = datetime(2031, 5, 4, 5, 28, 0, tzinfo=UTC)
SEARCH = datetime(2031, 5, 2, 0, 0, 0, tzinfo=UTC)
PERIOD = 12.42 * 3600.0
DRAUGHT = 4.1
BEAM = 14.2
LENGTH = 89.9

RIVER = [(0.0, 0.0), (900.0, 2600.0), (2900.0, 3900.0), (3700.0, 6300.0), (5300.0, 7100.0)]
NAMES = ["Sea Buoy", "Gannet Bend", "Withy Bend", "Ferry Stage", "Town Quay"]
REACHES = ["Bar Reach", "Long Reach", "Bridge Reach", "Quay Reach"]
ORDERS = ["half_ahead", "half_ahead", "slow_ahead", "dead_slow_ahead"]
SPEEDS = [8.5, 8.5, 6.0, 3.5]


def place(x: float, y: float) -> Position:
    """A point of the plane as a position."""
    latitude, longitude = PLANE.to_earth(x, y)
    return Position(float(latitude), float(longitude))


def ring(line: list[tuple[float, float]], width: float) -> tuple[Position, ...]:
    """The outline of a line made `width` metres wide."""
    outline = LineString(line).buffer(width / 2.0, cap_style="flat", join_style="mitre")
    return tuple(place(x, y) for x, y in list(outline.exterior.coords)[:-1])


def zigzag(legs: int) -> list[tuple[float, float]]:
    """A track of many short legs."""
    return [(700.0 * index, 260.0 * (index % 2)) for index in range(legs + 1)]


def portcall(
    legs: int = 4, gates: bool = True, name: str = "Town Quay inward", ship_name: str = "Alder Tern"
) -> PortCall:
    """A river with a bar and a bridge, or a zigzag of as many legs as wanted."""
    points = RIVER if legs == 4 else zigzag(legs)
    names = NAMES if legs == 4 else [f"Point {index}" for index in range(legs + 1)]
    reaches = REACHES if legs == 4 else [f"Reach {index + 1}" for index in range(legs)]
    radius = 600.0 if legs == 4 else 250.0
    deep = DepthArea(
        name="River", ring=ring(points, 420.0), depth=4.6, bottom="mud", surveyed="2030-11", uncertainty=0.2
    )
    areas = [deep]
    if legs == 4:
        areas += [
            DepthArea(
                name="Gannet Sand", ring=ring([(-60.0, 500.0), (560.0, 2300.0)], 380.0), depth=0.4, bottom="sand"
            ),
            DepthArea(name="Heron Flat", ring=ring([(420.0, 300.0), (1000.0, 1700.0)], 240.0), depth=1.4, bottom="mud"),
            DepthArea(name="The Bar", ring=ring([(250.0, 700.0), (480.0, 1400.0)], 420.0), depth=2.6, bottom="sand"),
            DepthArea(name="North Mud", ring=ring([(2500.0, 3300.0), (3200.0, 4100.0)], 260.0), depth=None),
        ]
    overhead = (
        Gate(
            name="Ferry Stage Bridge",
            kind=GateKind.BRIDGE,
            position=place(3300.0, 5100.0),
            clearance=21.5,
            clearance_datum="HAT",
            source="invented",
        ),
    )
    waterway = Waterway(
        name="River Withy (invented)",
        origin=ORIGIN,
        chart_datum="LAT",
        datums={"HAT": 4.6},
        waypoints=tuple(
            Waypoint(name=label, position=place(*point), bend_radius=None if index in (0, len(points) - 1) else radius)
            for index, (label, point) in enumerate(zip(names, points, strict=True))
        ),
        reaches=tuple(
            Reach(name=label, width_port=60.0, width_starboard=60.0, channel=ChannelKind.OPEN) for label in reaches
        ),
        areas=tuple(areas),
        tide_stations=(
            TideStation(
                name="Withy Bar",
                position=place(0.0, 0.0),
                mean_level=2.4,
                constituents=(("M2", 1.6, 1.1),),
                deviation=0.1,
                source="invented",
            ),
        ),
        gates=overhead if gates else (),
        berths=(
            Berth(
                name="Town Quay",
                begin=place(points[-1][0] - 60.0, points[-1][1] - 60.0),
                end=place(points[-1][0] + 60.0, points[-1][1] - 20.0),
                depth=1.2,
                side_to="port",
                aground_allowed=True,
            ),
        ),
        marks=(Mark(name="Withy Light", kind="light", position=place(1100.0, 2300.0), description="Fl 5s"),),
        caution="Invented water in mid-ocean.",
    )
    ship = Ship(
        name=ship_name,
        kind=ShipType.COASTER,
        length_overall=LENGTH,
        beam=BEAM,
        call_sign="ZZ9T",
        length_between_perpendiculars=84.9,
        keel_to_highest_point=28.0,
        engine=Engine(
            kind=EngineKind.CONTROLLABLE_PITCH,
            power=2.0e6,
            orders=tuple(
                EngineOrder(order=order, speed_loaded=speed * KNOT)
                for order, speed in (("half_ahead", 8.5), ("slow_ahead", 6.0), ("dead_slow_ahead", 3.5))
            ),
        ),
    )
    plans = tuple(
        ReachPlan(reach=label, order=(ORDERS if legs == 4 else ["slow_ahead"] * legs)[index])
        for index, label in enumerate(reaches)
    )
    return PortCall(
        name=name,
        ship=ship,
        loading=Loading(
            condition="loaded",
            draught_forward=3.9,
            draught_aft=DRAUGHT,
            displacement=4.05e6,
            air_draught=23.9,
            water_density=1018.0,
        ),
        waterway=waterway,
        forecast=Forecast(
            issued=START - timedelta(hours=9),
            source="invented bulletin",
            residual=0.1,
            residual_low=-0.1,
            residual_high=0.3,
            wind_speed=14.0 * KNOT,
            wind_from=240.0 * DEGREE,
            gust_speed=22.0 * KNOT,
        ),
        direction=Direction.INWARD,
        berth="Town Quay",
        start=START,
        plans=plans,
        margins=Margins(underkeel=0.5, underkeel_share=0.1, overhead=1.0, alongside=0.3, source="invented rule"),
        search_begin=SEARCH,
        search_end=SEARCH + timedelta(days=7),
        tugs=(Tug(name="Stoat", bollard_pull=245.0e3),),
    )


def level(seconds: np.ndarray) -> np.ndarray:
    """An invented tide: seconds since the start to metres above chart datum."""
    return 1.6 + 1.6 * np.cos(2.0 * math.pi * (np.asarray(seconds) - 2400.0) / PERIOD)


def account(call: PortCall) -> Account:
    """An account whose lines add up."""
    track = call.waterway.track
    distance = np.unique(np.append(np.arange(0.0, track.length, 25.0), track.length))
    x, y, course = track.at(distance)
    ends = track.waypoint_distances
    reach = np.clip(np.searchsorted(ends, distance, side="right") - 1, 0, len(ends) - 2)
    speeds = np.array(SPEEDS if len(ends) == 5 else [6.0] * (len(ends) - 1)) * KNOT
    speed = speeds[reach]
    over_ground = speed + 0.4
    elapsed = np.append(0.0, np.cumsum(np.diff(distance) / over_ground[1:]))
    water = level(elapsed)
    depth = 4.6 - 0.6 * np.sin(distance / 900.0) - 1.7 * np.exp(-(((distance - 1100.0) / 320.0) ** 2))
    squat = 0.0058 * speed**2 * (1.0 + 1.0 / np.maximum(depth + water - DRAUGHT, 0.5))
    latitude, longitude = PLANE.to_earth(x, y)
    flat = np.ones_like(distance)
    survey, reading, heel = 0.20 * flat, 0.05 * flat, 0.08 * flat
    residual = -0.1 * flat
    static = depth + water + residual - DRAUGHT
    gross = static - survey
    net = gross - squat - heel - reading

    def line(key: str, label: str, effect: int, values: np.ndarray, origin: str = "given", method: str = "") -> Line:
        return Line(
            key=key, label=label, effect=effect, values=values, origin=origin, method=method, source="synthetic"
        )

    return Account(
        distance=distance,
        x=x,
        y=y,
        latitude=latitude,
        longitude=longitude,
        course=course,
        reach=reach.astype(np.int64),
        elapsed=elapsed,
        speed=speed,
        speed_over_ground=over_ground,
        stream_along=0.4 * flat,
        stream_across=0.0 * flat,
        water_level=water + residual,
        depth=depth,
        area=np.zeros(len(distance), dtype=np.int64),
        part=("stern",) * len(distance),
        room_port=60.0 - BEAM / 2.0 + 12.0 * np.sin(distance / 700.0),
        room_starboard=60.0 - BEAM / 2.0 - 14.0 * np.sin(distance / 500.0),
        squat=squat,
        squat_method=tuple("icorels" for _ in distance),
        lines=(
            line("depth", "Charted depth", 1, depth),
            line("tide", "Predicted tide", 1, water, "computed", "harmonic"),
            line("residual", "Residual, low bound", 1, residual),
            line("draught", "Draught, deeper end", -1, DRAUGHT * flat),
            line("static", "Static clearance", 0, static, "computed"),
            line("survey", "Survey uncertainty", -1, survey),
            line("gross", "Gross clearance", 0, gross, "computed"),
            line("squat", "Squat", -1, squat, "computed", "icorels"),
            line("heel", "Heel", -1, heel, "assumed"),
            line("reading", "Draught reading", -1, reading, "assumed"),
            line("net", "Net clearance", 0, net, "computed"),
        ),
        static=static,
        gross=gross,
        net=net,
        required=0.5 * flat,
    )


def legs_of(call: PortCall, found: Account) -> tuple[Leg, ...]:
    """One leg per reach, read off the account."""
    track = call.waterway.track
    names = [waypoint.name for waypoint in call.waterway.waypoints]
    legs = []
    for index, reach in enumerate(call.waterway.reaches):
        here = np.flatnonzero(found.reach == index)
        worst = here[int(np.argmin(found.margin[here]))]
        bend = track.bends[index] if index < len(track.bends) else None
        legs.append(
            Leg(
                number=index + 1,
                reach=reach.name,
                begins_at=names[index],
                ends_at=names[index + 1],
                course=float(track.courses[index]),
                distance=float(track.waypoint_distances[index + 1] - track.waypoint_distances[index]),
                order=call.plans[index].order or "",
                speed=float(found.speed[here[-1]]),
                time_begin=call.start + timedelta(seconds=float(found.elapsed[here[0]])),
                time_end=call.start + timedelta(seconds=float(found.elapsed[here[-1]])),
                mean_speed_over_ground=float(np.mean(found.speed_over_ground[here])),
                bend_radius=bend.radius if bend else None,
                alteration=bend.deflection if bend else None,
                rate_of_turn=(
                    math.copysign(float(found.speed_over_ground[here[-1]]) / bend.radius, bend.deflection)
                    if bend
                    else None
                ),
                wheel_over_before=bend.radius * math.tan(abs(bend.deflection) / 2.0) if bend else None,
                least_net=float(found.net[worst]),
                least_margin=float(found.margin[worst]),
                least_at=float(found.distance[worst]),
                room_port=float(found.room_port[here].min()),
                room_starboard=float(found.room_starboard[here].min()),
            )
        )
    return tuple(legs)


def binding(limit: str, where: str, distance: float, time: datetime, value: float, required: float) -> Binding:
    """A binding limit."""
    return Binding(limit=limit, place=where, distance=distance, time=time, value=value, required=required)


def windows_of(call: PortCall) -> tuple[Window, ...]:
    """Two windows a day about the invented high waters."""
    found, centre = [], call.search_begin + timedelta(hours=2, minutes=36)
    while centre < call.search_end:
        opens, closes = centre - timedelta(minutes=55), centre + timedelta(minutes=65)
        found.append(
            Window(
                opens=opens,
                closes=closes,
                opens_by=binding("underkeel", "The Bar", 1100.0, opens + timedelta(minutes=5), 0.5, 0.5),
                closes_by=binding("overhead", "Ferry Stage Bridge", 6200.0, closes + timedelta(minutes=30), 1.0, 1.0),
                best_start=centre,
                best=binding("underkeel", "The Bar", 1100.0, centre + timedelta(minutes=5), 0.93, 0.5),
            )
        )
        centre += timedelta(seconds=PERIOD)
    return tuple(found)


def series_of(call: PortCall, gates: bool) -> StartSeries:
    """Least margins by start time, from the invented tide."""
    starts = [call.search_begin + timedelta(minutes=15 * step) for step in range(7 * 96 + 1)]
    since = np.array([(start - call.search_begin).total_seconds() for start in starts])
    shape = np.cos(2.0 * math.pi * (since - 2.6 * 3600.0) / PERIOD)
    overhead = 1.4 - 1.4 * np.cos(2.0 * math.pi * (since - 4.9 * 3600.0) / PERIOD)
    return StartSeries(
        start=tuple(starts),
        underkeel=1.6 * shape - 1.4,
        overhead=overhead if gates else np.full_like(since, np.nan),
        rule=("",) * len(starts),
    )


def others_of(call: PortCall, gates: bool) -> tuple[OtherStart, ...]:
    """Starts within an hour of hers, from the same invented tide."""
    series, found = series_of(call, gates), []
    for start, keel, mast in zip(series.start, series.underkeel, series.overhead, strict=True):
        if abs(start - call.start) <= timedelta(hours=1):
            limit = binding("underkeel", "The Bar", 1100.0, start + timedelta(minutes=5), float(keel) + 0.5, 0.5)
            holds = bool(keel >= 0.0 and not mast < 0.0)
            over = float(mast) if gates else None
            found.append(OtherStart(start=start, underkeel=float(keel), overhead=over, binding=limit, holds=holds))
    return tuple(found)


def assessment(
    legs: int = 4,
    gates: bool = True,
    windows: bool = True,
    go: bool = True,
    name: str = "Town Quay inward",
    ship_name: str = "Alder Tern",
    more_findings: int = 0,
) -> Assessment:
    """A whole synthetic answer."""
    call = portcall(legs, gates, name, ship_name)
    found = account(call)
    passed = legs_of(call, found)
    worst = min(passed, key=lambda leg: leg.least_margin)
    station = int(np.argmin(found.margin))
    limit = binding(
        "underkeel",
        worst.reach,
        worst.least_at,
        call.start + timedelta(seconds=float(found.elapsed[station])),
        float(found.net[station]),
        0.5,
    )
    bridge_at = 0.62 * float(found.distance[-1])
    passages = ()
    if gates:
        when = call.start + timedelta(seconds=float(np.interp(bridge_at, found.distance, found.elapsed)))
        passages = (
            GatePassage(
                name="Ferry Stage Bridge",
                kind="bridge",
                distance=bridge_at,
                time=when,
                value=26.1 - 3.9 - 20.6,
                required=1.0,
                figures={
                    "underside": Figure(
                        name="underside",
                        value=26.1,
                        unit="m",
                        origin=Origin.COMPUTED,
                        method="datum",
                        source="synthetic",
                    )
                },
            ),
        )
    findings = [
        Finding(
            grade=Grade.CAUTION,
            subject="method_limits",
            sentence=(
                "Squat method icorels: depth to draught 1.08 is below its limit 1.10 in Bar Reach; "
                "the figure is indicative."
            ),
            value=1.08,
            limit=1.10,
            place="Bar Reach",
            source="ICORELS",
        ),
        Finding(
            grade=Grade.NOTE,
            subject="alongside",
            sentence="She takes the ground at Town Quay at low water; local rule allows it.",
            place="Town Quay",
        ),
    ]
    if not go:
        findings.insert(
            0,
            Finding(
                grade=Grade.STOP,
                subject="underkeel",
                sentence="Too little water on The Bar: net clearance 0.31 m, required 0.50 m.",
                value=0.31,
                limit=0.5,
                unit="m",
                place="The Bar",
                time=limit.time,
                source="margins",
            ),
        )
    findings += [
        Finding(grade=Grade.NOTE, subject="filler", sentence=f"Synthetic note number {index + 1} to fill the sheet.")
        for index in range(more_findings)
    ]
    return Assessment(
        call=call,
        verdict=Verdict(
            go=go,
            word="go with cautions" if go else "no go",
            sentence=(
                "She can go at 05:28 UTC; least water is on the bar at 05:32."
                if go
                else "She cannot go at 05:28 UTC: too little water on the bar at 05:32."
            ),
            binding=limit if go else replace(limit, value=0.31),
        ),
        windows=windows_of(call) if windows else (),
        series=series_of(call, gates),
        others=others_of(call, gates),
        account=found,
        gates=passages,
        legs=passed,
        alongside=Alongside(
            berth="Town Quay",
            time=call.start + timedelta(hours=7),
            water_level=0.8,
            static=-2.1,
            required=0.3,
            aground_allowed=True,
            hours=24.0,
        ),
        rules=(
            RuleCheck(
                name="Bar by daylight",
                limit="daylight",
                place="The Bar",
                kept=True,
                words="she is there 05:31 to 05:36; sunrise to sunset is 04:12 to 19:50",
                margin=4_700.0,
                unit="s",
                time=call.start + timedelta(minutes=3),
                source="Synthetic port rules",
            ),
            RuleCheck(
                name="Least visibility",
                limit="visibility",
                place="the whole passage",
                kept=None,
                words="the forecast gives no visibility",
                margin=None,
                unit="",
                time=None,
                source="Synthetic port rules",
            ),
        ),
        widths=(
            ReachWidth(
                reach="Bar Reach",
                available=160.0,
                needed=96.4,
                two_way=False,
                rows=(
                    WidthRow(name="basic lane", beams=1.5, source="PIANC121", mark="seen", beyond=False),
                    WidthRow(name="cross current", beams=math.inf, source="PIANC121", mark="seen", beyond=False),
                ),
                assumed=("moderate aids to navigation",),
                cross_wind=5.0,
                cross_stream=0.4,
                along_stream=0.8,
                swept=18.2,
                heading_offset=-0.05,
                rudder=None,
                held=None,
            ),
        ),
        bends=(
            BendTurn(
                waypoint="Bar Buoy",
                distance=1_800.0,
                radius=600.0,
                lengths=6.7,
                deflection=0.6,
                speed=4.0,
                rate_of_turn=0.0071,
                rudder=0.2,
                held=True,
                hard_over=0.61,
                drift_angle=0.04,
                wheel_over=311.0,
                meet=0.1,
                time=120.0,
                available=160.0,
                needed=math.inf,
                swept=21.0,
                straight_after=None,
            ),
        ),
        basins=(
            SwingRoom(
                basin="Town Basin",
                diameter=200.0,
                lengths=2.2,
                stream=0.2,
                drift=300.0,
                rules=(("pianc_with_tugs", 180.0, "PIANC121", "seen"), ("corps_slack", 108.0, "EM1613", "memory")),
            ),
        ),
        way_off=(
            WayOff(
                reach="Bar Reach",
                speed=4.0,
                wanted=0.0,
                by="slow_astern",
                distance=math.inf,
                begin=-math.inf,
                room=1_500.0,
                crash_stop=420.0,
                source="model, estimated",
                last_stop=5_200.0,
            ),
        ),
        findings=tuple(findings),
        remedies=(
            Remedy(kind="later", works=True, sentence="Start 25 min later: 0.20 m more on the bar.", start=START),
            Remedy(kind="slower", works=True, sentence="Slow ahead over the bar: 0.11 m more.", change=-2.5, unit="kn"),
            Remedy(kind="less_draught", works=False, sentence="Less draught alone would not: the bridge then binds."),
        ),
        figures={
            figure.name: figure
            for figure in (
                Figure(name="draught", value=DRAUGHT, unit="m", origin=Origin.GIVEN, source="ship.toml:31"),
                Figure(
                    name="block_coefficient",
                    value=0.78,
                    unit="-",
                    origin=Origin.ESTIMATED,
                    method="schneekluth",
                    source="Synthetic",
                    band=Band(deviation=0.02),
                ),
                Figure(name="air_draught", value=23.9, unit="m", origin=Origin.GIVEN, source="ship.toml:33"),
                Figure(name="heel_allowance", value=0.08, unit="m", origin=Origin.ASSUMED),
            )
        },
        fingerprint="5f1c0e7a9d3b4c62",
    )
