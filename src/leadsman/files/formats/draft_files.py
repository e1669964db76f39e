"""A draft as the files of a waterway, completed by answers; what is still missing stands in them as a remark.

A key that neither cell nor answers give is a remark where it belongs, so that the reader refuses the file until a
person has filled it in; every open question also stands at the head of `waterway.toml`. The depth areas go to
`areas.geojson`, a table of high and low waters to `tide.csv`.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from leadsman.errors import refuse
from leadsman.files.answers import Answers
from leadsman.files.formats import geojson
from leadsman.files.formats.draft_areas import polygon_of
from leadsman.files.formats.draft_streams import stream_lines
from leadsman.files.formats.draft_track import track_lines
from leadsman.files.formats.records import MapFeature, Route
from leadsman.files.formats.series import HighLowTable
from leadsman.files.formats.times import written
from leadsman.files.formats.toml_words import asked, inline_place, number_line, place_lines, quoted, remark
from leadsman.files.formats.waterway_draft import BerthDraft, UnknownGate, WaterwayDraft
from leadsman.geometry import Position
from leadsman.units import DEGREE
from leadsman.waterway import DepthArea, Gate, GateKind


def files_of(
    draft: WaterwayDraft,
    *,
    name: str,
    route: Route | None = None,
    tide: HighLowTable | None = None,
    berth: BerthDraft | None = None,
    answers: Answers | None = None,
) -> dict[str, bytes]:
    """The files by their names within the folder `waterway`.

    `route` gives the track, inward bound; `berth` is the one she goes to, others stand as remarks. What `answers`
    leaves open is gathered there.
    """
    answers = answers or Answers()
    settled = _settled(answers)
    gates = [*_gates(draft, answers), *_unknown_gates(draft.unknown_gates, answers)]
    body = [*track_lines(draft.fairways, route, answers), *gates, *_berths(draft, berth, answers), *_marks(draft)]
    rise = _rise(tide, draft.chart_datum, answers)
    station = [*_tide(tide, rise, answers), *stream_lines(route, tide, answers)]
    datums = _datums(draft, answers)
    lines = [*_head(draft, name, answers), *datums, *body, *station]
    areas = areas_bytes(draft.areas, settled)
    found = {"waterway.toml": ("\n".join(lines) + "\n").encode(), "areas.geojson": areas}
    if tide is not None and rise is not None:
        rows = [f"{written(point.time)},{round(point.level + rise, 4):.12g}" for point in tide.points]
        found["tide.csv"] = ("\n".join(["time,height_m", *rows]) + "\n").encode()
    return found


def _head(draft: WaterwayDraft, name: str, answers: Answers) -> list[str]:
    looks = [question for question in draft.questions if not question.answered_by]
    lines = [
        remark(f"A draft from chart cell {draft.cell}, to be completed and confirmed by a person. Not for navigation."),
        remark(f"{len(answers.open)} keys are still to be given, {len(looks)} things to be looked at:"),
    ]
    words = [f"{question.asked_of}: {question.sentence}" for question in answers.open]
    for question in looks:
        place = question.position
        where = "" if place is None else f" (at {place.latitude:.5f}, {place.longitude:.5f})"
        words.append(f"{question.subject}{where}: {question.sentence}")
    lines += [remark(f"{number}. {sentence}") for number, sentence in enumerate(words, start=1)]
    lines += [remark(f"Note: {note}") for note in draft.notes]
    lines += ["", f"name = {quoted(name)}", f"chart_datum = {quoted(draft.chart_datum)}", 'areas = "areas.geojson"']
    lines += [f"caution = {quoted(_caution(draft, len(looks)))}"]
    if draft.magnetic_variation is not None:
        lines.append(f"magnetic_variation_deg = {draft.magnetic_variation / DEGREE:.2f}")
    return [*lines, "", "[origin]", *place_lines(_middle(draft))]


def _caution(draft: WaterwayDraft, looks: int) -> str:
    """What is printed with every plan until a person has confirmed the draft."""
    return (
        f"Made from chart cell {draft.cell} and not confirmed by a person: {looks} things to look at stand at the head "
        "of waterway.toml."
    )


def _middle(draft: WaterwayDraft) -> Position:
    places = [place for area in draft.areas for place in area.ring] or [gate.position for gate in draft.gates]
    refuse([] if places else [("areas", "the draft holds no depth area")])
    latitude, longitude = [p.latitude for p in places], [p.longitude for p in places]
    return Position(0.5 * (min(latitude) + max(latitude)), 0.5 * (min(longitude) + max(longitude)))


def height_of(datum: str, answers: Answers) -> float | None:
    """Height of a datum above chart datum, as a person says."""
    words = f"height of {datum} above chart datum at this port, metres, from its tide tables"
    return answers.number(f"{datum}_above_chart_datum_m", words, -30.0, 30.0)


def _datums(draft: WaterwayDraft, answers: Answers) -> list[str]:
    """Heights of the datums that clearances stand above; those of `_unknown_gates` are asked there."""
    lines = ["", "[heights_above_chart_datum_m]", f"{quoted(draft.chart_datum)} = 0.0"]
    said = [
        datum
        for gap in draft.unknown_gates
        if gap.kind is not GateKind.SILL and (datum := _datum_said(gap, answers, needed=False))
    ]
    for datum in dict.fromkeys([*draft.datums_needed, *said]):
        if datum not in ("CD", draft.chart_datum):
            lines.append(number_line(quoted(datum), height_of(datum, answers), "from the tide tables of the port"))
    return lines


def _gates(draft: WaterwayDraft, answers: Answers) -> Iterator[str]:
    for gate in draft.gates:
        yield from _gate(gate.name, gate.kind, gate.position)
        for key, value in (("clearance_m", gate.clearance), ("depth_m", gate.depth), ("width_m", gate.width)):
            if value is not None:
                yield number_line(key, value, "")
        if gate.clearance_datum is not None:
            yield f"clearance_datum = {quoted(gate.clearance_datum)}"
        if gate.name in draft.physical_cables:
            yield _electrical(gate, answers)
        yield f"source = {quoted(gate.source)}"


def _gate(name: str, kind: GateKind, position: Position) -> Iterator[str]:
    yield f"\n[[gate]]\nname = {quoted(name)}\nkind = {quoted(str(kind))}"
    yield from place_lines(position)


def _electrical(gate: Gate, answers: Answers) -> str:
    words = "metres to keep free of the cable, from its owner: the chart gives its physical height only"
    said = answers.number("electrical_distance_m", words, 0.0, 20.0, place=gate.name, position=gate.position)
    return number_line("electrical_distance_m", said, words)


def _unknown_gates(gaps: Sequence[UnknownGate], answers: Answers) -> Iterator[str]:
    """Bridges, cables and sills of which the cell lacks what counts: a person says it, or they cannot be passed."""
    for gap in gaps:
        yield from _gate(gap.name, gap.kind, gap.position)
        if gap.kind is GateKind.SILL:
            words = "depth over the sill, metres below chart datum, negative dries"
            said = answers.number("sill_depth_m", words, -20.0, 200.0, place=gap.name, position=gap.position)
            yield number_line("depth_m", said, words)
        else:
            words = "metres from its datum up to the underside; the chart does not say"
            height = gap.clearance or answers.number(
                "clearance_m", words, 0.1, 250.0, place=gap.name, position=gap.position
            )
            datum = _datum_said(gap, answers)
            yield number_line("clearance_m", height, words)
            yield (
                asked("clearance_datum", "such as HAT or MHWS")
                if datum is None
                else (f"clearance_datum = {quoted(datum)}")
            )
        yield f"source = {quoted(f'{gap.source}, and as answered')}"


def _datum_said(gap: UnknownGate, answers: Answers, needed: bool = True) -> str | None:
    words = "the datum its height stands above, such as HAT or MHWS"
    return answers.text("clearance_datum", words, place=gap.name, position=gap.position, needed=needed)


def _berths(draft: WaterwayDraft, chosen: BerthDraft | None, answers: Answers) -> Iterator[str]:
    """The berth she goes to; others stand as remarks, since the side that lies to them is never charted."""
    if chosen is not None:
        yield f"\n[[berth]]\nname = {quoted(chosen.name)}"
        for key, place in (("begin", chosen.begin), ("end", chosen.end)):
            words = f"{key} of the berth's face: latitude, longitude in degrees"
            said = place or answers.position(f"berth_{key}", words)
            yield asked(key, words) if said is None else f"{key} = {inline_place(said)}"
        words = "depth alongside, metres below chart datum, negative dries"
        depth = answers.number("berth_depth_m", words, -20.0, 60.0, needed=chosen.depth is None)
        yield number_line("depth_m", chosen.depth if depth is None else depth, words)
        side = side_to(answers)
        yield asked("side_to", '"port" or "starboard"') if side is None else f"side_to = {quoted(side)}"
    for berth in draft.berths:
        if chosen is not None and berth.name == chosen.name:
            continue
        yield f"\n# [[berth]]  # complete it and take the marks away, or leave it out\n# name = {quoted(berth.name)}"
        for key, place in (("begin", berth.begin), ("end", berth.end)):
            yield (
                asked(key, "latitude and longitude of one end of the face")
                if place is None
                else f"# {key} = {inline_place(place)}"
            )
        yield asked("depth_m", "alongside") if berth.depth is None else f"# depth_m = {berth.depth!r}"
        yield asked("side_to", '"port" or "starboard": the side of the ship that lies to it')


def side_to(answers: Answers) -> str | None:
    """Which side of the ship lies to the berth."""
    return answers.text("side_to", "which side of the ship lies to the berth", choices=("port", "starboard"))


def _marks(draft: WaterwayDraft) -> Iterator[str]:
    for mark in draft.marks:
        yield f"\n[[mark]]\nname = {quoted(mark.name)}\nkind = {quoted(mark.kind)}"
        yield from place_lines(mark.position)
        yield f"description = {quoted(mark.description)}"


def _rise(tide: HighLowTable | None, chart_datum: str, answers: Answers) -> float | None:
    """What is added to the heights of the tide table to stand above chart datum; None: not known yet. [m]"""
    if tide is None or tide.datum in ("CD", chart_datum):
        return 0.0
    return height_of(tide.datum, answers)


def _tide(tide: HighLowTable | None, rise: float | None, answers: Answers) -> Iterator[str]:
    if tide is None:
        yield "\n# [[tide_station]]: at least one, from constants or a table of high and low waters"
        return
    yield f"\n[[tide_station]]\nname = {quoted(tide.station)}"
    words = "where the tide table holds: latitude, longitude in degrees"
    place = tide.position or answers.position("tide_position", words)
    if place is None:
        yield asked("latitude", "of the station")
        yield asked("longitude", "of the station")
    else:
        yield from place_lines(place)
    if rise is None:
        yield asked("high_low_table", f"heights above {tide.datum}, to be brought to chart datum")
    else:
        yield 'high_low_table = "tide.csv"'
    yield f"source = {quoted(_brought(tide, rise))}"


def _brought(tide: HighLowTable, rise: float | None) -> str:
    """Where the heights come from, and what was added to them."""
    return f"table of high and low waters for {tide.station}" + (
        f", heights above {tide.datum} raised by {rise:g} m to chart datum" if rise else ""
    )


def _settled(answers: Answers) -> float | None:
    """What may lie on the bed since the survey: no chart says it, and to leave it out would make the water deeper."""
    words = "metres that may have settled on the bed since its survey, by word of the port; 0 where it says none has"
    return answers.number("siltation_m", words, 0.0, 10.0)


def areas_bytes(areas: Sequence[DepthArea], settled: float | None = None) -> bytes:
    """The areas as `areas.geojson`; `settled` on each that has a depth. [m]"""
    features = []
    for area in areas:
        properties: dict[str, Any] = {"name": area.name, "depth_m": "unsurveyed" if area.depth is None else area.depth}
        if area.uncertainty is not None:
            properties["survey_uncertainty_m"] = area.uncertainty
        if settled is not None and area.depth is not None:
            properties["siltation_m"] = settled
        features.append(MapFeature(geometry=polygon_of(area), properties=properties))
    return geojson.to_bytes(features)
