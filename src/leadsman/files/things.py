"""Making things from files: what a thing says is impossible about itself is put where it stands in the file."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from leadsman.errors import Impossible, InputError
from leadsman.files.toml_file import Path, TomlFile

Thing = TypeVar("Thing")


@dataclass(frozen=True)
class Keyed:
    """A file, and the faults found in it so far."""

    file: TomlFile
    errors: list[InputError]

    def add(self, impossible: Impossible, table: Path) -> None:
        """Each problem at the key of the file that begins with the name of the thing's field."""
        for field, sentence in impossible.problems:
            kind, _, name = field.partition(".")
            if name:
                line = self.file.line(self._named(kind, name))
                self.errors.append(InputError(self.file.label, line, f"{kind} '{name}'", sentence))
            else:
                key = self._key(table, field)
                self.errors.append(InputError(self.file.label, self.file.line((*table, key)), key, sentence))

    def _named(self, kind: str, name: str) -> Path:
        """The table of a list of tables that has this name: `gate.Lych Bridge` is the [[gate]] called so."""
        tables = self.file.data.get(kind, [])
        return (kind, next((index for index, item in enumerate(tables) if item.get("name") == name), 0))

    def _key(self, table: Path, field: str) -> str:
        """`draught_aft` stands in the file as `draught_aft_m`: the key with the unit, if the file has it."""
        inside = [
            path[len(table)] for path in self.file.lines if len(path) == len(table) + 1 and path[: len(table)] == table
        ]
        fitting = [key for key in inside if isinstance(key, str) and (key == field or key.startswith(f"{field}_"))]
        return min(fitting, key=len) if fitting else field


def build(make: Callable[[], Thing], keyed: Keyed, table: Path) -> Thing | None:
    """The thing, or `None` with its problems added to the file's faults."""
    try:
        return make()
    except Impossible as impossible:
        keyed.add(impossible, table)
        return None
