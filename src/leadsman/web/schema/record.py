"""The replies about the record of what was told, agreed and done: `leadsman.record/1`."""

from typing import Literal

from pydantic import Field

from leadsman.web.schema.basics import Shape

StateName = Literal["told", "agreed", "changed", "refused", "done", "defect", "noted", "withdrawn"]
RoleName = Literal["master", "pilot", "officer", "other"]


class EntryShape(Shape):
    """One line of the record."""

    number: int
    time: str = Field(json_schema_extra={"format": "date-time"})
    clock: str
    by: str
    role: RoleName
    item: str = Field(description="key of the item it concerns; empty: of none")
    text: str = Field(description="the item in words; empty: of none")
    state: StateName
    words: str
    plan: str = Field(description="fingerprint of the assessment in sight when it was said")
    mark: str


class ItemShape(Shape):
    """One item of exchange or tests, with what was last said of it."""

    key: str
    text: str
    said: EntryShape | None
    earlier_plan: bool = Field(description="whether that was said of a plan that has changed since")


class PartShape(Shape):
    """One list of items."""

    key: str
    title: str
    source: str
    states: list[StateName] = Field(description="what can be said of its items")
    items: list[ItemShape]


class CallRecord(Shape):
    """The record of one port call."""

    schema_: Literal["leadsman.record/1"] = Field(alias="schema")
    caution: str
    number: int = Field(description="of the last entry; 0: none yet")
    mark: str = Field(description="of the last entry: it stands for all of them")
    plan: str = Field(description="fingerprint of the assessment as it stands now")
    parts: list[PartShape]
    entries: list[EntryShape]
    open: int = Field(description="items of which nothing was said yet")


class NewEntry(Shape):
    """What somebody says of an item."""

    by: str = Field(max_length=1_000)
    role: RoleName
    item: str = Field(max_length=200, description="key of the item, or empty for a note of its own")
    state: StateName
    words: str = Field("", max_length=10_000)
    plan: str = Field(max_length=64, description="fingerprint of the assessment in sight")
    seen: int = Field(ge=0, le=1_000_000, description="number of the last entry in sight")
