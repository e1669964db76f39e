"""Greatest streams by rehearsal: plain data, and a page in a terminal."""

from typing import Any

from rich.console import Console
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.failures_result import StreamLimit, StreamLimits
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.rehearsal_limits import relied_on
from leadsman.documents.terminal import WIDTH
from leadsman.documents.terminal_table import table as headed

SCHEMA = "leadsman.stream-limits/1"


def stream_limits_data(found: StreamLimits) -> dict[str, Any]:
    """Everything, ready for JSON: SI."""
    return {
        "schema": SCHEMA,
        "caution": SHORT_CAUTION,
        "call": found.call,
        "ship": found.ship,
        "level": found.level,
        "runs": found.runs,
        "seed": found.seed,
        "greatest_tried": found.most,
        "place": found.place,
        "estimated": list(found.estimated),
        "states": [
            {
                "state": one.state,
                "start": text.iso(one.start),
                "rate": one.rate,
                "factor": one.factor,
                "beyond": one.beyond,
                "reasons": dict(one.reasons),
                "broken": one.broken,
                "place": one.place,
            }
            for one in found.states
        ],
    }


def print_stream_limits(found: StreamLimits) -> None:
    """A table: a line for each state of the stream."""
    console = Console(width=WIDTH, highlight=False)
    console.print(Text(found.ship, style="bold"))
    console.print(
        Text(
            f"Greatest stream for which {text.percent(found.level)} of {found.runs} runs succeed in the forecast wind; "
            f"it runs strongest at {found.place}; seed {found.seed}"
        )
    )
    heads = ("stream", "start", "predicted", "greatest", "more breaks", "where")
    table = headed("Streams", *heads, right=("predicted", "greatest"))
    for one in found.states:
        predicted = text.knots(abs(one.rate))
        table.add_row(one.state, text.day_clock(one.start), predicted, stream_words(one), one.broken, one.place)
    console.print(table)
    relied_on(console, found.estimated)


def stream_words(limit: StreamLimit) -> str:
    """A greatest stream as it is read."""
    if limit.factor is None:
        return "not even without"
    share = f"{limit.factor:.2f} times" if limit.factor else "none"
    return f"{share}{' and more' if limit.beyond else ''}"
