"""The ship card checked: against itself, against published limits, and against what ships of her kind usually are.

A `stop` is a contradiction: the card cannot be true as it stands. A `caution` is a figure that is probably wrong, or a
published limit not met. A `note` is a question, or something the handler should know. Nothing is ever corrected.
"""

from collections.abc import Iterable, Iterator

from leadsman.assessment import (
    card_equipment,
    card_identities,
    card_limits,
    card_machinery,
    card_orders,
    card_plausibility,
)
from leadsman.assessment.card_reading import Check, Reading
from leadsman.figure import Finding, Grade
from leadsman.ship import Loading, Ship

CHECKS: tuple[Check, ...] = (
    *card_identities.CHECKS,
    *card_orders.CHECKS,
    *card_limits.CHECKS,
    *card_plausibility.CHECKS,
    *card_machinery.CHECKS,
    *card_equipment.CHECKS,
)
"""Every check, in the order findings of one grade are given."""

_HEAVIEST_FIRST = {Grade.STOP: 0, Grade.CAUTION: 1, Grade.NOTE: 2}


def check_card(ship: Ship, loading: Loading) -> tuple[Finding, ...]:
    """All findings about a card, the heaviest first.

    `subject` of a finding is the name of the check, `place` the fields of the card it speaks of.
    """
    return heaviest_first(_findings(Reading(ship=ship, loading=loading)))


def heaviest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Stops, then cautions, then notes, each in the order given."""
    return tuple(sorted(findings, key=lambda finding: _HEAVIEST_FIRST[finding.grade]))


def _findings(reading: Reading) -> Iterator[Finding]:
    for check in CHECKS:
        for remark in check.function(reading):
            yield Finding(
                grade=remark.grade,
                subject=check.name,
                sentence=remark.sentence,
                value=remark.value,
                limit=remark.limit,
                unit=remark.unit,
                place=", ".join(remark.fields),
                source=check.source,
            )
