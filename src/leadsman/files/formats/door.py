"""What every reader of a foreign file does first: is it a regular file, not too large; and faults, told all at once."""

from pathlib import Path

from leadsman.errors import InputError, InputErrors

MEGABYTE = 1_000_000
MOST_FAULTS = 50  # told one by one; the rest are counted, for a file with one mistake in each of a million lines


class Faults:
    """Faults of one file, gathered while it is read."""

    def __init__(self, file: Path | str) -> None:
        self.file = Path(file).name
        self._told: list[InputError] = []
        self._count = 0

    def __bool__(self) -> bool:
        return self._count > 0

    def add(self, problem: str, *, line: int | None = None, field: str = "") -> None:
        """Note a fault and read on."""
        self._count += 1
        if len(self._told) < MOST_FAULTS:
            self._told.append(InputError(self.file, line, field, problem))

    def stop(self, problem: str, *, line: int | None = None, field: str = "") -> InputErrors:
        """The error to raise where reading on makes no sense: this fault and all before it."""
        self.add(problem, line=line, field=field)
        return self.errors()

    def errors(self) -> InputErrors:
        """All faults so far as one error."""
        more = self._count - len(self._told)
        rest = [InputError(self.file, None, "", f"and {more} more faults of this file")] if more else []
        return InputErrors([*self._told, *rest])

    def check(self) -> None:
        """Raise if there was any fault."""
        if self:
            raise self.errors()


def checked_size(path: Path, limit: int) -> int:
    """Size of a regular file of at most `limit` bytes; anything else is refused before it is opened."""
    faults = Faults(path)
    try:
        found = path.stat()
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "not a file name"
        raise faults.stop(f"cannot be read: {reason}") from None
    if not path.is_file():
        raise faults.stop("is not a file; expected a regular file")
    if found.st_size == 0:
        raise faults.stop("is empty")
    if found.st_size > limit:
        raise faults.stop(
            f"is {found.st_size / MEGABYTE:.1f} MB; at most {limit / MEGABYTE:.0f} MB are read of a file of this kind"
        )
    return found.st_size


def read_bytes(path: Path, limit: int) -> bytes:
    """The whole of a file of at most `limit` bytes."""
    checked_size(path, limit)
    try:
        with path.open("rb") as stream:
            content = stream.read(limit + 1)
    except OSError as error:
        raise Faults(path).stop(f"cannot be read: {error.strerror}") from None
    if len(content) > limit:
        raise Faults(path).stop(f"grew while it was read; at most {limit / MEGABYTE:.0f} MB are read")
    return content


def read_text(path: Path, limit: int) -> str:
    """The whole of a text file in UTF-8, with or without byte order mark."""
    content = read_bytes(path, limit)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise Faults(path).stop(f"byte {error.start} is not UTF-8; save the file as UTF-8", line=line) from None


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: beside its place first, then moved there."""
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise Faults(path).stop(f"cannot be written: {error.strerror}") from None
