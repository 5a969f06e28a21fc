"""Which wanted targets stand right in given nights at a site, and when at their best, as stored.

Reads rows and changes none: two queries, however many nights.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from trips.almanac.packing import Bests, unpack_bests, unpack_spans
from trips.almanac.windows import WantedRow
from trips.models import Site, TargetEntry, TargetWindows
from trips.planning.stretches import Pair, Pairs, seconds, within
from trips.planning.weighing import HOUR, Floats
from trips.services.wanted import first_spots


@dataclass(frozen=True, slots=True)
class Best:
    """Where a target is highest in its windows of a night; in Unix seconds and degrees."""

    at: float
    altitude: float  # apparent
    azimuth: float


@dataclass(frozen=True, slots=True)
class TargetNight:
    """A wanted target in one night: when it stands right while people are out.

    `best` may be before or after that.
    """

    name: str
    target: str
    weight: float
    pieces: Pairs
    best: Best | None

    @property
    def hours(self) -> float:
        return seconds(self.pieces) / HOUR


@dataclass(frozen=True, slots=True)
class Evening:
    """A night from noon to noon and the hours in which people are out, in Unix seconds."""

    date: date
    whole: Pair
    out: Pair


def wanted_in(
    site: Site, entries: Mapping[WantedRow, TargetEntry], evenings: Sequence[Evening]
) -> dict[date, tuple[TargetNight, ...]]:
    """Give the targets of each evening that stand right then, in the order of the night.

    `entries` by the row that each reads, as `Asked.entries` gives them.
    """
    stored = _stored(site, entries, {evening.date.year for evening in evenings})
    return {
        evening.date: tuple(
            sorted(
                (
                    TargetNight(entry.name, entry.target, entry.weight, pieces, best)
                    for row, entry in entries.items()
                    if (row, evening.date.year) in stored
                    for pieces, best in _in(*stored[row, evening.date.year], evening)
                ),
                key=lambda found: (found.pieces[0], -found.weight, found.name),
            )
        )
        for evening in evenings
    }


def _in(spans: Floats, bests: Bests, evening: Evening) -> Iterable[tuple[Pairs, Best | None]]:
    """Give what an evening has of a row's windows, if it has any while people are out."""
    start, end = np.searchsorted(spans[:, 0], evening.whole)
    pieces = within(spans[start:end].tolist(), evening.out)
    if pieces:
        yield pieces, _best(bests, evening.whole)


def _best(bests: Bests, whole: Pair) -> Best | None:
    found = int(np.searchsorted(bests.at, whole[0]))
    if found == len(bests.at) or bests.at[found] >= whole[1]:
        return None
    return Best(*(float(column[found]) for column in (bests.at, bests.altitude, bests.azimuth)))


def _stored(
    site: Site, rows: Iterable[WantedRow], years: Iterable[int]
) -> Mapping[tuple[WantedRow, int], tuple[Floats, Bests]]:
    kept = TargetWindows.objects.filter(
        site=site,
        spot=first_spots([site]).get(site.pk),
        year__in=years,
        target__in={row.target for row in rows},
        dark_level__in={row.dark_level for row in rows},
    )
    columns = ("target", "light", "least_altitude_degrees", "dark_level", "year", "spans", "bests")
    return {
        (WantedRow(*row), year): (unpack_spans(spans), unpack_bests(bests))
        for *row, year, spans, bests in kept.values_list(*columns)
    }
