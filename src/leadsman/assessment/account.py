"""One start, station by station: when, how fast, how deep, and every line of what is under her keel."""

from datetime import datetime

import numpy as np

from leadsman import format as text
from leadsman.assessment import parts, seaway
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Account, Line
from leadsman.assessment.sailing import speed_over_ground, stream_components
from leadsman.assessment.swept import swept_path_of
from leadsman.assessment.underkeel import Least
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
    least = prepared.underkeel.least(level)
    latitude, longitude = passage.call.waterway.plane.to_earth(passage.x, passage.y)
    lines = {line.key: line for line in _lines(prepared, passed, level, least)}
    path = swept_path_of(passage)
    port, starboard = path.room(path.swept(across, lines["depth"].values + level))
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
        depth=lines["depth"].values,
        area=prepared.underkeel.depth.area[least.part, np.arange(len(level))],
        part=tuple(parts.NAMES[row] for row in least.part),
        room_port=port,
        room_starboard=starboard,
        squat=least.squats.governing,
        squat_method=tuple(squat.NAMES[row] for row in least.squats.method),
        lines=tuple(lines.values()),
        static=lines["static"].values,
        gross=lines["gross"].values,
        net=lines["net"].values,
        required=lines["required"].values,
    )


def _lines(prepared: Prepared, passed: Array, level: Array, least: Least) -> tuple[Line, ...]:
    """Every line of the account, of the part with least left at each station."""
    book = _Book(prepared, least)
    underkeel, floating, margins = prepared.underkeel, prepared.floating, prepared.call.margins
    every = np.ones_like(level)
    draught = floating.figures["draught"]
    spread = prepared.water.level_deviation(prepared.passage, passed)
    governing = ", ".join(dict.fromkeys(squat.METHODS[squat.NAMES[row]].source for row in least.squats.method))
    chosen = ", ".join(prepared.call.squat_methods) or "all methods that apply"
    squatted = np.zeros_like(level) if underkeel.held_by_margin("squat") else least.squats.governing
    book.add(
        "depth",
        "Charted depth",
        1,
        book.here(underkeel.depth.depth),
        "given",
        "shallowest area under the part",
        "areas.geojson",
    )
    book.add(
        "water_level",
        "Water level",
        1,
        level,
        "computed",
        "tide by harmonics or table, and best residual",
        "Schureman1940",
        spread,
    )
    book.add(
        "draught",
        "Draught",
        -1,
        underkeel.draught[least.part],
        draught.origin.value,
        "of the part, and the sinkage in lighter water",
        prepared.call.given_in("ship:loading.draught_aft_m"),
        underkeel.reading_deviation * every,
    )
    book.total("static", "Static clearance", "depth + level - draught", "PIANC121")
    book.allow(
        "survey",
        "Survey uncertainty",
        "given",
        "95 % of the survey",
        "areas.geojson",
        book.here(underkeel.depth.survey) / TWO_SIDED_95,
    )
    book.allow("siltation", "Siltation", "given", "settled since the survey", "areas.geojson")
    book.allow("level", "Level may lack", "given", "best residual less its low bound", "forecast.toml")
    book.total("gross", "Gross clearance", "static - survey - siltation - level", "PIANC121")
    book.add(
        "squat",
        "Squat",
        -1,
        squatted,
        "computed",
        book.how("squat", f"greatest of {chosen}"),
        governing,
        uncertainty.default("squat").value * squatted,
    )
    book.allow("heel", "Heel", "computed", "half the beam times list, heel in the bend and by wind", "PIANC121")
    book.allow("draught_reading", "Draught reading", "assumed", "95 % of its reading and of the density", "water.md 7")
    book.total("manoeuvrability", "In calm water", "gross - squat - heel - draught reading", "PIANC121")
    book.allow(
        "waves",
        "Waves",
        "computed",
        f"motion that {100.0 * seaway.CHANCE:g} in 100 passages exceed",
        "Jensen2004",
        uncertainty.default("wave_motion").value * book.here(underkeel.seaway.allowance),
    )
    book.total("net", "Net clearance", "in calm water - waves", "PIANC121")
    rule = f"greater of {text.metres_given(margins.underkeel)} and {100.0 * margins.underkeel_share:g} % of draught"
    book.add("required", "Required", -1, underkeel.required * every, "given", rule, margins.source or "call.toml")
    book.total("margin", "Margin", "net - required", "call.toml")
    return tuple(book.lines)


class _Book:
    """Lines written one after the other, with a running total."""

    def __init__(self, prepared: Prepared, least: Least) -> None:
        self.underkeel, self.part = prepared.underkeel, least.part
        self.lines: list[Line] = []
        self.left = np.zeros(len(least.net))

    def here(self, by_part: Array) -> Array:
        """Of the part that governs at each station."""
        found: Array = by_part[self.part, np.arange(len(self.part))]
        return found

    def add(
        self,
        key: str,
        label: str,
        effect: int,
        values: Array,
        origin: str,
        method: str,
        source: str,
        deviation: Array | None = None,
    ) -> None:
        """A line that is added or taken off."""
        self.left = self.left + effect * values
        self.lines.append(
            Line(
                key=key,
                label=label,
                effect=effect,
                values=values,
                origin=origin,
                method=method,
                source=source,
                deviation=deviation,
            )
        )

    def allow(
        self, key: str, label: str, origin: str, method: str, source: str, deviation: Array | None = None
    ) -> None:
        """An allowance of `ALLOWANCES`, nought where the margin holds it."""
        self.add(
            key, label, -1, self.here(self.underkeel.allowance(key)), origin, self.how(key, method), source, deviation
        )

    def how(self, key: str, method: str) -> str:
        """The method, and whether the margin already holds it."""
        return f"{method}; held by the clearance required" if self.underkeel.held_by_margin(key) else method

    def total(self, key: str, label: str, method: str, source: str) -> None:
        """What is left so far."""
        self.add(key, label, 0, self.left, "computed", method, source)
