"""The rehearsal's conn against statics and geometry as `make validate` runs it: writes docs/validation/rehearsal.md."""

import math
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.builders.open_water import crossing, drift, held, made, static_limit  # lies outside the package

from leadsman.assessment.rehearse import rehearse_call
from leadsman.files.call_files import read_call
from leadsman.units import KNOT

HEAD = """# The rehearsal's conn against statics and geometry

Made by `make validate`. Ship and conn as rehearsed, in open, deep, even water where they are to be compared with plain
sums. What this does not show: whether a person would conn her so.

## Held stopped with the wind abeam

The bulk carrier of example 2 with her two tugs is to lie stopped for 40 minutes. By statics both tugs balance the
wind's side force and turning up to {limit:.1f} kn, one of them then at all she is credited with; engine and rudder, which
statics leave out, may add some.

| wind, of that limit | off her place at last |
|---|---|
"""
SHARES = (0.5, 0.7, 0.9, 1.0, 1.1, 1.25)
STREAMS = (-1.5, -1.0, 0.6)


def main() -> None:
    """Write the page."""
    ship = made("2-bar-bulk-carrier")
    limit = static_limit(ship)
    lines = [HEAD.format(limit=limit / KNOT)]
    lines += [f"| {share:.0%} | {held(ship, share * limit):.0f} m |\n" for share in SHARES]
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
