"""Names beside dots, each at the first place where it touches nothing."""

from __future__ import annotations

from dataclasses import dataclass

from trips.charts.panorama import number
from trips.charts.picture import shortened

# Of 12 px type: a wide face takes about so much for a letter, and a full-width one twice.
LETTER, LINE = 6.8, 15
FULL_WIDTH = 0x1100  # letters from here on take two places, near enough
LONGEST_LABEL = 26

Box = tuple[float, float, float, float]  # left, top, right, bottom


@dataclass(frozen=True, slots=True)
class Label:
    x: str
    y: str
    anchor: str
    text: str


def box_of_dot(x: float, y: float, radius: float) -> Box:
    return x - radius, y - radius, x + radius, y + radius


def name_beside(
    name: str, x: float, y: float, *, radius: float, inside: Box, taken: list[Box]
) -> Label | None:
    """Find room beside, above or below a dot, and take it; None where there is none."""
    text = shortened(name, most=LONGEST_LABEL)
    wide = LETTER * sum(2 if ord(letter) >= FULL_WIDTH else 1 for letter in text)
    for anchor, at, middle in _rooms(x, y, radius):
        left = at - {"start": 0, "middle": wide / 2, "end": wide}[anchor]
        box = (left, middle - LINE / 2, left + wide, middle + LINE / 2)
        if _holds(inside, box) and not any(touch(box, other) for other in taken):
            taken.append(box)
            return Label(number(at), number(middle + 4), anchor, text)
    return None


def _rooms(x: float, y: float, radius: float) -> list[tuple[str, float, float]]:
    """Give anchor, x and middle line of the places for a name, the best first."""
    away, above, below = radius + 4, y - radius - LINE / 2, y + radius + LINE / 2
    beside = [("start", x + away, y), ("end", x - away, y)]
    return beside + [
        (anchor, x + shift, line)
        for line in (above, below)
        for anchor, shift in (("middle", 0), ("start", -radius), ("end", radius))
    ]


def _holds(outer: Box, box: Box) -> bool:
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


def touch(one: Box, other: Box) -> bool:
    apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    return not apart
