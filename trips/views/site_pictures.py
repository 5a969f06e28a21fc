"""The year of a site as a chart: the stored nights put on its clock, with the Moons of the year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.events import events_between, moon_dates
from trips.almanac.places import place_of
from trips.charts.bands import NightBands, NightLine, bands_of
from trips.charts.readout import readout_of
from trips.charts.season import MoonMark, SeasonChart, season_chart
from trips.models import Site
from trips.services.site_year import SiteYear
from trips.templatetags.nights import against

LEVEL = -18


@dataclass(frozen=True, slots=True)
class YearPicture:
    chart: SeasonChart
    readout: dict[str, Any]


def year_picture(site: Site, year: SiteYear, *, today: date) -> YearPicture:
    """Draw the year, with what is said of the night under the pointer."""
    bands = [bands_of(row, site.zone, dark_level=LEVEL) for row in year.rows]
    # No season is asked here: the hours are the moonless dark of the whole night.
    readout = readout_of(_lines(site, year, bands)) | {"usable": _("{} moonless")}
    return YearPicture(_chart(site, year, bands, today), readout)


def _lines(site: Site, year: SiteYear, bands: Sequence[NightBands]) -> list[NightLine]:
    first, last = year.rows[0].date, year.rows[-1].date
    events = events_between(first, last, site.zone, place=place_of(site))
    return [
        NightLine(
            bands=each,
            dark_hours=row.dark_hours_18,
            moonless_hours=row.moonless_hours_18,
            usable_dark_hours=row.usable_hours,
            usable_hours=row.moonless_hours_18,
            is_candidate=False,
            run=None,
            against=against(site, row.date) or str(site.get_night_access_display()),
            events=events.get(row.date, ()),
            address=reverse("night_detail", args=[site.pk, row.date]),
        )
        for row, each in zip(year.rows, bands, strict=True)
    ]


def _chart(site: Site, year: SiteYear, bands: Sequence[NightBands], today: date) -> SeasonChart:
    first, last = year.rows[0].date, year.rows[-1].date
    return season_chart(
        bands,
        moons=[MoonMark(*moon) for moon in moon_dates(first, last, site.zone)],
        today=today if first <= today <= last else None,
        title=_("The nights of %(year)d at %(site)s") % {"year": year.year, "site": site.name},
        description=" ".join([_("Each column is one night."), *_figures(year)]),
    )


def _figures(year: SiteYear) -> list[str]:
    """Say what the picture says."""
    dark = ngettext(
        "%(count)d night gets dark.", "%(count)d nights get dark.", year.dark_nights
    ) % {"count": year.dark_nights}
    moonless = _("They have %(hours).0f h of moonless dark.") % {"hours": year.moonless_hours}
    most = max(year.months, key=lambda month: month.moonless_hours)
    richest = _("%(month)s has the most: %(hours).0f h.") % {
        "month": f"{most.first:%m/%Y}",
        "hours": most.moonless_hours,
    }
    usable = _("Usable dark overhead: %(hours).0f h.") % {"hours": year.usable_dark_hours}
    return [dark, moonless, richest, usable] if year.dark_nights else [dark]
