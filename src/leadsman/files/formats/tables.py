"""Tables as text (CSV): a header, rows with their line numbers, and lines `# key: value` before the header.

Comma, semicolon or tab between cells, told from the header. Where it is no comma, a decimal comma is read too.
"""

import csv
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from leadsman.files.formats.door import MEGABYTE, Faults, read_text
from leadsman.files.formats.times import shortened

LARGEST = 50 * MEGABYTE
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
REMARK = re.compile(r"#\s*([A-Za-z_]+)\s*[:=]\s*(.*)")


@dataclass(frozen=True)
class Row:
    """One row: its line in the file, its cells by column."""

    line: int
    cells: Mapping[str, str]


class Table:
    """One file of rows, and the faults found in it so far."""

    def __init__(self, path: Path, columns: frozenset[str]) -> None:
        """Read remarks and header; `columns` are the names that mean something to the caller."""
        self.faults = Faults(path)
        self.known = columns
        self.remarks: dict[str, str] = {}
        self.notes: list[str] = []
        self._lines = read_text(path, LARGEST).splitlines()
        self._first = self._head()

    def _head(self) -> int:
        """Index of the first line after the header."""
        for index, line in enumerate(self._lines):
            match = REMARK.match(line.strip())
            if match:
                self.remarks[match[1].lower()] = match[2].strip()
            elif line.strip() and not line.strip().startswith("#"):
                self.separator = next((mark for mark in ";\t" if mark in line), ",")
                self.header = [cell.strip().strip('"').lower() for cell in line.split(self.separator)]
                self.header_line = index + 1
                self._check_header()
                return index + 1
        raise self.faults.stop("has no header; expected a line that names the columns")

    def _check_header(self) -> None:
        for name in sorted({name for name in self.header if self.header.count(name) > 1}):
            raise self.faults.stop(f"column '{shortened(name)}' stands twice", line=self.header_line)
        unknown = [name for name in self.header if name not in self.known]
        if len(unknown) == len(self.header):
            raise self.faults.stop(
                f"no column is known: {shortened(', '.join(unknown))}; expected of {', '.join(sorted(self.known))}",
                line=self.header_line,
            )
        if unknown:
            self.notes.append(f"columns not taken: {', '.join(map(shortened, unknown[:20]))}")

    def column(self, *names: str) -> str | None:
        """Which one of several names of a column the header has; two at once are a fault."""
        found = [name for name in names if name in self.header]
        if len(found) > 1:
            raise self.faults.stop(f"both {found[0]} and {found[1]} stand here; expected one", line=self.header_line)
        return found[0] if found else None

    def needed(self, *names: str) -> str:
        """As `column`, but one must be there."""
        found = self.column(*names)
        if found is None:
            raise self.faults.stop(f"has no column {' or '.join(names)}", line=self.header_line)
        return found

    def rows(self) -> Iterator[Row]:
        """Rows with something in them; one with another number of cells than the header is a fault."""
        reader = csv.reader(self._lines[self._first :], delimiter=self.separator, strict=True)
        while True:
            try:
                cells = next(reader)
            except StopIteration:
                return
            except csv.Error as error:
                raise self.faults.stop(f"cannot be read: {error}", line=self._first + reader.line_num) from None
            line = self._first + reader.line_num
            if not any(cell.strip() for cell in cells) or cells[0].lstrip().startswith("#"):
                continue
            if len(cells) != len(self.header):
                self.faults.add(f"has {len(cells)} cells; the header has {len(self.header)}", line=line)
                continue
            yield Row(line, dict(zip(self.header, (cell.strip() for cell in cells), strict=True)))

    def number(
        self, row: Row, column: str, low: float, high: float, *, unit: float = 1.0, empty: str = ""
    ) -> float | None:
        """A cell as a number within limits, times `unit`; None where faulty or empty (a fault if `empty` says why)."""
        text = row.cells[column]
        if not text:
            if empty:
                self.faults.add(empty, line=row.line, field=column)
            return None
        written = text.replace(",", ".") if self.separator != "," else text
        value = float(written) if NUMBER.fullmatch(written) and len(written) < 40 else math.nan
        if not low <= value <= high:
            self.faults.add(f"'{shortened(text)}'; expected a number, {low:g} to {high:g}", line=row.line, field=column)
            return None
        return value * unit

    def said(self, key: str, given: str | None) -> str | None:
        """What the caller gives, or else the file's own remark; two that differ are a fault."""
        written = self.remarks.get(key)
        if given is not None and written and written.lower() != given.lower():
            raise self.faults.stop(f"the file says '{shortened(written)}', but '{given}' was given", field=key)
        return given if given is not None else written or None
