"""A port call rehearsed: one undisturbed run, and as many drawn ones as are asked for.

the call is made ready                     rehearse_prepare.py, rehearse_waters.py
what is uncertain is drawn                 rehearse_draws.py
every run is sailed                        conning/
one run is told                            rehearse_run.py
all runs are summed up                     rehearse_many.py
"""

from collections.abc import Callable

import numpy as np

from leadsman.assessment.assess import fingerprint
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse_draws import Drawn, Spread, draw
from leadsman.assessment.rehearse_many import ensemble
from leadsman.assessment.rehearse_prepare import Ready, ready
from leadsman.assessment.rehearse_result import Rehearsal
from leadsman.assessment.rehearse_run import told
from leadsman.conning.run import Runs, rehearse, undisturbed
from leadsman.portcall import PortCall

BATCH = 64  # runs sailed between two looks at whether to stop


def rehearse_call(
    call: PortCall,
    runs: int = 0,
    seed: int = 1,
    spread: Spread | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Rehearsal:
    """Rehearse a call from its start: undisturbed, and `runs` times with everything uncertain drawn by `seed`.

    `progress` is told how many of how many runs are sailed. `CannotCompute` where the call cannot be sailed at all.
    """
    prepared = prepare(call)
    made = ready(prepared, call.start)
    single = rehearse(made.case, made.case.mind, undisturbed(), kept=True)
    planned = told(made, single, 0)
    many = None
    if runs > 0:
        drawn = draw(made, runs + 1, seed, spread or Spread())
        many = ensemble(made, drawn, sailed(made, drawn, progress), seed, spread or Spread())
    return Rehearsal(
        call=call.name,
        ship=call.ship.name,
        berth=call.berth,
        start=call.start,
        planned=planned,
        ensemble=many,
        estimated=relied_on(made),
        fingerprint=fingerprint(call),
    )


def sailed(made: Ready, drawn: Drawn, progress: Callable[[int, int], None] | None = None) -> Runs:
    """Sail all draws, batch by batch; the outcome of a run does not depend on its batch."""
    count = drawn.draws.shape[0]
    parts = []
    for begin in range(0, count, BATCH):
        batch = slice(begin, min(begin + BATCH, count))
        fleet = drawn.fleet._replace(ships=drawn.fleet.ships[batch])
        parts.append(rehearse(made.case, fleet, drawn.draws[batch], kept=False))
        if progress:
            progress(batch.stop, count)
    return Runs(
        outcomes=np.concatenate([part.outcomes for part in parts]),
        tracks=parts[0].tracks[:0],
        logs=parts[0].logs[:0],
        swept=np.concatenate([part.swept for part in parts]),
    )


def relied_on(made: Ready) -> tuple[str, ...]:
    """What in a rehearsal is not known but estimated or assumed."""
    found = [
        "The ship moves by a model estimated from her card: no trial of hers has been compared with it.",
        "Her outline is a usual deck line of her length and beam; depths are taken on cells of "
        f"{made.case.waters.cell:.0f} m, less survey uncertainty and siltation.",
        "Where slow work begins the fairway's edges no longer end a run; depths and the quay do. Lines, fenders and "
        "moored ships are not in it: a run ends when she touches the quay.",
    ]
    if made.prepared.call.forecast.wind_speed is None:
        found.append("No wind is forecast: the runs are sailed in calm air.")
    return (*found, *(f"{one[0].upper()}{one[1:]}." for one in made.assumed))
