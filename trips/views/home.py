"""The first page: what is coming, what waits for a decision, what to do where nothing is yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.forms.layout import SITE_GROUPS, laid_out
from trips.forms.site import HazardFormSet, SiteForm
from trips.models import Job, Organisation, Season, Site, Trip
from trips.services.decisions import Decision, pending
from trips.services.next_nights import Outlook, in_order, next_good_nights, soonest
from trips.services.trip_lines import lines_of
from trips.services.waiting import work_of
from trips.views.home_pictures import SoonRow, soon_rows
from trips.views.invented_night import INVENTED_NIGHT
from trips.views.members import member

SITES_SHOWN = 10
TRIPS_SHOWN = 5


@dataclass(frozen=True, slots=True)
class Coming:
    """A season ahead; `more` holds the sites behind those shown at once."""

    season: Season
    outlooks: list[Outlook]
    shown: list[SoonRow]
    more: list[SoonRow]

    @property
    def is_computed(self) -> bool:
        """Whether any night ahead is stored at any of its sites."""
        return any(outlook.is_computed for outlook in self.outlooks)


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    if not request.user.is_authenticated:
        return render(request, "trips/home_signed_out.html", {"night": INVENTED_NIGHT})
    now, person = timezone.now(), member(request)
    organisations = list(Organisation.objects.for_member(person).order_by("name"))
    seasons = _seasons(request, now)
    work = work_of(Job.objects.for_member(person).open().select_related("site"), now=now)
    counted = _counted(organisations)
    context = {
        "organisations": organisations,
        "sites_by_organisation": counted,
        "seasons": seasons,
        "trips": [line for line in lines_of(person, now=now) if line.is_ahead][:TRIPS_SHOWN],
        "soonest": soonest([one for each in seasons for one in each.outlooks]),
        "decisions": [
            {"decision": one, "address": _address(one)} for one in pending(organisations, at=now)
        ],
        "work": work,
        "computing": {job.site_id for job in work.jobs} if work else set(),
    }
    return render(request, "trips/home.html", context | _first_site(counted, now))


def _seasons(request: HttpRequest, now: datetime) -> list[Coming]:
    ahead = Season.objects.for_member(member(request)).current().filter(last_night__gte=now.date())
    ahead = ahead.select_related("target_list")
    return [_season(season, now) for season in ahead.order_by("first_night", "name")]


def _season(season: Season, now: datetime) -> Coming:
    outlooks = in_order(next_good_nights(season, at=now))
    return Coming(
        season,
        outlooks,
        shown=soon_rows(season, outlooks[:SITES_SHOWN]),
        more=soon_rows(season, outlooks[SITES_SHOWN:], drawn=False),
    )


def _counted(organisations: list[Organisation]) -> list[tuple[Organisation, int]]:
    """Give each organisation with the number of its sites."""
    sites = Site.objects.current().filter(organisation__in=organisations)
    owners = list(sites.values_list("organisation_id", flat=True))
    return [(each, owners.count(each.pk)) for each in organisations]


def _first_site(counted: list[tuple[Organisation, int]], now: datetime) -> dict[str, object]:
    """A single organisation without sites is asked for its first one here and now."""
    if len(counted) != 1 or counted[0][1]:
        return {}
    form = SiteForm(instance=Site(organisation=counted[0][0]), now=now)
    place, *rest = laid_out(form, SITE_GROUPS)
    return {
        "first_site": form,
        "first_fields": place.fields,
        "other_fields": [shown.bound for group in rest for shown in group.fields],
        "hazards": HazardFormSet(instance=form.instance),
    }


def _address(decision: Decision) -> str:
    """Give the page where the person can act."""
    match decision.about:
        case Job():
            return reverse("job_detail", args=[decision.about.pk])
        case Season():
            page = "season_edit" if decision.kind == "empty" else "season_detail"
            return reverse(page, args=[decision.about.pk])
        case Trip():
            return reverse("trip_detail", args=[decision.about.pk])
        case Site():
            return reverse("site_edit", args=[decision.about.pk])
