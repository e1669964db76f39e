"""A ship card with all that is said of it: findings, every figure computation needs, and what each figure means."""

from collections.abc import Mapping
from dataclasses import dataclass

from leadsman.assessment.card import check_card
from leadsman.assessment.estimates import meaning, particulars
from leadsman.figure import Figure, Finding, Grade
from leadsman.ship import Loading, Ship


@dataclass(frozen=True, kw_only=True)
class CheckedCard:
    """Ship and loading as on the card; nothing of it is corrected."""

    ship: Ship
    loading: Loading
    findings: tuple[Finding, ...]
    """The heaviest first."""
    figures: Mapping[str, Figure]
    """Every particular by name, given, computed or estimated."""
    meanings: Mapping[str, str]
    """What each figure means for handling, by its name."""

    @property
    def stops(self) -> bool:
        """Whether the card cannot be true as it stands."""
        return any(finding.grade is Grade.STOP for finding in self.findings)


def checked_card(ship: Ship, loading: Loading, overrides: Mapping[str, float] | None = None) -> CheckedCard:
    """The card checked and completed; `overrides` as for `estimates.particulars`."""
    figures = particulars(ship, loading, overrides)
    return CheckedCard(
        ship=ship,
        loading=loading,
        findings=check_card(ship, loading),
        figures=figures,
        meanings={name: meaning(name, figures) for name in figures},
    )
