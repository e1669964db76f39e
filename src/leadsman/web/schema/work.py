"""The replies about long work."""

from typing import Any, Literal

from pydantic import Field

from leadsman.web.schema.basics import Shape


class WorkStanding(Shape):
    """How a piece of long work stands."""

    kind: str
    state: Literal["none", "running", "done", "failed", "stopped"]
    share: float = Field(description="how much of it is done, 0 to 1")
    words: str = Field(description="what it is at, or why nothing came of it")
    options: dict[str, Any] | None
    begun: str = Field(description="when; empty: never")
    earlier_plan: bool = Field(description="whether the call has changed since it was asked")
