"""The shapes of the replies as the API describes them; `page/src/contract.ts` is written from here.

Replies are not passed through these models (that would cost more than the assessment); the tests hold the two together.
"""

from leadsman.web.schema.assessment import Assessment, CallList, SourceList
from leadsman.web.schema.cards import CardForm, CardsBeside, CheckedCard, ShipCard, TwoCards
from leadsman.web.schema.drawing import (
    CallFields,
    CallFiles,
    CallParts,
    CallRevision,
    CallTexts,
    GivenTexts,
    SaidOfParts,
    WantedVersion,
)
from leadsman.web.schema.gathering import CallMade, CallToMake, Gathering, GivenAnswers
from leadsman.web.schema.holding import WhatIf
from leadsman.web.schema.record import CallRecord, NewEntry
from leadsman.web.schema.sailed import SailedPassage
from leadsman.web.schema.work import WorkStanding

__all__ = [
    "Assessment",
    "CallFields",
    "CallFiles",
    "CallList",
    "CallMade",
    "CallParts",
    "CallRecord",
    "CallRevision",
    "CallTexts",
    "CallToMake",
    "CardForm",
    "CardsBeside",
    "CheckedCard",
    "Gathering",
    "GivenAnswers",
    "GivenTexts",
    "NewEntry",
    "SaidOfParts",
    "SailedPassage",
    "ShipCard",
    "SourceList",
    "TwoCards",
    "WantedVersion",
    "WhatIf",
    "WorkStanding",
]
