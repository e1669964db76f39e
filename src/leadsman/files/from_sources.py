"""A port call from a chart cell, a table of tides and a ship card, for `leadsman new --chart` and for the page.

What the sources do not say is asked for (`answers`), never assumed: while a question is open no call is written. What
is taken as it stands and a person should look at is a finding.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from leadsman.figure import Finding, Grade
from leadsman.files.answers import Answers, OpenQuestion
from leadsman.files.call_files import read_ship
from leadsman.files.call_texts import call_text, forecast_text
from leadsman.files.formats import s57, s102, soundings_csv, tide_csv
from leadsman.files.formats.door import Faults
from leadsman.files.formats.draft_files import files_of, height_of, side_to
from leadsman.files.formats.draft_track import reach_names
from leadsman.files.formats.recognise import Format, recognise
from leadsman.files.formats.records import ChartCell, Route
from leadsman.files.formats.route_files import (
    corridor,
    distance_between,
    ends_at,
    read_routes,
    recommended_route,
    reversed_route,
)
from leadsman.files.formats.survey_areas import areas_of_grid, grid_of, with_soundings
from leadsman.files.formats.waterway_draft import BerthDraft, WaterwayDraft, berths_of, draft
from leadsman.geometry import Position
from leadsman.portcall import Direction
from leadsman.units import NAUTICAL_MILE
from leadsman.waterway import DepthArea

SURVEYED_BESIDE = 500.0  # m beside the track: farther off a survey adds nothing to her passage. Ours, no source
FAR_FROM_THE_BERTH = 0.5 * NAUTICAL_MILE  # of the track's end: more is told. Ours, no source


@dataclass(frozen=True, kw_only=True)
class Sources:
    """Files of others, by what each is for."""

    chart: Path
    """An S-57 base cell `NAME.000`, with its updates beside it."""
    tide: Path
    """A table of high and low waters as CSV."""
    ship: Path
    """A ship card, `ship.toml`."""
    route: Path | None = None
    """RTZ, GPX, GeoJSON or GeoPackage; None: the recommended tracks of the cell, if there are any."""
    depths: Path | None = None
    """A newer survey: S-102, or a table of soundings; in place of the chart's depths where it lies."""


@dataclass(frozen=True, kw_only=True)
class CallDraft:
    """What came of the sources and the answers."""

    files: Mapping[str, bytes]
    """By name within the port call's folder; empty while a question is open."""
    open: tuple[OpenQuestion, ...]
    """What must be answered before there is a call, in the order a person would."""
    offered: tuple[OpenQuestion, ...]
    """What may be said too, answered or not."""
    findings: tuple[Finding, ...]
    """What a person should look at: gaps of the chart, what was left out, what was taken for what."""


def call_from_sources(sources: Sources, answers: Mapping[str, str] | None = None) -> CallDraft:
    """The files of a port call, or the questions that stand in their way.

    `answers`: by the keys of `OpenQuestion`; an answer under `key@place` holds for that place alone.

    Raises
    ------
    InputErrors
        Faults of a source with its file and line, or of an answer: its file is `answers`, its field the key.
    Impossible
        Where the sources contradict each other.
    """
    given = Answers(answers)
    ship, _ = read_ship(sources.ship)
    tide = tide_csv.read_high_low(
        sources.tide,
        datum=given.text("tide_datum", "datum of the tide table's heights", needed=False),
        zone=given.text("tide_zone", "zone of the tide table's times", needed=False),
    )
    cell = s57.read(sources.chart)
    berth = _berth(cell, given)
    side_to(given)
    route = _route(sources.route, cell, berth, given)
    inward = route is None or berth is None or ends_at(route, berth.position)
    track = route if route is None or inward else reversed_route(route)
    cell, survey = _surveyed(sources.depths, cell, track, given)
    drafted = draft(cell, along=track, survey=survey)
    name = given.text("waterway_name", "a name for the waterway", needed=False) or f"To {berth.name if berth else '?'}"
    water = files_of(drafted, name=name, route=track, tide=tide, berth=berth, answers=given)
    as_sailed = Direction.INWARD if inward else Direction.OUTWARD
    call = call_text(ship, berth, [] if track is None else reach_names(track), as_sailed, tide, given)
    forecast = forecast_text(given)
    given.check(complete=route is not None and berth is not None)
    files = {"call.toml": call, "ship.toml": sources.ship.read_bytes(), "forecast.toml": forecast}
    files |= {f"waterway/{name}": content for name, content in water.items()}
    return CallDraft(
        files={} if given.open else files,
        open=given.open,
        offered=given.offered,
        findings=tuple(_findings(drafted, track, berth, sources.route is None)),
    )


def _surveyed(
    path: Path | None, cell: ChartCell, track: Route | None, answers: Answers
) -> tuple[ChartCell, tuple[DepthArea, ...]]:
    """The cell, with soundings of a newer survey among its own; and the areas of a survey on a grid."""
    if path is None:
        return cell, ()
    near = None if track is None else corridor(track, SURVEYED_BESIDE)
    areas: list[DepthArea] = []
    kind = recognise(path)
    if kind is Format.S102:
        grids = list(s102.read(path))
    elif kind is Format.SOUNDINGS:
        soundings = soundings_csv.read(path)
        lattice = grid_of(soundings, path.stem)
        grids = [] if lattice is None else [lattice]
        if lattice is None:
            cell = replace(cell, soundings=with_soundings(cell.soundings, soundings))
    else:
        raise Faults(path).stop(f"is a {kind}; expected depths as S-102 or as a table of soundings")
    for grid in grids:
        at_home = grid.datum in ("CD", cell.sounding_datum)
        rise = 0.0 if at_home else height_of(grid.datum, answers)
        areas += [] if rise is None else areas_of_grid(grid, near=near, rise=rise)
    return cell, tuple(areas)


def _berth(cell: ChartCell, answers: Answers) -> BerthDraft | None:
    """The berth she goes to: a charted one, or one whose place a person gives."""
    charted = {berth.name: berth for berth in berths_of(cell)}
    words = "the berth she goes to or leaves: a charted one, or any other name, whose place is then asked"
    name = answers.text("berth", words, choices=tuple(charted), other=True)
    if name is None or name in charted:
        return charted.get(name or "")
    begin, end = (
        answers.position(f"berth_{which}", f"{which} of the berth's face: latitude, longitude in degrees")
        for which in ("begin", "end")
    )
    if begin is None or end is None:
        return None
    middle = Position(0.5 * (begin.latitude + end.latitude), 0.5 * (begin.longitude + end.longitude))
    return BerthDraft(name=name, position=middle, begin=begin, end=end, depth=None)


def _route(path: Path | None, cell: ChartCell, berth: BerthDraft | None, answers: Answers) -> Route | None:
    """The route of the file, or one proposed from the cell; None, and a question, where there is none."""
    if path is None:
        proposed = None if berth is None else recommended_route(cell, berth.position)
        if berth is not None and proposed is None:
            answers.ask_for_file(
                "route",
                f"cell {cell.name} has no recommended track (RECTRC) to propose: give the track as a file of RTZ, GPX, "
                "GeoJSON or GeoPackage",
            )
        return proposed
    routes = read_routes(path)
    if len(routes) == 1:
        return next(iter(routes.values()))
    name = answers.text("route_name", f"which route of {path.name}", choices=tuple(routes))
    return routes.get(name or "")


def _findings(
    drafted: WaterwayDraft, track: Route | None, berth: BerthDraft | None, proposed: bool
) -> Iterator[Finding]:
    """What the draft leaves to be looked at; questions that an answer settles are not told twice."""
    for question in drafted.questions:
        if not question.answered_by:
            yield Finding(
                grade=Grade.CAUTION,
                subject="chart",
                sentence=f"{question.subject}: {question.sentence}.",
                place=question.subject,
                source=drafted.cell,
            )
    if track is not None and proposed:
        also = "".join(f"; {note}" for note in track.notes)
        yield Finding(
            grade=Grade.CAUTION,
            subject="track",
            sentence=f"The track is the recommended track of the chart{also}: confirm every waypoint.",
            source=drafted.cell,
        )
    if track is not None and berth is not None:
        off = distance_between(track.waypoints[-1].position, berth.position)
        if off > FAR_FROM_THE_BERTH:
            miles = f"{off / NAUTICAL_MILE:.1f} nm"
            yield Finding(
                grade=Grade.CAUTION,
                subject="track",
                sentence=f"The track ends {miles} from {berth.name}; beyond it nothing is looked at.",
                value=off,
                limit=FAR_FROM_THE_BERTH,
                unit="m",
                place=berth.name,
            )
    for note in drafted.notes:
        yield Finding(grade=Grade.NOTE, subject="chart", sentence=f"{note}.", source=drafted.cell)
