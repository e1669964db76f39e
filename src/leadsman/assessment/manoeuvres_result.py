"""What the model says a ship does in the standard trials."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Manoeuvre:
    """One figure of one trial; None where she did not get so far. SI, or the unit a criterion is published in."""

    trial: str
    quantity: str
    value: float | None
    unit: str
    lengths: float | None
    """The same in ship's lengths between perpendiculars, for distances."""
    limit: float | None
    kept: bool | None
    low: float | None = None
    """Ends between which nine draws of the uncertain ship in ten lie; in shallow water drawn out to what another
    published set of factors gives. None: no band."""
    high: float | None = None


@dataclass(frozen=True, kw_only=True)
class Stated:
    """A manoeuvre as card or poster state it, as the card alone gave it, and as the calibrated ship does it."""

    quantity: str
    order: str
    value: float
    """SI."""
    estimated: float | None
    calibrated: float | None
    missed_by: float | None
    """What is left, in deviations of the figure."""


@dataclass(frozen=True, kw_only=True)
class Manoeuvres:
    """What the model says a ship does in the standard trials, all of it estimated."""

    ship: str
    condition: str
    condition_estimated: bool
    """The card speaks of the other condition."""
    draught: float
    """Mean. [m]"""
    depth_to_draught: float | None
    """None: deep water."""
    rows: tuple[Manoeuvre, ...]
    stated: tuple[Stated, ...]
    """What the model was calibrated to."""
    draws: int
    """Of the uncertain ship, behind the bands; nil: no bands."""
    assumed: tuple[str, ...]
    """What had to be taken for granted, one sentence each."""
