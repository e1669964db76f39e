"""The rehearsal's conn against statics and geometry as `make validate` runs it: writes docs/validation/rehearsal.md."""

import math
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.builders.open_water import crossing, drift, made  # lies outside the package
from tests.builders.statics import (
    ABEAM,
    DEEP,
    EXAMPLES,
    TRIED,
    Sides,
    around,
    bollard,
    by_helpers,
    driven,
    left_over,
    load,
    off_her_place,
    sides,
    static_limit,
    usual_windage,
)

from leadsman.assessment.rehearse import rehearse_call
from leadsman.files.call_files import read_call
from leadsman.units import KNOT

HEAD = """# The rehearsal's ship and conn against statics and geometry

Made by `make validate`. Ship and conn as rehearsed, in open, even water where they are to be compared with plain sums.
What this does not show: whether a person would conn her so.

## Loads on a ship that lies still

The model that moves against the static balance of `assessment.holding` (docs/methods/holding.md), which is other code:
model over statics. *Same wind* compares with Blendermann's method at the middle of its bands, which the model uses too;
*planned* with what the static balance plans on: the heaviest method, areas a deviation larger. *Stream abeam* is the side
force at 5.0, 2.0 and 1.2 times the draught; both have the coefficient of [UFC4-159-03], so it tests coding and depth, not
nature. *Stream on the bow* is 45 degrees off it, side force and turning moment in deep water: here the model has the
manoeuvring derivatives, statics the lever of [UFC4-159-03], from memory.

| ship | same wind, abeam | planned, abeam | planned, ahead | stream abeam | on the bow, side | on the bow, turning | ahead |
|---|---|---|---|---|---|---|---|
"""
MEANS = """
The stream from ahead presses the model half as much as statics: [UFC4-159-03] adds stopped propellers by a rule for
moored ships; the model turns them by their open-water diagram. Statics are the careful side, of a small force.

## Engine and rudder of a stopped ship

Model over statics, which take thrust a deviation low and planning figures of the trade; the model gives more. That by
itself says nothing of either, so the model's screw is held against momentum and the card: thrust over that of an ideal disc
of its size and the power it takes (never above 1; 0.6 to 0.8 is usual ahead at rest, from memory), power taken full astern
over the engine's beside the card's own astern share. The side force of a rudder hard over, over the thrust of its screw, is
beside what the sheets have for its kind: 0.25 to 0.40 for a conventional one (forces 3.3, common practice; manoeuvring 3.6,
from memory, low confidence), 0.5 to 0.6 for a fishtail at 65 degrees, a flap at 45 between.

| ship | half ahead | half astern | disc ahead, astern | power full astern, card | hard over, over statics | over thrust | rudder |
|---|---|---|---|---|---|---|---|
"""
HELD = """
## Held by the orders of the static balance

Wind abeam at 0.6 of the greatest that statics hold, balanced by tugs and thrusters as statics order them; the model
carries the orders out for 20 minutes with springs at midships that bear what is left over: as a share of the side force,
and of it times half her length.

| ship | wind | side force left | turning left |
|---|---|---|---|
"""
LIMITS = """
## Held stopped by the conn

Each ship is to lie stopped for 40 minutes in a steady wind abeam: how far she is off her place at last. The limit is that
of the static balance with tugs where the rehearsal has them, its careful figures and all. All but one are held to the limit
or nearly, and lost beyond it. The ferry is not: she has no tug that the limit could hang on, and her two screws set
against each other give the model what the table of engines shows.

| ship | limit | her tugs | {shares} |
|---|---|---|---|{bars}
"""
SHARES = (0.7, 0.9, 1.0, 1.1, 1.25)
STREAM = 0.75  # m/s
STREAMS = (-1.5, -1.0, 0.6)


def loads(every: list[Sides]) -> list[str]:
    """The first table."""
    found = []
    bow = 0.5 * ABEAM
    for one in every:
        windage, wind = usual_windage(one), load(one, TRIED, ABEAM)
        planned = [abs(float(each.loads(TRIED, ABEAM)[1])) for each in one.case.windages]
        ahead = [abs(float(each.loads(TRIED, 0.0)[0])) for each in one.case.windages]
        abeam = [
            load(Sides(made=one.made, case=one.case, depth=depth), 0.0, 0.0, STREAM, ABEAM)[1]
            / one.case.hull.loads(STREAM, ABEAM, depth)[1]
            for depth in (ratio * one.case.hull.draught for ratio in (DEEP, 2.0, 1.2))
        ]
        there, statics = load(one, 0.0, 0.0, STREAM, bow), one.case.hull.loads(STREAM, bow, one.depth)
        from_ahead = load(one, 0.0, 0.0, STREAM, 0.0)[0] / one.case.hull.loads(STREAM, 0.0, one.depth)[0]
        cells = [
            f"{wind[1] / windage.loads(TRIED, ABEAM)[1]:.3f}",
            f"{abs(wind[1]) / max(planned):.2f}",
            f"{abs(load(one, TRIED, 0.0)[0]) / max(ahead):.2f}",
            ", ".join(f"{ratio:.2f}" for ratio in abeam),
            *(f"{there[part] / statics[part]:.2f}" for part in (1, 2)),
            f"{from_ahead:.2f}",
        ]
        found.append(f"| {name_of(one)} | {' | '.join(cells)} |\n")
    return found


def means(every: list[Sides]) -> list[str]:
    """The second: engine and rudder; a pod has no rudder."""
    found = []
    for one in every:
        screws, engine = one.case.screws, one.made.prepared.call.ship.engine
        ahead, astern, full = (bollard(one, order) for order in ("half_ahead", "half_astern", "full_astern"))
        cells = [
            f"{driven(one, 'half_ahead')[0] / sum(screw.ahead for screw in screws):.2f}",
            f"{driven(one, 'half_astern')[0] / -sum(screw.astern for screw in screws):.2f}",
            f"{ahead.thrust / ahead.ceiling:.2f}, {-astern.thrust / astern.ceiling:.2f}",
            f"{full.power * len(screws) / engine.power:.2f}, {engine.astern_power_share:.2f}",
        ]
        if screws[0].pod:
            cells += ["", "", "pods"]
        else:
            cells.append(f"{ahead.rudder_side / (screws[0].rudder_side * screws[0].ahead):.2f}")
            cells.append(f"{ahead.rudder_side / ahead.thrust:.2f}")
            cells.append(one.made.prepared.call.ship.rudders[0].kind)
        found.append(f"| {name_of(one)} | {' | '.join(cells)} |\n")
    return found


def held_by_orders(every: list[Sides]) -> list[str]:
    """The third: those with tugs."""
    found = []
    for one in every:
        if not one.case.tugs:
            continue
        wind = 0.6 * static_limit(one)
        case, orders = by_helpers(one, wind)
        left = left_over(one, around(one, wind, ABEAM), orders)
        whole = case.wind_loads(wind, ABEAM)
        turning = abs(left[2]) / (abs(whole[1]) * case.lever)
        found.append(f"| {name_of(one)} | {wind / KNOT:.0f} kn | {abs(left[1] / whole[1]):.1%} | {turning:.1%} |\n")
    return found


def held_by_conn(every: list[Sides]) -> list[str]:
    """The fourth."""
    found = []
    for one in every:
        limit = static_limit(one)
        off = " | ".join(f"{off_her_place(one, share * limit):.0f} m" for share in SHARES)
        found.append(f"| {name_of(one)} | {limit / KNOT:.1f} kn | {len(one.case.tugs) or 'none'} | {off} |\n")
    return found


def name_of(one: Sides) -> str:
    """As the table calls her."""
    return one.made.prepared.call.ship.name


def main() -> None:
    """Write the page."""
    every = [sides(name) for name in EXAMPLES]
    lines = [HEAD, *loads(every), MEANS, *means(every), HELD, *held_by_orders(every)]
    shares = " | ".join(f"{share:.0%}" for share in SHARES)
    lines += [LIMITS.format(shares=shares, bars="---|" * (len(SHARES) - 1)), *held_by_conn(every)]
    ship = made("2-bar-bulk-carrier")
    lines.append(
        "\n## Steered across a stream\n\nHeading off a northerly track in a steady stream to the east, mean of the last "
        "five of thirty minutes, against the triangle of velocities, -asin(stream / speed through the water).\n\n"
        "| stream | expected | found |\n|---|---|---|\n"
    )
    for stream in STREAMS:
        heading, through = drift(crossing(ship, stream))
        expected = -math.degrees(math.asin(stream / through))
        lines.append(f"| {stream / KNOT:.1f} kn | {expected:.1f}° | {math.degrees(heading):.1f}° |\n")
    lines.append(
        "\n## Wheel over\n\nWhat she runs on before the arc, over her length, against F of 0.5 to 1.5 lengths for "
        "R tan(Δ/2) + F (sheet on water, section 6) [derived].\n\n| call | waypoint | F / L |\n|---|---|---|\n"
    )
    for name in ("1-river-coaster", "2-bar-bulk-carrier", "3-container-basin", "4-ferry-corner-berth"):
        call = read_call(ROOT / "examples" / name)
        for one in rehearse_call(call).planned.wheel_overs:
            lines.append(f"| {name} | {one.waypoint} | {one.reach / call.ship.length_overall:.2f} |\n")
    (ROOT / "docs/validation/rehearsal.md").write_text("".join(lines))
