"""The frame of an ISO 8211 file: records that must fill the file exactly, fields that must lie inside their record.

Only the frame is walked here, to refuse a cut or broken cell before it is used: a chart that lost its last records has
lost dangers, and looks whole. What the fields mean is left to GDAL.

Source: [ISO8211], layout from memory.
"""

from collections.abc import Iterator

from leadsman.files.formats.door import Faults

FIELD_END, UNIT_END = 0x1E, 0x1F
LEADER = 24  # bytes


def records(content: bytes, faults: Faults) -> Iterator[dict[str, bytes]]:
    """Fields by tag of each record in turn, the description first; raises `InputErrors` where the frame breaks."""
    start = number = 0
    while start < len(content):
        number += 1
        leader = content[start : start + LEADER]
        if len(leader) < LEADER or not (leader[:5].isdigit() and leader[12:17].isdigit()):
            raise faults.stop(f"record {number}, at byte {start}, has no readable leader; the cell is damaged or cut")
        length, base = int(leader[:5]), int(leader[12:17])
        if length == 0:
            raise faults.stop(f"record {number} is longer than the 99 999 bytes that its leader can say; not supported")
        record = content[start : start + length]
        if length < LEADER or len(record) < length or not LEADER < base <= length:
            raise faults.stop(f"record {number}, at byte {start}, is cut: expected {length} bytes, found {len(record)}")
        yield _fields(record, base, number, faults)
        start += length


def _fields(record: bytes, base: int, number: int, faults: Faults) -> dict[str, bytes]:
    """Bodies of the fields of one record; of a repeated tag the last."""
    sizes = record[20:24]
    if not sizes.isdigit():
        raise faults.stop(f"record {number} has no readable entry map; the cell is damaged")
    of_length, of_position, of_tag = int(sizes[0:1]), int(sizes[1:2]), int(sizes[3:4])
    entry = of_length + of_position + of_tag
    if not (of_length and of_position and of_tag) or (base - LEADER - 1) % entry or record[base - 1] != FIELD_END:
        raise faults.stop(f"record {number} has a broken directory; the cell is damaged")
    found: dict[str, bytes] = {}
    for place in range(LEADER, base - 1, entry):
        tag = record[place : place + of_tag].decode("latin-1")
        length_text = record[place + of_tag : place + of_tag + of_length]
        position_text = record[place + of_tag + of_length : place + entry]
        if not (length_text.isdigit() and position_text.isdigit()):
            raise faults.stop(f"record {number} has a broken directory; the cell is damaged")
        first = base + int(position_text)
        last = first + int(length_text)
        if last > len(record) or last == first or record[last - 1] not in (FIELD_END, 0):
            raise faults.stop(f"record {number}: field {tag} does not end where its record says; the cell is damaged")
        found[tag] = record[first:last]
    return found
