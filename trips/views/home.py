"""The first page: what is coming, and what waits for a decision."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.models import Job, Organisation, Season, Site
from trips.services.decisions import Decision, pending
from trips.services.next_nights import next_good_nights
from trips.views.members import member


@require_safe
@login_required
def home(request: HttpRequest) -> HttpResponse:
    now, person = timezone.now(), member(request)
    organisations = list(Organisation.objects.for_member(person))
    seasons = Season.objects.for_member(person).current().filter(last_night__gte=now.date())
    context = {
        "organisations": organisations,
        "has_sites": Site.objects.for_member(person).current().exists(),
        "seasons": [
            {"season": season, "sites": next_good_nights(season, at=now)} for season in seasons
        ],
        "decisions": [
            {"sentence": one.sentence, "url": _address(one)}
            for one in pending(organisations, at=now)
        ],
        "jobs": Job.objects.for_member(person).open().select_related("site"),
    }
    return render(request, "trips/home.html", context)


def _address(decision: Decision) -> str:
    """Give the page where the person can act."""
    match decision.about:
        case Job():
            return reverse("job_detail", args=[decision.about.pk])
        case Season():
            return reverse("season_edit", args=[decision.about.pk])
        case Site():
            return reverse("site_edit", args=[decision.about.pk])
