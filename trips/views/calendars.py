"""A site's season to hand round: all its months on paper, all its nights for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.almanac.local_time import local, night_at
from trips.charts.calendar import months, sheets
from trips.forms.controls import Controls, read_controls, write_controls
from trips.models import Night, Season, Site
from trips.planning.season_view import SiteSeason
from trips.services.cautions import NOTHING_WRITTEN_DOWN, cautions
from trips.services.judged import JudgedSeason, judge_season
from trips.services.shown_season import ShownSeason, show_season
from trips.services.site_words import access_words, group_words
from trips.tabular import Cell
from trips.templatetags.runs import offered
from trips.views.downloads import csv_file
from trips.views.members import season_of
from trips.views.night_records import HEADING, records
from trips.views.page_address import PageAddress
from trips.views.season_pictures import NightAddresses


@dataclass(frozen=True, slots=True)
class _Asked:
    """The season judged by the wishes in the address, and the site looked at."""

    season: Season
    controls: Controls
    judged: JudgedSeason
    found: SiteSeason[Site] | None

    @classmethod
    def read(cls, request: HttpRequest, season_id: int) -> _Asked:
        """Read `?site=`, or else take the best; a site that is not the season's is no page."""
        season = season_of(request, season_id)
        controls = read_controls(request.GET, season)
        judged = judge_season(season, controls.wishes)
        asked, sites = request.GET.get("site"), judged.view.best_first
        found = next((each for each in sites if not asked or str(each.site.pk) == asked), None)
        if asked and found is None:
            raise Http404
        return cls(season, controls, judged, found)

    def shown(self, found: SiteSeason[Site]) -> ShownSeason:
        return show_season(
            self.season, found, self.judged, self.controls.wishes,
            address=NightAddresses(found.site, self.season, self.wished), in_words=offered,
            today=night_at(timezone.now(), found.site.zone),
        )  # fmt: skip

    @property
    def wished(self) -> dict[str, Any]:
        return write_controls(self.controls.wishes, self.season)

    def address(self, name: str) -> PageAddress:
        """Give the address of another page with the same wishes for the same site."""
        site = {"site": self.found.site.pk} if self.found else {}
        return PageAddress(reverse(name, args=[self.season.pk]), self.wished | site)


@require_safe
@login_required
def season_calendar(request: HttpRequest, season_id: int) -> HttpResponse:
    asked = _Asked.read(request, season_id)
    found = asked.found
    context = {
        "season": asked.season,
        "wishes": asked.controls.wishes,
        "wanted_list": asked.controls.target_list,
        "mistakes": asked.controls.mistakes,
        "found": found,
        "sites": [each.site for each in asked.judged.view.best_first],
        "calendar": asked.address("season_calendar"),
        "table": asked.address("season_nights_csv"),
        "above": asked.address("season_detail"),
    }
    if found and found.nights:
        shown = asked.shown(found)
        context |= {
            "shown": shown,
            "gap": next((gap for gap in asked.judged.gaps if gap.site == found.site), None),
            "sheets": sheets(months(shown.lines, south=found.site.latitude < 0)),
            **_to_know(found.site, now=timezone.now()),
        }
    return render(request, "trips/season_calendar.html", context)


def _to_know(site: Site, *, now: datetime) -> dict[str, Any]:
    """Give what whoever is handed a sheet must know of the site, and when it was printed."""
    hazards = list(site.hazards.all())
    return {
        "access": access_words(site),
        "group": group_words(site),
        "dangers": [caution.title for caution in cautions(site, hazards)],
        "unknown_dangers": "" if hazards else NOTHING_WRITTEN_DOWN,
        "printed_on": local(now, site.zone).date(),
    }


@require_safe
@login_required
def season_nights_csv(request: HttpRequest, season_id: int) -> HttpResponse:
    asked = _Asked.read(request, season_id)
    if asked.found is None:
        raise Http404
    season, site = asked.season, asked.found.site
    return csv_file(["nights", season.name, site.name], HEADING, _records(asked, asked.found))


def _records(asked: _Asked, found: SiteSeason[Site]) -> Iterator[list[Cell]]:
    season, site = asked.season, found.site
    stored = Night.objects.filter(site=site).between(season.first_night, season.last_night)
    rows = {row.date: row for row in stored}
    runs = {line.bands.date: line.run for line in asked.shown(found).lines}
    return records(rows, found.nights, site.zone, asked.controls.wishes.dark_level, runs)
