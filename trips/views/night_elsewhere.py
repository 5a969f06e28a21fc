"""The same night at the other sites of a season: rows of a table, with a note on each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.almanac.wording import why_absent
from trips.charts.bands import NightBands, bands_of
from trips.models import Season, Site
from trips.services.same_night import SiteNight, at_every_site
from trips.templatetags.nights import against
from trips.views.night_levels import Level, level_of

# More are no choice any more, and each row costs two milliseconds.
MOST_SITES = 20
ACCESS = {
    Site.Access.PERMIT.value: gettext_lazy("by permit"),
    Site.Access.UNKNOWN.value: gettext_lazy("access at night not known"),
}


@dataclass(frozen=True, slots=True)
class ElsewhereRow:
    """A site on this night: its bands and spans where they are computed, and what to know."""

    night: SiteNight
    bands: NightBands | None
    level: Level | None
    is_here: bool
    note: str
    must_compute: bool


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The best sites and this page's own; `more` are left to the comparison of the season."""

    rows: tuple[ElsewhereRow, ...] = ()
    more: int = 0


def elsewhere(season: Season | None, site: Site, evening: date) -> Elsewhere:
    """Give the season's sites on this night; none where there is no other one."""
    if season is None:
        return Elsewhere()
    nights = at_every_site(season, evening)
    if all(each.site.pk == site.pk for each in nights):
        return Elsewhere()
    shown = [each for at, each in enumerate(nights) if at < MOST_SITES or each.site.pk == site.pk]
    rows = tuple(_row(each, season, site) for each in shown)
    return Elsewhere(rows, more=len(nights) - len(rows))


def _row(night: SiteNight, season: Season, site: Site) -> ElsewhereRow:
    level = level_of(night.row, season.dark_level, season.dark_level) if night.row else None
    block = night.judged.block if night.judged else None
    usable = (block.start, block.end) if block else None
    bands = (
        bands_of(night.row, night.site.zone, dark_level=season.dark_level, usable=usable)
        if night.row
        else None
    )
    return ElsewhereRow(
        night=night,
        bands=bands,
        level=level,
        is_here=night.site.pk == site.pk,
        note=_note(night, level),
        must_compute=night.row is None or night.is_stale,
    )


def _note(night: SiteNight, level: Level | None) -> str:
    """Say what is against the site on this night, the worst first; else that nothing is."""
    if night.closed:
        return against(night.site, night.evening)
    if level is None:
        return _("not computed")
    if night.is_stale:
        return _("times out of date")
    return _missing(level) or str(ACCESS.get(night.site.night_access) or _("open"))


def _missing(level: Level) -> str:
    """Say why there is no dark or no moonless dark, or nothing."""
    if not level.dark_hours and level.dark_absent:
        return why_absent(level.dark_absent)
    if not level.moonless_hours and level.moonless_absent:
        return why_absent(level.moonless_absent)
    return ""
