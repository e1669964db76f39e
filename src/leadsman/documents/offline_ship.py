"""Her own papers on the offline page: the ship card, what was found about it, and her manoeuvres in this loading."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.drawings.manoeuvres import stopping, turning_circles
from leadsman.documents.drawings.profile import profile
from leadsman.documents.offline_parts import FAMILIES, WIDTH, drawing, heading, paragraph, table

Data = Mapping[str, Any]

PROFILE_HEIGHT, CIRCLES_HEIGHT = 46.0, 88.0  # mm
CARD = (
    ("Ship and today's condition", "head"),
    ("Ship's particulars", "particulars"),
    ("Engine", "engine"),
    ("Steering particulars", "steering"),
)
POSTER = (
    ("Propulsion particulars, poster", "propulsion"),
    ("Thruster effect at trial conditions", "thrusters"),
    ("Anchor chain", "anchors"),
    ("Visibility", "visibility"),
)


def ship_part(ship: Data) -> str:
    """The whole part; one sentence where her papers were not handed over."""
    if "profile" not in ship:
        return heading("Ship card and poster", 1) + paragraph("Not handed over with this pack.", "boxed")
    return (
        heading("Ship card and poster", 1)
        + drawing(profile(ship["profile"], FAMILIES, WIDTH, PROFILE_HEIGHT), "The ship from the side, as listed below.")
        + "".join(heading(title) + _rows(ship[key]) for title, key in CARD)
        + heading("Engine orders")
        + table(
            ("Order", "Pitch, rpm" if ship["by_pitch"] else "Rpm", "kn loaded", "kn ballast"),
            ([one[key] for key in ("order", "setting", "loaded", "ballast")] for one in ship["orders"]),
        )
        + heading("Checked aboard")
        + _rows(ship["aboard"])
        + "".join(paragraph(f"Defect: {defect}") for defect in ship["defects"])
        + paragraph(ship["remarks"])
        + heading("What was found about this card")
        + table(
            ("No.", "Grade", "What was found", "Source"),
            ((str(one["number"]), one["grade"].upper(), one["sentence"], one["source"]) for one in ship["findings"]),
        )
        + "".join(heading(title) + _rows(ship["poster"][key]) for title, key in POSTER if ship["poster"][key])
        + (
            _manoeuvres(ship)
            if ship["posted"]
            else paragraph(f"Her manoeuvres could not be estimated: {ship['untried']}")
        )
    )


def _rows(rows: Sequence[Data]) -> str:
    return table(("", ""), ((row["label"], row["text"]) for row in rows))


def _manoeuvres(ship: Data) -> str:
    posted = ship["posted"]
    shown = [each for each in enumerate(posted["waters"]) if each[1]["condition"] == ship["condition"]]
    return (
        paragraph(posted["estimated"], "boxed")
        + "".join(_water(number, water, posted["length"]) for number, water in shown)
        + heading("Draught increase, ESTIMATED")
        + table(
            ("Squat, speed", *(f"{words} under keel" for words in posted["clearances"])),
            ((f"{row['order']}, {row['speed']}", *row["squats"]) for row in posted["squats"]),
        )
        + paragraph("* outside the formula's limits: indicative. Laden, open water; in channels it is more.")
        + table(("Heel", "Deeper by"), posted["heels"])
    )


def _water(number: int, water: Data, length: float) -> str:
    aground = f"Touches the bottom by squat at: {', '.join(water['aground'])}." if water["aground"] else ""
    return (
        heading(f"{water['title']}, ESTIMATED")
        + paragraph(f"Draughts {water['draughts']}. {aground}")
        + drawing(
            turning_circles(water, length, FAMILIES, f"circles{number}", WIDTH, CIRCLES_HEIGHT),
            "Turning circles; figures in the table below.",
        )
        + table(
            ("Circle", "", ""),
            ((f"to {circle['name']}", name, figure) for circle in water["circles"] for name, figure in circle["rows"]),
        )
        + table(
            ("Circle", "Turned", "Time, min:s", "Speed"),
            (
                (f"to {circle['name']}", moment["label"], moment["time"], moment["speed"])
                for circle in water["circles"]
                for moment in circle["moments"]
            ),
        )
        + drawing(stopping(water, FAMILIES, f"stops{number}", WIDTH), "Stops; figures in the table below.")
        + table(
            ("From", "By", "Track reach", "Time, min:s", "Head reach", "Aside", "Turned"),
            (
                (
                    f"{stop['order']}, {stop['speed']}",
                    *(stop[key] for key in ("by", "track_reach", "time", "head_reach", "side_reach", "turned")),
                )
                for stop in water["stops"]
            ),
        )
    )
