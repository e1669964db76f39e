"""The passage as it was, against the plan."""

from pathlib import Path
from typing import Annotated

import typer

from leadsman.cli.shared import FINE, STOPS, CallFolder, Json, app, print_json, progress, told


@app.command()
def after(
    call: CallFolder,
    track: Annotated[
        Path, typer.Argument(help="The log of the passage: AIS or NMEA, GPX with times, GeoJSON.", metavar="TRACK")
    ],
    vessel: Annotated[
        str | None, typer.Option("--vessel", help="Which vessel of the log, by name or MMSI.", metavar="NAME")
    ] = None,
    residual: Annotated[
        float | None,
        typer.Option("--residual", min=-8.0, max=8.0, help="Metres the gauge stood above the prediction meanwhile."),
    ] = None,
    antenna: Annotated[
        float | None,
        typer.Option("--antenna", min=0.0, max=500.0, help="Metres from the bow to the antenna of the positions."),
    ] = None,
    as_json: Json = False,
) -> None:
    """A passage as sailed against its plan: times, speeds, room, what was left under the keel, what it teaches."""
    with told(as_json):
        from leadsman.assessment.after import after as compared
        from leadsman.documents.after_data import after_data, print_after
        from leadsman.figure import Grade
        from leadsman.files.call_files import read_call
        from leadsman.files.sailed_file import read_sailed

        plan = read_call(call)
        log, notes = read_sailed(track, vessel)
        with progress("laying the log along the track", quiet=as_json):
            found = compared(plan, log, residual, antenna)
        if as_json:
            print_json({**after_data(found), "notes": list(notes)})
        else:
            print_after(found)
            for note in notes:
                print(f"Of the log: {note}.")
    broken = any(finding.grade is Grade.STOP for finding in found.findings)
    raise typer.Exit(STOPS if broken else FINE)
