"""What the plan rests on, on the offline page: rules, side tables, the account line by line, figures, cautions."""

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Any

from leadsman.documents.bibliography import cited
from leadsman.documents.caution import CAUTIONS
from leadsman.documents.offline_parts import Cells, heading, source_words, table

Data = Mapping[str, Any]


def grounds_part(data: Data, ship: Data) -> str:
    """Rules, sides, account and figures with their sources; `ship` are her own papers."""
    return (
        heading("What the plan rests on", 1)
        + _rules(data["rules"])
        + _sides(data)
        + heading("The account under her keel, line by line, at the tightest place of each leg")
        + table(
            (
                "Line",
                *(f"Leg {leg['number']}, {leg['tightest']['time']['clock']}" for leg in data["legs"]),
                "How it was got",
            ),
            (_line(data, index, line) for index, line in enumerate(data["account"]["lines"])),
        )
        + heading("Ship, water and margins as handed over")
        + table(("", ""), _handed_over(data))
        + heading("Figures the answer was made from")
        + table(
            ("Figure", "Value", "Band", "How it was got"),
            (
                (
                    figure["name"].replace("_", " "),
                    figure["text"],
                    "" if figure["band"] is None else figure["band"]["text"],
                    _origin(figure),
                )
                for figure in [*data["figures"].values(), *_gate_figures(data)]
            ),
        )
        + heading("Sources named on this page")
        + table(("Name", "What it is", "Mark"), ((one["key"], one["words"], one["mark"]) for one in cited(data, ship)))
        + heading("Cautions")
        + "<ul>"
        + "".join(f"<li>{escape(sentence)}</li>" for sentence in CAUTIONS)
        + "</ul>"
    )


def _rules(rules: Sequence[Data]) -> str:
    if not rules:
        return ""
    return heading("Rules of the port at this start") + table(
        ("Rule", "Where", "Kept", "She and the rule", "To spare", "Whose rule"),
        (
            (
                one["name"],
                one["place"],
                one["kept_text"],
                one["words"],
                "" if one["margin"] is None else one["margin"]["text"],
                one["source"],
            )
            for one in rules
        ),
    )


def _sides(data: Data) -> str:
    return "".join(heading(one["title"]) + table(one["heads"], one["rows"]) for one in data["side_tables"])


def _held(binding: Data | None) -> str:
    return "" if binding is None else f"{binding['limit_text']}, {binding['place']}"


def _line(data: Data, index: int, line: Data) -> Cells:
    sign = {-1: "less ", 0: "", 1: "add "}[line["effect"]]
    values = (leg["tightest"]["lines"][index]["text"] for leg in data["legs"])
    return (sign + line["label"], *values, _origin(line))


def _origin(entry: Data) -> str:
    method = entry["method"].replace("_", " ") if entry["origin"] == "given" else entry["method"]
    return ", ".join(words for words in (entry["origin"], method, source_words(entry["source"])) if words)


def _gate_figures(data: Data) -> Iterable[Data]:
    for gate in data["gates"]:
        for figure in gate["figures"].values():
            yield {**figure, "name": f"{gate['name']}: {figure['name']}"}


def _handed_over(data: Data) -> Iterable[Cells]:
    ship, loading, forecast, margins = (data[key] for key in ("ship", "loading", "forecast", "margins"))
    yield "Length, beam", f"{ship['length_overall']['text']}, {ship['beam']['text']}"
    yield "Draught forward, aft", f"{loading['draught_forward']['text']}, {loading['draught_aft']['text']}"
    yield "Trim", loading["trim"]["text"]
    yield "Displacement", f"{loading['displacement']['text']}, {loading['condition']}"
    yield "Engine", ship["engine"]
    yield "Thrusters", ship["thrusters"]
    low, high = forecast["residual_low"]["text"], forecast["residual_high"]["text"]
    yield "Residual", f"{forecast['residual']['text']} ({low} to {high})"
    yield "Wind", forecast["wind"]
    yield "Waves", forecast["waves"]
    yield "Margin under keel", margins["underkeel"]["text"]
    yield "Margin overhead", margins["overhead"]["text"]
    yield "Tugs", ", ".join(f"{tug['name']} {tug['bollard_pull']['text']}" for tug in data["tugs"]) or "none ordered"
