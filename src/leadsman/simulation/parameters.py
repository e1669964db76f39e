"""The numbers of one ship, or of a thousand variants of her, in the shape the kernels take.

`Parameters` is what people and tests write: named tuples of floats. `packed` lays one or many of them out as `Fleet`, a
named tuple of arrays of records with the same field names, so that a kernel says `fleet.hull[run].mass` and an ensemble
is one array. Tables that do not vary between variants are shared.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

from leadsman.physics import shallow, tug_work, tunnel
from leadsman.physics.by_speed import KNOTS
from leadsman.physics.cable import Anchor
from leadsman.physics.engine import Engine
from leadsman.physics.hull_force import Hull
from leadsman.physics.propeller import STEPS, Propeller
from leadsman.physics.rudder import Rudder
from leadsman.physics.tug_work import TugAtWork
from leadsman.physics.tunnel import Tunnel
from leadsman.units import SEA_WATER_DENSITY

Array: TypeAlias = NDArray[np.float64]
Records: TypeAlias = NDArray[np.void]

MOST_UNITS = 6  # screws, rudders, pods or thrusters of one ship
MOST_TUGS = 8  # that attend her at once
MOST_ANCHORS = 2  # bowers
MOST_PITCHES = 8  # lines of the screw tables
SHALLOW_LINES = 183  # lines of the table over draught/depth, 0.005 apart: linear between them is good to 0.3 %
WIND_STEPS = 72  # of the relative wind, five degrees each


class Tables(NamedTuple):
    """What all variants of a ship share: screw coefficients by advance angle, shallow factors by depth, wind by angle.

    `wind[i]` for wind from 5 i degrees clockwise from the bow is the force over its dynamic pressure: forward [m²], to
    starboard [m²], turning the bow to starboard [m³].
    """

    thrust: Array
    torque: Array
    pitches: Array
    shallow: Records
    wind: Array


class Parameters(NamedTuple):
    """One ship in one loading, ready to move, and the tugs that attend her."""

    hull: Hull
    propellers: tuple[Propeller, ...]
    rudders: tuple[Rudder, ...]
    engines: tuple[Engine, ...]
    tables: Tables
    thrusters: tuple[Tunnel, ...] = ()
    tugs: tuple[TugAtWork, ...] = ()
    anchors: tuple[Anchor, ...] = ()


class Fleet(NamedTuple):
    """Variants of one ship for the kernels: one record each [runs], and the tables they share, as one record [1].

    Everything a kernel reads of a ship lies in two records, which are passed as bare addresses: arrays, had they been
    passed, would be counted in and out at every call.
    """

    ships: Records
    tables: Records


def record_type(fields: Any) -> np.dtype[np.void]:
    """The record with one float64 for each field of a named tuple."""
    return np.dtype([(name, np.float64) for name in fields._fields], align=True)


COUNTS = {
    "screws": "screw_count",
    "rudders": "rudder_count",
    "thrusters": "thruster_count",
    "tugs": "tug_count",
    "anchors": "anchor_count",
}


def ship_type() -> np.dtype[np.void]:
    """The record of one variant: `hull`, its units of each kind, and how many of them there are."""
    return np.dtype(
        [
            ("hull", record_type(Hull)),
            ("screws", record_type(Propeller), (MOST_UNITS,)),
            ("rudders", record_type(Rudder), (MOST_UNITS,)),
            ("engines", record_type(Engine), (MOST_UNITS,)),
            ("thrusters", record_type(Tunnel), (MOST_UNITS,)),
            ("tugs", record_type(TugAtWork), (MOST_TUGS,)),
            ("anchors", record_type(Anchor), (MOST_ANCHORS,)),
            *((count, np.int64) for count in COUNTS.values()),
        ],
        align=True,
    )


def tables_type() -> np.dtype[np.void]:
    """The record of the shared tables; screws of one pitch fill one line of `thrust` and `torque`.

    `thruster_shares` and `tug_shares` are those of `tunnel.shares` and `tug_work.shares`, the same for every ship.
    """
    return np.dtype(
        [
            ("thrust", np.float64, (MOST_PITCHES, STEPS + 3)),
            ("torque", np.float64, (MOST_PITCHES, STEPS + 3)),
            ("pitches", np.float64, (MOST_PITCHES,)),
            ("shallow", record_type(shallow.Shallow), (SHALLOW_LINES,)),
            ("wind", np.float64, (WIND_STEPS, 3)),
            ("thruster_shares", np.float64, (3, KNOTS)),
            ("tug_shares", np.float64, (len(tug_work.ROWS), KNOTS)),
        ],
        align=True,
    )


def shallow_table(hull: Hull, method: str = "combined") -> Records:
    """Factors of a method of `shallow.METHODS` for this hull at draught/depth 0, 0.005, 0.010 and so on to the limit
    of the method."""
    draught = 0.5 * (hull.draught_forward + hull.draught_aft)
    block_coefficient = hull.mass / (SEA_WATER_DENSITY * hull.length * hull.beam * draught)
    with np.errstate(divide="ignore"):
        depths = 1.0 / np.linspace(0.0, 1.0 / shallow.SHALLOWEST, SHALLOW_LINES)
    function = shallow.METHODS[method].function
    found = function(depths, hull.length, hull.beam, draught, block_coefficient, hull.cross_flow_drag)
    table = np.empty(SHALLOW_LINES, record_type(shallow.Shallow))
    for name, column in found._asdict().items():
        table[name] = column
    return table


def calm_air() -> Array:
    """A wind table without force, for ships whose windage is not in play."""
    return np.zeros((WIND_STEPS, 3))


def problems(parameters: Parameters) -> list[str]:
    """What is impossible about these numbers, one sentence each, naming the quantity."""
    found = [
        f"{part}: {name.replace('_', ' ')} is {value}; a finite number is needed"
        for part, values in _parts(parameters)
        for name, value in values.items()
        if not math.isfinite(value) and not (name in _MAY_BE_INFINITE and value == math.inf)
    ]
    found += [
        f"{part}: {name.replace('_', ' ')} is {values[name]:g}; it must be greater than zero"
        for part, values in _parts(parameters)
        for name in _POSITIVE
        if name in values and not math.isnan(values[name]) and values[name] <= 0.0
    ]
    found += [
        f"{part}: {name.replace('_', ' ')} is {values[name]:g}; it must not be less than nothing"
        for part, values in _parts(parameters)
        for name in _NEVER_NEGATIVE
        if name in values and values[name] < 0.0
    ]
    found += [
        f"{part}: {name.replace('_', ' ')} is {values[name]:g}; expected {low:g} to {high:g}"
        for part, values in _parts(parameters)
        for name, (low, high) in _RANGES.items()
        if name in values and math.isfinite(values[name]) and not low <= values[name] <= high
    ]
    for name, table in parameters.tables._asdict().items():
        numbers = table.view(np.float64) if table.dtype.names else table
        if not np.isfinite(numbers).all():
            found.append(f"table of {name}: holds a value that is not a finite number")
    if len(parameters.engines) != len(parameters.propellers):
        found.append(
            f"engines: {len(parameters.engines)} for {len(parameters.propellers)} propellers; one each is needed"
        )
    for word, units, most in (
        ("propellers", parameters.propellers, MOST_UNITS),
        ("rudders", parameters.rudders, MOST_UNITS),
        ("thrusters", parameters.thrusters, MOST_UNITS),
        ("tugs", parameters.tugs, MOST_TUGS),
        ("anchors", parameters.anchors, MOST_ANCHORS),
    ):
        if len(units) > most:
            found.append(f"{word}: {len(units)}; the kernels hold {most}")
    for number, rudder in enumerate(parameters.rudders):
        if not -1 <= rudder.propeller < len(parameters.propellers):
            found.append(f"rudder {number + 1}: stands behind propeller {rudder.propeller:g}, which does not exist")
    for number, propeller in enumerate(parameters.propellers):
        if propeller.azimuthing and not 0 <= propeller.rudder < len(parameters.rudders):
            found.append(f"propeller {number + 1}: turns with steering unit {propeller.rudder:g}, which does not exist")
    return found


_POSITIVE = (
    "length",
    "beam",
    "draught_forward",
    "draught_aft",
    "mass",
    "yaw_inertia",
    "diameter",
    "area",
    "rate",
    "cross_flow_drag",
    "greatest_froude",
    "full_speed",
    "full_torque",
    "ramp",
    "sea_ramp",
    "fall",
    "zero_torque",
    "spin_down",
    "slew",
    "weight",
    "most",
    "veer",
    "heave",
)
_RANGES = {  # what the equations were made for; a value outside is a slip, not a ship
    "wake": (-0.2, 0.9),
    "thrust_deduction": (-0.1, 0.9),
    "thrust_deduction_astern": (-0.1, 0.9),
    "hand": (-1.0, 1.0),
    "race_share": (0.0, 1.0),
    "stall": (0.0, 0.5 * math.pi),
    "greatest_angle": (0.0, math.pi),
    "immersion": (0.0, 1.0),
}
_NEVER_NEGATIVE = ("line_pull", "push_pull", "reaction", "sector", "holding", "drag_ratio", "brake")
_MAY_BE_INFINITE = (
    "full_torque",
    "astern_torque",
    "starts",
    "ramp",
    "sea_ramp",
    "fall",
    "rate",
    "recharge",
    "greatest_speed",
    "brake",
    "slew",
)


def _parts(parameters: Parameters) -> list[tuple[str, Mapping[str, float]]]:
    parts: list[tuple[str, Mapping[str, float]]] = [("hull", parameters.hull._asdict())]
    units = {
        "propeller": parameters.propellers,
        "rudder": parameters.rudders,
        "engine": parameters.engines,
        "thruster": parameters.thrusters,
        "tug": parameters.tugs,
        "anchor": parameters.anchors,
    }
    for word, several in units.items():
        parts += [(f"{word} {number + 1}", cast(Any, unit)._asdict()) for number, unit in enumerate(several)]
    return parts


def packed(variants: Sequence[Parameters] | Parameters) -> Fleet:
    """Variants of one ship laid out for the kernels; the first gives the tables.

    Raises
    ------
    ValueError
        With every impossible value named, as `problems` says it.
    """
    found = [variants] if isinstance(variants, Parameters) else list(variants)
    for one in found:
        if faults := problems(one):
            raise ValueError("; ".join(faults))
    ships = np.zeros(len(found), ship_type())
    for place, one in enumerate(found):
        ships[place]["hull"] = tuple(one.hull)
        for name, units in (
            ("screws", one.propellers),
            ("rudders", one.rudders),
            ("engines", one.engines),
            ("thrusters", one.thrusters),
            ("tugs", one.tugs),
            ("anchors", one.anchors),
        ):
            for number, unit in enumerate(units):
                ships[place][name][number] = tuple(cast(Any, unit))
            if name in COUNTS:
                ships[place][COUNTS[name]] = len(units)
    shared = found[0].tables
    tables = np.zeros(1, tables_type())
    lines = len(shared.pitches)
    tables[0]["thrust"][:lines] = shared.thrust
    tables[0]["torque"][:lines] = shared.torque
    tables[0]["pitches"][:lines] = shared.pitches
    tables[0]["shallow"] = shared.shallow
    tables[0]["wind"] = shared.wind
    tables[0]["thruster_shares"] = tunnel.shares()
    tables[0]["tug_shares"] = tug_work.shares()
    return Fleet(ships=ships, tables=tables)
