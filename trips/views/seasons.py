"""A season's page: its best runs and why, every night in a chart, months, a table; its deeds."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from trips.forms.controls import Controls, read_controls, write_controls
from trips.models import Job, Season, Site
from trips.planning.offered import longest_row
from trips.planning.season_view import SiteSeason
from trips.services.editing import EditedMeanwhileError
from trips.services.judged import JudgedSeason, judge_season
from trips.services.seasons import keep_wishes, request_season, try_list
from trips.services.waiting import work_of
from trips.services.wanted import first_spots
from trips.views.members import member, season_of
from trips.views.page_address import PageAddress
from trips.views.season_pictures import SeasonPage
from trips.views.versions import seen_version

PARTIAL = "trips/_season_found.html"


@require_POST
@login_required
def season_recompute(request: HttpRequest, season_id: int) -> HttpResponse:
    """Ask for what is missing, and for a list that is tried in the address what it needs."""
    season, now = season_of(request, season_id), timezone.now()
    controls = read_controls(request.POST, season)
    tried, asked = controls.target_list, _asked(controls, request.POST, season)
    jobs = request_season(season, by=member(request), now=now)
    if tried is not None and tried != season.target_list:
        jobs += try_list(season, tried, by=member(request), now=now)
    if not jobs:
        messages.info(request, _("Every night is there and up to date: nothing to compute."))
    elif len(jobs) == 1 and not any(asked.values()):
        return redirect("job_detail", jobs[0].pk)
    return redirect(PageAddress(reverse("season_detail", args=[season.pk]), asked).with_())


@require_POST
@login_required
def season_keep(request: HttpRequest, season_id: int) -> HttpResponse:
    """Keep the wishes of the address for the season; the second of two editors is told."""
    season = season_of(request, season_id)
    controls = read_controls(request.POST, season)
    season.version = seen_version(request, season)
    path = reverse("season_detail", args=[season.pk])
    as_asked = PageAddress(path, _asked(controls, request.POST, season))
    try:
        keep_wishes(season, controls.wishes, by=member(request), now=timezone.now())
    except EditedMeanwhileError as error:
        messages.warning(request, str(error))
        return redirect(as_asked.with_())  # nothing is lost: the address still has all of it
    for mistake in controls.mistakes:
        messages.warning(request, mistake)
    messages.success(request, _("These wishes are now the season's own."))
    return redirect(PageAddress(path, _asked(controls, request.POST, season)).with_())


@require_safe
@login_required
def season_detail(request: HttpRequest, season_id: int) -> HttpResponse:
    season = season_of(request, season_id)
    controls = read_controls(request.GET, season)
    judged = judge_season(season, controls.wishes)
    found, site_mistake = _chosen(judged, request.GET.get("site"))
    address = PageAddress(request.path, _asked(controls, request.GET, season))
    context = {
        "season": season,
        "controls": controls,
        "wishes": controls.wishes,
        "changed": write_controls(controls.wishes, season),
        "judged": judged,
        "found": found,
        "wanted_list": controls.target_list,
        "is_weighted": _is_weighted(judged, found),
        "uncomputed": any(gap.windows for gap in judged.gaps if found and gap.site == found.site),
        "longest_row": longest_row(controls.wishes.weekdays),
        "wanted_spot": first_spots([found.site]).get(found.site.pk) if found else None,
        "mistakes": [*controls.mistakes, *site_mistake],
        "sites": judged.view.best_first,
        "work": work_of(_open_jobs(season, judged), now=timezone.now()),
        "address": address,
        **_handed_round(season, found, address),
    }
    if found and found.nights:
        page = SeasonPage(season, controls.wishes, judged, found, address)
        context |= page.pictures(request.GET.get("month"), now=timezone.now())
    return _answer(request, context, address)


def _answer(request: HttpRequest, context: dict[str, Any], address: PageAddress) -> HttpResponse:
    """Answer with the page, or to a changed control with the parts that it changes."""
    in_place = request.headers.get("HX-Request") == "true"
    response = render(request, PARTIAL if in_place else "trips/season_detail.html", context)
    patch_vary_headers(response, ["HX-Request"])
    if in_place:
        here = request.headers.get("HX-Current-URL", "")
        same = here.endswith(address.with_())
        # Nothing new to come back from: no step is added to the browser's history.
        response.headers["HX-Push-Url"] = "false" if same else address.with_()
    return response


def _asked(controls: Controls, asked: Any, season: Season) -> dict[str, Any]:
    """Give what the address of this page must say: what differs from the season, and the site."""
    kept = {"site": asked.get("site", ""), "month": asked.get("month", "")}
    return write_controls(controls.wishes, season) | kept


def _chosen(
    judged: JudgedSeason, asked: str | None
) -> tuple[SiteSeason[Site] | None, tuple[str, ...]]:
    """Read `?site=`; without one the best site is shown, and for nonsense too, with a sentence."""
    best = next(iter(judged.view.best_first), None)
    if not asked:
        return best, ()
    for found in judged.view.sites:
        if str(found.site.pk) == asked:
            return found, ()
    said = _("“%(asked)s” is not a site of this season.") % {"asked": asked[:20]}
    return best, (said,)


def _is_weighted(judged: JudgedSeason, found: SiteSeason[Site] | None) -> bool:
    """Whether an hour of one wanted target counts less than one of another."""
    wanted = judged.wanted[found.site] if judged.wanted and found else ()
    return any(one.weight < 1 for one in wanted)


def _handed_round(
    season: Season, found: SiteSeason[Site] | None, address: PageAddress
) -> dict[str, str]:
    """Give the addresses of calendar and figures of the site, judged by the same wishes."""
    if found is None:
        return {}
    asked = {**address.asked, "site": found.site.pk, "month": ""}
    names = {"calendar": "season_calendar", "figures": "season_nights_csv"}
    addresses = {
        key: PageAddress(reverse(name, args=[season.pk]), asked).with_()
        for key, name in names.items()
    }
    compare = PageAddress(reverse("season_compare", args=[season.pk]), asked | {"site": ""})
    return addresses | {"compare": compare.with_()}


def _open_jobs(season: Season, judged: JudgedSeason) -> QuerySet[Job]:
    return (
        Job.objects.open()
        .filter(
            site__in=[found.site for found in judged.view.sites],
            first_night__lte=season.last_night,
            last_night__gte=season.first_night,
        )
        .select_related("site")
    )
