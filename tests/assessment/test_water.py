"""The water behind an assessment: gauges, an old forecast, stations far off, and what the stream may be off."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from leadsman.assessment.assess import assess
from leadsman.assessment.gauge import last_reading
from leadsman.assessment.prepare import prepare
from leadsman.environment.prediction import predicted
from leadsman.figure import Finding, Grade
from leadsman.files.call_files import read_call
from leadsman.geometry import Position
from leadsman.portcall import PortCall
from leadsman.station import StreamStation, TideStation
from leadsman.units import HOUR, KNOT, MINUTE
from leadsman.waterway import Waterway

ROOT = Path(__file__).parents[2]
EXAMPLE = read_call(ROOT / "examples/1-river-coaster")


def in_waterway(**changes: object) -> PortCall:
    return replace(EXAMPLE, waterway=replace(EXAMPLE.waterway, **changes))


def gauged(residual: float, *, hours_before: float = 2.0, wash: float = 0.0) -> Waterway:
    """The first station with three hours of readings at this residual, the last one in another by `wash`."""
    station = EXAMPLE.waterway.tide_stations[0]
    last = EXAMPLE.start.timestamp() - hours_before * HOUR
    time = np.arange(last - 3.0 * HOUR, last + 1.0, 6.0 * MINUTE)
    level = predicted(station, time)[0] + residual
    level[-1] += wash
    with_gauge = replace(station, gauge=tuple(zip(time.tolist(), level.tolist(), strict=True)))
    return replace(EXAMPLE.waterway, tide_stations=(with_gauge, *EXAMPLE.waterway.tide_stations[1:]))


def findings(call: PortCall, subject: str) -> list[Finding]:
    return [one for one in assess(call).findings if one.subject == subject]


def test_the_residual_is_averaged_over_the_last_hour() -> None:
    """By hand: ten readings in the last hour, one of them 0.5 m higher."""
    reading = last_reading(gauged(0.3, wash=0.5))
    assert reading is not None
    assert reading.residual == pytest.approx(0.3 + 0.5 / 10.0, abs=1e-4)
    assert reading.time == pytest.approx(EXAMPLE.start.timestamp() - 2.0 * HOUR)
    assert last_reading(EXAMPLE.waterway) is None


def test_a_gauge_that_dies_away_into_the_forecast() -> None:
    """By hand: 4 h after the reading, at a time scale of 4 h, 1/e of the difference is left."""
    forecast = replace(EXAMPLE.forecast, gauge_decay=4.0 * HOUR)
    best = forecast.residual
    plain = prepare(EXAMPLE).water
    found = prepare(replace(EXAMPLE, waterway=gauged(0.5), forecast=forecast)).water
    at = np.array([found.elapsed(EXAMPLE.start + timedelta(hours=hours)) for hours in (-2.0, 2.0, 60.0)])
    raised = np.asarray(found.level.level(0.0, at)) - np.asarray(plain.level.level(0.0, at))
    assert raised == pytest.approx([(0.5 - best), (0.5 - best) / np.e, 0.0], abs=2e-3)


def test_a_gauge_alone_is_compared_and_not_used() -> None:
    call = replace(EXAMPLE, waterway=gauged(0.5))
    (one,) = findings(call, "residual")
    assert one.grade is Grade.CAUTION
    assert "stood 0.50 m above the predicted tide" in one.sentence
    assert "the forecast alone is used" in one.sentence
    assert one.value == pytest.approx(0.5, abs=1e-3)
    level, before = (prepare(each).water.level.grid.level for each in (call, EXAMPLE))
    assert np.array_equal(level, before)
    (fine,) = findings(replace(EXAMPLE, waterway=gauged(EXAMPLE.forecast.residual)), "residual")
    assert fine.grade is Grade.NOTE


def test_an_old_forecast_is_told() -> None:
    assert findings(EXAMPLE, "forecast") == []
    old = replace(EXAMPLE.forecast, issued=EXAMPLE.start - timedelta(hours=30))
    (one,) = findings(replace(EXAMPLE, forecast=old), "forecast")
    assert (one.grade, one.sentence) == (
        Grade.CAUTION, "The forecast was issued 30 h before she starts: get the latest.",
    )  # fmt: skip


def moved(position: Position, degrees: float) -> Position:
    return Position(position.latitude, position.longitude + degrees)


FAR = [  # changes of the waterway, name that is told
    ({"gates": (replace(EXAMPLE.waterway.gates[0], position=moved(EXAMPLE.waterway.gates[0].position, 0.3)),)}, "Lych Bridge"),
    ({"tide_stations": tuple(replace(s, position=moved(s.position, 0.3 if s.name == "Tannery Quay" else 0.0))
                             for s in EXAMPLE.waterway.tide_stations)}, "Tannery Quay"),
    ({"stream_stations": (replace(EXAMPLE.waterway.stream_stations[0],
                                  position=moved(EXAMPLE.waterway.stream_stations[0].position, -0.05)),)}, "Ambry Bar stream"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "name"), FAR, ids=[row[1] for row in FAR])
def test_what_lies_far_from_the_track_is_told(changes: dict[str, object], name: str) -> None:
    told = [one for one in assess(in_waterway(**changes)).findings if "off the track" in one.sentence]
    assert [one.place for one in told] == [name]
    assert told[0].grade is Grade.CAUTION
    assert not any("off the track" in one.sentence for one in assess(EXAMPLE).findings)


def test_the_stream_may_make_her_late() -> None:
    """By hand: an error of the stream u over a way s at speed v changes the time by s u / v^2, reach by reach."""
    prepared = prepare(EXAMPLE)
    passage = prepared.passage
    by_hand = sum(
        float(np.diff(passage.distance[[k, k + 1]])[0]) * 0.25722 / float(passage.speed[k]) ** 2
        for k in range(len(passage.distance) - 1)
    )
    assert prepared.water.lateness(passage)[-1] == pytest.approx(by_hand)
    (line,) = [line for line in assess(EXAMPLE).account.lines if line.key == "water_level"]
    own = np.asarray(prepared.water.level.deviation(passage.distance))
    assert line.deviation is not None
    assert line.deviation[0] == pytest.approx(own[0])
    assert np.all(line.deviation >= own)
    still = replace(EXAMPLE.waterway, stream_stations=())
    assert np.all(prepare(replace(EXAMPLE, waterway=still)).water.lateness(passage) == 0.0)


def as_series(station: TideStation) -> TideStation:
    span = EXAMPLE.search_begin.timestamp() - 2.0 * HOUR, EXAMPLE.search_end.timestamp() + 60.0 * HOUR
    time = np.arange(*span, 10.0 * MINUTE)
    rows = tuple(zip(time.tolist(), predicted(station, time)[0].tolist(), strict=True))
    return TideStation(name=station.name, position=station.position, series=rows, deviation=station.deviation)


def steady(station: StreamStation) -> StreamStation:
    time = EXAMPLE.search_begin.timestamp() + np.arange(-2.0, 300.0, 0.5) * HOUR
    return StreamStation(
        name=station.name, position=station.position, series=tuple((when, 0.5 * KNOT, 0.7) for when in time.tolist())
    )


@pytest.mark.parametrize(
    ("call", "check"),
    [
        (
            in_waterway(tide_stations=tuple(map(as_series, EXAMPLE.waterway.tide_stations))),
            lambda found, plain: found.verdict.binding.value == pytest.approx(plain.verdict.binding.value, abs=0.01),
        ),
        (
            in_waterway(stream_stations=tuple(map(steady, EXAMPLE.waterway.stream_stations))),
            lambda found, plain: np.allclose(
                np.hypot(found.account.stream_along, found.account.stream_across), 0.5 * KNOT
            ),
        ),
    ],
    ids=["levels", "streams"],
)
def test_series_reach_the_answer(call: PortCall, check: Callable[..., bool]) -> None:
    assert check(assess(call), assess(EXAMPLE))
