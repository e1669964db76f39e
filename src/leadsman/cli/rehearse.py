"""The command that rehearses a port call."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Annotated

import typer

from leadsman.cli.shared import FINE, STOPS, CallFolder, Json, Start, app, print_json, time_of, told

Runs = Annotated[int, typer.Option("--runs", min=0, max=100_000, help="Runs with everything uncertain drawn.")]
Seed = Annotated[int, typer.Option("--seed", min=0, help="Of the draws: equal seeds, equal runs.")]


@app.command()
def rehearse(call: CallFolder, runs: Runs = 0, seed: Seed = 1, start: Start = None, as_json: Json = False) -> None:
    """Sail a port call in time with orders a person could give: once, or many times with everything uncertain drawn."""
    with told(as_json):
        from leadsman.assessment.rehearse import rehearse_call
        from leadsman.documents.rehearsal_data import print_rehearsal, rehearsal_data
        from leadsman.files.call_files import read_call

        asked = read_call(call)
        if start is not None:
            asked = asked.starting(time_of(start))
        with counting("sailing", quiet=as_json) as progress:
            found = rehearse_call(asked, runs, seed, progress=progress)
        if as_json:
            print_json(rehearsal_data(found))
        else:
            print_rehearsal(found)
    raise typer.Exit(FINE if found.planned.success else STOPS)


@contextmanager
def counting(what: str, quiet: bool) -> Iterator[Callable[[int, int], None]]:
    """A count on a terminal of what is done of how many; nothing where nobody looks."""
    if quiet or not sys.stderr.isatty():
        yield lambda done, of: None
        return
    from rich.console import Console

    with Console(stderr=True).status(f"{what} ...") as status:
        yield lambda done, of: status.update(f"{what} {done} of {of} ...")
