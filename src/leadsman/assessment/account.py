"""One start, station by station: when, how fast, how deep, and every line of what is under her keel."""

from datetime import datetime

import numpy as np

from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account, Line
from leadsman.assessment.sailing import speed_over_ground, stream_components
from leadsman.assessment.swept import swept_path_of
from leadsman.assessment.underkeel import Squats
from leadsman.environment.level import level_at
from leadsman.environment.stream import stream_at
from leadsman.geometry import Array
from leadsman.physics import squat, uncertainty
from leadsman.physics.survey import TWO_SIDED_95


def account(prepared: Prepared, start: datetime) -> Account:
    """The whole account of a start."""
    passage, water = prepared.passage, prepared.water
    passed = prepared.passed(start)
    level: Array = level_at(water.level.grid, passage.distance, passed)
    north, east = stream_at(water.stream.grid, passage.distance, passed)
    along, across = stream_components(north, east, passage.course)
    squats = prepared.underkeel.squats(level)
    latitude, longitude = passage.call.waterway.plane.to_earth(passage.x, passage.y)
    path = swept_path_of(passage)
    port, starboard = path.room(path.swept(across, passage.depth + level))
    static = prepared.underkeel.static(level)
    gross = prepared.underkeel.gross(level)
    net = gross - squats.governing
    return Account(
        distance=passage.distance,
        x=passage.x,
        y=passage.y,
        latitude=latitude,
        longitude=longitude,
        course=passage.course,
        reach=passage.reach,
        elapsed=passed - passed[0],
        speed=passage.speed,
        speed_over_ground=speed_over_ground(passage.speed, along, across),
        stream_along=along,
        stream_across=across,
        water_level=level,
        depth=passage.depth,
        room_port=port,
        room_starboard=starboard,
        squat=squats.governing,
        squat_method=tuple(squat.NAMES[row] for row in squats.method),
        lines=_lines(prepared, level, static, gross, squats, net),
        static=static,
        gross=gross,
        net=net,
        required=np.full_like(net, prepared.underkeel.required),
    )


def _lines(
    prepared: Prepared, level: Array, static: Array, gross: Array, squats: Squats, net: Array
) -> tuple[Line, ...]:
    passage, underkeel = prepared.passage, prepared.underkeel
    every = np.ones_like(net)
    draught = prepared.floating.figures["draught"]
    draught_deviation = draught.band.deviation if draught.band else None
    spread = prepared.water.level.deviation(passage.distance) * every
    chosen = ", ".join(prepared.call.squat_methods) or "all methods that apply"
    governing = ", ".join(dict.fromkeys(squat.METHODS[squat.NAMES[row]].source for row in squats.method))

    def line(key: str, label: str, effect: int, values: Array, *how: str, deviation: Array | None = None) -> Line:
        origin, method, source = how
        return Line(
            key=key,
            label=label,
            effect=effect,
            values=values,
            origin=origin,
            method=method,
            source=source,
            deviation=deviation,
        )

    required = underkeel.required * every
    survey = passage.survey_uncertainty
    lacking = underkeel.level_shortfall * every
    margins = prepared.call.margins
    rule = f"greater of {margins.underkeel:g} m and {100.0 * margins.underkeel_share:g} % of draught"
    return (
        line("depth", "Charted depth", 1, passage.depth, "given", "shallowest area under her lane", "areas.geojson"),
        line(
            "water_level", "Water level", 1, level, "computed", "tide by harmonics or table, and best residual",
            "Schureman1940", deviation=spread,
        ),
        line(
            "draught", "Draught", -1, draught.value * every, draught.origin.value, draught.method,
            prepared.call.given_in("ship:loading.draught_aft_m"),
            deviation=None if draught_deviation is None else draught_deviation * every,
        ),
        line("static", "Static clearance", 0, static, "computed", "depth + level - draught", "PIANC121"),
        line("survey", "Survey uncertainty", -1, survey, "given", "95 % of the survey", "areas.geojson",
             deviation=survey / TWO_SIDED_95),
        line("siltation", "Siltation", -1, passage.siltation, "given", "settled since the survey", "areas.geojson"),
        line("shortfall", "Level may lack", -1, lacking, "given", "best residual less its low bound", "forecast.toml"),
        line("gross", "Gross clearance", 0, gross, "computed", "static - survey - siltation - level", "PIANC121"),
        line("squat", "Squat", -1, squats.governing, "computed", f"greatest of {chosen}", governing,
             deviation=uncertainty.default("squat").value * squats.governing),
        line("net", "Net clearance", 0, net, "computed", "gross - squat", "PIANC121"),
        line("required", "Required", -1, required, "given", rule, margins.source or "call.toml"),
        line("margin", "Margin", 0, net - required, "computed", "net - required", "call.toml"),
    )  # fmt: skip
