"""Commands between a port call and the files of others: begun from them, imported, exported."""

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.cli.shared import FAULTS, CallFolder, Json, Start, app, faults, print_json, progress, time_of, told


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="A folder that does not exist yet.", metavar="FOLDER")],
    chart: Annotated[
        Path | None, typer.Option("--chart", help="An S-57 cell, NAME.000, its updates beside it.", metavar="CELL")
    ] = None,
    tide: Annotated[
        Path | None, typer.Option("--tide", help="High and low waters: time,height_m.", metavar="CSV")
    ] = None,
    ship: Annotated[Path | None, typer.Option("--ship", help="A ship card, ship.toml.", metavar="SHIP")] = None,
    route: Annotated[
        Path | None,
        typer.Option(
            "--route", help="RTZ, GPX, GeoJSON or GeoPackage; left out: the recommended track.", metavar="FILE"
        ),
    ] = None,
    depths: Annotated[
        Path | None, typer.Option("--depths", help="A newer survey: S-102, or a table of soundings.", metavar="FILE")
    ] = None,
    berth: Annotated[str | None, typer.Option("--berth", help="The berth of the chart.", metavar="NAME")] = None,
    start: Annotated[
        str | None, typer.Option("--start", help="When she passes the first point, with zone.", metavar="TIME")
    ] = None,
    speed: Annotated[
        str | None, typer.Option("--speed", help="Through the water, or an engine order.", metavar="KNOTS")
    ] = None,
    say: Annotated[
        list[str] | None,
        typer.Option("--say", help="What no file says, or KEY@PLACE for one place alone.", metavar="KEY=VALUE"),
    ] = None,
    as_json: Json = False,
) -> None:
    """Begin a port call: from a chart cell, a tide table and a ship card; or without them, with every key explained."""
    with told(as_json):
        from leadsman.files.new_call import write_new_call

        given = {"--chart": chart, "--tide": tide, "--ship": ship}
        said = _said(say or [], {"berth": berth, "start": start, "speed_kn": speed})
        if not any(given.values()):
            if route or depths or said:
                raise faults("--chart", "is missing; expected it with --tide and --ship")
            written, findings = write_new_call(folder), list[Any]()
        else:
            for name in (name for name, path in given.items() if path is None):
                raise faults(name, "is missing; expected --chart, --tide and --ship together")
            paths = {"chart": chart, "tide": tide, "ship": ship, "route": route, "depths": depths}
            written, findings = _from_sources(folder, said, as_json, **paths)
        if as_json:
            print_json(
                {
                    "schema": "leadsman.new/1",
                    "files": [str(path) for path in written],
                    "findings": [{"grade": str(one.grade), "sentence": one.sentence} for one in findings],
                }
            )
        else:
            for path in written:
                print(path)
            for one in findings:
                print(f"{one.grade}: {one.sentence}")
            print(f"Look through these, then: leadsman assess {folder}")


def _said(pairs: Iterable[str], options: dict[str, str | None]) -> dict[str, str]:
    """Answers by key, from options and from KEY=VALUE words."""
    said = {key: value for key, value in options.items() if value is not None}
    for pair in pairs:
        key, mark, value = pair.partition("=")
        if not mark or not key.strip() or not value.strip():
            raise faults("--say", f"'{pair}' is no answer; expected KEY=VALUE")
        said[key.strip()] = value.strip()
    return said


def _from_sources(folder: Path, said: dict[str, str], as_json: bool, **paths: Any) -> tuple[list[Path], Any]:
    """The call's files and findings; asked for on a terminal, refused elsewhere, while anything is open."""
    from leadsman.files.from_sources import Sources, call_from_sources
    from leadsman.files.new_call import must_not_exist, write_folder

    must_not_exist(folder)
    sources = Sources(**paths)
    while True:
        with progress("reading the chart", quiet=as_json):
            made = call_from_sources(sources, said)
        if not made.open:
            return write_folder(folder, made.files), made.findings
        if as_json or not sys.stdin.isatty() or any(question.needs_file for question in made.open):
            _refuse_open(made.open, as_json)
        for question in made.open:
            said[question.key] = _ask(question)


def _ask(question: Any) -> str:
    """The answer typed on a terminal."""
    choices = f" ({', '.join(question.choices)})" if question.choices else ""
    print(f"{question.asked_of}: {question.sentence}{choices}: ", end="", file=sys.stderr, flush=True)
    answer = sys.stdin.readline()
    if not answer:
        raise KeyboardInterrupt
    return answer.strip()


def _refuse_open(questions: Iterable[Any], as_json: bool) -> None:
    """Say everything that no file says and nothing was put in place of."""
    if as_json:
        shape = [
            {
                "key": question.key,
                "places": list(question.places),
                "sentence": question.sentence,
                "choices": list(question.choices),
                "other": question.other,
                "needs_file": question.needs_file,
            }
            for question in questions
        ]
        print_json({"schema": "leadsman.open-questions/1", "questions": shape})
    else:
        print("The files do not say this; give each as --say KEY=VALUE:", file=sys.stderr)
        for question in questions:
            choices = f"; {', '.join(question.choices)}" if question.choices else ""
            print(f"  {question.asked_of}: {question.sentence}{choices}", file=sys.stderr)
    raise typer.Exit(FAULTS)


@app.command("import")
def import_(
    file: Annotated[Path, typer.Argument(help="A chart cell, route, table, grid or log.", metavar="FILE")],
    call: Annotated[
        Path | None, typer.Option("--along", help="The port call whose track and datum count.", metavar="CALL")
    ] = None,
    folder: Annotated[
        Path | None, typer.Option("-o", "--output", help="A new folder for the same as files of ours.", metavar="DIR")
    ] = None,
    as_json: Json = False,
) -> None:
    """Say what a file of another program holds, and write it as pieces of a port call."""
    with told(as_json):
        from leadsman.files.call_files import read_call
        from leadsman.files.import_file import import_file
        from leadsman.files.new_call import must_not_exist, write_folder

        if folder is not None:
            must_not_exist(folder)
        along = None if call is None else read_call(call)
        with progress("reading", quiet=as_json):
            found = import_file(file, along)
        files = [] if folder is None or not found.files else write_folder(folder, found.files)
        if as_json:
            print_json(
                {
                    "schema": "leadsman.import/1",
                    "format": str(found.format),
                    "holds": list(found.holds),
                    "notes": list(found.notes),
                    "files": [str(path) for path in files] if folder is not None else sorted(found.files),
                }
            )
        else:
            print(f"{file.name}: {found.format}")
            for line in found.holds:
                print(f"  {line}")
            for note in found.notes:
                print(f"  note: {note}")
            for path in files:
                print(path)


@app.command()
def export(
    call: CallFolder,
    to: Annotated[str, typer.Option("--to", help="rtz, gpx, geojson, geopackage or csv.", metavar="FORMAT")],
    file: Annotated[Path, typer.Option("-o", "--output", help="The file to write.", metavar="FILE")],
    times: Annotated[bool, typer.Option("--times", help="With the times of the assessed passage.")] = False,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Write the track of a port call, and its waterway where the format holds maps, for other programs."""
    with told(as_json):
        from leadsman.assessment.assess import assess
        from leadsman.files.call_files import read_call
        from leadsman.files.export_call import ExportFormat, export

        if to not in list(ExportFormat):
            raise faults("--to", f"'{to}' is no format; expected one of {', '.join(ExportFormat)}")
        passage = read_call(call)
        if start is not None:
            passage = passage.starting(time_of(start))
        with progress("assessing", quiet=as_json or not times):
            passed = passed_in(assess(passage)) if times else ()
        export(passage, ExportFormat(to), file, passed)
        if as_json:
            print_json({"schema": "leadsman.export/1", "file": str(file), "format": to})
        else:
            print(file)


def passed_in(assessment: Any) -> list[Any]:
    """When the assessed passage passes each waypoint."""
    from leadsman.files.export_call import Passed

    legs = assessment.legs
    first = Passed(time=legs[0].time_begin)
    later = [Passed(time=leg.time_end.replace(microsecond=0), speed=leg.mean_speed_over_ground) for leg in legs]
    return [first, *later]
