"""Bathymetric surfaces of S-102: depths positive down on a regular grid, with their uncertainty.

Source: [S102], names, fill value and coordinate systems from memory.
"""

from pathlib import Path

import numpy as np

from leadsman.files.formats import s100
from leadsman.files.formats.isolated import Limits
from leadsman.files.formats.records import array
from leadsman.files.formats.s100 import Product
from leadsman.files.formats.series import DepthGrid

FEATURE = "BathymetryCoverage"
EDITIONS = range(2, 4)
FILL = 1_000_000.0
UPWARD = 6499  # EPSG vertical axis that counts heights [memory]; depths count down
# WGS 84 in degrees; UTM north and south; polar stereographic north and south
SYSTEMS = (4326, *range(32601, 32661), *range(32701, 32761), 5041, 5042)
SHALLOWEST, DEEPEST = -50.0, 12_000.0  # m


def read(path: Path, *, limits: Limits | None = None) -> tuple[DepthGrid, ...]:
    """The depth grids of a file; `InputErrors` names what is not supported."""
    product = s100.open_product(path, 102, EDITIONS, limits=limits)
    crs = s100.horizontal_crs(product, SYSTEMS)
    if product.attribute("verticalCS") == UPWARD:
        raise product.faults.stop("counts upward; expected depths", field="verticalCS")
    s100.coding_format(product, FEATURE, (2,))
    product.check_unit(FEATURE, "depth", ("metre", "metres", "meter", "meters", "m"))
    return tuple(_grid(product, instance, crs) for instance in product.instances(FEATURE))


def _grid(product: Product, instance: str, crs: int) -> DepthGrid:
    grid = s100.regular_grid(product, instance, FEATURE)
    if crs == 4326:
        s100.grid_lines(product, grid)
    group = product.groups(instance)[0]
    s100.check_shape(product, group, grid)
    depth = product.column(group, "depth", product.fill(FEATURE, "depth", FILL))
    known = depth[~np.isnan(depth)]
    if np.any((known < SHALLOWEST) | (known > DEEPEST)):
        raise product.faults.stop(
            f"goes beyond {SHALLOWEST:g} to {DEEPEST:g} m; expected depths, positive down", field=f"{group}/depth"
        )
    doubt = None
    if product.has_column(group, "uncertainty"):
        raw = product.column(group, "uncertainty", product.fill(FEATURE, "uncertainty", FILL))
        doubt = np.where((raw >= 0.0) & (raw < 1000.0), raw, np.nan)
    return DepthGrid(
        name=instance.rsplit("/", 1)[1],
        datum=product.datum(instance, f"/{FEATURE}"),
        crs=crs,
        origin=(grid.south, grid.west),
        spacing=(grid.north_step, grid.east_step),
        depth=array(depth),
        uncertainty=None if doubt is None else array(doubt),
    )
