"""The files of a call as texts, for a person who edits them as they are: what the forms lack is written there."""

import re
from collections.abc import Mapping
from typing import Any

from leadsman.errors import InputError, InputErrors
from leadsman.files.card_form import ship_of_form
from leadsman.files.folder import CallFolder
from leadsman.files.toml_merge import merged

CARD = "ship.toml"
LARGEST = 400_000  # bytes of one text; depth areas are drawn and not typed
_NAME = re.compile(r"call\.toml|forecast\.toml|ship\.toml|waterway/[A-Za-z0-9][A-Za-z0-9 _-]{0,60}\.(toml|csv)")


def texts_of(folder: CallFolder) -> dict[str, str]:
    """Every file of a call that is a text of ours, by its name."""
    found = {}
    for name in filter(_NAME.fullmatch, folder.names()):
        content = folder.read(name)
        if len(content) <= LARGEST:
            found[name] = content.decode("utf-8", "replace")
    return found


def files_of(texts: Mapping[str, str]) -> dict[str, bytes]:
    """The texts as files; `InputErrors` for a name that is none of a call's texts, or for one too long."""
    faults = []
    for name, text in texts.items():
        if not _NAME.fullmatch(name):
            faults.append(InputError("", None, name[:80], "is no text of a call; expected one such as call.toml"))
        elif len(text.encode("utf-8", "replace")) > LARGEST:
            faults.append(InputError(name, None, "", f"is longer than {LARGEST / 1000:.0f} kB, the most taken here"))
    if faults:
        raise InputErrors(faults)
    return {name: text.encode("utf-8", "replace") for name, text in texts.items()}


def card_file(folder: CallFolder, card: Mapping[str, Any]) -> dict[str, bytes]:
    """The ship card of a form in `ship.toml`, remarks kept; `InputErrors` name the form's fields where it cannot be."""
    ship_of_form(card)
    old = folder.read(CARD).decode("utf-8", "replace") if folder.exists(CARD) else ""
    return {CARD: merged(old, card).encode()}
