"""What all commands share: the app, their common arguments, how faults and progress are told, how data is printed."""

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.errors import InputError, InputErrors, LeadsmanError
from leadsman.manner import Manner, written_in, zone_of

app = typer.Typer(
    name="leadsman",
    help="From a ship's card and the water to a checked, computed passage plan. For planning only, not for navigation.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


@app.callback()
def manner(
    context: typer.Context,
    feet: Annotated[bool, typer.Option("--feet", help="Write lengths, depths and heights in feet.")] = False,
    kilonewtons: Annotated[bool, typer.Option("--kilonewtons", help="Write forces in kilonewtons.")] = False,
    zone: Annotated[
        str, typer.Option("--zone", help="Write times by this clock: UTC, or its difference such as +01:00.")
    ] = "UTC",
) -> None:
    with told(as_json=False):
        chosen = Manner(
            lengths="feet" if feet else "metres", forces="kilonewtons" if kilonewtons else "tonnes", zone=zone_of(zone)
        )
    context.with_resource(written_in(chosen))


CallFolder = Annotated[Path, typer.Argument(help="A port call's folder, or the same zipped.", metavar="CALL")]
Json = Annotated[bool, typer.Option("--json", help="Print data instead of words.")]
Start = Annotated[
    str | None,
    typer.Option("--start", help="Another start time, with zone, such as 2031-05-04T06:00Z.", metavar="TIME"),
]

FINE, STOPS, FAULTS, STOPPED = 0, 1, 2, 130


def name_files(written: list[Path], as_json: bool) -> None:
    if as_json:
        print_json({"schema": "leadsman.pack/1", "files": [str(path) for path in written]})
    else:
        for path in written:
            print(path)


def time_of(word: str) -> datetime:
    try:
        time = datetime.fromisoformat(word)
    except ValueError:
        raise faults("--start", f"'{word}' is no time; expected such as 2031-05-04T06:00Z") from None
    if time.tzinfo is None:
        raise faults("--start", f"'{word}' has no zone; expected such as 2031-05-04T06:00Z")
    return time.astimezone(UTC)


def faults(place: Path | str, problem: str) -> InputErrors:
    return InputErrors([InputError(str(place), None, "", problem)])


@contextmanager
def told(as_json: bool) -> Iterator[None]:
    """Known failures are one clean line each, never a traceback."""
    try:
        yield
    except InputErrors as faults:
        if as_json:
            shape = [
                {"file": fault.file, "line": fault.line, "field": fault.field, "problem": fault.problem}
                for fault in faults.errors
            ]
            print_json({"schema": "leadsman.errors/1", "errors": shape})
        else:
            print(faults, file=sys.stderr)
        raise typer.Exit(FAULTS) from None
    except LeadsmanError as failure:
        if as_json:
            shape = [{"file": None, "line": None, "field": None, "problem": str(failure)}]
            print_json({"schema": "leadsman.errors/1", "errors": shape})
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
def progress(what: str, quiet: bool) -> Iterator[None]:
    """A line on a terminal that says what takes time; nothing where nobody looks."""
    if quiet or not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{what} ..."):
        yield


@contextmanager
def counting(what: str, quiet: bool) -> Iterator[Callable[[int, int], None]]:
    """A count on a terminal of what is done of how many; nothing where nobody looks."""
    if quiet or not sys.stderr.isatty():
        yield lambda done, of: None
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{what} ...") as status:
        yield lambda done, of: status.update(f"{what} {done} of {of} ...")


def print_json(data: Any) -> None:
    json.dump(data, sys.stdout, ensure_ascii=False, allow_nan=False, indent=1)
    print()


def store_of(call: Path, keep: bool) -> Any:
    """Where what is sailed is kept; None where nothing is to be, or can be."""
    from leadsman.files.rehearsal_store import RehearsalStore

    return RehearsalStore(call) if keep and call.is_dir() else None
