"""What a season's page draws of one of its sites: runs, chart, months, table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _

from trips.almanac.events import moon_dates
from trips.almanac.horizon import open_horizon
from trips.almanac.local_time import night_at
from trips.charts.calendar import months
from trips.charts.night_table import night_table
from trips.charts.night_words import hours_of
from trips.charts.readout import readout_of
from trips.charts.season import MoonMark, RunMark, SeasonChart, season_chart
from trips.forms.controls import write_controls
from trips.models import Season, Site
from trips.planning.nights import Wishes
from trips.planning.season_view import SiteSeason
from trips.services.judged import JudgedSeason
from trips.services.shown_runs import ShownRun
from trips.services.shown_season import ShownSeason, show_season
from trips.templatetags.runs import evenings, offered, short_evenings
from trips.views.month_window import month_window
from trips.views.page_address import PageAddress

LEVEL_NAMES = {level: str(label) for level, label in Season.DarkLevel.choices}


@dataclass(frozen=True, slots=True)
class SeasonPage:
    """A season judged, and the site of it that is looked at."""

    season: Season
    wishes: Wishes
    judged: JudgedSeason
    found: SiteSeason[Site]
    address: PageAddress

    def pictures(self, month: str | None, *, now: datetime) -> dict[str, Any]:
        """Give what the templates draw; `month` as 2027-06 is the first of those shown."""
        shown = show_season(
            self.season, self.found, self.judged, self.wishes,
            address=self.nights, in_words=offered, today=night_at(now, self.found.site.zone),
        )  # fmt: skip
        first, last = self.season.first_night, self.season.last_night
        usual = shown.runs[0].run.first if shown.runs else first
        window = month_window(month, first, last, usual, self.address)
        lines = [line for line in shown.lines if window.holds(line.bands.date)]
        south = self.found.site.latitude < 0
        return {
            "shown": shown,
            "chart": self._chart(shown, now),
            "readout": readout_of(shown.lines),
            "night_query": self.nights.query,
            "open_horizon": open_horizon(self.found.site.elevation_m),
            "window": window,
            "months": months(lines, south=south),
            "table": night_table(lines, south=south),
            **self._levels(),
        }

    @property
    def nights(self) -> NightAddresses:
        wished = write_controls(self.wishes, self.season)
        return NightAddresses(self.found.site, self.season, wished)

    def _chart(self, shown: ShownSeason, now: datetime) -> SeasonChart:
        site, season = shown.site, self.season
        moons = moon_dates(season.first_night, season.last_night, site.zone)
        return season_chart(
            shown.bands,
            marks=[_mark(one, self.nights) for one in shown.runs],
            moons=[MoonMark(*moon) for moon in moons],
            avoid=self.wishes.avoid,
            latest=self.wishes.out_until,
            earliest=self.wishes.out_from,
            today=night_at(now, site.zone),
            title=_("Every night of %(season)s at %(site)s")
            % {"season": season.name, "site": site.name},
            description=_description(shown),
        )

    def _levels(self) -> dict[str, Any]:
        """Say what lighter levels give where no night is a candidate, or some never get dark."""
        others = list(self.found.candidates_by_level.items())[1:]
        bright = list(self.found.never_dark_by_level.items())
        return {
            "other_levels": [(LEVEL_NAMES[level], count) for level, count in others],
            "bright": [(LEVEL_NAMES[level], count) for level, count in bright if bright[0][1]],
        }


class NightAddresses:
    """The addresses of a site's nights, judged as here, whatever other seasons hold them.

    Found once, for a year has hundreds.
    """

    def __init__(self, site: Site, season: Season, wished: Mapping[str, Any]) -> None:
        some = date(2000, 1, 1)
        asked = {"season": season.pk, **wished}
        path = reverse("night_detail", args=[site.pk, some])
        self.query = PageAddress("", asked).with_()
        self._stem, self._rest = f"{path}{self.query}".split(f"{some}", 1)

    def __call__(self, night: object) -> str:
        return f"{self._stem}{night}{self._rest}"


def _mark(shown: ShownRun, nights: NightAddresses) -> RunMark:
    run = shown.run
    return RunMark(
        number=shown.number,
        first=run.first,
        last=run.last,
        label=short_evenings(run.first, run.last),
        address=nights(run.first),
    )


def _description(shown: ShownSeason) -> str:
    said = _("%(nights)d nights, %(candidates)d of them candidates, %(hours)d usable hours in all.")
    counts = said % {
        "nights": len(shown.lines),
        "candidates": shown.offered_candidates,
        "hours": round(sum(line.usable_hours for line in shown.lines if not line.against)),
    }
    runs = [
        _("Run %(number)d: %(evenings)s, %(hours)s.")
        % {
            "number": one.number,
            "evenings": evenings(one.run.first, one.run.last),
            "hours": hours_of(one.run.hours),
        }
        for one in shown.runs
    ]
    return " ".join([counts, *runs])
