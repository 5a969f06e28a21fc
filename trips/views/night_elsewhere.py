"""The same night at the other sites of a season: rows of a table, with a note on each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from trips.almanac.wording import why_absent
from trips.charts.bands import NightBands, bands_of
from trips.models import Season, Site
from trips.services.same_night import SiteNight
from trips.services.site_words import access_words, group_words
from trips.templatetags.nights import against
from trips.views.night_levels import Level, level_of

# More are no choice any more, and each row costs two milliseconds.
MOST_SITES = 20


@dataclass(frozen=True, slots=True)
class ElsewhereRow:
    """A site on this night: its bands and spans where they are computed, and what to know."""

    night: SiteNight
    bands: NightBands | None
    level: Level | None
    is_here: bool
    is_offered: bool
    note: str
    must_compute: bool


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The best sites and this page's own; `more` are left to the comparison of the season."""

    rows: tuple[ElsewhereRow, ...] = ()
    more: int = 0


def elsewhere(
    season: Season | None,
    site: Site,
    nights: Sequence[SiteNight],
    *,
    today: date | None = None,
) -> Elsewhere:
    """Give the season's sites on this night; none where there is no other one."""
    if season is None or all(each.site.pk == site.pk for each in nights):
        return Elsewhere()
    shown = [each for at, each in enumerate(nights) if at < MOST_SITES or each.site.pk == site.pk]
    rows = tuple(_row(each, season, site, today) for each in shown)
    return Elsewhere(rows, more=len(nights) - len(rows))


def _row(night: SiteNight, season: Season, site: Site, today: date | None) -> ElsewhereRow:
    level = level_of(night.row, season.dark_level, season.dark_level) if night.row else None
    is_offered = night.judged is not None and night.judged.why_not is None
    block = night.judged.block if night.judged and is_offered else None
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
        is_offered=is_offered,
        note=_note(night, level, today),
        must_compute=night.row is None or night.is_stale,
    )


def _note(night: SiteNight, level: Level | None, today: date | None) -> str:
    """Say what is against the site on this night, the worst first; else that nothing is."""
    if night.closed:
        return against(night.site, night.evening)
    if level is None:
        return _("not computed")
    if night.is_stale:
        return _("times out of date")
    return _missing(level) or _access(night, today)


def _access(night: SiteNight, today: date | None) -> str:
    """Say what to settle first, and for how many, where the site is not plainly open."""
    if night.site.night_access == Site.Access.YES:
        return _("open")
    unknown = night.site.night_access == Site.Access.UNKNOWN
    return _("%(access)s; %(group)s") % {
        "access": _("access at night not known")
        if unknown
        else access_words(night.site, night.evening, today=today),
        "group": group_words(night.site),
    }


def _missing(level: Level) -> str:
    """Say why there is no dark or no moonless dark, or nothing."""
    if not level.dark_hours and level.dark_absent:
        return why_absent(level.dark_absent)
    if not level.moonless_hours and level.moonless_absent:
        return why_absent(level.moonless_absent)
    return ""
