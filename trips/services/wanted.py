"""What counts at the sites of a season: when its wanted targets stand right, as stored.

Seen from each site's first spot; from a site without spots, over a level horizon. Reads rows and
changes none: three queries, however many sites.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from trips.almanac.packing import unpack_spans
from trips.almanac.windows import WantedRow, known, wanted_row, windows_fingerprint
from trips.models import Season, Site, Spot, TargetEntry, TargetWindows
from trips.planning.nights import Wishes
from trips.planning.weighing import Floats, WantedSpans

_READ = ("site_id", "spot_id", "year", "target", "light", "least_altitude_degrees", "dark_level")
Found = dict[tuple[WantedRow, int], tuple[str, Floats]]  # by row and year: fingerprint, spans


@dataclass(frozen=True, slots=True)
class WantedHere:
    """What counts at a site; `missing` windows are not stored, or of before it was edited."""

    spans: tuple[WantedSpans, ...]
    missing: int


@dataclass(frozen=True, slots=True)
class Asked:
    """A list wanted from one evening to another, at a dark level."""

    target_list: int
    first: date
    last: date
    dark_level: int

    @classmethod
    def of(cls, season: Season, wishes: Wishes, evening: date | None = None) -> Asked | None:
        """Give what these wishes ask, in the season or for one evening; None: the dark alone."""
        if wishes.target_list is None:
            return None
        first, last = evening or season.first_night, evening or season.last_night
        return cls(wishes.target_list, first, last, wishes.dark_level)

    @property
    def years(self) -> range:
        return range(self.first.year, self.last.year + 1)

    def entries(self) -> dict[WantedRow, TargetEntry]:
        """Give the entry of each row: of equal ones the one that counts most."""
        entries = known(TargetEntry.objects.filter(target_list=self.target_list))
        by_weight = sorted(entries, key=lambda entry: entry.weight)
        return {wanted_row(entry, self.dark_level): entry for entry in by_weight}


def wanted_by(
    season: Season, wishes: Wishes, sites: Sequence[Site], *, evening: date | None = None
) -> dict[Site, WantedHere] | None:
    """Give what these wishes want, in the season or for one evening; None: the dark alone."""
    asked = Asked.of(season, wishes, evening)
    return None if asked is None else wanted_at(sites, asked)


def wanted_at(sites: Sequence[Site], asked: Asked) -> dict[Site, WantedHere]:
    weights = {row: entry.weight for row, entry in asked.entries().items()}
    spots = first_spots(sites)
    stored = _stored(sites, spots, weights, asked.years)
    return {
        site: _here(
            stored[site.pk], weights, asked.years, windows_fingerprint(site, spots.get(site.pk))
        )
        for site in sites
    }


def first_spots(sites: Iterable[Site]) -> dict[int, Spot]:
    """Give, by site, the spot that seasons are judged from. One query."""
    spots: dict[int, Spot] = {}
    for spot in Spot.objects.current().filter(site__in=sites):
        spots.setdefault(spot.site_id, spot)
    return spots


def _stored(
    sites: Sequence[Site], spots: Mapping[int, Spot], rows: Iterable[WantedRow], years: range
) -> dict[int, Found]:
    stored: dict[int, Found] = defaultdict(dict)
    kept = TargetWindows.objects.filter(
        site__in=sites,
        year__in=years,
        target__in={row.target for row in rows},
        dark_level__in={row.dark_level for row in rows},
    )
    from_ = {site.pk: spots[site.pk].pk if site.pk in spots else None for site in sites}
    for site, spot, year, *row, fingerprint, spans in kept.values_list(
        *_READ, "fingerprint", "spans"
    ):
        if spot == from_[site]:
            stored[site][WantedRow(*row), year] = fingerprint, unpack_spans(spans)
    return stored


def _here(
    found: Found, weights: Mapping[WantedRow, float], years: range, present: str
) -> WantedHere:
    of_row = {row: [found[row, year] for year in years if (row, year) in found] for row in weights}
    fresh = sum(mark == present for parts in of_row.values() for mark, _ in parts)
    return WantedHere(
        tuple(
            WantedSpans(weights[row], np.concatenate([spans for _, spans in parts]))
            for row, parts in of_row.items()
            if parts
        ),
        missing=len(weights) * len(years) - fresh,
    )
