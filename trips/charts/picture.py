"""What a template draws around the nights of a chart, in pixels: whole numbers and words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from django.utils.translation import gettext

# Of the widest system faces at 12 px, semi-bold: an average of letters and digits.
LETTER_PX = 7.8
# On paper pictures are drawn smaller and their letters larger: 15 px for the 12 px of a screen.
PAPER_LETTER_PX = 9.3


class Text(NamedTuple):
    """A tuple, because templates take tuples apart far faster than they look up names."""

    x: int
    y: int
    words: str
    kind: str  # a class of pictures.css


class Box(NamedTuple):
    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class RunLink:
    """A run's number and dates, its mark beside the nights, and the area to point at."""

    number: int
    words: str  # its dates
    address: str
    texts: tuple[Text, ...]
    mark: Box
    area: Box

    @property
    def label(self) -> str:
        """Name the link: in the very words that are seen, so that it can be asked for by voice."""
        seen = " ".join(text.words for text in self.texts[1:])
        return gettext("Run %(number)d: %(dates)s") % {
            "number": self.number,
            "dates": seen or self.words,
        }

    @property
    def boxes(self) -> list[tuple[str, int, int, int, int]]:
        """Give what is drawn under the words, with its class."""
        return [("area", *self.area), ("mark", *self.mark)]


@dataclass(frozen=True, slots=True)
class Picture:
    """One way of drawing a chart: dates `across` the page, or `down` it."""

    way: str
    width: int
    height: int
    plot: Box
    night_px: int
    minute_px: float
    matrix: str  # from columns and minutes to pixels
    texts: Mapping[str, Sequence[Text]]  # by kind
    moons: Mapping[str, str]  # new and full: points, to be stroked with round ends
    links: Sequence[RunLink]
    stems: str  # from the runs' marks to their blocks, in columns and minutes

    @property
    def hatch(self) -> str:
        """Undo the scale of the matrix, for a pattern in pixels."""
        return f"scale({1 / self.night_px:.4g} {1 / self.minute_px:.4g})"

    @property
    def geometry(self) -> str:
        """Say where the nights are, for the readout: left, top, width, height, a night."""
        plot = self.plot
        return f"{plot.x} {plot.y} {plot.width} {plot.height} {self.night_px}"


def by_kind(texts: Iterable[Text]) -> dict[str, list[Text]]:
    kinds = defaultdict(list)
    for text in texts:
        kinds[text.kind].append(text)
    return dict(kinds)


def points(moons: Iterable[tuple[int, int, str]]) -> dict[str, str]:
    """Collect the places of Moons (x, y, kind) in a path a kind."""
    paths: dict[str, str] = defaultdict(str)
    for x, y, kind in moons:
        paths[kind] += f"M{x} {y}h0"
    return dict(paths)


def shortened(words: str, *, most: int) -> str:
    """Give words of at most so many letters, with the mark that some are left out."""
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


def width_of(words: str) -> float:
    """Estimate how wide a label is."""
    return len(words) * LETTER_PX


def width_on_paper(words: str) -> float:
    """Estimate how wide a label is at its largest."""
    return len(words) * PAPER_LETTER_PX
