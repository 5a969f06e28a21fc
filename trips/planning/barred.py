"""A better run of the same Moon that is not offered: what closing, or dates to avoid, cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta

from trips.planning.nights import JudgedNight
from trips.planning.runs import ONE_DAY, Run, Stretch, stretch_of

# A run belongs to the new Moon nearest to its middle: half a lunation at most.
HALF_LUNATION = timedelta(days=29.53) / 2


@dataclass(frozen=True, slots=True)
class Barred:
    """What it would be, and what it is kept from by: codes of `offered.why_not`, each once."""

    stretch: Stretch
    why_not: tuple[str, ...]


def better_barred(run: Run, nights: Sequence[JudgedNight], weekdays: Set[int]) -> Barred | None:
    """Give the best stretch as long as the run, of its Moon, that has more usable hours.

    Other weekdays than these are a wish, and nearly every Moon has more hours on them.
    """
    length = (run.last - run.first).days + 1
    better = [
        stretch
        for stretch in _of_moon(run.new_moon, nights, length, weekdays)
        if stretch_of(stretch).minutes > run.best.minutes
    ]
    if not better:
        return None
    best = min(better, key=lambda stretch: stretch_of(stretch).order)
    return Barred(stretch_of(best), tuple(dict.fromkeys(filter(None, _why(best)))))


def _of_moon(
    moon: datetime, nights: Sequence[JudgedNight], length: int, weekdays: Set[int]
) -> Iterator[Sequence[JudgedNight]]:
    near = [night for night in nights if abs(_midnight(night) - moon) < HALF_LUNATION]
    for at in range(len(near) - length + 1):
        stretch = near[at : at + length]
        together = stretch[-1].date - stretch[0].date == ONE_DAY * (length - 1)
        suits = all(night.date.weekday() in weekdays for night in stretch)
        if together and suits and any(_why(stretch)):
            yield stretch


def _midnight(night: JudgedNight) -> datetime:
    return datetime.combine(night.date, time(0), UTC) + ONE_DAY


def _why(stretch: Sequence[JudgedNight]) -> list[str | None]:
    return [night.why_not for night in stretch]
