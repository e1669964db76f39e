"""What a pack carries beside the assessment: what was said, what was rehearsed of this plan, what is missing."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from leadsman.documents.contingency_data import contingency_sheet, done_first
from leadsman.documents.late_early import last_turn, late_or_early, least_wind
from leadsman.documents.orders_data import order_sheet
from leadsman.documents.record_data import record_data
from leadsman.record import Record

NOTHING_SAID = Record()
NOT_REHEARSED = "this plan was not rehearsed"
OTHER_PLAN = "what was rehearsed is of another plan than this one"
NOT_TRIED = "no failure of this plan was sailed"
NOT_TO_ANCHOR = "the way to where she anchors was not rehearsed"


@dataclass(frozen=True)
class Rehearsed:
    """What was rehearsed of the call: data as `rehearsal_data` and `failures_data` give them, each of one plan."""

    orders: Mapping[str, Any] | None = None
    failures: Mapping[str, Any] | None = None
    anchoring: Mapping[str, Any] | None = None
    """The rehearsal to where she anchors on her way."""

    def sheets(self, data: Mapping[str, Any]) -> dict[str, Any]:
        """Order and contingency sheets as the templates take them; what is of another plan is left out, and why."""
        orders, no_orders = _of_this_plan(self.orders, data)
        failures, no_failures = _of_this_plan(self.failures, data, NOT_TRIED if orders else NOT_REHEARSED)
        anchors = any(one["subject"] == "anchoring" for one in data["findings"])
        anchoring, no_anchoring = _of_this_plan(self.anchoring, data, NOT_TO_ANCHOR if anchors else "")
        return {
            "orders": None if orders is None else order_sheet(orders, data),
            "no_orders": no_orders,
            "anchoring": None if anchoring is None else order_sheet(anchoring, data),
            "no_anchoring": no_anchoring,
            "failures": None if failures is None else contingency_sheet(failures, data),
            "no_failures": no_failures,
            "done_first": done_first(),
        }


NOTHING_REHEARSED = Rehearsed()


def _of_this_plan(
    kept: Mapping[str, Any] | None, data: Mapping[str, Any], without: str = NOT_REHEARSED
) -> tuple[dict[str, Any] | None, str]:
    """What was rehearsed of the plan laid out; or nothing, and why."""
    if kept is None:
        return None, without
    if kept.get("fingerprint") != data["fingerprint"]:
        return None, OTHER_PLAN
    return dict(kept), ""


Data = dict[str, Any]


def said_of(data: Data, record: Record = NOTHING_SAID, rehearsed: Rehearsed = NOTHING_REHEARSED) -> Data:
    """What the sheets say beside the assessment itself."""
    said = record_data(record, data["call"]["direction"], data["fingerprint"]) | rehearsed.sheets(data)
    return said | {"times": late_or_early(data), "wind": least_wind(data), "turn": last_turn(data)}
