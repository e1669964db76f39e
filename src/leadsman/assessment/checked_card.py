"""A ship card with all that is said of it: findings, every figure computation needs, and what each figure means."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from leadsman.assessment.card import check_card, heaviest_first
from leadsman.assessment.estimates import Change, changes, meaning, particulars
from leadsman.assessment.own_figures import own_figure_questions
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
    changed: Mapping[str, Change]
    """What the own figures change, as (without them, with them), by name."""

    @property
    def stops(self) -> bool:
        """Whether the card cannot be true as it stands."""
        return any(finding.grade is Grade.STOP for finding in self.findings)


def checked_card(ship: Ship, loading: Loading) -> CheckedCard:
    """The card checked and completed, the loading's own figures first; `CannotCompute` for one that cannot be."""
    figures = particulars(ship, loading)
    own = loading.own_figures
    return CheckedCard(
        ship=ship,
        loading=loading,
        findings=heaviest_first((*check_card(ship, loading), *(own_figure_questions(ship, loading) if own else ()))),
        figures=figures,
        meanings={name: meaning(name, figures) for name in figures},
        changed=changes(particulars(ship, replace(loading, own_figures={})), figures) if own else {},
    )
