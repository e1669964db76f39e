"""The process that does one piece of long work: `python -m leadsman.web.worker CALL KIND`."""

import math
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field

from leadsman.errors import InputErrors, LeadsmanError
from leadsman.forecast import Forecast
from leadsman.manner import written_in
from leadsman.portcall import PortCall
from leadsman.units import KNOT
from leadsman.web.work import FOLDER, read, write

if TYPE_CHECKING:
    from leadsman.files.rehearsal_store import RehearsalStore

Progress = Callable[[float, str], None]
LEAST_PAUSE = 0.2  # s between two words of progress


class Options(BaseModel):
    """What a kind of work takes; nothing else is let in."""

    model_config = ConfigDict(extra="forbid")


class Kept(Options):
    """Work that is kept run by run in the call's folder: stopped and asked again, it goes on where it was."""

    keep: bool = Field(True, description="false: nothing is taken from what was kept, and nothing added to it")


class TrialsOptions(Options):
    """The standard trials of the call's ship."""

    depth_ratio: float | None = Field(None, ge=1.0, le=1_000.0, description="water depth by draught; null: deep")


def trials(call: Path, options: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """The standard trials of the call's ship."""
    from leadsman.assessment.manoeuvres import manoeuvres
    from leadsman.documents.manoeuvres_data import manoeuvres_data
    from leadsman.files.call_files import read_ship

    progress(0.0, "trying her")
    return manoeuvres_data(manoeuvres(*read_ship(call), options["depth_ratio"]))


class RehearsalOptions(Kept):
    """The passage sailed in time: as planned, and as many times as wished with everything uncertain drawn."""

    runs: int = Field(0, ge=0, le=20_000)
    seed: int = Field(1, ge=0, le=1_000_000)
    start: AwareDatetime | None = Field(None, description="null: the call's own")
    wind_speed_kn: float | None = Field(None, ge=0.0, le=80.0, description="null: as forecast")
    wind_from_deg: float | None = Field(None, ge=0.0, le=360.0, description="null: as forecast")


def rehearsal(call: Path, options: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """The passage sailed in time."""
    from leadsman.assessment.rehearse import rehearse_call
    from leadsman.documents.rehearsal_data import rehearsal_data

    asked = RehearsalOptions.model_validate(options)
    planned = _started(call, asked.start)
    planned = replace(planned, forecast=_in_wind(planned.forecast, asked.wind_speed_kn, asked.wind_from_deg))
    progress(0.0, "making ready")

    def sailed(done: int, of: int) -> None:
        progress(done / of, f"{done} of {of} sailed")

    return rehearsal_data(rehearse_call(planned, asked.runs, asked.seed, progress=sailed, store=_store(call, asked)))


class LimitsOptions(Kept):
    """Greatest wind by direction and tugs in which the passage still succeeds."""

    runs: int = Field(20, ge=1, le=1_000)
    seed: int = Field(1, ge=0, le=1_000_000)
    directions: int = Field(8, ge=1, le=72, description="the wind is rehearsed from")
    start: AwareDatetime | None = Field(None, description="null: the call's own")


def limits(call: Path, options: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """Greatest winds, rehearsed."""
    from leadsman.assessment.limits import rehearsed_limits
    from leadsman.documents.rehearsal_limits import limits_data

    asked = LimitsOptions.model_validate(options)
    progress(0.0, "making ready")

    def tried(done: int, of: int) -> None:
        progress(done / of, f"{done} of {of} directions")

    found = rehearsed_limits(
        _started(call, asked.start),
        asked.runs,
        asked.seed,
        directions=asked.directions,
        progress=tried,
        store=_store(call, asked),
    )
    return limits_data(found)


class StreamLimitsOptions(Kept):
    """Greatest stream, by state of the stream, in which the passage still succeeds."""

    runs: int = Field(20, ge=1, le=1_000)
    seed: int = Field(1, ge=0, le=1_000_000)
    start: AwareDatetime | None = Field(None, description="null: the call's own")


def stream_limits(call: Path, options: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """Greatest streams, rehearsed."""
    from leadsman.assessment.limits_stream import stream_limits
    from leadsman.documents.stream_limits import stream_limits_data

    asked = StreamLimitsOptions.model_validate(options)
    progress(0.0, "making ready")

    def tried(done: int, of: int) -> None:
        progress(done / of, f"{done} of {of} states of the stream")

    planned = _started(call, asked.start)
    return stream_limits_data(stream_limits(planned, asked.runs, asked.seed, progress=tried, store=_store(call, asked)))


class FailuresOptions(Kept):
    """Something lost at every moment of the passage, without and with an answer."""

    every: float = Field(60.0, ge=10.0, le=3_600.0, description="seconds between two failures")
    start: AwareDatetime | None = Field(None, description="null: the call's own")


def failures(call: Path, options: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """Failures, rehearsed."""
    from leadsman.assessment.assess import fingerprint
    from leadsman.assessment.failures import failures_of
    from leadsman.documents.rehearsal_limits import failures_data

    asked = FailuresOptions.model_validate(options)
    progress(0.0, "making ready")

    def tried(done: int, of: int) -> None:
        progress(done / of, f"{done} of {of} failures")

    started = _started(call, asked.start)
    found = failures_of(started, asked.every, tried, _store(call, asked))
    return failures_data(found) | {"fingerprint": fingerprint(started)}


def _store(call: Path, asked: Kept) -> "RehearsalStore | None":
    from leadsman.files.rehearsal_store import RehearsalStore

    return RehearsalStore(call) if asked.keep else None


def _started(folder: Path, start: datetime | None) -> PortCall:
    from leadsman.files.call_files import read_call

    call = read_call(folder)
    return call if start is None else call.starting(start.astimezone(UTC))


def _in_wind(forecast: Forecast, speed_kn: float | None, from_deg: float | None) -> Forecast:
    """The forecast with another wind; gusts keep their share of it."""
    wind: dict[str, Any] = {}
    if speed_kn is not None:
        wind["wind_speed"] = speed_kn * KNOT
        if forecast.gust_speed is not None and forecast.wind_speed:
            wind["gust_speed"] = forecast.gust_speed * speed_kn * KNOT / forecast.wind_speed
    if from_deg is not None:
        wind["wind_from"] = math.radians(from_deg)
    return replace(forecast, **wind)


@dataclass(frozen=True)
class Kind:
    """One kind of long work."""

    options: type[Options]
    do: Callable[[Path, dict[str, Any], Progress], dict[str, Any]]


KINDS = {
    "trials": Kind(TrialsOptions, trials),
    "rehearsal": Kind(RehearsalOptions, rehearsal),
    "limits": Kind(LimitsOptions, limits),
    "stream-limits": Kind(StreamLimitsOptions, stream_limits),
    "failures": Kind(FailuresOptions, failures),
}
"""By the name the API uses."""


def main(call: Path, kind: str) -> None:
    """Do it, and leave an answer or the faults."""
    place = call / FOLDER / kind
    asked = read(place / "asked.json")
    assert asked is not None, "begun by `work.begin`"
    told = 0.0

    def progress(share: float, words: str) -> None:
        nonlocal told
        now = time.monotonic()
        if now - told >= LEAST_PAUSE or share in (0.0, 1.0):
            told = now
            write(place / "progress.json", {"share": share, "words": words})

    try:
        with written_in(None):  # the answer is kept, and read in any manner
            found = KINDS[kind].do(call, asked["options"], progress)
        write(place / "answer.json", found)
    except InputErrors as faults:
        problems = [str(fault) for fault in faults.errors]
        write(place / "faults.json", {"errors": [{"problem": problem} for problem in problems]})
    except LeadsmanError as failure:
        write(place / "faults.json", {"errors": [{"problem": str(failure)}]})
    except Exception as fault:
        problem = f"a fault of the program itself ({type(fault).__name__}: {fault}); nothing was changed"
        write(place / "faults.json", {"errors": [{"problem": problem}]})
        raise


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
