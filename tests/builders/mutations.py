"""Spoils files: the same seed spoils in the same way."""

from random import Random

WORDS = (b"", b"\x00", b"\xff\xff\xff\xff", b"9" * 30, b"-1", b"1e999", b"nan", b"<a>", b"&a;", b'"', b",", b"\n", b"%s", b"[" * 40)


def mutated(content: bytes, random: Random) -> bytes:
    """The content with one to six injuries: bytes changed, parts cut, doubled, swapped or replaced, numbers enlarged."""
    made = bytearray(content)
    for _ in range(random.choice((1, 1, 1, 2, 3, 6))):
        if not made:
            break
        random.choice(INJURIES)(made, random)
    return bytes(made)


def _flip(made: bytearray, random: Random) -> None:
    made[random.randrange(len(made))] ^= 1 << random.randrange(8)


def _byte(made: bytearray, random: Random) -> None:
    made[random.randrange(len(made))] = random.choice((0, 1, 0x1E, 0x1F, 0x7F, 0x80, 0xFF, random.randrange(256)))


def _cut(made: bytearray, random: Random) -> None:
    del made[random.randrange(len(made)) :]


def _span(made: bytearray, random: Random) -> tuple[int, int]:
    begin = random.randrange(len(made))
    return begin, min(len(made), begin + random.choice((1, 2, 4, 8, 60, 400)))


def _remove(made: bytearray, random: Random) -> None:
    begin, end = _span(made, random)
    del made[begin:end]


def _double(made: bytearray, random: Random) -> None:
    begin, end = _span(made, random)
    made[begin:begin] = made[begin:end]


def _swap(made: bytearray, random: Random) -> None:
    begin, end = _span(made, random)
    part = bytes(made[begin:end])
    del made[begin:end]
    place = random.randrange(len(made) + 1)
    made[place:place] = part


def _word(made: bytearray, random: Random) -> None:
    begin, end = _span(made, random)
    made[begin:end] = random.choice(WORDS)


def _number(made: bytearray, random: Random) -> None:
    """Four bytes as a little-endian whole number of a dangerous size: a length, a count, a pointer."""
    if len(made) >= 4:
        begin = random.randrange(len(made) - 3)
        value = random.choice((0, 1, 0x7FFFFFFF, 0xFFFFFFFF, 0x80000000, random.randrange(2**32), random.randrange(256)))
        made[begin : begin + 4] = value.to_bytes(4, "little")


def _figure(made: bytearray, random: Random) -> None:
    """One decimal figure another: in text, a coordinate or a length."""
    figures = [place for place, byte in enumerate(made) if 48 <= byte <= 57]
    if figures:
        made[random.choice(figures)] = random.choice(b"0123456789")


INJURIES = (_flip, _byte, _cut, _remove, _double, _swap, _word, _number, _figure)
