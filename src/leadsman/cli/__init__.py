"""The command line: each command a few lines over the library; heavy imports inside, so that --help answers at once.

One module a subject; the order of their imports is the order in which `leadsman --help` lists their commands.
Exit 0: fine. 1: findings of grade stop. 2: faults of the input, or nothing can be computed. 130: stopped by the user.
"""

import sys

from leadsman.cli import ship  # isort: skip # in the order a handler comes to need them
from leadsman.cli import call, sources, limits, rehearse, after, server  # isort: skip
from leadsman.cli.shared import STOPPED, app

__all__ = ["after", "app", "call", "limits", "main", "rehearse", "server", "ship", "sources"]


def main() -> None:
    """The `leadsman` command."""
    try:
        app()
    except KeyboardInterrupt:  # between the commands' own guards: while modules load
        print(file=sys.stderr)
        sys.exit(STOPPED)
