"""A night as stretches of the clock on the wall: what every picture of a night starts from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import Any, Protocol
from zoneinfo import ZoneInfo

from sky.clock import zone_of

# Minutes on the clock of the wall after noon of the evening: 0 is 12:00, 720 midnight, 1440 the
# next noon, whether or not clocks change in between.
Stretch = tuple[float, float]
Stretches = tuple[Stretch, ...]

DAY_MINUTES = 1440
MINUTE = timedelta(minutes=1)
EPOCH_ORDINAL = date(1970, 1, 1).toordinal()
BELOW_THROUGHOUT = frozenset({"sun_never_rises", "never_that_high"})


@dataclass(slots=True, unsafe_hash=True)
class NightBands:
    """The stretches of one night; each darker band lies inside the lighter one before it.

    A value, not to be changed. It is not frozen because a page makes hundreds: frozen ones take
    a quarter more of the time.
    """

    date: date
    civil: Stretches  # the Sun below −0.8333°: sunset to sunrise
    nautical: Stretches  # below −6°
    astronomical: Stretches  # below −12°
    dark: Stretches  # below the dark level asked for
    moon_up: Stretches  # from noon to noon
    veil: Stretches  # the Moon up between sunset and sunrise
    lit: float  # lit fraction of the Moon, 0–1
    waxing: bool
    usable: Stretch | None  # the block that counts
    out: Stretches  # moonless dark inside the stay-out hours
    offsets: tuple[int, int]  # minutes from UTC at both noons; they differ when clocks change
    wanted: Stretches = ()  # any wanted target stands right, whether or not people are out

    @property
    def by_depth(self) -> tuple[tuple[str, Stretches], ...]:
        """Give those of twilight and dark that there are, each with its class, lighter ones first:
        the darker are drawn over them."""
        named = (
            ("b-civil", self.civil),
            ("b-nautical", self.nautical),
            ("b-astronomical", self.astronomical),
            ("b-dark", self.dark),
        )
        return tuple((name, stretches) for name, stretches in named if stretches)


@dataclass(frozen=True, slots=True)
class NightLine:
    """A night as calendar, table and readout show it."""

    bands: NightBands
    dark_hours: float
    moonless_hours: float
    usable_dark_hours: float  # overhead
    usable_hours: float
    is_candidate: bool
    run: int | None  # its number in the list of best runs
    against: str  # "", or in words why the evening is not offered
    events: tuple[str, ...]  # in words
    address: str  # of the night's page


# The columns of a stored night that `NightRow` reads, beside its dark spans.
COLUMNS = (
    "date", "start", "end", "sunset", "civil_dusk", "nautical_dusk", "nautical_dawn", "civil_dawn",
    "sunrise", "moonrises", "moonsets", "moon_illuminated", "moon_waxing", "absent",
)  # fmt: skip


class NightRow(Protocol):
    """A stored night. Its dark spans are read by level, dark_18 and so on, in Unix seconds."""

    @property
    def date(self) -> date: ...
    @property
    def start(self) -> datetime: ...
    @property
    def end(self) -> datetime: ...
    @property
    def sunset(self) -> datetime | None: ...
    @property
    def civil_dusk(self) -> datetime | None: ...
    @property
    def nautical_dusk(self) -> datetime | None: ...
    @property
    def nautical_dawn(self) -> datetime | None: ...
    @property
    def civil_dawn(self) -> datetime | None: ...
    @property
    def sunrise(self) -> datetime | None: ...
    @property
    def moonrises(self) -> Any: ...
    @property
    def moonsets(self) -> Any: ...
    @property
    def moon_illuminated(self) -> float: ...
    @property
    def moon_waxing(self) -> bool: ...
    @property
    def absent(self) -> Any: ...


def minutes_after_noon(clock: time) -> int:
    """Put an hour of the clock in the night: before noon it is of the next morning."""
    return (clock.hour * 60 + clock.minute - DAY_MINUTES // 2) % DAY_MINUTES


def bands_of(
    row: NightRow,
    zone: str,
    *,
    dark_level: int,
    usable: tuple[datetime, datetime] | None = None,
    out: Sequence[Sequence[float]] = (),
    wanted: Sequence[Sequence[float]] = (),
) -> NightBands:
    """Put a stored night on the clock of `zone`: of its own site, or of the site it is laid over.

    `out` and `wanted` in pairs of Unix seconds, as nights are stored.

    Where the Sun never gets that low a band is (), where it is that low throughout it runs from
    noon to noon. A stretch shorter than the hour that clocks repeat may run backwards there: it
    is turned round.
    """
    clock = _Clock(row, zone_of(zone))
    absent: Mapping[str, str] = row.absent
    civil = clock.below(row.sunset, row.sunrise, absent.get("sunset"))
    moon_up = clock.moon_up(row.moonrises, row.moonsets, absent.get("moonset"))
    return NightBands(
        date=row.date,
        civil=civil,
        nautical=clock.below(row.civil_dusk, row.civil_dawn, absent.get("civil_dusk")),
        astronomical=clock.below(row.nautical_dusk, row.nautical_dawn, absent.get("nautical_dusk")),
        dark=clock.stretches(getattr(row, f"dark_{-dark_level}")),
        moon_up=moon_up,
        veil=common(moon_up, civil) if moon_up else (),
        lit=row.moon_illuminated,
        waxing=row.moon_waxing,
        usable=clock.stretches([[edge.timestamp() for edge in usable]])[0] if usable else None,
        out=clock.stretches(out) if out else (),
        offsets=clock.offsets,
        wanted=clock.stretches(wanted) if wanted else (),
    )


def common(first: Stretches, second: Stretches) -> Stretches:
    """Give what lies in both. They are one or two stretches each: every pair is tried."""
    return tuple(
        [
            (begin if begin > start else start, end if end < stop else stop)
            for begin, end in first
            for start, stop in second
            if begin < stop and start < end
        ]
    )


def without(whole: Stretches, away: Stretches) -> Stretches:
    """Give what lies in the first and not in the second."""
    left = whole
    for start, end in away:
        left = common(left, ((float("-inf"), start), (end, float("inf"))))
    return left


# A year's noons in a few zones: one night's end is the next one's start, and sites share zones.
@lru_cache(maxsize=4096)
def _offset(seconds: float, zone: ZoneInfo) -> int:
    ahead = datetime.fromtimestamp(seconds, zone).utcoffset()
    return ahead // MINUTE if ahead is not None else 0


class _Clock:
    """The clock on the wall during one night."""

    __slots__ = ("_end", "_noon", "_shift", "_start", "_zone", "offsets")

    def __init__(self, row: NightRow, zone: ZoneInfo) -> None:
        self._zone = zone
        self._noon = (row.date.toordinal() - EPOCH_ORDINAL) * DAY_MINUTES + DAY_MINUTES // 2
        self._start, self._end = row.start.timestamp(), row.end.timestamp()
        self.offsets = evening, morning = _offset(self._start, zone), _offset(self._end, zone)
        # From minutes of Unix time to those of the clock, or None on a night when that changes.
        self._shift = evening - self._noon if evening == morning else None

    def stretches(self, pairs: Iterable[Sequence[float]]) -> Stretches:
        """Put pairs of Unix seconds on the clock."""
        shift = self._shift
        if shift is None:
            return tuple([self._changing(start, end) for start, end in pairs])
        return tuple([(start / 60 + shift, end / 60 + shift) for start, end in pairs])

    def _changing(self, start: float, end: float) -> Stretch:
        # A stretch that ends as clocks change ends by the clock before: 02:00, and not 03:00.
        first, last = self._minutes(start), self._minutes(end - 1) + 1 / 60
        return (first, last) if first <= last else (last, first)

    def _minutes(self, seconds: float) -> float:
        minutes = seconds / 60 + _offset(seconds, self._zone) - self._noon
        # A zone that skips a date jumps a day: the hands of its clocks do not move.
        return minutes - DAY_MINUTES if minutes >= 1.5 * DAY_MINUTES else minutes

    def below(self, dusk: datetime | None, dawn: datetime | None, absent: str | None) -> Stretches:
        """Give when the Sun is below a level that it sinks under at dusk."""
        if dusk is None and dawn is None and absent not in BELOW_THROUGHOUT:
            return ()
        start = dusk.timestamp() if dusk else self._start
        end = dawn.timestamp() if dawn else self._end
        return self.stretches(((start, end),))

    def moon_up(
        self, rises: Sequence[float], sets: Sequence[float], absent: str | None
    ) -> Stretches:
        """Give when the Moon is up, which it is at noon if it sets before it rises."""
        is_up = sets[0] < rises[0] if rises and sets else bool(sets) or absent == "moon_never_sets"
        starts = [self._start, *rises] if is_up else rises
        ends = [*sets, self._end] if len(sets) < len(starts) else sets
        return self.stretches(zip(starts, ends, strict=True))
