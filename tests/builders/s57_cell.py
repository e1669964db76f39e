"""Makes S-57 cells for tests, of invented water: ISO 8211 records with nodes, shared edges, holes, soundings, updates.

Fields and their binary formats are written from memory of S-57 edition 3.1, part 3; attribute codes come from the
tables that GDAL carries. Writer and tests have one author, and GDAL is the one reader they were tried with.
"""

import csv
import struct
from collections.abc import Iterable, Sequence
from pathlib import Path

import pyogrio

FIELD, UNIT = b"\x1e", b"\x1f"
DATA = Path(pyogrio.__file__).parent / "gdal_data"
INSERT, DELETE, MODIFY = 1, 2, 3
ISOLATED, CONNECTED, EDGE, FEATURE = 110, 120, 130, 100  # RCNM: kinds of record
POINT, LINE, AREA, NONE = 1, 2, 3, 255  # PRIM: geometric primitive

DESCRIPTION = {  # tag: (field controls, labels, formats)
    "0001": ("0500;&   ", "", "(b12)"),
    "DSID": ("1600;&   ", "RCNM!RCID!EXPP!INTU!DSNM!EDTN!UPDN!UADT!ISDT!STED!PRSP!PSDN!PRED!PROF!AGEN!COMT",
             "(b11,b14,2b11,3A,2A(8),R(4),b11,2A,b11,b12,A)"),
    "DSSI": ("1600;&   ", "DSTR!AALL!NALL!NOMR!NOCR!NOGR!NOLR!NOIN!NOCN!NOED!NOFA", "(3b11,8b14)"),
    "DSPM": ("1600;&   ", "RCNM!RCID!HDAT!VDAT!SDAT!CSCL!DUNI!HUNI!PUNI!COUN!COMF!SOMF!COMT",
             "(b11,b14,3b11,b14,4b11,2b14,A)"),
    "FRID": ("1600;&   ", "RCNM!RCID!PRIM!GRUP!OBJL!RVER!RUIN", "(b11,b14,2b11,2b12,b11)"),
    "FOID": ("1600;&   ", "AGEN!FIDN!FIDS", "(b12,b14,b12)"),
    "ATTF": ("2600;&-A ", "*ATTL!ATVL", "(b12,A)"),
    "NATF": ("2600;&%/A", "*ATTL!ATVL", "(b12,A)"),
    "FFPT": ("2600;&   ", "*LNAM!RIND!COMT", "(B(64),b11,A)"),
    "FSPC": ("1600;&   ", "FSUI!FSIX!NSPT", "(b11,2b12)"),
    "FSPT": ("2600;&   ", "*NAME!ORNT!USAG!MASK", "(B(40),3b11)"),
    "VRID": ("1600;&   ", "RCNM!RCID!RVER!RUIN", "(b11,b14,b12,b11)"),
    "VRPT": ("2600;&   ", "*NAME!ORNT!USAG!TOPI!MASK", "(B(40),4b11)"),
    "SGCC": ("1600;&   ", "CCUI!CCIX!CCNC", "(b11,2b12)"),
    "SG2D": ("2600;&   ", "*YCOO!XCOO", "(2b24)"),
    "SG3D": ("2600;&   ", "*YCOO!XCOO!VE3D", "(3b24)"),
}  # fmt: skip
UNDER = {"DSID": "0001", "DSSI": "DSID", "DSPM": "0001", "FRID": "0001", "FOID": "FRID", "ATTF": "FRID",
         "NATF": "FRID", "FFPT": "FRID", "FSPC": "FRID", "FSPT": "FRID", "VRID": "0001", "VRPT": "VRID",
         "SGCC": "VRID", "SG2D": "VRID", "SG3D": "VRID"}  # fmt: skip


def codes(file: str, column: int) -> dict[str, int]:
    """Acronym to code, out of one of the tables that GDAL carries."""
    with (DATA / file).open(encoding="latin-1") as stream:
        return {row[column]: int(row[0]) for row in list(csv.reader(stream))[1:]}


CLASSES, ATTRIBUTES = codes("s57objectclasses.csv", 2), codes("s57attributes.csv", 2)


def record(leader: bytes, fields: Sequence[tuple[str, bytes]]) -> bytes:
    """One ISO 8211 record: leader, directory of tags with lengths and places, field area."""
    directory, area = b"", b""
    for tag, body in fields:
        directory += f"{tag:>4}{len(body):05d}{len(area):05d}".encode()
        area += body
    base = 24 + len(directory) + 1
    return (
        f"{base + len(area):05d}".encode() + leader[:7] + f"{base:05d}".encode() + leader[7:] + directory + FIELD + area
    )


def described() -> bytes:
    """The data descriptive record: what each field holds."""
    tree = b"0000;&   " + UNIT + "".join(UNDER[tag] + tag for tag in UNDER).encode() + FIELD
    fields = [("0000", tree)]
    for tag, (controls, labels, formats) in DESCRIPTION.items():
        fields.append(
            (tag, controls.encode() + tag.encode() + UNIT + labels.encode() + UNIT + formats.encode() + FIELD)
        )
    return record(b"3LE1 09 ! 5504"[:7] + b" ! 5504", fields)


def data_record(number: int, fields: Iterable[tuple[str, bytes]]) -> bytes:
    """One data record with its number and its fields, each ended as its kind of text demands."""
    ends = {"NATF": b"\x1e\x00"}  # 16-bit text ends in 16 bits
    framed = [("0001", struct.pack("<H", number % 65536) + FIELD)]
    framed += [(tag, body + ends.get(tag, FIELD)) for tag, body in fields]
    return record(b" D     " + b"   5504", framed)


class Cell:
    """A cell, or (with `update` above 0) an update file, gathered record by record and written by `bytes()`."""

    def __init__(self, name: str = "XX5DEMO1", *, update: int = 0, edition: str = "1", scale: int = 12_000,
                 horizontal_datum: int = 2, vertical_datum: int = 30, sounding_datum: int = 23, depth_unit: int = 1,
                 height_unit: int = 1, after: "Cell | None" = None) -> None:  # fmt: skip
        self.factor, self.sounding_factor = 10_000_000, 10
        self.records: list[bytes] = []
        self.names: dict[int, int] = {}
        if after:
            self.names = dict(after.names)
        self.names_before = dict(self.names)
        self.features_here = 0
        self.features = after.features if after else 0
        dataset = struct.pack("<BIBB", 10, 1, 1 if not update else 2, 5)
        for text in (f"{name}.{update:03d}", edition, str(update)):
            dataset += text.encode() + UNIT
        dataset += b"20260101" + b"20260101" + b"03.1" + struct.pack("<B", 1) + b"ENC" + UNIT + b"2.0" + UNIT
        dataset += struct.pack("<BH", 1, 65535) + UNIT
        self.dataset = dataset
        if not update:
            parameters = struct.pack("<BIBBBIBBBBII", 20, 1, horizontal_datum, vertical_datum, sounding_datum, scale,
                                     depth_unit, height_unit, 1, 1, self.factor, self.sounding_factor)  # fmt: skip
            self.add([("DSPM", parameters + UNIT)])

    def add(self, fields: Iterable[tuple[str, bytes]]) -> None:
        """Append one data record."""
        self.records.append(data_record(len(self.records) + 2, fields))

    def bytes(self) -> bytes:
        """The whole file; the first record counts features and vectors as they stand now."""
        vectors = [self.names.get(kind, 0) - self.names_before.get(kind, 0) for kind in (110, 120, 130, 140)]
        counts = [0, 0, self.features_here, 0, *vectors]
        structure = struct.pack("<BBB8I", 2, 1, 2, *counts)
        return described() + data_record(1, [("DSID", self.dataset), ("DSSI", structure)]) + b"".join(self.records)

    def write(self, path: Path) -> Path:
        path.write_bytes(self.bytes())
        return path

    def _vector(self, kind: int, instruction: int = INSERT, version: int = 1) -> tuple[int, tuple[str, bytes]]:
        self.names[kind] = self.names.get(kind, 0) + 1
        number = self.names[kind]
        return number, ("VRID", struct.pack("<BIHB", kind, number, version, instruction))

    def _places(self, points: Iterable[tuple[float, float]]) -> bytes:
        return b"".join(struct.pack("<ii", round(la * self.factor), round(lo * self.factor)) for la, lo in points)

    def node(self, latitude: float, longitude: float, kind: int = CONNECTED) -> tuple[int, int]:
        """A node; gives the name by which edges and features point at it."""
        number, identity = self._vector(kind)
        self.add([identity, ("SG2D", self._places([(latitude, longitude)]))])
        return kind, number

    def edge(
        self, first: tuple[int, int], last: tuple[int, int], between: Sequence[tuple[float, float]] = ()
    ) -> tuple[int, int]:
        """An edge from node to node by way of the points between."""
        number, identity = self._vector(EDGE)
        pointers = b"".join(
            struct.pack("<BIBBBB", *name, 255, 255, which, 255) for name, which in ((first, 1), (last, 2))
        )
        fields = [identity, ("VRPT", pointers)]
        if between:
            fields.append(("SG2D", self._places(between)))
        self.add(fields)
        return EDGE, number

    def feature(self, acronym: str, primitive: int, pointers: Sequence[tuple[tuple[int, int], int, int]] = (),
                attributes: dict[str, object] | None = None, *, number: int | None = None, instruction: int = INSERT,
                version: int = 1, national: dict[str, str] | None = None,
                related: Sequence[int] = ()) -> int:  # fmt: skip
        """A feature of this class; pointers are (name, orientation, usage); gives its number."""
        if number is None:
            self.features += 1
            number = self.features
        self.features_here += 1
        identity = struct.pack("<BIBBHHB", FEATURE, number, primitive, 2, CLASSES[acronym], version, instruction)
        fields = [("FRID", identity), ("FOID", struct.pack("<HIH", 65535, number, 1))]
        if attributes:
            text = b"".join(
                struct.pack("<H", ATTRIBUTES[name]) + str(value).encode("latin-1") + UNIT
                for name, value in attributes.items()
            )
            fields.append(("ATTF", text))
        if national:
            wide = b"".join(
                struct.pack("<H", ATTRIBUTES[name]) + value.encode("utf-16-le") + b"\x1f\x00"
                for name, value in national.items()
            )
            fields.append(("NATF", wide))
        if related:
            fields.append(("FFPT", b"".join(struct.pack("<HIHB", 65535, other, 1, 2) + UNIT for other in related)))
        if pointers:
            fields.append(
                ("FSPT", b"".join(struct.pack("<BIBBB", *name, turn, usage, 2) for name, turn, usage in pointers))
            )
        self.add(fields)
        return number

    def ring(self, points: Sequence[tuple[float, float]]) -> tuple[int, int]:
        """A closed edge through these points (the first is not repeated)."""
        start = self.node(*points[0])
        return self.edge(start, start, points[1:])

    def area(
        self,
        acronym: str,
        outer: Sequence[tuple[float, float]],
        holes: Sequence[Sequence[tuple[float, float]]] = (),
        **attributes: object,
    ) -> int:
        """An area with its own closed edge, and holes of their own."""
        pointers = [(self.ring(outer), 1, 1)] + [(self.ring(hole), 1, 2) for hole in holes]
        return self.feature(acronym, AREA, pointers, attributes)

    def line(self, acronym: str, points: Sequence[tuple[float, float]], **attributes: object) -> int:
        first, last = self.node(*points[0]), self.node(*points[-1])
        return self.feature(acronym, LINE, [(self.edge(first, last, points[1:-1]), 1, 255)], attributes)

    def point(self, acronym: str, latitude: float, longitude: float, **attributes: object) -> int:
        return self.feature(acronym, POINT, [(self.node(latitude, longitude, ISOLATED), 255, 255)], attributes)

    def soundings(self, points: Sequence[tuple[float, float, float]], **attributes: object) -> int:
        """One SOUNDG object; points are (latitude, longitude, depth in metres)."""
        number, identity = self._vector(ISOLATED)
        places = b"".join(
            struct.pack("<iii", round(la * self.factor), round(lo * self.factor), round(depth * self.sounding_factor))
            for la, lo, depth in points
        )
        self.add([identity, ("SG3D", places)])
        return self.feature("SOUNDG", POINT, [((ISOLATED, number), 255, 255)], attributes)

    def change(self, acronym: str, primitive: int, number: int, version: int, **attributes: object) -> None:
        """In an update: give the feature of this number these attributes."""
        self.feature(acronym, primitive, (), attributes, number=number, instruction=MODIFY, version=version)

    def delete(self, acronym: str, primitive: int, number: int, version: int) -> None:
        """In an update: take the feature of this number away."""
        self.feature(acronym, primitive, (), None, number=number, instruction=DELETE, version=version)
