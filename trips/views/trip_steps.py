"""A trip steps on; who leads it; its invitation; who did what."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trips.models import Trip, TripInstructor
from trips.planning.trip_steps import OVER
from trips.services.letter_kinds.written import address
from trips.services.links import invitation_of
from trips.services.places import zone_of_trip
from trips.services.refusals import RefusedError
from trips.services.step_needs import Standing, needs
from trips.services.trip_deeds import deeds_of
from trips.services.trip_instructors import (
    add_instructor,
    choosable_users,
    set_phone,
    take_off,
)
from trips.services.trips import renew_invitation, step
from trips.templatetags.runs import whole_evenings
from trips.views.members import member, require_leader, trip_of

DONE = {
    Trip.Status.OPEN: gettext_lazy("People can ask for a place now: hand round the invitation."),
    Trip.Status.FULL: gettext_lazy("No place is free."),
    Trip.Status.CONFIRMED: gettext_lazy("It takes place; a letter goes to everybody with a place."),
    Trip.Status.RUNNING: gettext_lazy("It has begun."),
    Trip.Status.DONE: gettext_lazy("It is done: write down how the nights were."),
    Trip.Status.CANCELLED: gettext_lazy("It is cancelled; a letter goes to everybody concerned."),
}


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def trip_step(request: HttpRequest, trip_id: int) -> HttpResponse:
    """Take a step; to look at the address asks whether to cancel, which cannot be undone."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    if request.method != "POST":
        missing = needs(Standing.of(trip), Trip.Status.CANCELLED, now=timezone.now())
        context = {"trip": trip, "missing": missing, "is_over": trip.status in OVER}
        return render(request, "trips/trip_cancel.html", context)
    to = request.POST.get("to", "")
    if _try(request, lambda: step(trip, to, by=member(request), now=timezone.now())):
        messages.success(request, DONE[Trip.Status(to)])
    return redirect("trip_detail", trip.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def trip_instructors(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    if request.method == "POST":
        _add(request, trip) if "user" in request.POST else _call(request, trip)
        return redirect("trip_instructors", trip.pk)
    context = {
        "trip": trip,
        "instructors": trip.instructors.select_related("user"),
        "users": choosable_users(trip),
    }
    return render(request, "trips/trip_instructors.html", context)


@require_POST
@login_required
def trip_instructor_off(request: HttpRequest, trip_id: int, instructor_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    instructor = TripInstructor.objects.filter(trip=trip, pk=instructor_id).first()
    if instructor is not None:  # else off already: a button pressed twice
        _try(request, lambda: take_off(instructor, by=member(request), now=timezone.now()))
    return redirect("trip_detail", trip.pk)


@require_POST
@login_required
def trip_invitation(request: HttpRequest, trip_id: int) -> HttpResponse:
    """Make the invitation that was handed out useless; there is a new one."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    renew_invitation(trip, by=member(request), now=timezone.now())
    messages.success(request, _("The old invitation opens nothing any more; here is a new one."))
    return redirect("trip_detail", trip.pk)


@require_safe
@login_required
def trip_invitation_paper(request: HttpRequest, trip_id: int) -> HttpResponse:
    """The invitation as a sheet to be hung up, as long as there is something to ask for."""
    trip = trip_of(request, trip_id)
    require_leader(request, trip)
    if trip.status in OVER:
        raise Http404
    evenings = list(trip.nights.values_list("date", flat=True))
    context = {
        "trip": trip,
        "invitation": address("invitation", invitation_of(trip)),
        "evenings": whole_evenings(evenings[0], evenings[-1]) if evenings else "",
    }
    return render(request, "trips/trip_invitation_paper.html", context)


@require_safe
@login_required
def trip_history(request: HttpRequest, trip_id: int) -> HttpResponse:
    trip = trip_of(request, trip_id)
    context = {"trip": trip, "deeds": deeds_of(trip), "zone": zone_of_trip(trip)}
    return render(request, "trips/trip_history.html", context)


def _call(request: HttpRequest, trip: Trip) -> None:
    """Keep the number of somebody who leads already."""
    typed, phone = request.POST.get("instructor", ""), request.POST.get("phone", "").strip()
    leading = trip.instructors.select_related("user", "trip")
    one = next((row for row in leading if str(row.pk) == typed), None)
    if one is None:
        messages.warning(request, _("Nobody is chosen who leads: choose somebody of the list."))
        return
    _try(request, lambda: set_phone(one, phone, by=member(request), now=timezone.now()))


def _add(request: HttpRequest, trip: Trip) -> None:
    typed, phone = request.POST.get("user", ""), request.POST.get("phone", "").strip()
    user = next((one for one in choosable_users(trip) if str(one.pk) == typed), None)
    if user is None:
        messages.warning(request, _("Nobody is chosen who could lead: choose a member."))
        return
    _try(
        request,
        lambda: add_instructor(trip, user, phone=phone, by=member(request), now=timezone.now()),
    )


def _try(request: HttpRequest, deed: Callable[[], object]) -> bool:
    try:
        deed()
    except RefusedError as error:
        messages.warning(request, error.sentence)
        return False
    return True
