"""What stands under the level of a finder strip: how far aside it is, and the names of the land."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sky.camera.sketch import Landmark
from sky.finding import Counted
from trips.charts.name_places import BOLD_LETTER, LINE, NameAt, short
from trips.charts.name_room import letters
from trips.charts.panorama import Panorama

FIST_DEGREES = 10.0
# How near to the landmark, of the way, words under a long bar stand.
OFF_NAME = 0.3
TICK, BAR_BELOW, BAR_ABOVE, BAR_BASELINE, GAP, APART = 11, 40, 34, 18, 8, 26
# A text's baseline in its row; there are no more rows than this.
BASELINE, MOST_ROWS, LINE_BELOW = 62, 3, 8


@dataclass(frozen=True, slots=True)
class Below:
    """A bar with its ticks, texts, and how high all that is."""

    ruler: str
    texts: tuple[NameAt, ...]
    height: int


@dataclass(slots=True)
class _Rows:
    """Rows of words, none over another; whoever finds no room in any is left out."""

    top: int
    width: int
    taken: list[tuple[int, float, float]] = field(default_factory=list)

    def put(self, x: float, words: str, kind: str) -> Iterator[NameAt]:
        half = letters(words) * BOLD_LETTER / 2
        at = min(max(x, half), self.width - half)
        left, right = at - half, at + half
        for row in range(MOST_ROWS):
            others = [each for each in self.taken if each[0] == row]
            if all(right + APART < low or high + APART < left for _row, low, high in others):
                self.taken.append((row, left, right))
                yield NameAt(round(at), self.top + row * LINE + BASELINE, "middle", words, kind)
                return

    @property
    def bottom(self) -> int:
        last = max((row for row, _low, _high in self.taken), default=-1)
        return self.top + LINE * (1 + last) + LINE_BELOW


def below(
    counted: Counted, landmarks: Sequence[Landmark], plan: Panorama, *, azimuth: float, level: bool
) -> Below:
    """Lay it out for a target toward `azimuth`: first what is counted from, then how far."""
    top, width = round(plan.height), round(plan.width)
    has_bar = counted.is_landmark and bool(counted.aside)
    rows = _Rows(top + (BAR_BELOW + BAR_ABOVE if has_bar else GAP), width)
    x = plan.x(counted.azimuth_degrees)
    texts = [*rows.put(x, short(counted.name), "landmark" if counted.is_landmark else "point")]
    off_name = OFF_NAME * x + (1 - OFF_NAME) * plan.x(azimuth)
    ruler = ""
    if has_bar:
        ruler = _bar(counted, plan, azimuth, top + BAR_BELOW)
        texts += _beside(counted, plan, azimuth, top) or rows.put(
            off_name, fists_aside(counted.aside), "fists"
        )
    elif not counted.is_landmark:
        ruler = f"M{round(x)} {top}v{2 * TICK}"
    for one in sorted(
        landmarks, key=lambda each: abs(plan.x(each.azimuth_degrees) - plan.x(azimuth))
    ):
        here = plan.x(one.azimuth_degrees)
        if one.name != counted.name and 0 <= here <= width:
            texts += rows.put(here, short(one.name), "landmark")
    if level:
        texts += rows.put(width, _("no skyline measured"), "note")
    return Below(ruler, tuple(texts), rows.bottom - top)


def _beside(counted: Counted, plan: Panorama, azimuth: float, top: int) -> list[NameAt]:
    """Say how far aside it is at the bar's end under the target, or at the other end."""
    words = fists_aside(counted.aside)
    wide = letters(words) * BOLD_LETTER + APART
    for x in (plan.x(azimuth), plan.x(counted.azimuth_degrees)):
        is_right = x >= (plan.x(azimuth) + plan.x(counted.azimuth_degrees)) / 2
        if (x + wide < plan.width) if is_right else (x > wide):
            at, anchor = (x + APART, "start") if is_right else (x - APART, "end")
            return [NameAt(round(at), top + BAR_BELOW + BAR_BASELINE, anchor, words, "fists")]
    return []


def fists_aside(aside: float) -> str:
    """Give "2 fists", "½ fist"."""
    count = abs(aside)
    words = ngettext("%(fists)s fist", "%(fists)s fists", 1 if count <= 1 else 2)
    return words % {"fists": short_count(count)}


def short_count(count: float) -> str:
    """Give "1½"."""
    whole = int(count)
    return f"{whole or ''}{'½' if count > whole else ''}"


def _bar(counted: Counted, plan: Panorama, azimuth: float, y: int) -> str:
    """Draw the way aside, a tick each fist from the landmark on."""
    start, end = round(plan.x(counted.azimuth_degrees)), round(plan.x(azimuth))
    fist = FIST_DEGREES * plan.width / plan.span * (1 if end > start else -1)
    ticks = [*np.arange(start, end, fist).tolist(), end]
    drawn = (f"M{round(x)} {y - TICK}v{2 * TICK}" for x in ticks)
    return f"M{start} {y}H{end}" + "".join(drawn)
