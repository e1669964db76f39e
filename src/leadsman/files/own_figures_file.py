"""`[own_figures]` of `ship.toml`: what the handler knows better than card and estimate, in seafarers' units.

The keys are the names of `assessment.estimates` with their unit. What is read off her marks (draughts, trim, list, the
water's density) has none: there the card itself is mended.
"""

import os
import re
from collections.abc import Iterable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import Field

from leadsman.errors import InputError, InputErrors
from leadsman.files.explain import shaped
from leadsman.files.shape import FileShape, optional
from leadsman.files.things import Keyed, build
from leadsman.files.toml_file import TomlFile
from leadsman.ship import Loading, OwnFigure, Ship, contradictions
from leadsman.units import TONNE

UNITS = {  # of a key: its size in SI, and how people write it
    "m": (1.0, "m"),
    "m2": (1.0, "m²"),
    "s": (1.0, "s"),
    "t": (TONNE, "t"),
    "t_m2": (TONNE, "t m²"),
    "t_cm": (100.0 * TONNE, "t/cm"),
    "t_m_cm": (100.0 * TONNE, "t m/cm"),
    "kN": (1000.0, "kN"),
}
SOURCES = "sources"


class OwnFiguresShape(FileShape):
    """Figures the handler knows better than card and estimate; every later computation takes them."""

    summer_draught_m: float | None = optional("metres", 0.5, 30.0)
    displacement_t: float | None = optional("tonnes as she floats", 10.0, 1_000_000.0)
    mass_per_immersion_t_cm: float | None = optional("tonnes for one centimetre of draught", 0.02, 500.0)
    trimming_moment_t_m_cm: float | None = optional("tonne-metres for one centimetre of trim", 0.02, 20_000.0)
    fresh_water_allowance_m: float | None = optional("metres", 0.001, 1.0)
    brackish_sinkage_m: float | None = optional("metres to water of 1010 kg/m³, negative: she rises", -1.0, 1.0)
    length_between_perpendiculars_m: float | None = optional("metres", 5.0, 490.0)
    summer_block_coefficient: float | None = optional("at the summer draught", 0.3, 0.95)
    block_coefficient: float | None = optional("at today's draught", 0.3, 0.95)
    waterplane_coefficient: float | None = optional("at today's draught", 0.4, 1.0)
    midship_coefficient: float | None = optional("at today's draught", 0.4, 1.0)
    wetted_surface_m2: float | None = optional("square metres", 10.0, 60_000.0)
    centre_of_buoyancy_height_m: float | None = optional("metres above the keel", 0.1, 20.0)
    metacentre_height_m: float | None = optional("metres above the keel", 0.5, 80.0)
    metacentric_height_m: float | None = optional("metres", 0.05, 15.0)
    centre_of_gravity_height_m: float | None = optional("metres above the keel", 0.5, 40.0)
    roll_period_s: float | None = optional("seconds from side to side and back", 2.0, 60.0)
    surge_added_mass_t: float | None = optional("tonnes", 0.1, 1_000_000.0)
    sway_added_mass_t: float | None = optional("tonnes", 0.1, 3_000_000.0)
    yaw_added_inertia_t_m2: float | None = optional("tonnes times square metres", 1.0, 1e11)
    yaw_inertia_t_m2: float | None = optional("tonnes times square metres", 1.0, 1e11)
    moulded_depth_m: float | None = optional("metres, keel to deck", 1.0, 50.0)
    air_draught_m: float | None = optional("metres", 1.0, 110.0)
    lateral_windage_m2: float | None = optional("square metres", 5.0, 40_000.0)
    frontal_windage_m2: float | None = optional("square metres", 2.0, 6_000.0)
    windage_height_m: float | None = optional("metres above the water, centroid", 0.2, 60.0)
    windage_forward_m: float | None = optional("metres forward of midships, centroid", -200.0, 200.0)
    propeller_diameter_m: float | None = optional("metres", 0.3, 14.0)
    propeller_pitch_ratio: float | None = optional("pitch by diameter", 0.2, 2.0)
    thrust_coefficient_at_rest: float | None = optional("KT at no advance", 0.02, 1.2)
    wake_fraction: float | None = optional("straight ahead in deep water", 0.001, 0.7)
    thrust_deduction: float | None = optional("straight ahead", 0.001, 0.6)
    bollard_thrust_full_ahead_kN: float | None = optional("kilonewtons, at rest", 1.0, 20_000.0)
    astern_power_share: float | None = optional("of ahead, 1 is all of it", 0.01, 1.5)
    astern_thrust_share: float | None = optional("of ahead, both at rest", 0.01, 1.5)
    astern_speed_share: float | None = optional("of ahead, both steady", 0.01, 1.2)
    rudder_area_m2: float | None = optional("square metres, all rudders in order", 0.3, 500.0)
    rudder_height_m: float | None = optional("metres, of one rudder", 0.5, 20.0)
    rudder_slope: float | None = optional("normal force coefficient by the sine of the angle", 0.3, 8.0)
    bow_thrust_kN: float | None = optional("kilonewtons, all bow thrusters, ship stopped", 1.0, 3_000.0)
    stern_thrust_kN: float | None = optional("kilonewtons, all stern thrusters, ship stopped", 1.0, 3_000.0)
    equipment_number: float | None = optional("from her certificate", 10.0, 20_000.0)
    cable_m: float | None = optional("metres, the longer bower cable", 10.0, 1_000.0)
    sources: dict[str, str] = Field(default={}, description='key = text, such as displacement_t = "draught survey"')


def keys() -> Mapping[str, tuple[str, float, str]]:
    """Every key: the particular it overrules, the size of its unit in SI, and the unit as people write it."""
    return {key: _parts(key) for key in OwnFiguresShape.model_fields if key != SOURCES}


def _parts(key: str) -> tuple[str, float, str]:
    found = re.match(rf"(.+?)_({'|'.join(UNITS)})$", key)
    return (found[1], *UNITS[found[2]]) if found else (key, 1.0, "")


def own_figures_from(keyed: Keyed, shape: OwnFiguresShape) -> dict[str, OwnFigure]:
    """The figures by the names of their particulars, in SI; a source of a figure that is not there is a fault."""
    for key in shape.sources:
        if key not in keys() or getattr(shape, key) is None:
            path = ("own_figures", SOURCES, key)
            keyed.errors.append(keyed.file.error(path, "names a figure that does not stand under [own_figures]"))
    found = {}
    for key, (name, size, _) in keys().items():
        value = getattr(shape, key)
        if value is not None:
            make = partial(OwnFigure, value=value * size, source=shape.sources.get(key, ""))
            made = build(make, keyed, ("own_figures",))
            if made is not None:
                found[name] = made
    return found


def own_figures_of_words(words: Iterable[str]) -> dict[str, OwnFigure]:
    """Own figures as typed on the command line, each `KEY=VALUE` or `KEY=VALUE where from`; `InputErrors` for none."""
    file = TomlFile("--own", _table_of(words), {})
    errors: list[InputError] = []
    shape = shaped(file, OwnFiguresShape, errors)
    if shape is None:
        raise InputErrors(errors)
    return own_figures_from(Keyed(file, errors), shape)


def loading_by_words(ship: Ship, loading: Loading, words: Iterable[str]) -> Loading:
    """The loading with own figures as typed on the command line; `InputErrors` for what is none or cannot be."""
    known = loading.knowing(own_figures_of_words(words))
    errors = [InputError("--own", None, field, sentence) for field, sentence in contradictions(ship, known)]
    if errors:
        raise InputErrors(errors)
    return known


def _table_of(words: Iterable[str]) -> dict[str, Any]:
    """The same as the table `[own_figures]` of a file."""
    table: dict[str, Any] = {}
    errors: list[InputError] = []
    for word in words:
        key, equals, rest = (part.strip() for part in word.partition("="))
        value, _, source = rest.partition(" ")
        try:
            table[key] = float(value)
        except ValueError:
            problem = f"'{value}' is no number" if equals else f"'{word}' has no value"
            errors.append(InputError("--own", None, key, f"{problem}; expected such as displacement_t=21500"))
        if source.strip():
            table.setdefault(SOURCES, {})[key] = source.strip()
    if errors:
        raise InputErrors(errors)
    return table


def keep_own_figures(path: Path, words: Iterable[str]) -> None:
    """Write own figures as typed into a `ship.toml`, whole or not at all; comments and order of the file stay.

    A figure without a source takes away the source of the one it replaces.
    """
    table = _table_of(words)
    try:
        document = tomlkit.parse(path.read_text(encoding="utf-8"))
        kept: Any = document.setdefault("own_figures", tomlkit.table())
        sources = kept.pop(SOURCES, {})
        for key, value in table.items():
            if key != SOURCES:
                kept[key] = int(value) if value.is_integer() else value
                sources.pop(key, None)
        sources.update(table.get(SOURCES, {}))
        if sources:
            kept[SOURCES] = sources
        beside = path.with_name(f".{path.name}.part")
        try:
            beside.write_text(tomlkit.dumps(document), encoding="utf-8")
            os.replace(beside, path)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        raise InputErrors([InputError(str(path), None, "", f"cannot be written: {error.strerror}")]) from None
