"""Two sites of a season laid over each other: which two the address asks for, and their picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.charts.overlay import OverlayChart, overlay_chart
from trips.models import Season, Site
from trips.planning.comparing import Compared
from trips.planning.laying_over import SharedHours, adds_most, site_to_start_from
from trips.services.laid_over import LaidOver, lay_over
from trips.templatetags.comparing import isolated, long_hours, tenths


@dataclass(frozen=True, slots=True)
class Laid:
    """Two sites and their picture; `choices` are the sites that could be laid over."""

    first: Site
    second: Site
    chart: OverlayChart
    first_night: date
    last_night: date
    is_cut: bool  # more nights are computed than are drawn
    alone: list[tuple[Site, float]]  # the hours that no other site of the season offers
    choices: list[Site]
    mistakes: list[str]


def laid_over(
    season: Season,
    sites: Sequence[Compared[Site]],
    query: QueryDict,
    alone: Mapping[Site, float],
    *,
    by_targets: bool,
) -> Laid | None:
    """Read `?over=` and `?with=`; None where there are no two sites with nights to lay over.

    `alone` are the hours that each site of the season has on nights that no other offers.
    """
    able = [site for site in sites if site.nights]
    usual = site_to_start_from(able)
    if usual is None or len(able) < 2:
        return None
    mistakes: list[str] = []
    first = _site(query.get("over"), sites, usual, mistakes)
    other = adds_most(first, able) or usual
    second = _site(query.get("with"), sites, other, mistakes)
    if second is first:
        second = other
        said = _("%(site)s cannot be laid over itself: %(other)s is laid over it.")
        mistakes.append(said % {"site": first.site.name, "other": second.site.name})
    over = lay_over(season, first, second)
    return Laid(
        first=first.site,
        second=second.site,
        chart=_chart(season, over, first.site, second.site, by_targets=by_targets),
        first_night=over.first_night,
        last_night=over.last_night,
        is_cut=over.is_cut,
        alone=[(site.site, alone[site.site]) for site in (first, second)],
        choices=[site.site for site in able],
        mistakes=mistakes,
    )


def _chart(
    season: Season, over: LaidOver, first: Site, second: Site, *, by_targets: bool
) -> OverlayChart:
    names = isolated(first.name), isolated(second.name)
    return overlay_chart(
        over.first,
        over.second,
        first_name=names[0],
        second_name=names[1],
        description=_told(over.hours, *names, by_targets=by_targets),
        latest=season.out_until,
        key="overlay",
    )


def _told(hours: SharedHours, first: str, second: str, *, by_targets: bool) -> str:
    """Say what the picture says, in hours that add up to those of the table; those of targets
    without their weights, as they are drawn."""
    said = _(
        "Usable hours: %(both)s at both at the same time, %(only_first)s only at %(first)s, which "
        "makes its %(of_first)s, and %(only_second)s only at %(second)s, which makes its "
        "%(of_second)s."
    )
    if by_targets:
        said = _(
            "Hours of wanted targets, each counted whole: %(both)s at both at the same time, "
            "%(only_first)s only at %(first)s, which makes %(of_first)s there, and "
            "%(only_second)s only at %(second)s, which makes %(of_second)s there."
        )
    return said % {
        "both": tenths(hours.both),
        "only_first": tenths(hours.only_first),
        "first": first,
        "of_first": long_hours(hours.of_first),
        "only_second": tenths(hours.only_second),
        "second": second,
        "of_second": long_hours(hours.of_second),
    }


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
