"""Nights of a site: computed by sky, given back as unsaved rows. Writes nothing."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from itertools import pairwise

import numpy as np

from sky import night as values
from sky.light.usable import usable_overhead
from sky.nights import compute_season, night_of
from sky.spans import Spans
from trips.almanac.dates import check_dates
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.local_sky import dark_enough
from trips.almanac.places import place_of
from trips.models import Night, Site

Pairs = list[list[float]]


def compute_nights(site: Site, first: date, last: date) -> list[Night]:
    """Compute the site's nights named `first` to `last`, both included, as unsaved rows.

    A date that the zone skipped has no row. Errors: those of Place and `check_dates`.
    """
    check_dates(first, last)
    fingerprint = site_fingerprint(site)
    table = compute_season([place_of(site)], first, last)
    usable = usable_overhead(table, 0, dark_enough(site))
    of_night = np.searchsorted(usable[:, 0], table.noons[0])
    return [
        _row(site, night, usable[start:end].tolist(), fingerprint)
        for number, (start, end) in enumerate(pairwise(of_night.tolist()))
        if (night := night_of(table, 0, number)) is not None
    ]


def _row(site: Site, night: values.Night, usable: Pairs, fingerprint: str) -> Night:
    return Night(
        site=site,
        date=night.date,
        start=night.span.start,
        end=night.span.end,
        sunset=night.sunset,
        civil_dusk=night.civil_dusk,
        nautical_dusk=night.nautical_dusk,
        astronomical_dusk=night.astronomical_dusk,
        astronomical_dawn=night.astronomical_dawn,
        nautical_dawn=night.nautical_dawn,
        civil_dawn=night.civil_dawn,
        sunrise=night.sunrise,
        moonrises=_seconds(night.moonrises),
        moonsets=_seconds(night.moonsets),
        moon_illuminated=night.moon_illuminated,
        moon_waxing=night.moon_waxing,
        usable=usable,
        usable_hours=sum(end - start for start, end in usable) / 3600,
        absent=dict(night.absent),
        fingerprint=fingerprint,
        **_by_level(night),
    )


def _by_level(night: values.Night) -> dict[str, Pairs | float]:
    columns: dict[str, Pairs | float] = {}
    for level in values.DARK_LEVELS:
        columns[f"dark_{-level}"] = _pairs(night.dark[level])
        columns[f"moonless_{-level}"] = _pairs(night.moonless[level])
        columns[f"dark_hours_{-level}"] = night.dark_hours[level]
        columns[f"moonless_hours_{-level}"] = night.moonless_hours[level]
    return columns


def _pairs(spans: Spans) -> Pairs:
    return [[span.start.timestamp(), span.end.timestamp()] for span in spans]


def _seconds(instants: Iterable[datetime]) -> list[float]:
    return [instant.timestamp() for instant in instants]
