"""The whole pack of the first example, rehearsed with drawn runs and failures: sheets and offline page, beside the
assessment they are made of.

Her manoeuvres are sailed once and kept; what is timed is what a second print costs.
"""

import statistics
import time
from collections.abc import Callable
from pathlib import Path

from leadsman.assessment.assess import assess
from leadsman.assessment.failures import failures_of
from leadsman.assessment.posted import posted_manoeuvres
from leadsman.assessment.prepare import prepare
from leadsman.assessment.rehearse import rehearse_call
from leadsman.assessment.shipboard import shipboard
from leadsman.documents.carried import NOTHING_SAID, Rehearsed
from leadsman.documents.data import assessment_data
from leadsman.documents.offline import offline_page
from leadsman.documents.pack import pack_pdf
from leadsman.documents.rehearsal_data import rehearsal_data
from leadsman.documents.rehearsal_limits import failures_data
from leadsman.documents.ship_sheets import ship_sheets
from leadsman.files.call_files import read_call
from leadsman.store.manoeuvres import kept

EXAMPLE = Path(__file__).parents[1] / "examples/1-river-coaster"
LIMIT = 3.0  # s: what the whole pack may take, warm
TIMES = 5
RUNS, EVERY = 8, 600.0  # drawn runs, and s between failures: few, for the sheets are as long with many


def timed(action: Callable[[], object]) -> float:
    """Median seconds of an action, after one run that does not count."""
    action()
    taken = []
    for _ in range(TIMES):
        begin = time.perf_counter()
        action()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def main() -> None:
    call = read_call(EXAMPLE)
    ready = prepare(call)
    found = assess(call, ready)
    run = rehearse_call(call, RUNS)
    lost = failures_data(failures_of(call, EVERY)) | {"fingerprint": run.fingerprint}
    rehearsed = Rehearsed(rehearsal_data(run), lost)

    def papers() -> object:
        data = assessment_data(found)
        ship = ship_sheets(shipboard(call.ship, call.loading, lambda *card: kept(*card, posted_manoeuvres)))
        return pack_pdf(data, "a4", NOTHING_SAID, rehearsed, ship), offline_page(data, NOTHING_SAID, rehearsed, ship)

    data = assessment_data(found)
    answer = timed(lambda: assess(call, ready))
    brief = timed(lambda: pack_pdf(data))
    whole = timed(papers)
    print(f"sheets alone               {brief:6.3f} s   {brief / answer:5.2f} x assessing another start")
    print(f"sheets, page, ship papers  {whole:6.3f} s   {whole / answer:5.2f} x assessing another start")
    print(f"of the {LIMIT:.0f} s it may take     {100 * whole / LIMIT:5.0f} %")
