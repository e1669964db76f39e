"""The command that tells what wind and stream she can be held in."""

from pathlib import Path
from typing import Annotated

import typer

from leadsman.cli.rehearse import Keep
from leadsman.cli.shared import (
    FINE,
    STOPS,
    CallFolder,
    Json,
    Start,
    app,
    counting,
    print_json,
    progress,
    store_of,
    time_of,
    told,
)


@app.command()
def limits(
    call: CallFolder,
    static: Annotated[bool, typer.Option("--static", help="By a balance of forces, without a rehearsal.")] = False,
    stream: Annotated[bool, typer.Option("--stream", help="The greatest stream instead, by state of tide.")] = False,
    runs: Annotated[int, typer.Option("--runs", min=1, max=10_000, help="Runs rehearsed for each wind.")] = 20,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Of the draws.")] = 1,
    directions: Annotated[int, typer.Option("--directions", min=1, max=72, help="The wind is rehearsed from.")] = 8,
    keep: Keep = True,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Greatest wind by direction she is held in, with and without tugs; who holds her; what would be needed.

    What is rehearsed is kept in the call's folder: stopped and asked again, it goes on where it was.
    """
    with told(as_json):
        if stream:
            _stream(call, runs, seed, keep, start, as_json)
            raise typer.Exit(FINE)
        if not static:
            _rehearsed(call, runs, seed, directions, keep, start, as_json)
            raise typer.Exit(FINE)
        from leadsman.assessment.holding.findings import stopping
        from leadsman.assessment.holding.limits import static_limits
        from leadsman.documents.limits import limits_data, print_limits
        from leadsman.files.call_files import read_call

        passage = read_call(call)
        passage = passage if start is None else passage.starting(time_of(start))
        with progress("working out the limits", quiet=as_json):
            found = static_limits(passage)
        if as_json:
            print_json(limits_data(passage, found))
        else:
            print_limits(passage, found)
    raise typer.Exit(STOPS if stopping(found.answer) else FINE)


def _rehearsed(call: Path, runs: int, seed: int, directions: int, keep: bool, start: str | None, as_json: bool) -> None:
    from leadsman.assessment.limits import rehearsed_limits
    from leadsman.documents.rehearsal_limits import limits_data, print_limits
    from leadsman.files.call_files import read_call

    passage = read_call(call)
    passage = passage if start is None else passage.starting(time_of(start))
    with counting("directions", quiet=as_json) as told_of:
        found = rehearsed_limits(
            passage, runs, seed, directions=directions, progress=told_of, store=store_of(call, keep)
        )
    if as_json:
        print_json(limits_data(found))
    else:
        print_limits(found)


def _stream(call: Path, runs: int, seed: int, keep: bool, start: str | None, as_json: bool) -> None:
    from leadsman.assessment.limits_stream import stream_limits
    from leadsman.documents.stream_limits import print_stream_limits, stream_limits_data
    from leadsman.files.call_files import read_call

    passage = read_call(call)
    passage = passage if start is None else passage.starting(time_of(start))
    with counting("states of the tide", quiet=as_json) as told_of:
        found = stream_limits(passage, runs, seed, progress=told_of, store=store_of(call, keep))
    if as_json:
        print_json(stream_limits_data(found))
    else:
        print_stream_limits(found)
