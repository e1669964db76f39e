"""The shapes of the replies as the API describes them; `page/src/contract.ts` is written from here.

Replies are not passed through these models (that would cost more than the assessment); the tests hold the two together.
"""

from leadsman.web.schema.assessment import Assessment, CallList, SourceList
from leadsman.web.schema.cards import CardForm, CheckedCard, ShipCard
from leadsman.web.schema.holding import WhatIf
from leadsman.web.schema.record import CallRecord, NewEntry

__all__ = [
    "Assessment",
    "CallList",
    "CallRecord",
    "CardForm",
    "CheckedCard",
    "NewEntry",
    "ShipCard",
    "SourceList",
    "WhatIf",
]
