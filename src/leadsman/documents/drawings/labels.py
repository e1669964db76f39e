"""Keep the labels of a drawing apart: each takes the first free place about its point."""

from collections.abc import Sequence

from leadsman.documents.drawings.svg import POINT, Svg, text_width

Box = tuple[float, float, float, float]


class Labels:
    """Boxes taken so far within the frame of a drawing."""

    def __init__(self, svg: Svg, frame: Box) -> None:
        self._svg, self._frame = svg, frame
        self._taken: list[Box] = []

    def take(self, x: float, y: float, half: float) -> None:
        """Keep labels off a small square about a point."""
        self._taken.append((x - half, y - half, x + half, y + half))

    def put(self, x: float, y: float, words: str, size: float, bold: bool = False, must: bool = False) -> bool:
        """Write near the point where it is free; without room it is left out unless it must stand.

        A point outside the frame gets no label at all.
        """
        if self._outside((x, y, x, y)):
            return False
        width, high = text_width(words, size) + 0.8, size * POINT
        choices = _around(x, y, width, high)
        free = next((box for box in choices if self._free(box)), None)
        if free is None and must:
            free = min(choices, key=lambda box: (self._outside(box), self._overlap(box)))
        if free is None:
            return False
        self._taken.append(free)
        left, _, _, bottom = free
        if abs(left + 0.5 * width - x) > 0.5 * width + 3.0 or abs(bottom - 0.5 * high - y) > high + 2.0:
            self._svg.line([(x, y), (min(max(x, left), left + width), bottom - 0.5 * high)], 0.15)
        self._svg.text(left + 0.4, bottom - 0.24 * high, words, size, bold=bold, halo=True)
        return True

    def _free(self, box: Box) -> bool:
        return not self._outside(box) and not any(_cross(box, other) for other in self._taken)

    def _outside(self, box: Box) -> bool:
        left, top, right, bottom = self._frame
        return box[0] < left or box[1] < top or box[2] > right or box[3] > bottom

    def _overlap(self, box: Box) -> int:
        return sum(_cross(box, other) for other in self._taken)


def _around(x: float, y: float, width: float, high: float) -> Sequence[Box]:
    """Places about a point, nearest first."""
    found = []
    for gap in (1.4, 4.5, 8.0, 12.0):
        for left, top in (
            (x + gap, y - 0.5 * high),
            (x - gap - width, y - 0.5 * high),
            (x - 0.5 * width, y - gap - high),
            (x - 0.5 * width, y + gap),
            (x + 0.7 * gap, y - 0.7 * gap - high),
            (x + 0.7 * gap, y + 0.7 * gap),
            (x - 0.7 * gap - width, y - 0.7 * gap - high),
            (x - 0.7 * gap - width, y + 0.7 * gap),
        ):
            found.append((left, top, left + width, top + high))
    return found


def _cross(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
