"""Commands about a ship alone: her card checked, asked for, and what she does in trials."""

import sys
from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.cli.shared import FINE, STOPS, Json, app, faults, print_json, progress, told
from leadsman.errors import InputError, InputErrors


class Condition(StrEnum):
    """How a ship may be loaded."""

    LOADED = "loaded"
    BALLAST = "ballast"


@app.command()
def check(
    ships: Annotated[
        list[Path], typer.Argument(help="Ship cards: ship.toml, or the folder it lies in.", metavar="SHIP...")
    ],
    own: Annotated[
        list[str] | None,
        typer.Option(
            "--own",
            help="Your own figure in place of an estimate, a key of [own_figures], and after a blank where you have "
            "it from; what it changes is told.",
            metavar="KEY=VALUE",
        ),
    ] = None,
    keep: Annotated[bool, typer.Option("--keep", help="Write the own figures into the card's file.")] = False,
    as_json: Json = False,
) -> None:
    """Check ship cards against themselves, published limits and plausibility, and say what they leave out."""
    with told(as_json):
        file = _kept_in(ships, own) if keep else None
        stops = _checked(ships, as_json, own or [])
        if file is not None:
            from leadsman.files.own_figures_file import keep_own_figures

            keep_own_figures(file, own or [])
    raise typer.Exit(STOPS if stops else FINE)


@app.command()
def compare(
    ship: Annotated[Path, typer.Argument(help="A ship.toml, or the folder it lies in.", metavar="SHIP")],
    other: Annotated[
        Path | None,
        typer.Argument(
            help="Another card, or the same ship's in another loading; left out: her other condition, estimated.",
            metavar="OTHER",
        ),
    ] = None,
    everything: Annotated[bool, typer.Option("--all", help="Show what is equal too.")] = False,
    as_json: Json = False,
) -> None:
    """Set two ship cards, or two loadings of one ship, side by side, and say what the differences mean."""
    with told(as_json):
        from leadsman.assessment.beside import beside
        from leadsman.assessment.checked_card import checked_card
        from leadsman.assessment.conditions import other_condition
        from leadsman.documents.beside_data import beside_data, print_beside

        first, *rest = _read_ships([ship] if other is None else [ship, other])
        second = rest[0] if rest else (first[0], other_condition(*first))
        two = beside(checked_card(*first), checked_card(*second), loading_estimated=not rest)
        if as_json:
            print_json(beside_data(two))
        else:
            print_beside(two, everything)


@app.command()
def card(
    file: Annotated[Path, typer.Argument(help="A file that does not exist yet, such as ship.toml.", metavar="FILE")],
    as_json: Json = False,
) -> None:
    """Ask a way through a ship card, write it, and check it."""
    with told(as_json):
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
    condition: Annotated[
        Condition | None,
        typer.Option("--condition", help="Loaded or in ballast; the one her card does not speak of is estimated."),
    ] = None,
    draws: Annotated[
        int, typer.Option("--draws", help="Of the uncertain ship, for the bands; 0: none.", min=0, max=1000)
    ] = 40,
    as_json: Json = False,
) -> None:
    """Turning, zig-zag, stopping and slow-speed trials with their bands, estimated from card and poster, against
    MSC.137(76)."""
    with told(as_json):
        from leadsman.assessment.manoeuvres import manoeuvres
        from leadsman.documents.manoeuvres_data import manoeuvres_data, print_manoeuvres
        from leadsman.files.call_files import read_ship

        card, loading = read_ship(ship)
        with progress("trying her", quiet=as_json):
            found = manoeuvres(card, loading, depth_ratio, condition=condition, draws=draws)
        if as_json:
            print_json(manoeuvres_data(found))
        else:
            print_manoeuvres(found)


def _kept_in(ships: Sequence[Path], own: Sequence[str] | None) -> Path:
    """The one file that own figures can be written into."""
    if not own or len(ships) != 1:
        raise faults("--keep", "expected one card and at least one --own KEY=VALUE to be kept in it")
    (ship,) = ships
    file = ship / "ship.toml" if ship.is_dir() else ship
    if file.suffix != ".toml":
        raise faults(ship, "is no ship.toml that could be written into; expected one, or its folder")
    return file


def _checked(files: list[Path], as_json: bool, own: Sequence[str] = ()) -> bool:
    """Print what is said of each card; whether any of them cannot be true as it stands."""
    from leadsman.assessment.checked_card import checked_card
    from leadsman.documents.card_report import card_report
    from leadsman.documents.terminal import print_card
    from leadsman.files.own_figures_file import loading_by_words

    cards = [checked_card(ship, loading_by_words(ship, loading, own)) for ship, loading in _read_ships(files)]
    if as_json:
        reports = [card_report(one.ship.name, one.findings, one.figures, one.meanings, one.changed) for one in cards]
        print_json({"schema": "leadsman.checked-cards/1", "cards": reports})
    else:
        for number, one in enumerate(cards):
            if number:
                print()
            print_card(one.ship, one.loading, one.findings, one.figures, one.meanings, one.changed)
    return any(one.stops for one in cards)


def _read_ships(files: list[Path]) -> list[Any]:
    """Every card, or the faults of all of them at once."""
    from leadsman.files.call_files import read_ship

    read: list[Any] = []
    found: list[InputError] = []
    for file in files:
        try:
            read.append(read_ship(file))
        except InputErrors as told_of:
            found.extend(told_of.errors)
    if found:
        raise InputErrors(found)
    return read


def _asked_aside(question: str) -> str:
    """The answer to a question put where it does not mix with what is printed."""
    print(question, end="", file=sys.stderr, flush=True)
    answer = sys.stdin.readline()
    if not answer:
        raise EOFError
    return answer.rstrip("\n")
