"""The next good nights with their pictures: each night's strip beside its words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from trips.charts.bands import NightBands, bands_of
from trips.models import Night, Season
from trips.services.next_nights import NextNight, Outlook

# The strip runs from 16:00 to 09:00, in minutes after noon.
OPENS, CLOSES = 240, 1260


@dataclass(frozen=True, slots=True)
class SoonNight:
    next: NextNight
    bands: NightBands | None


@dataclass(frozen=True, slots=True)
class SoonRow:
    outlook: Outlook
    nights: tuple[SoonNight, ...]


def soon_rows(season: Season, outlooks: Sequence[Outlook], *, drawn: bool = True) -> list[SoonRow]:
    """Put a picture beside each night; one query. Not `drawn`, the words stand alone."""
    stored = _stored(outlooks) if drawn else {}
    return [
        SoonRow(
            outlook,
            tuple(
                SoonNight(each, _bands(season, outlook, each, stored)) for each in outlook.nights
            ),
        )
        for outlook in outlooks
    ]


def _stored(outlooks: Sequence[Outlook]) -> dict[tuple[int, date], Night]:
    dates = {each.night.date for outlook in outlooks for each in outlook.nights}
    sites = [outlook.site for outlook in outlooks if outlook.nights]
    rows = Night.objects.filter(site__in=sites, date__in=dates)
    return {(row.site_id, row.date): row for row in rows}


def _bands(
    season: Season,
    outlook: Outlook,
    soon: NextNight,
    stored: dict[tuple[int, date], Night],
) -> NightBands | None:
    # Computed anew between two queries, a night may be gone.
    row = stored.get((outlook.site.pk, soon.night.date))
    if row is None:
        return None
    block = soon.night.block
    usable = (block.start, block.end) if block else None
    return bands_of(row, outlook.site.zone, dark_level=season.dark_level, usable=usable)
