"""A ship card with all that is said of it: findings, every figure computation needs, and what each figure means."""

from dataclasses import replace

from leadsman.assessment.card import check_card, heaviest_first
from leadsman.assessment.card_result import CheckedCard
from leadsman.assessment.estimates import changes, meaning, particulars
from leadsman.assessment.own_figures import own_figure_questions
from leadsman.ship import Loading, Ship


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
