"""Water levels of S-104: regular grids (edition 2.0), and station series as earlier editions had them.

Source: [S104Schema] for edition 2.0; coding format 8 from memory.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.files.formats import s100
from leadsman.files.formats.isolated import Limits
from leadsman.files.formats.records import Array, array
from leadsman.files.formats.s100 import Product
from leadsman.files.formats.series import LevelGrid, LevelSeries

FEATURE = "WaterLevel"
HEIGHT, DOUBT = "waterLevelHeight", "uncertainty"
EDITIONS = range(1, 3)
DOWNWARD = 6498  # EPSG vertical axis that counts depths [memory]; levels count up
GREATEST = 30.0  # m; beyond it a level is a slip of unit or datum


@dataclass(frozen=True, kw_only=True)
class WaterLevels:
    """What a file of S-104 holds."""

    grids: tuple[LevelGrid, ...] = ()
    series: tuple[LevelSeries, ...] = ()


def read(path: Path, *, limits: Limits | None = None) -> WaterLevels:
    """Levels of all grids or stations; `InputErrors` names what is not supported."""
    product = s100.open_product(path, 104, EDITIONS, limits=limits)
    s100.horizontal_crs(product, (4326,))
    if product.attribute("verticalCS") == DOWNWARD:
        raise product.faults.stop("counts downward; expected heights", field="verticalCS")
    form = s100.coding_format(product, FEATURE, (2,) if product.edition[0] >= 2 else (2, 8))
    product.check_unit(FEATURE, HEIGHT, ("metre", "metres", "meter", "meters", "m"))
    instances = product.instances(FEATURE)
    if form == 2:
        return WaterLevels(grids=tuple(_grid(product, instance) for instance in instances))
    return WaterLevels(series=tuple(each for instance in instances for each in _series(product, instance)))


def _levels(product: Product, group: str) -> tuple[Array, Array | None]:
    """(levels, uncertainties or None) of one group."""
    level = product.column(group, HEIGHT, product.fill(FEATURE, HEIGHT, -9999.0))
    if np.any(np.abs(level[np.isfinite(level)]) > GREATEST) or np.any(np.isinf(level)):
        raise product.faults.stop(f"goes beyond {GREATEST:g} m; expected metres", field=f"{group}/{HEIGHT}")
    if not product.has_column(group, DOUBT):
        return level, None
    doubt = product.column(group, DOUBT, product.fill(FEATURE, DOUBT, -1.0))
    return level, np.where((doubt >= 0.0) & np.isfinite(doubt), doubt, np.nan)


def _grid(product: Product, instance: str) -> LevelGrid:
    grid = s100.regular_grid(product, instance, FEATURE)
    latitude, longitude = s100.grid_lines(product, grid)
    groups = product.groups(instance)
    for group in groups:
        s100.check_shape(product, group, grid)
    start, elapsed = s100.group_times(product, instance, groups)
    columns = [_levels(product, group) for group in groups]
    doubts = [doubt for _, doubt in columns if doubt is not None]
    return LevelGrid(
        name=instance.rsplit("/", 1)[1],
        datum=product.datum(instance, f"/{FEATURE}"),
        start=start,
        elapsed=elapsed,
        latitude=latitude,
        longitude=longitude,
        level=array(np.stack([level for level, _ in columns])),
        uncertainty=array(np.stack(doubts)) if len(doubts) == len(columns) else None,
        kind=s100.level_kind(product, instance, f"/{FEATURE}"),
    )


def _series(product: Product, instance: str) -> list[LevelSeries]:
    found = []
    for station in s100.stations(product, FEATURE, instance):
        level, doubt = _levels(product, station.group)
        found.append(
            LevelSeries(
                station=station.name,
                datum=product.datum(station.group, instance, f"/{FEATURE}"),
                start=station.start,
                elapsed=station.elapsed,
                level=array(level),
                uncertainty=None if doubt is None else array(doubt),
                kind=s100.level_kind(product, station.group, instance, f"/{FEATURE}"),
                position=station.position,
                notes=(s100.STATION_NOTE,),
            )
        )
    return found
