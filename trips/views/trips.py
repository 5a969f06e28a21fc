"""The list of trips: those ahead, those that are over, those that were cancelled."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from trips.services.trip_lines import lines_of
from trips.views.members import by_organisation, member


@require_safe
@login_required
def trip_list(request: HttpRequest) -> HttpResponse:
    lines = lines_of(member(request), now=timezone.now())
    ahead = [line for line in lines if line.is_ahead]
    context = {
        "groups": [
            (organisation, [line for line in ahead if line.trip.organisation_id == organisation.pk])
            for organisation, _trips in by_organisation(request, [])
        ],
        "before": [line for line in lines if not line.is_ahead],
    }
    return render(request, "trips/trip_list.html", context)
