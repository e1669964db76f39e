"""Times, failures, orders, exchange, tests and record on the offline page."""

from collections.abc import Mapping, Sequence
from typing import Any

from leadsman.documents.offline_parts import heading, paragraph, table
from leadsman.manner import clock

Data = Mapping[str, Any]

EARLY_OR_LATE = {
    "start": "Start",
    "off": "",
    "underkeel": "Left under keel",
    "change": "Change",
    "overhead": "Left overhead",
    "binds": "What binds, where, when",
}
LOST = ("name", "soonest", "at", "danger", "answer")


def times_part(data: Data, said: Data) -> str:
    """If she is early or late, where she can wait or turn back, and every window."""
    columns = EARLY_OR_LATE | ({} if any(one["overhead"] is not None for one in said["times"]) else {"overhead": ""})
    shown = {key: head for key, head in columns.items() if head or key == "off"}
    return (
        heading("Early or late", 1)
        + table(
            (*shown.values(), "Limits hold"),
            ((*(one[key] or "" for key in shown), "yes" if one["holds"] else "no") for one in said["times"]),
        )
        + heading("Where she can wait or turn back, and what lies ahead of it")
        + _turn_backs(data["turn_backs"])
        + heading("Windows of start times")
        + table(
            ("Opens", "Closes", "Open for", "Held before by", "Held after by", "Most room"),
            (
                (
                    one["opens"]["text"],
                    one["closes"]["text"],
                    one["length"]["text"],
                    held(one["opens_by"]),
                    held(one["closes_by"]),
                    f"{one['best']['margin']['text']} at {one['best_start']['clock']}",
                )
                for one in data["windows"]
            ),
        )
    )


def held(binding: Data | None) -> str:
    """What shuts a window, and where."""
    return "" if binding is None else f"{binding['limit_text']}, {binding['place']}"


def _turn_backs(places: Sequence[Data]) -> str:
    if len(places) < 2:
        return paragraph(
            "The waterway as handed over names no such place: once begun, the passage is sailed to its end."
        )
    return table(
        ("Place", f"Until, {clock()}", "Least left ahead", "There at", "To spare"),
        (
            (
                one["place"] or "before she starts",
                one["time"]["clock"],
                one["ahead"],
                one["ahead_time"]["clock"],
                one["margin"]["text"],
            )
            for one in places
        ),
    )


def contingency_part(said: Data) -> str:
    """What is done first, and what was tried leg by leg, or that nothing was."""
    found = said["failures"]
    untried = (
        f"NOT TRIED: {said['no_failures']}. How soon danger comes, and from where no answer helps, is not known here."
    )
    return (
        heading("If something fails", 1)
        + (paragraph(untried, "boxed") if found is None else "")
        + table(
            ("What fails", "First minute", "Then"),
            ((one["name"], one["first"], one["then"]) for one in said["done_first"]),
        )
        + paragraph("Common practice in our own words, no source.")
        + ("" if found is None else _tried(found))
    )


def _tried(found: Data) -> str:
    lost = [(leg, one) for leg in found["reaches"] for one in leg["lost"]]
    calm = "".join(
        paragraph(f"Leg {leg['number']}, {leg['reach']}: no danger within 20 minutes: {leg['calm']}.")
        for leg in found["reaches"]
        if leg["calm"]
    )
    return (
        heading("As tried over the whole passage")
        + paragraph(f"Each failure at every {found['every']} s of the rehearsed passage.")
        + paragraph(" ".join(found["estimated"][-2:]))
        + table(
            ("Lost", "Brings danger", "Least time", "No answer helps", "No return from", "Last place to break off"),
            (
                [one[key] for key in ("name", "dangers", "least_time", "lost", "no_return", "abort")]
                for one in found["failures"]
            ),
        )
        + heading("Leg by leg, each at its worst moment")
        + table(
            ("Leg", "Lost", "Danger in", "If lost at", "What comes of it", "Best answer then, its end", "Averted"),
            (
                (
                    f"{leg['number']} {leg['reach']}",
                    *(one[key] for key in ("name", "soonest", "at", "danger")),
                    f"{one['do']}: {one['ends']}",
                    one["averted"],
                )
                for leg, one in lost
            ),
        )
        + calm
    )


def orders_part(said: Data) -> str:
    """How the rehearsals ended and where the wheel was put over; those to the berth stand beside the replay too."""
    found, anchored = said["orders"], said["anchoring"]
    if found is None:
        return heading("Orders, rehearsed", 1) + paragraph(f"None: {said['no_orders']}.", "boxed")
    to_anchor = "" if anchored is None else _orders(f"Orders to {anchored['berth']}, rehearsed", anchored)
    return _orders("Orders, rehearsed", found) + to_anchor


def _orders(title: str, found: Data) -> str:
    tried = found["tried"]
    return (
        heading(title, 1)
        + paragraph(f"{found['ended'].upper()} at {found['at']}, after {found['took']}. {found['why']}")
        + paragraph(f"Nearest: {found['least']}.")
        + (paragraph(f"Engines and thrusters: {found['machinery']}.") if found["machinery"] else "")
        + ("" if tried is None else paragraph(_drawn(tried)))
        + heading("Wheel over")
        + table(
            ("For the bend at", "Before it", "First wheel", "Arc begins before", "She runs on"),
            ([one[key] for key in ("waypoint", "before", "wheel", "tangent", "reach")] for one in found["wheel_overs"]),
        )
        + heading("What this relies on")
        + "".join(paragraph(sentence) for sentence in found["estimated"])
        + "<details><summary>Orders, minute by minute</summary>"
        + paragraph("Before each order its second; along the track at the first order of the minute.")
        + "".join(_order_table(part, found["along_unit"]) for part in found["parts"])
        + "</details>"
    )


def _order_table(part: Data, unit: str) -> str:
    rows = ((leg, row) for leg in part["legs"] for row in leg["rows"])
    return table(
        ("Leg", clock(), f"Along, {unit}", *part["columns"]),
        (
            (f"{leg['number']} {leg['reach']}", row["clock"], row["along"], *(_told(cell) for cell in row["cells"]))
            for leg, row in rows
        ),
        close=True,
    )


def _told(cell: Sequence[Data]) -> str:
    """What is ordered within one minute to the means of one column."""
    return "; ".join(f"{one['second']} {one['words']}" for one in cell)


def _drawn(tried: Data) -> str:
    return (
        f"{tried['rate']} of {tried['runs']} drawn runs succeed ({tried['low']} to {tried['high']} with "
        f"95 % confidence, seed {tried['seed']}): {tried['reasons']}. "
        f"In one run of twenty less than: {tried['tight']}. What matters most: {tried['matters']}."
    )


def exchange_part(said: Data) -> str:
    """Exchange and tests with what was said of each item, and the record of all that was said."""
    lists = "".join(heading(part["title"]) + _items(part) for part in said["parts"])
    written = "" if not said["entries"] else heading("Record of what was said") + _entries(said)
    return heading("Exchange and tests", 1) + lists + written


def _items(part: Data) -> str:
    return table(
        ("Item", "Said", "By", clock(), "In what words"),
        ((item["text"], *_said(item)) for item in part["items"]),
    )


def _said(item: Data) -> tuple[str, str, str, str]:
    said = item["said"]
    if said is None:
        return ("", "", "", "")
    older = " (of an earlier plan)" if item["earlier_plan"] else ""
    return (f"{said['state']}{older}", f"{said['by']}, {said['role']}", said["clock"], said["words"])


def _entries(said: Data) -> str:
    return paragraph(f"{said['number']} entries; the last carries the mark {said['mark']}.") + table(
        ("No.", clock(), "By", "Said", "Of what", "In what words", "Plan", "Mark"),
        (
            (
                str(entry["number"]),
                entry["time"],
                f"{entry['by']}, {entry['role']}",
                *(entry[key] for key in ("state", "text", "words", "plan", "mark")),
            )
            for entry in said["entries"]
        ),
    )
