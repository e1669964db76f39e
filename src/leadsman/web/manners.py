"""In which manner an answer is written: what the page asks for with every question."""

from typing import Annotated, Literal

from fastapi import Query

from leadsman.manner import Manner, adopt, zone_of

Lengths = Annotated[Literal["metres", "feet"], Query(description="in which lengths, depths and heights are written")]
Forces = Annotated[Literal["tonnes", "kilonewtons"], Query(description="in which pulls are written")]
Zone = Annotated[
    str, Query(description="by which clock times are written: UTC, or its difference such as +01:00", max_length=9)
]


async def manner(lengths: Lengths = "metres", forces: Forces = "tonnes", zone: Zone = "UTC") -> None:
    """Adopts the manner asked for. Not in a thread of its own: what is adopted there the answer would not see."""
    adopt(Manner(lengths=lengths, forces=forces, zone=zone_of(zone)))
