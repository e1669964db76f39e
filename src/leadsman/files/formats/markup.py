"""XML of unknown hands: no entities, no document type, no network, bounded size and depth; faults with their line."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lxml import etree

from leadsman.files.formats.door import Faults, read_bytes

DECIMAL = re.compile(r"\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?\s*", re.ASCII)


@dataclass(frozen=True)
class Measure:
    """One numeric attribute: its name in the file, ours, our unit for one of theirs, and the limits of the schema."""

    xml: str
    name: str
    unit: float
    low: float = -math.inf
    high: float = math.inf
    below: bool = False
    """Whether the upper limit itself is excluded."""

    def problem(self, value: float) -> str:
        """Why a value in the file's unit is beyond the limits; empty: it is not."""
        if self.low <= value <= self.high and not (self.below and value == self.high):
            return ""
        return f"is {value:g}; expected {self.low:g} to {self.high:g}{' (excluded)' if self.below else ''}"


LATITUDE = Measure("lat", "latitude", 1.0, -90.0, 90.0)
LONGITUDE = Measure("lon", "longitude", 1.0, -180.0, 180.0, below=True)


def parser() -> Any:
    """A parser that fetches nothing, expands nothing, and keeps libxml2's own bounds on depth and length."""
    return etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, dtd_validation=False, huge_tree=False, remove_pis=True
    )


def read_root(path: Path, limit: int, faults: Faults) -> Any:
    """The root element of an XML file."""
    content = read_bytes(path, limit)
    try:
        root = etree.fromstring(content, parser())
    except etree.XMLSyntaxError as error:
        line = error.lineno if error.lineno and error.lineno > 0 else None
        raise faults.stop(f"is not whole XML: {error.msg}", line=line) from None
    except (ValueError, LookupError) as error:  # an encoding that nobody knows, a zero byte
        raise faults.stop(f"is not whole XML: {error}") from None
    document = root.getroottree().docinfo
    if document.internalDTD is not None or document.doctype:
        raise faults.stop("declares a document type; files that bring their own entities are not read", line=1)
    return root


def elements(parent: Any) -> Iterator[Any]:
    """Child elements, without comments and unresolved entities."""
    return (child for child in parent if isinstance(child.tag, str))


def split(tag: str) -> tuple[str, str]:
    """(namespace, name) of a tag."""
    name = etree.QName(tag)
    return name.namespace or "", name.localname


def decimal(value: float) -> str:
    """A number with as many digits as it needs, up to twelve, without exponent: what every reader of XML takes."""
    text = f"{value:.12g}"
    if "e" in text:
        text = f"{value:.12f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
