"""Runs found with arrays against a plain loop over every stretch of every invented season."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import pytest

from trips.planning.nights import Block, JudgedNight
from trips.planning.runs import ONE_DAY, Run, best_runs

FIRST = date(2027, 1, 1)
LUNATION = timedelta(days=29, hours=12, minutes=44)
MOONS = [datetime(2027, 1, 7, 20, 24, tzinfo=UTC) + LUNATION * n for n in range(6)]
LENGTHS = range(1, 8)


@dataclass(frozen=True, order=True)
class Found:
    """A stretch as the loop finds it; sorts the best first."""

    minutes: int  # below zero
    spare_minutes: int  # below zero
    first: date


def invented(seed: int) -> list[JudgedNight]:
    """Invent 150 evenings: many equals, a few that are not computed, a few not offered."""
    dice = random.Random(seed)  # chance, not secrets
    dates = [FIRST + ONE_DAY * n for n in range(150) if dice.random() > 0.03]
    return [night(day, dice) for day in dates]


def night(day: date, dice: random.Random) -> JudgedNight:
    usable = dice.choice([0, 0, 0.5, 1.25, 2, 3.1, 4, 4])
    start = datetime(day.year, day.month, day.day, 20, tzinfo=UTC)
    return JudgedNight(
        date=day,
        dark_hours=8,
        moonless_hours=usable,
        moonless_hours_out=usable,
        moon_illuminated=0.1,
        block=Block(start, start + timedelta(hours=usable), usable) if usable else None,
        is_candidate=usable >= 2,
        counted_hours_out=usable + dice.choice([0, 0, 0.75]),
        moonless_usable_hours=usable,
        why_not=dice.choice([None] * 20 + ["weekday"]),
    )


def by_loop(nights: list[JudgedNight], length: int) -> list[list[Found]]:
    """Give the stretches of each Moon, the best Moon first and in each the best stretch."""
    by_date = {each.date: each for each in nights}
    by_moon: dict[int, list[Found]] = {}
    for first in by_date:
        row = [by_date.get(first + ONE_DAY * n) for n in range(length)]
        offered = [each for each in row if each is not None and each.why_not is None]
        hours = sum(each.usable_hours for each in offered)
        if len(offered) == length and round(hours * 60) > 0:
            spare = sum(each.counted_hours_out for each in offered) - hours
            found = Found(-round(hours * 60), -round(spare * 60), first)
            by_moon.setdefault(nearest_moon(first, length), []).append(found)
    return sorted(sorted(of_moon) for of_moon in by_moon.values())


def nearest_moon(first: date, length: int) -> int:
    midnight = datetime(first.year, first.month, first.day, tzinfo=UTC) + ONE_DAY
    middle = midnight + ONE_DAY * (length - 1) / 2
    return min(range(len(MOONS)), key=lambda n: abs(MOONS[n] - middle))


def told(run: Run) -> tuple[date, list[date], date | None]:
    return run.first, [each.first for each in run.ties], run.also.first if run.also else None


def expected(of_moon: list[Found]) -> tuple[date, list[date], date | None]:
    best, *others = of_moon
    lower = [each.first for each in others if each.minutes != best.minutes]
    equal = [each.first for each in others if each.minutes == best.minutes]
    return best.first, equal, lower[0] if lower else None


@pytest.mark.parametrize("length", LENGTHS)
@pytest.mark.parametrize("seed", range(5))
def test_the_loop_finds_the_same_runs_in_the_same_order(seed: int, length: int) -> None:
    nights = invented(seed)
    moons = by_loop(nights, length)
    runs = best_runs(nights, length, MOONS)
    assert [told(run) for run in runs] == [expected(of_moon) for of_moon in moons]
    most = [of_moon[0].minutes for of_moon in moons]
    assert [run.rank for run in runs] == [1 + most.index(minutes) for minutes in most]
    assert [round(-run.hours * 60) for run in runs] == most


@pytest.mark.parametrize("length", LENGTHS)
def test_the_loop_does_not_find_the_runs_of_another_season(length: int) -> None:
    """The check would see a difference: seasons of other chances have other runs."""
    others = [expected(of_moon) for of_moon in by_loop(invented(1), length)]
    assert [told(run) for run in best_runs(invented(0), length, MOONS)] != others
