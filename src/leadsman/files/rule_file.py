"""Tables of rules and of other ships' movements in `waterway.toml` and `call.toml`."""

import re
from datetime import UTC
from typing import Literal

from pydantic import AwareDatetime, Field

from leadsman.errors import Impossible
from leadsman.files.shape import FileShape, optional, required
from leadsman.geometry import Position
from leadsman.rule import (
    Asked,
    Closed,
    Daylight,
    GreatestSpeed,
    GreatestStream,
    GreatestWaves,
    GreatestWind,
    LeastVisibility,
    Light,
    MooredShip,
    Movement,
    Opening,
    Rule,
    Ships,
    TimeBetweenShips,
    TugsFast,
)
from leadsman.units import HOUR, KNOT, MINUTE, NAUTICAL_MILE, TONNE_FORCE

_DAILY = re.compile(r"^(\d{2}):(\d{2})-(\d{2}):(\d{2})$")


class DaylightShape(FileShape):
    """Passing in the light only."""

    light: Literal["sun", "civil_twilight", "nautical_twilight"] = required("from when to when it counts as light")
    after_light_begins_min: float = Field(default=0.0, ge=0.0, le=360.0, description="minutes, 0 to 360")
    before_light_ends_min: float = Field(default=0.0, ge=0.0, le=360.0, description="minutes, 0 to 360")

    def asked(self) -> Daylight:
        """As a thing."""
        return Daylight(
            light=Light(self.light),
            after_light_begins=self.after_light_begins_min * MINUTE,
            before_light_ends=self.before_light_ends_min * MINUTE,
        )


class SpeedShape(FileShape):
    """A greatest speed."""

    greatest_over_ground_kn: float = required("knots over the ground", 0.5, 40.0)

    def asked(self) -> GreatestSpeed:
        """As a thing."""
        return GreatestSpeed(speed=self.greatest_over_ground_kn * KNOT)


class StreamShape(FileShape):
    """A greatest stream."""

    greatest_kn: float = required("knots, whatever the direction", 0.05, 15.0)

    def asked(self) -> GreatestStream:
        """As a thing."""
        return GreatestStream(rate=self.greatest_kn * KNOT)


class VisibilityShape(FileShape):
    """A least visibility."""

    least_nm: float = required("nautical miles", 0.01, 20.0)

    def asked(self) -> LeastVisibility:
        """As a thing."""
        return LeastVisibility(visibility=self.least_nm * NAUTICAL_MILE)


class WindShape(FileShape):
    """A greatest wind."""

    greatest_mean_kn: float | None = optional("knots", 1.0, 100.0)
    greatest_gust_kn: float | None = optional("knots", 1.0, 150.0)

    def asked(self) -> GreatestWind:
        """As a thing."""
        mean, gust = self.greatest_mean_kn, self.greatest_gust_kn
        return GreatestWind(mean=None if mean is None else mean * KNOT, gust=None if gust is None else gust * KNOT)


class WavesShape(FileShape):
    """A greatest wave height."""

    greatest_height_m: float = required("metres, significant", 0.05, 15.0)

    def asked(self) -> GreatestWaves:
        """As a thing."""
        return GreatestWaves(height=self.greatest_height_m)


class TimeBetweenShipsShape(FileShape):
    """A least time to the ships before and after her."""

    least_min: float = required("minutes to a [[movement]] of the call at the same place", 1.0, 600.0)

    def asked(self) -> TimeBetweenShips:
        """As a thing."""
        return TimeBetweenShips(least=self.least_min * MINUTE)


class ClosedShape(FileShape):
    """A time kept for another."""

    begin: AwareDatetime = required("a time with zone such as 2031-05-04T06:00:00Z")
    end: AwareDatetime = required("a time with zone such as 2031-05-04T06:30:00Z")

    def asked(self) -> Closed:
        """As a thing."""
        return Closed(begin=self.begin.astimezone(UTC), end=self.end.astimezone(UTC))


class OpeningShape(FileShape):
    """When a lock or bridge opens."""

    daily_utc: list[str] = Field(default=[], description="times of the day, UTC, such as 06:00-08:30")
    reference: str | None = optional("the tide station whose high water counts")
    before_high_water_min: float = Field(default=0.0, ge=0.0, le=720.0, description="minutes, 0 to 720")
    after_high_water_min: float = Field(default=0.0, ge=0.0, le=720.0, description="minutes, 0 to 720")

    def asked(self) -> Opening:
        """As a thing."""
        return Opening(
            daily=tuple(_times(text) for text in self.daily_utc),
            reference=self.reference,
            before_high_water=self.before_high_water_min * MINUTE,
            after_high_water=self.after_high_water_min * MINUTE,
        )


class TugsShape(FileShape):
    """Tugs that must be there."""

    number: int = Field(default=0, ge=0, le=12, description="a whole number, 0 to 12")
    pull_t: float = Field(default=0.0, ge=0.0, le=1000.0, description="tonnes of bollard pull together, 0 to 1000")

    def asked(self) -> TugsFast:
        """As a thing."""
        return TugsFast(number=self.number, pull=self.pull_t * TONNE_FORCE)


class ShipsShape(FileShape):
    """The ships a rule is for."""

    length_over_m: float | None = optional("metres of length overall", 1.0, 500.0)
    beam_over_m: float | None = optional("metres", 1.0, 100.0)
    draught_over_m: float | None = optional("metres", 0.1, 40.0)


class RuleShape(FileShape):
    """One rule; exactly one of the tables from `daylight` to `tugs` says what it asks."""

    name: str = required("what people call the rule")
    source: str = required("who says so")
    at: str | None = optional("the name of a waypoint, gate, basin or berth")
    reaches: list[str] = Field(default=[], description="names of reaches")
    lasting_min: float = Field(default=0.0, ge=0.0, le=1440.0, description="minutes she stays at the place, 0 to 1440")
    direction: Literal["inward", "outward"] | None = optional("inward or outward; left out: both")
    ships: ShipsShape = Field(default=ShipsShape(), description="a table of lower bounds; left out: every ship")
    daylight: DaylightShape | None = optional("a table")
    speed: SpeedShape | None = optional("a table")
    stream: StreamShape | None = optional("a table")
    visibility: VisibilityShape | None = optional("a table")
    wind: WindShape | None = optional("a table")
    waves: WavesShape | None = optional("a table")
    time_between_ships: TimeBetweenShipsShape | None = optional("a table")
    closed: ClosedShape | None = optional("a table")
    opening: OpeningShape | None = optional("a table")
    tugs: TugsShape | None = optional("a table")

    def rule(self) -> Rule:
        """As a thing."""
        return Rule(
            name=self.name,
            asks=self._asked(),
            source=self.source,
            at=self.at,
            reaches=tuple(self.reaches),
            lasting=self.lasting_min * MINUTE,
            direction=self.direction,
            ships=Ships(
                length_over=self.ships.length_over_m,
                beam_over=self.ships.beam_over_m,
                draught_over=self.ships.draught_over_m,
            ),
        )

    def _asked(self) -> Asked:
        tables = {name: getattr(self, name) for name in ASKS if getattr(self, name) is not None}
        if len(tables) != 1:
            got = "none" if not tables else " and ".join(tables)
            raise Impossible([("name", f"'{self.name}' asks {got}; expected exactly one of {', '.join(ASKS)}")])
        asked: Asked = next(iter(tables.values())).asked()
        return asked


ASKS = (
    "daylight",
    "speed",
    "stream",
    "visibility",
    "wind",
    "waves",
    "time_between_ships",
    "closed",
    "opening",
    "tugs",
)


class MovementShape(FileShape):
    """Another ship that passes a place."""

    name: str = required("the name of the ship")
    at: str = required("the name of a waypoint, gate, basin or berth")
    time: AwareDatetime = required("a time with zone such as 2031-05-04T06:00:00Z")

    def movement(self) -> Movement:
        """As a thing."""
        return Movement(name=self.name, at=self.at, time=self.time.astimezone(UTC))


class MooredShape(FileShape):
    """A ship alongside that she passes."""

    name: str = required("the name of the ship")
    latitude: float = required("degrees north of her middle", -90.0, 90.0)
    longitude: float = required("degrees east of her middle", -180.0, 180.0)
    length_m: float = required("metres at the waterline", 10.0, 450.0)
    beam_m: float = required("metres", 2.0, 90.0)
    draught_m: float = required("metres", 0.5, 30.0)
    greatest_along_t: float | None = optional("tonnes her lines may be pulled with along the quay", 0.1, 1000.0)

    def moored(self) -> MooredShip:
        """As a thing."""
        most = self.greatest_along_t
        return MooredShip(
            name=self.name,
            position=Position(self.latitude, self.longitude),
            length=self.length_m,
            beam=self.beam_m,
            draught=self.draught_m,
            greatest_along=None if most is None else most * TONNE_FORCE,
        )


def _times(text: str) -> tuple[float, float]:
    found = _DAILY.match(text)
    if found is None:
        raise Impossible([("opening", f"'{text}' is no time of the day; expected such as 06:00-08:30, UTC")])
    hour, minute, until_hour, until_minute = (int(part) for part in found.groups())
    return hour * HOUR + minute * MINUTE, until_hour * HOUR + until_minute * MINUTE
