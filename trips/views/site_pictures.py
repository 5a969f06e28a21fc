"""The year of a site as a chart: the stored nights put on its clock, with the Moons of the year."""

from __future__ import annotations

from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.season_events import moon_dates
from trips.charts.bands import bands_of
from trips.charts.season import MoonMark, SeasonChart, season_chart
from trips.models import Site
from trips.services.site_year import SiteYear

LEVEL = -18


def year_chart(site: Site, year: SiteYear, *, today: date) -> SeasonChart:
    first, last = year.rows[0].date, year.rows[-1].date
    return season_chart(
        [bands_of(row, site.zone, dark_level=LEVEL) for row in year.rows],
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
    return [dark, moonless, richest] if year.dark_nights else [dark]
