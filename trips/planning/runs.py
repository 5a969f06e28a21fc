"""Runs: consecutive nights, the best of each lunation."""

from __future__ import annotations

from bisect import bisect
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from trips.planning.nights import JudgedNight

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Consecutive nights, their usable hours, and those in hand beyond what a night counts."""

    first: date
    last: date
    hours: float
    candidates: int
    spare_hours: float = 0.0

    @property
    def minutes(self) -> int:
        """Whole minutes: what is compared, so that nobody sees equal figures ranked apart."""
        return round(self.hours * 60)

    @property
    def order(self) -> tuple[int, int, date]:
        """Sort the best first; among equals the one with most in hand, then the earliest."""
        return -self.minutes, -round(self.spare_hours * 60), self.first


@dataclass(frozen=True, slots=True)
class Run:
    """The best stretch of one lunation.

    `rank` from 1, shared by equals. `ties` are the other stretches of the same Moon with equal
    hours, `also` the next best below them.
    """

    best: Stretch
    rank: int
    new_moon: datetime
    ties: tuple[Stretch, ...]
    also: Stretch | None

    @property
    def first(self) -> date:
        return self.best.first

    @property
    def last(self) -> date:
        return self.best.last

    @property
    def hours(self) -> float:
        return self.best.hours


def best_runs(
    nights: Sequence[JudgedNight], length: int, new_moons: Sequence[datetime]
) -> list[Run]:
    """Give the best run of `length` nights of each lunation, the most usable hours first.

    A run belongs to the new Moon nearest to its middle. Runs without a usable hour are left out,
    and so are those across a date that has no night or is not offered. Equals share a rank; the
    one with more hours in hand stands first.
    """
    by_moon: dict[datetime, list[Stretch]] = defaultdict(list)
    for stretch in _stretches(nights, length):
        if stretch.minutes and new_moons:
            by_moon[_nearest(new_moons, stretch)].append(stretch)
    best = sorted(
        ((moon, sorted(stretches, key=_order)) for moon, stretches in by_moon.items()),
        key=lambda of_moon: of_moon[1][0].order,
    )
    minutes = [stretches[0].minutes for _, stretches in best]
    return [
        _run(moon, stretches, 1 + minutes.index(stretches[0].minutes)) for moon, stretches in best
    ]


def best_nights(nights: Sequence[JudgedNight], most: int) -> tuple[list[JudgedNight], int]:
    """Give the best candidate nights that are offered, and count those equal to the last of them
    that are left out only because they stand behind it."""
    offered = [night for night in nights if night.is_candidate and night.why_not is None]
    ordered = sorted(offered, key=lambda night: stretch_of([night]).order)
    told, rest = ordered[:most], ordered[most:]
    minutes = stretch_of(told[-1:]).minutes if told else 0
    return told, sum(stretch_of([night]).minutes == minutes for night in rest)


def longest_run(nights: Sequence[JudgedNight]) -> int:
    """Count the nights of the longest row of candidates on consecutive dates."""
    longest = current = 0
    before: date | None = None
    for night in nights:
        follows = before is not None and night.date - before == ONE_DAY
        current = (current + 1 if follows else 1) if night.is_candidate else 0
        longest, before = max(longest, current), night.date
    return longest


def _stretches(nights: Sequence[JudgedNight], length: int) -> Iterator[Stretch]:
    for at in range(len(nights) - length + 1):
        run = nights[at : at + length]
        together = run[-1].date - run[0].date == ONE_DAY * (length - 1)
        if together and all(night.why_not is None for night in run):
            yield stretch_of(run)


def stretch_of(nights: Sequence[JudgedNight]) -> Stretch:
    hours = sum(night.usable_hours for night in nights)
    return Stretch(
        first=nights[0].date,
        last=nights[-1].date,
        hours=hours,
        candidates=sum(night.is_candidate for night in nights),
        spare_hours=sum(night.moonless_hours_out for night in nights) - hours,
    )


def _nearest(new_moons: Sequence[datetime], stretch: Stretch) -> datetime:
    # Midnight after the middle evening, in UTC: half a day more or less moves no run to another
    # Moon but the emptiest, around full Moon.
    middle = datetime.combine(stretch.first, time(0), UTC) + ONE_DAY
    middle += (stretch.last - stretch.first) / 2
    after = bisect(new_moons, middle)
    return min(new_moons[max(0, after - 1) : after + 1], key=lambda moon: abs(moon - middle))


def _order(stretch: Stretch) -> tuple[int, int, date]:
    return stretch.order


def _run(moon: datetime, ordered: Sequence[Stretch], rank: int) -> Run:
    best = ordered[0]
    ties = tuple(other for other in ordered[1:] if other.minutes == best.minutes)
    lower = (other for other in ordered if other.minutes < best.minutes)
    return Run(best, rank, moon, ties, next(lower, None))
