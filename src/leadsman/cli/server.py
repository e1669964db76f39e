"""The command that serves the page."""

from pathlib import Path
from typing import Annotated

import typer

from leadsman.cli.shared import Json, app, faults, print_json, told


@app.command()
def serve(
    folder: Annotated[Path, typer.Argument(help="The folder that holds the port calls.", metavar="FOLDER")] = Path(
        "examples"
    ),
    port: Annotated[int, typer.Option(min=1, max=65535, help="The port on this machine.")] = 8462,
    as_json: Json = False,
) -> None:
    """Serve the page on this machine only, at http://127.0.0.1:PORT."""
    with told(as_json):
        if not folder.is_dir():
            raise faults(folder, "is no folder; expected a folder of port calls")
        import uvicorn

        from leadsman.web.app import create_app

        address = f"http://127.0.0.1:{port}"
        if as_json:
            print_json({"schema": "leadsman.serve/1", "address": address})
        else:
            print(f"Leadsman on {address} (this machine only). Stop with Ctrl-C.")
        uvicorn.run(create_app(folder), host="127.0.0.1", port=port, log_level="warning")
