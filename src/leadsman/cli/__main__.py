"""`python -m leadsman.cli` is `leadsman`."""

from leadsman.cli import main

main()
