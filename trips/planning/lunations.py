"""The best runs of a season over all its sites, one entry for each lunation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Generic

from trips.planning.season_view import RankedRun, SiteT


@dataclass(frozen=True, slots=True)
class MoonRuns(Generic[SiteT]):
    """What one lunation offers; `rank` from 1, shared by equals.

    `sites` all have the run from `first` to `last` as their best, with equal hours. `as_good`
    counts the other runs of the Moon, at any of its sites, with as many hours. `also` is the best
    run with fewer, where a site has one.
    """

    rank: int
    first: date
    last: date
    hours: float
    candidates: int
    sites: tuple[SiteT, ...]
    as_good: int
    also: RankedRun[SiteT] | None


def best_of_each_moon(runs: Sequence[RankedRun[SiteT]]) -> list[MoonRuns[SiteT]]:
    """Gather ranked runs (the best first) by their new Moon; the order of the Moons is kept."""
    by_moon: dict[datetime, list[RankedRun[SiteT]]] = {}
    for ranked in runs:
        by_moon.setdefault(ranked.run.new_moon, []).append(ranked)
    minutes = [of_moon[0].run.best.minutes for of_moon in by_moon.values()]
    return [
        _gather(of_moon, 1 + minutes.index(best))
        for of_moon, best in zip(by_moon.values(), minutes, strict=True)
    ]


def _gather(runs: Sequence[RankedRun[SiteT]], rank: int) -> MoonRuns[SiteT]:
    best = runs[0].run.best
    equal = [each for each in runs if each.run.best.minutes == best.minutes]
    together = [each for each in equal if each.run.first == best.first]
    lesser = (each for each in runs if each.run.best.minutes < best.minutes)
    return MoonRuns(
        rank=rank,
        first=best.first,
        last=best.last,
        hours=best.hours,
        candidates=best.candidates,
        sites=tuple(each.site for each in together),
        as_good=len(equal) - len(together) + sum(len(each.run.ties) for each in equal),
        also=next(lesser, None),
    )
