"""Commands that rehearse a port call, and rehearse it with something failing."""

from typing import Annotated

import typer

from leadsman.cli.shared import FINE, STOPS, CallFolder, Json, Start, app, counting, print_json, store_of, time_of, told

Runs = Annotated[int, typer.Option("--runs", min=0, max=100_000, help="Runs with everything uncertain drawn.")]
Seed = Annotated[int, typer.Option("--seed", min=0, help="Of the draws: equal seeds, equal runs.")]

Keep = Annotated[bool, typer.Option("--keep/--no-keep", help="Keep what is sailed in the call's folder.")]

ToAnchor = Annotated[bool, typer.Option("--to-anchor", help="Only to where she anchors, by [anchoring] of call.toml.")]


@app.command()
def rehearse(
    call: CallFolder,
    runs: Runs = 0,
    seed: Seed = 1,
    to_anchor: ToAnchor = False,
    keep: Keep = True,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Sail a port call in time with orders a person could give: once, or many times with everything uncertain drawn.

    Drawn runs are kept in the call's folder as they are sailed: stopped and asked again, it goes on where it was.
    """
    with told(as_json):
        from leadsman.assessment.rehearse import rehearse_call
        from leadsman.documents.rehearsal_data import print_rehearsal, rehearsal_data
        from leadsman.files.call_files import read_call

        asked = read_call(call)
        if start is not None:
            asked = asked.starting(time_of(start))
        with counting("sailing", quiet=as_json) as progress:
            found = rehearse_call(asked, runs, seed, progress=progress, store=store_of(call, keep), anchoring=to_anchor)
        if as_json:
            print_json(rehearsal_data(found))
        else:
            print_rehearsal(found)
    raise typer.Exit(FINE if found.planned.success and not found.stops else STOPS)


@app.command()
def failures(
    call: CallFolder,
    every: Annotated[float, typer.Option("--every", min=10.0, max=3600.0, help="Seconds between two failures.")] = 60.0,
    keep: Keep = True,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Engine, rudder, thrusters, power or a tug lost at every minute: time left, the best answer, where none helps.

    What is sailed is kept in the call's folder: stopped and asked again, it goes on where it was.
    """
    with told(as_json):
        from leadsman.assessment.failures import failures_of
        from leadsman.documents.rehearsal_limits import failures_data, print_failures
        from leadsman.files.call_files import read_call

        asked = read_call(call)
        if start is not None:
            asked = asked.starting(time_of(start))
        with counting("failures", quiet=as_json) as progress:
            found = failures_of(asked, every, progress, store_of(call, keep))
        if as_json:
            print_json(failures_data(found))
        else:
            print_failures(found)
