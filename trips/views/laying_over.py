"""Two sites of a season laid over each other: which two the address asks for, and their picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.charts.overlay import OverlayChart, overlay_chart
from trips.models import Season, Site
from trips.planning.comparing import Compared
from trips.planning.laying_over import most_different, site_to_start_from
from trips.services.laid_over import lay_over
from trips.templatetags.comparing import isolated


@dataclass(frozen=True, slots=True)
class Laid:
    """Two sites and their picture; `choices` are the sites that could be laid over."""

    first: Site
    second: Site
    chart: OverlayChart
    first_night: date
    last_night: date
    is_cut: bool  # more nights are computed than are drawn
    choices: list[Site]
    mistakes: list[str]


def laid_over(season: Season, sites: Sequence[Compared[Site]], query: QueryDict) -> Laid | None:
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
    return _laid(season, first, second, mistakes, [site.site for site in able])


def _laid(
    season: Season,
    first: Compared[Site],
    second: Compared[Site],
    mistakes: list[str],
    choices: list[Site],
) -> Laid:
    over = lay_over(season, first, second)
    chart = overlay_chart(
        over.first,
        over.second,
        first_name=isolated(first.site.name),
        second_name=isolated(second.site.name),
        latest=season.out_until,
        key="overlay",
    )
    return Laid(
        first=first.site,
        second=second.site,
        chart=chart,
        first_night=over.first_night,
        last_night=over.last_night,
        is_cut=over.is_cut,
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
