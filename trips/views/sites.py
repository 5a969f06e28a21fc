"""Sites: listed, shown with their year, archived. Adding and editing: see site_editing."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trips.almanac.local_time import night_at
from trips.almanac.places import describe_position
from trips.models import Job, Season, Site
from trips.services import emergency
from trips.services.cautions import cautions
from trips.services.site_year import site_year
from trips.services.sites import archive_site
from trips.services.spots import spots_of
from trips.services.waiting import work_of
from trips.views.archiving import archiving
from trips.views.darkness_lines import darkness_log
from trips.views.members import by_organisation, coordinated, member, site_of
from trips.views.site_glow import site_glow
from trips.views.site_log import site_log
from trips.views.site_pictures import year_picture
from trips.views.spot_pictures import spot_lines


@require_safe
@login_required
def site_list(request: HttpRequest) -> HttpResponse:
    mine = Site.objects.for_member(member(request))
    context = {
        "groups": by_organisation(request, list(mine.current())),
        "archived": mine.exclude(archived_at=None),
    }
    return render(request, "trips/site_list.html", context)


@require_safe
@login_required
def site_detail(request: HttpRequest, site_id: int) -> HttpResponse:
    site, now = site_of(request, site_id), timezone.now()
    hazards, spots = list(site.hazards.all()), spots_of(site)
    seasons = list(site.seasons.current())
    coordinates = coordinated(request, [site.organisation])
    context = {
        "site": site,
        "echo": describe_position(site.latitude, site.longitude),
        "cautions": cautions(site, hazards),
        "emergency": emergency.words(site),
        "hazards": hazards,
        "seasons": seasons,
        "may_archive": coordinates,
        "darkness": darkness_log(site, by=member(request), coordinates=bool(coordinates)),
        "next_step": _next_step(site, seasons, now),
        "spots": spot_lines(spots),
        "glow": site_glow(site, spots),
        "archived_spots": site.spots.exclude(archived_at=None),
        "work": work_of(Job.objects.open().filter(site=site).select_related("site"), now=now),
    }
    context |= site_log(site) | _year(request, site, now)
    return render(request, "trips/site_detail.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def site_archive(request: HttpRequest, site_id: int) -> HttpResponse:
    site = site_of(request, site_id)
    return archiving(
        request, site, lambda: archive_site(site, now=timezone.now()),
        organisation=site.organisation,
        template="trips/site_archive.html", then=reverse("site_list"),
    )  # fmt: skip


def _next_step(site: Site, seasons: list[Season], now: datetime) -> str:
    """Say what comes after this site: the first season, a season with it, or nothing."""
    if site.archived_at or any(season.last_night >= now.date() for season in seasons):
        return ""
    ahead = Season.objects.current().filter(
        organisation=site.organisation, last_night__gte=now.date()
    )
    return "choose" if ahead.exists() else "first"


def _year(request: HttpRequest, site: Site, now: datetime) -> dict[str, object]:
    today = night_at(now, site.zone)
    asked, mistake = _asked_year(request.GET.get("year"))
    year = site_year(site, asked, today=today)
    if year is None:
        return {"year": None}
    if asked and asked != year.year:
        mistake = _("No night of %(asked)d is stored: %(year)d is shown.") % {
            "asked": asked,
            "year": year.year,
        }
    picture = year_picture(site, year, today=today)
    return {"year": year, "year_mistake": mistake, "picture": picture}


def _asked_year(text: str | None) -> tuple[int | None, str]:
    if text is None:
        return None, ""
    if text.isascii() and text.isdecimal() and len(text) == 4:
        return int(text), ""
    return None, _("“%(asked)s” is not a year; write it like 2027.") % {"asked": text[:20]}
