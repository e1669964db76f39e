"""How a limit is searched for: runs until the question is settled, steps until the boundary is found, on every core.

How every run ended at every step is kept in one table: what is known, what is still to be sailed and what came of it
follow from the table alone, so that a search that was stopped goes on where it was.
"""

import math
import os
from collections import Counter
from collections.abc import Callable
from concurrent.futures import CancelledError, ThreadPoolExecutor, as_completed
from dataclasses import dataclass, field
from threading import Event, Lock
from typing import TypeVar

import numpy as np

from leadsman.assessment.rehearse import Store
from leadsman.assessment.rehearse_many import wilson
from leadsman.assessment.rehearse_run import GOOD, WORDS
from leadsman.geometry import Array
from leadsman.simulation.parameters import Records

Found = TypeVar("Found")

SURE = 2.5758  # standard deviations: Wilson's interval of 99 %, for it is looked at again after every run
LOOKED_FROM = 20  # runs, before which Wilson's interval settles nothing


@dataclass(frozen=True, eq=False)
class Tried:
    """How each run ended at each step of each search, and where along the track [m]: `reason`, `place` [searches,
    steps, runs], not a number where it was not sailed."""

    reason: Array
    place: Array
    store: Store | None = None
    key: str = ""
    lock: Lock = field(default_factory=Lock)
    stopped: Event = field(default_factory=Event)

    @classmethod
    def of(cls, store: Store | None, key: str, searches: int, steps: int, runs: int) -> "Tried":
        """What is kept under a key, or nothing yet."""
        shape = (searches, steps, runs)
        kept = store.load(key) if store else {}
        if kept and kept["reason"].shape == shape:
            return cls(kept["reason"], kept["place"], store, key)
        return cls(np.full(shape, np.nan), np.full(shape, np.nan), store, key)

    def goes(self, search: int, step: int, level: float, sail: Callable[[int], Records]) -> bool:
        """Whether enough runs succeed; `sail` gives the outcome of one of them, asked no more often than needed."""
        reason, place = self.reason[search, step], self.place[search, step]
        for run in range(reason.size):
            known = settled(reason, level)
            if known is not None:
                return known
            if np.isnan(reason[run]):
                if self.stopped.is_set():
                    raise CancelledError
                outcome = sail(run)
                reason[run], place[run] = outcome["reason"], outcome["place"]
                if run % SAVED_EVERY == 0:
                    self.save()
        self.save()
        return bool(settled(reason, level))

    def save(self) -> None:
        """Keep the table, where there is a store."""
        if self.store is not None:
            with self.lock:
                self.store.save(self.key, {"reason": self.reason, "place": self.place})

    def reasons(self, search: int, step: int) -> dict[str, int]:
        """How many of the sailed runs ended how."""
        sailed = self.reason[search, step]
        counted = Counter(int(one) for one in sailed[~np.isnan(sailed)])
        return {WORDS[one]: number for one, number in counted.most_common()}

    def broken(self, search: int, step: int) -> tuple[str, float]:
        """The reason most runs fail for, and where along the track: the middle one of the places. [m]"""
        reason, place = self.reason[search, step], self.place[search, step]
        failed = ~np.isnan(reason) & ~np.isin(reason, GOOD)
        worst, _ = Counter(int(one) for one in reason[failed]).most_common(1)[0]
        return WORDS[worst], float(np.median(place[reason == worst]))


SAVED_EVERY = 5  # runs


def settled(reason: Array, level: float) -> bool | None:
    """Whether the share of runs that succeed is at least a level; None while it is open.

    Settled when the runs still to be sailed cannot change it any more, or when Wilson's interval of those sailed lies
    on one side of the level.
    """
    sailed = int(np.count_nonzero(~np.isnan(reason)))
    good = int(np.isin(reason, GOOD).sum())
    needed = math.ceil(level * reason.size - 1e-9)
    if good >= needed:
        return True
    if sailed - good > reason.size - needed:
        return False
    if sailed >= LOOKED_FROM:
        low, high = wilson(good, sailed, SURE)
        if low > level or high < level:
            return low > level
    return None


def boundary(goes: Callable[[int], bool], last: int, guess: int) -> int:
    """The greatest step from 0 to `last` that goes, -1 if none does: from a guess ever wider, then by halving.

    What goes is taken to go at every smaller step.
    """
    low, high = -1, last + 1
    here, wider = min(max(guess, 0), last), 1
    while high - low > 1:
        if goes(here):
            low = here
        else:
            high = here
        if high > last:
            here, wider = min(low + wider, last), 2 * wider
        elif low < 0:
            here, wider = max(high - wider, 0), 2 * wider
        else:
            here = (low + high) // 2
    return low


def in_threads(
    work: Callable[[int], Found], count: int, tried: Tried, progress: Callable[[int], None] | None = None
) -> list[Found]:
    """What `work` finds for each number below `count`, as many at once as there are cores to use.

    The sailing itself holds no lock of Python's. Stopped from outside, what goes on is ended after the run under way.
    """
    found: dict[int, Found] = {}
    with ThreadPoolExecutor(max_workers=cores()) as pool:
        waiting = {pool.submit(work, number): number for number in range(count)}
        try:
            for one in as_completed(waiting):
                found[waiting[one]] = one.result()
                if progress:
                    progress(len(found))
        except BaseException:
            tried.stopped.set()
            pool.shutdown(cancel_futures=True)
            tried.save()
            raise
    return [found[number] for number in range(count)]


def cores() -> int:
    """How many threads are worth while: as many as the parallel kernels use."""
    return int(os.environ.get("NUMBA_NUM_THREADS") or len(os.sched_getaffinity(0)))
