"""Can she be held, in a few lines of the terminal."""

from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text

from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.documents.holding_data import place_data


def holding_lines(answer: HoldingAnswer | None) -> list[object]:
    """A row for each place: held or not, what is left, the wind from there that would be the most, and the tugs."""
    if answer is None:
        return []
    table = Table(box=SIMPLE_HEAD, padding=(0, 1), show_edge=False)
    for head in ("Can she be held", "Time", "Heading", "Held", "Reserve", "Wind, at most", "Tugs"):
        table.add_column(head, justify="right" if head in ("Reserve", "Wind, at most") else "left")
    for place in answer.places:
        data = place_data(place, answer.length_overall, answer.beam)
        table.add_row(
            f"{place.place}, {'swinging' if place.situation == 'swinging' else data['situation_text']}",
            data["time"]["clock"],
            data["heading"]["text"],
            Text(data["word"], style="" if place.balance.held else "bold"),
            data["reserve"]["text"],
            data["wind_limit"]["text"],
            ", ".join(tug.name for tug in place.tugs) or "none",
        )
    return [table]
