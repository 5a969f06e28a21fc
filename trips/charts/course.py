"""The course of one night on a line of minutes since its noon, whatever the clocks do meanwhile.

A night on which clocks change is 23 or 25 hours long here, as it is for those who are out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from django.utils.translation import gettext, gettext_noop

from sky.clock import zone_of
from trips.charts.bands import NightBands, NightRow, Stretch, Stretches, bands_of

MINUTE = timedelta(minutes=1)
# Dusk and dawn of a level, deeper by one each: its name, and how it is called on the picture.
DUSKS = (
    ("sunset", gettext_noop("sunset")),
    ("civil_dusk", gettext_noop("civil dusk")),
    ("nautical_dusk", gettext_noop("nautical dusk")),
)
DAWNS = (
    ("sunrise", gettext_noop("sunrise")),
    ("civil_dawn", gettext_noop("civil dawn")),
    ("nautical_dawn", gettext_noop("nautical dawn")),
)
NAUTICAL_LEVEL = -12


@dataclass(frozen=True, slots=True)
class Mark:
    """Something that happens at a minute: the clock then, what it is, and how deep a dusk it is."""

    minute: float
    clock: str
    words: str
    depth: int = 0


@dataclass(frozen=True, slots=True)
class Course:
    """What the pictures of a night draw; all stretches in minutes since noon.

    `dusks` and `dawns` each in order of depth from sunset and sunrise down; `darks` pairs of marks
    where the dark begins and ends, each None where that is beyond the noon. `hours` the full hours
    of the clock. `change` the minute at which clocks change, in words.
    """

    minutes: float
    bands: NightBands
    moonless: Stretches
    dusks: tuple[Mark, ...]
    dawns: tuple[Mark, ...]
    darks: tuple[tuple[Mark | None, Mark | None], ...]
    moonrises: tuple[Mark, ...]
    moonsets: tuple[Mark, ...]
    hours: tuple[Mark, ...]
    change: Mark | None


def course_of(
    row: NightRow,
    zone: str,
    *,
    dark_level: int,
    usable: tuple[datetime, datetime] | None = None,
) -> Course:
    """Lay out a stored night; `usable` is the block that counts."""
    line = _Line(row, zone)
    dark = getattr(row, f"dark_{-dark_level}")
    # At 12° the dark begins with nautical dusk: one label says it.
    deepest = 2 if dark_level == NAUTICAL_LEVEL else 3
    return Course(
        minutes=line.minutes,
        bands=line.shifted(bands_of(row, "UTC", dark_level=dark_level, usable=usable)),
        moonless=line.stretches(getattr(row, f"moonless_{-dark_level}")),
        dusks=tuple(line.marks(DUSKS[:deepest])),
        dawns=tuple(line.marks(DAWNS[:deepest])),
        darks=tuple(
            (
                line.inner(start, gettext("dark")),
                line.inner(end, gettext("dark ends")),
            )
            for start, end in dark
        ),
        moonrises=tuple(line.mark(at, gettext("Moon rises")) for at in row.moonrises),
        moonsets=tuple(line.mark(at, gettext("Moon sets")) for at in row.moonsets),
        hours=tuple(line.hours()),
        change=line.change(),
    )


class _Line:
    """Instants of one night as minutes since its noon, with the clock of its zone."""

    def __init__(self, row: NightRow, zone: str) -> None:
        self._row = row
        self._start = row.start.timestamp()
        self._zone: tzinfo = zone_of(zone)
        self.minutes = (row.end - row.start) / MINUTE

    def at(self, seconds: float) -> float:
        return (seconds - self._start) / 60

    def local(self, minute: float) -> datetime:
        return (self._row.start + minute * MINUTE).astimezone(self._zone)

    def mark(self, seconds: float, words: str, depth: int = 0) -> Mark:
        minute = self.at(seconds)
        return Mark(minute, f"{self.local(minute + 0.5):%H:%M}", words, depth)

    def inner(self, seconds: float, words: str) -> Mark | None:
        """Give a mark inside the night, or None at its noons."""
        mark = self.mark(seconds, words, len(DUSKS) - 1)
        return mark if 0 < mark.minute < self.minutes else None

    def marks(self, events: Sequence[tuple[str, str]]) -> Iterator[Mark]:
        for depth, (name, words) in enumerate(events):
            instant = getattr(self._row, name)
            if instant is not None:
                yield self.mark(instant.timestamp(), gettext(words), depth)

    def stretches(self, pairs: Sequence[Sequence[float]]) -> Stretches:
        return tuple((self.at(start), self.at(end)) for start, end in pairs)

    def shifted(self, bands: NightBands) -> NightBands:
        """Turn minutes after noon in UTC, where no clock changes, into minutes of this night."""
        noon = datetime.combine(self._row.date, datetime.min.time(), self._row.start.tzinfo)
        early = (self._row.start - noon) / MINUTE - 720

        def moved(stretches: Stretches) -> Stretches:
            return tuple((start - early, end - early) for start, end in stretches)

        usable: Stretch | None = moved((bands.usable,))[0] if bands.usable else None
        return NightBands(
            date=bands.date,
            civil=moved(bands.civil),
            nautical=moved(bands.nautical),
            astronomical=moved(bands.astronomical),
            dark=moved(bands.dark),
            moon_up=moved(bands.moon_up),
            veil=moved(bands.veil),
            lit=bands.lit,
            waxing=bands.waxing,
            usable=usable,
            out=moved(bands.out),
            offsets=bands.offsets,
        )

    def hours(self) -> Iterator[Mark]:
        """Give the full hours of the clock: some zones change by half an hour."""
        for minute in range(0, int(self.minutes) + 1, 30):
            local = self.local(minute)
            if local.minute == 0:
                yield Mark(minute, f"{local:%H:%M}", "", local.hour)

    def change(self) -> Mark | None:
        """Find, to the minute, where the offset of the zone is another one."""
        before, after = self._offset(0), self._offset(self.minutes)
        if before == after:
            return None
        low, high = 0, int(self.minutes)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self._offset(middle) == before else (low, middle)
        forward = after > before
        words = gettext("clocks go forward") if forward else gettext("clocks go back")
        return Mark(high, f"{self.local(high):%H:%M}", words)

    def _offset(self, minute: float) -> timedelta:
        return self.local(minute).utcoffset() or timedelta(0)
