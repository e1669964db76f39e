"""The command that tells what wind and stream she can be held in."""

from typing import Annotated

import typer

from leadsman.cli.shared import FINE, STOPS, CallFolder, Json, Start, app, faults, print_json, progress, time_of, told


@app.command()
def limits(
    call: CallFolder,
    static: Annotated[bool, typer.Option("--static", help="By a balance of forces, without a rehearsal.")] = False,
    start: Start = None,
    as_json: Json = False,
) -> None:
    """Greatest wind by direction she is held in, with and without tugs; who holds her; what would be needed."""
    with told(as_json):
        if not static:
            raise faults("limits", "limits by rehearsal are not there yet; expected --static, by a balance of forces")
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
