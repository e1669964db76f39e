"""A port call rehearsed: one undisturbed run, and as many drawn ones as are asked for.

the call is made ready                     rehearse_prepare.py, rehearse_waters.py
what is uncertain is drawn                 rehearse_draws.py
every run is sailed                        conning/
one run is told                            rehearse_run.py
all runs are summed up                     rehearse_many.py
"""

from collections.abc import Callable, Mapping
from hashlib import sha256
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from leadsman import format as text
from leadsman.assessment.assess import fingerprint
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse_draws import Drawn, Spread, draw
from leadsman.assessment.rehearse_machinery import drawn_findings
from leadsman.assessment.rehearse_machinery import relied_on as air_relied_on
from leadsman.assessment.rehearse_many import ensemble
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_result import Ensemble, Rehearsal
from leadsman.assessment.rehearse_run import findings, told
from leadsman.assessment.rehearse_ship import rests_on
from leadsman.assessment.rehearse_stage import packed, stage_of, unpacked
from leadsman.conning.outline import Stage
from leadsman.conning.run import Runs, rehearse, undisturbed
from leadsman.portcall import PortCall

SLOWLY = "Where slow work begins the fairway's edges no longer end a run; depths do"
TO_BERTH = (
    f"{SLOWLY}, and the quay. Lines, fenders and moored ships are not in it: a run ends when she touches the quay."
)
TO_ANCHOR = (
    f"{SLOWLY}. The anchor is taken to hold in full as soon as cable enough lies on the bed; other ships in the roads "
    "are not in it."
)
BATCH = 64  # runs sailed between two looks at whether to stop


class Store(Protocol):
    """Where runs are kept between two calls."""

    def load(self, key: str) -> Mapping[str, NDArray[Any]]:
        """The arrays kept under a key; empty where there are none."""

    def save(self, key: str, arrays: Mapping[str, NDArray[Any]]) -> None:
        """Keep arrays under a key."""


def rehearse_call(
    call: PortCall,
    runs: int = 0,
    seed: int = 1,
    spread: Spread | None = None,
    progress: Callable[[int, int], None] | None = None,
    store: Store | None = None,
    *,
    anchoring: bool = False,
) -> Rehearsal:
    """Rehearse a call from its start: undisturbed, and `runs` times with everything uncertain drawn by `seed`.

    To the end of the call, or, `anchoring`, to where she anchors on her way.

    `progress` is told how many of how many runs are sailed; with a `store` runs already sailed are taken from it, and
    every batch is kept as soon as it is sailed. `CannotCompute` where the call cannot be sailed at all.
    """
    prepared = prepare(call)
    made = ready(prepared, call.start, anchoring=anchoring)
    single = rehearse(made.case, made.case.mind, undisturbed(), kept=True)
    planned = told(made, single, 0)
    many = None
    if runs > 0:
        spreads = spread or Spread()
        drawn = draw(made, runs + 1, seed, spreads)
        key = sha256(f"{fingerprint(call)} {seed} {spreads!r} {anchoring}".encode()).hexdigest()[:16]
        stage = stage_of(made)
        many = ensemble(made, drawn, sailed(made, drawn, progress, store, key, stage), seed, spreads, stage[0])
    return Rehearsal(
        call=call.name,
        ship=call.ship.name,
        berth=call.berth if made.anchorage is None else made.anchorage.name,
        start=call.start,
        planned=planned,
        ensemble=many,
        estimated=relied_on(made, many),
        fingerprint=fingerprint(call),
        findings=(*findings(made, planned), *drawn_findings(many)),
    )


def sailed(
    made: Ready,
    drawn: Drawn,
    progress: Callable[[int, int], None] | None = None,
    store: Store | None = None,
    key: str = "",
    stage: tuple[Stage, tuple[int, int]] | None = None,
) -> Runs:
    """Sail all draws, batch by batch; the outcome of a run does not depend on its batch, nor on what was kept.

    What is covered on the `stage` is kept packed.
    """
    count = drawn.draws.shape[0]
    kept = store.load(key) if store else {}
    outcomes = [kept["outcomes"][:count]] if kept else []
    swept = [kept["swept"][:count]] if kept else []
    covered = [kept["covered"][:count]] if kept else []
    begin = len(outcomes[0]) if kept else 0
    while begin < count:
        batch = slice(begin, min(begin + BATCH, count))
        fleet = drawn.fleet._replace(ships=drawn.fleet.ships[batch])
        part = rehearse(made.case, fleet, drawn.draws[batch], kept=False, stage=stage)
        outcomes.append(part.outcomes)
        swept.append(part.swept)
        covered.append(packed(part.covered))
        begin = batch.stop
        if store:
            arrays = {"outcomes": outcomes, "swept": swept, "covered": covered}
            store.save(key, {name: np.concatenate(parts) for name, parts in arrays.items()})
        if progress:
            progress(begin, count)
    nothing = np.zeros((0, 0, 0))
    return Runs(
        outcomes=np.concatenate(outcomes),
        tracks=nothing,
        logs=nothing,
        swept=np.concatenate(swept),
        covered=unpacked(np.concatenate(covered), stage[1] if stage else (0, 0)),
    )


def relied_on(made: Ready, many: Ensemble | None = None) -> tuple[str, ...]:
    """What in a rehearsal is not known but estimated or assumed."""
    matters, runs = ((), 0) if many is None else (many.matters, many.runs)
    found = [
        *rests_on(made.fit, made.covariance, matters, runs),
        "Her outline is a usual deck line of her length and beam; depths are taken on cells of "
        f"{text.metres(made.case.waters.cell, 0)}, less survey uncertainty and siltation.",
        TO_ANCHOR if made.anchorage else TO_BERTH,
        *air_relied_on(made),
    ]
    if made.prepared.call.moored:
        named = ", ".join(ship.name for ship in made.prepared.call.moored)
        found.append(
            f"Moored on her way: {named}, each a box of length and beam along her quay, kept clear of like a shoal; a "
            "drawn run that touches one counts as aground."
        )
    if made.prepared.call.forecast.wind_speed is None:
        found.append("No wind is forecast: the runs are sailed in calm air.")
    return (*found, *(f"{one[0].upper()}{one[1:]}." for one in made.assumed))
