"""Can she be held, in a few lines of the terminal."""

from rich.text import Text

from leadsman.assessment.holding.result import HoldingAnswer
from leadsman.documents.holding_data import place_data
from leadsman.documents.terminal_table import table as headed


def holding_lines(answer: HoldingAnswer | None) -> list[object]:
    """A row for each place: held or not, what is left, the wind from there that would be the most, and the tugs."""
    if answer is None:
        return []
    heads = ("place", "time", "heading", "held", "reserve", "wind, at most", "tugs")
    table = headed("Can she be held", *heads, right=("reserve", "wind, at most"))
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
