"""Runs: consecutive nights, the best of each lunation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from trips.planning.nights import JudgedNight

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

ONE_DAY = timedelta(days=1)


@dataclass(slots=True, unsafe_hash=True)
class Stretch:
    """Consecutive nights, their usable hours, and those in hand beyond what a night counts.

    A value, not to be changed; not frozen, because a ranking makes tens of thousands.
    """

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
    stretches = _Stretches.of(nights, length)
    if not new_moons or not len(stretches.first):
        return []
    moons = stretches.nearest(new_moons)
    order = np.lexsort((stretches.first, -stretches.spare_minutes, -stretches.minutes, moons))
    by_moon = np.split(order, np.flatnonzero(np.diff(moons[order])) + 1)
    by_moon.sort(key=lambda of_moon: stretches.standing(of_moon[0]))
    minutes = [stretches.minutes[of_moon[0]] for of_moon in by_moon]
    return [
        stretches.run(of_moon, 1 + minutes.index(most), new_moons[moons[of_moon[0]]])
        for of_moon, most in zip(by_moon, minutes, strict=True)
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


def stretch_of(nights: Sequence[JudgedNight]) -> Stretch:
    hours = sum(night.usable_hours for night in nights)
    return Stretch(
        first=nights[0].date,
        last=nights[-1].date,
        hours=hours,
        candidates=sum(night.is_candidate for night in nights),
        spare_hours=sum(night.counted_hours_out for night in nights) - hours,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Stretches:
    """Every run of one length that can be offered and has a usable minute.

    `first` the number of its first night in `nights`, `figures` its hours, candidates and spare
    hours; whole minutes, as arrays, are what is compared.
    """

    nights: Sequence[JudgedNight]
    length: int
    first: Ints
    figures: Sequence[tuple[float, int, float]]
    minutes: Ints
    spare_minutes: Ints

    @classmethod
    def of(cls, nights: Sequence[JudgedNight], length: int) -> _Stretches:
        hours = _sums([night.usable_hours for night in nights], length)
        spare = _sums([night.counted_hours_out for night in nights], length) - hours
        closed = _sums([night.why_not is not None for night in nights], length)
        candidates = _sums([night.is_candidate for night in nights], length)
        days = np.array([night.date.toordinal() for night in nights], dtype=np.intp)
        together = days[length - 1 :] - days[: len(hours)] == length - 1
        minutes, spare_minutes = _minutes(hours), _minutes(spare)
        first = np.flatnonzero(together & (closed == 0) & (minutes > 0))
        return cls(
            nights=nights,
            length=length,
            first=first,
            figures=[
                (of_run, int(counted), in_hand)
                for of_run, counted, in_hand in zip(
                    hours[first].tolist(),
                    candidates[first].tolist(),
                    spare[first].tolist(),
                    strict=True,
                )
            ],
            minutes=minutes[first],
            spare_minutes=spare_minutes[first],
        )

    def standing(self, at: int) -> tuple[int, int, int]:
        return -int(self.minutes[at]), -int(self.spare_minutes[at]), int(self.first[at])

    def nearest(self, new_moons: Sequence[datetime]) -> Ints:
        """Give the number of the new Moon nearest to the middle of each."""
        # Midnight after the middle evening, in UTC: half a day more or less moves no run to
        # another Moon but the emptiest, around full Moon.
        days = np.array([night.date.toordinal() for night in self.nights], dtype=np.float64)
        middle = days[self.first] + 1 + (self.length - 1) / 2
        moons = np.array([_ordinal(moon) for moon in new_moons])
        after = np.clip(np.searchsorted(moons, middle), 1, max(len(moons) - 1, 1))
        if len(moons) == 1:
            return np.zeros(len(middle), dtype=np.intp)
        before_is_nearer = middle - moons[after - 1] <= moons[after] - middle
        return np.where(before_is_nearer, after - 1, after)

    def stretches(self, at: Ints) -> list[Stretch]:
        nights, beyond = self.nights, self.length - 1
        return [
            Stretch(nights[first].date, nights[first + beyond].date, *self.figures[number])
            for number, first in zip(at.tolist(), self.first[at].tolist(), strict=True)
        ]

    def run(self, ordered: Ints, rank: int, moon: datetime) -> Run:
        """Make the run of one Moon, whose stretches are ordered best first."""
        minutes = self.minutes[ordered]
        equals = int(np.count_nonzero(minutes == minutes[0]))
        best, *others = self.stretches(ordered[: equals + 1])
        also = others.pop() if len(ordered) > equals else None
        return Run(best, rank, moon, tuple(others), also)


def _sums(values: Sequence[float], length: int) -> Floats:
    """Sum each `length` neighbours; of fewer there are no sums."""
    if len(values) < length:
        return np.empty(0)
    of_floats = np.array(values, dtype=np.float64)
    result: Floats = sliding_window_view(of_floats, length).sum(axis=-1)
    return result


def _minutes(hours: Floats) -> Ints:
    return np.rint(hours * 60).astype(np.intp)


def _ordinal(instant: datetime) -> float:
    midnight = datetime.combine(instant.date(), time(0), UTC)
    return instant.date().toordinal() + (instant - midnight) / ONE_DAY
