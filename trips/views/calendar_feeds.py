"""Calendars to subscribe to: what a program reads by the link alone, and making or revoking it."""

from __future__ import annotations

from contextlib import suppress
from hashlib import sha256

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips import feeds
from trips.services import calendars
from trips.services.calendar_nights import calendar_of
from trips.services.refusals import RefusedError
from trips.views.link_doors import by_link, calendar_by, enrolment_by
from trips.views.members import member, require_leader, trip_of

MAKE, REVOKE = "make", "revoke"  # values of the buttons, which are named `calendar`


@require_safe
@by_link
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """Give the calendar, or say that it is the one that the program has."""
    text = feeds.written(calendar_of(calendar_by(token)))
    answer = HttpResponse(text, content_type=feeds.CONTENT_TYPE)
    answer.headers["Content-Disposition"] = 'inline; filename="nights.ics"'
    answer.headers["ETag"] = f'"{sha256(text).hexdigest()[:32]}"'
    given = get_conditional_response(request, etag=answer.headers["ETag"], response=answer)
    return given or answer


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def trip_calendar(request: HttpRequest, trip_id: int) -> HttpResponse:
    """Show the calendar of those who lead the trip; by POST make it, or make it useless."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    if request.method != "POST":
        shown = {"trip": trip, "calendar": calendars.address_of(calendars.link_of(trip))}
        return render(request, "trips/trip_calendar.html", shown)
    deed, by, now = request.POST.get("calendar"), member(request), timezone.now()
    if deed == MAKE:
        calendars.make_link(trip, now=now, by=by)
    if deed == REVOKE:
        calendars.revoke(trip, now=now, by=by)
        messages.success(request, _("The old address of the calendar opens nothing any more."))
    return redirect("trip_calendar", trip.pk)


@require_POST
@by_link
def place_calendar(request: HttpRequest, token: str) -> HttpResponse:
    """Make the person's own calendar, or make it useless; their page shows which."""
    enrolment, now = enrolment_by(token), timezone.now()
    deed = request.POST.get("calendar")
    if deed == MAKE:
        with suppress(RefusedError):  # their page says how it stands with the place
            calendars.make_link(enrolment.trip, enrolment, now=now)
    if deed == REVOKE:
        calendars.revoke(enrolment.trip, enrolment, now=now)
    return redirect(f"{reverse('place', args=[token])}#calendar")
