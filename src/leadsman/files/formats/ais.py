"""Logs of AIS and NMEA 0183 to sailed tracks: one for each vessel heard, and one of the own ship's position fixes.

An AIS position carries only the second of its minute, so each needs a time from outside: a tag block (`\\c:...*hh\\`),
or a time at the head of the line (ISO 8601 with zone, or seconds since 1970). RMC carries date and time itself. A line
with a wrong checksum is left out and counted: a decoder that goes on regardless would make positions out of noise.

Source: [ITUM1371], [NMEA0183], values for "not available" from memory.
"""

import math
import re
from array import array as column
from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np

from leadsman.files.formats.door import MEGABYTE, Faults, checked_size
from leadsman.files.formats.records import Array, array
from leadsman.files.formats.times import NotATime, instant
from leadsman.sailed import SailedTrack
from leadsman.units import DEGREE, KNOT, MINUTE

LARGEST = 200 * MEGABYTE
LONGEST_LINE = 1024  # bytes; a sentence is at most 82, a tag block at most 80 more [memory]
MOST_POSITIONS = 3_000_000
MOST_VESSELS = 50_000
MOST_PENDING = 200  # unfinished messages of several sentences held at a time
OWN_SHIP = "own ship"
CLASS_A, CLASS_B, STATIC_A, STATIC_B = (1, 2, 3), (18, 19), 5, 24
HEAD = re.compile(rb"(\d{10,13}(?:\.\d+)?|\d{4}-\d{2}-\d{2}[T ][0-9:.,]+ ?(?:Z|[+-]\d{2}:?\d{2}))[\s,;]+")
TAG = re.compile(rb"\\([^\\]{1,200})\*([0-9A-Fa-f]{2})\\")
TAG_TIME = re.compile(rb"(?:^|,)c:(\d{9,13})(?:,|$)")
EARLIEST = datetime(1990, 1, 1, tzinfo=UTC).timestamp()
LATEST = datetime(2200, 1, 1, tzinfo=UTC).timestamp()


@dataclass(frozen=True, kw_only=True)
class AisLog:
    """What a log holds."""

    tracks: tuple[SailedTrack, ...]
    """The longest first."""
    notes: tuple[str, ...]

    def track(self, identifier: str) -> SailedTrack | None:
        """The track of this MMSI, or of `own ship`; None if it is not in the log."""
        return next((track for track in self.tracks if track.identifier == identifier), None)


@dataclass
class _Vessel:
    """Positions of one vessel as they come in: seconds since 1970, degrees, SI; NaN where not available."""

    columns: dict[str, "column[float]"] = field(
        default_factory=lambda: {
            name: column("d")
            for name in ("time", "latitude", "longitude", "speed_over_ground", "course", "heading", "rate_of_turn")
        }
    )
    particulars: dict[str, float | str] = field(default_factory=dict)

    def add(self, **values: float) -> None:
        """Append one position; what is not said is NaN."""
        for name, values_so_far in self.columns.items():
            values_so_far.append(values.get(name, math.nan))


def read(path: Path) -> AisLog:
    """Tracks of all vessels in a log; `InputErrors` where there is none that can be used."""
    faults = Faults(path)
    checked_size(path, LARGEST)
    reader = _Reader(faults)
    try:
        with path.open("rb") as stream:
            for line in _lines(stream, reader):
                reader.line(line)
    except OSError as error:
        raise faults.stop(f"cannot be read: {error.strerror}") from None
    return reader.log()


def _lines(stream: Any, reader: "_Reader") -> Iterator[bytes]:
    """Lines of bounded length; a longer one is counted and skipped to its end."""
    while line := stream.readline(LONGEST_LINE):
        if len(line) == LONGEST_LINE and not line.endswith(b"\n"):
            reader.count("too long")
            while (rest := stream.readline(LONGEST_LINE)) and not rest.endswith(b"\n"):
                continue
        else:
            yield line.strip()


def looks_like_log(line: bytes) -> bool:
    """Whether a line is a sentence of AIS or NMEA 0183, with or without time and tag block before it."""
    rest = line[head.end() :] if (head := HEAD.match(line)) else line
    while tag := TAG.match(rest):
        rest = rest[tag.end() :]
    return re.match(rb"[!$][A-Z]{5},", rest) is not None


def checksum_holds(sentence: bytes) -> bool:
    """Whether the two hexadecimal figures after the asterisk are the exclusive or of what stands before it."""
    body, asterisk, given = sentence[1:].partition(b"*")
    if not asterisk or not re.fullmatch(rb"[0-9A-Fa-f]{2}", given.strip()):
        return False
    total = 0
    for byte in body:
        total ^= byte
    return total == int(given, 16)


class _Reader:
    """Goes through a log line by line, bounded in memory."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self.vessels: dict[str, _Vessel] = {}
        self.pending: OrderedDict[tuple[Any, ...], dict[int, Any]] = OrderedDict()
        self.pending_time: dict[tuple[Any, ...], float | None] = {}
        self.counts: dict[str, int] = {}
        self.positions = 0

    def count(self, what: str) -> None:
        self.counts[what] = self.counts.get(what, 0) + 1

    def line(self, line: bytes) -> None:
        """One line of the log: a time perhaps, then a sentence."""
        time, sentence = self._timed(line)
        if not sentence:
            return
        if sentence[:1] not in (b"!", b"$"):
            self.count("no sentence")
        elif not checksum_holds(sentence):
            self.count("checksum")
        elif sentence[3:6] in (b"VDM", b"VDO"):
            self._ais(sentence, time)
        elif sentence[3:6] in (b"RMC", b"HDT", b"ROT"):
            self._own(sentence)

    def _timed(self, line: bytes) -> tuple[float | None, bytes]:
        """(seconds since 1970 or None, sentence)."""
        time = None
        head = HEAD.match(line)
        if head:
            time = self._head_time(head[1].decode("ascii"))
            line = line[head.end() :]
        while tag := TAG.match(line):
            body = tag[1]
            found = TAG_TIME.search(body)
            if not checksum_holds(b"\\" + body + b"*" + tag[2]):
                self.count("tag block")
            elif found:
                time = self._seconds(float(found[1]))
            line = line[tag.end() :]
        return time, line

    def _head_time(self, text: str) -> float | None:
        if "-" not in text:
            return self._seconds(float(text))
        try:
            return instant(text.replace(",", ".")).timestamp()
        except NotATime:
            self.count("time")
            return None

    def _seconds(self, value: float) -> float | None:
        """Seconds since 1970; larger values are taken as milliseconds, impossible ones as none."""
        seconds = value / 1000.0 if value > 1e11 else value
        if EARLIEST <= seconds <= LATEST:
            return seconds
        self.count("time")
        return None

    def _vessel(self, identifier: str) -> _Vessel:
        if identifier not in self.vessels and len(self.vessels) >= MOST_VESSELS:
            raise self.faults.stop(f"holds more than {MOST_VESSELS} vessels")
        return self.vessels.setdefault(identifier, _Vessel())

    def _position(self, identifier: str, **values: float) -> None:
        """Keep one position, if it is one on earth."""
        if not (abs(values["latitude"]) <= 90.0 and abs(values["longitude"]) <= 180.0):
            self.count("not available")
            return
        self.positions += 1
        if self.positions > MOST_POSITIONS:
            raise self.faults.stop(f"holds more than {MOST_POSITIONS} positions")
        self._vessel(identifier).add(**values)

    def _ais(self, sentence: bytes, time: float | None) -> None:
        """One sentence of AIS; a message of several is put together first."""
        from pyais.exceptions import AISBaseException
        from pyais.messages import NMEAMessage, NMEASentenceFactory

        try:
            part: Any = NMEASentenceFactory.produce(sentence)
            if not part.is_valid:
                self.count("checksum")
                return
            if part.frag_cnt > 1:
                parts, time = self._gathered(part, time)
                if parts is None:
                    return
                part = NMEAMessage.assemble_from_iterable(parts)
            message = part.decode()
        except (AISBaseException, ValueError, IndexError, KeyError, TypeError, AttributeError):
            self.count("undecodable")
            return
        if message.msg_type in CLASS_A + CLASS_B:
            self._ais_position(message, time)
        elif message.msg_type in (STATIC_A, STATIC_B):
            self._ais_particulars(message)

    def _gathered(self, part: Any, time: float | None) -> tuple[list[Any] | None, float | None]:
        """All sentences of a message once the last has come, and its time; None before."""
        key = (part.talker, part.seq_id, part.channel, part.frag_cnt)
        held = self.pending.setdefault(key, {})
        if part.frag_num in held:  # the same number is used again and again: an older message was never finished
            self.count("unfinished")
            held.clear()
            self.pending_time.pop(key, None)
        held[part.frag_num] = part
        if time is not None:
            self.pending_time.setdefault(key, time)
        if len(held) == part.frag_cnt:
            del self.pending[key]
            return [held[number] for number in sorted(held)], self.pending_time.pop(key, time)
        while len(self.pending) > MOST_PENDING:
            oldest, _ = self.pending.popitem(last=False)
            self.pending_time.pop(oldest, None)
            self.count("unfinished")
        return None, None

    def _ais_position(self, message: Any, time: float | None) -> None:
        if time is None:
            self.count("no time")
            return
        if message.lat is None or message.lon is None or message.mmsi is None:
            self.count("undecodable")
            return
        turn = getattr(message, "turn", None)
        self._position(
            f"{int(message.mmsi):09d}",
            time=time,
            latitude=float(message.lat),
            longitude=float(message.lon),
            speed_over_ground=_within(message.speed, 0.0, 102.2) * KNOT,  # 102.3: not available [memory]
            course=_within(message.course, 0.0, 359.9) * DEGREE,  # 360: not available [memory]
            heading=_within(message.heading, 0.0, 359.0) * DEGREE,  # 511: not available [memory]
            # a plain float is a rate in degrees a minute; +-127 and -128 come as codes: no turn indicator [pyais]
            rate_of_turn=_within(turn if type(turn) is float else None, -720.0, 720.0) * DEGREE / MINUTE,
        )

    def _ais_particulars(self, message: Any) -> None:
        """Name, size and draught that a vessel gives of herself; zero means that she does not."""
        if message.mmsi is None:
            return
        known: dict[str, float | str] = {}
        for ours, theirs in (("name", "shipname"), ("callsign", "callsign"), ("destination", "destination")):
            text = str(getattr(message, theirs, None) or "").strip(" @")
            if text:
                known[ours] = text
        sides = {
            name: float(getattr(message, name, None) or 0.0)
            for name in ("to_bow", "to_stern", "to_port", "to_starboard")
        }
        if sides["to_bow"] + sides["to_stern"] > 0.0:
            known["length_overall"] = sides["to_bow"] + sides["to_stern"]
            known["antenna_to_bow"] = sides["to_bow"]
        if sides["to_port"] + sides["to_starboard"] > 0.0:
            known["beam"] = sides["to_port"] + sides["to_starboard"]
            known["antenna_to_port"] = sides["to_port"]
        draught = float(getattr(message, "draught", None) or 0.0)
        if draught > 0.0:
            known["draught"] = draught
        self._vessel(f"{int(message.mmsi):09d}").particulars.update(known)

    def _own(self, sentence: bytes) -> None:
        """RMC gives a position with its time; HDT and ROT belong to the last position before them."""
        import pynmea2

        try:
            parsed = pynmea2.parse(sentence.decode("ascii"), check=True)
            if isinstance(parsed, pynmea2.types.talker.RMC):
                self._fix(parsed)
            elif OWN_SHIP in self.vessels and len(self.vessels[OWN_SHIP].columns["time"]):
                columns = self.vessels[OWN_SHIP].columns
                if isinstance(parsed, pynmea2.types.talker.HDT):
                    columns["heading"][-1] = _within(parsed.heading, 0.0, 360.0) * DEGREE
                elif isinstance(parsed, pynmea2.types.talker.ROT) and parsed.status == "A":
                    columns["rate_of_turn"][-1] = _within(parsed.rate_of_turn, -720.0, 720.0) * DEGREE / MINUTE
        except (pynmea2.ParseError, ValueError, TypeError, AttributeError, IndexError, ArithmeticError):
            self.count("undecodable")

    def _fix(self, parsed: Any) -> None:
        if parsed.status != "A" or parsed.lat_dir not in ("N", "S") or parsed.lon_dir not in ("E", "W"):
            self.count("not available")
            return
        seconds = self._seconds(parsed.datetime.timestamp())
        if seconds is None:
            return
        self._position(
            OWN_SHIP,
            time=seconds,
            latitude=float(parsed.latitude),
            longitude=float(parsed.longitude),
            speed_over_ground=_within(parsed.spd_over_grnd, 0.0, 102.2) * KNOT,
            course=_within(parsed.true_course, 0.0, 360.0) * DEGREE,
        )

    def log(self) -> AisLog:
        """All tracks, and what was left out."""
        if self.pending:
            self.counts["unfinished"] = self.counts.get("unfinished", 0) + len(self.pending)
        tracks = [
            _track(identifier, vessel) for identifier, vessel in self.vessels.items() if len(vessel.columns["time"])
        ]
        notes = [f"{self.counts[what]} {SAID[what]}" for what in SAID if what in self.counts]
        if not tracks:
            if self.counts.get("no time"):
                raise self.faults.stop(
                    "has positions, but no times: AIS gives only the second of the minute; "
                    "expected tag blocks, or a time with zone at the head of each line"
                )
            raise self.faults.stop("; ".join(["holds no position that can be used", *notes]))
        tracks.sort(key=lambda track: (-len(track.elapsed), track.identifier))
        return AisLog(tracks=tuple(tracks), notes=tuple(notes))


SAID = {
    "checksum": "lines with a wrong or missing checksum were left out",
    "tag block": "tag blocks with a wrong checksum were left out",
    "time": "times that cannot be were left out",
    "no time": "positions without a time were left out",
    "not available": "positions marked as not available were left out",
    "undecodable": "sentences could not be decoded and were left out",
    "unfinished": "messages of several sentences were not complete and were left out",
    "no sentence": "lines that are no sentence were left out",
    "too long": "lines longer than any sentence were left out",
}


def _within(value: Any, low: float, high: float) -> float:
    """The value as a float, or NaN where it is absent or outside."""
    number = math.nan if value in (None, "") else float(value)
    return number if low <= number <= high else math.nan


def _track(identifier: str, vessel: _Vessel) -> SailedTrack:
    """One vessel's positions in order of time; of several at one time the first heard is kept."""
    values = {name: np.frombuffer(numbers, dtype=np.float64) for name, numbers in vessel.columns.items()}
    times, first = np.unique(values["time"], return_index=True)
    notes = []
    if np.any(np.diff(values["time"]) < 0.0):
        notes.append("positions did not stand in order of time; they were sorted")
    if len(times) < len(values["time"]):
        notes.append(f"{len(values['time']) - len(times)} positions at times already taken were left out")
    start = datetime.fromtimestamp(float(times[0]), UTC)

    def chosen(name: str) -> Array | None:
        numbers = values[name][first]
        return array(numbers) if np.any(np.isfinite(numbers)) else None

    return SailedTrack(
        name=str(vessel.particulars.get("name", identifier)),
        identifier=identifier,
        start=start,
        elapsed=array(times - times[0]),
        latitude=array(values["latitude"][first]),
        longitude=array(values["longitude"][first]),
        speed_over_ground=chosen("speed_over_ground"),
        course=chosen("course"),
        heading=chosen("heading"),
        rate_of_turn=chosen("rate_of_turn"),
        particulars=dict(vessel.particulars),
        notes=tuple(notes),
    )
