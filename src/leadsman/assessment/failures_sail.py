"""Every failure at every moment sailed with every answer: from where she was at that moment, in a few parallel batches.

The undisturbed passage is sailed once, and how it stands kept at each moment asked about. What goes well without a
drastic answer is not tried with one: first going on, then answers without anchors, then with one, then with both.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from leadsman.assessment import failures_answers as ways
from leadsman.assessment.failures_answers import Answer, Lost
from leadsman.assessment.rehearse import Store
from leadsman.assessment.rehearse_prepare import Ready
from leadsman.assessment.rehearse_run import GOOD
from leadsman.conning.outcome import HELD, UNHURT
from leadsman.conning.run import States, at_the_start, no_failures, rehearse, undisturbed
from leadsman.geometry import Array
from leadsman.simulation.parameters import Records

BATCH = 512  # runs sailed between two looks at whether to stop
REASON, TIME, PLACE, ROOM = range(4)
"""Columns of what is kept of a run: how it ended, when [s], where along the track [m], least room to the edges [m]."""

LOST, UNWATCHED, OVER_EDGE, SAFE = range(4)
"""How good an end is: danger; nothing in the time watched; stopped, an edge of the fairway crossed; stopped, or the
passage done. Going on under command is safe too where nothing comes of it in the time watched."""
NEAR = 2  # moments about one that needs more drastic answers, at which they are tried too: one answer may serve all


@dataclass(frozen=True, eq=False)
class Swept:
    """What was sailed against one loss: `ways` tried, `found` [ways + 1, moments, columns above], the first row going
    on; not a number where it was not worth trying. `times` [s] and `depths` under the bow [m] when it failed
    [moments]."""

    lost: Lost
    ways: tuple[Answer, ...]
    found: Array
    times: Array
    depths: Array


def worth(one: Swept) -> Array:
    """How good each end is [ways, moments]; below all where there is none."""
    reason = one.found[..., REASON]
    over = one.found[..., ROOM] < 0.0
    good = np.isin(reason, (*GOOD, HELD))
    graded = np.where(good, np.where(over, OVER_EDGE, SAFE), np.where(reason == UNHURT, UNWATCHED, LOST))
    if one.lost.kind in ways.IN_HAND:
        graded[0, reason[0] == UNHURT] = SAFE
    return np.where(np.isnan(reason), -1, graded)


def moments_of(made: Ready, times: Array) -> States:
    """How the undisturbed passage stands at each of the times. [s]"""
    draws = undisturbed()
    now = at_the_start(made.case, draws)
    kept = []
    for time in times:
        rehearse(made.case, made.case.mind, draws, kept=False, states=now, pause=float(time))
        kept.append(now.taken([0]))
    return joined(kept)


def joined(states: list[States]) -> States:
    """Rows of several, one after another."""
    fields = ("seconds", "memories", "gears", "arounds", "motions", "outcomes")
    return States(**{name: np.concatenate([getattr(one, name) for one in states]) for name in fields})


def sweep(
    made: Ready,
    times: Array,
    progress: Callable[[int, int], None] | None = None,
    store: Store | None = None,
    key: str = "",
) -> list[Swept]:
    """Sail every loss at every time, going on and with the answers worth trying.

    `progress` is told how many of how many runs are done or not needed; with a `store` what an earlier sweep sailed is
    taken from it, and every batch is kept as soon as it is sailed.
    """
    states = moments_of(made, times)
    depths = states.arounds["depth_bow"]
    kept = store.load(key) if store else {}
    swept = []
    for number, lost in enumerate(ways.losses(made)):
        tried = tuple(ways.answers(made, lost))
        found = kept.get(str(number), np.full((len(tried) + 1, times.size, 4), np.nan))
        swept.append(Swept(lost, tried, found, times, depths))
    total = sum(one.found.shape[0] * times.size for one in swept)
    done = 0
    for stage in range(-1, 1 + max(answer.anchors for one in swept for answer in (*one.ways, NOTHING))):
        wanted = list(_wanted(swept, stage))
        missing = [case for case in wanted if np.isnan(swept[case[0]].found[case[1], case[2], REASON])]
        done = sum(_of_stages(one, stage - 1) for one in swept) * times.size
        skipped = sum(_of_stage(one, stage) for one in swept) * times.size - len(missing)
        for begin in range(0, len(missing), BATCH):
            batch = missing[begin : begin + BATCH]
            _sail(made, swept, batch, times, states)
            if store:
                store.save(key, {str(number): one.found for number, one in enumerate(swept)})
            if progress:
                progress(done + skipped + begin + len(batch), total)
    if progress:
        progress(total, total)
    return swept


NOTHING = Answer(0, 0, 0, 0, 0.0)


def _stage(one: Swept, way: int) -> int:
    """In which stage a way is tried: going on before all others, then by the anchors let go."""
    return -1 if way == 0 else one.ways[way - 1].anchors


def _of_stage(one: Swept, stage: int) -> int:
    return sum(_stage(one, way) == stage for way in range(len(one.ways) + 1))


def _of_stages(one: Swept, last: int) -> int:
    return sum(_stage(one, way) <= last for way in range(len(one.ways) + 1))


def _wanted(swept: list[Swept], stage: int) -> Iterator[tuple[int, int, int]]:
    """Loss, way and moment of every run of a stage that is worth sailing: where no earlier stage went well."""
    for number, one in enumerate(swept):
        earlier = [way for way in range(len(one.ways) + 1) if _stage(one, way) < stage]
        needed = worth(one)[earlier].max(axis=0) < SAFE if earlier else np.ones(one.depths.size, dtype=bool)
        near = np.convolve(needed, np.ones(2 * NEAR + 1))[NEAR : NEAR + needed.size] > 0.5
        for way in range(len(one.ways) + 1):
            if _stage(one, way) == stage:
                yield from ((number, way, int(moment)) for moment in np.flatnonzero(near))


def _sail(made: Ready, swept: list[Swept], batch: list[tuple[int, int, int]], times: Array, states: States) -> None:
    """Sail a batch and write what came of it into `found`."""
    order = np.random.default_rng(len(batch)).permutation(len(batch))  # long runs spread over the cores
    cases = [batch[place] for place in order]
    failing = no_failures(len(cases))
    for row, (number, way, moment) in zip(failing, cases, strict=True):
        one = swept[number]
        row["kind"], row["unit"], row["time"] = one.lost.kind, one.lost.unit, times[moment]
        if way > 0:
            answer = one.ways[way - 1]
            length = ways.shackles(made, answer.scope, float(one.depths[moment])) * ways.shackle(made)
            answer.put(row, length)
    fleet = made.case.mind._replace(ships=np.repeat(made.case.mind.ships, len(cases)))
    now = states.taken([moment for _, _, moment in cases])
    now.outcomes["room_port"] = now.outcomes["room_starboard"] = np.inf
    outcomes = rehearse(made.case, fleet, undisturbed(len(cases)), kept=False, failing=failing, states=now).outcomes
    for (number, way, moment), outcome in zip(cases, outcomes, strict=True):
        swept[number].found[way, moment] = _kept(outcome)


def _kept(outcome: Records) -> tuple[Any, ...]:
    room = min(float(outcome["room_port"]), float(outcome["room_starboard"]))
    return outcome["reason"], outcome["time"], outcome["place"], room
