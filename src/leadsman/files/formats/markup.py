"""XML of unknown hands: no entities, no document type, no network, bounded size and depth; faults with their line."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from lxml import etree

from leadsman.files.formats.door import Faults, read_bytes


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
