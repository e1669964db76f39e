"""In which manner the figures of an answer are written, as plain data: the templates and the page read it."""

from typing import Any

from leadsman import format as text
from leadsman.manner import USUAL, in_force


def manner_data() -> dict[str, Any]:
    """Units and clock in force, their signs, and the sentence for the foot of a sheet."""
    manner = in_force() or USUAL
    return {
        "lengths": manner.lengths,
        "length": text.length_unit()[1],
        "forces": manner.forces,
        "force": text.force_unit()[1],
        "zone": round(manner.zone.total_seconds() / 60.0),
        "clock": manner.clock,
        "words": manner.words,
    }
