"""Two sites of a season laid over each other: which two the address asks for, and their picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.models import Site
from trips.planning.comparing import Compared
from trips.planning.laying_over import (
    SharedHours,
    most_different,
    shared_hours,
    site_to_start_from,
)

# A picture holds a year: of a longer season it shows the first.
MOST_NIGHTS = 366
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Laid:
    """Two sites, the stretch of nights that is drawn of them, and the hours they share in it."""

    first: Site
    second: Site
    first_night: date
    last_night: date
    is_cut: bool  # more nights are computed than are drawn
    hours: SharedHours
    choices: list[Site]
    mistakes: list[str]


def laid_over(sites: Sequence[Compared[Site]], query: QueryDict) -> Laid | None:
    """Read `?over=` and `?with=`; None where there are no two sites with nights to lay over."""
    able = [site for site in sites if site.nights]
    usual = site_to_start_from(able)
    if usual is None or len(able) < 2:
        return None
    mistakes: list[str] = []
    first = _site(query.get("over"), sites, usual, mistakes)
    other = most_different(first, able) or usual
    second = _site(query.get("with"), sites, other, mistakes)
    if second is first:
        second = other
        said = _("%(site)s cannot be laid over itself: %(other)s is laid over it.")
        mistakes.append(said % {"site": first.site.name, "other": second.site.name})
    return _lay(first, second, mistakes, [site.site for site in able])


def _lay(
    first: Compared[Site],
    second: Compared[Site],
    mistakes: list[str],
    choices: list[Site],
) -> Laid:
    start = min(first.nights[0].date, second.nights[0].date)
    end = max(first.nights[-1].date, second.nights[-1].date)
    last = min(end, start + ONE_DAY * (MOST_NIGHTS - 1))
    nights = [[n for n in site.nights if n.date <= last] for site in (first, second)]
    return Laid(
        first=first.site,
        second=second.site,
        first_night=start,
        last_night=last,
        is_cut=last < end,
        hours=shared_hours(*nights),
        choices=choices,
        mistakes=mistakes,
    )


def _site(
    asked: str | None,
    sites: Sequence[Compared[Site]],
    usual: Compared[Site],
    mistakes: list[str],
) -> Compared[Site]:
    """Find the site asked for; else the usual one, and say why."""
    if not asked:
        return usual
    found = next((site for site in sites if str(site.site.pk) == asked), None)
    if found and found.nights:
        return found
    said = _("No night of %(asked)s is computed: %(usual)s is shown.")
    if not found:
        said = _("“%(asked)s” is not a site of this season: %(usual)s is shown.")
    name = found.site.name if found else asked[:20]
    mistakes.append(said % {"asked": name, "usual": usual.site.name})
    return usual
