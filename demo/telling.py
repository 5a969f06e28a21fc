"""What the demo prints: the best nights and runs of each site, as plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import local
from trips.models import Season, Site
from trips.planning.nights import JudgedNight
from trips.planning.runs import Run, best_nights
from trips.planning.season_view import SiteSeason
from trips.services.judged import JudgedSeason

MOST_NIGHTS, MOST_RUNS = 5, 3


def tell_season(season: Season, judged: JudgedSeason) -> Iterator[str]:
    yield _("%(season)s: %(first)s to %(last)s") % {
        "season": season.name,
        "first": season.first_night,
        "last": season.last_night,
    }
    for of_site in judged.view.sites:
        yield ""
        yield from _tell_site(of_site)
    for gap in judged.gaps:
        words = _(
            "%(site)s: %(missing)d nights missing, %(stale)d out of date, "
            "%(windows)d windows of targets missing"
        )
        yield words % {
            "site": gap.site.name,
            "missing": gap.missing,
            "stale": gap.stale,
            "windows": gap.windows,
        }


def _tell_site(of_site: SiteSeason[Site]) -> Iterator[str]:
    nights = len(of_site.nights)
    yield _("%(site)s: %(candidates)d candidate nights of %(nights)d") % {
        "site": of_site.site.name,
        "candidates": of_site.candidates,
        "nights": nights,
    }
    told, more = best_nights(of_site.nights, MOST_NIGHTS)
    for night in told:
        yield "  " + _tell_night(night, of_site.site.zone)
    if more:
        yield "  " + ngettext("and %d night equal", "and %d nights equal", more) % more
    for run in of_site.runs[:MOST_RUNS]:
        yield "  " + _tell_run(run)


def _tell_night(night: JudgedNight, zone: str) -> str:
    block = night.block
    return _("night of %(date)s  %(hours)s usable  %(start)s – %(end)s  Moon %(moon)d%%") % {
        "date": night.date,
        "hours": _hours(night.usable_hours),
        "start": _local(block.start, zone) if block else "",
        "end": _local(block.end, zone) if block else "",
        "moon": round(night.moon_illuminated * 100),
    }


def _tell_run(run: Run) -> str:
    said = _("run of %(dates)s  %(hours)s usable") % {
        "dates": _dates(run.first, run.last),
        "hours": _hours(run.hours),
    }
    if run.ties:
        count = len(run.ties)
        said += "  " + ngettext("%d other equal", "%d others equal", count) % count
    if run.also:
        said += "  " + _("also in this Moon: %(dates)s, %(hours)s") % {
            "dates": _dates(run.also.first, run.also.last),
            "hours": _hours(run.also.hours),
        }
    return said


def _dates(first: date, last: date) -> str:
    return f"{first} – {last}"


def _hours(hours: float) -> str:
    return f"{hours:.1f} h"


def _local(instant: datetime, zone: str) -> str:
    return local(instant, zone).isoformat(timespec="minutes")
