"""The command line: each command a few lines over the library; heavy imports inside, so that --help answers at once.

Exit 0: fine. 1: findings of grade stop. 2: faults of the input, or nothing can be computed. 130: stopped by the user.
"""

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.errors import InputError, InputErrors, LeadsmanError

app = typer.Typer(
    name="leadsman",
    help="From a ship's card and the water to a checked, computed passage plan. For planning only, not for navigation.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

CallFolder = Annotated[Path, typer.Argument(help="A port call's folder, or the same zipped.", metavar="CALL")]
Json = Annotated[bool, typer.Option("--json", help="Print data instead of words.")]
Start = Annotated[
    str | None,
    typer.Option("--start", help="Another start time, with zone, such as 2031-05-04T06:00Z.", metavar="TIME"),
]

FINE, STOPS, FAULTS, STOPPED = 0, 1, 2, 130


@app.command()
def check(
    ships: Annotated[
        list[Path], typer.Argument(help="Ship cards: ship.toml, or the folder it lies in.", metavar="SHIP...")
    ],
    as_json: Json = False,
) -> None:
    """Check ship cards against themselves, published limits and plausibility, and say what they leave out."""
    with _told(as_json):
        stops = _checked(ships, as_json)
    raise typer.Exit(STOPS if stops else FINE)


@app.command()
def card(
    file: Annotated[Path, typer.Argument(help="A file that does not exist yet, such as ship.toml.", metavar="FILE")],
    as_json: Json = False,
) -> None:
    """Ask a way through a ship card, write it, and check it."""
    with _told(as_json):
        from leadsman.files.ask_card import ask_card, must_be_new, write_card_file

        must_be_new(file)
        try:
            answers = ask_card(_asked_aside, lambda words: print(words, file=sys.stderr))
        except EOFError:
            raise KeyboardInterrupt from None
        write_card_file(file, answers)
        stops = _checked([file], as_json)
    raise typer.Exit(STOPS if stops else FINE)


@app.command()
def trials(
    ship: Annotated[Path, typer.Argument(help="A ship.toml, or the folder it lies in.", metavar="SHIP")],
    depth_ratio: Annotated[
        float | None, typer.Option("--depth-ratio", help="Water depth by draught; left out: deep water.", min=1.0)
    ] = None,
    as_json: Json = False,
) -> None:
    """Turning, zig-zag, stopping and slow-speed trials estimated from the card, against MSC.137(76)."""
    with _told(as_json):
        from leadsman.assessment.manoeuvres import manoeuvres
        from leadsman.documents.manoeuvres_data import manoeuvres_data, print_manoeuvres
        from leadsman.files.call_files import read_ship

        card, loading = read_ship(ship)
        with _progress("trying her", quiet=as_json):
            found = manoeuvres(card, loading, depth_ratio)
        if as_json:
            _print_json(manoeuvres_data(found))
        else:
            print_manoeuvres(found)


@app.command()
def assess(call: CallFolder, start: Start = None, as_json: Json = False) -> None:
    """Clearances, windows, speeds and the verdict for a port call."""
    with _told(as_json):
        from leadsman.documents.data import assessment_data
        from leadsman.documents.terminal import print_assessment

        found = _assessed(call, start, quiet=as_json)
        if as_json:
            _print_json(assessment_data(found))
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
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Write the pack of a port call, or card and poster of a ship.toml alone: printed sheets to carry."""
    with _told(as_json):
        if call.suffix == ".toml":
            if start is not None:
                raise _faults("--start", "a ship card has no start; expected a port call's folder with it")
            stops = _print_card(call, folder, as_json)
            raise typer.Exit(STOPS if stops else FINE)
        from leadsman.documents.pack import write_pack

        found = _assessed(call, start, quiet=as_json)
        with _progress("laying out the sheets", quiet=as_json):
            written = write_pack(found, folder)
        _name(written, as_json)
    raise typer.Exit(FINE if found.verdict.go else STOPS)


@app.command()
def serve(
    folder: Annotated[Path, typer.Argument(help="The folder that holds the port calls.", metavar="FOLDER")] = Path(
        "examples"
    ),
    port: Annotated[int, typer.Option(min=1, max=65535, help="The port on this machine.")] = 8462,
    as_json: Json = False,
) -> None:
    """Serve the page on this machine only, at http://127.0.0.1:PORT."""
    with _told(as_json):
        if not folder.is_dir():
            raise _faults(folder, "is no folder; expected a folder of port calls")
        import uvicorn

        from leadsman.web.app import create_app

        address = f"http://127.0.0.1:{port}"
        if as_json:
            _print_json({"schema": "leadsman.serve/1", "address": address})
        else:
            print(f"Leadsman on {address} (this machine only). Stop with Ctrl-C.")
        uvicorn.run(create_app(folder), host="127.0.0.1", port=port, log_level="warning")


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="A folder that does not exist yet.", metavar="FOLDER")],
    as_json: Json = False,
) -> None:
    """Begin a port call: a folder of files with every key explained, ready to be edited and assessed."""
    with _told(as_json):
        from leadsman.files.new_call import write_new_call

        written = write_new_call(folder)
        if as_json:
            _print_json({"schema": "leadsman.new/1", "files": [str(path) for path in written]})
        else:
            for path in written:
                print(path)
            print(f"Edit these, then: leadsman assess {folder}")


def _checked(files: list[Path], as_json: bool) -> bool:
    """Print what is said of each card; whether any of them cannot be true as it stands."""
    from leadsman.assessment.checked_card import checked_card
    from leadsman.documents.card_report import card_report
    from leadsman.documents.terminal import print_card

    cards = [checked_card(ship, loading) for ship, loading in _read_ships(files)]
    if as_json:
        reports = [card_report(one.ship.name, one.findings, one.figures, one.meanings) for one in cards]
        _print_json({"schema": "leadsman.checked-cards/1", "cards": reports})
    else:
        for number, one in enumerate(cards):
            if number:
                print()
            print_card(one.ship, one.loading, one.findings, one.figures, one.meanings)
    return any(one.stops for one in cards)


def _read_ships(files: list[Path]) -> list[Any]:
    """Every card, or the faults of all of them at once."""
    from leadsman.files.call_files import read_ship

    read: list[Any] = []
    faults: list[InputError] = []
    for file in files:
        try:
            read.append(read_ship(file))
        except InputErrors as found:
            faults.extend(found.errors)
    if faults:
        raise InputErrors(faults)
    return read


def _print_card(file: Path, folder: Path, as_json: bool) -> bool:
    """Write a card's sheets; whether the card cannot be true as it stands, which the sheets say too."""
    from leadsman.assessment.checked_card import checked_card
    from leadsman.documents.card_sheet import write_card
    from leadsman.files.call_files import read_ship

    card = checked_card(*read_ship(file))
    _name(write_card(card.ship, card.loading, card.findings, card.figures, card.meanings, folder), as_json)
    return card.stops


def _name(written: list[Path], as_json: bool) -> None:
    if as_json:
        _print_json({"schema": "leadsman.pack/1", "files": [str(path) for path in written]})
    else:
        for path in written:
            print(path)


def _asked_aside(question: str) -> str:
    """The answer to a question put where it does not mix with what is printed."""
    print(question, end="", file=sys.stderr, flush=True)
    answer = sys.stdin.readline()
    if not answer:
        raise EOFError
    return answer.rstrip("\n")


def _assessed(folder: Path, start: str | None, quiet: bool) -> Any:
    from leadsman.assessment.assess import assess as assess_call
    from leadsman.files.call_files import read_call

    with _progress("reading the port call", quiet):
        call = read_call(folder)
        if start is not None:
            call = call.starting(_time(start))
    with _progress("assessing", quiet):
        return assess_call(call)


def _time(word: str) -> datetime:
    try:
        time = datetime.fromisoformat(word)
    except ValueError:
        raise _faults("--start", f"'{word}' is no time; expected such as 2031-05-04T06:00Z") from None
    if time.tzinfo is None:
        raise _faults("--start", f"'{word}' has no zone; expected such as 2031-05-04T06:00Z")
    return time.astimezone(UTC)


def _faults(place: Path | str, problem: str) -> InputErrors:
    return InputErrors([InputError(str(place), None, "", problem)])


@contextmanager
def _told(as_json: bool) -> Iterator[None]:
    """Known failures are one clean line each, never a traceback."""
    try:
        yield
    except InputErrors as faults:
        if as_json:
            shape = [
                {"file": fault.file, "line": fault.line, "field": fault.field, "problem": fault.problem}
                for fault in faults.errors
            ]
            _print_json({"schema": "leadsman.errors/1", "errors": shape})
        else:
            print(faults, file=sys.stderr)
        raise typer.Exit(FAULTS) from None
    except LeadsmanError as failure:
        if as_json:
            shape = [{"file": None, "line": None, "field": None, "problem": str(failure)}]
            _print_json({"schema": "leadsman.errors/1", "errors": shape})
        else:
            print(failure, file=sys.stderr)
        raise typer.Exit(FAULTS) from None
    except OSError as failure:
        print(f"{failure.filename or ''}: cannot be used: {failure.strerror}", file=sys.stderr)
        raise typer.Exit(FAULTS) from None
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        raise typer.Exit(STOPPED) from None


@contextmanager
def _progress(what: str, quiet: bool) -> Iterator[None]:
    """A line on a terminal that says what takes time; nothing where nobody looks."""
    if quiet or not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{what} ..."):
        yield


def _print_json(data: Any) -> None:
    json.dump(data, sys.stdout, ensure_ascii=False, allow_nan=False, indent=1)
    print()


def main() -> None:
    """The `leadsman` command."""
    try:
        app()
    except KeyboardInterrupt:  # between the commands' own guards: while modules load
        print("stopped", file=sys.stderr)
        sys.exit(STOPPED)
