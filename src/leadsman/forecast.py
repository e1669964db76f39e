"""What the weather and the gauge are expected to do, as given. Nothing missing is assumed calm."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from leadsman.errors import refuse


@dataclass(frozen=True, kw_only=True)
class Forecast:
    """One forecast for the time of the passage.

    `residual` is observed or forecast level less predicted tide, positive up: best, low and high. The low bound is
    taken off under the keel, the high bound is added under bridges.
    """

    issued: datetime
    source: str
    residual: float
    residual_low: float
    residual_high: float
    wind_speed: float | None = None
    wind_from: float | None = None
    gust_speed: float | None = None
    wave_height: float | None = None
    """Significant. [m]"""
    wave_period: float | None = None
    wave_from: float | None = None
    visibility: float | None = None
    water_density: float | None = None
    gauge_decay: float | None = None
    """Time in which what a gauge showed dies away into this forecast; None: gauges are compared only. [s]"""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        if self.issued.tzinfo is None:
            yield "issued", "has no zone; expected a time such as 2031-05-04T06:00:00Z"
        for name in ("residual", "residual_low", "residual_high"):
            value = getattr(self, name)
            if not (math.isfinite(value) and abs(value) <= 8.0):
                yield name, f"{value} m is no residual; expected metres, -8 to 8"
        if not self.residual_low <= self.residual <= self.residual_high:
            yield (
                "residual",
                (f"best {self.residual:g} m lies outside low {self.residual_low:g} to high {self.residual_high:g} m"),
            )
        if self.gauge_decay is not None and not 0.0 < self.gauge_decay <= 864_000.0:
            yield "gauge_decay", f"{self.gauge_decay / 3600.0:.3g} h is no such time; expected hours, 0 to 240"
        if (self.wind_speed is None) != (self.wind_from is None):
            yield "wind_speed", "wind needs both speed and direction it comes from"
        if self.wind_speed is not None and not 0.0 <= self.wind_speed <= 80.0:
            yield "wind_speed", f"{self.wind_speed:.3g} m/s is no wind; expected 0 to 155 kn"
        if self.gust_speed is not None and self.wind_speed is not None and self.gust_speed < self.wind_speed:
            yield "gust_speed", "is below the mean wind"
        if self.wave_height is not None and not 0.0 <= self.wave_height <= 25.0:
            yield "wave_height", f"{self.wave_height} m is no significant wave height; expected metres, 0 to 25"
        if self.wave_height and self.wave_period is None:
            yield "wave_period", "is missing; waves need their period"
        if self.water_density is not None and not 990.0 <= self.water_density <= 1050.0:
            yield "water_density", f"{self.water_density:.4g} is no water; expected kg/m³, 990 to 1050"
