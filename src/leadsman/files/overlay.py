"""A port call's folder with some files as they would be: what is not written yet is read and checked as if it were."""

from collections.abc import Mapping

from leadsman.files.folder import CallFolder


class Overlay:
    """A folder in which some files have another content; a `CallFolder`."""

    def __init__(self, under: CallFolder, files: Mapping[str, bytes]) -> None:
        self.under = under
        self.files = dict(files)

    def label(self, name: str) -> str:
        """How a file is named in messages."""
        return self.under.label(name)

    def exists(self, name: str) -> bool:
        """Whether there is such a file, here or below."""
        return name in self.files or self.under.exists(name)

    def read(self, name: str) -> bytes:
        """The whole file, as it would be."""
        return self.files[name] if name in self.files else self.under.read(name)

    def names(self) -> tuple[str, ...]:
        """All files, in order."""
        return tuple(sorted({*self.files, *self.under.names()}))
