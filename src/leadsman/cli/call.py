"""Commands about a port call: assessed, printed, begun."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.cli.shared import (
    FINE,
    STOPS,
    CallFolder,
    Json,
    Start,
    app,
    counting,
    faults,
    name_files,
    print_json,
    progress,
    store_of,
    time_of,
    told,
)
from leadsman.cli.sources import passed_in


class Paper(StrEnum):
    """Sizes the sheets are laid out for."""

    A4 = "a4"
    LETTER = "us-letter"


Horizon = Annotated[
    float | None,
    typer.Option("--horizon", help="Days of starts looked over for windows, a year is 365.", min=0.1, max=400.0),
]


@app.command()
def assess(call: CallFolder, start: Start = None, horizon: Horizon = None, as_json: Json = False) -> None:
    """Clearances, windows, speeds and the verdict for a port call."""
    with told(as_json):
        from leadsman.documents.data import assessment_data
        from leadsman.documents.terminal import print_assessment

        found = _assessed(call, start, quiet=as_json, horizon=horizon)
        if as_json:
            print_json(assessment_data(found))
        else:
            print_assessment(found)
    raise typer.Exit(FINE if found.verdict.go else STOPS)


@app.command("print")
def print_(
    call: Annotated[
        Path, typer.Argument(help="A port call's folder, or the same zipped; or a ship card alone.", metavar="CALL")
    ],
    folder: Annotated[Path, typer.Option("-o", "--output", help="Where the sheets are written.", metavar="DIR")] = Path(
        "out"
    ),
    rehearsed: Annotated[
        bool, typer.Option("--rehearsed", help="Sail it once and every failure, for the order and contingency sheets.")
    ] = False,
    runs: Annotated[
        int,
        typer.Option(
            "--runs", min=0, max=100_000, help="Drawn runs of a rehearsed pack; kept ones are not sailed anew."
        ),
    ] = 0,
    paper: Annotated[Paper, typer.Option("--paper", help="What the printer holds.")] = Paper.A4,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Write the pack of a port call, or card, poster and booklet of a ship.toml alone: printed sheets to carry."""
    with told(as_json):
        if call.suffix == ".toml":
            if start is not None:
                raise faults("--start", "a ship card has no start; expected a port call's folder with it")
            stops = _print_card(call, folder, paper, as_json)
            raise typer.Exit(STOPS if stops else FINE)
        from leadsman.documents.carried import Rehearsed
        from leadsman.documents.pack import write_pack
        from leadsman.documents.ship_sheets import ship_sheets
        from leadsman.files.export_call import ROUTE_FILES, export
        from leadsman.files.folder import open_folder
        from leadsman.files.record_file import read_record
        from leadsman.files.zip_call import zip_call

        said = read_record(open_folder(call))
        found = _assessed(call, start, quiet=as_json)
        sailed = _rehearsed(found.call, runs, store_of(call, keep=True), as_json) if rehearsed or runs else Rehearsed()
        aboard = ship_sheets(_shipboard(found.call.ship, found.call.loading, quiet=as_json))
        beside = {"call.zip": zip_call(call)}
        with progress("laying out the sheets", quiet=as_json):
            written = write_pack(found, folder, paper.value, record=said, rehearsed=sailed, beside=beside, ship=aboard)
            for name, kind in ROUTE_FILES.items():
                export(found.call, kind, folder / name, passed_in(found))
                written.append(folder / name)
        name_files(written, as_json)
    raise typer.Exit(FINE if found.verdict.go else STOPS)


@app.command()
def record(
    call: CallFolder,
    folder: Annotated[
        Path | None,
        typer.Option("-o", "--output", help="Where it is written as record.pdf and record.json.", metavar="DIR"),
    ] = None,
    as_json: Json = False,
) -> None:
    """What was told, agreed, changed, refused and done: checked against its own marks, as the page has written it.

    A record.json is held against its marks just so, wherever it comes from.
    """
    with told(as_json):
        if call.suffix == ".json":
            if folder is not None:
                raise faults("-o", "a record.json is only checked; expected a port call's folder to write a record of")
            _check_export(call, as_json)
            return
        from leadsman.assessment.assess import fingerprint
        from leadsman.documents.data import assessment_data
        from leadsman.documents.record_data import print_record, record_data
        from leadsman.documents.record_sheet import write_record
        from leadsman.files.call_files import read_call
        from leadsman.files.folder import open_folder
        from leadsman.files.record_file import read_record

        said = read_record(open_folder(call))
        if folder is not None:
            found = _assessed(call, None, quiet=as_json)
            name_files(write_record(assessment_data(found), said, folder), as_json)
            return
        passage = read_call(call)
        data = record_data(said, passage.direction.value, fingerprint(passage))
        if as_json:
            print_json(data)
        else:
            print_record(data)


def _check_export(file: Path, as_json: bool) -> None:
    """Tell what an exported record says, if its entries bear their marks."""
    from leadsman.documents.record_data import print_record, record_data
    from leadsman.files.record_export import read_export

    found = read_export(file)
    data = record_data(found.record, found.direction, found.plan)
    if as_json:
        print_json(data)
    else:
        print_record(data)


def _print_card(file: Path, folder: Path, paper: Paper, as_json: bool) -> bool:
    """Write a card's sheets; whether the card cannot be true as it stands, which the sheets say too."""
    from leadsman.documents.card_sheet import write_card
    from leadsman.files.call_files import read_ship

    found = _shipboard(*read_ship(file), quiet=as_json)
    with progress("laying out the sheets", quiet=as_json):
        written = write_card(found, folder, paper.value)
    name_files(written, as_json)
    return bool(found.card.stops)


def _shipboard(ship: Any, loading: Any, quiet: bool) -> Any:
    """Her card checked, and her manoeuvres for poster and booklet, kept from one print to the next."""
    from leadsman.assessment.posted import posted_manoeuvres
    from leadsman.assessment.shipboard import shipboard
    from leadsman.store.manoeuvres import kept

    with progress("trying her", quiet):
        return shipboard(ship, loading, lambda ship, loading: kept(ship, loading, posted_manoeuvres))


def _rehearsed(call: Any, runs: int, store: Any, quiet: bool) -> Any:
    """The passage sailed once and in drawn runs, likewise to where she anchors; with every failure where it succeeds.

    What is kept is taken.
    """
    from leadsman.assessment.failures import failures_of
    from leadsman.assessment.rehearse import rehearse_call
    from leadsman.documents.carried import Rehearsed
    from leadsman.documents.rehearsal_data import rehearsal_data
    from leadsman.documents.rehearsal_limits import failures_data

    with counting("sailing", quiet) as told_of:
        run = rehearse_call(call, runs, progress=told_of, store=store)
        anchoring = None
        if call.anchoring is not None:
            anchoring = rehearse_call(call, runs, progress=told_of, store=store, anchoring=True)
        lost = failures_of(call, progress=told_of, store=store) if run.planned.success else None
    orders = rehearsal_data(run)
    failures = None if lost is None else failures_data(lost) | {"fingerprint": run.fingerprint}
    return Rehearsed(orders, failures, None if anchoring is None else rehearsal_data(anchoring))


def _assessed(folder: Path, start: str | None, quiet: bool, horizon: float | None = None) -> Any:
    from leadsman.assessment.assess import assess as assess_call
    from leadsman.files.call_files import read_call

    with progress("reading the port call", quiet):
        call = read_call(folder)
        if start is not None:
            call = call.starting(time_of(start))
        if horizon is not None:
            call = call.searching(horizon)
    with progress("assessing", quiet):
        return assess_call(call)
