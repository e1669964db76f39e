"""Forces and holding against the outside world as `make validate` runs it: writes docs/validation/holding.md."""

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

from leadsman.assessment.account import account
from leadsman.assessment.holding.assess import plans
from leadsman.assessment.holding.hold import hold
from leadsman.assessment.holding.means import bodies, ways
from leadsman.assessment.prepare import prepare
from leadsman.files.call_files import read_call
from leadsman.physics import anchor, balance, current, fender, mooring, passing, thruster, tug, wind, wind_profile
from leadsman.units import DEGREE, LONG_TON, SEA_WATER_DENSITY, TONNE_FORCE

ROOT = Path(__file__).parents[1]
HEAD = """# Forces and holding against the outside world

Made by `make validate`. Marks: **seen** read in the document or a public copy; **memory** not re-read; **computed** worked
from the formula as printed by a separate script: such a row tests the coding, not the physics; **practice** a rule of the
trade without a source.

| row | expected | found | off by | mark |
|---|---|---|---|---|
"""
FFG7 = ((0.096, 0.55), (0.288, 0.66), (0.576, 1.03), (0.72, 1.30), (0.96, 1.90))
"""UFC 4-159-03, table 4-6: draught over depth, MN at 1.5 m/s abeam [seen]; her particulars from memory."""

Row = tuple[str, float, float, str]


def main() -> None:
    rows = [*winds(), *currents(), *berthing(), *anchors(), *others()]
    lines = [
        f"| {name} | {expected:g} | {found:.4g} | {abs(found - expected) / max(abs(expected), 1e-9):.1%} | {mark} |"
        for name, expected, found, mark in rows
    ]
    (ROOT / "docs/validation/holding.md").write_text(HEAD + "\n".join(lines) + "\n" + solver())


def winds() -> Iterator[Row]:
    tanker = {
        "length_overall": 244.0, "beam": 42.0, "lateral_area": 2900.0, "transverse_area": 1000.0,
        "superstructure_area": 700.0, "profile_outline": 320.0, "centroid_from_bow": 128.0, "mast_groups": 1.0,
    }  # fmt: skip
    container = {
        "length_overall": 300.0, "beam": 40.0, "lateral_area": 8500.0, "transverse_area": 1500.0,
        "deck_house_area": 4200.0, "centroid_forward": -2.0, "centroid_height": 15.0, "bridge_height": 42.0,
    }  # fmt: skip
    yield "Isherwood 1973, tanker, head: CX", 0.988, float(wind.isherwood(0.0, **tanker).longitudinal), "computed from memory"
    yield "Isherwood 1973, tanker, beam: CY", 0.699, float(wind.isherwood(90 * DEGREE, **tanker).lateral), "computed from memory"
    for degrees, expected in ((30.0, 0.565), (90.0, 0.859)):
        found = float(wind.fujiwara(degrees * DEGREE, **container).lateral)
        yield f"Fujiwara 2006, container ship, {degrees:g}°: CY", expected, found, "computed from memory"
    gust = float(wind_profile.gust_factor(30.0, 600.0))
    yield "Gust of 30 s over the ten-minute mean (CEM II-2-1)", 1.260, gust, "computed from memory"
    area = float(wind_profile.trade_rule(12.86, 8500.0)) / TONNE_FORCE
    yield "V²/18 per 1000 m², 8500 m², 25 kn [t]", 78.1, area, "practice"


def currents() -> Iterator[Row]:
    volume = 3590.0 * LONG_TON / SEA_WATER_DENSITY
    deep = current.deep_coefficient(124.36, 13.72, 46.97, volume)
    for ratio, expected in FFG7:
        lateral = current.lateral_coefficient(deep, 3.2, 4.389, 4.389 / ratio, 2.0)
        force = float(current.lateral_force(1.5, -0.5 * math.pi, lateral, 124.36, 4.389, SEA_WATER_DENSITY))
        yield f"UFC 4-159-03 table 4-6, FFG-7, T/d {ratio:g} [MN]", expected, force / 1e6, "seen; particulars memory"


def berthing() -> Iterator[Row]:
    shared = float(fender.eccentricity(85.0, 74.52, 61.52 * DEGREE))
    virtual = float(fender.vasco_costa(15.5, 57.0))
    energy = float(fender.berthing_energy(208.0e6, 0.10, virtual, shared, fender.HARD_FENDER, 1.0))
    yield "Design sheet, 208 000 t at 0.10 m/s: energy [kNm]", 960.0, energy / 1e3, "seen"
    yield "the same: share that does not turn her", 0.664, shared, "seen"
    curve = float(fender.brolsma(100.0e6, "difficult berthing, sheltered"))
    yield "Brolsma 1977, 100 000 t, difficult, sheltered [m/s]", 0.083, curve, "memory"


def anchors() -> Iterator[Row]:
    for kind, bottom, expected in (("stockless, flukes fixed open", "mud", 424.0), ("AC-14", "sand", 1054.0)):
        found = float(anchor.holding_ufc(10_000.0, kind, bottom)) / 1e3
        yield f"UFC 4-159-03 eq. 26, {kind}, {bottom}, 10 t [kN]", expected, found, "equation seen, figures memory"
    hanging = anchor.catenary(35.0, 400e3, float(anchor.chain_weight(0.084)))
    yield "Catenary, 35 m, 400 kN, 84 mm: length [m]", 149.9, float(hanging.length), "derived"
    yield "Breaking load 84 mm U2 [kN]", 3610.0, anchor.chain_breaking_load(0.084, "U2") / 1e3, "memory"


def others() -> Iterator[Row]:
    limit = float(thruster.momentum_limit(1.0e6, 2.0, SEA_WATER_DENSITY)) / 1e3
    yield "Thruster, momentum limit, 1000 kW, 2.0 m [kN]", 234.4, limit, "derived"
    forward, aft = tug.two_tugs(775e3 * 1.25 - 200e3, -1550e3 * 1.25 - 200e3 * 135.0, 100.0, -110.0)
    yield "Two tugs, container ship in 25 kn abeam: forward [kN]", 265.0, float(forward) / 1e3, "computed"
    yield "the same: aft [kN]", 504.0, float(aft) / 1e3, "computed"
    jet = float(passing.jet_at_propeller(1.5, 6.0, 0.35))
    yield "Propeller jet, 1.5 /s, 6 m, KT 0.35 [m/s]", 8.52, jet, "derived"
    yield "IACS line, side area 8500 m² [kN]", 1200.0, float(mooring.design_breaking_load(8500.0)) / 1e3, "memory"


def solver() -> str:
    """Half-spaces and linear program against each other, and what is left of the balances, over all examples."""
    asked = held = 0
    apart = left = 0.0
    for folder in sorted((ROOT / "examples").glob("*/call.toml")):
        ready = prepare(read_call(folder.parent))
        for plan in plans(ready, account(ready, ready.call.start), ready.call.start):
            for angle in np.radians(np.arange(0.0, 360.0, 30.0)):
                case = replace(plan.case, wind_from=float(angle))
                load = case.wind_loads(case.wind_speed, case.wind_from) + case.current_loads(
                    case.current_speed, case.current_from
                )
                load = load * np.array([1.0 if case.surge_counts else 0.0, 1.0, 1.0])
                program = max(balance.most_held(way.reaches, load, np.zeros(3), case.lever) for way in ways(case))
                spaces = max(
                    float(most[0]) if least[0] <= most[0] else -np.inf
                    for least, most in (balance.factors_held(body, load[None, :], np.zeros(3)) for body in bodies(case))
                )
                apart = max(apart, abs(min(spaces, balance.MOST_TIMES) - program))
                asked += 1
                answer = hold(case)
                if answer.held:
                    held += 1
                    left = max(left, float(np.max(np.abs(answer.unbalanced / np.array([1.0, 1.0, case.lever])))))
    return f"""
## The balance itself

All places of all examples, wind from twelve sides: {asked} balances. How many times the load is held by half-spaces and by
linear program (HiGHS) differs by {apart:.1e} at most. {held} are held; what their orders leave over is {left:.1e} N at most
(moments over half her length). Random loads, brute force over small cases, symmetry and every direction of a rose are held
by the tests.
"""


if __name__ == "__main__":
    main()
